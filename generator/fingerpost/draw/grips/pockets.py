"""Pockets from the thumb's side: some fingers in the hole, the others before it, open or tucked into the palm."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_hand import UPRIGHT, WRIST_BEND, beside_index
from fingerpost.draw.bodies.whole_side import BEHIND, Bends, HandPose, Spots, thumb_in
from fingerpost.draw.grips.hold import Cut, ledge_under
from fingerpost.draw.grips.scene import Scene
from fingerpost.draw.pens.curves import heading, sample
from fingerpost.model.shared import Neighbours
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.pictures import GripPicture

OUTSIDE: dict[Neighbours, Bends] = {
    "tucked": (70.0, 98.0, 52.0), "free": (34.0, 40.0, 24.0), "together": (34.0, 40.0, 24.0),
}  # fmt: skip
"""Fingers outside of the hole. Tucked ones pull their tendons back, while those in the hole hold theirs out: this
stretches the small muscles of the palm, which hang between two tendons. Open ones do not."""
THUMBS: dict[Neighbours, Spots] = {
    "tucked": (-26 - 17j, -2 - 15j, 17 - 11j), "free": (-39 - 34j, -28 - 57j, -16 - 76j),
    "together": (-39 - 34j, -28 - 57j, -16 - 76j),
}  # fmt: skip
APART = {2: (-4.0 + 10.0j, 8.0), 3: (-2.0 + 3.5j, 2.5), 4: (-1.0 + 3.0j, 2.0)}
"""Where the tip of each next finger in a hole lies from the first one's, and how much less it is bent at the knuckle:
mm, degrees. Seen straight from the side they would hide each other; so two can be told from one."""
SECOND_FOLD = 8.0 + 2.0j
"""The same for the middle finger, where it is outside with the index."""
MOST_DEEP, BELOW = 26.0, 16.0
"""How deep a hole is drawn, and how much rock below it: fingers outside are not hidden by it. mm."""


def pocket(picture: GripPicture) -> Scene:
    used, outside = picture.fingers, OUTSIDE[picture.neighbours]
    into: Bends = (picture.mcp, picture.pip, picture.dip)
    bends: dict[Finger, Bends] = {f: into if f in used else outside for f in FINGERS}
    facing = sum(into) + 4.0
    wrist = max(-WRIST_BEND, min(WRIST_BEND, UPRIGHT - facing))
    whole = HandPose(bends=bends["index"], others=bends, facing=facing, wrist=wrist, arm=98)
    off = "index" not in used
    behind = tuple(whole.behind[f] if off or f not in used else beside_index(whole.front, f) for f in BEHIND)
    posed: dict[Finger, SidePose] = {"index": whole.front, **dict(zip(BEHIND, behind, strict=True))}
    first, *more = (f for f in FINGERS if f in used)
    for step, finger in enumerate(more, 1):
        posed[finger] = _aside(posed[finger], posed[first].joints[3], step, len(used))
    if off and "middle" not in used:
        posed["middle"] = replace(posed["middle"], base=posed["middle"].base + SECOND_FOLD * heading(facing))
    inside = [posed[f] for f in FINGERS if f in used]
    floor, roof, corner = hole_round(inside, min(MOST_DEEP, picture.depth_mm + 4.0))
    others = tuple(posed[f] for f in BEHIND)
    thumb = thumb_in(whole, THUMBS[picture.neighbours])
    hollow = (roof.surface[0], roof.surface[1], floor.surface[-2], floor.surface[1])
    return Scene(whole.front, others, thumb, (floor, roof), corner, off, hollow)


def _aside(pose: SidePose, lead: complex, step: int, count: int) -> SidePose:
    away, more = APART[count][0] * step, APART[count][1] * step
    opened = replace(pose, mcp=pose.mcp - more, dip=pose.dip + more, turn=pose.turn + more)
    return replace(opened, base=opened.base + lead + away - opened.joints[3])


def hole_round(inside: list[SidePose], deep: float) -> tuple[Cut, Cut, complex]:
    """The lower wall of a pocket below the end segments of the fingers in it, the upper one clear of them all."""
    lead = max(inside, key=lambda pose: pose.joints[3].real)
    cut, corner = ledge_under(lead, deep, BELOW)
    lip_x = corner.real - deep - 1
    top = max(p.imag for pose in inside for p in sample(pose.back[-8:], 4) if p.real > lip_x) + 2.0
    shape, surface = (tuple(complex(p.real, min(p.imag, top)) for p in row) for row in (cut.shape, cut.surface))
    roof = complex(corner.real, top)
    lip = roof - deep
    upper = Cut((roof, lip, lip + 22j, roof + 22j + 16, roof + 16), (roof, lip, lip + 22j), front=True)
    return Cut(shape, surface, front=True), upper, corner
