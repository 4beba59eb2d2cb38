"""The palm with the deep flexor tendons and the lumbrical muscles between them.

General anatomy, from memory: each lumbrical starts at the deep flexor tendon of its finger and runs to the thumb side
of that finger; those of ring and little finger start with a second head from the neighbouring tendon. When a
neighbour is tucked its tendon moves to the wrist, while that of the straight finger stays: the two heads are pulled
apart.
"""

from __future__ import annotations

from fingerpost.draw.bodies.creases import palm_blades
from fingerpost.draw.bodies.fingers import FingerLine, lay_fingers
from fingerpost.draw.bodies.landmarks import beside_web, lumbrical, palm_tendon
from fingerpost.draw.bodies.outline import Tucked, hand_outline
from fingerpost.draw.bodies.palm_tucked import draw_tucked
from fingerpost.draw.inside.inside_parts import NamedPart, Shown, arrow, draw_area, draw_cord
from fingerpost.draw.pens.blades import draw_blades
from fingerpost.draw.pens.curves import free, sample, spline
from fingerpost.draw.pens.labels import Where
from fingerpost.draw.pens.svg import BLACK, OUTLINE, WHITE, Position, curve_data, path
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.pictures import InsidePicture

_HEADS: dict[Finger, Finger] = {"ring": "middle", "little": "ring"}
"""Fingers whose lumbrical has a second head, and the tendon that it comes from."""


def palm_drawing(picture: InsidePicture) -> Shown:
    tucked: Tucked = frozenset(f for f in FINGERS if picture.tucked and f != picture.finger)
    return Shown(
        outline=sample(hand_outline(tucked=tucked), 2),
        draw=lambda place: _draw(picture, tucked, place),
        parts=_parts(picture),
        flip=picture.hand == "left",
    )


def tendon(line: FingerLine, tucked: bool) -> list[complex]:
    """From the carpal tunnel to the end joint, or to where a tucked finger turns away."""
    stop = 0.55 * line.l1 if tucked else line.l1 + line.l2 + 0.35 * line.l3
    inside = [line.at(stop * share) for share in (1.0, 0.66, 0.33)]
    return sample(spline(free([*inside, *palm_tendon(line)])), 4)


def second_head(finger: Finger) -> tuple[complex, ...]:
    """The head that comes from the neighbouring tendon: a slip to the root of the muscle."""
    fingers = lay_fingers()
    other = palm_tendon(fingers[_HEADS[finger]])[2]
    own = fingers[finger].at(-17, -4.8)
    start = other + (own - other) * 0.08
    middle = (start + own) / 2 + 1.5
    side = (own - start) / abs(own - start) * 1j
    points = [start, middle + 1.9 * side, own + 1.2 * side, own - 1.6 * side, middle - 1.9 * side, start]
    return tuple(sample(spline(free(points)), 4))


def _draw(picture: InsidePicture, tucked: Tucked, place: Position) -> list[str]:
    fingers = lay_fingers()
    outline = curve_data(place.curve(hand_outline(tucked=tucked)))
    parts = [path(outline, fill=WHITE)]
    sore = beside_web(picture.finger, picture.side) if picture.hurt == "lumbrical" else None
    parts += [draw_area(second_head(f), place, hurt=f == sore) for f in _HEADS]
    for finger in FINGERS:
        hurt = picture.hurt == "tendon" and finger == picture.finger
        parts.append(draw_cord(tendon(fingers[finger], finger in tucked), place, 3.0, hurt=hurt))
    parts += [draw_area(lumbrical(fingers[f]), place, hurt=f == sore) for f in FINGERS]
    parts.append(path(outline, stroke=BLACK, pen=OUTLINE))
    parts += [draw_tucked(fingers[finger], place) for finger in FINGERS if finger in tucked]
    if not tucked:
        parts.append(
            draw_blades([b for b in palm_blades(fingers) if len(b.points) == 5 and b.pen < 0.9], place, small=True)
        )
    parts += _arrows(picture, tucked, place)
    return parts


def _arrows(picture: InsidePicture, tucked: Tucked, place: Position) -> list[str]:
    """Which way the tendons go: to the wrist where a finger is tucked, to the tip where it is straight."""
    fingers = lay_fingers()
    parts = []
    for finger in FINGERS:
        if not tucked or (finger not in tucked and finger != picture.finger):
            continue
        root = palm_tendon(fingers[finger])
        low, high = root[3] * 0.35 + root[2] * 0.65, root[1] * 0.35 + root[2] * 0.65
        beside = 4.2 if finger in ("ring", "little") else -4.2
        start, stop = (high, low) if finger in tucked else (low, high)
        parts.append(arrow(start + beside, stop + beside, place, colour=BLACK, pen=1.2))
    return parts


def _parts(picture: InsidePicture) -> list[NamedPart]:
    """The muscle beside the finger, and a tendon: the finger's own where that is hurt, else one of the other side."""
    fingers = lay_fingers()
    near: Where = "right" if picture.finger in ("index", "middle") else "left"
    far: Where = "left" if near == "right" else "right"
    belly = fingers[picture.finger].at(-17, -4.8)
    if picture.hurt == "lumbrical":
        belly = fingers[beside_web(picture.finger, picture.side)].at(-17, -4.8)
        other = palm_tendon(fingers["index" if near == "left" else "ring"])[2]
        return [
            NamedPart(name="lumbrical", anchor=belly, where=near, hurt=True),
            NamedPart(name="palm-tendon", anchor=other, where=far),
        ]
    own = palm_tendon(fingers[picture.finger])[2]
    return [
        NamedPart(name="palm-tendon", anchor=own, where=far, hurt=True),
        NamedPart(name="lumbrical", anchor=belly, where=near),
    ]
