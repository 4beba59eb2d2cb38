"""The inside of a finger from the side."""

from __future__ import annotations

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_inside import (
    BOWSTRING,
    SKIN_BULGE,
    TENDON,
    bones,
    capsule,
    central_slip,
    collateral,
    growth_plate,
    pulley,
    tendon_course,
    volar_plate,
)  # fmt: skip
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.inside.inside_parts import NamedPart, Shown, draw_area, draw_bone, draw_cord, draw_gap
from fingerpost.draw.pens.curves import normals, offset, sample
from fingerpost.draw.pens.svg import BLACK, FINE, INK, TINT, Position, chain_data, path
from fingerpost.model.shared import Inside
from fingerpost.plan.base.pictures import InsidePart, InsidePicture

_PULLEYS: tuple[InsidePart, ...] = ("a1", "a2", "a3", "a4", "a5")
_JOINTS: dict[Inside, int] = {"mcp": 1, "pip": 2, "dip": 3}
_FLANKS: dict[Inside, int] = {"pip-side": 2, "dip-side": 3}


def side_drawing(picture: InsidePicture) -> Shown:
    gone = picture.torn and picture.hurt == "a2"
    pose = SidePose(picture.mcp, picture.pip, picture.dip, picture.finger, bulge=SKIN_BULGE if gone else 0.0)
    course = tendon_course(pose, BOWSTRING if gone else 0.0)
    return Shown(
        outline=sample(pose.contour, 2),
        draw=lambda place: _draw(picture, pose, course, place),
        parts=_parts(picture, pose, course),
    )


def _draw(picture: InsidePicture, pose: SidePose, course: list[complex], place: Position) -> list[str]:
    hurt = picture.hurt
    parts = [draw_side(pose, place, skin_lines=False)]
    if hurt in _JOINTS:
        parts.append(draw_area(capsule(pose, _JOINTS[hurt]), place, hurt=True))
    parts += [draw_bone(shape, place, closed=k > 0) for k, shape in enumerate(bones(pose))]
    parts.append(_slip(pose, place, hurt == "central-slip"))
    if hurt == "growth-plate":
        parts.append(draw_area(growth_plate(pose), place, hurt=True))
    if hurt == "sheath":
        parts.append(_sheath(course, place))
    parts.append(draw_cord(course, place, TENDON * pose.k, hurt=hurt == "tendon"))
    for name in _PULLEYS:
        gone = picture.torn and hurt == name
        area = pulley(pose, name)
        parts.append(draw_gap(area, place) if gone else draw_area(area, place, hurt=hurt == name))
        if gone:
            parts.append(draw_cord(course, place, TENDON * pose.k))
    if hurt in _FLANKS:
        main, second = collateral(pose, _FLANKS[hurt])
        parts += [draw_area(second, place, hurt=True), draw_area(main, place, hurt=True)]
    if hurt == "volar-plate" and pose.pip <= 45:
        parts.append(draw_area(volar_plate(pose), place, hurt=True))
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
        area = pulley(pose, name)
        parts.append(NamedPart(name=name, anchor=sum(area) / len(area), where="below", hurt=hurt == name))
    if hurt in _JOINTS:
        shape = capsule(pose, _JOINTS[hurt])
        parts.append(NamedPart(name="joint", anchor=max(shape, key=lambda z: z.imag) - 0.8j, where="above", hurt=True))
    if hurt in _FLANKS:
        main = collateral(pose, _FLANKS[hurt])[0]
        parts.append(NamedPart(name="ligament", anchor=sum(main) / len(main), where="above", hurt=True))
    return parts
