"""Which hand on which hold a planned grip is. The bends are those of the grip; the bodies of holds are drawn by eye."""

from __future__ import annotations

from collections.abc import Callable

from fingerpost.draw.grips.cracks import finger_crack, hand_crack
from fingerpost.draw.grips.edges import edge, jug, pinch, sloper, undercling
from fingerpost.draw.grips.pockets import pocket
from fingerpost.draw.grips.scene import Scene
from fingerpost.model.shared import Hold
from fingerpost.plan.base.pictures import GripPicture

_MAKERS: dict[Hold, Callable[[GripPicture], Scene]] = {
    "edge": edge, "pocket": pocket, "sloper": sloper, "pinch": pinch, "undercling": undercling,
    "finger-crack": finger_crack, "hand-crack": hand_crack, "jug": jug,
}  # fmt: skip


def scene_for(picture: GripPicture) -> Scene:
    return _MAKERS[picture.hold](picture)
