"""A planned handout as print HTML: the same text on the command line and in a browser. Nothing is opened here."""

from __future__ import annotations

from functools import lru_cache

from jinja2 import Environment

from generator.draw.letters import count_ems
from generator.draw.picture import draw
from generator.plan.blocks import Handout
from generator.plan.drawings import list_drawings
from generator.plan.pictures import Picture
from generator.render import render

_ANY = "\x01-"
"""Stands for the prefix of a kept drawing. No text of a library or a case can hold it."""


@lru_cache(maxsize=256)
def _draw_once(picture: Picture, width_mm: float | None, text_pt: float) -> str:
    """Why kept: most changes of a case leave most drawings as they were, and drawing is what takes time."""
    return draw(picture, prefix=_ANY, width_mm=width_mm, text_pt=text_pt)


def forget_drawings() -> None:
    """Let go of every drawing that is kept, with the words of a person that stand in it."""
    _draw_once.cache_clear()
    count_ems.cache_clear()


def draw_handout(handout: Handout) -> dict[str, str]:
    """The SVG of every picture of a handout, by name. Lettering grows with the print size."""
    text_pt = max(10.0, handout.print_size * 0.8)
    return {
        d.name: _draw_once(d.picture, d.width_mm, text_pt).replace(_ANY, f"d{n}-")
        for n, d in enumerate(list_drawings(handout))
    }


def write_html(environment: Environment, handout: Handout) -> str:
    """The print HTML of a handout. Addresses of the site are printed as plain words."""
    return render(
        environment, "print/handout.html", href=lambda target: "", drawings=draw_handout(handout), handout=handout
    )
