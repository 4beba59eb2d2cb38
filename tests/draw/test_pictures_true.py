"""Every picture on paper and on the site shows the place, side, hand and finger that the words beside it are about.

A person who cannot place the word 'pulley' goes by the picture: one of the wrong part sends tape and fingers there.

- place by place: the marked spot, what lies under the skin, places of two faces
- tape: on every finger where the frames say, and which fingers are never drawn
- whole sheets of many cases, with proof that a wrong picture is caught
- pages that are about nobody
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise, product
from typing import Any, get_args

import pytest

from fingerpost.draw.bodies.fingers import lay_fingers
from fingerpost.draw.bodies.hand_crop import HandCrop
from fingerpost.draw.bodies.landmarks import find_mark
from fingerpost.draw.bodies.outline import THUMB_IN
from fingerpost.draw.pens.curves import sample
from fingerpost.draw.picture import draw
from fingerpost.model.case import Anchor, Began, Case
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.shared import Structure, View
from fingerpost.model.times import Day
from fingerpost.model.words import FINGERS, Finger, Hand, Side
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.illustrate import finger_name, hand_pictures, inside_drawing, place_name, side_name
from fingerpost.plan.base.paper import Headline
from fingerpost.plan.base.pictures import HandPicture, InsidePicture, TapingPicture
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.step_pictures import Worn, mistakes_drawing, small_steps, tape_drawing, tape_steps
from fingerpost.plan.base.visible import list_drawings
from fingerpost.plan.injury.page import plan_protocol_page
from fingerpost.plan.leaf import kinds
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.general import plan_general_handout
from fingerpost.plan.pages.shared_pages import plan_tapings
from fingerpost.plan.person import enclosures
from fingerpost.plan.walls.notices import notice_drawing
from fingerpost.reckon.neighbours import choose_buddy, list_neighbours

HANDS: tuple[Hand, ...] = ("left", "right")
SIDES: tuple[Side, ...] = ("radial", "ulnar")
INK = "#0072B2"
ANCHOR = date(2026, 1, 5)
TODAY = date(2026, 11, 25)


@dataclass(frozen=True, kw_only=True)
class Shown:
    """What the pictures must be about."""

    protocol: Protocol
    place: Structure
    hand: Hand
    finger: Finger
    side: Side | None


def list_shown(library: Library) -> Iterator[Shown]:
    """Every place, hand, side and finger of every protocol."""
    anatomy = {s.id: s for s in library.vocabularies.anatomy}
    for document in library.protocols:
        protocol = document.value
        sides: tuple[Side | None, ...] = SIDES if protocol.needs_side else (None,)
        for place, hand, finger, side in product(protocol.places, HANDS, protocol.fingers, sides):
            yield Shown(protocol=protocol, place=anatomy[place], hand=hand, finger=finger, side=side)


def find_untruths(writer: Writer, shown: Shown, drawings: Iterator[Drawing]) -> Iterator[str]:
    """What pictures name or mark that is not what they should be about."""
    for drawing in drawings:
        picture = drawing.picture
        if isinstance(picture, HandPicture):
            yield from _on_the_hand(writer, shown, picture)
        elif isinstance(picture, InsidePicture):
            yield from _under_the_skin(writer, shown, picture)
        elif isinstance(picture, TapingPicture):
            yield from _in_frames(writer, shown, picture)


def _names(writer: Writer, shown: Shown, title: str) -> Iterator[str]:
    other = next(hand for hand in HANDS if hand != shown.hand)
    if shown.hand not in title or other in title:
        yield f"not the {shown.hand} hand: {title}"
    if finger_name(writer, shown.finger) not in title:
        yield f"not the {shown.finger} finger: {title}"


def _side(writer: Writer, shown: Shown, title: str) -> Iterator[str]:
    wrong = [s for s in SIDES if s != shown.side and side_name(writer, s) in title]
    if wrong or (shown.side and side_name(writer, shown.side) not in title):
        yield f"not the side {shown.side}: {title}"


def _on_the_hand(writer: Writer, shown: Shown, picture: HandPicture) -> Iterator[str]:
    yield from _names(writer, shown, picture.title)
    if picture.hand != shown.hand or any(t.finger != shown.finger for t in (*picture.spots, *picture.tapes)):
        yield f"drawn on another hand or finger: {picture.title}"
    for spot in picture.spots:
        yield from _side(writer, shown, picture.title)
        if picture.tapes:  # which side is hurt says which finger it is taped to
            continue
        # The small hand in the headline has no label: the line beside it names the place.
        if shown.place.name not in picture.title or (not picture.ring and shown.place.name not in spot.label):
            yield f"names another place than {shown.place.id}: {picture.title}"
        if (spot.landmark, spot.side, picture.view) != (shown.place.landmark, shown.side, shown.place.view):
            yield f"marks another place than {shown.place.id}: {picture.title}"


def _under_the_skin(writer: Writer, shown: Shown, picture: InsidePicture) -> Iterator[str]:
    at_joint = (
        shown.place.kind == "joint"
    )  # it has a band on each side; of a muscle, the side says in which web it lies
    shown = shown if at_joint or shown.place.inside == "lumbrical" else replace(shown, side=None)
    yield from _names(writer, shown, picture.title)
    yield from _side(writer, shown, picture.title)
    if (picture.hand, picture.finger, picture.side) != (shown.hand, shown.finger, shown.side):
        yield f"drawn on another hand, finger or side: {picture.title}"
    part = f"{shown.place.inside}-side" if at_joint and shown.side else shown.place.inside
    tissue = {s.inside: s.name for s in writer.library.vocabularies.anatomy if s.id in shown.protocol.tissue}
    if picture.hurt != part:
        yield f"marks '{picture.hurt}', not '{part}': {picture.title}"
    name = tissue[part] if at_joint and shown.side else shown.place.name
    if name not in picture.title or name not in picture.hurt_label:
        yield f"names another part than '{name}': {picture.title}"


def _in_frames(writer: Writer, shown: Shown, picture: TapingPicture) -> Iterator[str]:
    yield from _names(writer, shown, picture.title)
    if (picture.hand, picture.finger) != (shown.hand, shown.finger):
        yield f"drawn on another hand or finger: {picture.title}"
    if picture.partner and finger_name(writer, picture.partner) not in picture.title:
        yield f"does not say which finger it goes to: {picture.title}"
    if not any(view in picture.title for view in ("palm up", "from the side", "from the back")):
        yield f"does not say from where it is seen: {picture.title}"
    if len(picture.notes) != len(picture.mistakes) and picture.mistakes:
        yield f"a mistake has no words: {picture.title}"
    if picture.mistakes and ("wrong-finger" in picture.mistakes) != (picture.wrong_partner is not None):
        yield f"a wrong finger without a finger: {picture.title}"
    if picture.wrong_partner:
        if picture.wrong_partner == picture.partner or picture.wrong_partner not in list_neighbours(picture.finger):
            yield f"strikes out the pair that it ticks, or none that can be: {picture.title}"
        said = picture.notes[picture.mistakes.index("wrong-finger")] if picture.mistakes else picture.title
        if finger_name(writer, picture.wrong_partner) not in said:
            yield f"the struck-out finger is not named: {picture.title}"


# ------------------------------------------------------------------ place by place


def test_every_place_of_every_protocol_is_the_one_in_the_pictures(library: Library) -> None:
    seen = 0
    for shown in list_shown(library):
        writer = Writer(library)
        inside = inside_drawing(writer, shown.protocol, shown.place, shown.hand, shown.finger, shown.side)
        hands = hand_pictures(writer, shown.hand, shown.finger, [shown.place], shown.side)
        drawings = [Drawing(name="hand", picture=p, caption=()) for p in hands] + ([inside] if inside else [])
        assert len(hands) == 1
        assert not list(find_untruths(writer, shown, iter(drawings)))
        seen += bool(inside)
    assert seen > 60


def test_every_place_of_every_protocol_is_drawn_under_the_skin(library: Library) -> None:
    """A muscle in the forearm too, and each of the two tendons by itself."""
    kinds = {}
    for shown in list_shown(library):
        drawing = inside_drawing(Writer(library), shown.protocol, shown.place, shown.hand, shown.finger, shown.side)
        assert drawing, shown.place.id
        assert isinstance(drawing.picture, InsidePicture)
        kinds[shown.place.id] = (drawing.picture.kind, drawing.picture.hurt)
    assert len(set(kinds.values())) == len(kinds)
    assert kinds["flexor-muscles"] == ("forearm", "forearm")
    assert kinds["fds-tendon"] != kinds["fdp-tendon"]


def test_a_part_that_no_drawing_shows_is_not_drawn(library: Library) -> None:
    """Better no picture than another part's."""
    protocol = library.protocols[0].value
    parts = [s for s in library.vocabularies.anatomy if s.inside is None]
    assert parts
    assert not any(inside_drawing(Writer(library), protocol, part, "left", "ring") for part in parts)


def ink_of(drawing: Drawing) -> float:
    """How far along the finger the marked part lies: the mean of what is drawn in ink, mm."""
    strokes = re.findall(rf'<path d="([^"]+)"[^>]*(?:stroke|fill)="{INK}"', draw(drawing.picture, prefix="x"))
    numbers = [float(x) for data in strokes for x in re.findall(r"[MLC](-?[\d.]+)", data)]
    return sum(numbers) / len(numbers)


def test_what_is_marked_under_the_skin_lies_where_it_should_along_the_finger(library: Library) -> None:
    """From the palm to the tip: A2, A3 at the middle joint, A4, the end joint. Seen in the drawing itself."""
    found = {s.place.id: s for s in list_shown(library) if s.finger == "middle" and s.hand == "right" and not s.side}
    writer = Writer(library)
    at: list[float] = []
    for place in ("a2-pulley", "a3-pulley", "a4-pulley", "dip-joint"):
        shown = found[place]
        drawing = inside_drawing(writer, shown.protocol, shown.place, shown.hand, shown.finger)
        assert drawing
        at.append(ink_of(drawing))
    assert at == sorted(at)
    assert min(b - a for a, b in pairwise(at)) > 3


def test_the_lumbrical_under_the_skin_is_that_of_the_finger(library: Library) -> None:
    """From the little finger's side to the thumb's, the marked muscles of a right hand lie in the order of fingers."""
    protocol = library.find_protocol("lumbrical-strain")
    assert protocol
    place = next(s for s in library.vocabularies.anatomy if s.id == protocol.places[0])
    for hand, order in (("right", FINGERS[::-1]), ("left", FINGERS)):
        drawings = [inside_drawing(Writer(library), protocol, place, hand, finger) for finger in order]  # type: ignore[arg-type]
        at = [ink_of(d) for d in drawings if d]
        assert len(at) == 4
        assert at == sorted(at)


def test_places_of_two_faces_get_a_picture_each(library: Library) -> None:
    """A place on the other face of the hand must not vanish."""
    places = [next(s for s in library.vocabularies.anatomy if s.view == view) for view in get_args(View)]
    pictures = hand_pictures(Writer(library), "left", "index", [*places, places[0]])
    assert [p.view for p in pictures] == list(get_args(View))
    assert [len(p.spots) for p in pictures] == [2, 1]
    assert all(p.spots[0].label in p.title for p in pictures)


# ------------------------------------------------------------------ tape


def test_tape_goes_where_the_frames_say_on_every_finger(library: Library) -> None:
    writer = Writer(library)
    for shown in list_shown(library):
        for taping in library.vocabularies.tapings:
            if taping.neighbour == "injured-side" and shown.side is None:
                continue
            buddy = choose_buddy(shown.finger, taping.neighbour, shown.side)
            partner = buddy.partner if buddy else None
            side = shown.side if taping.neighbour == "injured-side" else None
            worn = Worn(taping=taping, hand=shown.hand, finger=shown.finger, partner=partner, side=side)
            made = (tape_drawing(writer, worn), tape_steps(writer, worn), mistakes_drawing(writer, worn))
            assert not list(find_untruths(writer, shown, list_drawings((*made, *small_steps(writer, worn)))))


@pytest.mark.parametrize("finger", FINGERS)
def test_no_finger_is_struck_out_beside_one_that_has_a_single_neighbour(finger: Finger, library: Library) -> None:
    taping = next(t for t in library.vocabularies.tapings if t.id == "buddy-injured-side")
    for side in SIDES:
        buddy = choose_buddy(finger, "injured-side", side)
        assert buddy
        worn = Worn(taping=taping, hand="right", finger=finger, partner=buddy.partner, side=side)
        last = mistakes_drawing(Writer(library), worn).picture
        assert isinstance(last, TapingPicture)
        assert ("wrong-finger" in last.mistakes) == (finger in ("middle", "ring"))
        assert ("Not to the " in last.title) == (finger in ("middle", "ring"))


@pytest.mark.parametrize("hand", HANDS)
def test_several_fingers_are_never_drawn_without_the_thumb(hand: Hand) -> None:
    """Without it the index finger of a left hand is the little finger of a right one."""
    crop = HandCrop(hand, 0j, 50.0)
    outline = sample(crop.contour(), 4)
    assert min(abs(point - THUMB_IN[3]) for point in outline) < 0.5
    on_paper = crop.place.points(outline)
    assert all(0 <= p.real <= crop.width and 0 <= p.imag <= crop.height for p in on_paper)
    thumb, little = crop.place.at(THUMB_IN[3]), crop.place.at(crop.fingers["little"].at(20))
    assert (thumb.real > little.real) == (hand == "right")


# ------------------------------------------------------------------ whole sheets


def list_cases(library: Library, base: Case) -> Iterator[tuple[Shown, Case]]:
    """A case for every place, hand, side and finger, in each stage of each grade that gets a home programme."""
    for shown in list_shown(library):
        protocol = shown.protocol
        grades = [g for g in protocol.grades if g.treated_by != "surgeon"]
        fitting = [g.id for g in grades if not g.places or shown.place.id in g.places]
        turn = (FINGERS.index(shown.finger) + HANDS.index(shown.hand)) % len(fitting)
        grade = fitting[turn]
        stages = tuple(s for s in protocol.stages if grade not in s.skipped_by)
        for stage in pick_stages(stages):
            began = stages[: stages.index(stage) + 1]
            yield (
                shown,
                replace(
                    base,
                    protocol=protocol.id,
                    grade=grade,
                    hand=shown.hand,
                    finger=shown.finger,
                    place=shown.place.id,
                    side=shown.side,
                    age_band="under-18" if protocol.people == "under-18" else "adult",
                    doctor_cleared=Day(TODAY.isoformat()) if protocol.stop else None,
                    anchor=Anchor(event="injury", date=Day(ANCHOR.isoformat())),
                    stage=stage.id,
                    began=tuple(
                        Began(stage=s.id, date=Day((ANCHOR + timedelta(days=30 * n)).isoformat()))
                        for n, s in enumerate(began)
                    ),
                    tapings=(),
                    baselines=(),
                    important_dates=(),
                    finger_sizes=(),
                ),
            )


def pick_stages(stages: tuple[Stage, ...]) -> tuple[Stage, ...]:
    """The first stage, and the one with the most kinds of tape."""
    most = max(stages, key=lambda stage: len(stage.taping))
    return (stages[0],) if most is stages[0] else (stages[0], most)


def find_in_sheets(library: Library, base: Case) -> list[str]:
    found: list[str] = []
    for shown, case in list_cases(library, base):
        handout = plan_handout(library, replace(case, enclose=("tape", "about")), TODAY)
        drawings = list(list_drawings(handout))
        heads = [b for leaf in handout.leaves for b in leaf.front.blocks if isinstance(b, Headline)]
        assert all(place_name(Writer(library), shown.place, shown.side) in plain(head.lines[0]) for head in heads)
        assert any(isinstance(d.picture, HandPicture) for d in drawings)
        found += find_untruths(Writer(library), shown, iter(drawings))
    return found


def test_every_sheet_shows_the_case_and_nothing_else(library: Library, cases: dict[str, Case]) -> None:
    assert not find_in_sheets(library, cases["pulley-left-ring"])


def test_a_sheet_that_shows_the_first_tissue_for_every_place_is_caught(
    library: Library, cases: dict[str, Case], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The old mistake: whatever the case, the part under the skin was the first that the protocol is about."""
    anatomy = {s.id: s for s in library.vocabularies.anatomy}

    def first_tissue(writer: Writer, protocol: Protocol, place: Structure, *rest: Any, **more: Any) -> Drawing | None:
        return inside_drawing(writer, protocol, anatomy[protocol.tissue[0]], *rest, **more)

    for module in (kinds, enclosures):
        monkeypatch.setattr(module, "inside_drawing", first_tissue)
    found = find_in_sheets(library, cases["pulley-left-ring"])
    assert any("marks 'a2', not 'a4'" in line for line in found)
    assert any("marks 'pip', not 'dip'" in line for line in found)


def test_a_finger_that_is_always_the_ring_finger_is_caught(library: Library) -> None:
    shown = next(s for s in list_shown(library) if s.place.inside and s.finger == "index")
    writer = Writer(library)
    drawing = inside_drawing(writer, shown.protocol, shown.place, shown.hand, "ring", shown.side)
    assert drawing
    assert len(list(find_untruths(writer, shown, iter([drawing])))) == 2


def test_a_pair_that_is_ticked_and_struck_out_is_caught(library: Library) -> None:
    """The old mistake: an index finger has one neighbour, and its tape was struck out on that one."""
    shown = next(s for s in list_shown(library) if s.side == "radial" and s.finger == "index")
    writer = Writer(library)
    taping = next(t for t in library.vocabularies.tapings if t.id == "buddy-injured-side")
    last = mistakes_drawing(writer, Worn(taping=taping, hand=shown.hand, finger="index", partner="middle"))
    assert isinstance(last.picture, TapingPicture)
    old = replace(
        last.picture,
        mistakes=(*last.picture.mistakes, "wrong-finger"),
        notes=(*last.picture.notes, "Not to the middle finger."),
        wrong_partner="middle",
    )
    found = list(find_untruths(writer, shown, iter([replace(last, picture=old)])))
    assert any("strikes out the pair that it ticks" in line for line in found)


# ------------------------------------------------------------------ pages that are about nobody


def list_fingers(drawings: Iterator[Drawing]) -> Iterator[Finger]:
    for drawing in drawings:
        picture = drawing.picture
        if isinstance(picture, HandPicture):
            yield from (t.finger for t in (*picture.spots, *picture.tapes))
        elif isinstance(picture, InsidePicture | TapingPicture):
            yield picture.finger


PAGES: tuple[Callable[[Library, Protocol], object], ...] = (
    lambda library, protocol: plan_protocol_page(library, protocol.id),
    lambda library, protocol: plan_general_handout(library, protocol.id, "A4"),
    lambda library, protocol: notice_drawing(Writer(library), protocol),
)


def only_for(library: Library, finger: Finger) -> Library:
    """The same collection with protocols for one finger only."""
    protocols = tuple(replace(d, value=replace(d.value, fingers=(finger,))) for d in library.protocols)
    return replace(library, protocols=protocols)


@pytest.mark.parametrize("finger", FINGERS)
def test_a_page_shows_no_finger_that_its_protocol_is_not_for(finger: Finger, library: Library) -> None:
    limited = only_for(library, finger)
    for document in limited.protocols:
        for plan in PAGES:
            shown = list(list_fingers(list_drawings(plan(limited, document.value))))
            assert shown
            assert set(shown) == {finger}
    assert set(list_fingers(list_drawings(plan_tapings(Writer(limited))))) == {finger}


def test_an_injurys_page_shows_each_of_its_places_under_the_skin(library: Library) -> None:
    anatomy = {s.id: s for s in library.vocabularies.anatomy}
    for document in library.protocols:
        protocol = document.value
        drawings = list(list_drawings(plan_protocol_page(library, protocol.id)))
        inside = [d.name for d in drawings if isinstance(d.picture, InsidePicture) and not d.picture.torn]
        assert inside == [f"inside-{place}" for place in protocol.places if anatomy[place].inside]
        marked = [spot.label for d in drawings if isinstance(d.picture, HandPicture) for spot in d.picture.spots]
        assert [label.split(",")[0] for label in marked] == [anatomy[place].name for place in protocol.places]


def test_the_muscle_beside_the_sore_web_is_marked() -> None:
    """Each lumbrical lies on the thumb side of its own finger, so the other web holds that of the next finger.

    Source: general anatomy, from memory.
    """
    fingers = lay_fingers()
    for finger, following in (("index", "middle"), ("middle", "ring"), ("ring", "little")):
        own, other = (find_mark("lumbrical", finger, side, fingers) for side in ("radial", "ulnar"))
        assert own == find_mark("lumbrical", finger, None, fingers) != other
        assert other == find_mark("lumbrical", following, "radial", fingers)


# ------------------------------------------------------------------ torn, where the grade says so


def test_a_pulley_is_drawn_torn_in_the_grade_that_says_so_and_in_no_other(
    library: Library, cases: dict[str, Case]
) -> None:
    """A strain that looks torn frightens, and a tear that looks whole invites to pull on it."""
    seen = set()
    for shown, case in list_cases(library, cases["pulley-left-ring"]):
        for grade in shown.protocol.grades:
            if grade.treated_by == "surgeon" or (grade.places and shown.place.id not in grade.places):
                continue
            stage = next(s for s in shown.protocol.stages if grade.id not in s.skipped_by)
            began = (Began(stage=stage.id, date=Day(ANCHOR.isoformat())),)
            graded = replace(case, grade=grade.id, stage=stage.id, began=began, enclose=("about",))
            drawings = list(list_drawings(plan_handout(library, graded, TODAY)))
            torn = {d.picture.torn for d in drawings if isinstance(d.picture, InsidePicture)}
            assert torn <= {shown.place.id in grade.torn_through}, (shown.protocol.id, grade.id, shown.place.id)
            seen |= {(grade.id, shown.place.id) for is_torn in torn if is_torn}
    assert seen == {("II", "a4-pulley"), ("III", "a2-pulley"), ("III", "a3-pulley")}


def test_the_page_of_an_injury_shows_each_tear_with_its_grade(library: Library) -> None:
    drawings = list(list_drawings(plan_protocol_page(library, "pulley")))
    torn = [d for d in drawings if isinstance(d.picture, InsidePicture) and d.picture.torn]
    assert [d.name for d in torn] == ["torn-a4-pulley", "torn-a2-pulley", "torn-a3-pulley"]
    assert all("torn through" in d.picture.title for d in torn)
