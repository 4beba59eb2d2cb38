"""What a leaf says of the last visit: the facts that differ, the most important first, and nothing else."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from desk_cases import make_cases
from site_under_test import whole_library
from sweep.cases import TODAY
from visit_cases import BY, STAGES, ago, case_of, since, visit

from fingerpost.make.leaf.settings import BACK_STEPS, FRONT_STEPS
from fingerpost.model.case import Baseline, Began, Case
from fingerpost.model.times import write_date
from fingerpost.plan.case.situation import read_situation
from fingerpost.plan.leaf.since import MOST_WORDS
from fingerpost.plan.person.coach import plan_coach_sheet
from fingerpost.plan.person.reasons import list_reasons
from fingerpost.plan.person.since import list_changes
from fingerpost.read import validate
from fingerpost.reckon.visits import log_visit

# ------------------------------------------------------------------ what is said


def test_nothing_is_said_without_an_earlier_visit() -> None:
    assert since(case_of("easy-climbing")) == ""
    assert since(case_of("easy-climbing", visit(0, "easy-climbing", checked=BY))) == ""
    assert since(replace(case_of("easy-climbing"), began=(Began(stage="first-load", date=ago(30)),))) == ""


def test_moved_on_stayed_and_went_back_are_told_with_the_day() -> None:
    day = write_date(TODAY - timedelta(days=14)).split()
    head = f"Since your last visit, {day[0]} {day[1][:3]}: "
    on = case_of("easy-climbing", visit(14, "first-load"), visit(0, "easy-climbing"))
    assert since(on).startswith(f"{head}Moved on from stage 3 to 4. ")
    stayed = case_of("easy-climbing", visit(14, "easy-climbing"), visit(0, "easy-climbing"))
    assert since(stayed) == f"{head}Still stage 4."
    back = case_of("first-load", visit(14, "easy-climbing"), visit(0, "first-load"))
    assert since(back).startswith(f"{head}Back from stage 4 to 3. ")


def test_it_is_the_same_before_the_visit_is_written_down_and_after() -> None:
    before = case_of("easy-climbing", visit(14, "first-load", checked=BY))
    assert since(before) == since(log_visit(before, TODAY, "0123abcd")) != ""


def test_grips_taken_away_come_before_grips_that_are_new() -> None:
    """A grip that is a yes on an old leaf at home, and a no today, must be read first."""
    back = since(case_of("easy-climbing", visit(7, "build"), visit(0, "easy-climbing")))
    assert "No longer: " in back
    assert back.index("Back from") < back.index("No longer: ")
    for word in ("New: ", "New on"):
        assert word not in back
    on = since(case_of("easy-climbing", visit(7, "first-load"), visit(0, "easy-climbing")))
    assert "No longer" not in on
    assert "New on the wall: big hold; with limits: open hand, three-finger drag and sloper." in on


def test_each_grip_is_told_as_the_leaf_shows_it() -> None:
    """What is new, gone or held back is exactly what differs between the two stages of the protocol."""
    protocol = whole_library().find_protocol("pulley")
    assert protocol
    for then, now in ((a, b) for a in STAGES for b in STAGES if a != b):
        case = case_of(now, visit(7, then), visit(0, now))
        told = {c.what: c.now for c in list_changes(read_situation(case, whole_library(), TODAY)) if c.kind == "grip"}
        marks = []
        for stage in (next(s for s in protocol.stages if s.id == name) for name in (then, now)):
            yes = "yes" if stage.on_wall else "floor"
            some = {g: "limit" if stage.on_wall else "floor" for rule in stage.grips.limit for g in rule.grips}
            marks.append({**dict.fromkeys(stage.grips.leave, "no"), **dict.fromkeys(stage.grips.keep, yes), **some})
        assert told == {g: marks[1][g] for g in marks[1] if marks[0][g] != marks[1][g]}, (then, now)


def test_a_load_is_told_with_both_sums_and_the_tests_of_each_day() -> None:
    """40 kg three weeks ago and 50 kg today: a fifth of each; a test of today does not change what was printed."""

    def pulled(days: int, kg: float) -> Baseline:
        return Baseline(date=ago(days), hand="right", grip="open-hand", edge_mm=20, method="pull", kg=(kg,))

    both = case_of(
        "first-load", visit(20, "first-load"), visit(0, "first-load"), baselines=(pulled(21, 40), pulled(0, 50))
    )
    loads = [c for c in list_changes(read_situation(both, whole_library(), TODAY)) if c.kind == "load"]
    assert [(c.what, c.before, c.now) for c in loads] == [("open-hand", "8 kg", "10 kg")]
    assert since(both).endswith("Load, open hand: 8 kg to 10 kg.")
    one = replace(both, baselines=(pulled(0, 50),))
    assert not [c for c in list_changes(read_situation(one, whole_library(), TODAY)) if c.kind == "load"]


def test_measures_are_told_only_where_both_visits_have_them_and_differ() -> None:
    before = visit(14, "move", bend_degrees=70, round_mm=61, lack_degrees=10, pain=3)
    now = visit(0, "move", bend_degrees=85, round_mm=61, pain=1)
    says = since(case_of("move", before, now))
    assert says.endswith(": Still stage 2. Bend: 70 to 85 degrees. Worst pain: 3 to 1.")
    swollen = since(case_of("move", before, replace(now, round_mm=59.5, bend_degrees=70, pain=None)))
    assert swollen.endswith(": Still stage 2. Round the joint: 61 to 59.5 mm.")


def test_it_is_short_plain_and_neither_praises_nor_blames() -> None:
    judged = ("better", "worse", "good", "bad", "well done", "improv", "heal", "progress", "sadly", "!")
    texts = [
        since(case)
        for data in make_cases(whole_library(), 200, TODAY)
        if "visits" in data and (case := validate.read_value(Case, data)[0])
    ]
    said = [text for text in texts if text]
    assert len(said) > 20
    for text in said:
        assert len(text.split()) <= MOST_WORDS
        assert not [word for word in judged if word in text.lower()]
        assert "{" not in text


def test_a_stop_says_nothing_of_it_and_its_end_is_told_as_what_it_is() -> None:
    stopped = make_cases(whole_library(), 7, TODAY)[2]
    assert stopped["protocol"] == "growth-plate"
    case, _ = validate.read_value(Case, {**stopped, "began": [], "visits": [
        {"date": ago(5), "stage": stopped["stage"]}, {"date": ago(0), "stage": stopped["stage"]},
    ]})  # fmt: skip
    assert case
    held = replace(case, doctor_cleared=None)
    assert since(held) == ""
    cleared = replace(case, doctor_cleared=ago(2))
    assert "A doctor has cleared the finger." in since(cleared)
    assert "stage" not in since(cleared)


def test_where_each_difference_comes_from_can_be_asked() -> None:
    case = case_of("easy-climbing", visit(14, "first-load", pain=3), visit(0, "easy-climbing", pain=1))
    whys = [str(why) for why in list_reasons(whole_library(), case, TODAY) if why.label.startswith("since the last")]
    assert len(whys) == len(list_changes(read_situation(case, whole_library(), TODAY)))
    assert f"last visit = {ago(14)}; its stage = first-load; then = 3; now = 4" in whys[0]
    assert "then = 3; now = 1" in whys[-1]


def test_a_coach_reads_nothing_of_visits() -> None:
    case = case_of("easy-climbing", visit(14, "first-load", pain=3), visit(0, "easy-climbing"), share_with_coach=True)
    bare = replace(
        case, visits=(), began=(Began(stage="first-load", date=ago(14)), Began(stage=case.stage, date=ago(0)))
    )
    sheets = [replace(plan_coach_sheet(whole_library(), c, TODAY), file_stem="") for c in (case, bare)]
    assert sheets[0] == sheets[1]


def test_what_has_changed_gives_way_on_each_side() -> None:
    assert "since-to-back" in FRONT_STEPS
    assert "no-since" in BACK_STEPS
