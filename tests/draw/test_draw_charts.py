"""Charts are true: bars, whiskers, goals and days lie where their figures say, on one scale."""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.etree import ElementTree

import pytest
from geometry import points_of
from pdf_gate.samples import library

from fingerpost.draw.contact import sample_pictures
from fingerpost.draw.pens.svg import INK
from fingerpost.draw.picture import draw
from fingerpost.plan.base.pictures import LoadPicture

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
