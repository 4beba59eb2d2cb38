"""The pictures of a leaf: drawn once, as wide as their place, each with letters of its own in its ids."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from markupsafe import Markup

from fingerpost.make.pictures import draw_once
from fingerpost.make.qr import draw_code
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.pictures import RulerPicture, StripPicture

LETTERS_PT = 10.0
_SIZE = re.compile(r'width="([\d.]+)mm" height="([\d.]+)mm"')


@dataclass(frozen=True)
class Art:
    """A drawn picture and its size in mm."""

    svg: str
    width_mm: float
    height_mm: float


def draw_address(address: str, title: str, width_mm: float) -> Art:
    """The code of a page's address, with its quiet zone."""
    return Art(Markup(draw_code(address, title=title, width_mm=width_mm)), width_mm, width_mm)


@dataclass
class Studio:
    """Draws the pictures of one leaf. `letters_pt`: the size of words inside them."""

    letters_pt: float = LETTERS_PT
    _count: int = field(default=0)
    _heights: dict[tuple[int, float], float] = field(default_factory=dict)

    def measure(self, drawing: Drawing, width_mm: float) -> float:
        """How tall a picture is at a width, in mm. It is drawn once for all that are measured."""
        key = (id(drawing), width_mm)
        if key not in self._heights:
            self._heights[key] = self._draw(drawing, width_mm, "m-").height_mm
        return self._heights[key]

    def draw(self, drawing: Drawing, width_mm: float | None = None) -> Art:
        """A picture at the width of its place, or at its own."""
        self._count += 1
        return self._draw(drawing, width_mm, f"l{self._count}-")

    def _draw(self, drawing: Drawing, width_mm: float | None, prefix: str) -> Art:
        width, letters_pt = width_mm or drawing.width_mm, self.letters_pt
        if isinstance(drawing.picture, StripPicture | RulerPicture):  # at true size, whatever the print
            width, letters_pt = drawing.picture.needed_mm(LETTERS_PT), LETTERS_PT
        svg = draw_once(drawing.picture, width, letters_pt, prefix)
        size = _SIZE.search(svg)
        if size is None:
            raise ValueError(f"the picture '{drawing.name}' does not tell its size")
        return Art(Markup(svg), float(size[1]), float(size[2]))
