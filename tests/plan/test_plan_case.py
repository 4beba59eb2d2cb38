"""A case that cannot be is refused with the reason, and a safety hold cannot be lifted from a case.

- cases that cannot be: each is refused with its place and reason
- safety holds: growing fingers, surgeons' grades, drafts
- what is printed for whom: hand, tape, loads, gates, names
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import combinations
from typing import Any, get_args

import pytest

from fingerpost.model.case import Anchor, Baseline, Began, Case, EnclosureName, FingerSize, ImportantDate
from fingerpost.model.library import Library
from fingerpost.model.times import Day
from fingerpost.plan.base.illustrate import finger_name
from fingerpost.plan.base.outline import outline_handout
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.visible import list_words
from fingerpost.plan.case.check import find_case_findings
from fingerpost.plan.case.situation import read_situation
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.person.way_back import short_date

TODAY = date(2026, 11, 25)


@pytest.fixture
def pulley(cases: dict[str, Case]) -> Case:
    return cases["pulley-left-ring"]


@pytest.fixture
def collateral(cases: dict[str, Case]) -> Case:
    return cases["collateral-right-middle"]


@pytest.fixture
def growing(cases: dict[str, Case]) -> Case:
    return cases["growth-plate-left-middle"]


IMPOSSIBLE: list[tuple[dict[str, Any], tuple[str | int, ...], str]] = [
    ({"protocol": "puley"}, ("protocol",), "no protocol is called 'puley'"),
    ({"protocol": "mallet-finger"}, ("protocol",), "a doctor has to see it"),
    ({"grade": "any"}, ("grade",), "has the grades I, II, III, IV"),
    ({"place": "pip-joint"}, ("place",), "is not about 'pip-joint'"),
    ({"side": "radial"}, ("side",), "has no side"),
    ({"stage": "easy"}, ("stage",), "no stage of this way back is called 'easy'"),
    ({"anchor": Anchor(event="injury", date=Day("2026-12-01"))}, ("anchor", "date"), "is after today"),
    ({"anchor": Anchor(event="injury", date=Day("2026-02-30"))}, ("anchor", "date"), "the calendar has no day"),
    ({"began": (Began(stage="build", date=Day("2026-11-20")),)}, ("began", 0, "stage"), "comes after today's stage"),
    (
        {"began": (Began(stage="settle", date=Day("2026-09-01")),)},
        ("began", 0, "date"),
        "must not be earlier than the day that all days are counted from",
    ),
    (
        {"important_dates": (ImportantDate(what="Trip", date=Day("2026-01-01")),)},
        ("important_dates", 0, "date"),
        "is in the past",
    ),
    ({"review_date": Day("2026-11-01")}, ("review_date",), "is in the past"),
    ({"doctor_cleared": Day("2027-01-01")}, ("doctor_cleared",), "a doctor can have cleared the finger only between"),
    ({"finger_sizes": (FingerSize(finger="ring", mm=6.0),)}, ("finger_sizes", 0, "mm"), "looks like centimetres"),
    ({"finger_sizes": (FingerSize(finger="ring", mm=2.3),)}, ("finger_sizes", 0, "mm"), "looks like inches"),
    (
        {"finger_sizes": (FingerSize(finger="ring", mm=60), FingerSize(finger="ring", mm=61))},
        ("finger_sizes", 1, "finger"),
        "is measured twice",
    ),
    ({"plate_kg": 0.3}, ("plate_kg",), "no plate weighs 0.3 kg"),
    ({"tapings": ("buddy-together",)}, ("tapings", 0), "has no taping 'buddy-together'"),
]


@pytest.mark.parametrize(("change", "path", "says"), IMPOSSIBLE, ids=lambda v: str(v)[:40])
def test_an_impossible_case_is_refused_with_its_place_and_reason(
    change: dict[str, Any], path: tuple[str | int, ...], says: str, pulley: Case, library: Library
) -> None:
    findings = list(find_case_findings(replace(pulley, **change), library, TODAY))
    assert [p for p, _, _ in findings] == [path]
    assert says in findings[0][1]


@pytest.mark.parametrize(
    ("kg", "edge", "says"),
    [
        ((0.0,), 20, "not a load that fingers can be tested with"),
        ((400.0,), 20, "not a load that fingers can be tested with"),
        ((float("nan"),), 20, "not a load"),
        ((30.0,), 2, "nobody tests on an edge of 2 mm"),
    ],
)
def test_a_baseline_that_cannot_be_is_refused(
    kg: tuple[float, ...], edge: float, says: str, pulley: Case, library: Library
) -> None:
    baseline = Baseline(date=Day("2026-11-20"), hand="right", grip="half-crimp", edge_mm=edge, method="pull", kg=kg)
    findings = list(find_case_findings(replace(pulley, baselines=(baseline,)), library, TODAY))
    assert len(findings) == 1
    assert says in findings[0][1]


def test_a_collateral_needs_its_side(collateral: Case, library: Library) -> None:
    findings = list(find_case_findings(replace(collateral, side=None), library, TODAY))
    assert [p for p, _, _ in findings] == [("side",)]
    assert "needs a side" in findings[0][1]


def test_an_adult_has_no_growth_plate_injury(growing: Case, library: Library) -> None:
    findings = list(find_case_findings(replace(growing, age_band="adult"), library, TODAY))
    assert [p for p, _, _ in findings] == [("age_band",)]


def test_the_demo_cases_have_nothing_against_them(cases: dict[str, Case], library: Library) -> None:
    for case in cases.values():
        assert not list(find_case_findings(case, library, TODAY))


def test_a_grade_that_means_other_places_is_refused(pulley: Case, library: Library) -> None:
    """A4 torn through is grade II. Source: Schöffl and others, 2003, as later reviews repeat the grading."""
    findings = list(find_case_findings(replace(pulley, grade="III", place="a4-pulley"), library, TODAY))
    assert [p for p, _, _ in findings] == [("grade",)]
    assert findings[0][2] == "Another place, or one of the grades I, II, IV."


def test_only_what_is_meant_for_a_grade_is_told_to_it(pulley: Case, library: Library) -> None:
    early = replace(pulley, anchor=Anchor(event="injury", date=Day("2026-11-20")), began=(), stage="settle")
    second, third = (leaf_of(library, replace(early, grade=g)) for g in ("II", "III"))
    assert "Splint on for 10 days [1]." in second
    assert "oulded" not in second
    assert "Moulded ring on as told." in third
    assert "plint" not in third.replace("take the splint or ring off", "")


# ------------------------------------------------------------------ holds


EVERYTHING: tuple[EnclosureName, ...] = get_args(EnclosureName)


def text_of(library: Library, case: Case) -> str:
    """The leaf with every sheet that can be enclosed."""
    return outline_handout(plan_handout(library, replace(case, enclose=EVERYTHING), TODAY))


def leaf_of(library: Library, case: Case) -> str:
    """The leaf alone, on one line."""
    return " ".join(outline_handout(plan_handout(library, replace(case, enclose=()), TODAY)).split())


PROGRAMME = (
    "[gripfields]",
    "[week]",
    "[tapehow]",
    "[ticks]",
    "[ahead]",
    "[grips]",
    "[diary]",
    "Your load",
    "{exercise",
)


def find_programme(outline: str) -> list[str]:
    """What tells somebody what to climb, train or tape, which nobody reads who has to stop."""
    return [part for part in PROGRAMME if part in outline]


def test_a_home_programme_is_known_when_it_is_seen(pulley: Case, library: Library) -> None:
    assert find_programme(text_of(library, pulley)) == [part for part in PROGRAMME if part != "[grips]"]


def test_a_growing_finger_gets_the_stop_sheet_and_no_load(growing: Case, library: Library) -> None:
    outline = text_of(library, growing)
    assert "=== LEAF === stop" in outline
    assert "Stop. Today: no climbing. | Do not load this hand until a doctor says that you may." in outline
    assert find_programme(outline) == []


def test_only_a_doctors_clearing_lifts_the_stop(growing: Case, library: Library) -> None:
    cleared = replace(growing, doctor_cleared=Day("2026-11-20"))
    assert read_situation(growing, library, TODAY).hold == "stop"
    assert read_situation(cleared, library, TODAY).hold == ""
    assert "A doctor cleared this finger on 20 November 2026." in text_of(library, cleared)


@pytest.mark.parametrize("name", ["pulley-left-ring", "collateral-right-middle"])
def test_an_under_18_with_a_finger_joint_is_held(name: str, cases: dict[str, Case], library: Library) -> None:
    young = replace(cases[name], age_band="under-18")
    assert read_situation(young, library, TODAY).hold == "under-18"
    outline = text_of(library, young)
    assert "=== LEAF === stop" in outline
    assert find_programme(outline) == []


def test_a_surgeons_grade_prints_no_home_programme(pulley: Case, library: Library) -> None:
    outline = text_of(library, replace(pulley, grade="IV", stage="settle", began=()))
    assert "Do not load this hand until a hand surgeon says that you may." in outline
    assert find_programme(outline) == []


def test_every_surgeons_grade_of_every_protocol_is_held(library: Library, pulley: Case) -> None:
    held = 0
    for document in library.protocols:
        protocol = document.value
        for grade in (g for g in protocol.grades if g.treated_by == "surgeon"):
            case = replace(
                pulley,
                protocol=protocol.id,
                grade=grade.id,
                place=protocol.places[0],
                side="radial" if protocol.needs_side else None,
                stage=protocol.stages[0].id,
                began=(),
                tapings=(),
            )
            assert read_situation(case, library, TODAY).hold == "surgeon"
            held += 1
    assert held >= 3


def test_a_draft_says_so_on_every_handout(cases: dict[str, Case], library: Library) -> None:
    for case in cases.values():
        handout = plan_handout(library, case, TODAY)
        assert "Draft text." in handout.foot


# ------------------------------------------------------------------ what is printed for whom


def test_a_left_hand_is_a_left_hand_throughout(pulley: Case, library: Library) -> None:
    for hand, other in (("left", "right"), ("right", "left")):
        outline = text_of(library, replace(pulley, hand=hand, baselines=()))
        assert outline.count(f"Your {hand} ring finger") >= 2, "on both sides of the leaf"
        assert f"A {hand} hand" in outline
        assert f"{other} hand" not in outline.lower()


def test_tape_allergy_prints_no_tape(pulley: Case, library: Library) -> None:
    outline = text_of(library, replace(pulley, tape_allergy=True))
    assert " ".join(Writer(library).say("tape-allergy").split()) in " ".join(outline.split())
    soft = next(t for t in library.vocabularies.tapings if t.id == "soft-ring-a2")
    assert soft.name in outline
    assert not [t.id for t in library.vocabularies.tapings if t.without_glue and t.name in outline]
    assert "Cut for your finger" not in outline
    leaf = leaf_of(library, replace(pulley, tape_allergy=True))
    assert soft.brief.format(finger="ring finger") in leaf
    assert "Lay the tape on" not in leaf


def test_a_pulley_gets_one_device(pulley: Case, library: Library) -> None:
    """Tape below a moulded ring, or a ring over a strip, would press twice on one place."""
    easy = text_of(library, replace(pulley, tapings=()))
    assert leaf_of(library, replace(pulley, tapings=())).count("[tapehow]") == 1
    assert "H-shaped strip round the middle joint" in easy
    assert "Ring of tape on the base segment" not in easy
    assert "Ring of tape on the middle segment" not in easy, "an A4 ring is not for an A2 pulley"
    assert "Moulded pulley ring" not in easy, "the moulded ring is for grade III"


def test_the_clinician_chooses_among_tapings(collateral: Case, library: Library) -> None:
    splint = next(t.name for t in library.vocabularies.tapings if t.id == "extension-splint")
    both = replace(collateral, tapings=("buddy-injured-side", "extension-splint"))
    one = replace(collateral, tapings=("buddy-injured-side",))
    assert "Tape middle finger to index finger" in leaf_of(library, both)
    assert "Tape middle finger to index finger" in leaf_of(library, one)
    for tell in (text_of, leaf_of):
        assert splint in tell(library, both)
        assert splint not in tell(library, one)


@pytest.mark.parametrize(
    ("finger", "side", "partner"),
    [
        ("middle", "radial", "index"),
        ("middle", "ulnar", "ring"),
        ("ring", "ulnar", "little"),
        ("index", "ulnar", "middle"),
    ],
)
def test_buddy_tape_goes_to_the_hurt_side(
    finger: Any, side: Any, partner: Any, collateral: Case, library: Library
) -> None:
    outline = " ".join(text_of(library, replace(collateral, finger=finger, side=side)).split())
    writer = Writer(library)
    names = {"finger": finger_name(writer, finger), "partner": finger_name(writer, partner)}
    assert writer.say("buddy-closes-the-injured-side", **names) in outline
    assert f"{finger} finger to your {partner} finger" in outline


def test_a_finger_without_a_neighbour_on_the_hurt_side_says_so(collateral: Case, library: Library) -> None:
    outline = " ".join(text_of(library, replace(collateral, finger="little", side="ulnar")).split())
    assert "There is no finger on the hurt side." in outline


SUBSETS = [names for count in (0, 1, 2, 5) for names in combinations(EVERYTHING, count)]


@pytest.mark.parametrize("enclosed", SUBSETS, ids="+".join)
def test_whatever_is_enclosed_warnings_and_sources_are_printed(
    enclosed: tuple[EnclosureName, ...], pulley: Case, library: Library
) -> None:
    handout = plan_handout(library, replace(pulley, enclose=enclosed), TODAY)
    assert [sheet.number for sheet in handout.sheets] == list(range(1, len(enclosed) + 1))
    (leaf,) = handout.leaves
    assert leaf.front.help
    assert len(leaf.front.help.groups) == 3
    alone = plan_handout(library, replace(pulley, enclose=()), TODAY)
    assert handout.leaves == alone.leaves, "nothing on a leaf hangs on what goes with it"


def test_a_new_stage_encloses_how_to_tape_and_train(pulley: Case, library: Library) -> None:
    """At the first visit also what is hurt; at a later visit of the same stage nothing is handed out again."""

    def names(case: Case) -> list[str]:
        return [sheet.name for sheet in plan_handout(library, case, TODAY).sheets]

    today = Day(TODAY.isoformat())
    assert names(pulley) == []
    assert names(replace(pulley, began=())) == ["tape", "exercises", "about"]
    assert names(replace(pulley, began=(*pulley.began[:-1], replace(pulley.began[-1], date=today)))) == [
        "tape",
        "exercises",
    ]


def test_no_page_of_a_handout_calls_the_person_a_patient(cases: dict[str, Case], library: Library) -> None:
    for case in cases.values():
        words = " ".join(plain(w) for w in list_words(plan_handout(library, case, TODAY), heard=True))
        assert "the patient" not in words.lower()


def test_names_and_dates_stay_out_of_file_names_and_titles(pulley: Case, library: Library) -> None:
    named = replace(pulley, name="Canary Wren", reference="QX-77")
    handout = plan_handout(library, named, TODAY)
    for hidden in ("Canary", "Wren", "QX", "77-", "2026"):
        assert hidden not in handout.file_stem
        assert hidden not in handout.title + handout.foot + handout.head
    assert "Canary Wren (QX-77)" in outline_handout(handout)


def test_the_same_case_gives_the_same_plan(cases: dict[str, Case], library: Library) -> None:
    for case in cases.values():
        assert plan_handout(library, case, TODAY) == plan_handout(library, case, TODAY)


def test_a_late_start_moves_the_later_windows_and_never_earlier(pulley: Case, library: Library) -> None:
    late = read_situation(pulley, library, TODAY).way
    usual = read_situation(replace(pulley, began=(), stage="settle"), library, date(2026, 9, 21)).way
    assert late
    assert usual
    for a, b in zip(late.windows, usual.windows, strict=True):
        assert a.days.usual >= b.days.usual


def test_a_load_starts_at_the_least_and_never_reaches_the_own_best(pulley: Case, library: Library) -> None:
    """70 % of the healthy hand (39 kg) is 92 % of what the sore one has held (29.5 kg): nobody starts there."""
    text = " ".join(text_of(library, pulley).split())
    assert "Start with 15.5 kg. Your clinician says when to add, up to 27 kg at the most." in text
    assert "Stay below the 29.5 kg that your left hand itself has pulled." in text
    untested = replace(pulley, baselines=tuple(b for b in pulley.baselines if b.hand == "right"))
    text = " ".join(text_of(library, untested).split())
    assert "Your left hand has not been tested in this grip. Stay at the start until it has been." in text


def test_a_strip_that_comes_loose_is_counted_twice(pulley: Case, library: Library) -> None:
    """A person who cuts one strip for a session climbs its second half with tape that no longer holds."""
    assert "Two a session [p], so 4 strips" in text_of(library, pulley)


def test_every_gate_says_who_tells_and_from_when(pulley: Case, library: Library) -> None:
    you, _, clinic = leaf_of(library, pulley).partition("The clinic tests, not you")
    # Published: easy climbing from 4 weeks, half crimp from 6.
    assert "Easy climbing for at least 2 weeks, without going back a step [o]. Count from 16 Nov." in you
    assert "Three calm sessions in a row" in you
    began = (Began(stage="build", date=Day("2026-11-25")),)
    injury = Anchor(event="injury", date=Day("2026-09-16"))
    build = replace(pulley, grade="III", stage="build", anchor=injury, began=began, tapings=(), baselines=())
    you, _, clinic = leaf_of(library, build).partition("The clinic tests, not you")
    assert "90 %" not in you
    # Week 12 after 16 September is 9 December, later than the visit on 2 December.
    late = read_situation(build, library, TODAY).way
    assert late
    day = date(2026, 12, 9) + timedelta(days=late.delay_days)
    assert f"Goal: ____ kg in half crimp, ____ kg in open hand. Not before {short_date(day)}." in clinic
    soon = replace(build, review_date=Day(day.isoformat()))
    assert "Not before" not in leaf_of(library, soon), "no day before the next visit is told"


def test_a_growing_finger_counts_days_without_a_window(growing: Case, library: Library) -> None:
    cleared = replace(growing, doctor_cleared=Day("2026-11-20"), stage="easy-climbing")
    assert "Easy climbing for at least 4 weeks, without going back a step [o]." in leaf_of(library, cleared)


def test_fingers_taped_together_all_day_are_taped_every_day(collateral: Case, library: Library) -> None:
    assert "On 7 days a week: 14 strips" in text_of(library, collateral)
    climbing = replace(
        collateral, stage="easy-climbing", began=(), visits=(), anchor=Anchor(event="injury", date=Day("2026-10-01"))
    )
    assert "On 7 days a week" not in text_of(library, climbing)


def test_a_share_above_what_the_sore_hand_has_held_is_no_load(pulley: Case, library: Library) -> None:
    """'Start with 15.5 kg' and 'stay below 12 kg' on one sheet would leave the choice to the climber."""
    tests = tuple(replace(b, kg=(12.0,)) if b.hand == "left" else b for b in pulley.baselines)
    text = " ".join(text_of(library, replace(pulley, baselines=tests)).split())
    assert "The least load of this stage would be 15.5 kg, and your left hand has pulled only 12 kg." in text
    assert "Start with" not in text


def test_a_splint_for_some_is_printed_only_by_choice(cases: dict[str, Case], library: Library) -> None:
    """A splint for the night is for a joint that does not straighten, and nobody but a clinician knows which does."""
    sprain = replace(cases["collateral-right-middle"], tapings=())
    assert "Splint that holds the middle joint straight" not in text_of(library, sprain)
    both = replace(sprain, tapings=("buddy-injured-side", "extension-splint"))
    assert "Splint that holds the middle joint straight" in text_of(library, both)
