"""Pockets as the climber sees them: the back of the hand, some fingers in a hole, the neighbours outside."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.draw.bodies.back_lines import back_blades, nails
from fingerpost.draw.bodies.blades import draw_blades
from fingerpost.draw.bodies.fingers import FingerLine, Hand4, lay_fingers
from fingerpost.draw.bodies.outline import THUMB_IN, Tucked, hand_outline
from fingerpost.draw.pens.curves import free, hatch, ring, sample
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    GREY,
    WHITE,
    Position,
    chain_data,
    curve_data,
    disc,
    lines,
    path,
)
from fingerpost.model.words import FINGERS
from fingerpost.plan.base.pictures import GripPicture

WALL, DARK, WALL_HALF = "#efefef", "#404040", 55.0
_GRAINS = (
    (0.08, 0.28), (0.12, 0.66), (0.17, 0.45), (0.22, 0.84), (0.24, 0.17), (0.78, 0.14), (0.83, 0.62), (0.87, 0.34),
    (0.92, 0.78), (0.74, 0.86), (0.30, 0.93), (0.93, 0.17), (0.06, 0.86), (0.70, 0.27), (0.27, 0.60),
)  # fmt: skip


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
        upper = [
            complex(right.real + 1, top - 9),
            complex((left.real + right.real) / 2, top),
            complex(left.real - 1, top - 10),
        ]
        floor = complex((left.real + right.real) / 2, min(left.imag, right.imag) - 3.5)
        return sample(ring(free([left, *reversed(upper), right, floor])), 6)

    @property
    def wall(self) -> tuple[complex, complex]:
        """The piece of wall round the hole: its lower left and upper right corner."""
        middle = sum(self.hole) / len(self.hole)
        low, high = min(p.imag for p in self.hole), max(p.imag for p in self.hole)
        return complex(middle.real - WALL_HALF, low - 14), complex(middle.real + WALL_HALF, high + 13)

    def extent(self) -> list[complex]:
        return list(self.wall) + sample(hand_outline(tucked=self.tucked, joints=THUMB_IN), 2) + self.hole

    def draw(self, place: Position) -> list[str]:
        fingers = lay_fingers()
        rim = place.points(self.hole)
        outline = curve_data(place.curve(hand_outline(tucked=self.tucked, joints=THUMB_IN)))
        parts = [draw_wall(self.wall, place), path(chain_data(rim, True), fill=GREY), path(outline, fill=WHITE)]
        parts.append(self._inner(fingers, place))
        parts.append(path(outline, stroke=BLACK, pen=place.contour_pen))
        if self.picture.small:  # hatching over finger tips is a blot: they go out of sight
            return [*parts, path(chain_data(rim, True), fill=DARK)]
        parts += [
            lines(hatch(rim, 0.8, 45), pen=0.75),
            path(chain_data(rim, True), stroke=BLACK, pen=place.contour_pen),
        ]
        return parts

    def _inner(self, fingers: Hand4, place: Position) -> str:
        hidden = self.tucked | frozenset(self.picture.fingers)
        plates = [
            path(curve_data(place.curve(n), True), stroke=BLACK, pen=FINE) for n in nails(fingers, hidden, THUMB_IN)
        ]
        if self.picture.small:
            return "".join(plates)
        blades = back_blades(fingers, tucked=self.tucked, thumb=THUMB_IN)
        return draw_blades(blades, place, small=place.scale < 0.28) + "".join(plates)


def draw_wall(corners: tuple[complex, complex], place: Position) -> str:
    """Rock or plywood: a pale patch with a rough edge and a few grains."""
    (left, low), (right, high) = ((c.real, c.imag) for c in corners)
    w, h = right - left, high - low
    edge = [(0.03, 0.1), (0.0, 0.45), (0.04, 0.9), (0.3, 1.0), (0.7, 0.97), (0.97, 0.93), (1.0, 0.5), (0.96, 0.06)]
    edge += [(0.65, 0.02), (0.32, 0.0)]
    shape = place.curve(ring(free([complex(left + x * w, low + y * h) for x, y in edge])))
    grains = [complex(left + x * w, low + y * h) for x, y in _GRAINS]
    dots = "".join(disc(place.at(grain), 0.24, fill=GREY) for grain in grains)
    return path(curve_data(shape, True), fill=WALL, stroke=GREY, pen=FINE) + dots


def _place(line: FingerLine, beyond_dip: float, side: float) -> complex:
    return line.at(line.l1 + line.l2 + beyond_dip, side)
