"""Pockets as the climber sees them: the back of the hand, some fingers in a hole, the neighbours outside."""

from __future__ import annotations

from dataclasses import dataclass

from generator.draw.back_lines import back_blades, nails
from generator.draw.blades import draw_blades
from generator.draw.curves import free, hatch, ring, sample
from generator.draw.fingers import FingerLine, Hand4, lay_fingers
from generator.draw.outline import Joints, Tucked, hand_outline
from generator.draw.svg import BLACK, FINE, GREY, OUTLINE, WHITE, Place, chain_data, curve_data, lines, path
from generator.model.words import FINGERS
from generator.plan.pictures import GripPicture


THUMB_IN: Joints = (24 + 16j, 52.5 + 51j, 62 + 82j, 66 + 112j)
"""The thumb drawn in beside the hand (by eye)."""


@dataclass(frozen=True)
class PocketView:
    """The hand of a pocket grip: fingers in the hole, and those tucked away."""

    picture: GripPicture

    @property
    def tucked(self) -> Tucked:
        outside = (finger for finger in FINGERS if finger not in self.picture.fingers)
        return frozenset(outside) if self.picture.neighbours == "tucked" else frozenset()

    @property
    def hole(self) -> list[complex]:
        """The rim of the hole, a soft shape round the end segments of the fingers in it."""
        fingers = lay_fingers()
        used = [fingers[finger] for finger in reversed(FINGERS) if finger in self.picture.fingers]
        ends = ((used[0], 1), (used[-1], -1))
        low = [_place(line, -5.0, side * (line.half(line.l1 + line.l2) + 4.5)) for line, side in ends]
        top = max(line.at(line.total).imag for line in used) + 6
        left, right = low
        upper = [complex(right.real + 1, top - 9), complex((left.real + right.real) / 2, top), complex(left.real - 1, top - 10)]
        floor = complex((left.real + right.real) / 2, min(left.imag, right.imag) - 3.5)
        return sample(ring(free([left, *reversed(upper), right, floor])), 6)

    def extent(self) -> list[complex]:
        return sample(hand_outline(tucked=self.tucked, joints=THUMB_IN), 2) + self.hole

    def draw(self, place: Place) -> list[str]:
        fingers = lay_fingers()
        rim = place.points(self.hole)
        outline = curve_data(place.curve(hand_outline(tucked=self.tucked, joints=THUMB_IN)))
        parts = [path(chain_data(rim, True), fill=GREY), path(outline, fill=WHITE)]
        parts.append(self._inner(fingers, place))
        parts.append(path(outline, stroke=BLACK, pen=OUTLINE))
        parts += [lines(hatch(rim, 0.8, 45), pen=0.75), path(chain_data(rim, True), stroke=BLACK, pen=OUTLINE)]
        return parts

    def _inner(self, fingers: Hand4, place: Place) -> str:
        hidden = self.tucked | frozenset(self.picture.fingers)
        plates = [path(curve_data(place.curve(n), True), stroke=BLACK, pen=FINE) for n in nails(fingers, hidden, THUMB_IN)]
        blades = back_blades(fingers, tucked=self.tucked, thumb=THUMB_IN)
        return draw_blades(blades, place, small=place.scale < 0.28) + "".join(plates)


def _place(line: FingerLine, beyond_dip: float, side: float) -> complex:
    return line.at(line.l1 + line.l2 + beyond_dip, side)
