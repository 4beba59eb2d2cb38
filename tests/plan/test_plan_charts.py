"""What charts say: no bar that misleads, what was measured beside what we work out, only what can be compared."""

from __future__ import annotations

from dataclasses import replace

from site_under_test import whole_library
from sweep.cases import TODAY, Chosen, make_case

from fingerpost.model.case import Baseline, Case
from fingerpost.model.library import Library
from fingerpost.model.times import Day
from fingerpost.model.words import FINGERS
from fingerpost.plan.base.pictures import LoadPicture, StrengthPicture
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.visible import list_drawings
from fingerpost.plan.injury.grip_loads import load_chart, load_table, published_table
from fingerpost.plan.leaf.handout import plan_handout

# ------------------------------------------------------------------ the load of grips


def draw_chart(library: Library) -> LoadPicture:
    picture = load_chart(Writer(library)).picture
    assert isinstance(picture, LoadPicture)
    return picture


def test_no_grip_of_fewer_than_four_fingers_looks_mild(library: Library) -> None:
    fewer = {g.name for g in library.vocabularies.grips if len(g.fingers) < len(FINGERS)}
    assert {"One-finger pocket", "Two-finger pocket"} <= fewer
    names = {row.name for row in draw_chart(library).rows}
    assert "Full crimp" in names
    assert not fewer & names
    assert not fewer & {plain(row[0]) for row in load_table(Writer(library)).rows}


def test_who_cannot_see_the_chart_hears_which_grip_loads_a_pulley_most(library: Library) -> None:
    """And every bar with its range, in the same figures as in the table."""
    title = draw_chart(library).title
    assert "Full crimp loads A2 most, Sloper least:" in title
    assert "Full crimp loads A4 most, Sloper least:" in title
    rows = {plain(row[0]): [plain(cell) for cell in row[1:]] for row in load_table(Writer(library)).rows}
    assert len(rows) >= 5
    for name, (a2, a4) in rows.items():
        assert f"{name} {a2}" in title
        assert f"{name} {a4.partition('[')[0].strip()}" in title


def test_the_table_of_the_same_figures_opens_at_words(library: Library) -> None:
    assert load_table(Writer(library)).folded
    published = published_table(Writer(library))
    assert published is not None
    assert not published.folded, "what our sums are held against is never folded away"


def test_each_grip_of_the_chart_has_its_own_picture(library: Library) -> None:
    icons = [row.grip for row in draw_chart(library).rows]
    assert all(icon.small and not icon.mark for icon in icons)
    assert len({(icon.mcp, icon.pip, icon.dip, icon.hold) for icon in icons}) == len(icons)


def test_what_was_measured_stands_beside_ours_with_the_gap_between_them(library: Library) -> None:
    table = published_table(Writer(library))
    assert table is not None
    rows = {plain(row[0]): [plain(cell) for cell in row[1:]] for row in table.rows}
    for pulley, measured in (("A2", 2.37), ("A4", 2.19)):
        published, ours, compared = rows[pulley]
        assert published.startswith(f"{measured}")
        percent = round((float(ours) / measured - 1) * 100)
        assert abs(percent) > 10, "a gap as small as this would need other words"
        assert compared == f"not the same: ours is {percent} % more"


# ------------------------------------------------------------------ the strength of a person

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
        "Half crimp, 20\u00a0mm edge, one hand, pull. Right hand 43 kg; Left hand 28 kg; "
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
