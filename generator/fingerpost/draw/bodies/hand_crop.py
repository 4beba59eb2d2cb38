"""The fingers and the thumb of one hand without its palm, palm up. Without the thumb, index and little look alike."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from fingerpost.draw.bodies.creases import BASE_SHARE, palm_blades
from fingerpost.draw.bodies.fingers import RELAXED, Hand4, Spreads, lay_fingers
from fingerpost.draw.bodies.outline import THUMB_IN, hand_outline
from fingerpost.draw.pens.blades import Blade, dashes, draw_blades
from fingerpost.draw.pens.curves import Cubic, free, sample, spline
from fingerpost.draw.pens.svg import BLACK, FINE, OUTLINE, TINT, WHITE, Position, chain_data, curve_data, lines, path
from fingerpost.model.words import Finger, Hand

LOWEST = 49.5
"""What lies below this height (hand mm) is left out."""
SPAN = (-61.0, 77.0, 46.0, 187.0)
"""Left, right, low, high of what is drawn."""


@dataclass(frozen=True)
class HandCrop:
    """The fingers in a box on paper `width` mm wide with its upper left corner at `corner`.

    `tinted`: the finger that it is about. `lowest`: the height (hand mm) below which it is cut off.
    """

    hand: Hand
    corner: complex
    width: float
    spreads: Spreads = RELAXED
    tinted: Finger | None = None
    lowest: float = LOWEST
    RATIO: ClassVar[float] = (SPAN[3] - SPAN[2]) / (SPAN[1] - SPAN[0])

    @property
    def fingers(self) -> Hand4:
        return lay_fingers(self.spreads)

    @property
    def scale(self) -> float:
        return self.width / (SPAN[1] - SPAN[0])

    @property
    def height(self) -> float:
        return self.scale * (SPAN[3] - SPAN[2])

    @property
    def place(self) -> Position:
        flip = self.hand == "left"
        x = SPAN[1] * self.scale if flip else -SPAN[0] * self.scale
        return Position(scale=self.scale, flip=flip, origin=self.corner + complex(x, SPAN[3] * self.scale))

    def contour(self) -> list[Cubic]:
        outline = hand_outline(self.spreads, joints=THUMB_IN)
        return [c for c in outline if min(c[0].imag, c[3].imag) > self.lowest]

    def _skin(self, finger: Finger) -> list[complex]:
        """A finger from the crease at its root to its tip."""
        line = self.fingers[finger]
        start = BASE_SHARE[finger] * line.l1 + 1.0
        stops = [start + k * (line.stations[-1][0] - start) / 16 for k in range(17)]
        left, right = ([line.at(a, side * line.half(a)) for a in stops] for side in (1, -1))
        return sample(spline(free([*left, line.at(line.total - 0.3), *right[::-1]])), 2)

    def draw(self) -> str:
        return self.draw_at(self.place)

    def draw_at(self, place: Position) -> str:
        contour = self.contour()
        data = curve_data(place.curve(contour))
        creases: list[Blade] = [
            b for b in palm_blades(self.fingers, THUMB_IN) if all(p.imag > 60 and p.real < 66 for p in b.points)
        ]
        a, b = contour[0][0], contour[-1][3]
        cut = sample(spline(free([a, a + 0.25 * (b - a) - 3j, a + 0.75 * (b - a) + 3j, b])), 8)
        tint = [path(chain_data(place.points(self._skin(self.tinted)), True), fill=TINT)] if self.tinted else []
        parts = [path(data, fill=WHITE), *tint, draw_blades(creases, place, small=place.scale < 0.3)]
        parts += [path(data, stroke=BLACK, pen=OUTLINE), lines(dashes(place.points(cut), 1.1, 0.8), pen=FINE)]
        return "".join(parts)
