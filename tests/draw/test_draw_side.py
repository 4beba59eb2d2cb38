"""The finger from the side: joints by forward kinematics, contours that stay whole, holds that fit."""

from __future__ import annotations

import re
from itertools import pairwise, product

import pytest
from geometry import angle_between, crossings

from fingerpost.draw.bodies.proportions import SHAPES
from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_hand import THUMB_BONES, beside_index, thumb_over
from fingerpost.draw.bodies.side_inside import BOWSTRING, bones, pulley, surface_tendon_course, tendon_course
from fingerpost.draw.grips.grip_scenes import scene_for
from fingerpost.draw.grips.hold import ledge_under
from fingerpost.draw.inside.inside_parts import draw_cord
from fingerpost.draw.pens.curves import inside, sample
from fingerpost.draw.pens.svg import Position
from fingerpost.draw.picture import draw
from fingerpost.draw.taping.side_tape import list_band_edge
from fingerpost.model.library import Library
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.pictures import GripPicture

GRIPS = {"full crimp": (20, 87, -25), "half crimp": (20, 70, 0), "open hand": (15, 39, 45), "drag": (10, 15, 45)}


def level(mcp: int, pip: int, dip: int, finger: Finger = "middle") -> SidePose:
    """A pose turned so that the end segment lies level, pad down."""
    return SidePose(mcp, pip, dip, finger, turn=pip + dip)


def grip(mcp: int, pip: int, dip: int, **more: object) -> GripPicture:
    return GripPicture(title="t", mcp=mcp, pip=pip, dip=dip, depth_mm=18, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("finger", FINGERS)
@pytest.mark.parametrize("angles", GRIPS.values(), ids=GRIPS)
def test_segments_keep_their_lengths_and_angles(finger: Finger, angles: tuple[int, int, int]) -> None:
    """Bones neither stretch nor shrink in a grip; the bends are those of grips.yml."""
    pose = level(*angles, finger)
    mcp, pip, dip, tip = pose.joints
    assert [abs(pip - mcp), abs(dip - pip), abs(tip - dip)] == pytest.approx(SHAPES[finger].lengths)
    assert angle_between(dip - pip, pip - mcp) == pytest.approx(angles[1])
    assert angle_between(tip - dip, dip - pip) == pytest.approx(angles[2])


def test_angles_of_the_shipped_grips_can_be_drawn(library: Library) -> None:
    """Every grip of grips.yml that has angles makes a hand whose index bends by just these angles."""
    angles = [g.angles for g in library.vocabularies.grips if g.angles]
    assert len(angles) >= 6
    for a in angles:
        scene = scene_for(grip(a.mcp, a.pip, a.dip))
        assert scene.pose.bends == (a.mcp, a.pip, a.dip)


def test_contours_never_cross_themselves() -> None:
    """Over the whole range of a finger, except where the pad truly meets the palm (MCP 90 with PIP 90 and more)."""
    bad = []
    for mcp, pip, dip in product((-10, 20, 55, 90), (0, 25, 50, 75, 90, 105), (-30, 0, 30, 75)):
        pose = SidePose(mcp, pip, dip)
        if crossings(sample(pose.contour, 2)):
            bad.append((mcp, pip, dip))
    assert not [b for b in bad if not (b[0] == 90 and b[1] >= 90)]


@pytest.mark.parametrize("angles", GRIPS.values(), ids=GRIPS)
@pytest.mark.parametrize("depth", [6, 14, 25])
def test_the_ledge_is_as_deep_as_it_says(angles: tuple[int, int, int], depth: int) -> None:
    """Depth to scale; the pad is pressed in by no more than 1.5 mm, and the tip does not enter the wall."""
    pose = level(*angles)
    cut, corner = ledge_under(pose, depth)
    assert corner.real - min(p.real for p in cut.surface) == pytest.approx(depth)
    assert pose.lowest_pad - corner.imag == pytest.approx(-1.2, abs=0.3)
    assert max(p.real for p in sample(pose.contour, 4)) <= corner.real


@pytest.mark.parametrize("angles", GRIPS.values(), ids=GRIPS)
def test_the_other_fingers_share_hold_and_knuckles(angles: tuple[int, int, int]) -> None:
    """Their tips lie beside the index's within 2 mm, their bones keep their lengths, no joint bends the wrong way."""
    front = scene_for(grip(*angles)).pose
    for finger in ("middle", "ring", "little"):
        pose = beside_index(front, finger)  # type: ignore[arg-type]
        assert abs(pose.joints[3] - front.joints[3]) < 4.0
        assert abs(pose.joints[1] - pose.joints[0]) == pytest.approx(SHAPES[finger].lengths[0])  # type: ignore[index]
        assert -1 <= pose.pip <= 110


def test_thumb_over_the_index_in_a_full_crimp() -> None:
    """The thumb's pad lies on the end of the index, not beside it; its bones keep their lengths (drawn by eye)."""
    front = scene_for(grip(20, 87, -25, thumb="over")).pose
    thumb = thumb_over(front)
    _, mcp, ip, tip = thumb.joints
    assert abs(ip - mcp) == pytest.approx(THUMB_BONES[1])
    assert abs(tip - ip) == pytest.approx(THUMB_BONES[2])
    nail = front.at(3, 0.56 * front.lengths[2], 7.0)
    assert abs(tip - nail) < 8


@pytest.mark.parametrize("finger", FINGERS)
@pytest.mark.parametrize("pip", [0, 35, 70])
def test_inside_lies_inside(finger: Finger, pip: int) -> None:
    """Bones, pulleys and tendon lie under the skin (general anatomy, from memory)."""
    pose = SidePose(5, pip, 15, finger)
    skin = sample(pose.contour, 6)
    for shape in bones(pose)[1:]:
        assert all(inside(p, skin) for p in sample(shape, 2))
    for name in ("a1", "a2", "a3", "a4", "a5"):
        assert all(inside(p, skin) for p in pulley(pose, name)), name
    assert all(inside(p, skin) for p in tendon_course(pose)[6:])


@pytest.mark.parametrize("finger", FINGERS)
def test_the_deep_tendon_ends_at_the_base_of_the_end_bone(finger: Finger) -> None:
    """It grows into the palm side of that bone, and thins to its end; a blunt end in the air would look torn off."""
    pose = SidePose(5, 35, 15, finger)
    course = tendon_course(pose)
    bone = sample(bones(pose)[3], 6)
    assert min(abs(course[-1] - p) for p in bone) < 0.7
    assert abs(course[-1] - pose.joints[2]) < 0.5 * pose.lengths[2]
    cord = draw_cord(course, Position(), 3.4, taper=12.0)
    edges = [
        complex(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", cord.split(" d=")[1].split('"')[1])
    ]
    start, end = (
        abs(edges[0] - edges[-1]),
        min(abs(a - b) for a, b in pairwise(edges[len(edges) // 3 : -len(edges) // 3])),
    )
    assert end < 0.2 * start


def test_a_torn_pulley_lets_the_tendon_stand_off() -> None:
    """4.4 mm off the bone without A2 (Schneeberger & Schweizer 2016), about 1 mm with it: 3.4 mm further."""
    whole, torn = SidePose(5, 70, 15), SidePose(5, 70, 15, bulge=2.2)
    most = max(abs(a - b) for a, b in zip(tendon_course(whole), tendon_course(torn, "a2"), strict=True))
    assert most == pytest.approx(BOWSTRING, abs=0.2)
    skin = sample(torn.contour, 6)
    assert all(inside(p, skin) for p in tendon_course(torn, "a2")[6:])


@pytest.mark.parametrize("finger", FINGERS)
@pytest.mark.parametrize("name", ["a1", "a2", "a3", "a4", "a5"])
def test_without_a_pulley_the_tendon_stands_off_there_and_stays_under_the_skin(finger: Finger, name: str) -> None:
    """It moves away from the bone at that pulley, nowhere more than there."""
    pose = SidePose(5, 55, 20, finger, bulge=2.2 if name == "a2" else 0.0)
    off = [abs(a - b) for a, b in zip(tendon_course(pose), tendon_course(pose, name), strict=True)]
    area = pulley(pose, name)
    middle = sum(area) / len(area)
    reach = max(abs(p - middle) for p in area) + 2
    there = [much for p, much in zip(tendon_course(pose), off, strict=True) if abs(p - middle) < reach]
    assert max(there) > 0.97 * max(off) > 1
    assert all(inside(p, sample(pose.contour, 6)) for p in tendon_course(pose, name)[6:])


@pytest.mark.parametrize("finger", FINGERS)
def test_the_surface_tendon_goes_round_the_deep_one_to_the_middle_bone(finger: Finger) -> None:
    """Nearer to the skin in the palm, nearer to the bone from the middle of the first segment on (general anatomy)."""
    pose = SidePose(0, 0, 0, finger)
    deep, surface = tendon_course(pose), surface_tendon_course(pose)

    def height(course: list[complex], x: float) -> float:
        return min(course, key=lambda p: abs(p.real - x)).imag

    first, middle = pose.lengths[0], pose.joints[1].real + 0.4 * pose.lengths[1]
    assert height(surface, -5) < height(deep, -5) - 2
    assert height(surface, 0.9 * first) > height(deep, 0.9 * first) + 1
    assert surface[-1].real == pytest.approx(pose.joints[1].real + 0.48 * pose.lengths[1])
    bone = sample(bones(pose)[2], 16)
    assert min(abs(surface[-1] - p) for p in bone) < 1
    assert height(deep, middle) < height(surface, middle)


def test_tape_from_the_side_clings_to_its_segment() -> None:
    pose = SidePose(10, 45, 15)
    band = list_band_edge(pose, 1, pose.lengths[0] - 13, pose.lengths[0] - 5)
    for point in band:
        along = (point - pose.joints[0]).real
        assert pose.lengths[0] - 13.1 <= along <= pose.lengths[0] - 4.9


def test_all_holds_make_a_scene() -> None:
    for hold in ("edge", "pocket", "sloper", "pinch", "undercling", "finger-crack", "hand-crack", "jug"):
        scene = scene_for(grip(15, 30, 30, hold=hold))
        assert scene.cuts
        assert scene.thumb


@pytest.mark.parametrize("angles", GRIPS.values(), ids=GRIPS)
def test_a_thumb_that_is_off_touches_nothing(angles: tuple[int, int, int]) -> None:
    """Half crimp and full crimp differ by the thumb: off, its end lies on no finger and on no rock."""
    for fingers in (FINGERS, FINGERS[:3]):
        scene = scene_for(grip(*angles, fingers=fingers))
        assert scene.thumb
        left, right, _ = scene.thumb.sides()
        skins = [sample(pose.contour, 4) for pose in (scene.pose, *scene.behind)]
        solid = [*skins, *(cut.shape for cut in scene.cuts)]
        end = [*left[4:], *right[:4], scene.thumb.joints[3]]
        assert not [p for p in end if any(inside(p, shape) for shape in solid)]


@pytest.mark.parametrize("used", [("middle", "ring"), ("index", "middle"), ("ring",)], ids=" ".join)
def test_fingers_outside_of_a_pocket_are_whole(used: tuple[Finger, ...]) -> None:
    """Open or tucked into the palm, they have all their bones and lie outside of the hole; those in it bend as told."""
    bends = {}
    for neighbours in ("free", "tucked"):
        scene = scene_for(grip(15, 15, 40, hold="pocket", fingers=used, neighbours=neighbours))
        lip = scene.cuts[1].surface[1]
        for pose in (scene.pose, *scene.behind):
            mcp, pip, dip, tip = pose.joints
            assert [abs(pip - mcp), abs(dip - pip), abs(tip - dip)] == pytest.approx(SHAPES[pose.finger].lengths)
            _, _, _, tip = pose.joints
            floor = lip.imag - 22
            assert (tip.real > lip.real + 8 and floor < tip.imag < lip.imag) == (pose.finger in used), pose.finger
            bends[neighbours, pose.finger] = pose.bends
    outside = [finger for finger in FINGERS if finger not in used]
    for finger in outside:
        assert sum(bends["tucked", finger]) > sum(bends["free", finger]) + 90
    first = next(finger for finger in FINGERS if finger in used)
    assert bends["free", first] == bends["tucked", first] == (15, 15, 40)


@pytest.mark.parametrize("hold", ["edge", "pocket", "undercling", "finger-crack"])
def test_the_other_hand_is_the_mirror_image(hold: str) -> None:
    """A right hand hangs on a wall to its left; where its contours begin, those of a left one do, mirrored."""
    left, right = (
        starts_of(draw(grip(15, 30, 30, hold=hold, hand=hand, small=True), prefix="t")) for hand in ("left", "right")
    )
    assert len(left) == len(right) > 8
    assert max(abs(complex(11.5 - a.real, a.imag) - b) for a, b in zip(left, right, strict=True)) < 0.03


def starts_of(svg: str) -> list[complex]:
    """Where each contour of curves begins."""
    return [complex(float(x), float(y)) for x, y in re.findall(r"M([\d.-]+) ([\d.-]+)C", svg)]
