"""What may be a slip is told to the clinician beside its field, and never to the person on paper."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any, get_args

import pytest

from fingerpost.model.case import Anchor, Baseline, Began, Case, Checked, EnclosureName, ImportantDate
from fingerpost.model.library import Library
from fingerpost.model.times import Day
from fingerpost.plan.base.outline import outline_handout
from fingerpost.plan.case.check import find_case_findings
from fingerpost.plan.case.situation import is_first_visit, read_situation
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.general import plan_general_handout
from fingerpost.plan.person.coach import plan_coach_sheet
from fingerpost.plan.person.doubts import find_case_doubts, tolerate_early, tolerate_late

TODAY = date(2026, 11, 25)


@pytest.fixture
def pulley(cases: dict[str, Case]) -> Case:
    """Nobody has checked it: most tests set another stage than the one that was."""
    return replace(cases["pulley-left-ring"], checked=None)


def pull(hand: Any, kg: float, grip: str = "open-hand") -> Baseline:
    return Baseline(date=Day("2026-11-23"), hand=hand, grip=grip, edge_mm=20, method="pull", kg=(kg,))


def days_ago(days: int) -> Day:
    return Day((TODAY - timedelta(days=days)).isoformat())


def seen_before(days: int) -> dict[str, Any]:
    """Somebody who has been here before and still is in the second stage, so many days after the injury."""
    began = (Began(stage="settle", date=days_ago(days)), Began(stage="move", date=days_ago(days - 10)))
    return {"anchor": Anchor(event="injury", date=days_ago(days)), "began": began, "stage": "move", "baselines": ()}


DOUBTFUL: list[tuple[dict[str, Any], tuple[str | int, ...], str]] = [
    (
        {"anchor": Anchor(event="injury", date=Day("2025-11-13")), "began": (), "baselines": ()},
        ("anchor", "date"),
        "377 days ago",
    ),
    (
        {"important_dates": (ImportantDate(what="Trip", date=Day("2028-02-03")),)},
        ("important_dates", 0, "date"),
        "435 days",
    ),
    ({"review_date": Day("2027-12-09")}, ("review_date",), "379 days from now"),
    ({"review_date": Day("2026-12-16")}, ("review_date",), "2 stages usually begin before this visit"),
    (
        {"began": (Began(stage="move", date=Day("2026-11-25")),), "stage": "first-load"},
        ("stage",),
        "'Move without load' to here took 0 days, at the quickest it usually takes 11 days",
    ),
    (
        {"anchor": Anchor(event="injury", date=Day("2026-11-13")), "began": (), "stage": "build"},
        ("stage",),
        "the earliest usual day for this stage is 25 December 2026, 30 days from now",
    ),
    (
        {
            "checked": Checked(
                name="Imogen Thackeray-Vale", role="hand therapist", date=days_ago(29), stage="easy-climbing"
            )
        },
        ("checked", "date"),
        "it was checked 29 days ago",
    ),
    (seen_before(90), ("stage",), "the latest usual day for the next stage was"),
    ({**seen_before(60), "began": (Began(stage="settle", date=days_ago(60)),)}, ("stage",), "nobody wrote when"),
    (
        {"baselines": (pull("right", 30), pull("left", 40))},
        ("baselines", 0, "kg"),
        "the hurt left hand is 33.3 % stronger than the right hand in the same test",
    ),
    (
        {"baselines": (pull("right", 43, "half-crimp"), pull("right", 38), pull("left", 9))},
        ("baselines", 2, "kg"),
        "and the left hand has held 9 kg",
    ),
]


@pytest.mark.parametrize(("change", "path", "says"), DOUBTFUL, ids=lambda v: str(v)[:40])
def test_what_may_be_a_slip_is_doubted_and_printed(
    change: dict[str, Any], path: tuple[str | int, ...], says: str, pulley: Case, library: Library
) -> None:
    case = replace(pulley, **change)
    assert not list(find_case_findings(case, library, TODAY))
    found = [message for at, message, _ in find_case_doubts(case, library, TODAY) if at == path]
    assert any(says in message for message in found)
    assert plan_handout(library, case, TODAY).leaves


def test_the_demo_cases_are_not_doubted(cases: dict[str, Case], library: Library) -> None:
    for case in cases.values():
        assert not list(find_case_doubts(case, library, TODAY))


ODD = [dict(change) for change, _, _ in DOUBTFUL]


@pytest.mark.parametrize("change", ODD, ids=lambda v: str(v)[:40])
def test_no_paper_holds_the_text_of_a_doubt(change: dict[str, Any], pulley: Case, library: Library) -> None:
    """A person cannot weigh what a clinician should look at again: on paper it frightens, or it blames."""
    case = replace(pulley, **change, share_with_coach=True)
    found = list(find_case_doubts(case, library, TODAY))
    assert found
    paper = " ".join(outline_handout(plan_handout(library, case, TODAY)).split())
    coach = repr(plan_coach_sheet(library, case, TODAY))
    for _, message, hint in found:
        for said in (message, hint):
            assert said not in paper
            assert said not in coach
    for verdict in ("chose it all the same", "re-check", "over the latest day", "Check the test", "later than usual"):
        assert verdict not in paper
    assert "earliest usual day" not in paper + coach


@pytest.mark.parametrize("day", [0, 5, 30, 90, 300])
@pytest.mark.parametrize("stage", ["settle", "move"])
def test_a_first_visit_is_no_lateness(day: int, stage: str, pulley: Case, library: Library) -> None:
    anchor = Anchor(event="injury", date=days_ago(day))
    case = replace(pulley, anchor=anchor, began=(), stage=stage, baselines=(), important_dates=(), review_date=None)
    for began in ((), (Began(stage=stage, date=days_ago(0)),)):
        first = replace(case, began=began)
        assert is_first_visit(first, TODAY)
        late = [
            message
            for _, message, _ in find_case_doubts(first, library, TODAY)
            if "ago" in message or "after" in message
        ]
        assert late == []
        paper = outline_handout(plan_handout(library, first, TODAY))
        assert "often about" in paper
        assert "delay" not in paper, "who comes for the first time has not been late"


def test_who_has_been_here_before_is_told_from_who_comes_first(pulley: Case) -> None:
    assert not is_first_visit(pulley, TODAY)
    assert is_first_visit(replace(pulley, began=pulley.began[-1:]), TODAY)


def test_a_few_days_are_within_what_appointments_allow(pulley: Case, library: Library) -> None:
    """A visit on the first free day must not be told as a slip; a day early at a torn finger is told sooner."""

    def doubts(case: Case) -> list[str]:
        return [m for at, m, _ in find_case_doubts(case, library, TODAY) if at == ("stage",)]

    def first(days: int) -> Case:
        anchor = Anchor(event="injury", date=days_ago(days))
        return replace(pulley, anchor=anchor, began=(), stage="easy-climbing", baselines=(), review_date=None)

    way = read_situation(first(0), library, TODAY).way
    assert way
    until = (way.windows[way.today_index].published.earliest - way.anchor).days
    early = tolerate_early(way)
    assert 1 <= early <= 3
    assert early <= until / 10
    assert doubts(first(until - early)) == []
    assert len(doubts(first(until - early - 1))) == 1

    late = read_situation(replace(pulley, **seen_before(60)), library, TODAY).way
    assert late
    allowed = tolerate_late(late)
    assert allowed >= 3
    latest = 60 - late.days_over
    assert doubts(replace(pulley, **seen_before(latest + allowed), review_date=None)) == []
    assert len(doubts(replace(pulley, **seen_before(latest + allowed + 1), review_date=None))) == 1


def test_a_growing_finger_is_told_of_no_windows(cases: dict[str, Case], library: Library) -> None:
    """Nobody can say beforehand when a growing finger is ready, and a date would be held against it."""
    cleared = replace(cases["growth-plate-left-middle"], doctor_cleared=Day("2026-11-24"))
    protocol = library.find_protocol(cleared.protocol)
    assert protocol
    cleared = replace(cleared, enclose=get_args(EnclosureName))
    for sheets in (plan_handout(library, cleared, TODAY), plan_general_handout(library, protocol.id, "A4")):
        paper = outline_handout(sheets)
        assert "often about" not in paper
        assert "often begins after" not in paper
        for said in ("The dates are windows", "They are not promises", "The times are what is usual"):
            assert said not in paper
