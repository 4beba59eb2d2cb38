"""What is to be seen in each grip: hand, thumb and hold put together. Which finger lies how is set by the joint
angles; the bodies of holds are drawn by eye."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_hand import (
    UPRIGHT,
    WRIST_BEND,
    Thumb,
    draw_hand_side,
    draw_thumb,
    thumb_along,
    thumb_opposed,
    thumb_over,
)
from fingerpost.draw.grips.hold import Cut, draw_cut, front_of, ledge_under
from fingerpost.draw.pens.curves import free, sample, spline
from fingerpost.draw.pens.svg import Position
from fingerpost.model.shared import Hold
from fingerpost.model.words import Finger
from fingerpost.plan.base.pictures import GripPicture

MOST_TILT = 12.0
"""A nearly straight finger hangs with its end segment rising to the wall by up to this many degrees."""


@dataclass(frozen=True)
class Scene:
    """A hand on a hold. `corner`: the inner corner of an edge. `over`: the picture is turned upside down."""

    pose: SidePose
    fingers: tuple[Finger, ...]
    thumb: Thumb | None
    cuts: tuple[Cut, ...]
    corner: complex | None = None
    over: bool = False

    def extent(self) -> list[complex]:
        points = sample(self.pose.contour, 2)
        for cut in self.cuts:
            points += cut.shape
        if self.thumb:
            left, right, _ = self.thumb.sides()
            points += [*left, *right, self.thumb.joints[3]]
        return points

    def draw(self, place: Position) -> list[str]:
        parts = [draw_cut(cut, place) for cut in self.cuts if not cut.front]
        parts.append(draw_hand_side(self.pose, self.fingers, place))
        parts += [draw_cut(cut, place) for cut in self.cuts if cut.front]
        if self.thumb:
            parts.append(draw_thumb(self.thumb, place))
        return parts


def hanging(mcp: float, pip: float, dip: float, tip: float, forearm: float = UPRIGHT) -> SidePose:
    """The index in a grip, its end segment at `tip` degrees, the forearm as near to `forearm` as the wrist allows."""
    turn = tip + pip + dip
    wrist = max(-WRIST_BEND, min(WRIST_BEND, forearm - (mcp + turn)))
    return SidePose(mcp, pip, dip, "index", turn=turn, wrist=wrist)


def scene_for(picture: GripPicture) -> Scene:
    makers: dict[Hold, Callable[[GripPicture], Scene]] = {
        "edge": _edge, "pocket": _pocket, "sloper": _sloper, "pinch": _pinch, "undercling": _undercling,
        "finger-crack": _finger_crack, "hand-crack": _hand_crack, "jug": _jug,
    }  # fmt: skip
    return makers[picture.hold](picture)


def _edge(picture: GripPicture) -> Scene:
    tilt = max(0.0, min(MOST_TILT, UPRIGHT - 8 - (picture.mcp + picture.pip + picture.dip)))
    pose = hanging(picture.mcp, picture.pip, picture.dip, tilt)
    cut, corner = ledge_under(pose, picture.depth_mm)
    thumb = thumb_over(pose) if picture.thumb == "over" else thumb_along(pose)
    return Scene(pose, picture.fingers, thumb, (replace(cut, front=True),), corner)


def _pocket(picture: GripPicture) -> Scene:
    """The same edge with the upper side of the hole above the finger."""
    scene = _edge(picture)
    corner = scene.corner or 0j
    top = max(point.imag for point in sample(scene.pose.back[-6:], 4)) + 3.0
    roof = complex(corner.real, top)
    lip = roof - picture.depth_mm
    shape = (roof, lip, lip + 22j, roof + 22j + 16, roof + 16)
    upper = Cut(shape, (roof, lip, lip + 22j), front=True)
    cut = scene.cuts[0]
    lower = replace(cut, shape=(*cut.shape[:1], *cut.shape[1:]), surface=cut.surface)
    inner = tuple(p if p.imag < top else complex(p.real, top) for p in lower.shape)
    surface = tuple(p if p.imag < top else complex(p.real, top) for p in lower.surface)
    return replace(scene, cuts=(Cut(inner, surface, front=True), upper))


def _jug(picture: GripPicture) -> Scene:
    pose = hanging(32, 62, 28, -22)
    wall = front_of(pose) + 13
    pad = sample(pose.palm[-1], 4)[2:-4]
    near = [p for run in pose.palm[-2:-1] for p in sample(run, 4)]
    lip = near[2:-1]
    deep = max(pad, key=lambda p: p.real) + complex(3.5, -1)
    low = min(near[2].imag, min(p.imag for p in lip)) - 30
    above = (complex(wall, deep.imag + 34), complex(wall - 1, deep.imag + 10), deep)
    below = (near[2] + complex(0.5, -8), complex(near[2].real + 12, low + 4), complex(wall, low - 4))
    surface = _soft([*above, *pad[::-3], *lip[::-3], *below])
    shape = (*surface, complex(wall + 15, low - 4), complex(wall + 15, deep.imag + 34))
    return Scene(pose, picture.fingers, thumb_along(pose), (Cut(shape, surface, front=True),))


def _sloper(picture: GripPicture) -> Scene:
    pose = hanging(picture.mcp, picture.pip, picture.dip, 8)
    skin = [p for run in pose.palm for p in sample(run, 3)]
    contact = [p for p in skin if (p - pose.at(1, 20, 0)).imag > 0]
    tip = pose.joints[3]
    wall = tip.real + 26
    low = pose.at(1, -4, -18)
    above = (complex(wall, tip.imag + 24), complex(wall - 12, tip.imag + 3))
    surface = _soft([*above, *contact[::-4], low + 1.5, low + complex(10, -26), complex(wall, low.imag - 44)])
    shape = (*surface, complex(wall + 14, low.imag - 44), complex(wall + 14, tip.imag + 24))
    return Scene(pose, picture.fingers, thumb_along(pose, 14), (Cut(shape, surface, front=True),))


def _soft(points: list[complex]) -> tuple[complex, ...]:
    return tuple(sample(spline(free(points)), 6))


def _pinch(picture: GripPicture) -> Scene:
    """From above: a rib of the wall between the pads and the thumb."""
    pose = hanging(picture.mcp, picture.pip, picture.dip, -20, 80)
    start, stop = pose.at(3, 2, -7.4), pose.at(3, 19, -7.4)
    lower, right = stop.imag - 38, front_of(pose) + 15
    left = start.real - 1
    rib = (complex(right, stop.imag + 1), stop, start, complex(left - 3, start.imag - 3), complex(left - 3, lower - 2))
    surface = _soft([*rib, complex(left + 1, lower - 4), complex(stop.real, lower), complex(right, lower)])
    thumb = thumb_opposed(pose, complex(stop.real - 3, lower - 1.5), 58)
    return Scene(pose, picture.fingers, thumb, (Cut(surface, surface, front=True),))


def _undercling(picture: GripPicture) -> Scene:
    """Made lying on its back and turned over by the caller: the fingers hook up behind a lip that hangs down."""
    pose = hanging(22, 34, 18, -96, -30)
    pads = [p for run in pose.palm[-2:] for p in sample(run, 4)][3:-4:3]
    tip, lip = pose.joints[3], pads[0]
    wall = tip.real + 24
    outer = (
        complex(lip.real - 22, tip.imag - 30),
        complex(lip.real - 24, lip.imag - 12),
        complex(lip.real - 12, lip.imag + 1),
    )
    inner = (tip + complex(2, -7), tip + complex(14, -7), complex(wall, tip.imag + 6), complex(wall, lip.imag + 26))
    surface = _soft([*outer, *pads, *inner])
    shape = (*surface, complex(wall + 13, lip.imag + 26), complex(wall + 13, tip.imag - 30))
    return replace(Scene(pose, picture.fingers, thumb_along(pose, 20), (Cut(shape, surface),)), over=True)


def _finger_crack(picture: GripPicture) -> Scene:
    """The crack from above: fingers between two walls, up to the knuckles."""
    pose = SidePose(6, 14, 10, "index", turn=12, wrist=-6)
    inner = [p for p in sample(pose.contour, 3) if p.real > 14]
    top, low = max(p.imag for p in inner) + 0.2, min(p.imag for p in inner) + 0.4
    return Scene(pose, picture.fingers, thumb_along(pose, 40), _walls(12.0, front_of(pose) + 13, top, low))


def _hand_crack(picture: GripPicture) -> Scene:
    """The crack from above: the cupped hand between two walls, the thumb laid into the palm."""
    pose = SidePose(40, 20, 12, "index", turn=-16, wrist=-14)
    points = sample(pose.contour, 3)
    top = max(p.imag for p in points if p.real > -50) + 0.3
    low = min(p.imag for p in points if p.real > -20) - 0.2
    return Scene(pose, picture.fingers, thumb_along(pose, 8), _walls(-66.0, front_of(pose) + 13, top, low))


def _walls(mouth: float, right: float, top: float, low: float) -> tuple[Cut, Cut]:
    """Both sides of a crack that opens to the left at x = mouth; its faces at the heights top and low."""
    cuts = []
    for face, out in ((top, 1), (low, -1)):
        rim = (complex(mouth + 3, face), complex(mouth + 0.8, face + out * 0.8), complex(mouth, face + out * 3))
        surface = (complex(right, face), *rim, complex(mouth, face + out * 24))
        cuts.append(Cut((*surface, complex(right, face + out * 24)), surface))
    return cuts[0], cuts[1]
