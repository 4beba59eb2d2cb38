"""Signs that are read without a word, each with one meaning in all pictures. A filled arrow moves, one with two heads
there and back; a short hollow one pushes, and nothing travels along it: of three bars beside it, as many are filled as
it pushes hard; a crossed one must not move; a row of heads slides along the skin. Their sizes are millimetres on paper,
smaller where it is `fine`."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.pens.curves import free, heading, ring, sample, spline
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    INK,
    MAIN,
    TINT,
    WHITE,
    Position,
    chain_data,
    curve_data,
    disc,
    lines,
    path,
)  # fmt: skip
from fingerpost.model.words import FINGERS, Finger

FINE_SHARE = 0.55
"""Of its size, what a sign keeps in a fine drawing."""
PUSH_WIDE = (3.8, 3.4, 4.6, 6.0)
"""How wide an arrow that pushes is: of unsaid force, lightly, firmly, hard."""
BAR_HIGH, BAR_WIDE, BAR_STEP = (1.3, 2.3, 3.3), 1.0, 1.45
"""The bars beside it: how high, how wide, and how far from one to the next."""


def _share(place: Position) -> float:
    return FINE_SHARE if place.fine else 1.0


def _square(centre: complex, half: float) -> list[complex]:
    return [centre - complex(half, half), centre + complex(half, half)]


@dataclass(frozen=True)
class Arrow:
    """A bold bent arrow along points of the hand; `pen` in points, its head `head` mm. `both`: a head at each end."""

    points: tuple[complex, ...]
    both: bool = False
    pen: float = 2.2
    head: float = 2.3

    def cover(self, place: Position) -> list[complex]:
        half = 0.5 * self.head * _share(place)
        course = sample(spline(free(place.points(self.points))), 2)
        return [corner for point in course for corner in _square(point, half)]

    def draw(self, place: Position) -> str:
        share = _share(place)
        head, pen = self.head * share, max(self.pen * share, 1.2)
        course = sample(spline(free(place.points(self.points))), 8)
        head = min(head, sum(abs(b - a) for a, b in pairwise(course)) / (2.6 if self.both else 1.3))
        ends = [course, course[::-1]] if self.both else [course]
        kept = [p for p in course if all(abs(p - chain[-1]) > 0.75 * head for chain in ends)]
        parts = [path(chain_data(kept), stroke=INK, pen=pen, round_ends=False)] if len(kept) > 1 else []
        return "".join([*parts, *(_head(chain, head) for chain in ends)])


def _head(chain: list[complex], size: float) -> str:
    """A point at the end of a chain."""
    tip = chain[-1]
    back = next((p for p in reversed(chain) if abs(p - tip) > 0.9 * size), chain[0])
    along = (tip - back) / abs(tip - back)
    foot, wing = tip - size * along, 0.5 * size * 1j * along
    return path(chain_data([tip, foot + wing, foot - wing], True), fill=INK)


def arc(centre: complex, radius: float, start: float, stop: float, *, both: bool = False) -> Arrow:
    """An arrow on a circle, degrees from start to stop; `both`: and back."""
    return Arrow(tuple(centre + radius * heading(start + (stop - start) * k / 4) for k in range(5)), both)


@dataclass(frozen=True)
class Slide:
    """Something slides along the skin: heads in a row, without a shaft, along points of the hand."""

    points: tuple[complex, ...]
    head: float = 2.6

    def cover(self, place: Position) -> list[complex]:
        half = 0.5 * self.head * _share(place)
        return [corner for point in place.points(self.points) for corner in _square(point, half)]

    def draw(self, place: Position) -> str:
        course, size = sample(spline(free(place.points(self.points))), 12), self.head * _share(place)
        length = sum(abs(b - a) for a, b in pairwise(course))
        count = max(2, min(4, int(length / (1.15 * size))))
        last = len(course) - 1
        ends = [max(2, round(last * (k + 1) / count)) for k in range(count)]
        return "".join(_head(course[: end + 1], size) for end in ends)


@dataclass(frozen=True)
class PushArrow:
    """A short wide hollow arrow whose tip touches what is pushed; `degrees`: where it points, in the hand's frame.

    `force`: 1 lightly, 2 firmly, 3 hard, and the arrow is as wide; 0: not said. `bars`: where the bars stand.
    """

    tip: complex
    degrees: float
    force: int = 0
    bars: Literal["behind", "beside", "nowhere"] = "behind"
    long: float = 5.2

    def tail(self, place: Position) -> complex:
        """Where it begins, on paper: behind its bars where they stand there."""
        way, start = self._way(place), place.at(self.tip)
        behind = [point for bar in self._bars(place) for point in bar] if self.bars == "behind" else []
        far = max((((start - point) * way.conjugate()).real for point in behind), default=0.0)
        return start - max(far, self.long * _share(place)) * way

    def _way(self, place: Position) -> complex:
        way = place.at(self.tip + heading(self.degrees)) - place.at(self.tip)
        return way / abs(way)

    def _bars(self, place: Position) -> list[list[complex]]:
        """Three upright bars, each higher than the one before it, behind the tail; none where there is no room."""
        if not self.force or self.bars == "nowhere" or place.fine:
            return []
        way = self._way(place)
        wide, high = BAR_STEP * 2.5, BAR_HIGH[-1]
        far = self.long + 0.9 + 0.5 * (abs(way.real) * wide + abs(way.imag) * high)
        middle = place.at(self.tip) - far * way
        if self.bars == "beside":
            middle = place.at(self.tip) - (0.6 * self.long + (-5.2j if place.flip else 5.2j)) * way
        foot = middle + complex(-wide / 2, high / 2)
        return [
            [foot + complex(k * BAR_STEP + x, -y) for x, y in ((0, 0), (0, top), (BAR_WIDE, top), (BAR_WIDE, 0))]
            for k, top in enumerate(BAR_HIGH)
        ]

    def cover(self, place: Position) -> list[complex]:
        return [*self._shape(place), *(corner for bar in self._bars(place) for corner in bar)]

    def _shape(self, place: Position) -> list[complex]:
        way = self._way(place)
        long, w = self.long * _share(place), PUSH_WIDE[self.force] * _share(place) / 2
        side, tip = 1j * way, place.at(self.tip)
        neck, end = tip - 0.5 * long * way, tip - long * way
        half = [tip, neck + w * side, neck + 0.48 * w * side, end + 0.48 * w * side]
        return [*half, end - 0.48 * w * side, neck - 0.48 * w * side, neck - w * side]

    def draw(self, place: Position) -> str:
        arrow = path(chain_data(self._shape(place), True), fill=WHITE, stroke=INK, pen=MAIN if place.fine else 1.5)
        bars = (
            path(chain_data(bar, True), fill=INK if k < self.force else WHITE, stroke=INK, pen=FINE)
            for k, bar in enumerate(self._bars(place))
        )
        return "".join((arrow, *bars))


@dataclass(frozen=True)
class Barred:
    """A movement that must not happen: an arrow with two heads, crossed out."""

    points: tuple[complex, ...]

    @property
    def _arrow(self) -> Arrow:
        return Arrow(self.points, both=True, pen=1.4, head=2.0)

    def cover(self, place: Position) -> list[complex]:
        return [*self._arrow.cover(place), *_square(self._centre(place), 1.7 * _share(place))]

    def _centre(self, place: Position) -> complex:
        return place.at(self.points[len(self.points) // 2])

    def draw(self, place: Position) -> str:
        share = _share(place)
        c, h = self._centre(place), 1.7 * share
        cross = [(c - complex(h, h), c + complex(h, h)), (c - complex(h, -h), c + complex(h, -h))]
        halo = lines(cross, stroke=WHITE, pen=4.6 * share)
        return self._arrow.draw(place) + halo + lines(cross, stroke=BLACK, pen=2.4 * share)


@dataclass(frozen=True)
class FingerKey:
    """Which fingers: the back of a small hand whose working fingers are black, `size` mm wide. `palm`: its palm side,
    beside fingers that are seen so."""

    at: complex
    working: Collection[Finger]
    size: float = 8.5
    palm: bool = False

    def cover(self, place: Position) -> list[complex]:
        return _square(place.at(self.at), 0.8 * self.size * _share(place))

    def draw(self, place: Position) -> str:
        u = self.size * _share(place) / 8
        sign = 1 if place.flip ^ self.palm else -1  # the index of a left hand is at the right, seen from the back
        foot = place.at(self.at) + 3.6j * u
        pen = FINE if place.fine else MAIN
        parts = [
            path(chain_data([foot + u * complex(s * x, y) for x, y in rows], True), fill=WHITE, stroke=BLACK, pen=pen)
            for s, rows in ((sign, _KEY_THUMB), (1, _KEY_PALM))
        ]
        for k, name in enumerate(FINGERS):
            middle, w, h = foot + sign * (k - 1.5) * 2.06 * u, 0.86 * u, _KEY_TALL[name] * u
            bar = [middle + complex(a * w, b) for a, b in zip(_KEY_BAR, (-0.7 * u, -0.8 * h, -h), strict=True)]
            bar += [middle + complex(-a * w, b) for a, b in zip(_KEY_BAR[::-1], (-h, -0.8 * h, -0.7 * u), strict=True)]
            fill = BLACK if name in self.working else WHITE
            parts.append(path(chain_data(bar, True), fill=fill, stroke=BLACK, pen=pen))
        return "".join(parts)


LEAST_SHOWN = 12
"""A bend of fewer degrees is no angle to be seen."""
_KEY_TALL: dict[Finger, float] = {"index": 5.0, "middle": 5.7, "ring": 5.2, "little": 3.9}
_KEY_BAR = (-1.0, -1.0, -0.6)
_KEY_PALM = ((-4, -1.0), (-4, 1.2), (-2.8, 2.4), (2.8, 2.4), (4, 1.2), (4, -1.0))
_KEY_THUMB = ((-3.6, 1.7), (-6.0, -0.6), (-5.2, -1.7), (-3.4, -0.2))


@dataclass(frozen=True)
class Eye:
    """Look here: an eye, and a dotted line of sight to the spot."""

    at: complex
    spot: complex
    size: float = 3.2

    def cover(self, place: Position) -> list[complex]:
        return [*_square(place.at(self.at), self.size * _share(place)), place.at(self.spot)]

    def draw(self, place: Position) -> str:
        c, s, w = place.at(self.at), place.at(self.spot), self.size * _share(place)
        way = (s - c) / abs(s - c)
        lid = [c + w * z for z in (-1, -0.45 + 0.42j, 0.45 + 0.42j, 1, 0.45 - 0.42j, -0.45 - 0.42j)]
        sight = path(chain_data([c + 1.25 * w * way, s]), stroke=INK, pen=1.3, dash="0.9 0.7")
        edge = path(curve_data(ring(free(lid)), True), fill=WHITE, stroke=BLACK, pen=place.contour_pen)
        return sight + edge + disc(c, 0.40 * w) + disc(c + (0.1 - 0.12j) * w, 0.13 * w, fill=WHITE)


@dataclass(frozen=True)
class Bones:
    """A bold line through a finger, the angle of its middle joint, and that of an end joint that is bent back: how a
    finger is bent, at one look."""

    pose: SidePose

    def cover(self, place: Position) -> list[complex]:
        return []

    def _angles(self, place: Position) -> str:
        p = self.pose
        slice_ = _fan(p.joints[1], 19.0, p.headings[1] + 180, p.headings[2] + 360)
        found = path(chain_data(place.points(slice_), True), fill=TINT, stroke=INK, pen=FINE)
        if p.dip < -LEAST_SHOWN:
            back = _fan(p.joints[2], 22.0, p.headings[2], p.headings[3])
            found += path(chain_data(place.points(back), True), fill=TINT, stroke=INK, pen=FINE)
        return found

    def draw(self, place: Position) -> str:
        p, share = self.pose, _share(place)
        points = place.points([p.at(0, -30, -2), *p.joints[:3], p.at(3, p.lengths[2] - 3, -2)])
        data = chain_data(points)
        halo = path(data, stroke=WHITE, pen=5.6 * share)
        return halo + self._angles(place) + path(data, stroke=INK, pen=3.4 * share)


def _fan(middle: complex, radius: float, start: float, stop: float) -> list[complex]:
    """A slice of a disc."""
    return [middle, *(middle + radius * heading(start + (stop - start) * k / 8) for k in range(9))]


@dataclass(frozen=True)
class Pivot:
    """The joint that moves: an ink disc with a white rim. A ring is none: it says where to look."""

    centre: complex

    def cover(self, place: Position) -> list[complex]:
        return []

    def draw(self, place: Position) -> str:
        share = _share(place)
        return disc(place.at(self.centre), 1.15 * share, fill=INK, stroke=WHITE, pen=1.6 * share)


def draw_clock(centre: complex, radius: float, pen: float) -> str:
    """Leave it so for a time: the face of a clock with two hands, a quarter of it inked."""
    fan = [centre, *(centre + 0.92 * radius * heading(-90 + 30 * k) for k in range(4))]
    hands = [centre - 0.72j * radius, centre, centre + 0.5 * radius]
    face = disc(centre, radius, fill=WHITE, stroke=BLACK, pen=pen)
    return face + path(chain_data(fan, True), fill=TINT) + path(chain_data(hands), stroke=INK, pen=1.5 * pen)
