"""Drawings on pages are written in fewer letters, and are the same drawings: every point stays where it was."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from site_under_test import whole_site

from fingerpost.draw.picture import draw
from fingerpost.make.drawn.shorter import shorten_lines
from fingerpost.plan.base.visible import list_drawings

STEPS = {"m": 2, "l": 2, "c": 6, "a": 7}
NUMBER = re.compile(r"[MLCAZmlcaz]|-?(?:\d+(?:\.\d+)?|\.\d+)")


def read_points(data: str) -> Iterator[tuple[str, tuple[float, ...]]]:
    """Each command with its points where they lie, whether written as places or as distances."""
    words = NUMBER.findall(data)
    letter, x, y, start, at = "", 0.0, 0.0, (0.0, 0.0), 0
    while at < len(words):
        if words[at].isalpha():
            letter, at = words[at], at + 1
        if letter in "zZ":
            (x, y), letter = start, ""
            yield "z", (round(x, 3), round(y, 3))
            continue
        count = STEPS[letter.lower()]
        numbers = [float(word) for word in words[at : at + count]]
        at += count
        kept = 5 if letter in "aA" else 0
        from_x, from_y = (x, y) if letter.islower() else (0.0, 0.0)
        points = [number + (from_y if n % 2 else from_x) for n, number in enumerate(numbers[kept:])]
        x, y = points[-2:]
        name = letter.lower()
        start = (x, y) if name == "m" else start
        letter = {"m": "l", "M": "L"}.get(letter, letter)
        yield name, (*numbers[:kept], *(round(point, 3) for point in points))


def list_lines(svg: str) -> list[str]:
    return re.findall(r' d="([^"]*)"', svg)


def test_every_point_of_every_drawing_stays_where_it_was() -> None:
    pages = {page.address: page for page in whole_site().pages}
    drawings = [drawing for address in ("", "injuries/pulley/", "tests/") for drawing in list_drawings(pages[address])]
    assert len(drawings) > 40
    letters = [0, 0]
    for drawing in drawings:
        long = draw(drawing.picture, prefix="a-", width_mm=drawing.width_mm)
        short = shorten_lines(long)
        assert re.sub(r' d="[^"]*"', "", short) == re.sub(r' d="[^"]*"', "", long)
        letters = [letters[0] + len(long), letters[1] + len(short)]
        for one, other in zip(list_lines(long), list_lines(short), strict=True):
            assert list(read_points(other)) == list(read_points(one)), drawing.name
    assert letters[1] < 0.8 * letters[0]


@pytest.mark.parametrize(
    ("written", "short"),
    [
        ("M1 2L3 4", "m1 2l2 2"),
        ("M1.5 2.25C1 2 3 4 5.5 -6", "m1.5 2.25c-.5-.25 1.5 1.75 4-8.25"),
        ("M0 0 3 0 3 3Z", "m0 0l3 0 0 3z"),
        ("M2 2A1 1 0 0 1 4 2", "m2 2a1 1 0 0 1 2 0"),
        ("M1 1L2 2ZM5 5", "m1 1l1 1zm4 4"),
        ("M1 1Q2 2 3 3", "M1 1Q2 2 3 3"),
        ("m1 1l2 2", "m1 1l2 2"),
        ("M10 10L10.5 10.5 11 11", "m10 10l.5.5.5.5"),
    ],
)
def test_a_line_is_written_shorter(written: str, short: str) -> None:
    assert shorten_lines(f'<path d="{written}"/>') == f'<path d="{short}"/>'
