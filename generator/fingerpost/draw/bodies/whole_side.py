"""A whole hand from the thumb's side in any pose: every finger with its own bends, a forearm, a thumb.

`side_hand` ties the fingers to a hold; here they are free, for exercises. The forearm's sizes are drawn by eye.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_hand import KNUCKLES, Thumb, draw_thumb
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.pens.curves import heading, sample
from fingerpost.draw.pens.svg import WHITE, Position
from fingerpost.model.words import Finger

Bends = tuple[float, float, float]
Spots = tuple[complex, complex, complex]
"""The thumb's MCP, IP and tip in the frame of the metacarpals: mm along from the index knuckle, mm to the back."""
BEHIND: tuple[Finger, ...] = ("little", "ring", "middle")
# The forearm beyond the wrist: mm from the MCP joint, to the back, to the palm.
ARM_STATIONS: tuple[tuple[float, float, float], ...] = (
    (-250, 30.0, 42.0), (-215, 28.0, 41.0), (-180, 24.0, 36.0), (-145, 19.5, 28.0), (-118, 17.0, 21.5),
)  # fmt: skip
HAND_LENGTH = 98.0
"""From the MCP joint to the wrist's crease, mm; a pose with less arm is cut through the hand."""


@dataclass(frozen=True)
class ArmPose(SidePose):
    """The front finger with hand and `arm` mm of forearm (measured from the MCP joint)."""

    arm: float = HAND_LENGTH

    def stations(self, segment: int) -> list[tuple[float, float, float]]:
        rows = super().stations(segment)
        if segment or self.wrist is None:
            return rows
        k = self.k
        if self.arm < HAND_LENGTH:
            return [row for row in rows if -row[0] <= self.arm * k]
        return [(a * k, up * k, down * k) for a, up, down in ARM_STATIONS if -a <= self.arm] + rows


@dataclass(frozen=True, kw_only=True)
class HandPose:
    """Bends of all fingers (degrees), `facing`: direction of the metacarpals, `wrist`: its bend to the palm.

    `others`: fingers that are bent otherwise. `fingers`: those that are seen behind the index. `base`: where the
    index's MCP joint lies. `arm`: how much of hand and forearm is drawn, mm.
    """

    bends: Bends
    others: Mapping[Finger, Bends] = field(default_factory=dict)
    facing: float = 90.0
    wrist: float = 0.0
    arm: float = 118.0
    fingers: tuple[Finger, ...] = BEHIND
    base: complex = 0j

    @cached_property
    def front(self) -> ArmPose:
        mcp, pip, dip = self.bends
        return ArmPose(
            mcp, pip, dip, "index", turn=self.facing - mcp, base=self.base, wrist=self.wrist, arm=self.arm
        )  # fmt: skip

    @cached_property
    def behind(self) -> dict[Finger, SidePose]:
        """The other fingers, the farthest first."""
        front, poses = self.front, {}
        for finger in BEHIND:
            mcp, pip, dip = self.others.get(finger, self.bends)
            spot = KNUCKLES[finger] * front.k
            base = front.at(0, spot.real, spot.imag)
            poses[finger] = SidePose(mcp, pip, dip, finger, turn=self.facing - mcp, base=base, behind=True)
        return {finger: pose for finger, pose in poses.items() if finger in self.fingers}

    @cached_property
    def points(self) -> list[complex]:
        """The outer points of hand and fingers, without the thumb."""
        points = sample(self.front.contour, 2)
        for pose in self.behind.values():
            points += sample(pose.back[-9:], 2)
        return points

    def far(self, place: Position, fill: str = WHITE) -> str:
        """The fingers behind the index."""
        return "".join(
            draw_side(pose, place, stump=False, skin_lines=False, fill=fill) for pose in self.behind.values()
        )

    def near(self, place: Position, fill: str = WHITE) -> str:
        """Index, hand, forearm."""
        return draw_side(self.front, place, fill=fill)


THUMBS: dict[str, Spots] = {
    "beside": (-22 - 30j, 8 - 36j, 36 - 33j),
    "away": (-26 - 17j, -2 - 15j, 17 - 11j),
    "over-fist": (-38 - 37j, -15 - 49j, 6 - 45j),
    "open": (-27 - 38j, -2 - 56j, 20 - 68j),
    "under": (-30 - 36j, -10 - 58j, 3 - 78j),
}


def thumb_in(pose: HandPose, spots: Spots) -> Thumb:
    """A thumb with its joints at these places of a hand."""
    front = pose.front
    joints = [front.at(0, p.real * front.k, p.imag * front.k) for p in (-57 - 10j, *spots)]
    heel = front.at(0, -84 * front.k, -17.0 * front.k)
    return Thumb((joints[0], joints[1], joints[2], joints[3]), heel, -heading(front.headings[0] + (front.wrist or 0)))


@dataclass(frozen=True)
class ThumbAlone:
    """The thumb of a hand, to be drawn over what the hand grips."""

    thumb: Thumb
    fill: str = WHITE

    def cover(self, place: Position) -> list[complex]:
        left, right, _ = self.thumb.sides()
        return place.points([*left, *right, self.thumb.heel])

    def draw(self, place: Position) -> str:
        return draw_thumb(self.thumb, place, self.fill)


@dataclass(frozen=True)
class WholeHand:
    """Hand, thumb, and what is held: `held` lies between the far fingers and the near ones."""

    pose: HandPose
    thumb: Spots | None = None
    fill: str = WHITE
    held: Callable[[Position], str] | None = None

    @property
    def thumb_alone(self) -> ThumbAlone | None:
        return ThumbAlone(thumb_in(self.pose, self.thumb), self.fill) if self.thumb else None

    def cover(self, place: Position) -> list[complex]:
        thumb = self.thumb_alone
        return [*place.points(self.pose.points), *(thumb.cover(place) if thumb else ())]

    def draw(self, place: Position) -> str:
        thumb = self.thumb_alone
        held = self.held(place) if self.held else ""
        return "".join(
            [
                self.pose.far(place, self.fill),
                held,
                self.pose.near(place, self.fill),
                thumb.draw(place) if thumb else "",
            ]
        )
