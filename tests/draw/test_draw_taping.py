"""Taping in pictures: one picture a step, with its number and its words; strips by their letters; cloth is no tape."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from for_each import for_each

from fingerpost.draw.hands.bands import CLOTH
from fingerpost.draw.pens.svg import BLACK, GREY, PALE, TINT, WHITE
from fingerpost.draw.picture import draw
from fingerpost.draw.taping.checks_after import colour_sign, take_off_sign
from fingerpost.model.library import Library
from fingerpost.model.words import FINGERS, Finger, Side
from fingerpost.plan.base.pictures import HandPicture, TapingPicture
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.step_pictures import Worn, check_drawing, mistakes_drawing, tape_drawing, tape_steps
from fingerpost.reckon.neighbours import choose_buddy

SVG = "{http://www.w3.org/2000/svg}"


def wear(library: Library, name: str, finger: Finger = "ring", side: Side = "radial") -> Worn:
    taping = next(t for t in library.vocabularies.tapings if t.id == name)
    buddy = choose_buddy(finger, taping.neighbour, side)
    return Worn(taping=taping, hand="left", finger=finger, partner=buddy.partner if buddy else None, side=side)


def test_a_step_has_the_number_and_the_words_of_its_place(library: Library) -> None:
    """A picture more or less than there are steps moves all that follow it below the wrong words."""
    writer = Writer(library)
    for taping in library.vocabularies.tapings:
        buddy = choose_buddy("ring", taping.neighbour, "radial")
        worn = Worn(taping=taping, hand="left", finger="ring", partner=buddy.partner if buddy else None, side="radial")
        drawings = tape_steps(writer, worn).drawings
        assert len(drawings) == len(taping.steps)
        for number, (drawing, step) in enumerate(zip(drawings, taping.steps, strict=True), 1):
            assert isinstance(drawing.picture, TapingPicture)
            assert drawing.picture.draws == step.draws
            assert drawing.picture.title.startswith(f"Step {number}. ")
            assert drawing.caption == writer.words(step.says)


def test_a_strip_is_called_by_its_letter_where_it_is_cut_and_where_it_is_laid(library: Library) -> None:
    writer, strips = Writer(library), ((155, 15, "A"), (140, 15, "B"))
    taping = next(t for t in library.vocabularies.tapings if t.id == "buddy-together")
    worn = Worn(taping=taping, hand="left", finger="ring", partner="middle", strips=strips)
    drawings = {step.draws: d for step, d in zip(taping.steps, tape_steps(writer, worn).drawings, strict=True)}
    assert plain(drawings["near-pair"].caption).startswith("A: ")
    assert plain(drawings["far-pair"].caption).startswith("B: ")
    cut = drawings["cut"].picture
    assert isinstance(cut, TapingPicture)
    assert cut.strips == strips
    assert "A strip A 155 mm long" in cut.title
    words = [node.text for node in ElementTree.fromstring(draw(cut, prefix="t")).iter(f"{SVG}text")]
    assert words == ["A", "15 mm", "155 mm", "B", "15 mm", "140 mm"]


def test_strips_have_their_letters_before_anybody_is_measured(library: Library) -> None:
    """The steps speak of the first and the second strip; a reader finds them again by A and B."""
    steps = tape_steps(Writer(library), wear(library, "buddy-together")).drawings
    cut = next(d.picture for d in steps if isinstance(d.picture, TapingPicture) and d.picture.draws == "cut")
    assert [node.text for node in ElementTree.fromstring(draw(cut, prefix="t")).iter(f"{SVG}text")] == ["A", "B"]


def test_what_is_wrong_is_struck_out_and_still_seen(library: Library) -> None:
    """A sign in the corner was overlooked. The bar goes through the drawing, and the strap lies dark over the bar."""
    for name in ("loops-together", "soft-ring-a2", "soft-ring-a4"):
        svg = draw(mistakes_drawing(Writer(library), wear(library, name)).picture, prefix="t")
        bar, strap = svg.index(f'stroke="{WHITE}"'), svg.rindex(f'fill="{GREY}"')
        assert bar < strap, name
        assert CLOTH not in svg


def test_what_takes_the_place_of_tape_is_drawn_of_cloth(library: Library) -> None:
    """Somebody whose skin does not bear tape must not see tape."""
    writer, known = Writer(library), {t.id: t for t in library.vocabularies.tapings}
    for taping in known.values():
        if taping.without_glue:
            for name, cloth in ((taping.id, False), (taping.without_glue, True)):
                buddy = choose_buddy("ring", known[name].neighbour, "radial")
                partner = buddy.partner if buddy else None
                worn = Worn(taping=known[name], hand="left", finger="ring", partner=partner, side="radial")
                svg = draw(tape_drawing(writer, worn).picture, prefix="t")
                assert (CLOTH in svg) is cloth, name


@for_each("finger", FINGERS)
def test_the_tick_stands_above_the_finger_that_it_is_taped_to(finger: Finger, library: Library) -> None:
    """And the cross above another; where there is one neighbour only, nothing is struck out."""
    for name in ("buddy-injured-side", "buddy-together", "buddy-sore-web"):
        for side in ("radial", "ulnar"):
            worn = wear(library, name, finger, side)  # type: ignore[arg-type]
            picture = tape_steps(Writer(library), worn).drawings[1].picture
            assert isinstance(picture, TapingPicture)
            assert picture.partner == worn.partner
            assert picture.wrong_partner != worn.partner
            assert (picture.wrong_partner is None) == (finger in ("index", "little"))


def test_three_ways_of_joining_two_fingers_look_different(library: Library) -> None:
    """They differ in what is hurt, which is what the eye must meet: a side, a finger, a web of the palm."""
    writer = Writer(library)
    worn = [wear(library, name) for name in ("buddy-injured-side", "buddy-together", "buddy-sore-web")]
    assert len({draw(tape_steps(writer, one).drawings[1].picture, prefix="t") for one in worn}) == 3
    marked = [tape_drawing(writer, one).picture for one in worn]
    assert [isinstance(p, HandPicture) and [s.landmark for s in p.spots] for p in marked] == [
        ["pip"],
        [],
        ["lumbrical"],
    ]


def test_nothing_has_a_tone_where_a_nail_was_let_go(library: Library) -> None:
    """In grey print a tone would be the colour of a finger without blood, which is what the check looks for."""
    fills = re.findall(r'fill="(#[^"]*)"', colour_sign(0j, 6.0))
    assert fills.count(PALE) == 1  # the fingertip that presses
    assert {*fills} == {PALE, WHITE, BLACK}  # and the head of the arrow
    check = check_drawing(Writer(library), wear(library, "buddy-together"))
    assert TINT not in draw(check.picture, prefix="t")


def test_every_taping_has_a_check_that_ends_with_taking_it_off(library: Library) -> None:
    """Tape is cut; what has no glue is pulled off, and scissors there would be a puzzle."""
    for taping in library.vocabularies.tapings:
        svg = draw(check_drawing(Writer(library), wear(library, taping.id)).picture, prefix="t")
        words = " ".join(node.text or "" for node in ElementTree.fromstring(svg).iter(f"{SVG}text"))
        assert "If not, take it off" in " ".join(words.split()), taping.id
    assert take_off_sign(0j, 6.0, cut=True) != take_off_sign(0j, 6.0, cut=False)


def test_the_sore_finger_is_the_tinted_one_in_every_step(library: Library) -> None:
    """The mark of a hurt side lies between two fingers: without the tint the wrong neighbour was taped."""
    for name in ("buddy-injured-side", "buddy-sore-web", "loops-together"):
        worn = wear(library, name)
        for drawing, step in zip(tape_steps(Writer(library), worn).drawings, worn.taping.steps, strict=True):
            if step.draws != "cut":
                assert TINT in draw(drawing.picture, prefix="t"), (name, step.draws)


def test_a_splint_says_which_joint_it_holds_and_which_stay_free(library: Library) -> None:
    last = tape_steps(Writer(library), wear(library, "extension-splint")).drawings[-1]
    words = [node.text for node in ElementTree.fromstring(draw(last.picture, prefix="t")).iter(f"{SVG}text")]
    assert words == ["middle joint: straight", "free to move"]
    assert "knuckle (MCP) and the end joint (DIP) can move" in plain(last.caption)
