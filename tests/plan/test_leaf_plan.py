"""What stands on a leaf, in which order, and for whom: planned from cases whose answers stand beside them."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

import pytest
from site_under_test import whole_library
from sweep.cases import TODAY, Chosen, make_case
from sweep.leaves import list_marked_grips

from fingerpost.model.case import Baseline, Case, Clinic, ImportantDate
from fingerpost.model.times import Day
from fingerpost.plan.base.paper import (
    Ahead,
    Headline,
    HelpBox,
    Leaf,
    Note,
    Points,
    Rows,
    Strip,
    TapeHow,
    Ticks,
    Verdict,
    Week,
)
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.visible import list_words
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.person.reasons import list_reasons
from fingerpost.reckon.goal import reckon_goal

USUAL = {
    "finger": "ring", "age": "adult", "hand": "left", "side": None, "allergy": False, "visit": "later",
    "strength": "none", "share": False, "place": "a2-pulley", "step": ("II", "easy-climbing"),
}  # fmt: skip


def case_of(protocol: str = "pulley", **row: object) -> Case:
    found = whole_library().find_protocol(protocol)
    assert found
    return make_case(whole_library(), Chosen(found, {**USUAL, **row}))


def leaf_of(case: Case) -> Leaf:
    return plan_handout(whole_library(), case, TODAY).leaves[0]


def names(blocks: tuple[object, ...]) -> list[str]:
    return [type(b).__name__ for b in blocks]


def one(leaf: Leaf, kind: type) -> object:
    return next(b for b in (*leaf.front.blocks, *leaf.back.blocks, leaf.front.help) if isinstance(b, kind))


def says(part: object) -> str:
    return " ".join(plain(words) for words in list_words(part))


def with_pulls(case: Case, healthy: float, sore: float, grip: str = "open-hand") -> Case:
    """The case with a pull of each hand today, kg."""
    hands = (("left", sore), ("right", healthy))
    found = tuple(
        Baseline(date=Day(TODAY.isoformat()), hand=hand, grip=grip, edge_mm=20, method="pull", kg=(kg,))  # type: ignore[arg-type]
        for hand, kg in hands
    )
    return replace(case, baselines=found)


# ------------------------------------------------------------------ kinds and order


def test_a_follow_up_says_what_may_be_climbed_before_anything_else() -> None:
    leaf = leaf_of(replace(case_of(), note="Well done."))
    assert leaf.kind == "follow-up"
    assert names(leaf.front.blocks)[:5] == ["Strip", "Headline", "Verdict", "GripFields", "Note"]
    assert names(leaf.front.blocks)[-1] == "Week"
    assert names(leaf.back.blocks) == ["Strip", "TapeHow", "Ticks", "Ahead", "Ask"]
    assert isinstance(leaf.front.help, HelpBox)
    assert leaf.back.help is None


def test_a_first_visit_tells_the_next_days_before_what_is_hurt() -> None:
    leaf = leaf_of(case_of(step=("II", "settle"), visit="first"))
    assert leaf.kind == "first-visit"
    headings = [b.heading for b in leaf.front.blocks if isinstance(b, Points)]
    assert headings == ["Until your next visit", "What is hurt"]
    assert any(isinstance(b, Points) and b.heading == "Questions to ask" for b in leaf.back.blocks)


def test_a_stop_has_no_plan_no_tape_no_gate_and_no_date() -> None:
    leaf = leaf_of(case_of("growth-plate", step=("any", "stop"), place="growth-plate", age="under-18"))
    assert leaf.kind == "stop"
    every = (*leaf.front.blocks, *leaf.back.blocks)
    assert not any(isinstance(b, Week | TapeHow | Ticks | Ahead) for b in every)
    assert one(leaf, Verdict).halt  # type: ignore[attr-defined]
    assert any(isinstance(b, Rows) and b.heading == "See this doctor" for b in every)


def test_a_surgeon_s_grade_stops_and_names_the_surgeon() -> None:
    leaf = leaf_of(case_of(step=("IV", "settle"), visit="first"))
    assert leaf.kind == "stop"
    assert "surgeon" in says(one(leaf, Verdict))
    assert "Grade IV" in says(leaf.back)


def test_under_18_with_a_sore_joint_stops_and_once_cleared_does_not() -> None:
    row = {"protocol": "joint-irritation", "step": ("any", "easy-climbing"), "place": "dip-joint"}
    assert leaf_of(case_of(**row, age="under-18")).kind == "stop"  # type: ignore[arg-type]
    cleared = leaf_of(case_of(**row, age="under-18 cleared"))  # type: ignore[arg-type]
    assert cleared.kind == "follow-up"
    assert "A doctor cleared this finger on" in says(one(cleared, Headline))
    marks = list_marked_grips(cleared, ["Full crimp"])
    assert marks["Full crimp"] == "leave"


def test_a_leaf_that_nobody_has_checked_says_so_on_both_sides() -> None:
    leaf = leaf_of(case_of())
    for side in (leaf.front, leaf.back):
        strip = side.blocks[0]
        assert isinstance(strip, Strip)
        assert "not checked" in strip.specimen
    checked = leaf_of(case_of(checked=True))
    assert "Checked for you by Marigold Underhill" in says(checked.front.blocks[0])
    assert not any(b.specimen for b in (*checked.front.blocks, *checked.back.blocks) if isinstance(b, Strip))


# ------------------------------------------------------------------ visits and days


def test_a_booked_visit_is_named_and_one_to_book_says_to_phone() -> None:
    case = case_of()
    booked = one(leaf_of(replace(case, review_date=Day("2026-12-07"))), Headline).visit  # type: ignore[attr-defined]
    assert booked.label == "Next visit"
    assert booked.day == ("Monday", "7 Dec 2026")
    proposed = one(leaf_of(case), Headline).visit  # type: ignore[attr-defined]
    assert proposed.label.startswith("Not booked yet.")


def test_where_no_day_is_known_there_is_room_to_write_one() -> None:
    stopped = case_of("growth-plate", step=("any", "stop"), place="growth-plate", age="under-18")
    assert one(leaf_of(stopped), Headline).visit.day == ()  # type: ignore[attr-defined]


@pytest.mark.parametrize(("ahead", "columns"), [(1, 2), (5, 5), (8, 8), (14, 14), (30, 14)])
def test_the_plan_has_a_column_for_each_day_until_the_visit(ahead: int, columns: int) -> None:
    day = (TODAY + timedelta(days=ahead)).isoformat()
    week = one(leaf_of(replace(case_of(), review_date=Day(day))), Week)
    assert len(week.days) == columns  # type: ignore[attr-defined]
    assert week.days[0] == (("We" if columns > 8 else "Wed"), "25")  # type: ignore[attr-defined]


def test_no_stage_is_promised_before_the_visit_and_those_behind_wait_as_long() -> None:
    case = case_of()
    usual = [when for _, when in one(leaf_of(case), Ahead).rows]  # type: ignore[attr-defined]
    late = one(leaf_of(replace(case, review_date=Day("2027-02-01"))), Ahead).rows  # type: ignore[attr-defined]
    assert plain(late[0][1]) == "at your visit, 1 Feb 2027"
    assert plain(late[1][1]) != plain(usual[1])
    assert plain(late[1][1]).startswith("often about")


def test_a_delay_is_said_once_and_is_in_the_dates_already() -> None:
    assert "already include your delay" in says(one(leaf_of(case_of(visit="late")), Ahead))
    assert "delay" not in says(one(leaf_of(case_of()), Ahead))


def test_a_date_that_matters_is_set_beside_the_stage_it_falls_in() -> None:
    trip = ImportantDate(what="Trip to the coast", date=Day("2027-03-01"))
    words = says(one(leaf_of(replace(case_of(), important_dates=(trip,))), Ahead))
    assert "Trip to the coast, 1 Mar 2027" in words
    assert "often in stage 6" in words


# ------------------------------------------------------------------ loads and gates


def test_each_exercise_has_the_one_load_that_a_clinician_would_reckon() -> None:
    """Pulley, first light pulls: the least of the stage is 20 % of the healthy hand: 40 kg × 0.2 = 8 kg."""
    case = with_pulls(case_of(step=("II", "first-load")), healthy=40.0, sore=30.0)
    stage = next(s for s in whole_library().find_protocol("pulley").stages if s.id == "first-load")  # type: ignore[union-attr]
    assert stage.load
    kg = 40.0 * stage.load.least / 100
    loads = [says(row) for row in one(leaf_of(case), Week).rows if " kg" in says(row)]  # type: ignore[attr-defined]
    assert loads
    assert all(f"lift {kg:g} kg (feet on the floor)" in load and load.count(" kg") == 1 for load in loads)
    assert all("Left hand, 20 mm edge" in load for load in loads)


def test_without_a_test_there_is_room_for_the_clinician_to_write_the_load() -> None:
    rows = [says(r) for r in one(leaf_of(case_of(step=("II", "first-load"))), Week).rows]  # type: ignore[attr-defined]
    assert any("edge ____ mm: lift ____ kg (feet on the floor)" in row for row in rows)


def test_a_goal_is_rounded_up_because_it_must_never_be_too_low() -> None:
    assert reckon_goal(36.83, 90).kg == 33.2  # 33.147
    assert reckon_goal(40.0, 90).kg == 36.0
    assert reckon_goal(33.3, 90).kg == 30.0  # 29.97
    assert reckon_goal(10.0, 90).kg == 9.0


def test_the_goal_stands_at_the_gate_and_its_sum_can_be_asked_for() -> None:
    case = with_pulls(case_of(step=("II", "build")), healthy=36.83, sore=30.0, grip="half-crimp")
    ticks = one(leaf_of(case), Ticks)
    assert "Goal: 33.2 kg" in " ".join(plain(item) for item in ticks.clinic)  # type: ignore[attr-defined]
    why = next(w for w in list_reasons(whole_library(), case, TODAY) if w.label == "goal of the strength test")
    assert str(why).startswith("goal of the strength test: 33.2 kg")
    assert "share = 90 %; healthy hand = 36.83 kg" in str(why)


def test_gates_are_parted_by_who_tests_them() -> None:
    ticks = one(leaf_of(case_of(step=("II", "build"))), Ticks)
    yours = " ".join(plain(item) for item in ticks.you)  # type: ignore[attr-defined]
    clinics = " ".join(plain(item) for item in ticks.clinic)  # type: ignore[attr-defined]
    assert "%" in clinics
    assert "%" not in yours
    assert "next morning" in yours
    assert "Goal: ____ kg" in clinics


def test_the_weeks_of_a_gate_are_printed() -> None:
    words = says(one(leaf_of(case_of()), Ticks))
    assert re.search(r"at least \d weeks?, without .* Count from \d+ [A-Z][a-z]{2}\.", words)
    assert "{weeks}" not in words


def test_each_of_several_conditions_names_its_grips() -> None:
    field = next(
        f
        for f in one(leaf_of(case_of(step=("II", "build"))), type(leaf_of(case_of()).front.blocks[3])).fields  # type: ignore[attr-defined]
        if f.mark == "limit"
    )
    assert "Pinch, undercling and hand crack: Only on slow moves" in plain(field.when)


# ------------------------------------------------------------------ tape and help


def test_whoever_reacts_to_tape_reads_of_none() -> None:
    for step in (("II", "easy-climbing"), ("II", "build"), ("II", "move")):
        leaf = leaf_of(case_of(step=step, allergy=True))
        assert not any(isinstance(b, TapeHow) and b.strips for b in leaf.back.blocks)
        assert "Tape for climbing" not in says(leaf.back)


def test_without_a_clinic_there_are_lines_for_both_numbers() -> None:
    box = says(leaf_of(case_of()).front.help)
    assert "phone your clinic, ____" in box
    assert "Call ____ (number)" in box


def test_the_numbers_of_the_clinic_stand_in_the_box() -> None:
    clinic = Clinic(name="Clinic on the Hill", phone="555 0100", emergency_number="911")
    box = says(leaf_of(replace(case_of(), clinic=clinic)).front.help)
    assert "Clinic on the Hill, 555\u00a00100" in box
    assert "Call 911" in box


def test_a_stop_encloses_nothing_to_do_whatever_was_chosen() -> None:
    case = case_of("growth-plate", step=("any", "stop"), place="growth-plate", age="under-18")
    chosen = replace(case, enclose=("tape", "exercises", "diary", "grips", "about"))
    sheets = plan_handout(whole_library(), chosen, TODAY).sheets
    sections = {s.id for sheet in sheets for s in sheet.sections}
    assert "injury" in sections
    assert not sections & {"exercises", "tape", "diary", "chart", "grip-pictures", "strength"}


def test_a_note_stands_whole_in_the_clinician_s_own_words() -> None:
    note = one(leaf_of(replace(case_of(), note="Light  pulls\nbegan late.")), Note)
    assert says(note).endswith("Light pulls began late.")
