"""A way of holding on, 11 to 21 mm wide: without words, all equally high, standing on one ground. mm on paper."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.bodies.side_hand import beside_index
from fingerpost.draw.grips.grip_scenes import Scene
from fingerpost.draw.grips.pocket import PocketView
from fingerpost.draw.pens.curves import sample
from fingerpost.draw.pens.labels import around
from fingerpost.draw.pens.svg import BLACK, FINE, WHITE, Position, disc, document, group
from fingerpost.model.words import FINGERS
from fingerpost.plan.base.pictures import GripPicture

HIGH, EDGE = 1.33, 0.4
"""Height of each picture as a share of its width; free space round it."""
DOT, MOST_DOT, APART, ABOVE_DOTS = 0.075, 1.0, 2.8, 1.0
"""Radius of a dot as a share of the width, at most so many mm; distance of two and space above them, in radii."""


def draw_small_grip(scene: Scene | PocketView, picture: GripPicture, first: Position, prefix: str, width: float) -> str:
    """`first`: how the scene lies, at a scale of 1. A finger that is off the hold shows as an empty dot."""
    dots = picture.hold in ("edge", "pocket") and len(picture.fingers) < len(FINGERS)
    high, dot = HIGH * width, min(MOST_DOT, DOT * width)
    room = high - 2 * EDGE - ((2 + ABOVE_DOTS) * dot if dots else 0.0)
    box = around(first.points(_extent(scene)))
    scale = min((width - 2 * EDGE) / (box.right - box.left), room / (box.bottom - box.top))
    left = width / 2 - scale * (box.left + box.right) / 2
    place = replace(first, scale=scale, origin=complex(left, EDGE + room - scale * box.bottom), fine=True)
    body = [group(scene.draw(place), name=f"{prefix}-grip")]
    if dots:
        body.append(
            group(_dots(len(picture.fingers), complex(width / 2, high - EDGE - dot), dot), name=f"{prefix}-dots")
        )
    return document(picture.title, width, high, body)


def _extent(scene: Scene | PocketView) -> list[complex]:
    """All that is drawn, with the fingers behind the index, whose knuckles may stand higher."""
    points = scene.extent()
    if isinstance(scene, Scene):
        behind = [beside_index(scene.pose, finger) for finger in scene.fingers if finger != "index"]
        points += [point for pose in behind for point in sample(pose.back, 2)]
    return points


def _dots(count: int, middle: complex, dot: float) -> list[str]:
    """A dot for each finger, filled for those on the hold."""
    return [
        disc(middle + APART * (k - 1.5) * dot, dot, fill=BLACK if k < count else WHITE, stroke=BLACK, pen=FINE)
        for k in range(len(FINGERS))
    ]
