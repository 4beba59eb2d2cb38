"""Charts are true: bars, whiskers, goals and days lie where their figures say, on one scale."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from geometry import points_of
from pdf_gate.samples import library

from fingerpost.draw.contact import sample_pictures
from fingerpost.draw.pens.svg import BLACK, INK
from fingerpost.draw.picture import draw
from fingerpost.plan.base.pictures import DiaryPicture, LoadPicture

SVG = "{http://www.w3.org/2000/svg}"
LOADS = next(p for _, p in sample_pictures(library()) if isinstance(p, LoadPicture))


def group_of(svg: str, name: str) -> ElementTree.Element:
    return next(g for g in ElementTree.fromstring(svg).iter(f"{SVG}g") if g.attrib["id"] == f"t-{name}")


def ends_of(path: ElementTree.Element) -> tuple[float, float]:
    xs = [point.real for point in points_of(path.attrib["d"])]
    return min(xs), max(xs)


def bars_of(svg: str, row: int) -> Iterator[tuple[float, float]]:
    """Left and right end of each bar of a row, from the top down; what is drawn of the grip lies in a group."""
    for path in group_of(svg, f"row-{row}").findall(f"{SVG}path"):
        if path.attrib["fill"] != "none" and "stroke" in path.attrib:
            yield ends_of(path)


def whiskers_of(svg: str, row: int) -> list[tuple[float, float]]:
    paths = group_of(svg, f"row-{row}").findall(f"{SVG}path")
    return [ends_of(path) for path in paths if path.attrib.get("stroke") == INK]


@pytest.mark.parametrize("text_pt", [10.0, 18.0])
def test_bars_and_whiskers_lie_where_the_axis_says(text_pt: float) -> None:
    svg = draw(LOADS, prefix="t", width_mm=150, text_pt=text_pt)
    levels = [ends_of(path)[0] for path in group_of(svg, "axis").findall(f"{SVG}path")]
    none, _, same = levels
    assert levels == sorted(levels)
    for k, row in enumerate(LOADS.rows, 1):
        bars = list(bars_of(svg, k))
        assert len(bars) == len(LOADS.pulleys)
        for (left, right), (typical, _, _) in zip(bars, row.loads, strict=True):
            assert left == pytest.approx(none, abs=0.02)
            assert right - none == pytest.approx(typical * (same - none), abs=0.02)
        known = [(least, most) for _, least, most in row.loads if least < most]
        for (left, right), (least, most) in zip(whiskers_of(svg, k), known, strict=True):
            assert left - none == pytest.approx(least * (same - none), abs=0.02)
            assert right - none == pytest.approx(most * (same - none), abs=0.02)


def test_the_bars_of_a_grip_differ_without_colour_and_carry_their_names() -> None:
    svg = draw(LOADS, prefix="t")
    for k in range(1, len(LOADS.rows) + 1):
        row = group_of(svg, f"row-{k}")
        fills = [
            p.attrib["fill"] for p in row.findall(f"{SVG}path") if p.attrib["fill"] != "none" and "stroke" in p.attrib
        ]
        assert len(set(fills)) == len(fills) == 2
        assert {"A2", "A4"} <= {node.text for node in row.iter(f"{SVG}text")}
        assert len(row.findall(f"{SVG}g")) >= 1, "the picture of the grip"


def test_no_line_of_the_axis_runs_through_words() -> None:
    """A name lies on paper of its own, and the bars are drawn over the lines."""
    svg = draw(LOADS, prefix="t")
    assert svg.index('id="t-axis"') < svg.index('id="t-row-1"')
    for k in range(1, len(LOADS.rows) + 1):
        first = next(p for p in group_of(svg, f"row-{k}").findall(f"{SVG}path"))
        assert first.attrib["fill"] == "#ffffff"
        assert "stroke" not in first.attrib
    assert re.search(r'stroke-dasharray="1\.4 0\.9"', svg)


DIARY = next(p for _, p in sample_pictures(library()) if isinstance(p, DiaryPicture))


def strokes_of(svg: str, name: str) -> list[tuple[complex, complex, str]]:
    """Every straight stroke of a group: its ends and its colour."""
    found = []
    for path in group_of(svg, name).iter(f"{SVG}path"):
        if path.attrib["fill"] == "none":
            points = points_of(path.attrib["d"])
            found += [(a, b, path.attrib["stroke"]) for a, b in zip(points[::2], points[1::2], strict=True)]
    return found


def levels_of(svg: str, name: str) -> list[float]:
    """The heights of the level lines of a field, that of 0 first."""
    wide = [(a, b) for a, b, _ in strokes_of(svg, name) if abs(a.imag - b.imag) < 0.01 and b.real - a.real > 50]
    return sorted({round(a.imag, 2) for a, _ in wide}, reverse=True)


def days_of(svg: str, name: str) -> list[float]:
    return sorted({round(a.real, 2) for a, b, _ in strokes_of(svg, name) if abs(a.real - b.real) < 0.01})


@pytest.mark.parametrize("text_pt", [9.6, 14.4, 19.2])
def test_the_diary_has_a_place_for_each_pain_each_stiffness_and_each_day(text_pt: float) -> None:
    svg = draw(DIARY, prefix="t", width_mm=176, text_pt=text_pt)
    pain, stiff = levels_of(svg, "grid"), levels_of(svg, "stiff")
    assert (len(pain), len(stiff)) == (11, 3)
    assert pain[-1] < pain[0] < stiff[-1], "stiffness lies below pain"
    cell = pain[0] - pain[1]
    assert cell >= 4, "a hand that is tired marks no finer than this"
    assert all(a - b == pytest.approx(cell, abs=0.02) for a, b in pairwise(pain))
    assert days_of(svg, "grid") == days_of(svg, "stiff")
    assert len(days_of(svg, "grid")) == len(DIARY.days) + 1


def test_light_lines_let_the_pen_be_seen() -> None:
    """Only 0 and the limit are firm: the person's own marks are the darkest on the field."""
    svg = draw(DIARY, prefix="t", width_mm=176, text_pt=9.6)
    for name, firm in (("grid", 2), ("stiff", 1)):
        dark = [(a, b) for a, b, stroke in strokes_of(svg, name) if stroke in (BLACK, INK)]
        assert len(dark) == firm


def test_marks_of_the_diary_lie_on_their_level_and_in_their_day() -> None:
    svg = draw(DIARY, prefix="t", width_mm=176, text_pt=9.6)
    pain, days = levels_of(svg, "grid"), days_of(svg, "grid")
    marks = list(group_of(svg, "known").iter(f"{SVG}path"))
    assert len(marks) == len(DIARY.known) == 2
    for mark, (day, _, level) in zip(marks, DIARY.known, strict=True):
        points = points_of(mark.attrib["d"])
        middle = sum(points) / len(points)
        assert middle.imag == pytest.approx(pain[level], abs=0.02)
        assert days[day] < min(p.real for p in points) <= max(p.real for p in points) < days[day + 1]


def test_days_are_named_under_their_own_column() -> None:
    svg = draw(DIARY, prefix="t", width_mm=176, text_pt=9.6)
    days = days_of(svg, "grid")
    named = [(node.text, float(node.attrib["x"])) for node in group_of(svg, "days").iter(f"{SVG}text")]
    for k, day in enumerate(DIARY.days):
        for word in day.split():
            assert (word, pytest.approx((days[k] + days[k + 1]) / 2, abs=0.02)) in named
