"""What a log of visits tells: worked out by hand, with the days beside each case."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from fingerpost.model.case import Anchor, Began, Case, Checked, Clinician, FingerSize, Visit
from fingerpost.model.times import Day, to_written
from fingerpost.reckon.measures import find_impossible_angles, find_odd_measures
from fingerpost.reckon.visits import (
    find_check,
    find_current,
    find_last,
    list_begun,
    list_sizes,
    log_visit,
    renew,
)

START = date(2026, 10, 26)
STAGES = ("settle", "move", "first-load", "easy-climbing")
BY = Clinician(name="Imogen Thackeray-Vale", role="hand therapist")


def on(days: int) -> Day:
    return to_written(START + timedelta(days=days))


def visit(days: int, stage: str, **more: object) -> Visit:
    return Visit(date=on(days), stage=stage, **more)  # type: ignore[arg-type]


def case_of(stage: str, *visits: Visit, **more: object) -> Case:
    case = Case(
        reference="x", age_band="adult", protocol="pulley", grade="II", hand="left", finger="ring", place="a2-pulley",
        anchor=Anchor(event="injury", date=on(0)), stage=stage, visits=visits,
    )  # fmt: skip
    return replace(case, **more)  # type: ignore[arg-type]


def begun(case: Case, today: int) -> list[tuple[str, int]]:
    """Each stage so far, with the day on which it began, counted from the first."""
    told = list_begun(case, STAGES, START + timedelta(days=today))
    return [(one.stage, (one.date.day - START).days) for _, one in told]


# ------------------------------------------------------------------ when a stage began


def test_a_stage_begins_with_the_first_visit_that_set_it() -> None:
    """Days 0, 14 and 30: settle, move, move. On day 30 `move` has lasted 16 days."""
    case = case_of("move", visit(0, "settle"), visit(14, "move"), visit(30, "move"))
    assert begun(case, 30) == [("settle", 0), ("move", 14)]


def test_todays_new_decision_begins_today_before_it_is_in_the_log_and_after() -> None:
    before = case_of("first-load", visit(0, "settle"), visit(14, "move"))
    after = case_of("first-load", *before.visits, visit(30, "first-load"))
    assert begun(before, 30) == begun(after, 30) == [("settle", 0), ("move", 14), ("first-load", 30)]


def test_whoever_goes_back_begins_that_stage_anew() -> None:
    """Settle on day 0, move on 14, back to settle on 21, move again on 30: the run that counts began on day 30."""
    back = case_of("settle", visit(0, "settle"), visit(14, "move"), visit(21, "settle"))
    assert begun(back, 21) == [("settle", 21)]
    again = case_of("move", *back.visits, visit(30, "move"))
    assert begun(again, 30) == [("settle", 21), ("move", 30)]
    assert begun(case_of("settle", visit(0, "settle"), visit(14, "move")), 21) == [("settle", 21)]


def test_the_very_first_visit_alone_tells_no_begin() -> None:
    """Whoever comes on day 9 for the first time has perhaps rested since day 0: nobody has set a pace yet."""
    assert begun(case_of("settle", visit(9, "settle", checked=BY)), 9) == []
    later = case_of("settle", visit(9, "settle"), visit(20, "settle"))
    assert begun(later, 20) == [("settle", 9)]


def test_what_was_before_the_first_visit_stays_as_it_was_written() -> None:
    earlier = (Began(stage="settle", date=on(0)), Began(stage="move", date=on(10)))
    case = case_of("move", visit(20, "move"), visit(30, "move"), began=earlier)
    assert begun(case, 30) == [("settle", 0), ("move", 10)]
    moved = case_of("first-load", visit(20, "move"), visit(30, "first-load"), began=earlier)
    assert begun(moved, 30) == [("settle", 0), ("move", 10), ("first-load", 30)]


# ------------------------------------------------------------------ which visit is printed


def test_the_newest_visit_is_printed_if_it_was_checked_or_is_of_today() -> None:
    checked = case_of("move", visit(0, "settle", checked=BY), visit(14, "move", checked=BY))
    for today in (14, 20):
        day = START + timedelta(days=today)
        assert find_current(checked, day) == checked.visits[1]
        assert find_last(checked, day) == checked.visits[0]
    assert find_check(checked) == Checked(name=BY.name, role=BY.role, date=on(14), stage="move")
    bare = case_of("move", visit(0, "settle"), visit(14, "move"))
    assert find_current(bare, START + timedelta(days=14)) == bare.visits[1]
    assert find_current(bare, START + timedelta(days=20)) is None
    assert find_last(bare, START + timedelta(days=20)) == bare.visits[1]


def test_a_check_of_another_stage_stands_behind_nothing() -> None:
    """The sheet would name somebody who decided something else."""
    assert find_check(case_of("first-load", visit(14, "move", checked=BY))) is None
    assert find_check(case_of("move", visit(0, "move", checked=BY), visit(14, "move"))) is None


# ------------------------------------------------------------------ writing it down


def test_a_visit_is_written_down_once() -> None:
    case, today = case_of("move", visit(0, "settle", checked=BY)), START + timedelta(days=14)
    once = log_visit(case, today, "0123abcd")
    assert once.visits == (*case.visits, visit(14, "move", printed="0123abcd"))
    assert log_visit(once, today, "0123abcd") == once
    assert log_visit(once, today).visits[-1].printed == "0123abcd"


def test_a_checked_visit_that_is_printed_later_is_still_that_visit() -> None:
    case = case_of("move", visit(0, "settle"), visit(14, "move", checked=BY, pain=2))
    later = log_visit(case, START + timedelta(days=16), "0123abcd")
    assert later.visits == (case.visits[0], replace(case.visits[1], printed="0123abcd"))


def test_the_check_of_an_old_case_becomes_its_visit_and_means_the_same() -> None:
    check = Checked(name=BY.name, role=BY.role, date=on(14), stage="move")
    old = case_of("move", began=(Began(stage="settle", date=on(0)), Began(stage="move", date=on(12))), checked=check)
    new = renew(old)
    assert (new.checked, new.visits) == (None, (visit(14, "move", checked=BY),))
    assert find_check(new) == find_check(old) == check
    assert begun(new, 14) == begun(old, 14) == [("settle", 0), ("move", 12)]
    assert renew(new) == new


# ------------------------------------------------------------------ measures


def test_the_sore_finger_is_as_thick_as_the_newest_visit_that_measured_it() -> None:
    beside = (FingerSize(finger="middle", mm=61),)
    case = case_of("move", visit(0, "settle", round_mm=64), visit(14, "move", round_mm=61), visit(20, "move"))
    assert list_sizes(replace(case, finger_sizes=beside)) == (*beside, FingerSize(finger="ring", mm=61))
    written = (FingerSize(finger="ring", mm=61),)
    assert list_sizes(replace(case, finger_sizes=written)) == written


@pytest.mark.parametrize(
    ("found", "keys"),
    [
        ({"bend_degrees": 130.5}, ["bend_degrees"]),
        ({"bend_degrees": -1}, ["bend_degrees"]),
        ({"bend_degrees": float("nan")}, ["bend_degrees"]),
        ({"lack_degrees": 111}, ["lack_degrees"]),
        ({"bend_degrees": 20, "lack_degrees": 30}, ["lack_degrees"]),
        ({"bend_degrees": 30, "lack_degrees": 30}, []),
        ({"bend_degrees": 0, "lack_degrees": 0}, []),
    ],
)
def test_angles_that_no_finger_has(found: dict[str, float], keys: list[str]) -> None:
    assert [key for key, _ in find_impossible_angles(visit(0, "move", **found))] == keys


@pytest.mark.parametrize(
    ("before", "now", "keys"),
    [
        ({"bend_degrees": 70}, {"bend_degrees": 85}, []),
        ({"bend_degrees": 30}, {"bend_degrees": 81}, ["bend_degrees"]),
        ({"lack_degrees": 5}, {"lack_degrees": 60}, ["lack_degrees"]),
        ({"round_mm": 61}, {"round_mm": 69.5}, ["round_mm"]),
        ({}, {"bend_degrees": 116}, ["bend_degrees"]),
        ({}, {"round_mm": 69.5}, []),
    ],
)
def test_measures_that_are_worth_another_look(before: dict[str, float], now: dict[str, float], keys: list[str]) -> None:
    then = visit(0, "move", **before)
    assert [key for key, _ in find_odd_measures(visit(7, "move", **now), then)] == keys
