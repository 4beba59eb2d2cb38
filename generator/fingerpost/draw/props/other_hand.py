"""The other hand, pale, so that it cannot be taken for the sore one."""

from __future__ import annotations

from fingerpost.draw.bodies.whole_side import BEHIND, Bends, HandPose, Spots, ThumbAlone, WholeHand, thumb_in
from fingerpost.draw.pens.curves import heading
from fingerpost.draw.pens.svg import PALE
from fingerpost.draw.props.stage import Moved, Thing

CURLED: Bends = (78, 96, 50)
PINCH: Bends = (44, 34, 18)
PINCH_THUMB: Spots = (-30 - 33j, 3 - 44j, 32 - 52j)
POINTING_THUMB: Spots = (-38 - 30j, -14 - 42j, 12 - 38j)


def gripping(spot: complex, degrees: float, *, mirror: bool = False, arm: float = 98) -> tuple[Thing, Thing]:
    """Holding a segment at its flanks: (hand and fingers behind, thumb in front).

    `spot`: the middle of the thumb's pad; `degrees`: where the thumb points (seen mirrored: before the mirror).
    """
    pose = HandPose(bends=PINCH, arm=arm)
    front = pose.front
    pad, joint = (front.at(0, p.real * front.k, p.imag * front.k) for p in (24 - 49.5j, PINCH_THUMB[1]))
    thumb = ThumbAlone(thumb_in(pose, PINCH_THUMB), PALE)
    far, near = (_put(thing, pad, pad - joint, spot, degrees, mirror) for thing in (WholeHand(pose, None, PALE), thumb))
    return far, near


def pointing(
    spot: complex, degrees: float, *, mirror: bool = False, bends: Bends = (24, 22, 10), arm: float = 98,
    tip: bool = False,
) -> Thing:  # fmt: skip
    """With its index out: the pad of the index, or its `tip`, lies at `spot`, the end segment points to `degrees`."""
    pose = HandPose(bends=bends, others=dict.fromkeys(BEHIND, CURLED), arm=arm)
    front = pose.front
    end = front.at(3, front.lengths[2] - 0.5, -1.2)
    pad, along = end if tip else front.at(3, 0.66 * front.lengths[2], -7.6), heading(front.headings[3])
    return _put(WholeHand(pose, POINTING_THUMB, PALE), pad, along, spot, degrees, mirror)


def resting(
    spot: complex, degrees: float, *, mirror: bool = False, bends: Bends, wrist: float, along: float, arm: float
) -> Thing:
    """With all fingers laid on something: their middle segments at `spot`, `along` mm from the joint, point to
    `degrees`."""
    pose = HandPose(bends=bends, wrist=wrist, arm=arm)
    front = pose.front
    pad, way = front.at(2, along, -8.4), heading(front.headings[2])
    return _put(WholeHand(pose, None, PALE), pad, way, spot, degrees, mirror)


def _put(thing: Thing, pad: complex, along: complex, spot: complex, degrees: float, mirror: bool) -> Thing:
    """A thing laid so that its `pad` comes to `spot` and its direction `along` to `degrees`."""
    if mirror:
        pad, along = -pad.conjugate(), -along.conjugate()
    turn = heading(degrees) / (along / abs(along))
    return Moved(thing, spot - turn * pad, turn, mirror)
