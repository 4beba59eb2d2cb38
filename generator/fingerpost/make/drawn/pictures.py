"""Pictures as SVG, drawn once: the same picture of the same size is not drawn again while the program runs."""

from __future__ import annotations

from functools import lru_cache

from fingerpost.draw.pens.letters import count_ems
from fingerpost.draw.picture import draw
from fingerpost.plan.base.pictures import Picture

_ANY = "\x01-"
"""Stands for the prefix of a kept drawing. No text of a library or a case can hold it."""


@lru_cache(maxsize=256)
def _draw_once(picture: Picture, width_mm: float | None, text_pt: float) -> str:
    """Why kept: most changes of a case leave most drawings as they were, and drawing is what takes time."""
    return draw(picture, prefix=_ANY, width_mm=width_mm, text_pt=text_pt)


def was_drawn(picture: Picture, width_mm: float | None, text_pt: float) -> bool:
    """Whether a picture was drawn like this before; it is now."""
    before = _draw_once.cache_info().misses
    _draw_once(picture, width_mm, text_pt)
    return _draw_once.cache_info().misses == before


def draw_once(picture: Picture, width_mm: float | None, text_pt: float, prefix: str) -> str:
    """A picture as SVG whose ids begin with `prefix`; drawn anew only where it was not drawn like this before."""
    return _draw_once(picture, width_mm, text_pt).replace(_ANY, prefix)


def forget_drawings() -> None:
    """Let go of every drawing that is kept, with the words of a person that stand in it."""
    _draw_once.cache_clear()
    count_ems.cache_clear()
