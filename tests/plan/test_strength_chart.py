"""The strength tests of a person as bars: only what can be compared, the goal of their own stage, all of it said."""

from __future__ import annotations

from dataclasses import replace

from site_under_test import whole_library
from sweep.cases import TODAY, Chosen, make_case

from fingerpost.model.case import Baseline, Case
from fingerpost.model.times import Day
from fingerpost.plan.base.pictures import StrengthPicture
from fingerpost.plan.base.visible import list_drawings
from fingerpost.plan.leaf.handout import plan_handout

LAST_BUT_ONE = ("II", "build")


def case_at(*tests: Baseline, step: tuple[str, str] = ("II", "easy-climbing")) -> Case:
    """A sore left ring finger, with what is known about the injury enclosed."""
    protocol = whole_library().find_protocol("pulley")
    assert protocol
    row = {
        "finger": "ring", "age": "adult", "hand": "left", "side": None, "allergy": False, "visit": "later",
        "strength": "none", "share": False, "place": "a2-pulley", "step": step,
    }  # fmt: skip
    case = make_case(whole_library(), Chosen(protocol, row))
    return replace(case, baselines=tests, enclose=("about",))


def pulled(hand: str, kg: float, when: str = "now", grip: str = "half-crimp", hands: str = "one") -> Baseline:
    return Baseline(
        date=Day(TODAY.isoformat()), hand=hand, hands=hands, grip=grip, edge_mm=20, method="pull", kg=(kg,), when=when
    )  # type: ignore[arg-type]


def chart_of(case: Case) -> StrengthPicture | None:
    sheets = plan_handout(whole_library(), case, TODAY).sheets
    return next((d.picture for d in list_drawings(sheets) if isinstance(d.picture, StrengthPicture)), None)


def test_bars_are_the_healthy_hand_the_sore_one_and_the_sore_one_before() -> None:
    chart = chart_of(case_at(pulled("left", 28), pulled("left", 42, "before-injury"), pulled("right", 43)))
    assert chart
    assert [(name, kg) for name, kg, _ in chart.rows] == [
        ("Right hand", 43),
        ("Left hand", 28),
        ("Left hand, before the injury", 42),
    ]
    assert chart.goal is None


def test_a_sore_hand_that_was_not_tested_since_is_not_drawn_beside_the_other() -> None:
    """Two long bars, one of them from before the injury, would say that nothing is wrong."""
    assert chart_of(case_at(pulled("left", 42, "before-injury"), pulled("right", 43))) is None
    assert chart_of(case_at(pulled("left", 28))) is None
    assert chart_of(case_at()) is None


def test_two_grips_are_never_mixed_and_the_one_with_most_to_compare_is_drawn() -> None:
    known = (pulled("left", 42, "before-injury"), pulled("right", 43))
    assert chart_of(case_at(*known, pulled("left", 28, grip="open-hand"))) is None
    both = (pulled("left", 29.5, grip="open-hand"), pulled("right", 39, grip="open-hand"))
    chart = chart_of(case_at(*known, *both))
    assert chart
    assert [kg for _, kg, _ in chart.rows] == [39, 29.5]


def test_the_goal_of_the_stage_is_a_line_with_its_share_in_words() -> None:
    chart = chart_of(case_at(pulled("left", 28), pulled("right", 43), step=LAST_BUT_ONE))
    assert chart
    assert chart.goal == 38.7
    assert chart.goal_said == "goal 38.7 kg: 90 % of the right hand"


def test_who_cannot_see_the_bars_hears_what_they_say() -> None:
    chart = chart_of(case_at(pulled("left", 28), pulled("right", 43), step=LAST_BUT_ONE))
    assert chart
    assert chart.title == (
        "Half crimp, 20 mm edge, one hand, pull. Right hand 43 kg; Left hand 28 kg; "
        "goal 38.7 kg: 90 % of the right hand."
    )


def test_in_pounds_bars_and_goal_are_in_pounds() -> None:
    case = case_at(pulled("left", 28), pulled("right", 43), step=LAST_BUT_ONE)
    tests = tuple(replace(test, kg=(), lb=(test.kg[0] * 2.2046,)) for test in case.baselines)
    chart = chart_of(replace(case, units="lb", baselines=tests))
    assert chart
    assert [said.endswith(" lb") for _, _, said in chart.rows] == [True, True]
    assert chart.goal
    assert chart.goal > 80
    assert " lb: 90 % of the right hand" in chart.goal_said
