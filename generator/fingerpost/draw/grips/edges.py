"""Edges, and holds that are taken like one: what touches the rock is the pads, or the thumb against them."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_hand import UPRIGHT, Thumb, beside_index, thumb_opposed, thumb_over
from fingerpost.draw.bodies.whole_side import BEHIND, Bends, HandPose, Spots, thumb_in
from fingerpost.draw.grips.hold import Cut, front_of, ledge_under
from fingerpost.draw.grips.scene import Scene, hanging, soft
from fingerpost.draw.pens.curves import sample
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.pictures import GripPicture

MOST_TILT = 12.0
"""A nearly straight finger hangs with its end segment rising to the wall by up to this many degrees."""
HANGING_FREE: Bends = (48.0, 40.0, 24.0)
"""A finger that is off the hold and not made to bend (by eye)."""
THUMB_OFF: Spots = (-34 - 33j, -19 - 54j, -4 - 70j)
"""The thumb clear of the fingers, below the hold: MCP, IP, tip in the frame of the metacarpals."""
THUMB_LOW: Spots = (-39 - 34j, -28 - 57j, -16 - 76j)
"""The same, and clear of a finger that hangs free."""
THUMB_ROUND: Spots = (-24 - 23j, 4 - 27j, 29 - 24j)
"""The thumb closing round a big hold."""


def free_thumb(pose: SidePose, spots: Spots) -> Thumb:
    """A thumb that holds nothing, by its three joints."""
    whole = HandPose(bends=pose.bends, facing=pose.headings[0], wrist=pose.wrist or 0.0, base=pose.base, arm=98)
    return thumb_in(whole, spots)


def together(pose: SidePose, fingers: tuple[Finger, ...]) -> tuple[SidePose, ...]:
    """The fingers behind the index: on the hold beside it, or hanging free."""
    whole = HandPose(
        bends=HANGING_FREE, facing=pose.headings[0], wrist=pose.wrist or 0.0, base=pose.base
    )  # fmt: skip
    return tuple(beside_index(pose, f) if f in fingers else whole.behind[f] for f in BEHIND)


def edge(picture: GripPicture) -> Scene:
    tilt = max(0.0, min(MOST_TILT, UPRIGHT - 8 - (picture.mcp + picture.pip + picture.dip)))
    pose = hanging(picture.mcp, picture.pip, picture.dip, tilt)
    cut, corner = ledge_under(pose, picture.depth_mm)
    off = THUMB_OFF if len(picture.fingers) == len(FINGERS) else THUMB_LOW
    thumb = thumb_over(pose) if picture.thumb == "over" else free_thumb(pose, off)
    return Scene(pose, together(pose, picture.fingers), thumb, (replace(cut, front=True),), corner)


def jug(picture: GripPicture) -> Scene:
    """A deep bowl behind a thick lip: the fingers close round it."""
    pose = hanging(18, 68, 46, -58)
    pad = [p for run in pose.palm[-2:] for p in sample(run, 3)][2:-4]
    root = pose.at(1, 14, 0)
    inner = [p for p in sample(pose.palm[-3], 3) if p.real > root.real and p.imag > root.imag]
    tip, heel = pose.joints[3], inner[0]
    wall = front_of(pose) + 11
    bowl = (complex(wall, tip.imag + 40), complex(wall - 1, tip.imag + 8), tip + complex(5, -9), tip + complex(-7, -6))
    low = heel.imag - 22
    under = (heel + complex(4, -14), complex((heel.real + wall) / 2, low - 6), complex(wall, low - 16))
    surface = soft([*bowl, *pad[::-3], *inner[::-3], *under])
    shape = (*surface, complex(wall + 12, low - 16), complex(wall + 12, tip.imag + 40))
    cut = Cut(shape, surface, front=True)
    return Scene(pose, together(pose, picture.fingers), free_thumb(pose, THUMB_ROUND), (cut,))


def sloper(picture: GripPicture) -> Scene:
    """A big round of rock without an edge: palm side and pads lie on it."""
    pose = hanging(picture.mcp, picture.pip, picture.dip, 22)
    skin = [p for run in pose.palm for p in sample(run, 3)]
    contact = [p for p in skin if (p - pose.at(1, 20, 0)).imag > 0]
    tip = pose.joints[3]
    wall = tip.real + 30
    low = pose.at(1, -4, -18)
    above = (complex(wall, tip.imag + 14), complex(wall - 14, tip.imag + 8))
    below = (low + 1.5, low + complex(5, -20), low + complex(20, -38), complex(wall + 14, low.imag - 50))
    surface = soft([*above, *contact[::-4], *below])
    shape = (*surface, complex(wall + 14, tip.imag + 14))
    thumb = free_thumb(pose, (-30 - 34j, -6 - 50j, 18 - 58j))
    return Scene(pose, together(pose, picture.fingers), thumb, (Cut(shape, surface, front=True),))


def pinch(picture: GripPicture) -> Scene:
    """From above: a rib of the wall between the pads and the thumb."""
    pose = hanging(picture.mcp, picture.pip, picture.dip, -20, 80)
    start, stop = pose.at(3, 2, -7.4), pose.at(3, 19, -7.4)
    lower, right = stop.imag - 38, front_of(pose) + 15
    left = start.real - 1
    rib = (complex(right, stop.imag + 1), stop, start, complex(left - 3, start.imag - 3), complex(left - 3, lower - 2))
    surface = soft([*rib, complex(left + 1, lower - 4), complex(stop.real, lower), complex(right, lower)])
    thumb = thumb_opposed(pose, complex(stop.real - 3, lower - 1.5), 58)
    return Scene(pose, together(pose, picture.fingers), thumb, (Cut(surface, surface, front=True),))


def undercling(picture: GripPicture) -> Scene:
    """Made lying on its back and turned over: the fingers hook up behind a lip that hangs down."""
    pose = hanging(18, 40, 22, -118, -64)
    pads = [p for run in pose.palm[-2:] for p in sample(run, 4)][3:-4:3]
    tip, lip = pose.joints[3], pads[0]
    wall = max(p.real for p in sample(pose.contour, 2)) + 9
    outer = (
        complex(lip.real - 34, tip.imag - 24),
        complex(lip.real - 33, lip.imag - 20),
        complex(lip.real - 24, lip.imag - 2),
        complex(lip.real - 8, lip.imag + 3),
    )
    inner = (tip + complex(0, -8), tip + complex(12, -8), complex(wall, tip.imag + 8), complex(wall, lip.imag + 34))
    surface = soft([*outer, *pads, *inner])
    shape = (*surface, complex(wall + 13, lip.imag + 34), complex(wall + 13, tip.imag - 24))
    thumb = free_thumb(pose, (-32 - 34j, -8 - 54j, 16 - 64j))
    scene = Scene(pose, together(pose, picture.fingers), thumb, (Cut(shape, surface),))
    return replace(scene, flip=True, turn=-1 + 0j)
