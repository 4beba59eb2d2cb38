"""A planned handout as print HTML: the same text on the command line and in a browser. Nothing is opened here."""

from __future__ import annotations

import re
from functools import lru_cache

from jinja2 import Environment

from fingerpost.draw.pens.letters import count_ems
from fingerpost.draw.picture import draw
from fingerpost.make.templates import render
from fingerpost.model.words import Paper, PrintSize
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.paper import Handout
from fingerpost.plan.base.pictures import Picture
from fingerpost.plan.base.visible import list_drawings
from fingerpost.plan.person.sheet_parts import LEAST_PT

_ANY = "\x01-"
"""Stands for the prefix of a kept drawing. No text of a library or a case can hold it."""


@lru_cache(maxsize=256)
def _draw_once(picture: Picture, width_mm: float | None, text_pt: float) -> str:
    """Why kept: most changes of a case leave most drawings as they were, and drawing is what takes time."""
    return draw(picture, prefix=_ANY, width_mm=width_mm, text_pt=text_pt)


def draw_once(picture: Picture, width_mm: float | None, text_pt: float, prefix: str) -> str:
    """A picture as SVG whose ids begin with `prefix`; drawn anew only where it was not drawn like this before."""
    return _draw_once(picture, width_mm, text_pt).replace(_ANY, prefix)


def forget_drawings() -> None:
    """Let go of every drawing that is kept, with the words of a person that stand in it."""
    _draw_once.cache_clear()
    count_ems.cache_clear()


# In large print pictures grow too, up to the width of the text block; none is taller than a page has room for.
WIDER: dict[PrintSize, float] = {12: 1.0, 14: 1.12, 18: 1.45, 24: 1.65}
WIDEST_MM = 160.0
TALLEST_MM: dict[Paper, float] = {"A4": 222.0, "Letter": 204.0}
LINES_MM = 3.4
"""How much lower a picture is for each point of print: title, whose sheet it is and who checked it stand above it."""
_HEIGHT = re.compile(r'height="([\d.]+)mm"')


def _first_size(drawing: Drawing, handout: Handout) -> tuple[float | None, float]:
    """The width in mm, where it is fixed, and the lettering in pt that go with the print size."""
    width = min(drawing.width_mm * WIDER[handout.print_size], WIDEST_MM) if drawing.width_mm else None
    return width, max(LEAST_PT, handout.print_size * 0.8)


def _draw_to_fit(drawing: Drawing, prefix: str, handout: Handout) -> str:
    """A picture with lettering that goes with the print size, or as large as the page has room for."""
    width, text_pt = _first_size(drawing, handout)
    tallest = TALLEST_MM[handout.paper] - LINES_MM * (handout.print_size - 12)
    while True:
        svg = draw_once(drawing.picture, width, text_pt, prefix)
        height = _HEIGHT.search(svg)
        if text_pt <= LEAST_PT or not height or float(height[1]) <= tallest:
            return svg
        text_pt = max(LEAST_PT, text_pt - 0.4)


def draw_handout(handout: Handout) -> dict[str, str]:
    """The SVG of every picture of a handout, by name."""
    return {d.name: _draw_to_fit(d, f"d{n}-", handout) for n, d in enumerate(list_drawings(handout))}


def draw_ahead(handout: Handout) -> bool:
    """Draw the first picture of a handout that is not drawn yet. False where all are."""
    before = _draw_once.cache_info().misses
    for drawing in list_drawings(handout):
        _draw_once(drawing.picture, *_first_size(drawing, handout))
        if _draw_once.cache_info().misses > before:
            return True
    return False


def write_html(environment: Environment, handout: Handout) -> str:
    """The print HTML of a handout. Addresses of the site are printed as plain words."""
    return render(
        environment, "print/handout.html", href=lambda target: "", drawings=draw_handout(handout), handout=handout
    )
