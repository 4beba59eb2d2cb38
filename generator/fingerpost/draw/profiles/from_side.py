"""What is seen from the side: a tip that hangs, a joint that stays bent, a finger that is thick from root to tip."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.bodies.whole_side import THUMBS, Bends, HandPose, WholeHand
from fingerpost.draw.pens.curves import sample
from fingerpost.draw.pens.svg import BLACK, GREY, MAIN, OUTLINE, curve_data, path
from fingerpost.draw.profiles.pair import LookPair, ring_at
from fingerpost.draw.props.shapes import Felt
from fingerpost.draw.props.signs import arc
from fingerpost.draw.props.stage import Drawn, Frame


def _lone(pose: SidePose) -> Drawn:
    return Drawn(lambda place: draw_side(pose, place), tuple(sample(pose.contour, 2)))


def _before(pose: SidePose) -> Drawn:
    """Where the finger should be: a thin dashed contour."""
    return Drawn(
        lambda place: path(curve_data(place.curve(pose.contour)), stroke=GREY, pen=MAIN, dash="1.2 0.9"),
        tuple(sample(pose.contour, 1)),
    )


def drooping_tip() -> LookPair:
    """The end joint is bent and nothing lifts it; the middle joint tips a little too far back."""
    straight, sore = SidePose(0, 0, 0), SidePose(0, -7, 50)
    fallen = arc(sore.joints[2], 34, 4, -44)
    return LookPair(Frame((_lone(straight),)), Frame((_before(SidePose(0, -7, 0)), _lone(sore), fallen)))


def bent_middle_joint() -> LookPair:
    """The middle joint stays bent, and the end joint bends backwards."""
    straight, sore = SidePose(0, 0, 0), SidePose(-4, 58, -26, turn=26)
    return LookPair(Frame((_lone(straight),)), Frame((_before(SidePose(-4, 0, 0, turn=26)), _lone(sore))))


@dataclass(frozen=True)
class SwollenPose(SidePose):
    """A finger thick from its root to its tip: `more` mm to the palm, less to the back."""

    more: float = 7.0

    def stations(self, segment: int) -> list[tuple[float, float, float]]:
        rows = super().stations(segment)
        if segment == 0:
            return rows
        length = self.lengths[segment - 1]
        found = []
        for along, up, down in rows:
            share = along / length
            much = self.more * {1: min(1.0, 0.4 + share), 2: 1.0, 3: max(0.0, 1 - share) ** 0.5}[segment]
            found.append((along, up + 0.7 * much, down + much))
        return found


def thick_finger() -> LookPair:
    """Swollen all along and held a little bent; dashed: its usual contour."""
    usual, sore = SidePose(12, 30, 16, turn=10), SwollenPose(12, 30, 16, turn=10)
    outer, inner = sample(sore.contour, 4), sample(usual.contour, 4)
    skin = Drawn(lambda place: path(curve_data(place.curve(sore.contour)), stroke=BLACK, pen=OUTLINE))
    rim = Felt((*outer, *inner[::-1]))
    return LookPair(Frame((_lone(usual),)), Frame((_lone(sore), rim, skin)))


_STRAIGHT: Bends = (2.0, 3.0, 2.0)
_HOOK: Bends = (8.0, 94.0, 60.0)
_CUT = 76.0
"""How much of the hand is seen below the index's knuckle, mm."""


def _hand(front: Bends, others: Bends) -> HandPose:
    behind = dict.fromkeys(("middle", "ring", "little"), others)
    return HandPose(bends=front, others=behind, arm=_CUT)  # type: ignore[arg-type]


def _whole(pose: HandPose) -> tuple[WholeHand, Drawn]:
    """A hand, and all that its fingers fill, so that no knuckle stands out of the frame."""
    skins = (pose.front, *pose.behind.values())
    filled = tuple(p for skin in skins for p in sample(skin.contour, 3))
    return WholeHand(pose, THUMBS["away"]), Drawn(lambda _: "", filled)


def locked_finger() -> LookPair:
    """One finger stays bent while the others are straight; it springs open with a jerk."""
    sore, usual = _hand((16, 88, 36), _STRAIGHT), _hand(_STRAIGHT, _STRAIGHT)
    spring = arc(sore.front.joints[1], 46, 8, 74)
    return LookPair(Frame(_whole(usual)), Frame((*_whole(sore), spring)))


def stiff_tip() -> LookPair:
    """Fingers hooked: the tip of one stays straight."""
    usual, sore = _hand(_HOOK, _HOOK), _hand((8, 94, 0), _HOOK)
    middle = sore.front.at(3, 0.45 * sore.front.lengths[2], -1.5)
    return LookPair(Frame(_whole(usual)), Frame((*_whole(sore), ring_at(middle, 17.0))))
