"""The parts of a picture of the inside, and how they are drawn: quiet ones grey, the hurt one inked and hatched."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fingerpost.draw.pens.curves import Cubic, hatch, normals, smooth
from fingerpost.draw.pens.labels import Where
from fingerpost.draw.pens.svg import (
    BAND,
    BLACK,
    BONE,
    FINE,
    INK,
    MAIN,
    TENDON,
    TINT,
    WHITE,
    Position,
    chain_data,
    curve_data,
    disc,
    lines,
    path,
)
from fingerpost.plan.base.pictures import InsidePart


@dataclass(frozen=True, kw_only=True)
class NamedPart:
    """One thing that can be named: where its leader line ends, and on which side of the drawing its words stand."""

    name: InsidePart
    anchor: complex
    where: Where
    hurt: bool = False


@dataclass(frozen=True, kw_only=True)
class Shown:
    """A drawing of the inside: its contour (for finding room), how to draw it, its parts.

    `tallest`: its greatest height, as a share of the printed width. `beyond`: points that are drawn outside of the
    contour. `turn`: how it lies.
    """

    outline: Sequence[complex]
    draw: Callable[[Position], list[str]]
    parts: Sequence[NamedPart]
    tallest: float = 1.4
    flip: bool = False
    beyond: Sequence[complex] = ()
    turn: complex = 1 + 0j


def draw_bone(shape: Sequence[Cubic], place: Position, closed: bool = True) -> str:
    return path(curve_data(place.curve(shape), closed), fill=BONE, stroke=BLACK, pen=MAIN)


def draw_area(area: Sequence[complex], place: Position, *, hurt: bool = False, fill: str = BAND) -> str:
    """A closed part: grey, or inked and hatched where it hurts."""
    shape = place.points(area)
    data = chain_data(shape, True)
    if not hurt:
        return path(data, fill=fill, stroke=BLACK, pen=FINE)
    strokes = lines(hatch(shape, 0.9, 45), stroke=INK, pen=0.75)
    return path(data, fill=TINT) + strokes + path(data, stroke=INK, pen=1.5)


def draw_cord(
    points: Sequence[complex], place: Position, thick: float, *, hurt: bool = False, taper: float = 0.0
) -> str:
    """A tendon: a cord `thick` mm thick (of the hand), with dark edges. Over its last `taper` mm it thins to its end,
    where it grows into a bone."""
    course = place.points(points)
    ink, fill, edge = (INK, TINT, 1.5) if hurt else (BLACK, TENDON, FINE)
    if taper:
        shape = chain_data(_cord_shape(course, 0.5 * thick * place.scale, taper * place.scale))
        return path(shape, fill=fill) + path(shape, stroke=ink, pen=edge)
    inner = thick * place.scale / 25.4 * 72
    data = chain_data(course)
    body = path(data, stroke=ink, pen=inner + edge, round_ends=False)
    body += path(data, stroke=fill, pen=max(0.75, inner - edge), round_ends=False)
    return body


def _cord_shape(course: Sequence[complex], half: float, taper: float) -> list[complex]:
    """Both edges of a cord on paper, open at its start, thinner towards its end."""
    left, right, to_end = [], [], 0.0
    sides = normals(course)
    for k in range(len(course) - 1, -1, -1):
        to_end += abs(course[k + 1] - course[k]) if k + 1 < len(course) else 0.0
        wide = half * (0.12 + 0.88 * smooth(to_end / taper))
        left.append(course[k] + wide * sides[k])
        right.append(course[k] - wide * sides[k])
    return [*left[::-1], *right]


def draw_sore(area: Sequence[complex], place: Position) -> str:
    """A part that is hurt and lies over others: hatched, and what is under it stays seen."""
    shape = place.points(area)
    return lines(hatch(shape, 0.9, 45), stroke=INK, pen=0.75) + path(chain_data(shape, True), stroke=INK, pen=1.5)


def draw_stump(area: Sequence[complex], place: Position, off: complex, *, fill: str = TINT) -> str:
    """What is left of a torn band, in two halves with ragged edges: one at the bone, and one on the tendon, which has
    gone `off` with it. `area`: along the bone, and back."""
    half = len(area) // 2
    root, edge = area[:half], area[: half - 1 : -1]
    steps = 2 * max(3, round(abs(root[-1] - root[0]) / 1.6)) // 2

    def ragged(deep: float, low: float, shift: complex) -> list[complex]:
        found = []
        for k in range(steps + 1):
            at, part = divmod(k / steps * (half - 1), 1)
            i = min(int(at), half - 2)
            share = part if int(at) == i else 1.0
            top, foot = (row[i] + (row[i + 1] - row[i]) * share for row in (root, edge))
            found.append(top + (foot - top) * (deep if k % 2 else low) + shift)
        return found

    halves = ([*root, *ragged(0.62, 0.28, 0j)[::-1]], [*(p + off for p in edge), *ragged(0.74, 0.96, off)[::-1]])
    data = "".join(chain_data(place.points(shape), True) for shape in halves)
    return path(data, fill=fill, stroke=INK, pen=1.5)


RING = 10.0


def draw_ring(centre: complex, place: Position) -> str:
    """Round a part too small to be found: a ring in ink, set off from what it crosses. `RING` mm of the hand."""
    at, radius = place.at(centre), RING * place.scale
    halo = disc(at, radius, fill="none", stroke=WHITE, pen=4.0)
    return halo + disc(at, radius, fill="none", stroke=INK, pen=2.0)


def arrow(start: complex, stop: complex, place: Position, *, colour: str = INK, pen: float = 1.6) -> str:
    """A straight arrow of the drawn frame with a filled head."""
    a, b = place.at(start), place.at(stop)
    return paper_arrow(a, b, colour=colour, pen=pen)


def paper_arrow(a: complex, b: complex, *, colour: str = INK, pen: float = 1.6, head: float = 2.0) -> str:
    """An arrow between two points on paper; `head` mm long."""
    along = (b - a) / abs(b - a)
    shaft = path(chain_data([a, b - 0.7 * head * along]), stroke=colour, pen=pen, round_ends=False)
    return shaft + arrow_head(b, along, head=head, colour=colour)


def arrow_head(tip: complex, along: complex, *, head: float = 2.0, colour: str = INK) -> str:
    """A filled arrow head at `tip`, pointing in the direction `along` (unit)."""
    foot, wing = tip - head * along, 0.42 * head * 1j * along
    return path(chain_data([tip, foot + wing, foot - wing], True), fill=colour)
