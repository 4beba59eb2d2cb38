"""How high the parts of a leaf really are, as a print engine has set them, beside what was reckoned."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from site_under_test import PROJECT

from fingerpost.make.leaf.art import LETTERS_PT, Studio
from fingerpost.make.leaf.page import LaidSide, fit
from fingerpost.make.pdf import open_engine
from fingerpost.make.templates import make_environment
from fingerpost.plan.base.paper import Handout

MM_PER_PX = 25.4 / 96


@dataclass(frozen=True)
class Height:
    """A part of a side: its kind, the height that was reckoned and the one that was set, in mm."""

    kind: str
    reckoned_mm: float
    set_mm: float


def leaf_alone(handout: Handout) -> Handout:
    return replace(handout, sheets=())


def list_reckoned(handout: Handout) -> list[tuple[str, float]]:
    """(kind, height in mm) of every part of both sides, in the order in which they are printed."""
    sides = fit(handout.leaves[0], handout.paper, handout.print_size, Studio(LETTERS_PT))
    return [part for side in sides for part in _parts(side)]


def _parts(side: LaidSide) -> list[tuple[str, float]]:
    laid = [*side.parts, *([side.help] if side.help else [])]
    return [(part.kind, part.height_mm) for part in laid]


def print_leaf(handout: Handout) -> Any:
    """The leaf as a document of WeasyPrint: its pages and the boxes on them."""
    from fingerpost.make.handout_html import write_html
    from fingerpost.make.pdf import read_templates

    return _lay_out(write_html(make_environment(read_templates(PROJECT / "templates")), leaf_alone(handout)))


def _lay_out(html: str) -> Any:
    from fingerpost.make.pdf import _styles

    css, fonts, fetcher = _styles(PROJECT, "print.css")
    document = open_engine().HTML(string=html, base_url=PROJECT.as_uri() + "/", url_fetcher=fetcher)
    return document.render(stylesheets=[css], font_config=fonts)


def list_set(document: Any) -> list[float]:
    """The height in mm of every part, with the air below it."""
    heights = []
    for page in document.pages:
        for box in page._page_box.descendants(placeholders=True):
            element = box.element
            if element is not None and (element.get("class") or "").startswith("part part-"):
                heights.append(box.margin_height() * MM_PER_PX)
    return heights


def list_first_lines(html: str) -> list[str]:
    """The first line of every paragraph, as it is set."""
    lines: list[str] = []
    for page in _lay_out(html).pages:
        for box in page._page_box.descendants():
            if box.element_tag == "p" and type(box).__name__ == "BlockBox":
                line = next(inner for inner in box.descendants() if type(inner).__name__ == "LineBox")
                lines.append("".join(inner.text for inner in line.descendants() if hasattr(inner, "text")))
    return lines


def compare(reckoned: list[tuple[str, float]], heights: list[float]) -> list[Height]:
    assert len(reckoned) == len(heights), f"{len(reckoned)} parts reckoned, {len(heights)} set"
    return [Height(kind, mm, real) for (kind, mm), real in zip(reckoned, heights, strict=True)]
