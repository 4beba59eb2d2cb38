"""The pace of a case: nobody goes past a stage, and no growing finger is loaded or hurried, without a word why."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from fingerpost.model.case import Anchor, Began, Case
from fingerpost.model.library import Library
from fingerpost.model.times import Day
from fingerpost.plan.case.check import find_case_findings
from fingerpost.plan.case.situation import read_situation
from fingerpost.plan.person.doubts import find_case_doubts

TODAY = date(2026, 11, 25)


@pytest.fixture
def pulley(cases: dict[str, Case]) -> Case:
    return replace(cases["pulley-left-ring"], checked=None, baselines=())


@pytest.fixture
def growing(cases: dict[str, Case]) -> Case:
    """A cleared child in the second stage after the stop."""
    began = (("stop", "2026-06-01"), ("settle", "2026-09-02"), ("easy-climbing", "2026-10-20"))
    return replace(
        cases["growth-plate-left-middle"],
        doctor_cleared=Day("2026-09-01"),
        anchor=Anchor(event="first-assessment", date=Day("2026-06-01")),
        stage="easy-climbing",
        began=tuple(Began(stage=s, date=Day(d)) for s, d in began),
        checked=None,
    )


def found(case: Case, library: Library) -> list[tuple[Any, str]]:
    return [(path, message) for path, message, _ in find_case_findings(case, library, TODAY)]


def test_a_stage_that_was_passed_over_needs_a_reason(pulley: Case, library: Library) -> None:
    began = tuple(b for b in pulley.began if b.stage != "first-load")
    leap = replace(pulley, began=began)
    assert found(leap, library) == [(("began", 2, "stage"), "'First load, open hand' was passed over")]
    assert found(replace(leap, pace_reason="Seen elsewhere in between."), library) == []
    unwritten = replace(pulley, began=pulley.began[:1])
    assert [path for path, _ in found(unwritten, library)] == [("stage",)]


def test_a_first_visit_passes_over_nothing(pulley: Case, library: Library) -> None:
    assert found(replace(pulley, began=pulley.began[-1:]), library) == []
    assert found(replace(pulley, began=()), library) == []


def test_nobody_begins_on_the_wall_after_a_stop(growing: Case, library: Library) -> None:
    """A case once went from the stop to the half crimp on the next day, and nothing was said."""
    assert found(growing, library) == []
    leap = replace(growing, began=(), stage="half-crimp")
    assert [path for path, _ in found(leap, library)] == [("stage",)]
    assert found(replace(leap, pace_reason="The doctor has set this stage."), library) == []


def test_a_growing_finger_has_four_weeks_in_a_stage(growing: Case, library: Library) -> None:
    """By hand: 2 September + 28 days is 30 September; the 29th is a day too soon."""
    soon = replace(growing, began=(*growing.began[:2], Began(stage="easy-climbing", date=Day("2026-09-29"))))
    assert [(p, m.split(":")[0]) for p, m in found(soon, library)] == [
        (("began", 2, "date"), "'After a doctor has cleared it, move' took 27 days")
    ]
    enough = replace(growing, began=(*growing.began[:2], Began(stage="easy-climbing", date=Day("2026-09-30"))))
    assert found(enough, library) == []


def test_a_growing_finger_is_not_loaded_before_a_doctor_has_cleared_it(pulley: Case, library: Library) -> None:
    child = replace(pulley, age_band="under-18", doctor_cleared=Day("2026-11-10"))
    assert [(p, m) for p, m in found(child, library) if p[0] == "began"] == [
        (("began", 2, "date"), "'First load, open hand' began before a doctor had cleared the finger")
    ]
    first = replace(child, doctor_cleared=pulley.began[2].date)
    assert found(first, library) == []


def test_a_growing_finger_does_not_move_on_alone(pulley: Case, growing: Case, library: Library) -> None:
    for case in (replace(pulley, age_band="under-18", doctor_cleared=Day("2026-10-01")), growing):
        gates = {use.gate for use in read_situation(case, library, TODAY).stage.gate}
        assert {"clinician-agrees", "no-spot-pain"} <= gates
    assert "clinician-agrees" not in {use.gate for use in read_situation(pulley, library, TODAY).stage.gate}


def test_a_stop_sheet_in_place_of_a_chosen_stage_says_why(pulley: Case, growing: Case, library: Library) -> None:
    def told(case: Case) -> list[Any]:
        return [path for path, message, _ in find_case_doubts(case, library, TODAY) if "is not printed" in message]

    assert told(replace(growing, doctor_cleared=None)) == [("doctor_cleared",)]
    assert told(replace(pulley, grade="IV", tapings=())) == [("grade",)]
    assert told(replace(growing, doctor_cleared=None, stage="stop", began=())) == []
    assert told(pulley) == []


def test_no_web_lies_beside_the_little_finger(pulley: Case, library: Library) -> None:
    muscle = replace(
        pulley, protocol="lumbrical-strain", place="lumbrical-muscle", grade="I", stage="settle", began=(), tapings=()
    )
    assert found(replace(muscle, finger="little", side="ulnar"), library)[0][0] == ("side",)
    assert found(replace(muscle, finger="little", side="radial"), library) == []
    assert found(replace(muscle, finger="ring", side="ulnar"), library) == []
