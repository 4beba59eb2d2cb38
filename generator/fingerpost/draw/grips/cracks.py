"""Cracks, cut across and seen along them: fingers, or the whole hand, between two walls."""

from __future__ import annotations

from fingerpost.draw.bodies.whole_side import BEHIND, HandPose, thumb_in
from fingerpost.draw.grips.edges import free_thumb
from fingerpost.draw.grips.hold import Cut, front_of
from fingerpost.draw.grips.scene import Scene
from fingerpost.draw.pens.curves import heading, sample
from fingerpost.draw.props.signs import Arrow, PushArrow
from fingerpost.plan.base.pictures import GripPicture


def finger_crack(picture: GripPicture) -> Scene:
    """The middle joints jam between the walls, and the hand is turned about them."""
    whole = HandPose(bends=(12, 16, 6), facing=22, wrist=-10, arm=98)
    pose = whole.front
    pip = pose.joints[1]
    points = sample(pose.contour, 4)
    low = min(p.imag for p in points if p.real > pip.real - 16) - 0.2
    top = max(p.imag for p in points if abs(p.real - pip.real) < 10) + 0.4
    mouth, right = pip.real - 20, front_of(pose) + 16
    cuts = _walls(mouth, right, top, low)
    behind = tuple(whole.behind[f] for f in BEHIND if f in picture.fingers)
    hollow = (complex(mouth + 2, low), complex(right, low), complex(right, top), complex(mouth + 2, top))
    wrist = pose.at(0, -78, -2)
    return Scene(
        pose, behind, free_thumb(pose, (-34 - 28j, -12 - 46j, 10 - 58j)), cuts, hollow=hollow, turn=1j,
        signs=(twist(wrist, pose.headings[0] + (pose.wrist or 0)),),
    )  # fmt: skip


def twist(middle: complex, along: float) -> Arrow:
    """An arrow round the wrist: the forearm turns about its length."""
    way = heading(along)
    rows = ((9.0, 27.0), (0.0, 21.0), (-7.0, 6.0), (-7.0, -8.0), (0.0, -23.0), (9.0, -28.0))
    return Arrow(tuple(middle + way * complex(a, b) for a, b in rows))


def hand_crack(picture: GripPicture) -> Scene:
    """Knuckles against one wall, fingertips and heel against the other, the thumb pressed into the palm."""
    whole = HandPose(bends=(58, 14, 6), facing=27, wrist=-24, arm=98)
    pose = whole.front
    points = sample(pose.contour, 4) + [p for each in whole.behind.values() for p in sample(each.contour, 4)]
    top = max(p.imag for p in points if -40 < p.real < 40) - 0.4
    low = min(p.imag for p in points if p.real > -60) + 0.6
    mouth, right = -52.0, max(p.real for p in points) + 20
    cuts = _walls(mouth, right, top, low)
    hollow = (complex(mouth + 2, low), complex(right, low), complex(right, top), complex(mouth + 2, top))
    behind = tuple(whole.behind[f] for f in BEHIND)
    thumb = thumb_in(whole, (-30 - 22j, -2 - 26j, 22 - 22j))
    tip = pose.joints[3]
    signs = (PushArrow(complex(12, top), 90), PushArrow(complex(tip.real - 16, low), -90))
    return Scene(pose, behind, thumb, cuts, hollow=hollow, signs=signs if not picture.small else (), turn=1j)


def _walls(mouth: float, right: float, top: float, low: float) -> tuple[Cut, Cut]:
    """Both sides of a crack that opens to the left at x = mouth; its faces at the heights top and low."""
    cuts = []
    for face, out in ((top, 1), (low, -1)):
        rim = (complex(mouth + 3, face), complex(mouth + 0.8, face + out * 0.8), complex(mouth, face + out * 3))
        surface = (complex(right, face), *rim, complex(mouth, face + out * 24))
        cuts.append(Cut((*surface, complex(right, face + out * 24)), surface))
    return cuts[0], cuts[1]
