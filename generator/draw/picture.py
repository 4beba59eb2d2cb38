"""The door of this folder: a planned picture in, SVG text out."""

from __future__ import annotations

from generator.draw.grip import draw_grip
from generator.draw.hand import draw_hand
from generator.draw.inside import draw_inside
from generator.draw.taping import draw_taping
from generator.draw.way import draw_way
from generator.plan.pictures import GripPicture, HandPicture, InsidePicture, PathPicture, Picture, TapingPicture


def draw(picture: Picture, *, prefix: str, width_mm: float | None = None, text_pt: float = 10.0) -> str:
    """The drawing as one `<svg>` element.

    `prefix` starts every id and must be different for each drawing of a page. `width_mm` is the printed width (each
    kind has its own usual one), `text_pt` the size of its words at that width, in points, never below 9.
    """
    if isinstance(picture, HandPicture):
        return draw_hand(picture, prefix=prefix, width_mm=width_mm or 80.0, text_pt=max(9.0, text_pt))
    if isinstance(picture, GripPicture):
        return draw_grip(picture, prefix=prefix, width_mm=width_mm or 42.0, text_pt=max(9.0, text_pt))
    if isinstance(picture, InsidePicture):
        return draw_inside(picture, prefix=prefix, width_mm=width_mm or 85.0, text_pt=max(9.0, text_pt))
    if isinstance(picture, PathPicture):
        return draw_way(picture, prefix=prefix, width_mm=width_mm or 170.0, text_pt=max(9.0, text_pt))
    if isinstance(picture, TapingPicture):
        usual = 45.0 if picture.frame else 92.0
        return draw_taping(picture, prefix=prefix, width_mm=width_mm or usual, text_pt=max(9.0, text_pt))
    raise NotImplementedError(type(picture).__name__)
