"""Which logs of visits are refused or doubted: each slip has its place, and a log that can be is planned."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from site_under_test import whole_library
from sweep.cases import TODAY
from visit_cases import STAGES, ago, case_of, findings, visit

from fingerpost.model.case import Began, Case, Checked, Clinician, FingerSize, ShownTest, Visit
from fingerpost.model.times import Day
from fingerpost.plan.case.file import to_plain
from fingerpost.plan.case.situation import read_situation
from fingerpost.plan.person.doubts import find_case_doubts
from fingerpost.read.library import read_case_text
from fingerpost.rewrite.arrange import write_plain

# ------------------------------------------------------------------ what a log must not say

TWO = (visit(14, "first-load"), visit(0, "easy-climbing"))
REFUSED: list[tuple[dict[str, Any], tuple[str | int, ...], str]] = [
    ({"visits": (TWO[0], visit(-1, "easy-climbing"))}, ("visits", 1, "date"), "a visit is written once it has been"),
    ({"visits": (visit(91, "settle"), *TWO)}, ("visits", 0, "date"), "from which all days are counted"),
    ({"visits": (TWO[1], TWO[0])}, ("visits", 1, "date"), "stands after"),
    ({"visits": (TWO[0], TWO[0], TWO[1])}, ("visits", 1, "date"), "there are two visits on"),
    ({"visits": (visit(14, "first-laod"), TWO[1])}, ("visits", 0, "stage"), "no stage of this way back is called"),
    ({"visits": (Visit(date=Day("2026-02-30"), stage="settle"),)}, ("visits", 0, "date"), "the calendar has no day"),
    ({"visits": (TWO[0], visit(0, "first-load"))}, ("visits", 1, "stage"), "the visit of today set stage 'first-load'"),
    ({"visits": (replace(TWO[0], bend_degrees=170), TWO[1])}, ("visits", 0, "bend_degrees"), "no middle joint bends"),
    ({"visits": (replace(TWO[0], round_mm=6.1), TWO[1])}, ("visits", 0, "round_mm"), "looks like centimetres"),
    (
        {"visits": (replace(TWO[0], tests=(ShownTest(test="bowstring", showed="calm"),)), TWO[1])},
        ("visits", 0, "tests", 0, "test"),
        "no test is called 'bowstring'",
    ),
    (
        {"visits": (replace(TWO[0], tests=(ShownTest(test="table-top", showed="calm"),) * 2), TWO[1])},
        ("visits", 0, "tests", 1, "test"),
        "stands twice",
    ),
    (
        {"visits": (replace(TWO[0], checked=Clinician(name="アキ", role="x")), TWO[1])},
        ("visits", 0, "checked", "name"),
        "",
    ),
    (
        {"checked": Checked(name="A", role="B", date=ago(0), stage="easy-climbing")},
        ("checked",),
        "who checked stands under `visits`",
    ),
    (
        {"began": (Began(stage="easy-climbing", date=ago(3)),)},
        ("began", 0, "date"),
        "the visits do not tell that 'easy-climbing' began",
    ),
    (
        {"visits": (replace(TWO[0], round_mm=61), TWO[1]), "finger_sizes": (FingerSize(finger="ring", mm=63),)},
        ("finger_sizes", 0, "mm"),
        "found 61 mm, not 63",
    ),
]


@pytest.mark.parametrize(("change", "path", "says"), REFUSED)
def test_a_log_that_cannot_be_is_refused(change: dict[str, Any], path: tuple[str | int, ...], says: str) -> None:
    case = case_of("easy-climbing", *TWO)
    assert findings(case) == []
    found = findings(replace(case, **change))
    assert path in [where for where, _ in found]
    assert says in next(message for where, message in found if where == path)


def test_begins_that_agree_with_the_visits_are_no_second_truth() -> None:
    case = case_of("easy-climbing", *TWO)
    for began in (
        (Began(stage="first-load", date=ago(30)),),
        (Began(stage="first-load", date=ago(10)),),  # set at the first visit, and begun four days later
        (Began(stage="easy-climbing", date=ago(0)),),
    ):
        assert findings(replace(case, began=began)) == []


def test_a_slip_of_a_measure_is_doubted_and_printed() -> None:
    case = case_of("move", visit(14, "move", bend_degrees=30), visit(0, "move", bend_degrees=100))
    assert findings(case) == []
    doubts = [path for path, _, _ in find_case_doubts(case, whole_library(), TODAY)]
    assert ("visits", 1, "bend_degrees") in doubts


def test_a_pace_is_found_in_the_visits_too() -> None:
    case = replace(case_of("easy-climbing", visit(14, "settle"), visit(0, "easy-climbing")), pace_reason=None)
    assert ("visits", 1, "stage") in [path for path, _ in findings(case)]


@pytest.mark.parametrize(
    ("written", "says"),
    [
        ("{date: 2026-11-09, stage: move, pain: 11}", "must be one of 0, 1, 2"),
        ("{date: 2026-11-09, stage: move, printed: 1234}", "must be text"),
        ("{date: 2026-11-09, stage: move, printed: 'xyz'}", "must be the eight signs"),
        ("{date: 2026-11-09}", "'stage' is missing"),
        ("{date: 2026-11-09, stage: move, swelling: 3}", "no key is called 'swelling'"),
        ("{date: 2026-11-09, stage: move, tests: [{test: table-top, showed: fine}]}", "must be one of calm, positive"),
    ],
)
def test_a_visit_is_checked_by_the_grammar_with_its_line(written: str, says: str) -> None:
    text = write_plain(to_plain(case_of("move")), Case) + f"visits:\n  - {written}\n"
    document, problems = read_case_text(text, "a.yml")
    assert document is None
    assert any(says in str(p) and p.place.line == text.count("\n") for p in problems)


@given(st.lists(st.sampled_from(STAGES), min_size=1, max_size=6), st.sampled_from(STAGES))
def test_any_course_of_visits_is_planned(course: list[str], today: str) -> None:
    """On and back again, in any order: no begin is lost so that the sums refuse it."""
    visits = tuple(visit(60 - 7 * n, stage) for n, stage in enumerate(course))
    case = case_of(today, *visits)
    assert findings(case) == []
    assert read_situation(case, whole_library(), TODAY).way
