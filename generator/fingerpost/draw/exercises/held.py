"""Exercises in which a hand holds or is held: ball, rubber band, and the other hand that stretches."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.bodies.side import WRIST
from fingerpost.draw.bodies.whole_side import HandPose, Spots, ThumbAlone, WholeHand, thumb_in
from fingerpost.draw.exercises.posed import Script, ghost_of, signs_of, upright
from fingerpost.draw.pens.curves import free, heading, ring, sample
from fingerpost.draw.pens.svg import PALE, STUFF
from fingerpost.draw.props.shapes import Felt, Strap, ball
from fingerpost.draw.props.signs import PushArrow, arc
from fingerpost.draw.props.stage import Frame, Moved, Thing
from fingerpost.model.movement import Pose

BALL_MM = 25.0
ROUND_BALL: tuple[Spots, Spots] = (
    (-33 - 36j, -6 - 52j, 19 - 52j),
    (-34 - 34j, -9 - 48j, 15 - 50j),
)
"""The thumb round the ball at rest, and round one that is squeezed flat."""
BAND_MM = 4.4


def squeeze(script: Script) -> tuple[Frame, ...]:
    """A soft ball between the fingers and the thumb, round at rest and flat under the push."""
    return tuple(_squeezed(pose, script.small) for pose in script.poses)


def _squeezed(pose: Pose, small: bool) -> Frame:
    soft = (100 - pose.ball) / 20
    thing = ball(43 + 6j - soft * (5 + 7j), BALL_MM, pose.ball / 100, 70)
    hand = upright(pose, small).pose
    things: list[Thing] = [WholeHand(hand, ROUND_BALL[pose.ball < 100], held=thing.draw)]
    if pose.ball < 100:
        things += [PushArrow(80 + 32j, 222, 6, 4.4), PushArrow(70 - 20j, 145, 6, 4.4)]
    return Frame(tuple(things))


def stretch_band(script: Script) -> tuple[Frame, ...]:
    """A rubber band round the nails and the thumb."""
    frames = []
    for before, pose in script.in_turn:
        hand = upright(pose, script.small)
        opened = before is not None and pose.mcp < before.mcp
        behind, front = _band(hand, 10 if opened else 18)
        things: list[Thing] = [behind, hand, front]
        if opened:
            things += [arc(-6 - 40j, 158, 62, 80), arc(-6 - 40j, 110, 20, -2)]
        frames.append(Frame(tuple(things)))
    return tuple(frames)


def _band(hand: WholeHand, back: float) -> tuple[Thing, Thing]:
    """Both strands of the band are seen, the far one behind the hand. `back`: mm from the fingertips."""
    pose = hand.pose.front
    along = pose.lengths[2] - back
    thumb = hand.thumb_alone
    if thumb is None:
        raise ValueError("a band goes round the thumb, and the pose has none")
    _, _, ip, tip = thumb.thumb.joints
    unit = (tip - ip) / abs(tip - ip)
    inner, outer = tip - 10 * unit, tip - 12 * unit - 9.5j * unit
    near, over = pose.at(3, along, -7.5), pose.at(3, along, 6.5)
    front = Strap((over, pose.at(3, along, -2), near, near + 0.5 * (outer - near), outer), BAND_MM)
    tops = [each.at(3, each.lengths[2] - back, 0) for each in hand.pose.behind.values()]
    top = max(tops, key=lambda p: p.imag)
    behind = Strap((top, top + 0.5 * (inner - top) + 5 * unit, inner), BAND_MM, fill=STUFF)
    return behind, front


def push_back(script: Script) -> tuple[Frame, ...]:
    """The hook; then the other hand, from in front, pushes the bent fingers and so the knuckles back."""
    frames: list[Frame] = []
    for before, pose in script.in_turn:
        hand = upright(pose, script.small)
        things: list[Thing] = [hand, *signs_of(pose, hand.pose.front)]
        if before and pose.before:
            front = hand.pose.front
            spot = complex(max(p.real for p in sample(front.contour, 3)[:-40]) - 1.5, front.at(3, 4, 7).imag)
            helper = HandPose(bends=(4, 6, 4), arm=170, facing=93, wrist=-60)
            touch = helper.front.at(3, 8, -9.0)
            other = Moved(WholeHand(helper, None, PALE), spot + touch.conjugate(), 1 + 0j, mirror=True)
            push = PushArrow(spot + complex(22, -6), 180, long=7, wide=5)
            things = [other, ghost_of(upright(before, script.small).pose.front, 0), *things, push]
        frames.append(Frame(tuple(things)))
    return tuple(frames)


def clasp(script: Script) -> tuple[Frame, ...]:
    """The arm held out, palm up; the other hand lies on all four fingers and brings them down and back."""
    arm = 112.0 if script.small else 146.0
    bent = HandPose(bends=(-12, 3, 2), facing=60, wrist=-60, arm=arm)
    front = bent.front
    shift = front.at(0, WRIST * front.k, 0) - WRIST * front.k
    relaxed = replace(bent, bends=(4, 10, 6), facing=0, wrist=0, base=shift)
    helper = HandPose(bends=(14, 12, 8), facing=90, wrist=24, arm=130)
    thumb = ThumbAlone(thumb_in(helper, (-26 - 30j, 2 - 42j, 30 - 48j)), PALE)
    spot, touch = front.at(1, 34, -15), helper.front.at(1, 26, -12)
    turn = heading(front.headings[1] + 180 - helper.front.headings[1])
    hand, over = (Moved(thing, spot - turn * touch, turn) for thing in (WholeHand(helper, None, PALE), thumb))
    rows = ((-90, 12, 16), (-106, 10, 17.6), (-122, 11, 19.8), (-138, 14, 23.5), (-143, 21, 24))
    belly = [*(front.at(0, a, -low) for a, _, low in rows), *(front.at(0, a, -high) for a, high, _ in rows[::-1])]
    felt = () if script.small else (Felt(tuple(sample(ring(free(belly)), 4))),)
    pull = arc(front.at(0, -66, 0), 168, 4, 36)
    away, beside = (-26 - 17j, -2 - 15j, 17 - 11j), (-22 - 30j, 8 - 36j, 36 - 33j)
    return (
        Frame((WholeHand(relaxed, beside),), turn=-1 + 0j),
        Frame((hand, WholeHand(bent, away), *felt, over, pull), turn=-1 + 0j),
    )
