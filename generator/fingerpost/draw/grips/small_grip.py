"""A way of holding on, 11 to 21 mm wide: without words, all equally high, standing on one ground. mm on paper."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.grips.scene import Scene
from fingerpost.draw.pens.labels import around
from fingerpost.draw.pens.svg import BLACK, FINE, WHITE, Position, chain_data, group, path
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.pictures import GripPicture

HIGH, EDGE = 1.33, 0.4
"""Height of each picture as a share of its width; free space round it."""
HALF, MOST_HALF, APART, ABOVE_FINGERS = 0.075, 1.0, 2.5, 1.0
"""Half the width of a small finger as a share of the picture's, at most so many mm; from one to the next, and space
above them, in halves."""
_TIPS: dict[Finger, float] = {"index": 0.7, "middle": 1.1, "ring": 0.8, "little": 0.0}
"""How much longer each is than the little finger, in halves."""
FINGERS_HIGH = 2 + max(_TIPS.values())
"""Height of the row, in halves."""


def set_small_grip(
    scene: Scene, picture: GripPicture, first: Position, prefix: str, width: float, corner: complex = 0j
) -> list[str]:  # fmt: skip
    """`first`: how the scene lies, at a scale of 1; `corner`: the upper left one of the picture, in mm.

    A finger that is off the hold shows as a white one below.
    """
    counted = counts_fingers(picture)
    high, half = HIGH * width, min(MOST_HALF, HALF * width)
    room = high - 2 * EDGE - ((FINGERS_HIGH + ABOVE_FINGERS) * half if counted else 0.0)
    box = around(first.points(scene.extent()))
    scale = min((width - 2 * EDGE) / (box.right - box.left), room / (box.bottom - box.top))
    left = width / 2 - scale * (box.left + box.right) / 2
    place = replace(first, scale=scale, origin=corner + complex(left, EDGE + room - scale * box.bottom), fine=True)
    body = [group(scene.draw(place), name=f"{prefix}-grip")]
    if counted:
        fingers = draw_fingers(picture, corner + complex(width / 2, high - EDGE), half)
        body.append(group(fingers, name=f"{prefix}-fingers"))
    return body


def counts_fingers(picture: GripPicture) -> bool:
    """Whether small fingers must say which hold: from the side they cannot be counted."""
    return picture.hold in ("edge", "pocket") and len(picture.fingers) < len(FINGERS)


def draw_fingers(picture: GripPicture, foot: complex, half: float) -> list[str]:
    """A small finger for each as they lie on the back of this hand, black for those on the hold. `half`: its half
    width; `foot`: the middle of the row, at its foot."""
    seen = FINGERS if picture.hand == "right" else FINGERS[::-1]
    found = []
    for k, finger in enumerate(seen):
        middle, top = foot + APART * (k - 1.5) * half, (2 + _TIPS[finger]) * half
        side = [complex(x * half, -y) for x, y in ((-1, 0), (-1, top - 0.8 * half), (-0.6, top - 0.2 * half))]
        shape = [middle + z for z in (*side, complex(0, -top), *(complex(-z.real, z.imag) for z in side[::-1]))]
        fill = BLACK if finger in picture.fingers else WHITE
        found.append(path(chain_data(shape, True), fill=fill, stroke=BLACK, pen=FINE))
    return found
