"""The door of this folder: a planned picture in, SVG text out."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from generator.draw.charts import draw_diary, draw_loads
from generator.draw.grip import draw_grip
from generator.draw.hand import draw_hand
from generator.draw.inside import draw_inside
from generator.draw.taping import draw_taping
from generator.draw.touch import draw_touch
from generator.draw.trial import draw_trial
from generator.draw.way import draw_way
from generator.plan.pictures import (
    DiaryPicture,
    GripPicture,
    HandPicture,
    InsidePicture,
    LoadPicture,
    PathPicture,
    Picture,
    TapingPicture,
    TouchPicture,
    TrialPicture,
)  # fmt: skip

LEAST_TEXT = 9.0
"""No word in a drawing is printed smaller than this (points)."""
_KINDS: dict[type[Any], tuple[Callable[..., str], float]] = {
    HandPicture: (draw_hand, 80.0),
    GripPicture: (draw_grip, 42.0),
    InsidePicture: (draw_inside, 85.0),
    TapingPicture: (draw_taping, 45.0),
    PathPicture: (draw_way, 170.0),
    TrialPicture: (draw_trial, 60.0),
    DiaryPicture: (draw_diary, 170.0),
    LoadPicture: (draw_loads, 110.0),
    TouchPicture: (draw_touch, 70.0),
}
"""How each kind is drawn, and how wide (mm) it is printed as a rule."""
MISTAKES_WIDTH, STRIP_WIDTH = 92.0, 250.0


def usual_width(picture: Picture) -> float:
    """The printed width in mm of a picture where nothing else is said."""
    if isinstance(picture, TapingPicture) and picture.frame == 0:
        return MISTAKES_WIDTH
    if isinstance(picture, PathPicture) and picture.lying:
        return STRIP_WIDTH
    return _KINDS[type(picture)][1]


def draw(picture: Picture, *, prefix: str, width_mm: float | None = None, text_pt: float = 10.0) -> str:
    """The drawing as one `<svg>` element.

    `prefix` starts every id and must be different for each drawing of a page. `width_mm` is the printed width (each
    kind has its own usual one), `text_pt` the size of its words at that width, in points, never below 9.
    """
    maker = _KINDS[type(picture)][0]
    width = usual_width(picture) if width_mm is None else width_mm
    return maker(picture, prefix=prefix.rstrip("-"), width_mm=width, text_pt=max(LEAST_TEXT, text_pt))
