"""What exercises are done with, in millimetres of the hand: table, ball, band, block, cord. Black, white and grey like
the hand: only what moves or matters carries the ink."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fingerpost.draw.pens.curves import ellipse, free, hatch, heading, offset, ring, sample, spline
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    HATCH,
    INK,
    MAIN,
    OUTLINE,
    STUFF,
    TINT,
    WHITE,
    Position,
    chain_data,
    curve_data,
    lines,
    path,
)  # fmt: skip


@dataclass(frozen=True)
class Solid:
    """A closed soft or straight shape with a fill. `hatched`: mm on paper between the lines that fill it."""

    points: tuple[complex, ...]
    fill: str = WHITE
    soft: bool = True
    pen: float = OUTLINE
    hatched: float = 0.0

    def cover(self, place: Position) -> list[complex]:
        return place.points(self.points)

    def draw(self, place: Position) -> str:
        shape = place.points(self.points)
        data = curve_data(ring(free(shape)), True) if self.soft else chain_data(shape, True)
        pen = min(self.pen, place.contour_pen)
        outer = path(data, fill=self.fill, stroke=BLACK, pen=pen)
        return outer + lines(hatch(shape, self.hatched, 45)) if self.hatched else outer


def box(left: complex, right: complex, fill: str = STUFF) -> Solid:
    """A block between two opposite corners."""
    corners = (left, complex(right.real, left.imag), right, complex(left.real, right.imag))
    return Solid(corners, fill, soft=False, pen=MAIN)


def ball(centre: complex, half: float, squash: float = 1.0, turn: float = 0.0) -> Solid:
    """A soft ball; `squash` below 1 presses it flat along `turn`."""
    round_ = sample(ellipse(centre, heading(turn), half * squash, half / squash**0.5), 3)
    return Solid(tuple(round_[:-1]), fill=STUFF, pen=MAIN)


@dataclass(frozen=True)
class Slab:
    """A table or floor: a firm line with hatching on its far side, `deep` mm (negative: above, for turned frames)."""

    left: complex
    right: complex
    deep: float = 7.0

    def cover(self, place: Position) -> list[complex]:
        return place.points(self._shape)

    @property
    def _shape(self) -> Sequence[complex]:
        low = self.deep * 1j
        return (self.left, self.right, self.right - low, self.left - low)

    def draw(self, place: Position) -> str:
        shape = place.points(self._shape)
        return lines(hatch(shape, 1.1, -45)) + path(chain_data(shape[:2]), stroke=BLACK, pen=1.3)


@dataclass(frozen=True)
class Line:
    """A line through points: cord, line of sight."""

    points: tuple[complex, ...]
    pen: float = 1.4
    soft: bool = True
    stroke: str = BLACK
    dash: str = ""

    def cover(self, place: Position) -> list[complex]:
        return place.points(self.points)

    def draw(self, place: Position) -> str:
        shape = place.points(self.points)
        data = curve_data(spline(free(shape))) if self.soft and len(shape) > 2 else chain_data(shape)
        return path(data, stroke=self.stroke, pen=self.pen, dash=self.dash)


@dataclass(frozen=True)
class Strap:
    """A band of even width (mm of the hand) along a course: rubber band, wrap, tape seen on edge."""

    points: tuple[complex, ...]
    width: float
    fill: str = WHITE

    def cover(self, place: Position) -> list[complex]:
        return self._edge(place)

    def _edge(self, place: Position) -> list[complex]:
        course = sample(spline(free(place.points(self.points))), 6)
        half = self.width * place.scale / 2
        return [*offset(course, half), *offset(course, -half)[::-1]]

    def draw(self, place: Position) -> str:
        return path(chain_data(self._edge(place), True), fill=self.fill, stroke=BLACK, pen=FINE)


@dataclass(frozen=True)
class Felt:
    """The ink on what matters: a tinted, edged area (hurt, stretched)."""

    area: tuple[complex, ...]

    def cover(self, place: Position) -> list[complex]:
        return place.points(self.area)

    def draw(self, place: Position) -> str:
        shape = place.points(self.area)
        edge = path(chain_data(shape, True), fill=TINT, stroke=INK, pen=FINE if place.fine else 1.4)
        return edge + lines(hatch(shape, 0.9, 45), stroke=INK, pen=HATCH if place.fine else FINE)
