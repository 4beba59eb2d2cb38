"""The pictures of a leaf: drawn once, as wide as their place, each with letters of its own in its ids."""

from __future__ import annotations

from dataclasses import dataclass, field

from fingerpost.draw.pens.svg import read_size
from fingerpost.make.drawn.pictures import draw_once, was_drawn
from fingerpost.make.drawn.qr import draw_code, needed_mm
from fingerpost.make.leaf.laid import LaidField, pieces
from fingerpost.make.leaf.metrics import Weight, weigh
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.pictures import RulerPicture, StripPicture
from fingerpost.plan.base.runs import Run, Words

LETTERS_PT = 10.0


class Svg(str):
    """A drawn picture, which a template puts on the page as it is."""

    def __html__(self) -> str:
        return str(self)


@dataclass(frozen=True)
class Art:
    """A drawn picture and its size in mm."""

    svg: Svg
    width_mm: float
    height_mm: float


def draw_address(address: str, title: str, width_mm: float) -> Art:
    """The code of a page's address, with its quiet zone; wider than `width_mm` where a long address needs it."""
    width_mm = max(width_mm, needed_mm(address))
    return Art(Svg(draw_code(address, title=title, width_mm=width_mm)), width_mm, width_mm)


class NewlyDrawn(Exception):
    """A picture that was asked for ahead was not drawn before; it is now."""


@dataclass
class Studio:
    """Draws the pictures of one leaf. `letters_pt`: the size of words inside them.

    `ahead`: it only draws what will be needed, and raises NewlyDrawn after each picture that it had to draw.
    """

    letters_pt: float = LETTERS_PT
    ahead: bool = False
    fields: dict[tuple[int, float, float, float, bool], LaidField] = field(default_factory=dict)
    """Fields of grips as they were laid: by the field, its width, and what of the settings they hang on."""
    _weighed: dict[tuple[int, bool], tuple[object, list[list[Weight]]]] = field(default_factory=dict)
    _count: int = field(default=0)
    _heights: dict[tuple[int, float], float] = field(default_factory=dict)

    def weigh(self, words: Words | str, bold: bool) -> list[list[Weight]]:
        """Text by its forced lines, weighed once for all columns and steps that are tried."""
        key = id(words), bold
        if key not in self._weighed:
            told = (Run(words),) if isinstance(words, str) else words
            ends = [n for n, run in enumerate(told) if run.kind == "break"]
            lines = (told[a:b] for a, b in zip([0, *(n + 1 for n in ends)], [*ends, None], strict=True))
            # The words too, so that nothing else gets their id.
            self._weighed[key] = words, [weigh(pieces(line, bold)) for line in lines]
        return self._weighed[key][1]

    def measure(self, drawing: Drawing, width_mm: float) -> float:
        """How tall a picture is at a width, in mm. It is drawn once for all that are measured."""
        key = (id(drawing), width_mm)
        if key not in self._heights:
            self._heights[key] = self._draw(drawing, width_mm, "m-").height_mm
        return self._heights[key]

    def draw(self, drawing: Drawing, width_mm: float | None = None, true_letters_pt: float = LETTERS_PT) -> Art:
        """A picture at the width of its place, or at its own. `true_letters_pt`: of what is drawn at true size."""
        self._count += 1
        return self._draw(drawing, width_mm, f"l{self._count}-", true_letters_pt)

    def _draw(self, drawing: Drawing, width_mm: float | None, prefix: str, true_letters_pt: float = LETTERS_PT) -> Art:
        width, letters_pt = width_mm or drawing.width_mm, self.letters_pt
        if isinstance(drawing.picture, StripPicture | RulerPicture):  # at true size, whatever the print
            width, letters_pt = drawing.picture.needed_mm(true_letters_pt), true_letters_pt
        if self.ahead and not was_drawn(drawing.picture, width, letters_pt):
            raise NewlyDrawn
        svg = draw_once(drawing.picture, width, letters_pt, prefix)
        return Art(Svg(svg), *read_size(svg))
