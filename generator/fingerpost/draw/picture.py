"""The door of this folder: a planned picture in, SVG text out."""

from __future__ import annotations

from functools import partial
from typing import Protocol, assert_never

from fingerpost.draw.charts import draw_diary, draw_loads, draw_strength
from fingerpost.draw.exercises.exercise import draw_exercise, frame_width
from fingerpost.draw.exercises.key import draw_movement_sign
from fingerpost.draw.grips.grip import draw_grip
from fingerpost.draw.hands.hand import draw_hand
from fingerpost.draw.hands.touch import draw_touch
from fingerpost.draw.inside.inside import draw_inside
from fingerpost.draw.pens.marks import draw_sign_alone
from fingerpost.draw.pens.svg import LEAST_TEXT
from fingerpost.draw.pens.true_size import draw_ruler, draw_strips
from fingerpost.draw.profiles.profile import draw_look
from fingerpost.draw.taping.taping import draw_taping
from fingerpost.draw.trials.trial import draw_trial
from fingerpost.draw.way.stages import draw_stages
from fingerpost.draw.way.way import draw_way
from fingerpost.plan.base.pictures import (
    DiaryPicture,
    ExercisePicture,
    GripPicture,
    HandPicture,
    InsidePicture,
    LoadPicture,
    LookPicture,
    MovementSignPicture,
    PathPicture,
    Picture,
    RulerPicture,
    SignPicture,
    StagesPicture,
    StrengthPicture,
    StripPicture,
    TapingPicture,
    TouchPicture,
    TrialPicture,
)  # fmt: skip

MISTAKE_WIDTH, CHECK_WIDTH, STRIP_WIDTH = 30.0, 75.0, 250.0
SMALL_HAND, SMALL_GRIP, SMALL_FRAME, SMALL_EXERCISE = 22.0, 11.5, 28.0, 14.0


class Pen(Protocol):
    """Draws one picture at a width in mm, its words at a size in points."""

    def __call__(self, *, prefix: str, width_mm: float, text_pt: float) -> str: ...


def _find_pen(picture: Picture) -> tuple[Pen, float]:
    """How a picture is drawn, and how wide (mm) it is printed as a rule."""
    match picture:
        case HandPicture():
            return partial(draw_hand, picture), SMALL_HAND if picture.ring else 80.0
        case GripPicture():
            return partial(draw_grip, picture), SMALL_GRIP if picture.small else 42.0
        case InsidePicture():
            return partial(draw_inside, picture), 85.0
        case TapingPicture():
            usual = SMALL_FRAME if picture.small else 45.0
            if picture.draws in ("check", "mistakes"):
                usual = CHECK_WIDTH if picture.draws == "check" else MISTAKE_WIDTH * len(picture.mistakes)
            return partial(draw_taping, picture), usual
        case ExercisePicture():
            return partial(draw_exercise, picture), SMALL_EXERCISE if picture.small else frame_width(picture)
        case MovementSignPicture():
            return partial(draw_movement_sign, picture), 42.5
        case PathPicture():
            return partial(draw_way, picture), STRIP_WIDTH if picture.lying else 170.0
        case TrialPicture():
            return partial(draw_trial, picture), 60.0
        case DiaryPicture():
            return partial(draw_diary, picture), 170.0
        case LoadPicture():
            return partial(draw_loads, picture), 110.0
        case TouchPicture():
            return partial(draw_touch, picture), 70.0
        case StagesPicture():
            return partial(draw_stages, picture), 110.0
        case StripPicture():
            return partial(draw_strips, picture), picture.needed_mm()
        case RulerPicture():
            return partial(draw_ruler, picture), picture.needed_mm()
        case StrengthPicture():
            return partial(draw_strength, picture), 85.0
        case LookPicture():
            return partial(draw_look, picture), 85.0
        case SignPicture():
            return partial(draw_sign_alone, picture), 5.2
        case _:
            assert_never(picture)


def usual_width(picture: Picture) -> float:
    """The printed width in mm of a picture where nothing else is said."""
    return _find_pen(picture)[1]


def draw(picture: Picture, *, prefix: str, width_mm: float | None = None, text_pt: float = 10.0) -> str:
    """The drawing as one `<svg>` element.

    `prefix` starts every id and must be different for each drawing of a page. `width_mm` is the printed width (each
    kind has its own usual one), `text_pt` the size of its words at that width, in points, never below 9. Raises
    ValueError where a drawing at true size needs more room (`needed_mm` of the picture says how much).
    """
    pen, usual = _find_pen(picture)
    width = usual if width_mm is None else width_mm
    return pen(prefix=prefix.rstrip("-"), width_mm=width, text_pt=max(LEAST_TEXT, text_pt))
