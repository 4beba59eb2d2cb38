"""Signs that are read without a word. A bent arrow moves; a short hollow one pushes, and nothing travels along it; a
crossed one must not move. Their sizes are millimetres on paper, smaller where the drawing is `fine`."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.pens.curves import free, heading, ring, sample, spline
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    INK,
    MAIN,
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


def arc(centre: complex, radius: float, start: float, stop: float) -> Arrow:
    """An arrow on a circle, degrees from start to stop."""
    return Arrow(tuple(centre + radius * heading(start + (stop - start) * k / 4) for k in range(5)))


@dataclass(frozen=True)
class PushArrow:
    """A short wide hollow arrow whose tip touches what is pushed; `degrees`: where it points, in the hand's frame."""

    tip: complex
    degrees: float
    long: float = 5.2
    wide: float = 3.6

    def cover(self, place: Position) -> list[complex]:
        return self._shape(place)

    def _shape(self, place: Position) -> list[complex]:
        way = place.at(self.tip + heading(self.degrees)) - place.at(self.tip)
        way /= abs(way)
        long, w = self.long * _share(place), self.wide * _share(place) / 2
        side, tip = 1j * way, place.at(self.tip)
        neck, end = tip - 0.5 * long * way, tip - long * way
        half = [tip, neck + w * side, neck + 0.48 * w * side, end + 0.48 * w * side]
        return [*half, end - 0.48 * w * side, neck - 0.48 * w * side, neck - w * side]

    def draw(self, place: Position) -> str:
        return path(chain_data(self._shape(place), True), fill=WHITE, stroke=INK, pen=MAIN if place.fine else 1.5)


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
    """Which fingers: the back of a small hand whose working fingers are black, `size` mm wide."""

    at: complex
    working: Collection[Finger]
    size: float = 8.5

    def cover(self, place: Position) -> list[complex]:
        return _square(place.at(self.at), 0.8 * self.size * _share(place))

    def draw(self, place: Position) -> str:
        u = self.size * _share(place) / 8
        sign = 1 if place.flip else -1  # the index of a left hand is at the right
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
    """A line through the joints of a finger with a dot at each joint: how far each is bent, at one look."""

    pose: SidePose

    def cover(self, place: Position) -> list[complex]:
        return []

    def draw(self, place: Position) -> str:
        p, share = self.pose, _share(place)
        ends = [p.at(0, -26, -2), p.joints[0], p.joints[1], p.joints[2], p.at(3, p.lengths[2] - 4, -2)]
        points = place.points(ends)
        line = path(chain_data(points), stroke=WHITE, pen=4.4 * share) + path(
            chain_data(points), stroke=INK, pen=2.4 * share
        )
        return line + "".join(disc(q, 0.85 * share, fill=WHITE, stroke=INK, pen=1.5 * share) for q in points[1:4])


@dataclass(frozen=True)
class Pivot:
    """The joint that moves: a white spot with an ink edge."""

    centre: complex

    def cover(self, place: Position) -> list[complex]:
        return []

    def draw(self, place: Position) -> str:
        share = _share(place)
        return disc(place.at(self.centre), 0.95 * share, fill=WHITE, stroke=INK, pen=max(2.0 * share, 1.0))
