"""A finger joint from the palm side or the back: two bones and a collateral ligament on each flank; one of them is
hurt, or the joint itself.

Shapes of the bone ends (two rounded heads, a base with two shallow cups) and the course of the ligaments are general
anatomy, from memory. Widths follow the finger's own width at the joint.
"""

from __future__ import annotations

from fingerpost.draw.bodies.fingers import FingerLine, lay_fingers
from fingerpost.draw.inside.inside_parts import NamedPart, Shown, draw_area, draw_bone, draw_sore
from fingerpost.draw.pens.curves import Cubic, free, ring, sample, spline
from fingerpost.draw.pens.labels import Where
from fingerpost.draw.pens.svg import BLACK, INK, OUTLINE, WHITE, Position, chain_data, path
from fingerpost.model.shared import Inside
from fingerpost.plan.base.pictures import InsidePart, InsidePicture

_REACH = 21.0
"""mm of finger drawn to each side of a PIP joint; smaller joints are drawn as much smaller."""
# Right half of the near bone's end and of the far bone's base: (mm from the joint, share of the half width).
_HEAD = ((-20.6, 0.46), (-14.0, 0.44), (-8.0, 0.52), (-4.0, 0.68), (-0.6, 0.72), (1.6, 0.55), (2.1, 0.32), (1.0, 0.10))
_BASE = ((3.2, 0.10), (4.0, 0.34), (3.5, 0.60), (4.6, 0.74), (7.4, 0.70), (12.0, 0.46), (20.6, 0.40))
_LIGAMENT = (
    (-5.6, 0.66),
    (-3.2, 0.72),
    (2.0, 0.78),
    (6.8, 0.74),
    (8.6, 0.68),
    (8.0, 0.84),
    (3.0, 0.93),
    (-3.0, 0.90),
    (-6.0, 0.78),
)


_CAPSULE = (
    (-9.0, 0.50), (-5.0, 0.66), (-1.0, 0.72), (3.0, 0.74), (6.5, 0.70), (9.5, 0.50), (10.4, 0.0), (9.5, -0.50),
    (6.5, -0.70), (3.0, -0.74), (-1.0, -0.72), (-5.0, -0.66), (-9.0, -0.50), (-10.0, 0.0),
)  # fmt: skip
_GAP = ((3.0, 0.74), (2.9, 0.40), (2.1, 0.0), (2.9, -0.40), (3.0, -0.74))
"""The joint's sleeve round both bone ends, and the line between their cartilages: mm, share of the half width."""
_WHOLE: frozenset[Inside] = frozenset(("mcp", "pip", "dip"))


def front_drawing(picture: InsidePicture) -> Shown:
    line = lay_fingers()[picture.finger]
    joint = {"dip": line.l1 + line.l2, "mcp": 0.0}.get(picture.hurt.removesuffix("-side"), line.l1)
    return Shown(
        outline=[*_skin(line, joint, 1), *_skin(line, joint, -1)],
        draw=lambda place: _draw(picture, line, joint, place),
        parts=_parts(picture, line, joint),
        tallest=0.72,
        flip=(picture.hand == "left") != (picture.seen_from == "back"),
    )


def _half(line: FingerLine, joint: float) -> float:
    return line.half(joint) if joint > 1 else 9.6


def _size(line: FingerLine, joint: float) -> float:
    """How large a joint is beside the PIP joint of a middle finger."""
    return _half(line, joint) / 10


def _skin(line: FingerLine, joint: float, side: int) -> list[complex]:
    reach = _REACH * _size(line, joint)
    steps = [joint - reach + 2 * reach * k / 8 for k in range(9)]
    return sample(spline(free([line.at(a, side * (line.half(a) if joint > 1 else 10.4)) for a in steps])), 3)


def _mirrored(line: FingerLine, joint: float, rows: tuple[tuple[float, float], ...]) -> list[complex]:
    half, size = _half(line, joint), _size(line, joint)
    right = [line.at(joint + a * size, -share * half) for a, share in rows]
    left = [line.at(joint + a * size, share * half) for a, share in rows]
    return right + left[::-1]


def _bones(line: FingerLine, joint: float) -> tuple[list[Cubic], list[Cubic]]:
    near = spline(free(_mirrored(line, joint, _HEAD)))
    base = _mirrored(line, joint, tuple(reversed(_BASE)))
    return near, spline(free(base))


def ligament(line: FingerLine, joint: float, side: int) -> tuple[complex, ...]:
    """One collateral ligament; `side` +1 is the ulnar one."""
    half, size = _half(line, joint), _size(line, joint)
    points = [line.at(joint + a * size, side * share * half) for a, share in _LIGAMENT]
    return tuple(sample(ring(free(points)), 3))


def _draw(picture: InsidePicture, line: FingerLine, joint: float, place: Position) -> list[str]:
    left, right = (place.points(_skin(line, joint, side)) for side in (1, -1))
    parts = [path(chain_data([*left, *right[::-1]], True), fill=WHITE)]
    parts += [draw_bone(shape, place, closed=False) for shape in _bones(line, joint)]
    for side, name in ((1, "ulnar"), (-1, "radial")):
        parts.append(draw_area(ligament(line, joint, side), place, hurt=_is_hurt(picture, name)))
    if picture.hurt in _WHOLE:
        sleeve, gap = (sample(spline(free(_placed(line, joint, rows))), 4) for rows in (_CAPSULE + _CAPSULE[:1], _GAP))
        parts += [draw_sore(sleeve, place), path(chain_data(place.points(gap)), stroke=INK, pen=2.4)]
    parts += [path(chain_data(edge), stroke=BLACK, pen=OUTLINE) for edge in (left, right)]
    return parts


def _is_hurt(picture: InsidePicture, side: str) -> bool:
    return picture.hurt not in _WHOLE and picture.side in (side, None)


def _placed(line: FingerLine, joint: float, rows: tuple[tuple[float, float], ...]) -> list[complex]:
    half, size = _half(line, joint), _size(line, joint)
    return [line.at(joint + a * size, share * half) for a, share in rows]


def _parts(picture: InsidePicture, line: FingerLine, joint: float) -> list[NamedPart]:
    half = _half(line, joint)
    parts = []
    for sign, name in ((1, "ulnar"), (-1, "radial")):
        hurt = _is_hurt(picture, name)
        where: Where = "left" if sign > 0 else "right"
        label: InsidePart = "ligament" if hurt else "other-ligament"
        parts.append(NamedPart(name=label, anchor=line.at(joint + 1.5, sign * 0.84 * half), where=where, hurt=hurt))
    if picture.hurt in _WHOLE:
        parts.append(NamedPart(name="joint", anchor=line.at(joint + 5.5, -0.3 * half), where="right", hurt=True))
    parts.append(NamedPart(name="bone", anchor=line.at(joint - 15, -0.1 * half), where="right"))
    parts.append(NamedPart(name="little-finger-side", anchor=line.at(joint - 17, 0.98 * half), where="left"))
    parts.append(NamedPart(name="thumb-side", anchor=line.at(joint + 16, -0.98 * half), where="right"))
    return parts
