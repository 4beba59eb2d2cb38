"""A planned handout as print HTML: the same text on the command line and in a browser. Nothing is opened here."""

from __future__ import annotations

import re
from contextlib import suppress

from jinja2 import Environment

from fingerpost.draw.pens.svg import read_size
from fingerpost.draw.picture import usual_width
from fingerpost.make.drawn.pictures import draw_once, was_drawn
from fingerpost.make.leaf.art import NewlyDrawn, Studio
from fingerpost.make.leaf.page import TooFull, fit
from fingerpost.make.templates import render
from fingerpost.model.words import Paper, PrintSize
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.paper import Handout
from fingerpost.plan.base.pictures import ExercisePicture, MovementSignPicture
from fingerpost.plan.base.visible import list_drawings
from fingerpost.plan.person.sheet_parts import LEAST_PT

# In large print pictures grow too, up to the width of the text block; none is taller than a page has room for.
WIDER: dict[PrintSize, float] = {12: 1.0, 14: 1.12, 18: 1.45, 24: 1.65}
WIDEST_MM = 176.0
TALLEST_MM: dict[Paper, float] = {"A4": 222.0, "Letter": 204.0}
LINES_MM = 3.4
"""How much lower a picture is for each point of print: title, whose sheet it is and who checked it stand above it."""
_INLINE = r"<(?:strong|span|a)\b"


def _letters(print_size: PrintSize) -> float:
    """The size of words in pictures, in points."""
    return max(LEAST_PT, print_size * 0.8)


def _first_size(drawing: Drawing, handout: Handout) -> tuple[float | None, float]:
    """The width in mm, where it is fixed, and the lettering in pt that go with the print size."""
    width = drawing.width_mm
    if width is None and isinstance(drawing.picture, ExercisePicture | MovementSignPicture):
        width = usual_width(drawing.picture)
    width = min(width * WIDER[handout.print_size], WIDEST_MM) if width else None
    return width, _letters(handout.print_size)


def _draw_to_fit(drawing: Drawing, prefix: str, handout: Handout) -> str:
    """A picture with lettering that goes with the print size, or as large as the page has room for."""
    width, text_pt = _first_size(drawing, handout)
    tallest = TALLEST_MM[handout.paper] - LINES_MM * (handout.print_size - 12)
    while True:
        svg = draw_once(drawing.picture, width, text_pt, prefix)
        if text_pt <= LEAST_PT or read_size(svg)[1] <= tallest:
            return svg
        text_pt = max(LEAST_PT, text_pt - 0.4)


def draw_handout(handout: Handout) -> dict[str, str]:
    """The SVG of every picture on the sheets of a handout, by name. A leaf draws its own."""
    return {d.name: _draw_to_fit(d, f"d{n}-", handout) for n, d in enumerate(list_drawings(handout.sheets))}


def draw_ahead(handout: Handout) -> bool:
    """Draw the first picture of a handout that is not drawn yet. False where all are."""
    studio = Studio(_letters(handout.print_size), ahead=True)
    try:
        for leaf in handout.leaves:
            with suppress(TooFull):
                fit(leaf, handout.paper, handout.print_size, studio)
    except NewlyDrawn:
        return True
    return any(not was_drawn(d.picture, *_first_size(d, handout)) for d in list_drawings(handout.sheets))


def part_blanks(html: str) -> str:
    """Blanks between words and what is marked in them, apart from both.

    Why: where a stretch of words fills a line and ends with a blank, and what follows does not fit, the PDF engine
    takes the blank for a letter and ends the line after its first word: a part is higher than it was reckoned.
    """
    html = re.sub(r"(?<=\S) </strong>", "</strong> ", html)
    return re.sub(rf"(?<=[^\s>]) (?={_INLINE})", "<span> </span>", html)


def write_html(environment: Environment, handout: Handout) -> str:
    """The print HTML of a handout. Addresses of the site are printed as plain words.

    Raises TooFull for a leaf that has no room for all of it, with what to shorten.
    """
    studio = Studio(_letters(handout.print_size))
    leaves = [fit(leaf, handout.paper, handout.print_size, studio) for leaf in handout.leaves]
    html = render(
        environment,
        "print/handout.html",
        href=lambda target: "",
        drawings=draw_handout(handout),
        handout=handout,
        leaves=leaves,
    )
    return part_blanks(html)
