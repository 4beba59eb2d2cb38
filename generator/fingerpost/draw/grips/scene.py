"""What every grip is put together from: fingers far to near, cut rock, a hand, a thumb, signs."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_hand import UPRIGHT, WRIST_BEND, Thumb, draw_thumb
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.grips.hold import Cut, draw_cut
from fingerpost.draw.pens.curves import free, sample, spline
from fingerpost.draw.pens.svg import GREY, Position, chain_data, path
from fingerpost.draw.props.stage import Thing


@dataclass(frozen=True)
class Scene:
    """A hand on a hold, its thumb's side to the viewer.

    `pose`: the index with hand and forearm; `behind`: the other fingers, the farthest first. `off`: the index is not on
    the hold and lies before it. `hollow`: the dark inside of a hole. `corner`: the inner corner of an edge. `flip` and
    `turn`: how the scene is laid on the paper, for a left hand.
    """

    pose: SidePose
    behind: tuple[SidePose, ...]
    thumb: Thumb | None
    cuts: tuple[Cut, ...]
    corner: complex | None = None
    off: bool = False
    hollow: tuple[complex, ...] = ()
    signs: tuple[Thing, ...] = ()
    flip: bool = False
    turn: complex = 1 + 0j

    def extent(self) -> list[complex]:
        """All that is drawn, with the fingers behind the index, whose knuckles may stand higher."""
        points = sample(self.pose.contour, 2)
        for cut in self.cuts:
            points += cut.shape
        for pose in self.behind:
            points += sample(pose.back, 2)
        if self.thumb:
            left, right, _ = self.thumb.sides()
            points += [*left, *right, self.thumb.joints[3]]
        return points

    def draw(self, place: Position) -> list[str]:
        parts = [path(chain_data(place.points(self.hollow), True), fill=GREY)] if self.hollow else []
        parts += [draw_cut(cut, place) for cut in self.cuts if not cut.front]
        parts += [draw_side(pose, place, stump=False) for pose in self.behind]
        front = [draw_cut(cut, place) for cut in self.cuts if cut.front]
        near = [draw_side(self.pose, place)]
        parts += [*front, *near] if self.off else [*near, *front]
        if self.thumb:
            parts.append(draw_thumb(self.thumb, place))
        return parts + [sign.draw(place) for sign in self.signs]


def hanging(mcp: float, pip: float, dip: float, tip: float, forearm: float = UPRIGHT) -> SidePose:
    """The index in a grip, its end segment at `tip` degrees, the forearm as near to `forearm` as the wrist allows."""
    turn = tip + pip + dip
    wrist = max(-WRIST_BEND, min(WRIST_BEND, forearm - (mcp + turn)))
    return SidePose(mcp, pip, dip, "index", turn=turn, wrist=wrist)


def soft(points: list[complex]) -> tuple[complex, ...]:
    """A rounded surface through points."""
    return tuple(sample(spline(free(points)), 6))
