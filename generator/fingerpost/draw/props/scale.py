"""A bathroom scale from above: two footprints and a window; beside it a column shows how much the feet carry."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.draw.pens.curves import free, ring
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    INK,
    STUFF,
    WHITE,
    Position,
    chain_data,
    curve_data,
    path,
)  # fmt: skip

# In half widths of the plate, from its middle.
PLATE = (
    (-1, -0.8), (-1, 0.8), (-0.94, 0.94), (-0.8, 1), (0.8, 1), (0.94, 0.94), (1, 0.8), (1, -0.8), (0.94, -0.94),
    (0.8, -1), (-0.8, -1), (-0.94, -0.94),
)  # fmt: skip
WINDOW = ((-0.5, 0.42), (0.5, 0.42), (0.5, 0.9), (-0.5, 0.9))
FOOT = (
    (0.22, 0.30), (0.42, 0.40), (0.62, 0.24), (0.60, -0.1), (0.52, -0.45), (0.50, -0.78), (0.34, -0.86), (0.22, -0.72),
    (0.26, -0.3), (0.20, 0.0),
)  # fmt: skip
COLUMN = (1.25, 1.75)


@dataclass(frozen=True)
class BathroomScale:
    """`share`: how much of the weight the feet carry. `half`: half its width."""

    at: complex
    share: float
    half: float

    def cover(self, place: Position) -> list[complex]:
        return self._points(place, (*PLATE, (COLUMN[1], -1), (COLUMN[1], 1)))

    def _points(self, place: Position, rows: tuple[tuple[float, float], ...]) -> list[complex]:
        return place.points([self.at + self.half * complex(x, y) for x, y in rows])

    def draw(self, place: Position) -> str:
        def outline(rows: tuple[tuple[float, float], ...], fill: str) -> str:
            return path(chain_data(self._points(place, rows), True), fill=fill, stroke=BLACK, pen=FINE)

        feet = [tuple((side * x, y) for x, y in FOOT) for side in (-1, 1)]
        prints = "".join(curve_data(ring(free(self._points(place, foot))), True) for foot in feet)
        left, right = COLUMN
        level = 2 * self.share - 1
        parts = [
            outline(PLATE, STUFF),
            path(prints, fill=WHITE, stroke=BLACK, pen=FINE),
            outline(WINDOW, WHITE),
            outline(((left, -1), (right, -1), (right, 1), (left, 1)), WHITE),
        ]
        full = self._points(place, ((left, -1), (right, -1), (right, level), (left, level)))
        return "".join([*parts, path(chain_data(full, True), fill=INK)])
