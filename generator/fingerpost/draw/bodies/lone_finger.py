"""One finger by itself from the palm side, upright, cut off at its root: the close-up for taping steps."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.draw.bodies.creases import DIP_CREASE, PIP_CREASE, PIP_SECOND, across
from fingerpost.draw.bodies.fingers import FingerLine, lay_fingers
from fingerpost.draw.pens.blades import Blade, dashes, draw_blades
from fingerpost.draw.pens.curves import Cubic, free, heading, sample, spline
from fingerpost.draw.pens.svg import BLACK, FINE, OUTLINE, WHITE, Position, chain_data, curve_data, lines, path
from fingerpost.model.words import Finger, Hand

ROOT = 4.0
"""The cut, mm from the MCP centre."""


@dataclass(frozen=True)
class LoneFinger:
    """A finger standing upright with the middle of its PIP joint at `middle` on paper, at a scale."""

    finger: Finger
    hand: Hand
    middle: complex
    scale: float

    @property
    def line(self) -> FingerLine:
        return lay_fingers()[self.finger]

    @property
    def place(self) -> Position:
        line = self.line
        turn = heading(90) / line.along(line.l1)
        flip = self.hand == "left"
        first = Position(scale=self.scale, flip=flip, turn=turn)
        return Position(scale=self.scale, flip=flip, turn=turn, origin=self.middle - first.at(line.at(line.l1)))

    def at(self, a: float, side: float = 0.0) -> complex:
        """On paper: `a` mm from the MCP joint, `side` mm to the little finger's side."""
        return self.place.at(self.line.at(a, side))

    def skin(self, a: float, side: int) -> complex:
        return self.at(a, side * self.line.half(a))

    def contour(self) -> list[Cubic]:
        line = self.line
        rows = [(ROOT, line.half(ROOT)), *(row for row in line.stations if row[0] > ROOT + 4)]
        up = [line.at(a, h) for a, h in rows]
        down = [line.at(a, -h) for a, h in reversed(rows)]
        end = line.total
        return spline([*free(up), (line.at(end), -1j * line.along(end)), *free(down)])

    def draw(self) -> str:
        return self.draw_at(self.place)

    def draw_at(self, place: Position, fill: str = WHITE) -> str:
        """Skin, creases, and a dashed cut."""
        line = self.line
        contour = place.curve(self.contour())
        data = curve_data(contour)
        creases = [
            Blade(points=across(line, line.l1 + PIP_CREASE, -0.7, 0.06), pen=0.85, head=0.28, tail=0.28),
            Blade(points=across(line, line.l1 + PIP_CREASE + PIP_SECOND, -0.5, 0.18), pen=0.75, fine=True),
            Blade(points=across(line, line.l1 + line.l2 + DIP_CREASE, -0.6, 0.07), pen=0.8, head=0.28, tail=0.28),
        ]
        cut = place.points(sample(spline(free([line.at(ROOT, s * line.half(ROOT)) for s in (1, 0.4, -0.4, -1)])), 6))
        parts = [path(data, fill=fill), draw_blades(creases, place), path(data, stroke=BLACK, pen=OUTLINE)]
        strokes = dashes(cut, 0.6, 0.5) if place.fine else dashes(cut, 1.1, 0.8)
        return "".join([*parts, lines(strokes, pen=FINE)])

    def zone(self, low: float, high: float) -> str:
        """A dashed frame where tape is to lie."""
        line = self.line
        corners = [line.at(a, s * (line.half(a) + 1.2)) for a, s in ((low, 1), (high, 1), (high, -1), (low, -1))]
        return path(chain_data(self.place.points(corners), True), stroke=BLACK, pen=1.1, dash="1.2 0.8")
