"""Drawings as operators of a PDF page: arcs and curves run where SVG has them, and what is not known is refused."""

from __future__ import annotations

import math
import re

import pytest

from fingerpost.draw.pens import svg
from fingerpost.make.operators import LineOfText, Unknown, translate, write_steps


def _points(step: str) -> list[complex]:
    numbers = list(map(float, step.split()[:-1]))
    return [complex(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]


def _middle(here: complex, step: str) -> complex:
    first, second, there = _points(step)
    return (here + 3 * first + 3 * second + there) / 8


@pytest.mark.parametrize(
    ("arc", "centre", "passes"),
    [
        ("M0 2A2 2 0 0 1 2 0", 2 + 2j, 2 - math.sqrt(2) + (2 - math.sqrt(2)) * 1j),
        ("M0 2A2 2 0 0 0 2 0", 0j, math.sqrt(2) * (1 + 1j)),
        ("M0 2A2 2 0 1 1 2 0", 0j, -math.sqrt(2) * (1 + 1j)),
        ("M0 2A2 2 0 1 0 2 0", 2 + 2j, 2 + math.sqrt(2) + (2 + math.sqrt(2)) * 1j),
        ("M0 0A1 1 0 0 1 8 0", 4 + 0j, 4 - 4j),  # too small to reach: it grows until it does
    ],
    ids=["short, clockwise", "short, back", "long, clockwise", "long, back", "too small"],
)
def test_an_arc_is_the_circle_of_svg(arc: str, centre: complex, passes: complex) -> None:
    here, *curves = write_steps(arc)
    at = _points(here)[0]
    radius = abs(at - centre)
    seen = [at]
    for curve in curves:
        seen += [_middle(at, curve), _points(curve)[-1]]
        at = seen[-1]
    assert all(abs(abs(point - centre) - radius) < 0.002 * radius for point in seen)
    assert min(abs(point - passes) for point in seen) < 0.01
    assert abs(at - (8 if "8" in arc else 2)) < 0.002


def test_steps_from_where_the_pen_is_are_told_from_there() -> None:
    assert list(write_steps("M4 5h3v1h-3zM1 1h2")) == ["4 5 m", "7 5 l", "7 6 l", "4 6 l", "h", "1 1 m", "3 1 l"]
    assert list(write_steps("M0 0 1 1L2 2Q2 4 4 4C5 5 6 6 7 7")) == [
        "0 0 m",
        "1 1 l",
        "2 2 l",
        "2.000 3.333 2.667 4.000 4.000 4.000 c",
        "5 5 6 6 7 7 c",
    ]


def _set(words: str, bold: bool, families: tuple[str, ...]) -> LineOfText:
    assert families[0] == "Atkinson Hyperlegible Next"
    return LineOfText(0.5 * len(words), (("BOLD" if bold else "PLAIN", f"<{words}>"),))


def test_words_end_where_they_are_anchored() -> None:
    lines = [
        svg.words("four", 10 + 2j, size=72 / 25.4, anchor=anchor, bold=True) for anchor in ("start", "middle", "end")
    ]
    written = translate(svg.document("Words", 20, 5, lines), _set).operators.decode()
    assert [float(x) for x in re.findall(r"0 -1 (\S+) 2 Tm", written)] == [10, 9, 8]
    assert written.count("/BOLD 1 Tf [<four>] TJ") == 3


@pytest.mark.parametrize(
    "part",
    [
        "<circle r='1'/>",
        "<path d='M0 0L1 1' fill='url(#a)'/>",
        "<path d='M0 0L1 1' opacity='0.5'/>",
        "<path d='M0 0A2 1 0 0 1 2 0'/>",
        "<path d='M0 0l1 1'/>",
        "<path d='M0 0C1 1 2 2'/>",
        "<g transform='scale(2)'><path d='M0 0L1 1'/></g>",
        "<text x='1' y='1' font-size='3'><tspan>a</tspan></text>",
    ],
)
def test_what_is_not_known_is_refused(part: str) -> None:
    with pytest.raises(Unknown):
        translate(svg.document("Something", 10, 10, [part]), _set)
