"""The door of the desk: what it is asked and what it answers, without a browser."""

from __future__ import annotations

import base64
import dataclasses
import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from desk_cases import make_cases
from hypothesis import given
from hypothesis import strategies as st

from fingerpost.desk.api import Door, open_door, write_kit
from fingerpost.make import pdf
from fingerpost.make.drawn import pictures
from fingerpost.model.case import Anchor, Case, Clinic
from fingerpost.model.library import Library
from fingerpost.model.times import Day
from fingerpost.model.words import LINE_SHAPE, TEXT_SHAPE
from fingerpost.plan.case.check import find_case_problems
from fingerpost.plan.case.file import to_plain
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.person.calendar import write_calendar
from fingerpost.read import validate, yaml_events
from fingerpost.read.library import read_case, read_plain
from fingerpost.reckon.visits import log_visit
from fingerpost.rewrite.arrange import write_plain

TODAY = date(2026, 11, 25)


@pytest.fixture(scope="module")
def door(library: Library, project: Path) -> Door:
    return open_door(write_kit(library, pdf.read_templates(project / "templates")))


@pytest.fixture(scope="module")
def demo(project: Path) -> dict[str, Any]:
    path = project / "tests" / "golden" / "cases" / "pulley-left-ring.yml"
    data: dict[str, Any] = read_plain(path.read_text(encoding="utf-8"), path.name)
    return data


def ask(door: Door, what: str, **more: Any) -> dict[str, Any]:
    question = {"ask": what, "today": TODAY.isoformat(), **more}
    return dict(json.loads(door.answer(json.dumps(question))))


def test_the_collection_survives_the_way_into_the_browser(door: Door, library: Library) -> None:
    assert [d.value for d in door.library.protocols] == [d.value for d in library.protocols]
    assert [d.value for d in door.library.referrals] == [d.value for d in library.referrals]
    assert door.library.vocabularies == library.vocabularies
    assert door.library.clinic == library.clinic


def test_the_sheets_are_those_of_the_command_line(door: Door, demo: dict[str, Any], library: Library) -> None:
    answer = ask(door, "sheets", case=demo)
    case, _ = validate.read_value(Case, demo)
    assert case
    planned = plan_handout(library, case, TODAY)
    assert answer["html"] == pdf.write_html(door.environment, planned)
    assert (answer["stem"], answer["head"], answer["foot"]) == (planned.file_stem, planned.head, planned.foot)
    assert answer["findings"] == answer["missing"] == []
    assert [s["id"] for s in answer["stages"]][:2] == ["settle", "move"]
    assert answer["stages"][0]["usual"] == "21 September 2026"
    ahead = [s["usual"] for s in answer["stages"]][[s["id"] for s in answer["stages"]].index(demo["stage"]) + 1 :]
    assert ahead
    for day in ahead:  # the form and the paper never name two days for one stage
        number, month, _ = day.split()
        assert f"{number} {month[:3]}" in answer["html"]
    assert ask(door, "calendar", case=demo)["text"] == write_calendar(library, case, TODAY)


def test_what_is_missing_is_not_wrong_yet(door: Door, demo: dict[str, Any]) -> None:
    part = {key: demo[key] for key in ("protocol", "grade", "began")}
    answer = ask(door, "sheets", case=part)
    assert answer["findings"] == []
    assert answer["missing"] == ["reference", "age_band", "hand", "finger", "place", "anchor", "stage"]
    assert "html" not in answer


def test_what_is_wrong_already_is_said_before_all_is_there(door: Door, demo: dict[str, Any]) -> None:
    part = {"protocol": "pulley", "began": [], "anchor": {"event": "injury", "date": "2026-12-01"}, "plate_kg": "x"}
    answer = ask(door, "sheets", case=part)
    assert [f["at"] for f in answer["findings"]] == ["plate_kg"]
    part["plate_kg"] = 0.5
    answer = ask(door, "sheets", case=part)
    assert [(f["at"], f["says"]) for f in answer["findings"]] == [
        ("anchor.date", "1 December 2026 is after today, 25 November 2026: it must have happened")
    ]
    assert "stage" in answer["missing"]


def test_a_test_without_a_try_is_not_wrong_yet(door: Door, demo: dict[str, Any]) -> None:
    """Whoever has just chosen the hand and the grip is not told that there is no attempt."""
    begun = {**demo["baselines"][0], "kg": []}
    answer = ask(door, "sheets", case={**demo, "baselines": [*demo["baselines"], begun]})
    assert (answer["findings"], answer["missing"]) == ([], [f"baselines[{len(demo['baselines'])}].kg"])
    early = {key: demo[key] for key in ("protocol", "grade", "began", "anchor")}
    answer = ask(door, "sheets", case={**early, "units": "lb", "baselines": [{**begun, "lb": []}]})
    assert answer["findings"] == []


def test_a_file_gets_the_lines_of_the_command_line(door: Door, library: Library, project: Path, tmp_path: Path) -> None:
    good = (project / "tests" / "golden" / "cases" / "pulley-left-ring.yml").read_bytes()
    for number, (old, new) in enumerate([
        (b"", b""), (b"grade: II", b"grade: any"), (b"hand: left", b"hand: both"), (b"kg: [40.5", b"kg: [40.5: x"),
        (b"reference", b"\xff"), (b"reference: ", b"reference: *a"), (b"date: 2026-09-21", b"date: <to fill>"),
    ]):  # fmt: skip
        path = tmp_path / f"{number}.yml"
        path.write_bytes(good.replace(old, new, 1))
        document, found = read_case(path, path.name)
        found += find_case_problems(document, library, TODAY) if document else []
        answer = ask(door, "open", name=path.name, bytes=base64.b64encode(path.read_bytes()).decode())
        assert answer["problems"] == [str(p) for p in sorted(set(found))]
        assert ("case" in answer) == (document is not None)
    assert ask(door, "open", name="x.yml", bytes=base64.b64encode(b"x" * 1_000_001).decode())["problems"] == [
        "x.yml: the file is larger than 1,000,000 bytes\n    Is this the right file?"
    ]


def test_what_is_saved_opens_as_the_same_case(door: Door, library: Library, tmp_path: Path) -> None:
    for data in make_cases(library, 70, TODAY):
        saved = ask(door, "save", case=data)
        path = tmp_path / f"{saved['stem']}.yml"
        path.write_text(saved["text"], encoding="utf-8")
        document, found = read_case(path, path.name)
        assert not found
        assert document
        case = validate.read_value(Case, data)[0]
        assert case
        assert document.value == log_visit(case, TODAY)


def texts(wanted: Any) -> st.SearchStrategy[str]:
    return st.text(st.characters(exclude_categories=["Cs"]), min_size=1).filter(
        lambda text: wanted.fits(text) and not text.endswith("\n")
    )


@given(texts(LINE_SHAPE), texts(TEXT_SHAPE), st.floats(allow_nan=False, allow_infinity=False))
def test_any_text_and_number_comes_back_from_a_file(line: str, text: str, number: float) -> None:
    case = Case(
        reference=line, age_band="adult", protocol="pulley", grade="II", hand="left", finger="ring", place="a2-pulley",
        anchor=Anchor(event="injury", date=Day("2026-01-01")), stage="settle", began=(), note=text, body_mass_kg=number,
        clinic=Clinic(name=line, lines=(line, line)),
    )  # fmt: skip
    read, found = validate.read_value(Case, yaml_events.parse(write_plain(to_plain(case), Case), fast=False).data)
    assert (read, found) == (case, [])


def test_a_fault_names_its_kind_and_repeats_nothing(door: Door, demo: dict[str, Any]) -> None:
    assert ask(door, "sheets", case={**demo, "name": "Quillonia"}, today="Quillonia") == {"fault": "ValueError"}
    assert ask(door, "nothing") == {"fault": "KeyError"}
    assert json.loads(door.answer("Quillonia")) == {"fault": "JSONDecodeError"}


def test_drawing_ahead_leaves_little_to_draw(door: Door, demo: dict[str, Any]) -> None:
    ask(door, "clear")
    part = {key: demo[key] for key in ("protocol", "grade", "hand", "finger", "place")}
    stage = rounds = 0
    while (answer := ask(door, "ahead", case=part, stage=stage))["more"]:
        stage, rounds = stage if answer["drawn"] else stage + 1, rounds + 1
    assert 20 < rounds < 150
    before = pictures._draw_once.cache_info().misses
    assert "html" in ask(door, "sheets", case=demo)
    assert pictures._draw_once.cache_info().misses - before < 10
    assert ask(door, "ahead", case={"protocol": "collateral-sprain", "began": []}, stage=0)["drawn"]
    assert not ask(door, "ahead", case={"protocol": "nothing"}, stage=0)["more"]


def test_clearing_lets_go_of_the_words_of_a_person(door: Door, demo: dict[str, Any]) -> None:
    ask(door, "sheets", case=demo)
    assert pictures._draw_once.cache_info().currsize
    assert ask(door, "clear") == {}
    assert not pictures._draw_once.cache_info().currsize


def test_a_kit_that_does_not_fit_is_refused(library: Library) -> None:
    kit = json.loads(write_kit(dataclasses.replace(library, referrals=()), {}))
    del kit["protocols"][0]["grades"]
    with pytest.raises(ValueError, match="does not fit the model"):
        open_door(json.dumps(kit))


# ------------------------------------------------------------------ what goes with the leaf


def test_the_form_is_told_what_is_enclosed(door: Door, demo: dict[str, Any]) -> None:
    """Without a choice, what a new stage needs; a choice of nothing is a choice."""
    new = {key: value for key, value in demo.items() if key != "began"} | {"began": []}
    assert ask(door, "sheets", case=new)["enclosed"] == ["tape", "exercises", "about"]
    assert ask(door, "sheets", case=demo)["enclosed"] == []
    assert ask(door, "sheets", case={**demo, "enclose": ["diary", "tape"]})["enclosed"] == ["tape", "diary"]
    assert ask(door, "sheets", case={**new, "enclose": []})["enclosed"] == []
    assert "enclose: []" in ask(door, "save", case={**new, "enclose": []})["text"]


def test_a_leaf_that_is_too_full_is_a_finding_at_what_to_shorten(door: Door, demo: dict[str, Any]) -> None:
    """A form full of words must not end in a fault, nor in a leaf that runs on to a third page."""
    answer = ask(door, "sheets", case={**demo, "note": "Take it slowly this week. " * 150})
    assert "html" not in answer
    ((found,)) = answer["findings"]
    assert found["at"] == "note"
    assert found["says"].startswith("the back of the leaf is too full by ")
    assert found["hint"].startswith("Shorten the note (`note`)")


def test_an_old_file_says_what_took_the_place_of_its_key(door: Door, project: Path) -> None:
    old = (project / "tests" / "golden" / "cases" / "pulley-left-ring.yml").read_bytes() + b"leave_out: [diary]\n"
    answer = ask(door, "open", name="old.yml", bytes=base64.b64encode(old).decode())
    assert "case" not in answer
    assert "no key is called 'leave_out' here" in answer["problems"][0]
    assert "Say under `enclose` what goes with the leaf" in answer["problems"][0]
