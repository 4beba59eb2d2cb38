"""One step of a taping, its check or its mistakes: TapingPicture. The number and the words of a step stand beside the
drawing, where they are laid out."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from fingerpost.draw.pens.svg import document, group
from fingerpost.draw.taping import before, made, one_finger, two_fingers
from fingerpost.draw.taping.checks_after import check
from fingerpost.draw.taping.room import EDGE, StepRoom
from fingerpost.draw.taping.taping_mistakes import draw_mistakes
from fingerpost.model.shared import TapeScene
from fingerpost.plan.base.pictures import TapingPicture

_SCENES: Mapping[TapeScene, Callable[[StepRoom], list[str]]] = {
    "wash": before.wash,
    "cut": before.cut,
    "slit": before.slit,
    "rub": one_finger.rub,
    "test": one_finger.test,
    "lay-end": one_finger.lay_end,
    "first-turn": one_finger.first_turn,
    "second-turn": one_finger.second_turn,
    "bridge": one_finger.lay_bridge,
    "near-tails": one_finger.near_tails,
    "bend-joint": one_finger.bend_joint,
    "far-tails": one_finger.far_tails,
    "hurt-side": two_fingers.which_neighbour,
    "stronger": two_fingers.which_neighbour,
    "sore-web": two_fingers.which_neighbour,
    "gauze": two_fingers.lay_gauze,
    "near-pair": lambda room: two_fingers.join(room, 1),
    "far-pair": lambda room: two_fingers.join(room, 2),
    "bare-joints": two_fingers.bare_joints,
    "bend-both": two_fingers.bend_both,
    "open-ring": made.open_ring,
    "close-ring": made.close_ring,
    "sleeve": made.sleeve,
    "into-splint": made.into_splint,
    "near-strap": lambda room: made.strap(room, 1),
    "far-strap": lambda room: made.strap(room, 2),
    "free-joints": made.free_joints,
    "raise-hand": made.raise_hand,
    "slide-on": made.slide_on,
    "over-joint": made.over_joint,
    "turn-pad": made.turn_pad,
    "lock-ring": made.lock_ring,
}
INSET = 5.5
"""Free space for the number of a step, mm."""
RATIO, SMALL_RATIO = 0.66, 0.82
"""How high a step is, as a share of its width: all alike, to stand in rows. A small one stands beside a whole hand."""


def draw_taping(picture: TapingPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    room = StepRoom(picture, width_mm, (SMALL_RATIO if picture.small else RATIO) * width_mm, text_pt)
    if picture.draws == "mistakes":
        parts, height = draw_mistakes(room)
        height += EDGE
    elif picture.draws == "check":
        parts, height = check(room)
        height += EDGE
    else:
        room = replace(room, inset=0.0 if picture.small else INSET)
        parts, height = _SCENES[picture.draws](room), room.height
    return document(picture.title, width_mm, height, [group(parts, name=f"{prefix}-step")])
