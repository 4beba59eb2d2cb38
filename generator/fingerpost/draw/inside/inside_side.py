"""The inside of a finger from the side."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_inside import (
    SKIN_BULGE,
    TENDON,
    Area,
    bones,
    capsule,
    central_slip,
    collateral,
    growth_plate,
    joint_gap,
    pulley,
    surface_tendon_course,
    tendon_course,
    volar_plate,
)  # fmt: skip
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.inside.inside_parts import (
    RING,
    NamedPart,
    Shown,
    draw_area,
    draw_bone,
    draw_cord,
    draw_ring,
    draw_sore,
    draw_stump,
)  # fmt: skip
from fingerpost.draw.pens.curves import heading, normals, offset, sample
from fingerpost.draw.pens.labels import Where
from fingerpost.draw.pens.svg import BAND, BLACK, FINE, INK, TINT, Position, chain_data, path
from fingerpost.model.shared import Inside
from fingerpost.plan.base.pictures import InsidePart, InsidePicture

_PULLEYS: tuple[InsidePart, ...] = ("a1", "a2", "a3", "a4", "a5")
_JOINTS: dict[Inside, int] = {"mcp": 1, "pip": 2, "dip": 3}
_FLANKS: dict[Inside, int] = {"pip-side": 2, "dip-side": 3}
_RINGED: frozenset[Inside] = frozenset(("a1", "a3", "a4", "a5", "growth-plate", "volar-plate"))
"""Parts so small that a ring shows where they are."""
_RIMS: dict[Where, complex] = {"above": RING * 1j, "below": -RING * 1j}
BOTH = 2.6
"""How much farther the first two pulleys reach where both tendons are drawn in them, mm."""


def side_drawing(picture: InsidePicture) -> Shown:
    torn = picture.hurt if picture.torn else ""
    pose = SidePose(
        picture.mcp, picture.pip, picture.dip, picture.finger, bulge=SKIN_BULGE if torn == "a2" else 0.0
    )  # fmt: skip
    course = tendon_course(pose, torn)
    ring = _ring(picture, pose)
    return Shown(
        outline=sample(pose.contour, 2),
        draw=lambda place: _draw(picture, pose, course, place),
        parts=_parts(picture, pose, course),
        beyond=[ring + 1.1 * RING * heading(30 * k) for k in range(12)] if ring else (),
    )


def _middle(area: Area) -> complex:
    return sum(area) / len(area)


def _ring(picture: InsidePicture, pose: SidePose) -> complex | None:
    if picture.hurt not in _RINGED:
        return None
    if picture.hurt == "growth-plate":
        return _middle(growth_plate(pose))
    return _middle(volar_plate(pose) if picture.hurt == "volar-plate" else pulley(pose, picture.hurt))


def _draw(picture: InsidePicture, pose: SidePose, course: list[complex], place: Position) -> list[str]:
    hurt = picture.hurt
    parts = [draw_side(pose, place, skin_lines=False)]
    parts += [draw_bone(shape, place, closed=k > 0) for k, shape in enumerate(bones(pose))]
    if hurt in _JOINTS:
        gap = place.points(joint_gap(pose, _JOINTS[hurt]))
        parts += [draw_sore(capsule(pose, _JOINTS[hurt]), place), path(chain_data(gap), stroke=INK, pen=2.4)]
    parts.append(_slip(pose, place, hurt == "central-slip"))
    if hurt == "growth-plate":
        parts += [draw_area(growth_plate(pose, segment), place, hurt=segment == 2) for segment in (1, 3, 2)]
    if hurt == "sheath":
        parts.append(_sheath(course, place))
    parts += _tendons(picture, pose, course, place)
    if hurt in _FLANKS:
        main, second = collateral(pose, _FLANKS[hurt])
        parts += [draw_area(second, place, hurt=True), draw_area(main, place, hurt=True)]
    if hurt == "volar-plate" and pose.pip <= 45:
        parts.append(draw_area(volar_plate(pose), place, hurt=True))
    ring = _ring(picture, pose)
    return [*parts, draw_ring(ring, place)] if ring else parts


def _tendons(picture: InsidePicture, pose: SidePose, course: list[complex], place: Position) -> list[str]:
    """The tendons and the pulleys over them; of a torn pulley, what is left at the bone."""
    hurt, both = picture.hurt, BOTH if picture.hurt == "surface-tendon" else 0.0
    parts = [draw_cord(course, place, TENDON * pose.k, hurt=hurt == "tendon", taper=12.0 * pose.k)]
    if both:
        parts.append(
            draw_cord(surface_tendon_course(pose), place, 0.85 * TENDON * pose.k, hurt=True, taper=12.0 * pose.k)
        )
    for name in _PULLEYS:
        area = pulley(pose, name, both)
        if name == hurt and picture.torn:
            whole = tendon_course(pose)
            near = min(range(len(whole)), key=lambda k: abs(whole[k] - _middle(area)))
            off = course[near] - whole[near]
            parts.append(draw_stump(area, place, off, fill=INK if name in _RINGED else TINT))
        elif name == hurt and name in _RINGED:
            parts.append(draw_area(area, place, fill=INK))
        else:
            parts.append(draw_area(area, place, hurt=name == hurt, fill=BAND))
    return parts


def _slip(pose: SidePose, place: Position, hurt: bool) -> str:
    return path(chain_data(place.points(central_slip(pose))), stroke=INK if hurt else BLACK, pen=2.6 if hurt else 1.3)


def _sheath(course: list[complex], place: Position) -> str:
    """A tube round the tendon from the palm to the end joint, with short strokes across it."""
    start, stop = int(0.22 * len(course)), int(0.94 * len(course))
    inner = course[start:stop]
    tube = place.points([*offset(inner, 3.1), *offset(inner, -3.1)[::-1]])
    across = normals(inner)
    strokes = [(place.at(p + 3.0 * n), place.at(p - 3.0 * n)) for p, n in list(zip(inner, across, strict=True))[::2]]
    data = "".join(chain_data(pair) for pair in strokes)
    return path(chain_data(tube, True), fill=TINT, stroke=INK, pen=1.5) + path(data, stroke=INK, pen=FINE)


def _parts(picture: InsidePicture, pose: SidePose, course: list[complex]) -> list[NamedPart]:
    """What can be named: bones and back from above, pulleys and tendon from below."""
    hurt = picture.hurt
    parts = [
        NamedPart(name="bone", anchor=pose.at(1, 0.42 * pose.lengths[0], 0.5), where="above"),
        NamedPart(name="central-slip", anchor=central_slip(pose)[6], where="above", hurt=hurt == "central-slip"),
        NamedPart(name="growth-plate", anchor=pose.at(2, 9.0, 1.0), where="above", hurt=hurt == "growth-plate"),
        NamedPart(name="tendon", anchor=course[3], where="below", hurt=hurt == "tendon"),
        NamedPart(name="sheath", anchor=course[int(0.5 * len(course))], where="below", hurt=hurt == "sheath"),
        NamedPart(
            name="volar-plate", anchor=pose.beside(2, -2, -6.0 * pose.k), where="below", hurt=hurt == "volar-plate"
        ),
    ]
    if picture.torn:
        parts.append(NamedPart(name="bowstring", anchor=course[int(0.45 * len(course))], where="below"))
    for name in _PULLEYS:
        parts.append(NamedPart(name=name, anchor=_middle(pulley(pose, name)), where="below", hurt=hurt == name))
    if hurt == "surface-tendon":
        parts.append(NamedPart(name="surface-tendon", anchor=surface_tendon_course(pose)[37], where="below", hurt=True))
    if hurt in _JOINTS:
        shape = capsule(pose, _JOINTS[hurt])
        parts.append(NamedPart(name="joint", anchor=max(shape, key=lambda z: z.imag) - 0.8j, where="above", hurt=True))
    if hurt in _FLANKS:
        main = collateral(pose, _FLANKS[hurt])[0]
        parts.append(NamedPart(name="ligament", anchor=sum(main) / len(main), where="above", hurt=True))
    ring = _ring(picture, pose)
    if ring:  # the words lead to the ring, so that no dot hides what is in it
        parts = [replace(part, anchor=ring + _RIMS[part.where]) if part.hurt else part for part in parts]
    return parts
