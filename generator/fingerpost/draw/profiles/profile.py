"""How something looks that is recognised by sight: LookPicture, a healthy finger and one like it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache

from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import block_height, wrap
from fingerpost.draw.pens.svg import document, group
from fingerpost.draw.profiles.from_front import cord, crooked, knobs, thick_joint
from fingerpost.draw.profiles.from_side import bent_middle_joint, drooping_tip, locked_finger, stiff_tip, thick_finger
from fingerpost.draw.profiles.pair import LookPair
from fingerpost.model.shared import Look
from fingerpost.plan.base.pictures import LookPicture

_MAKERS: dict[Look, Callable[[], LookPair]] = {
    "drooping-tip": drooping_tip, "cannot-straighten-middle": bent_middle_joint, "twisted-finger": crooked,
    "whole-finger-swelling": thick_finger, "spindle-swelling": thick_joint, "bony-knobs": knobs,
    "cord-in-palm": cord, "cannot-bend-tip": stiff_tip, "catching-or-locking": locked_finger,
}  # fmt: skip
EDGE, BETWEEN, ABOVE_WORDS = 0.8, 4.0, 1.4
TALLEST = 0.44
"""How tall the pair is at the most, as a share of its width."""


@cache
def pair_for(look: Look) -> LookPair:
    return _MAKERS[look]()


def draw_look(picture: LookPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """Healthy on the left, on one ground and at one scale; words below each."""
    pair = pair_for(picture.look)
    frames = (pair.healthy, pair.sore)
    room = (width_mm - 2 * EDGE - BETWEEN) / 2
    scale = min(frame.fit(room, TALLEST * width_mm) for frame in frames)
    boxes = [frame.box(frame.place(scale)) for frame in frames]
    tall = max(box.bottom - box.top for box in boxes)
    bottom = EDGE + tall
    body, deep = [], 0.0
    for n, (frame, box, said) in enumerate(zip(frames, boxes, (picture.healthy, picture.sore), strict=True)):
        middle = EDGE + room / 2 + n * (room + BETWEEN)
        place = frame.place(scale)
        shift = complex(middle - (box.left + box.right) / 2, bottom - box.bottom)
        body.append(group(frame.draw(replace(place, origin=shift)), name=f"{prefix}-{('healthy', 'sore')[n]}"))
        told = wrap(said, room, text_pt, n == 1)
        high = block_height(len(told), text_pt)
        words = Extent(
            left=middle - room / 2,
            right=middle + room / 2,
            top=bottom + ABOVE_WORDS,
            bottom=bottom + ABOVE_WORDS + high,
        )
        body.append(group([draw_block(told, words, text_pt, anchor="middle", bold=n == 1)], name=f"{prefix}-words-{n}"))
        deep = max(deep, ABOVE_WORDS + high)
    return document(picture.title, width_mm, bottom + deep + EDGE, body)
