"""What a hands-on test is drawn with: helping fingers, signs, sore places, a table. Millimetres of the tested hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fingerpost.draw.bodies.side import SidePose
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
from fingerpost.draw.props.signs import Arrow, PushArrow, Slide
from fingerpost.plan.base.pictures import TrialLabel

TABLE_DEPTH = 2.6j
"""How far below a table top its hatching goes, in mm of paper."""
Area = tuple[complex, ...]
LIGHTLY = 1
"""How hard it pushes where the words of a test say lightly or gently; where they say nothing, no bars are drawn."""


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

    def push(self, force: int = 0) -> PushArrow:
        """That this finger is the one that pushes: the arrow lies on it, its tip where the two touch."""
        return PushArrow(self.tip - 1.5 * heading(self.degrees), self.degrees, force)

    def draw(self, place: Position) -> str:
        contour = self.contour()
        data = curve_data(place.curve(contour))
        cut = place.points([contour[-1][3], contour[0][0]])
        return path(data, fill=PALE) + path(data, stroke=BLACK, pen=OUTLINE) + lines(dashes(cut, 1.1, 0.8), pen=FINE)


Sign = Arrow | PushArrow | Slide
WORDS: dict[type[Sign], TrialLabel] = {Arrow: "move", PushArrow: "push", Slide: "slide"}
"""The word that each sign has on tests: one for each shape, and the shapes are those of the exercises."""


def push(tip: complex, degrees: float, force: int = 0) -> PushArrow:
    """A push that ends at `tip`; its bars stand beside it, so that a word can lead to its tail."""
    return PushArrow(tip, degrees, force, bars="beside")


@dataclass(frozen=True)
class Trial:
    """A test as drawn. `base` draws the hand, `shape` is its contour; `helpers` lie in front of it, and
    `over` on top of these.

    `looks`: places to look at, ringed. `sore`: what the words about pain point at. `ghosts`: where the finger was
    before. `turn`: -1 lays it on its back, which a mirror then turns to the same side.
    """

    base: Callable[[Position], str]
    shape: Sequence[complex]
    helpers: tuple[Helper, ...] = ()
    over: Callable[[Position], str] | None = None
    signs: tuple[Sign, ...] = ()
    pains: tuple[Area, ...] = ()
    looks: tuple[tuple[complex, float], ...] = ()
    ghosts: tuple[SidePose, ...] = ()
    tables: tuple[tuple[complex, complex], ...] = ()
    sore: complex = 0j
    flip: bool = False
    turn: complex = 1 + 0j

    def place(self, scale: float, origin: complex = 0j) -> Position:
        return Position(scale=scale, origin=origin, flip=self.flip, turn=self.turn)

    def spot_of(self, name: TrialLabel, place: Position) -> complex | None:
        """What a word points at, on paper; None where there is no such thing. An arrow is named at its tail."""
        if name == "pain":
            return place.at(self.sore)
        sign = next((sign for sign in self.signs if WORDS[type(sign)] == name), None)
        if sign is None:
            return None
        return sign.tail(place) if isinstance(sign, PushArrow) else place.at(sign.points[0])

    def extent(self) -> list[complex]:
        """In millimetres of the hand: all but the signs, which keep their size on paper."""
        points = list(self.shape)
        for helper in self.helpers:
            points += sample(helper.contour(), 1)
        for ghost in self.ghosts:
            points += sample(ghost.contour, 1)
        for centre, r in self.looks:
            points += [centre + complex(-r, -r), centre + complex(r, r)]
        return points + [point for table in self.tables for point in table]

    def frame(self, place: Position) -> list[complex]:
        """On paper: all that must lie in the frame, with the signs and the hatching of tables."""
        ends = place.points([point for table in self.tables for point in table])
        signs = [point for sign in self.signs for point in sign.cover(place)]
        return [*place.points(self.extent()), *signs, *(end + TABLE_DEPTH for end in ends)]

    def draw(self, place: Position) -> list[str]:
        parts = [draw_table(table, place) for table in self.tables]
        parts += [draw_ghost(ghost, place) for ghost in self.ghosts]
        parts.append(self.base(place))
        parts += [draw_pain(area, place) for area in self.pains]
        parts += [helper.draw(place) for helper in self.helpers]
        parts += [self.over(place)] if self.over else []
        parts += [sign.draw(place) for sign in self.signs]
        parts += [draw_look(centre, r, place) for centre, r in self.looks]
        return parts


def draw_ghost(pose: SidePose, place: Position) -> str:
    """Where the finger was before: a thin dashed contour."""
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
