"""Writing SVG: the only place that knows the names of elements and attributes.

One unit of every viewBox is one millimetre on paper at the printed size. Pens and letters are given in points.
Only path, text, tspan, g and title are written, with literal presentation attributes: the same in both print
engines and in browsers. Another ground than white paper gives every colour its own, by its name.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Literal

from fingerpost.draw.pens.curves import Cubic

MM_PER_PT = 25.4 / 72
LEAST_TEXT = 9.0
"""No word in a drawing is printed smaller than this (points)."""
BLACK, WHITE, INK = "#000000", "#ffffff", "#0072B2"
TINT = "#cfe3f0"
"""The ink, thinned: prints as a light grey."""
GREY, PALE, FAINT = "#808080", "#e6e6e6", "#b5b5b5"
STUFF = "#d0d0d0"
"""The grey of wood, weights and balls: darker than the skin of the other hand."""
BONE, TENDON, BAND = "#f4f4f4", "#e0e0e0", "#bdbdbd"
FONTS = "Atkinson Hyperlegible Next, Noto Sans Math, sans-serif"

ColourName = Literal[
    "line", "paper", "ink", "tint", "grey", "hollow", "pale", "faint", "stuff", "bone", "tendon", "band"
]
ON_PAPER: Mapping[ColourName, str] = {
    "line": BLACK, "paper": WHITE, "ink": INK, "tint": TINT, "grey": GREY, "hollow": GREY, "pale": PALE, "faint": FAINT,
    "stuff": STUFF, "bone": BONE, "tendon": TENDON, "band": BAND,
}  # fmt: skip
"""What each colour is for, and what is written. `line`: strokes and letters; `paper`: what hides lines behind it;
`grey`: where something was, a stroke; `hollow`: the dark inside of a hole, the one fill of that colour."""
_COLOUR_NAMES = {
    (use, colour): name
    for name, colour in ON_PAPER.items()
    for use in ("fill", "stroke")
    if (name, use) not in (("grey", "fill"), ("hollow", "stroke"))
}
_SIZE = re.compile(r'width="([\d.]+)mm" height="([\d.]+)mm"')
_COLOURED = re.compile(r' (fill|stroke)="(#[^"]*)"')

OUTLINE, MAIN, FINE, HATCH = 1.1, 0.85, 0.75, 0.5
"""Pens in points: contours, main lines, the finest line allowed, hatching."""


@dataclass(frozen=True, kw_only=True)
class Position:
    """Where a drawn thing (mm of the thing, y up) lies on the paper (mm, y down). `flip` mirrors it first.

    `fine`: for a drawing so small that contours need the finest pen.
    """

    scale: float = 1.0
    origin: complex = 0j
    flip: bool = False
    turn: complex = 1 + 0j
    fine: bool = False

    def at(self, point: complex) -> complex:
        turned = point * self.turn * self.scale
        return self.origin + (-turned if self.flip else turned.conjugate())

    def points(self, points: Iterable[complex]) -> list[complex]:
        factor, origin = self.turn * self.scale, self.origin
        if self.flip:
            return [origin - point * factor for point in points]
        return [origin + (point * factor).conjugate() for point in points]

    @property
    def contour_pen(self) -> float:
        return FINE if self.fine else OUTLINE

    def curve(self, cubics: Iterable[Cubic]) -> list[Cubic]:
        return [(self.at(a), self.at(b), self.at(c), self.at(d)) for a, b, c, d in cubics]


def number(value: float) -> str:
    """At most two decimals, no minus zero. A half goes up, though the last bit of a sine differs between machines."""
    return _hundredths(round(value * 100 + 1e-7))


@cache
def _hundredths(value: int) -> str:
    """Why kept: writing numbers is the slowest part of drawing, and a page has few different ones."""
    return f"{value / 100:.2f}".rstrip("0").rstrip(".")


def escape(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").replace('"', "&quot;")


def spot(point: complex) -> str:
    return f"{number(point.real)} {number(point.imag)}"


def curve_data(cubics: Sequence[Cubic], closed: bool = False) -> str:
    """Path data of joined cubics (the end of each is the start of the next)."""
    steps = " ".join(f"{spot(b)} {spot(c)} {spot(d)}" for _, b, c, d in cubics)
    return f"M{spot(cubics[0][0])}C{steps}{'Z' if closed else ''}"


def chain_data(points: Sequence[complex], closed: bool = False) -> str:
    """Path data of straight lines."""
    return f"M{spot(points[0])}L{' '.join(spot(point) for point in points[1:])}{'Z' if closed else ''}"


def path(
    data: str, *, fill: str = "none", stroke: str = "none", pen: float = 0.0, dash: str = "", round_ends: bool = True
) -> str:
    """One path; `pen` in points, `dash` in mm."""
    parts = [f'<path d="{data}" fill="{fill}"']
    if stroke != "none" and pen:
        parts.append(f'stroke="{stroke}" stroke-width="{pen * MM_PER_PT:.3f}" stroke-linejoin="round"')
        parts.append(f'stroke-linecap="{"round" if round_ends else "butt"}"')
        if dash:
            parts.append(f'stroke-dasharray="{dash}"')
    return " ".join(parts) + "/>"


def lines(
    pairs: Sequence[tuple[complex, complex]], *, stroke: str = BLACK, pen: float = HATCH, dash: str = ""
) -> str:  # fmt: skip
    """Many straight strokes as one path; nothing for none."""
    if not pairs:
        return ""
    data = "".join(f"M{spot(a)}L{spot(b)}" for a, b in pairs)
    return path(data, stroke=stroke, pen=pen, dash=dash, round_ends=False)


def disc(
    centre: complex, radius: float, *, fill: str = BLACK, stroke: str = "none", pen: float = 0.0, dash: str = ""
) -> str:
    """A full circle of `radius` mm."""
    left, right = centre - radius, centre + radius
    r = number(radius)
    data = f"M{spot(left)}A{r} {r} 0 0 1 {spot(right)}A{r} {r} 0 0 1 {spot(left)}Z"
    return path(data, fill=fill, stroke=stroke, pen=pen, dash=dash)


def words(
    text: str, at: complex, *, size: float, anchor: str = "start", bold: bool = False, fill: str = BLACK
) -> str:  # fmt: skip
    """One line of text; `at` is the end of its base line named by `anchor`, `size` in points."""
    if not text:
        return ""
    weight = ' font-weight="700"' if bold else ""
    return (
        f'<text x="{number(at.real)}" y="{number(at.imag)}" font-size="{number(size * MM_PER_PT)}"'
        f' text-anchor="{anchor}"{weight} fill="{fill}">{escape(text)}</text>'
    )


def group(body: Iterable[str], *, name: str) -> str:
    """A group with an id, so that a reader of the source (and a test) finds the parts."""
    return f'<g id="{escape(name)}">{"".join(body)}</g>'


def document(title: str, width: float, height: float, body: Iterable[str]) -> str:
    """The whole drawing, `width` x `height` mm, its description first."""
    w, h = number(width), number(height)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{w}mm" height="{h}mm" viewBox="0 0 {w} {h}" role="img"'
        f' font-family="{FONTS}"><title>{escape(title)}</title>{"".join(body)}</svg>'
    )


def recolour(svg: str, colours: Mapping[ColourName, str]) -> str:
    """The same drawing on another ground. Raises ValueError for a colour that has no name in ON_PAPER."""

    def paint(found: re.Match[str]) -> str:
        use, colour = found.groups()
        if (use, colour) not in _COLOUR_NAMES:
            raise ValueError(f"a drawing has the colour {colour}, which has no name in ON_PAPER")
        return f' {use}="{colours[_COLOUR_NAMES[(use, colour)]]}"'

    return _COLOURED.sub(paint, svg)


def read_size(svg: str) -> tuple[float, float]:
    """Width and height of a drawing in mm. Raises ValueError where it does not say them."""
    if not (found := _SIZE.search(svg)):
        raise ValueError("a drawing says how large it is")
    return float(found[1]), float(found[2])


def enlarge(svg: str, times: float) -> str:
    """The same drawing so many times as large: its lines and letters grow with it."""
    width, height = read_size(svg)
    return _SIZE.sub(f'width="{width * times:.2f}mm" height="{height * times:.2f}mm"', svg, count=1)
