"""The small hand beside a leaf's heading: the ring lies round the sore place, on the right finger of the right hand.

Beside it stand only words: whoever cannot place "A3 pulley" puts tape and fingers where the ring is. Where each place
lies is written down here once more, as a part of the finger, so that a landmark drawn elsewhere is found too.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise, product
from xml.etree import ElementTree

import pytest
from for_each import for_each
from site_under_test import whole_library
from sweep.cases import TODAY, Chosen, make_case
from sweep.plant import USUAL

from fingerpost.draw.bodies.fingers import RELAXED, FingerLine, lay_fingers
from fingerpost.draw.bodies.outline import hand_outline
from fingerpost.draw.pens.svg import INK, WHITE
from fingerpost.draw.picture import draw
from fingerpost.model.words import FINGERS, Finger, Hand, Side
from fingerpost.plan.base.pictures import HandPicture
from fingerpost.plan.base.visible import list_drawings
from fingerpost.plan.case.check import find_case_findings
from fingerpost.plan.leaf.handout import plan_handout

SVG = "{http://www.w3.org/2000/svg}"
HANDS: tuple[Hand, ...] = ("left", "right")
SIDES: tuple[Side, ...] = ("radial", "ulnar")
WIDTHS_MM = (22.0, 28.0)
"""At 12 points, and in large print."""

ALONG: dict[str, tuple[int, float, float]] = {
    "a2-pulley": (1, 0.15, 0.6),
    "a3-pulley": (1, 0.92, 1.08),
    "a4-pulley": (2, 0.3, 0.7),
    "pip-joint": (1, 0.9, 1.1),
    "growth-plate": (2, 0.05, 0.45),
    "fds-tendon": (2, 0.2, 0.8),
    "dip-joint": (2, 0.88, 1.12),
    "fdp-tendon": (2, 0.88, 1.12),
}
"""Where the middle of a ring must lie: segment 1, 2 or 3 from the palm, and from which to which share of it."""
LARGE = {"flexor-muscles", "flexor-sheath"}
"""What is so large that it is seen without a ring."""
IN_THE_PALM = "lumbrical-muscle"
"""As long as the widest ring: on some fingers it has one."""


@cache
def list_places() -> tuple[tuple[str, str, Side | None], ...]:
    library = whole_library()
    found = (
        (d.value.id, place, side)
        for d in library.protocols
        for place in d.value.places
        for side in (SIDES if d.value.needs_side else (None,))
    )
    return tuple(found)


def read_leaf_hand(protocol_id: str, place: str, side: Side | None, hand: Hand, finger: Finger) -> HandPicture | None:
    """The picture in the headline of a leaf; None where nobody can be hurt so."""
    library = whole_library()
    protocol = library.find_protocol(protocol_id)
    assert protocol
    grade = next(g.id for g in protocol.grades if not g.places or place in g.places)
    age = "under-18 cleared" if protocol.people == "under-18" else "adult"
    step = (grade, [s.id for s in protocol.stages if grade not in s.skipped_by][1])
    row = {**USUAL, "step": step, "place": place, "side": side, "hand": hand, "finger": finger, "age": age}
    case = replace(make_case(library, Chosen(protocol, row)), enclose=())
    if any(True for _ in find_case_findings(case, library, TODAY)):
        return None
    leaf = plan_handout(library, case, TODAY).leaves[0]
    (picture,) = (d.picture for d in list_drawings(leaf) if d.name == "leaf-where")
    assert isinstance(picture, HandPicture)
    return picture


def points_of(data: str) -> list[complex]:
    return [complex(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", data)]


def find_rings(picture: HandPicture, width_mm: float) -> Iterator[tuple[complex, float]]:
    """(middle, radius) of each ring in mm of the hand, +x to the thumb, read off the finished drawing.

    The drawn outline tells where the hand lies on the paper. A palm up has its thumb on the side of its own hand, so
    a right one on the right; a back the other way round.
    """
    root = ElementTree.fromstring(draw(picture, prefix="t", width_mm=width_mm))
    paths = [node.attrib for node in root.iter(f"{SVG}path")]
    drawn = points_of(next(p["d"] for p in paths if p.get("fill") == WHITE))
    known = [point for cubic in hand_outline(RELAXED, False) for point in cubic]
    thumb_right = (picture.hand == "right") == (picture.view == "palm")
    xs, ys = [p.real for p in drawn], [p.imag for p in drawn]
    own_xs, own_ys = [p.real for p in known], [p.imag for p in known]
    scale = (max(ys) - min(ys)) / (max(own_ys) - min(own_ys))
    for data in (p["d"] for p in paths if p.get("stroke") == INK and "A" in p["d"]):
        left, y, radius = (float(n) for n in re.match(r"M(-?[\d.]+) (-?[\d.]+)A([\d.]+)", data).groups())  # type: ignore[union-attr]
        x = left + radius
        across = min(own_xs) + (x - min(xs)) / scale if thumb_right else min(own_xs) + (max(xs) - x) / scale
        yield complex(across, max(own_ys) - (y - min(ys)) / scale), radius / scale


def _place_on(line: FingerLine, point: complex) -> tuple[float, float]:
    """(length from the knuckle, mm to the ulnar side) of a point beside the line of a finger."""
    lengths = (k / 2 for k in range(-100, int(2 * line.total) + 1))
    at = min(lengths, key=lambda length: abs(line.at(length) - point))
    return at, ((point - line.at(at)) / (1j * line.along(at))).real


def find_strays(picture: HandPicture, place: str, finger: Finger, side: Side | None) -> Iterator[str]:
    """Each way in which the ring does not lie round its place."""
    for width in WIDTHS_MM:
        rings = list(find_rings(picture, width))
        if place in LARGE:
            yield from ("a ring round what is large" for _ in rings)
            continue
        if place == IN_THE_PALM:
            yield from (told for middle, _ in rings for told in _find_stray_web(lay_fingers()[finger], middle, side))
            continue
        if len(rings) != 1:
            yield f"{len(rings)} rings at {width:g} mm"
            continue
        middle, radius = rings[0]
        lines = lay_fingers()
        nearest = min(FINGERS, key=lambda f: abs(_place_on(lines[f], middle)[1]) + 100 * (_is_off(lines[f], middle)))
        if nearest != finger:
            yield f"on the {nearest} finger"
        line, (segment, low, high) = lines[finger], ALONG[place]
        at, ulnar = _place_on(line, middle)
        if not line.from_share(segment, low) <= at <= line.from_share(segment, high):
            yield f"{at:.1f} mm from the knuckle, not within {low} to {high} of segment {segment}"
        half = line.half(at)
        to_side = {"ulnar": ulnar, "radial": -ulnar, None: 0.0}[side]
        if side and not 0.3 * half < to_side < 1.2 * half:
            yield f"not on the {side} side: {ulnar:.1f} mm to the ulnar one"
        if side is None and abs(ulnar) > 0.25 * half:
            yield f"{ulnar:.1f} mm beside the middle of the finger"
        if radius < 1.5:
            yield f"a ring of {radius:.1f} mm holds nothing"


def _find_stray_web(line: FingerLine, middle: complex, side: Side | None) -> Iterator[str]:
    """A muscle of the palm lies beside the root of its finger, in the web on the sore side."""
    at, ulnar = _place_on(line, middle)
    beside = ulnar if side == "ulnar" else -ulnar
    if not (-35 < at < 5 and 1 < beside < 20):
        yield f"{at:.1f} mm from the knuckle and {beside:.1f} mm to the {side} side is not in the web"


def _is_off(line: FingerLine, point: complex) -> bool:
    """Whether a point is beyond the ends of a finger, or beside its skin."""
    at, ulnar = _place_on(line, point)
    return abs(ulnar) > line.half(at) + 1 or abs(line.at(at, ulnar) - point) > 1


@for_each("where", list_places())
def test_the_ring_on_a_leaf_lies_round_the_sore_place(where: tuple[str, str, Side | None]) -> None:
    protocol, place, side = where
    seen = 0
    for hand, finger in product(HANDS, FINGERS):
        picture = read_leaf_hand(protocol, place, side, hand, finger)
        if picture is None:
            continue
        seen += 1
        assert (picture.hand, picture.ring) == (hand, True)
        assert not list(find_strays(picture, place, finger, side)), (hand, finger)
    assert seen >= 6


def test_every_place_that_a_protocol_is_about_is_known_here() -> None:
    assert {place for _, place, _ in list_places()} == {*ALONG, *LARGE, IN_THE_PALM}


def test_the_rings_of_three_pulleys_lie_one_after_the_other() -> None:
    for hand, finger in product(HANDS, FINGERS):
        heights = []
        for place in ("a2-pulley", "a3-pulley", "a4-pulley"):
            picture = read_leaf_hand("pulley", place, None, hand, finger)
            assert picture
            heights += [middle.imag for middle, _ in find_rings(picture, 22.0)]
        assert min(b - a for a, b in pairwise(heights)) > 8, (hand, finger)


@pytest.mark.parametrize(
    ("place", "change", "says"),
    [
        ("a3-pulley", {"landmark": "a2"}, "not within 0.92 to 1.08 of segment 1"),
        ("a3-pulley", {"landmark": "a4"}, "not within 0.92 to 1.08 of segment 1"),
        ("a2-pulley", {"landmark": "a3"}, "not within 0.15 to 0.6 of segment 1"),
        ("a4-pulley", {"landmark": "a3"}, "not within 0.3 to 0.7 of segment 2"),
        ("a3-pulley", {"finger": "middle"}, "on the middle finger"),
        ("a3-pulley", {"landmark": "pip-side", "side": "radial"}, "beside the middle of the finger"),
    ],
)
def test_a_ring_at_another_place_is_found(place: str, change: dict[str, str], says: str) -> None:
    picture = read_leaf_hand("pulley", place, None, "left", "ring")
    assert picture
    spots = tuple(replace(spot, **change) for spot in picture.spots)  # type: ignore[arg-type]
    assert any(says in found for found in find_strays(replace(picture, spots=spots), place, "ring", None))


def test_a_ring_on_the_other_hand_is_found() -> None:
    """Told left and drawn right, the ring of the index finger lies on the little one's side."""
    picture = read_leaf_hand("pulley", "a3-pulley", None, "left", "index")
    assert picture
    (middle, _), *_ = find_rings(picture, 22.0)
    line = lay_fingers()["index"]
    assert abs(_place_on(line, middle)[1]) < 1
    mirrored = complex(-middle.real, middle.imag)
    assert abs(_place_on(line, mirrored)[1]) > 10
