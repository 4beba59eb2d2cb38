"""The hand beside the desk's form: the same drawn hand, and where on it each spot to touch lies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fingerpost.draw.bodies.creases import palm_blades
from fingerpost.draw.bodies.fingers import RELAXED, lay_fingers
from fingerpost.draw.bodies.landmarks import find_mark
from fingerpost.draw.bodies.outline import hand_outline
from fingerpost.draw.hands.hand import hand_parts
from fingerpost.draw.pens.blades import draw_blades
from fingerpost.draw.pens.svg import BLACK, OUTLINE, WHITE, Position, curve_data, document, path
from fingerpost.model.shared import Landmark
from fingerpost.model.words import Finger, Side
from fingerpost.plan.base.pictures import HandPicture

DeskView = Literal["palm", "back", "forearm"]
WIDTH_MM = 80.0
# Left, bottom, right and top of what is shown, in mm of the hand.
_FRAMES: dict[DeskView, tuple[float, float, float, float]] = {
    "palm": (-66.0, -34.0, 96.0, 194.0),
    "back": (-66.0, -34.0, 96.0, 194.0),
    "forearm": (-66.0, -168.0, 96.0, 194.0),
}


@dataclass(frozen=True)
class TouchPoint:
    """A spot on the picture of a right hand, in hundredths of its width and height."""

    x: float
    y: float


def _place(view: DeskView) -> Position:
    left, _, right, top = _FRAMES[view]
    scale = WIDTH_MM / (right - left)
    flip = view == "back"
    return Position(scale=scale, origin=complex(right if flip else -left, top) * scale, flip=flip)


def _height(view: DeskView) -> float:
    left, bottom, right, top = _FRAMES[view]
    return WIDTH_MM * (top - bottom) / (right - left)


def draw_desk_hand(view: DeskView, title: str) -> str:
    """A right hand. Mirrored, it is a left one."""
    place = _place(view)
    if view == "forearm":
        outline = curve_data(place.curve(hand_outline(RELAXED, True)))
        inner = draw_blades(palm_blades(lay_fingers()), place, small=False)
        body = [path(outline, fill=WHITE), inner, path(outline, stroke=BLACK, pen=OUTLINE)]
    else:
        body = hand_parts(HandPicture(title="", hand="right", view=view), place)
    return document(title, WIDTH_MM, _height(view), body)


def find_touch_point(view: DeskView, landmark: Landmark, finger: Finger, side: Side | None) -> TouchPoint:
    """Where a place of a finger is touched on the picture of its view."""
    at = _place(view).at(find_mark(landmark, finger, side, lay_fingers()).anchor)
    return TouchPoint(round(100 * at.real / WIDTH_MM, 1), round(100 * at.imag / _height(view), 1))
