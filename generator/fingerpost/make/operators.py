"""A drawing of ours as the operators of a PDF page. Knows what `draw/pens/svg.py` and `drawn/qr.py` write, and no more.

ISO 32000-1, 8.5 (paths) and 9.4 (text). One unit is one unit of the drawing's viewBox, y down, as in SVG. What it does
not know raises Unknown, so that a drawing is translated whole or not at all.
"""

from __future__ import annotations

import cmath
import math
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from xml.etree import ElementTree


class Unknown(ValueError):
    """Something in a drawing for which there is no translation."""


@dataclass(frozen=True)
class LineOfText:
    """A line of text set at a size of 1: its width, and what shows it, each font with the text for it."""

    width: float
    shows: tuple[tuple[str, str], ...]


SetLine = Callable[[str, bool, tuple[str, ...]], LineOfText]
"""Sets some words, bold or not, in the first of some families of fonts that has the letters."""


@dataclass(frozen=True)
class Translated:
    """A drawing: its size on paper in mm, the size of its viewBox, and its operators."""

    paper_mm: tuple[float, float]
    size: tuple[float, float]
    operators: bytes


_KNOWN = {
    "svg": {"width", "height", "viewBox", "role", "font-family"},
    "title": set(),
    "g": {"id"},
    "path": {"d", "fill", "stroke", "stroke-width", "stroke-linejoin", "stroke-linecap", "stroke-dasharray"},
    "text": {"x", "y", "font-size", "text-anchor", "font-weight", "fill"},
}
_SPACE = "{http://www.w3.org/2000/svg}"
_STEP = re.compile(r"([MLCQAZhvz])([^A-Za-z]*)")
_DATA = re.compile(r"(?:[MLCQAZhvz][-\d. ]*)*")
_COLOUR = re.compile(r"#(?:[\da-fA-F]{3}){1,2}")
_JOINS = {"miter": 0, "round": 1, "bevel": 2}
_CAPS = {"butt": 0, "round": 1, "square": 2}
_ANCHORS = {"start": 0.0, "middle": 0.5, "end": 1.0}


def translate(svg: str, set_line: SetLine) -> Translated:
    """Raises Unknown where something in it has no translation here."""
    root = ElementTree.fromstring(svg)
    left, top, *size = map(float, root.get("viewBox", "").split())
    width, height = (root.get(side, "") for side in ("width", "height"))
    if left or top or len(size) != 2 or not (width.endswith("mm") and height.endswith("mm")):
        raise Unknown(f"a drawing of {width} by {height} in {root.get('viewBox')}")
    families = tuple(family.strip() for family in root.get("font-family", "").split(","))
    written: list[str] = []
    for part in root.iter():
        name = part.tag.removeprefix(_SPACE)
        if unknown := part.attrib.keys() - _KNOWN.get(name, set()) or name not in _KNOWN:
            raise Unknown(f"{unknown} of {name}")
        if name == "path":
            written += _write_path(part.attrib)
        elif name == "text":
            written += _write_words(part, families, set_line)
    paper = float(width.removesuffix("mm")), float(height.removesuffix("mm"))
    return Translated(paper, (size[0], size[1]), "\n".join(written).encode())


def _colour(told: str) -> str:
    if not _COLOUR.fullmatch(told):
        raise Unknown(f"the colour {told}")
    digits = told[1:] if len(told) == 7 else "".join(2 * digit for digit in told[1:])
    return " ".join(f"{int(digits[at : at + 2], 16) / 255:.4g}" for at in (0, 2, 4))


def _write_path(told: Mapping[str, str]) -> Iterator[str]:
    fill, stroke = told.get("fill", "#000"), told.get("stroke", "none")
    if fill != "none":
        yield f"{_colour(fill)} rg"
    if stroke != "none":
        join, cap = _JOINS[told.get("stroke-linejoin", "miter")], _CAPS[told.get("stroke-linecap", "butt")]
        dash = told.get("stroke-dasharray", "").replace(",", " ")
        yield f"{_colour(stroke)} RG {told.get('stroke-width', '1')} w {join} j {cap} J [{dash}] 0 d"
    yield from write_steps(told["d"])
    yield {(True, True): "B", (True, False): "f", (False, True): "S"}.get((fill != "none", stroke != "none"), "n")


def write_steps(data: str) -> Iterator[str]:
    """The steps of a path. Steps from where the pen is (h, v) are told from there, arcs as curves."""
    if not _DATA.fullmatch(data):
        raise Unknown(f"a path with more than M L C Q A Z h v: {data[:40]}")
    x = y = 0.0
    start = "0", "0"
    for step, told in _STEP.findall(data):
        given = told.split()
        if step in "ML":
            yield from _in_groups(given, 2, "m" if step == "M" else "l")
            start = (given[0], given[1]) if step == "M" else start
        elif step == "C":
            yield from _in_groups(given, 6, "c")
        elif step in "Zz":
            yield "h"
            given = list(start)
        elif step in "hv":
            x, y = (x + float(told), y) if step == "h" else (x, y + float(told))
            yield f"{x:g} {y:g} l"
            continue
        elif step == "Q":
            yield from _write_quadratics(complex(x, y), given)
        else:
            yield from _write_arcs(complex(x, y), given)
        x, y = float(given[-2]), float(given[-1])


def _in_groups(given: list[str], count: int, operator: str) -> Iterator[str]:
    if not given or len(given) % count:
        raise Unknown(f"{len(given)} numbers where {count} make a step")
    for at in range(0, len(given), count):
        yield " ".join((*given[at : at + count], operator))
        operator = "l" if operator == "m" else operator


def _write_curve(*points: complex) -> str:
    return " ".join(f"{point.real:.3f} {point.imag:.3f}" for point in points) + " c"


def _write_quadratics(here: complex, given: list[str]) -> Iterator[str]:
    for at in range(0, len(given), 4):
        a, b, c, d = map(float, given[at : at + 4])
        bend, there = complex(a, b), complex(c, d)
        yield _write_curve(here + (bend - here) * 2 / 3, there + (bend - there) * 2 / 3, there)
        here = there


def _write_arcs(here: complex, given: list[str]) -> Iterator[str]:
    """Arcs of circles as cubic curves, none over more than a quarter (SVG 2, B.2.4)."""
    for at in range(0, len(given), 7):
        radius, other, _, large, sweep, a, b = map(float, given[at : at + 7])
        there = complex(a, b)
        if radius != other:
            raise Unknown("an arc of an ellipse")
        if here == there or not radius:
            continue
        half = (there - here) / 2
        radius = max(radius, abs(half))
        aside = math.sqrt(max(radius**2 - abs(half) ** 2, 0.0)) * half / abs(half) * 1j
        centre = here + half + (aside if bool(large) != bool(sweep) else -aside)
        turn = cmath.phase((there - centre) / (here - centre))
        if (sweep and turn < 0) or (not sweep and turn > 0):
            turn += math.tau if sweep else -math.tau
        count = max(1, math.ceil(abs(turn) / (math.pi / 2) - 1e-3))
        step = cmath.rect(1, turn / count)
        pull = 4 / 3 * math.tan(turn / count / 4) * 1j
        arm = here - centre
        for _ in range(count):
            then = arm * step
            yield _write_curve(centre + arm * (1 + pull), centre + then * (1 - pull), centre + then)
            arm = then
        here = there


def _write_words(part: ElementTree.Element, families: tuple[str, ...], set_line: SetLine) -> Iterator[str]:
    words = " ".join((part.text or "").split())
    if not words:
        return
    told = part.attrib
    size = float(told["font-size"])
    line = set_line(words, told.get("font-weight") == "700", families)
    x = float(told["x"]) - _ANCHORS[told.get("text-anchor", "start")] * line.width * size
    yield f"BT {_colour(told.get('fill', '#000'))} rg 1 0 0 -1 {x:.3f} {told['y']} Tm"
    for font, shown in line.shows:
        yield f"/{font} {size:g} Tf [{shown}] TJ"
    yield "ET"
