"""The things that stand along the way: planks, pointing arms, gates, flags, the pin. All drawn by eye.

Every shape is made in a frame with x onward along the way and y down, and handed through `Plot`, which turns it
round where the way runs to the left. `em` is the size of the letters in mm: everything grows with them.
"""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.draw.pens.curves import Knot, free, ring, spline
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    GREY,
    INK,
    MAIN,
    PALE,
    WHITE,
    chain_data,
    curve_data,
    disc,
    lines,
    number,
    path,
    spot,
)


@dataclass(frozen=True, kw_only=True)
class Plot:
    """Where a block lies: its rear or left edge `x`, its width, the way's upper edge `ground`, the way to the right?"""

    x: float
    width: float
    ground: float
    right: bool

    def at(self, u: float, up: float) -> complex:
        """`u` mm onward from the rear edge of the block, `up` mm above the way."""
        x = self.x + u if self.right else self.x + self.width - u
        return complex(x, self.ground - up)

    def left_of(self, u0: float, u1: float) -> float:
        """The left edge on paper of the stretch from u0 to u1."""
        return min(self.at(u0, 0).real, self.at(u1, 0).real)


def plank(plot: Plot, u: tuple[float, float], up: tuple[float, float], *, fill: str, stroke: str, pen: float) -> str:
    """A board with slightly sawn corners, from (u0, lower edge) to (u1, upper edge)."""
    (a, b), (low, high) = u, up
    c = 0.12 * (high - low)
    points = [
        (a, low + c),
        (a, high - c),
        (a + c, high),
        (b - c, high),
        (b, high - c),
        (b, low + c),
        (b - c, low),
        (a + c, low),
    ]
    return path(chain_data([plot.at(*p) for p in points], True), fill=fill, stroke=stroke, pen=pen)


def arm(
    plot: Plot, u: tuple[float, float], up: tuple[float, float], em: float, *, fill: str, stroke: str, pen: float
) -> str:
    """A board that ends in a pointing finger: cuff, forefinger stretched out, three fingers tucked under it."""
    (a, b), (low, high) = u, up
    mid = (low + high) / 2 + 0.12 * em
    cuff, tip = b - 1.75 * em, b
    thick = 0.27 * em
    knots: list[Knot] = [
        (plot.at(cuff, high), None),
        (plot.at(cuff + 0.42 * em, high - 0.10 * em), None),
        (plot.at(cuff + 0.80 * em, mid + thick), None),
        (plot.at(tip - 0.30 * em, mid + thick * 0.92), None),
        (plot.at(tip, mid), plot.at(0, 0) - plot.at(0, 1)),
        (plot.at(tip - 0.30 * em, mid - thick * 0.92), None),
        (plot.at(cuff + 0.95 * em, mid - thick), None),
    ]
    edge = curve_data(spline(knots))
    step = (mid - thick - low) / 2
    bend = f"A{number(step)} {number(step)} 0 0 {1 if plot.right else 0} "
    knuckles = "".join(bend + spot(plot.at(cuff + (0.95 - 0.28 * k) * em, mid - thick - k * step)) for k in (1, 2))
    rear = [plot.at(cuff, low), plot.at(a, low), plot.at(a + 0.35 * em, (low + high) / 2), plot.at(a, high)]
    tail = "L" + " ".join(spot(point) for point in rear) + "Z"
    body = path(edge + knuckles + tail, fill=fill, stroke=stroke, pen=pen)
    seam = path(chain_data([plot.at(cuff, low), plot.at(cuff, high)]), stroke=stroke, pen=FINE)
    return body + seam


def pole(plot: Plot, u: float, top: float, em: float) -> str:
    """The post itself, with a bevelled head, standing a little in the ground."""
    h = 0.27 * em
    points = [(u - h, -0.1 * em), (u - h, top - 0.3 * em), (u, top), (u + h, top - 0.3 * em), (u + h, -0.1 * em)]
    tufts = [(plot.at(u + d * em, -0.08 * em), plot.at(u + 1.35 * d * em, 0.3 * em)) for d in (-0.55, -0.4, 0.42, 0.58)]
    return path(chain_data([plot.at(*p) for p in points], True), fill=PALE, stroke=BLACK, pen=MAIN) + lines(
        tufts, pen=FINE
    )


def gate(plot: Plot, u: float, em: float) -> str:
    """A field gate across the way: two posts, four bars, a brace. `u` is its middle; 3.4 em wide, 2.3 em high."""
    half, high = 1.55 * em, 1.9 * em
    bars = [(plot.at(u - half, y * em), plot.at(u + half, y * em)) for y in (0.35, 0.8, 1.25, 1.7)]
    bars.append((plot.at(u - half, 0.35 * em), plot.at(u + half, 1.7 * em)))
    posts = ""
    for side in (-1, 1):
        a, b = u + side * half - 0.2 * em, u + side * half + 0.2 * em
        points = [(a, -0.5 * em), (a, high), ((a + b) / 2, high + 0.25 * em), (b, high), (b, -0.5 * em)]
        posts += path(chain_data([plot.at(*p) for p in points], True), fill=WHITE, stroke=BLACK, pen=MAIN)
    return lines(bars, pen=1.3) + posts


def flag(plot: Plot, u: float, top: float, em: float) -> str:
    """A pennant on a thin mast of height `top`, blown onward."""
    mast = path(chain_data([plot.at(u, -0.1 * em), plot.at(u, top)]), stroke=BLACK, pen=1.2)
    cloth = [plot.at(u, top), plot.at(u + 1.7 * em, top - 0.55 * em), plot.at(u, top - 1.15 * em)]
    return mast + path(chain_data(cloth, True), fill=INK, stroke=BLACK, pen=FINE) + disc(plot.at(u, 0), 0.16 * em)


def pin(plot: Plot, u: float, em: float, foot: float) -> str:
    """The mark of today's place: a drop standing on its point at height `foot`."""
    r, top = 0.8 * em, foot + 2.9 * em
    onward = plot.at(1, 0) - plot.at(0, 0)

    def half(side: int) -> list[complex]:
        return [plot.at(u + side * r, top - r), plot.at(u + side * 0.45 * r, top - 2.15 * r), plot.at(u, foot)]

    first: list[Knot] = [(plot.at(u, top), onward), *free(half(1))]
    second: list[Knot] = [*free(half(-1)[::-1]), (plot.at(u, top), onward)]
    data = curve_data(spline(first) + spline(second), True)
    return path(data, fill=INK, stroke=BLACK, pen=FINE) + disc(plot.at(u, top - r), 0.34 * em, fill=WHITE)


def tick(centre: complex, em: float) -> str:
    """A hand-drawn tick: done."""
    points = [
        centre + em * complex(-0.42, 0.02),
        centre + em * complex(-0.12, 0.34),
        centre + em * complex(0.46, -0.42),
    ]
    return path(chain_data(points), stroke=BLACK, pen=1.5)


def cairn(foot: complex, em: float) -> str:
    """A pile of flat stones: the end of the way."""
    parts = []
    for k, (half, high) in enumerate(((1.25, 0.62), (0.95, 0.55), (0.66, 0.48), (0.34, 0.36))):
        y = foot.imag - em * sum((0.58, 0.5, 0.42)[:k])
        x = foot.real + em * (0.0, 0.12, -0.08, 0.04)[k]
        points = [complex(x - half * em, y - 0.2 * em), complex(x - 0.55 * half * em, y - high * em)]
        points += [complex(x + 0.6 * half * em, y - 0.94 * high * em), complex(x + half * em, y - 0.25 * em)]
        points += [complex(x + 0.7 * half * em, y), complex(x - 0.75 * half * em, y)]
        parts.append(path(curve_data(ring(free(points)), True), fill=WHITE, stroke=BLACK, pen=MAIN))
    return "".join(parts)


def tuft(foot: complex, em: float) -> list[tuple[complex, complex]]:
    """Three blades of grass."""
    return [(foot, foot + em * complex(d, -0.34 - 0.08 * (d == 0.02))) for d in (-0.2, 0.02, 0.22)]


STANDING_FILL = {"past": PALE, "today": WHITE, "ahead": WHITE, "none": WHITE}
STANDING_STROKE = {"past": GREY, "today": INK, "ahead": BLACK, "none": BLACK}
