"""The open hand in numbers: published proportions, and what tape and marks must not do."""

from __future__ import annotations

import re
from itertools import pairwise, product

import pytest
from for_each import for_each
from geometry import crossings

from fingerpost.draw.bodies.fingers import RELAXED, lay_fingers, spreads_for
from fingerpost.draw.bodies.landmarks import find_mark
from fingerpost.draw.bodies.outline import hand_knots, hand_outline, webs
from fingerpost.draw.bodies.proportions import A2, HAND_BREADTH, HAND_LENGTH, SHAPES
from fingerpost.draw.hands.tape import WEB_FREE, above_webs, lay_tape
from fingerpost.draw.pens.curves import free, hatch, inside, ring, sample, spline
from fingerpost.draw.pens.svg import INK
from fingerpost.draw.picture import draw
from fingerpost.model.library import Library
from fingerpost.model.shared import Landmark
from fingerpost.model.words import FINGERS, Finger, Hand, Side
from fingerpost.plan.base.illustrate import inside_drawing, spot_drawings
from fingerpost.plan.base.pictures import TapeMark
from fingerpost.plan.base.prose import Writer

ALL_LANDMARKS: tuple[Landmark, ...] = Landmark.__args__  # type: ignore[attr-defined]
PAIRS: list[tuple[Finger, Finger]] = list(pairwise(FINGERS))


def test_curve_goes_through_its_points_in_the_given_direction() -> None:
    points = [0j, 10 + 3j, 20 - 2j, 31 + 4j]
    curve = spline([(points[0], 1j), *free(points[1:3]), (points[3], -1j)])
    assert [c[0] for c in curve] + [curve[-1][3]] == pytest.approx(points)
    start, stop = curve[0][1] - curve[0][0], curve[-1][3] - curve[-1][2]
    assert abs(start.real) < 1e-9 < start.imag
    assert abs(stop.real) < 1e-9 < -stop.imag


def test_four_points_of_a_circle_make_a_circle() -> None:
    """Hobby 1986: a circle comes out round to a few thousandths."""
    curve = ring([(1 + 0j, 1j), (1j, None), (-1 + 0j, None), (-1j, None)])
    assert all(abs(abs(p) - 1) < 0.004 for p in sample(curve, 8))


def test_hatching_stays_inside() -> None:
    shape = [0j, 10 + 0j, 10 + 6j, 4 + 2j, 0 + 6j]
    strokes = hatch(shape, 0.7, 30)
    assert len(strokes) > 8
    assert all(inside(a + t * (b - a), shape) for a, b in strokes for t in (0.02, 0.5, 0.98))


def test_hand_length_and_breadth() -> None:
    """185 mm long (men and women of several surveys lie round it), 84 mm broad across the knuckles (drawn by eye)."""
    points = sample(hand_outline(), 8)
    assert max(p.imag for p in points) == pytest.approx(HAND_LENGTH, abs=0.2)
    across = [
        a.real + (72 - a.imag) / (b.imag - a.imag) * (b.real - a.real)
        for a, b in pairwise(points)
        if (a.imag - 72) * (b.imag - 72) < 0
    ]
    assert across[1] - across[0] == pytest.approx(HAND_BREADTH, abs=1.0)


# Buchholz, Armstrong & Goldstein 1992: segment as a share of hand length, between joint centres.
BUCHHOLZ = {
    "index": (0.245, 0.143, 0.097),
    "middle": (0.266, 0.170, 0.108),
    "ring": (0.244, 0.165, 0.107),
    "little": (0.204, 0.117, 0.093),
}


@pytest.mark.parametrize("finger", FINGERS)
def test_proportions_against_buchholz(finger: Finger) -> None:
    """Our joint distances come from another table (X-rays, Buryanov & Kotiuk 2010); the two differ by some per cent."""
    lengths = SHAPES[finger].lengths
    published = [share * HAND_LENGTH for share in BUCHHOLZ[finger]]
    assert sum(lengths) == pytest.approx(sum(published), rel=0.05)
    for ours, theirs in zip(lengths, published, strict=True):
        assert ours == pytest.approx(theirs, rel=0.30)


def test_bones_against_buryanov() -> None:
    """Sums of the three bones: 81.8, 92.3, 88.4, 70.5 mm; hence the published lengths are really in the tables.

    The sums in the source list are of rounded rows; the pulp is not in them.
    """
    sums = [round(sum(SHAPES[finger].bones) + (3.8, 4.0, 4.0, 3.7)[k], 1) for k, finger in enumerate(FINGERS)]
    assert sums == [81.8, 92.3, 88.4, 70.5]


def test_finger_tips_step_down() -> None:
    """The middle finger is the longest; the little one ends about at the ring's last joint (general anatomy)."""
    fingers = lay_fingers()
    tips = {finger: fingers[finger].at(fingers[finger].total).imag for finger in FINGERS}
    assert tips["middle"] > tips["ring"] > tips["index"] > tips["little"]
    ring_dip = fingers["ring"].at(fingers["ring"].l1 + fingers["ring"].l2).imag
    assert tips["little"] == pytest.approx(ring_dip, abs=8)


def test_joints_lie_where_the_lengths_say() -> None:
    for finger, line in lay_fingers().items():
        joints = [line.at(0), line.at(line.l1), line.at(line.l1 + line.l2), line.at(line.total)]
        for (a, b), length in zip(pairwise(joints), SHAPES[finger].lengths, strict=True):
            assert abs(b - a) == pytest.approx(length, abs=0.1)


def test_web_floors() -> None:
    """16 to 24 mm beyond the knuckles (general anatomy; drawn by eye)."""
    fingers = lay_fingers()
    for web, (a, b) in zip(webs(), (("little", "ring"), ("ring", "middle"), ("middle", "index")), strict=True):
        for name in (a, b):
            line = fingers[name]  # type: ignore[index]
            beyond = ((web.floor - line.at(0)) * line.along(0).conjugate()).real
            assert 16 <= beyond <= 24.5 or (name == "ring" and beyond <= 25)


@pytest.mark.parametrize("pair", [(), *PAIRS])
def test_contour_never_crosses_itself(pair: tuple[Finger, ...]) -> None:
    spreads = spreads_for((frozenset(pair),)) if pair else RELAXED
    assert crossings(sample(hand_outline(spreads), 4)) == []


@pytest.mark.parametrize("finger", FINGERS)
def test_tucked_fingers_leave_the_contour_whole(finger: Finger) -> None:
    for tucked in (frozenset((finger,)), frozenset(FINGERS), frozenset(f for f in FINGERS if f != finger)):
        assert crossings(sample(hand_outline(tucked=tucked), 4)) == []


def test_forearm_contour_is_whole() -> None:
    assert crossings(sample(hand_outline(forearm=True), 4)) == []


def test_contour_points_as_a_list() -> None:
    """The first and last of the 117 points, as drawn: a change here changes every hand."""
    knots = hand_knots()
    assert len(knots) == 117
    shown = [f"({p.real:.1f}, {p.imag:.1f})" for p, _ in (*knots[6:10], *knots[-4:])]
    assert " ".join(shown) == (
        "(-47.6, 78.7) (-50.2, 90.2) (-51.7, 96.6) (-53.8, 103.2) (47.0, 19.0) (35.5, 3.0) (30.2, -13.0) (31.5, -36.0)"
    )


@for_each("landmark, finger", product(ALL_LANDMARKS, FINGERS))
def test_every_landmark_lies_on_the_hand(landmark: Landmark, finger: Finger) -> None:
    """Marks lie inside the contour, with a millimetre for the sides of joints (drawn by eye)."""
    fingers = lay_fingers()
    outline = sample(hand_outline(forearm=landmark == "forearm"), 4)
    sides: tuple[Side | None, ...] = ("radial", "ulnar", None) if landmark.endswith("-side") else (None,)
    for side in sides:
        mark = find_mark(landmark, finger, side, fingers)
        assert inside(mark.anchor, outline)
        for area in mark.areas:
            outside = [p for p in area if not inside(p, outline) and min(abs(p - q) for q in outline) > 1.6]
            assert not outside, (landmark, finger, outside[:3])


@pytest.mark.parametrize("finger", FINGERS)
def test_sides_are_on_their_side(finger: Finger) -> None:
    """Radial is the thumb's side: to the right in the frame of a right palm."""
    fingers = lay_fingers()
    for joint in ("mcp-side", "pip-side", "dip-side"):
        radial = find_mark(joint, finger, "radial", fingers).anchor  # type: ignore[arg-type]
        ulnar = find_mark(joint, finger, "ulnar", fingers).anchor  # type: ignore[arg-type]
        assert radial.real > ulnar.real + 8


@pytest.mark.parametrize("finger", FINGERS)
def test_pulleys_keep_their_order(finger: Finger) -> None:
    """A1 over the knuckle, A2 and A4 over bone, A3 and A5 over joints, from palm to tip (general anatomy)."""
    fingers = lay_fingers()
    heights = [find_mark(name, finger, None, fingers).anchor.imag for name in ("a1", "a2", "a3", "a4", "a5")]  # type: ignore[arg-type]
    assert heights == sorted(heights)


@pytest.mark.parametrize("finger", FINGERS)
def test_no_gap_lies_between_the_mark_of_a2_and_its_ring_of_tape(finger: Finger) -> None:
    """The web keeps the ring from the near part of the pulley; it must reach the far part."""
    line = lay_fingers()[finger]
    (ring,) = lay_tape(TapeMark(kind="ring", level="a2", finger=finger), lay_fingers(), RELAXED)
    assert A2[1] * line.l1 >= ring.ends[0] - 0.1
    assert A2[1] - A2[0] > 0.4


@pytest.mark.parametrize("finger", FINGERS)
def test_lumbrical_is_on_the_thumb_side(finger: Finger) -> None:
    """General anatomy: each lumbrical passes to the radial side of its finger."""
    line = lay_fingers()[finger]
    assert find_mark("lumbrical", finger, None, lay_fingers()).anchor.real > line.at(-17).real


@pytest.mark.parametrize("finger", FINGERS)
def test_rings_lie_on_their_segment(finger: Finger) -> None:
    """A ring stays off the joint creases and at least 3 mm beyond the web."""
    line = lay_fingers()[finger]
    (near,) = lay_tape(TapeMark(kind="ring", level="a2", finger=finger), lay_fingers(), RELAXED)
    (far,) = lay_tape(TapeMark(kind="ring", level="a4", finger=finger), lay_fingers(), RELAXED)
    assert above_webs(finger, line, RELAXED) <= near.ends[0] < near.ends[1] <= line.l1 - 3
    assert line.l1 + 3 <= far.ends[0] < far.ends[1] <= line.l1 + line.l2 - 3
    assert near.ends[1] - near.ends[0] >= 8
    for web in webs():
        for point in near.area:
            assert web.above(point) >= WEB_FREE - 0.3 or abs(point - web.floor) > 8


@pytest.mark.parametrize("finger", FINGERS)
def test_h_strip_leaves_the_back_of_the_joint_free(finger: Finger) -> None:
    line = lay_fingers()[finger]
    bridge, near, far = lay_tape(TapeMark(kind="h-strip", level="pip", finger=finger), lay_fingers(), RELAXED)
    assert near.ends[1] < line.l1 - 3
    assert far.ends[0] > line.l1 + 3
    assert far.ends[1] < line.l1 + line.l2 - 2
    assert 9 <= max(p.real for p in bridge.area) - min(p.real for p in bridge.area) <= 14  # bridge 10 mm, Schoeffl 2007


@pytest.mark.parametrize("pair", PAIRS)
def test_buddy_loops_leave_both_joints_free(pair: tuple[Finger, Finger]) -> None:
    spreads = spreads_for((frozenset(pair),))
    fingers = lay_fingers(spreads)
    mark = TapeMark(kind="buddy", level="proximal-and-middle", finger=pair[0], partner=pair[1])
    loops = lay_tape(mark, fingers, spreads)
    assert len(loops) == 2
    for name in pair:
        joint = fingers[name].at(fingers[name].l1)
        assert not any(inside(joint + d, loop.area) for loop in loops for d in (0, 1.5j, -1.5j))
    for line in (fingers[name] for name in pair):
        low, high = (min(abs(p - line.at(line.l1)) for p in loop.area) for loop in loops)
        assert low > 1.5
        assert high > 1.5
    assert {name for name in FINGERS if touches(fingers, name, loops)} == set(pair)


def touches(fingers: dict, name: str, loops: list) -> bool:
    line = fingers[name]
    return any(inside(line.at(a), loop.area) for loop in loops for a in range(int(line.total)))


def find_ink(svg: str) -> float:
    """Where the marked part lies from left to right: the mean of all points drawn in ink, mm."""
    strokes = re.findall(rf'<path d="([^"]+)"[^>]*(?:stroke|fill)="{INK}"', svg)
    numbers = [float(x) for data in strokes for x in re.findall(r"[ML](-?[\d.]+)", data)]
    return sum(numbers) / len(numbers)


@pytest.mark.parametrize("hand", ["left", "right"])
def test_the_sore_side_lies_alike_on_the_hand_and_under_the_skin(hand: Hand, library: Library) -> None:
    """A mark on the other side sends the tape to the wrong neighbour. On the back of a right hand the thumb is left."""
    protocol = library.find_protocol("collateral-sprain")
    assert protocol
    joint = next(a for a in library.vocabularies.anatomy if a.id == protocol.places[0])
    at: dict[Side, list[float]] = {}
    sides: tuple[Side, ...] = ("radial", "ulnar")
    for side in sides:
        inside = inside_drawing(Writer(library), protocol, joint, hand, "middle", side)
        assert inside
        drawings = (*spot_drawings(Writer(library), hand, "middle", [joint], side, "", width_mm=62.0), inside)
        at[side] = [find_ink(draw(d.picture, prefix="x", width_mm=62.0)) for d in drawings]
    thumb_is_left = hand == "right"
    assert [radial < ulnar for radial, ulnar in zip(*at.values(), strict=True)] == [thumb_is_left] * 2
