"""Exercises that are hands in poses: upright from the thumb's side, or on the back with the other hand's help.

Joint angles are the author's; where hands meet, places come from the landmarks of the finger from the side.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fingerpost.draw.bodies.side import SidePose, depths
from fingerpost.draw.bodies.whole_side import Bends, HandPose, Spots, WholeHand
from fingerpost.draw.pens.curves import free, heading, sample, spline
from fingerpost.draw.pens.svg import GREY, MAIN, WHITE, Position, chain_data, path
from fingerpost.draw.props.other_hand import gripping, pointing
from fingerpost.draw.props.shapes import Slab, Solid
from fingerpost.draw.props.signs import FingerKey, Pivot, PushArrow, arc
from fingerpost.draw.props.stage import Drawn, Frame, Thing
from fingerpost.model.movement import Force, Joint, OtherHand, Pose, ThumbRest
from fingerpost.model.words import Finger

ARM, SMALL_ARM, LYING_ARM = 112.0, 90.0, 46.0
OTHER_ARM, SMALL_OTHER_ARM = 86.0, 72.0
"""How much of hand and forearm is seen behind the knuckle, mm."""
KEY_LYING = 82 - 98j
"""Where the small hand stands that says which finger: above the fingertips."""
FORCES: dict[Force, int] = {"lightly": 1}
"""How many bars of three."""
JOINTS: tuple[Joint, ...] = ("mcp", "pip", "dip")
THUMBS: dict[ThumbRest, Spots] = {
    "beside": (-22 - 30j, 8 - 36j, 36 - 33j),
    "away": (-26 - 17j, -2 - 15j, 17 - 11j),
    "over-fist": (-38 - 37j, -15 - 49j, 6 - 45j),
    "open": (-27 - 38j, -2 - 56j, 20 - 68j),
    "wide": (-31 - 38j, -6 - 62j, 10 - 84j),
    "opposed": (-31 - 34j, -4 - 55j, 23 - 66j),
}


@dataclass(frozen=True)
class Script:
    """What frames are made of: the poses of all of them. `small`: less of the forearm, and only what tells most.
    `finger`: which one it is about, where not all do the same."""

    poses: tuple[Pose, ...]
    small: bool
    finger: Finger | None = None

    @property
    def in_turn(self) -> Iterator[tuple[Pose | None, Pose]]:
        """Each pose with the one before it."""
        return zip((None, *self.poses), self.poses, strict=False)


def bends_of(pose: Pose) -> Bends:
    return (pose.mcp, pose.pip, pose.dip)


def upright(pose: Pose, small: bool) -> WholeHand:
    """The whole hand, fingers up."""
    hand = HandPose(bends=bends_of(pose), arm=SMALL_ARM if small else ARM)
    return WholeHand(hand, THUMBS[pose.thumb] if pose.thumb else None)


def signs_of(pose: Pose, finger: SidePose) -> list[Thing]:
    """The arrow that says what moves, and the dot on the joint."""
    signs: list[Thing] = []
    if turning := pose.turning:
        centre = finger.joints[JOINTS.index(turning.about)]
        signs.append(arc(centre, turning.radius, turning.start, turning.stop, both=turning.back))
    if pose.spot:
        signs.append(Pivot(finger.joints[JOINTS.index(pose.spot)]))
    return signs


def ghost_of(finger: SidePose, joint: int) -> Drawn:
    """Where the part beyond a joint was before: its dashed contour."""
    start, way = finger.joints[joint], heading(finger.headings[joint + 1])
    points = [p for p in sample(finger.contour, 5) if ((p - start) * way.conjugate()).real > 2]
    return Drawn(
        lambda place: path(chain_data(place.points(points)), stroke=GREY, pen=MAIN, dash="1.2 0.9"), tuple(points)
    )


def posed(script: Script) -> tuple[Frame, ...]:
    """A frame for each pose."""
    return tuple((_lying if pose.alone else _upright)(pose, before, script) for before, pose in script.in_turn)


def _upright(pose: Pose, before: Pose | None, script: Script) -> Frame:
    hand = upright(pose, script.small)
    things: list[Thing] = [hand]
    if pose.before and before:
        things.insert(0, ghost_of(upright(before, script.small).pose.front, 0))
    return Frame((*things, *signs_of(pose, hand.pose.front)))


def lay_back(pose: Pose) -> WholeHand:
    """A hand on its back, cut through the palm, and of its fingers only the one that moves: those that lie would be
    taken for it. Which it is, the small hand says."""
    return WholeHand(HandPose(bends=bends_of(pose), facing=0, arm=LYING_ARM, fingers=()))


def _lying(pose: Pose, before: Pose | None, script: Script) -> Frame:
    hand = lay_back(pose)
    front = hand.pose.front
    arm = SMALL_OTHER_ARM if script.small else OTHER_ARM
    far, near = _helping(pose.other_hand, front, arm) if pose.other_hand else ([], [])
    if script.finger and not script.small:
        near.append(FingerKey(KEY_LYING, (script.finger,)))
    things = [*far, *_lie_on(pose, hand, far)]
    if pose.before and before:
        things.append(ghost_of(lay_back(before).pose.front, 1))
    return Frame((*things, hand, *near, *signs_of(pose, front)), turn=-1 + 0j)


def _lie_on(pose: Pose, hand: WholeHand, far: list[Thing]) -> list[Thing]:
    """The table below, and the white that hides what reaches below its edge; or a towel on the table."""
    if pose.under is None:
        return []
    left, right = -LYING_ARM - 2, 110.0
    if pose.under == "table":
        level = max(p.imag for p in hand.pose.points if p.real < 40) + 0.2
        deepest = max((-p.imag for thing in far for p in thing.cover(Position())), default=level) + 3
        below = (complex(left, level), complex(right, level), complex(right, deepest), complex(left, deepest))
        hidden = Drawn(lambda place: path(chain_data(place.points(below)), fill=WHITE))
        return [hidden, Slab(complex(left, level), complex(right, level), -6)]
    level = max(p.imag for p in hand.pose.points if p.real < 48) + 5.5
    rows = ((left, 0), (left + 3, 4.6), (24, 5.6), (64, 5.2), (98, 4.6), (103, 0))
    top = sample(spline(free([complex(x, level - high) for x, high in rows])), 4)
    return [Slab(complex(left, level), complex(right, level), -6), Solid(tuple(top), soft=False)]


def _helping(other: OtherHand, finger: SidePose, arm: float) -> tuple[list[Thing], list[Thing]]:
    """What of the other hand lies behind and in front."""
    along = other.at / 100 * finger.lengths[other.segment - 1]
    if other.does == "hold":
        behind, front = gripping(finger.at(other.segment, along, 0.5), 70, arm=arm)
        return [behind], [front]
    spot = finger.at(other.segment, along, -depths(finger, other.segment, along)[1])
    way = finger.headings[other.segment] + 90
    force = FORCES[other.force] if other.force else 0
    push = [PushArrow(spot - 3 * heading(way), way, force, bars="beside")] if force else []
    return [], [pointing(spot, 80, mirror=True, arm=arm), *push]
