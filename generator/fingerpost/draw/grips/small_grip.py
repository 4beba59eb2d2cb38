"""A way of holding on, 11 to 21 mm wide: without words, all equally high, standing on one ground. mm on paper."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.grips.scene import Scene
from fingerpost.draw.pens.labels import around
from fingerpost.draw.pens.svg import BLACK, FINE, WHITE, Position, disc, group
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.pictures import GripPicture

HIGH, EDGE = 1.33, 0.4
"""Height of each picture as a share of its width; free space round it."""
DOT, MOST_DOT, APART, ABOVE_DOTS = 0.075, 1.0, 2.8, 1.0
"""Radius of a dot as a share of the width, at most so many mm; distance of two and space above them, in radii."""
_TIPS: dict[Finger, float] = {"index": 0.7, "middle": 1.1, "ring": 0.8, "little": 0.0}
"""How much higher a dot stands than the little finger's, in radii."""
DOTS_HIGH = 2 + max(_TIPS.values())
"""Height of the row of dots, in radii."""


def set_small_grip(
    scene: Scene, picture: GripPicture, first: Position, prefix: str, width: float, corner: complex = 0j
) -> list[str]:  # fmt: skip
    """`first`: how the scene lies, at a scale of 1; `corner`: the upper left one of the picture, in mm.

    A finger that is off the hold shows as an empty dot.
    """
    dots = counts_fingers(picture)
    high, dot = HIGH * width, min(MOST_DOT, DOT * width)
    room = high - 2 * EDGE - ((DOTS_HIGH + ABOVE_DOTS) * dot if dots else 0.0)
    box = around(first.points(scene.extent()))
    scale = min((width - 2 * EDGE) / (box.right - box.left), room / (box.bottom - box.top))
    left = width / 2 - scale * (box.left + box.right) / 2
    place = replace(first, scale=scale, origin=corner + complex(left, EDGE + room - scale * box.bottom), fine=True)
    body = [group(scene.draw(place), name=f"{prefix}-grip")]
    if dots:
        middle = corner + complex(width / 2, high - EDGE - dot)
        body.append(group(draw_dots(picture, middle, dot), name=f"{prefix}-dots"))
    return body


def counts_fingers(picture: GripPicture) -> bool:
    """Whether dots must say which fingers hold: from the side they cannot be counted."""
    return picture.hold in ("edge", "pocket") and len(picture.fingers) < len(FINGERS)


def draw_dots(picture: GripPicture, middle: complex, dot: float) -> list[str]:
    """A dot for each finger as their tips lie on the back of this hand, filled for those on the hold."""
    seen = FINGERS if picture.hand == "right" else FINGERS[::-1]
    return [
        disc(
            middle + (APART * (k - 1.5) - 1j * _TIPS[finger]) * dot, dot,
            fill=BLACK if finger in picture.fingers else WHITE, stroke=BLACK, pen=FINE,
        )
        for k, finger in enumerate(seen)
    ]  # fmt: skip
