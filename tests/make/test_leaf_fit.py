"""A leaf is two sides of paper: what is reckoned in Python is what the print engine sets, and nothing hangs over."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from fontTools.ttLib import TTFont
from leaf_boxes import compare, leaf_alone, list_first_lines, list_reckoned, list_set, print_leaf
from leaf_rows import HIGHER_MM, LOWER, ROWS, USUAL, plan
from pdf_gate.samples import environment
from site_under_test import PROJECT, whole_library
from sweep.cases import TODAY, Chosen, make_case

from fingerpost.make.handout_html import part_blanks, write_html
from fingerpost.make.leaf.art import Studio
from fingerpost.make.leaf.metrics import BOLD_WIDTHS, REGULAR_WIDTHS, count_lines, width_mm
from fingerpost.make.leaf.page import fit
from fingerpost.make.leaf.settings import FRONT_STEPS, Settings
from fingerpost.model.case import Checked, Clinic, ImportantDate
from fingerpost.model.times import Day
from fingerpost.plan.base.paper import Handout, Note, Week
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.problems import MakeError

pytestmark = pytest.mark.rest

FONTS = PROJECT / "site_overrides" / "fonts"


@pytest.mark.parametrize("name", ROWS)
def test_every_part_is_as_high_as_it_was_reckoned(name: str) -> None:
    handout = plan(name)
    document = print_leaf(handout)
    assert len(document.pages) == 2
    heights = compare(list_reckoned(handout), list_set(document))
    assert not [h for h in heights if h.set_mm > h.reckoned_mm + HIGHER_MM]
    assert sum(h.set_mm for h in heights) > (1 - LOWER) * sum(h.reckoned_mm for h in heights)


def test_a_strip_that_is_too_long_for_a_line_is_broken() -> None:
    """A name of 200 letters, or a letterhead of many lines, must not run off the edge of the paper."""
    clinic = Clinic(name="Climbing Clinic Thornmere", lines=("3 Old Quarry Lane",) * 12, phone="555")
    handout = full("growth plate, stop", name="x" * 200, clinic=clinic)
    document = print_leaf(handout)
    heights = compare(list_reckoned(handout), list_set(document))
    strips = [height for height in heights if height.kind == "strip"]
    assert all(h.set_mm > 2 * 12.5 * 25.4 / 72 for h in strips)
    assert not [h for h in heights if h.set_mm > h.reckoned_mm + HIGHER_MM]


def test_a_circle_is_drawn_for_each_time_of_a_day() -> None:
    """A letter so small would be no letter to read; nobody has to hear it, either: the row says how often."""
    handout = plan("collateral, most circles")
    week = next(block for block in handout.leaves[0].front.blocks if isinstance(block, Week))
    often = [row.circles for row in week.rows if row.circles]
    assert often
    assert all(count > 1 for count in often)
    drawn = write_html(environment(), leaf_alone(handout)).count('<span class="circle"></span>')
    assert drawn == sum(often) * len(week.days)


@pytest.mark.parametrize(
    "words", ["{} <strong>Adults:</strong> Go on.", "<strong>{} </strong>Go on.", "{} <a>Go</a> on."]
)
def test_no_line_ends_after_its_first_word(words: str) -> None:
    """Words that fill a line stay on it, wherever what follows is marked: half of the line would be lost."""
    says = "Half crimp on a good edge may feel better than an open hand."
    least = width_mm(says, 12, bold=words.startswith("<strong>"))
    widths = [least + n / 5 for n in range(-5, 20)]
    page = "".join(f"<p style='width:{wide}mm; max-width:none'>{words.format(says)}</p>" for wide in widths)
    found = list_first_lines(part_blanks(f"<html lang='en'><body>{page}</body></html>"))
    assert len(found) == len(widths)
    assert all(line.startswith(says[: len(says) // 2]) for line in found), found


def test_the_widths_are_those_of_the_fonts() -> None:
    """A font that was replaced would set lines longer than they were reckoned."""
    for file, widths in (
        ("AtkinsonHyperlegibleNext-Regular.ttf", REGULAR_WIDTHS),
        ("AtkinsonHyperlegibleNext-Bold.ttf", BOLD_WIDTHS),
    ):
        font, signs = TTFont(FONTS / file), TTFont(FONTS / "FingerpostSigns-Regular.ttf")
        for letter, width in widths.items():
            own = next(f for f in (font, signs) if ord(letter) in f.getBestCmap())
            advance = own["hmtx"][own.getBestCmap()[ord(letter)]][0] * 1000 / own["head"].unitsPerEm
            assert width == round(advance), f"{letter!r} in {file}"


def test_letters_of_another_script_are_taken_for_the_widest() -> None:
    assert width_mm("Ж" * 10, 12) >= width_mm("W" * 10, 12)
    assert count_lines([("Ж" * 100, False)], 100, 12) >= 4


def test_a_word_that_does_not_break_takes_the_lines_that_it_fills() -> None:
    room = width_mm("m" * 10, 12) + 0.01
    assert count_lines([("m" * 25, False)], room, 12) == 3
    assert count_lines([("a b", False)], room, 12) == 1
    assert count_lines([("20\u00a0mm " * 3, False)], width_mm("20\u00a0mm", 12) + 0.01, 12) == 3
    assert count_lines([], room, 12) == 0


def test_a_leaf_with_an_unbreakable_word_still_lies_on_two_pages() -> None:
    handout = plan("pulley on the wall")
    leaf = handout.leaves[0]
    name = "Kraftwerkschaufelradbaggermeister" * 6
    blocks = tuple(
        replace(b, words=(*b.words, replace(b.words[-1], text=f" {name}"))) if isinstance(b, Note) else b
        for b in leaf.front.blocks
    )
    told = replace(handout, leaves=(replace(leaf, front=replace(leaf.front, blocks=blocks)),))
    assert len(print_leaf(told).pages) == 2


def test_nothing_gives_way_where_there_is_room_and_little_where_there_is_not() -> None:
    """A leaf with room keeps its air, and one without keeps what a later step has made room for."""
    roomy, _ = fit(plan("growth plate, stop").leaves[0], "A4", 12, Studio())
    assert roomy.settings.given == ()
    for name in ROWS:
        handout = plan(name)
        for side in fit(handout.leaves[0], handout.paper, 12, Studio()):
            assert side.spare_mm >= 0
    assert [s.given for s in Settings(paper="A4", print_size=12).give(FRONT_STEPS[:2])] == [
        (),
        FRONT_STEPS[:1],
        FRONT_STEPS[:2],
    ]


def test_the_pictures_of_what_is_forbidden_outlive_the_second_lines() -> None:
    assert FRONT_STEPS.index("no-cues") < FRONT_STEPS.index("words-for-no") < FRONT_STEPS.index("no-grip-pictures")


def full(row_name: str, /, **changed: object) -> Handout:
    """A handout with a note that is far too long, and whatever else is changed in its case."""
    protocol, row = ROWS[row_name]
    found = whole_library().find_protocol(protocol)
    assert found
    case = make_case(whole_library(), Chosen(found, {**USUAL, **row}))
    return plan_handout(whole_library(), replace(case, **changed), TODAY)  # type: ignore[arg-type]


def test_a_refusal_names_what_makes_room_in_this_case() -> None:
    """Whoever has written no note must not be told to shorten it."""
    long_note = "Keep it moving and let it rest. " * 120
    days = (ImportantDate(what="Trip", date=Day("2027-01-10")),)
    handout = full("pulley on the wall", note=long_note, important_dates=days)
    with pytest.raises(MakeError) as told:
        fit(handout.leaves[0], "Letter", 12, Studio())
    says = str(told.value)
    assert "horten the note (`note`)" in says
    assert "(`important_dates`)" in says
    assert "(`paper`)" in says
    assert "`tapings`" not in says
    assert "print it larger (14)" in says
    assert "`print_size`" in says


def test_long_names_three_dates_and_a_long_note_go_on_two_pages() -> None:
    note = ("The scan is booked for Monday. Keep the finger moving gently and rest it when it gets sore. " * 5)[:400]
    dates = tuple(
        ImportantDate(what=what, date=Day(day))
        for what, day in (
            ("Climbing trip with friends", "2027-01-04"),
            ("Regional youth contest", "2027-02-03"),
            ("Bouldering league final", "2027-03-14"),
        )
    )
    for name in ("pulley on the wall", "pulley, densest grips", "growth plate, stop"):
        handout = full(
            name,
            name="Bartholomew Featherstonehaugh-Cholmondeley",
            note=note,
            important_dates=dates,
            clinic=Clinic(name="Climbing Clinic Thornmere and Hand Centre", phone="01632 960417"),
            checked=Checked(
                name="Dr Peregrine Ashdown-Mire",
                role="sports doctor and hand therapist",
                date=Day(date(2026, 11, 25).isoformat()),
                stage=ROWS[name][1]["step"][1],  # type: ignore[index]
            ),
        )
        assert len(print_leaf(handout).pages) == 2
