"""What a hands-on test is drawn with: helping fingers, pushes, sore places, a table. Millimetres of the tested hand."""

from __future__ import annotations

import cmath
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import pi

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.inside.inside_parts import arrow_head
from fingerpost.draw.pens.blades import dashes
from fingerpost.draw.pens.curves import Cubic, Knot, free, hatch, heading, sample, spline
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    GREY,
    INK,
    MAIN,
    OUTLINE,
    PALE,
    TINT,
    Position,
    chain_data,
    curve_data,
    disc,
    lines,
    path,
)  # fmt: skip
from fingerpost.draw.props.signs import PushArrow
from fingerpost.plan.base.pictures import TrialLabel

TABLE_DEPTH = 2.6j
"""How far below a table top its hatching goes, in mm of paper."""
Area = tuple[complex, ...]


@dataclass(frozen=True)
class Helper:
    """A finger of the other hand, its tip at a point, pointing along `degrees`."""

    tip: complex
    degrees: float
    length: float = 36.0
    half: float = 7.6

    def contour(self) -> list[Cubic]:
        along, h, end = heading(self.degrees), self.half, self.length
        rows = [(-end, 1.0), (-0.55 * end, 0.98), (-0.30 * end, 1.0), (-0.16 * end, 0.88), (-0.05 * end, 0.55)]
        left = [self.tip + along * complex(a, s * h) for a, s in rows]
        right = [self.tip + along * complex(a, -s * h) for a, s in rows[::-1]]
        knots: list[Knot] = [*free(left), (self.tip, -1j * along), *free(right)]
        return spline(knots)

    def draw(self, place: Position) -> str:
        contour = self.contour()
        data = curve_data(place.curve(contour))
        cut = place.points([contour[-1][3], contour[0][0]])
        return path(data, fill=PALE) + path(data, stroke=BLACK, pen=OUTLINE) + lines(dashes(cut, 1.1, 0.8), pen=FINE)


@dataclass(frozen=True)
class Push:
    """An arrow along points, filled where something moves. `presses`: hollow, from the first to the last of two points;
    nothing travels along it."""

    points: tuple[complex, ...]
    presses: bool = False

    def draw(self, place: Position) -> str:
        if self.presses:
            way = cmath.phase(self.points[-1] - self.points[0]) * 180 / pi
            return PushArrow(self.points[-1], way).draw(place)
        course = sample(spline(free(place.points(self.points))), 6)
        end = course[-1] - course[-2]
        along = end / abs(end)
        stop = course[-1] - 1.3 * along
        kept = [p for p in course[:-1] if abs(p - course[-1]) > 1.4]
        return path(chain_data([*kept, stop]), stroke=INK, pen=1.8) + arrow_head(course[-1], along, head=2.4)


@dataclass(frozen=True)
class Trial:
    """A test as drawn. `base` draws the hand, `shape` is its contour; `under` and `helpers` lie behind and in front.

    `looks`: places to look at, ringed. `sore`: what the words about pain point at.
    """

    base: Callable[[Position], str]
    shape: Sequence[complex]
    helpers: tuple[Helper, ...] = ()
    behind: tuple[Helper, ...] = ()
    pushes: tuple[Push, ...] = ()
    pains: tuple[Area, ...] = ()
    looks: tuple[tuple[complex, float], ...] = ()
    ghosts: tuple[SidePose, ...] = ()
    tables: tuple[tuple[complex, complex], ...] = ()
    sore: complex = 0j
    flip: bool = False

    def spot_of(self, name: TrialLabel) -> complex | None:
        """What words about pain, pushing and holding point at; None where there is no such thing."""
        if name == "pain":
            return self.sore
        if name == "push":
            return self.pushes[0].points[-1 if self.pushes[0].presses else 0] if self.pushes else None
        held = [*self.helpers, *self.behind]
        return held[0].tip - 0.62 * held[0].length * heading(held[0].degrees) if held else None

    def extent(self) -> list[complex]:
        points = list(self.shape)
        for helper in (*self.helpers, *self.behind):
            points += sample(helper.contour(), 1)
        for push in self.pushes:
            points += push.points
        for ghost in self.ghosts:
            points += sample(ghost.contour, 1)
        for centre, r in self.looks:
            points += [centre + complex(-r, -r), centre + complex(r, r)]
        return points + [point for table in self.tables for point in table]

    def frame(self, place: Position) -> list[complex]:
        """On paper: all that must lie in the frame, with the hatching of tables."""
        ends = place.points([point for table in self.tables for point in table])
        return [*place.points(self.extent()), *(end + TABLE_DEPTH for end in ends)]

    def draw(self, place: Position) -> list[str]:
        parts = [draw_table(table, place) for table in self.tables]
        parts += [helper.draw(place) for helper in self.behind]
        parts += [draw_ghost(ghost, place) for ghost in self.ghosts]
        parts.append(self.base(place))
        parts += [draw_pain(area, place) for area in self.pains]
        parts += [helper.draw(place) for helper in self.helpers]
        parts += [push.draw(place) for push in self.pushes]
        parts += [draw_look(centre, r, place) for centre, r in self.looks]
        return parts


def draw_ghost(pose: SidePose, place: Position) -> str:
    """Where the finger comes from or goes to: a thin dashed contour."""
    return path(curve_data(place.curve(pose.contour)), stroke=GREY, pen=MAIN, dash="1.2 0.9")


def draw_pain(area: Area, place: Position) -> str:
    shape = place.points(area)
    data = chain_data(shape, True)
    return path(data, fill=TINT) + lines(hatch(shape, 0.9, 45), stroke=INK, pen=0.75) + path(data, stroke=INK, pen=1.4)


def draw_look(centre: complex, r: float, place: Position) -> str:
    """A ring round a place to watch."""
    c, radius = place.at(centre), r * place.scale
    return disc(c, radius, fill="none", stroke=INK, pen=1.7)


def draw_table(ends: tuple[complex, complex], place: Position) -> str:
    """A table top: a firm line with hatching below it."""
    a, b = place.points(ends)
    strokes = lines(hatch([a, b, b + TABLE_DEPTH, a + TABLE_DEPTH], 1.1, -45), pen=0.5)
    return strokes + path(chain_data([a, b]), stroke=BLACK, pen=1.3)
