"""A finger bent into the palm, seen from the palm: its middle and end segments lie in front, nail to the viewer.

Drawn by eye; the first segment leans to the viewer (see `outline.TUCKED_SHARE`)."""

from __future__ import annotations

from fingerpost.draw.bodies.fingers import FingerLine
from fingerpost.draw.bodies.outline import tucked_end
from fingerpost.draw.pens.blades import Blade, draw_blades
from fingerpost.draw.pens.curves import Cubic, Knot, free, ring
from fingerpost.draw.pens.svg import BLACK, FINE, OUTLINE, WHITE, Position, curve_data, path

_SEEN = 0.86
"""The folded segments lean a little: seen at this share of their length."""


def folded_front(line: FingerLine) -> list[Cubic]:
    """The closed shape of middle and end segment folded down from the bent joint."""
    top = tucked_end(line)
    w = line.shape.half
    low = top - _SEEN * (line.l2 + 0.62 * line.l3) - 0.55 * w
    length = top - low
    left = [
        (top - 1.8, 0.62),
        (top - 6.5, 0.96),
        (top - 0.40 * length, 0.92),
        (top - 0.66 * length, 0.88),
        (low + 5.5, 0.72),
        (low + 1.2, 0.34),
    ]
    side = [line.at(a, share * w) for a, share in left]
    other = [line.at(a, -share * w) for a, share in left]
    first: Knot = (line.at(top), 1j * line.along(top))
    return ring([first, *free(side), (line.at(low), None), *free(other[::-1])])


def draw_tucked(line: FingerLine, place: Position) -> str:
    """The folded segments, with nail and wrinkles."""
    shape = curve_data(place.curve(folded_front(line)), True)
    top, w = tucked_end(line), line.shape.half
    low = top - _SEEN * (line.l2 + 0.62 * line.l3) - 0.55 * w
    bend = top - _SEEN * line.l2 - 2
    wrinkles = [
        Blade(points=tuple(line.at(a, s * 0.5 * w) for s in (1, 0, -1)), pen=0.75, fine=True)
        for a in (bend + 1.2, bend - 1.4)
    ]
    nail = [(low + 2.2, 0.0), (low + 2.8, 0.42), (low + 6.0, 0.56), (low + 9.0, 0.44), (low + 9.8, 0.0)]
    points = [line.at(a, s * w) for a, s in nail] + [line.at(a, -s * w) for a, s in nail[-2:0:-1]]
    plate = curve_data(place.curve(ring(free(points))), True)
    return (
        path(shape, fill=WHITE, stroke=BLACK, pen=OUTLINE)
        + draw_blades(wrinkles, place)
        + path(plate, stroke=BLACK, pen=FINE)
    )
