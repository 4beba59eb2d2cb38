"""How an exercise is shown: the frames of a movement as joint angles, things and signs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fingerpost.model.words import Id, Line

Joint = Literal["mcp", "pip", "dip"]
ThumbRest = Literal["beside", "away", "open", "wide", "opposed", "over-fist"]
Under = Literal["table", "towel"]
Force = Literal["lightly"]
"""How hard another hand pushes. No exercise asks for more, so that none can be written or drawn by mistake."""
SceneName = Literal["ball", "band", "push-back", "clasp", "sideways", "pull", "two-finger-pull", "hang", "wrap"]

MovementSign = Literal[
    "moves", "there-and-back", "pushes", "still", "joint", "bend", "fingers", "other-hand", "before", "felt", "look",
    "clock",
]  # fmt: skip
"""What stands in pictures of exercises beside hands and things."""

MOST_FRAMES = 5
DRAWN_FRAMES: dict[SceneName, int] = {
    "clasp": 2, "sideways": 3, "pull": 3, "two-finger-pull": 3, "hang": 2, "wrap": 3,
}  # fmt: skip
"""Scenes that have poses and frames of their own; the others add things to the poses that are written."""

GRIPPED: tuple[SceneName, ...] = ("pull", "two-finger-pull")
"""Scenes that show a hand on its hold."""


@dataclass(frozen=True, kw_only=True)
class OtherHand:
    """The other hand holds a segment (1 at the palm, 2 in the middle) at its flanks, or presses on it with a fingertip.

    `at`: where, in percent of the segment from its near end. `force`: how hard it presses.
    """

    does: Literal["hold", "press"]
    segment: Literal[1, 2]
    at: int
    force: Force | None = None


@dataclass(frozen=True, kw_only=True)
class Turning:
    """An arrow round a joint, `radius` mm from it, from one direction to another in degrees: 0 is to the right and 90
    up where the hand stands upright; where it lies, 0 is to the fingertips and 90 to its back. `back`: and back."""

    about: Joint
    radius: int
    start: int
    stop: int
    back: bool = False


@dataclass(frozen=True, kw_only=True)
class Pose:
    """The joints in degrees, bending positive: of all fingers, or (`alone`) of one, which is seen by itself with the
    palm up.

    `under`: what the hand lies on. `before`: the pose of the frame before it is seen behind it, dashed. `ball`: how
    wide a ball is that is squeezed, in percent of its width at rest. `spot`: a dot on the joint that moves.
    """

    mcp: int
    pip: int
    dip: int
    thumb: ThumbRest | None = None
    alone: bool = False
    under: Under | None = None
    other_hand: OtherHand | None = None
    before: bool = False
    ball: int = 100
    spot: Joint | None = None
    turning: Turning | None = None


@dataclass(frozen=True, kw_only=True)
class MovementFrame:
    """One picture of an exercise. `steps`: the numbers of the steps that it shows; none for the start.

    `shows`: what somebody learns who sees it, beginning with what is otherwise than in the frames beside it. `caption`:
    a few words below it. `held`: what it shows is held as long as the plan says. `pose`: of the hand, unless the scene
    has its own.
    """

    steps: tuple[int, ...]
    caption: Line
    shows: Line
    held: bool = False
    pose: Pose | None = None


@dataclass(frozen=True, kw_only=True)
class Movement:
    """The pictures of an exercise in their order. `scene`: who draws more than a hand: things, a person.

    `grip`: the grip of the hand, whose angles are those of grips.yml. `small`: the number of the frame that stands for
    all where there is room for one.
    """

    scene: SceneName | None = None
    grip: Id | None = None
    small: int
    frames: tuple[MovementFrame, ...]
