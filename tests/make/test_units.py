"""A case in pounds: whoever loads plates reads pounds and nothing else, and what is typed in the other unit is told."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from for_each import for_each
from site_under_test import make_templates, whole_library
from sweep.cases import ENCLOSURES, TODAY, Chosen, make_case
from sweep.plant import USUAL

from fingerpost.make.handout_html import write_html
from fingerpost.model.case import Case
from fingerpost.model.masses import Units
from fingerpost.plan.case.check import find_case_findings
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.person.coach import plan_coach_sheet
from fingerpost.plan.person.doubts import find_case_doubts
from fingerpost.plan.person.reasons import list_reasons
from fingerpost.run import cli

LIBRARY = whole_library()
LOADED = [(d.value.id, s.id) for d in LIBRARY.protocols for s in d.value.stages if s.load]
NAMED = {"kg": re.compile(r"\b(?:kg|kilograms?)\b"), "lb": re.compile(r"\b(?:lbs?|pounds?)\b")}


@cache
def weighed(protocol: str, stage: str, units: Units, strength: str = "sore hand weaker", method: str = "pull") -> Case:
    found = LIBRARY.find_protocol(protocol)
    assert found
    grade = [g.id for g in found.grades if g.treated_by != "surgeon"][-1]
    row = {
        **USUAL,
        "step": (grade, stage),
        "finger": found.fingers[0],
        "place": next(iter(next(g for g in found.grades if g.id == grade).places or found.places)),
        "side": "radial" if found.needs_side else None,
        "strength": strength,
        "share": True,
        "enclose": ENCLOSURES,
        "units": units,
    }
    case = make_case(LIBRARY, Chosen(found, row))
    body = {"kg": {"body_mass_kg": 65.0}, "lb": {"body_mass_lb": 142.0}}[units]
    return replace(case, **body, baselines=tuple(replace(b, method=method) for b in case.baselines))


def told(case: Case) -> str:
    """All that is printed of a case and all that its clinician is told, with what only screen readers say."""
    planned = repr(plan_handout(LIBRARY, case, TODAY))
    doubts = (message for _, message, _ in find_case_doubts(case, LIBRARY, TODAY))
    whys = (str(why) for why in list_reasons(LIBRARY, case, TODAY))
    return "\n".join((planned, repr(plan_coach_sheet(LIBRARY, case, TODAY)), *doubts, *whys))


@for_each("step", LOADED)
def test_no_kilogram_stands_on_a_handout_in_pounds(step: tuple[str, str]) -> None:
    words = told(weighed(*step, "lb"))
    assert not NAMED["kg"].findall(words)
    assert re.search(r"\d lb\b", words.replace("\u00a0", " "))


@for_each("strength", ["none", "healthy hand only", "sore hand stronger", "sore hand very weak"])
def test_no_kilogram_stands_on_any_kind_of_handout_in_pounds(strength: str) -> None:
    for step in (("pulley", "build"), ("collateral-sprain", "first-load")):
        for method in ("pull", "hang"):
            assert not NAMED["kg"].findall(told(weighed(*step, "lb", strength, method)))


def test_large_print_in_pounds_names_pounds_alone() -> None:
    case = weighed("pulley", "build", "lb")
    for size in (14, 18, 24):
        assert not NAMED["kg"].findall(told(replace(case, print_size=size)))


def test_no_pound_stands_on_a_handout_in_kilograms() -> None:
    assert not NAMED["lb"].findall(told(weighed("pulley", "build", "kg")))


def test_the_least_load_and_the_goal_are_told_as_the_scale_shows_them() -> None:
    """By hand: 50 % of 88 lb is 44 lb, and 90 % of it 79.2 lb."""
    case = weighed("pulley", "build", "lb")
    html = write_html(make_templates(), plan_handout(LIBRARY, replace(case, enclose=()), TODAY)).replace("\u00a0", " ")
    assert "<strong>44 lb</strong> (feet on the floor)" in html
    words = told(case)
    assert "share = 50 %; reference = 88 lb; plate = 1 lb; exercise = half-crimp-pull" in words
    assert "goal of the strength test: 79.2 lb" in words
    assert "share = 90 %; healthy hand = 88 lb; grip = half crimp; edge = 20 mm" in words


@pytest.mark.parametrize("units", ["kg", "lb"])
def test_a_case_with_both_units_is_refused_at_each_place(units: Units) -> None:
    case = weighed("pulley", "build", units)
    body = {"kg": {"plate_lb": 2.5}, "lb": {"plate_kg": 0.5}}[units]
    found = list(find_case_findings(replace(case, **body), LIBRARY, TODAY))
    assert [path for path, _, _ in found] == [tuple(body)]
    message, hint = found[0][1:]
    assert ("in pounds, and this is in kilograms" in message) == (units == "lb")
    assert "or `units: " in hint


def test_a_case_that_forgot_its_unit_is_refused_where_each_mass_stands() -> None:
    """Pounds taken for kilograms would be more than twice the load."""
    case = replace(weighed("pulley", "build", "lb"), units="kg")
    paths = [path for path, _, _ in find_case_findings(case, LIBRARY, TODAY)]
    assert paths == [("body_mass_lb",), *(("baselines", n, "lb") for n in range(len(case.baselines)))]


def test_the_line_of_a_mass_in_the_other_unit_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (Path(__file__).parents[2] / "templates" / "project" / "case.yml").read_text("utf-8")
    file = tmp_path / "case.yml"
    file.write_text(text.replace("plate_kg: 0.5", "plate_lb: 2.5"), "utf-8")
    line = text.splitlines().index("plate_kg: 0.5") + 1
    assert cli.main(["check", str(file), "--today", "2026-11-25"]) == 1
    assert f"{file}:{line}: plate_lb: the masses of this case are in kilograms" in capsys.readouterr().out
