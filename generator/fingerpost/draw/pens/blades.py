"""Fine lines as a person draws them: filled, swelling, with pointed ends. Pens are in points."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from fingerpost.draw.pens.curves import free, sample, spline, taper
from fingerpost.draw.pens.svg import BLACK, MM_PER_PT, Position, chain_data, path


@dataclass(frozen=True, kw_only=True)
class Blade:
    """A line through `points` (mm of the drawn thing), `pen` points wide in its middle.

    `head` and `tail`: width of the ends as a share (0 needle, 1 full). `fine` ones are left out of small drawings.
    """

    points: tuple[complex, ...]
    pen: float
    head: float = 0.05
    tail: float = 0.05
    fine: bool = False


def draw_blades(blades: Iterable[Blade], place: Position, *, small: bool = False, fill: str = BLACK) -> str:
    """All lines as one filled path."""
    data = []
    for blade in blades:
        if blade.fine and small:
            continue
        points = sample(spline(free(place.points(blade.points))), 4)
        data.append(chain_data(taper(points, blade.pen * MM_PER_PT, blade.head, blade.tail), closed=True))
    return path("".join(data), fill=fill) if data else ""


def dashes(points: Sequence[complex], on: float, off: float) -> list[tuple[complex, complex]]:
    """A chain cut into short strokes `on` long with gaps of `off`: for a soft end where a drawing is cut off."""
    strokes = []
    walked, limit, drawing, start = 0.0, on, True, points[0]
    for a, b in pairwise(points):
        length = abs(b - a)
        while walked + length >= limit:
            a = a + (b - a) * (limit - walked) / length
            length = abs(b - a)
            if drawing:
                strokes.append((start, a))
            start, walked, drawing = a, 0.0, not drawing
            limit = on if drawing else off
        walked += length
    return strokes
