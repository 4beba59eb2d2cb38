"""A way of holding on, with the sign that says whether to use it: GripPicture."""

from __future__ import annotations

from fingerpost.draw.grips.grip_scenes import scene_for
from fingerpost.draw.grips.hold import ABOVE, THICK
from fingerpost.draw.grips.scene import Scene
from fingerpost.draw.grips.small_grip import (
    ABOVE_FINGERS,
    FINGERS_HIGH,
    HIGH,
    MOST_HALF,
    counts_fingers,
    draw_fingers,
    set_small_grip,
)
from fingerpost.draw.pens.labels import around, draw_block, text_box
from fingerpost.draw.pens.letters import block_height, wrap
from fingerpost.draw.pens.marks import draw_sign_and_word, sign_size
from fingerpost.draw.pens.svg import BLACK, MM_PER_PT, Position, chain_data, document, group, path, words
from fingerpost.plan.base.pictures import GripPicture

EDGE = 0.9
ALIKE = (-92.0, -151.0, 16.5, 44.0)
"""Left, low, right, high (hand mm, from the inner corner of the edge): what every picture of an edge shows at least."""


def draw_grip(picture: GripPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    scene, first = _lay(picture)
    if picture.small:
        return document(picture.title, width_mm, HIGH * width_mm, draw_icon(picture, 0j, width_mm, prefix))
    points = first.points(scene.extent())
    corner = scene.corner
    if corner is not None:
        left, low, right, high = ALIKE
        points += first.points([corner + complex(left, low), corner + complex(right, high)])
    box = around(points)
    head, foot = _head_height(picture, width_mm, text_pt), _foot_height(picture, width_mm, text_pt)
    scale = (width_mm - 2 * EDGE) / max(box.right - box.left, 0.72 * (box.bottom - box.top))
    shift = complex((width_mm - scale * (box.right - box.left)) / 2 - scale * box.left, EDGE + head - scale * box.top)
    place = Position(scale=scale, origin=shift, flip=first.flip, turn=first.turn)
    bottom = EDGE + head + scale * (box.bottom - box.top)
    body = [group(scene.draw(place), name=f"{prefix}-grip")]
    if counts_fingers(picture):
        bottom += (FINGERS_HIGH + ABOVE_FINGERS) * MOST_HALF
        fingers = draw_fingers(picture, complex(width_mm / 2, bottom), MOST_HALF)
        body.append(group(fingers, name=f"{prefix}-fingers"))
    if corner is not None and picture.hold == "edge" and not picture.mark:  # else a stage says how deep it must be
        body.append(group(_depth(picture, corner, place, text_pt), name=f"{prefix}-depth"))
    body.append(group(_words(picture, width_mm, bottom, text_pt), name=f"{prefix}-words"))
    return document(picture.title, width_mm, bottom + foot + EDGE, body)


def _lay(picture: GripPicture) -> tuple[Scene, Position]:
    """What is drawn, and how it lies at a scale of 1."""
    scene = scene_for(picture)
    return scene, Position(flip=scene.flip ^ (picture.hand == "right"), turn=scene.turn)


def draw_icon(picture: GripPicture, corner: complex, width_mm: float, prefix: str) -> list[str]:
    """A grip as part of another drawing, HIGH times as high as wide. `corner`: its upper left one."""
    scene, first = _lay(picture)
    return set_small_grip(scene, picture, first, prefix, width_mm, corner)


def _head_height(picture: GripPicture, width: float, size: float) -> float:
    lines = wrap(picture.name, width - 2 * EDGE, size, True)
    return block_height(len(lines), size) + 1.2 if lines else 0.0


def _foot_height(picture: GripPicture, width: float, size: float) -> float:
    return sign_size(picture.word, width - 2 * EDGE, size)[2] + 1.8 if picture.mark else 0.0


def _words(picture: GripPicture, width: float, bottom: float, size: float) -> list[str]:
    """The name above, sign and word below."""
    parts = []
    lines = wrap(picture.name, width - 2 * EDGE, size, True)
    if lines:
        box = text_box(lines, complex(width / 2, EDGE + block_height(len(lines), size) / 2), size, True)
        parts.append(draw_block(lines, box, size, anchor="middle", bold=True))
    if picture.mark:
        wide = sign_size(picture.word, width - 2 * EDGE, size)[1]
        left = max(EDGE, (width - wide) / 2)
        parts.append(draw_sign_and_word(picture.mark, picture.word, left, bottom + 1.6, width - 2 * EDGE, size))
    return parts


def _depth(picture: GripPicture, corner: complex, place: Position, size: float) -> list[str]:
    """How deep the edge is: a measure above the finger tips, against the wall, with its number."""
    level = corner.imag + ABOVE - 3
    a, b = place.at(complex(corner.real - picture.depth_mm, level)), place.at(complex(corner.real, level))
    em = size * MM_PER_PT
    tick = 0.4j * em
    data = chain_data([a - tick, a + tick]) + chain_data([a, b]) + chain_data([b - tick, b + tick])
    end = complex(place.at(complex(corner.real + THICK, level)).real, place.at(corner + ABOVE * 1j).imag - 0.45 * em)
    anchor = "start" if place.flip else "end"
    return [path(data, stroke=BLACK, pen=0.75), words(f"{picture.depth_mm} mm", end, size=size, anchor=anchor)]
