"""The desk in a real browser: the form filled in as a person does, and the sheets that come of it.

- the three people: filled in by hand, the sheets of the command line come out; saved and opened again
- who checked it: a day is somebody's word about one stage
- what is refused, and what may be a slip, is told beside its field
- a file that is wrong says so line by line, as on the command line
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from desk_driver import (
    TODAY,
    add_rows,
    fill,
    load,
    new_context,
    pick,
    problems,
    put,
    read_form,
    serve,
    settle,
    sheet_text,
    state,
)
from playwright.sync_api import Browser, Page, expect

from fingerpost.make import pdf
from fingerpost.make.templates import make_environment
from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.plan.case.check import find_case_findings, find_case_problems
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.person.doubts import find_case_doubts
from fingerpost.problems import count_problems
from fingerpost.read.library import read_case
from fingerpost.read.validate import read_value
from fingerpost.reckon.visits import log_visit, renew
from fingerpost.run import cli

DAY = date.fromisoformat(TODAY)
FRAME = "document.getElementById('desk-frame').contentDocument"


def words_of(html: str, page: Page) -> str:
    return str(page.evaluate("html => new DOMParser().parseFromString(html, 'text/html').body.textContent", html))


def make_html(library: Library, project: Path, case: Case) -> str:
    environment = make_environment(pdf.read_templates(project / "templates"))
    return pdf.write_html(environment, plan_handout(library, case, DAY))


# ------------------------------------------------------------------ the three people


PEOPLE: list[tuple[str, tuple[str, ...]]] = [
    ("collateral-right-middle", ()),
    ("collateral-right-middle", ("buddy-injured-side",)),
    ("growth-plate-left-middle", ()),
    ("pulley-left-ring", ()),  # only one taping fits: it is printed without a tick, and the form does not ask
]


@pytest.mark.parametrize(("name", "tapings"), PEOPLE)
def test_a_form_filled_in_gives_the_sheets_of_the_case(
    name: str, tapings: tuple[str, ...], desk: Page, demo: dict[str, Any], library: Library, cases: dict[str, Case],
    project: Path, tmp_path: Path,
) -> None:  # fmt: skip
    case = replace(cases[name], tapings=tapings)
    fill(desk, {**demo[name], "tapings": list(tapings)})
    assert state(desk) == "The sheets are up to date."
    assert problems(desk) == []
    read, found = read_value(Case, read_form(desk))
    assert (read, found) == (renew(case), [])
    shown = cases[name] if name == "pulley-left-ring" else case
    assert sheet_text(desk) == words_of(make_html(library, project, shown), desk)
    check_saved(desk, case, tmp_path)


def check_saved(desk: Page, case: Case, folder: Path) -> None:
    """What the desk saves, the command line reads as the same case; its name tells nothing."""
    with desk.expect_download() as waiting:
        desk.locator("#do-save").click()
    path = folder / waiting.value.suggested_filename
    waiting.value.save_as(path)
    document, found = read_case(path, path.name)
    assert not found
    assert document
    assert document.value == log_visit(case, DAY)
    assert path.name.startswith(f"{case.protocol}_v")
    assert not any(word in path.name for word in case.reference.split())


def test_a_saved_case_opens_again(desk: Page, cases: dict[str, Case], project: Path) -> None:
    for name, case in cases.items():
        desk.locator("#desk-chosen-file").set_input_files(project / "tests" / "golden" / "cases" / f"{name}.yml")
        expect(desk.locator("#desk-opened p")).to_have_text(f"{name}.yml is open.")
        settle(desk)
        read, found = read_value(Case, read_form(desk))
        assert (read, found) == (renew(case), [])


def test_two_minutes_from_the_first_page_to_paper(desk_site: Path, browser: Browser) -> None:
    """A left ring A2, grade II, with a trip in ten weeks: 12 touches and 4 things to type."""
    with serve(desk_site) as address:
        context = new_context(browser)
        page = context.new_page()
        page.goto(f"{address}/index.html")
        page.locator(".side-menu").get_by_role("link", name="For clinicians", exact=True).click()
        page.get_by_label("Find by name").fill("a2 pulley")
        pick(page, "protocol", "pulley")
        page.get_by_text("Left", exact=True).first.click()
        page.locator(".touch-spot").nth(page.evaluate("desk.chosen.spots.findIndex(s => s.finger === 'ring')")).click()
        pick(page, "grade", "II")
        page.get_by_label("Initials or clinic number").fill("E. T.")
        page.get_by_text("18 or older").click()
        put(page, "anchor.date", "2026-09-21")
        pick(page, "stage", "easy-climbing")
        add_rows(page, "important_dates", [{"what": "Trip", "date": "2027-02-03"}])
        page.locator("#do-print:enabled").wait_for(timeout=90_000)
        settle(page)
        page.evaluate(
            f"() => {{ {FRAME}.defaultView.addEventListener('beforeprint', () => {{ window.printed = true; }}); }}"
        )
        page.locator("#do-print").click()
        assert page.evaluate("window.printed") is True
        assert read_form(page)["place"] == "a2-pulley"
        assert "Trip, 3 Feb 2027" in sheet_text(page)
        context.close()


# ------------------------------------------------------------------ who checked it


def test_one_tap_fills_in_the_day_and_another_stage_takes_it_away(desk: Page, small_case: dict[str, Any]) -> None:
    """The day must be somebody's word about this stage: never there by itself, and gone when another is chosen."""
    fill(desk, {key: value for key, value in small_case.items() if key != "checked"})
    put(desk, "checked.name", "Imogen Thackeray-Vale")
    put(desk, "checked.role", "hand therapist")
    settle(desk)
    day = desk.locator('[data-path="checked.date"]')
    assert day.input_value() == ""
    assert "visits" not in read_form(desk)
    assert "Specimen: not checked by a clinician" in sheet_text(desk)
    desk.get_by_role("button", name="Today", exact=True).click()
    settle(desk)
    stage = small_case["stage"]
    who = {"name": "Imogen Thackeray-Vale", "role": "hand therapist"}
    assert read_form(desk)["visits"] == [{"date": TODAY, "stage": stage, "checked": who}]
    assert "Checked for you by Imogen Thackeray-Vale, hand therapist, on 25 November 2026." in sheet_text(desk)
    assert "Specimen" not in sheet_text(desk)
    pick(desk, "stage", "settle")
    settle(desk)
    assert day.input_value() == ""
    assert desk.locator('[data-path="checked.name"]').input_value() == "Imogen Thackeray-Vale"
    assert "Specimen: not checked by a clinician" in sheet_text(desk)


def test_a_day_without_a_name_asks_for_the_name(desk: Page, small_case: dict[str, Any]) -> None:
    fill(desk, {key: value for key, value in small_case.items() if key != "checked"})
    put(desk, "checked.date", TODAY)
    settle(desk)
    assert desk.locator(".desk-missing button").all_inner_texts() == ["Your name", "Your role"]


def test_a_file_whose_check_was_for_another_stage_opens_without_its_day(
    desk: Page, project: Path, tmp_path: Path
) -> None:
    text = (project / "tests" / "golden" / "cases" / "pulley-left-ring.yml").read_text(encoding="utf-8")
    path = tmp_path / "older.yml"
    path.write_text(text.replace("  stage: easy-climbing\nbegan", "  stage: first-load\nbegan", 1), encoding="utf-8")
    desk.locator("#desk-chosen-file").set_input_files(path)
    expect(desk.locator("#desk-opened")).to_contain_text("'first-load' was checked")
    settle(desk)
    assert "checked" not in read_form(desk)["visits"][-1]
    assert "Specimen: not checked by a clinician" in sheet_text(desk)


# ------------------------------------------------------------------ what is refused


REFUSED: list[tuple[str, dict[str, Any]]] = [
    ("an anchor after today", {"anchor": {"event": "injury", "date": "2026-12-01"}}),
    ("a stage before the anchor", {"began": [{"stage": "settle", "date": "2026-09-01"}]}),
    ("a stage after today", {"began": [{"stage": "move", "date": "2026-12-24"}]}),
    (
        "stages in the wrong order",
        {"began": [{"stage": "settle", "date": "2026-11-02"}, {"stage": "move", "date": "2026-10-02"}]},
    ),
    ("a date in the past", {"important_dates": [{"what": "Trip", "date": "2026-01-01"}]}),
    ("a review in the past", {"review_date": "2026-11-01"}),
    ("a grade that means other places", {"grade": "III", "place": "a4-pulley"}),
    ("a clearing after today", {"age_band": "under-18", "doctor_cleared": "2027-01-01"}),
    ("a finger in centimetres", {"finger_sizes": [{"finger": "ring", "mm": 6}]}),
    ("a finger in inches", {"finger_sizes": [{"finger": "ring", "mm": 2.3}]}),
    ("a plate that nobody makes", {"plate_kg": 0.3}),
    ("no body mass", {"body_mass_kg": 12}),
    ("words for a number", {"body_mass_kg": "about 60"}),
    ("a name that is too long", {"name": "x" * 201}),
    ("no load", {"baselines": [{"date": TODAY, "hand": "right", "grip": "half-crimp", "kg": [0]}]}),
    ("a load in words", {"baselines": [{"date": TODAY, "hand": "right", "grip": "half-crimp", "kg": [30, "x"]}]}),
    (
        "too narrow an edge",
        {"baselines": [{"date": TODAY, "hand": "right", "grip": "half-crimp", "edge_mm": 2, "kg": [30]}]},
    ),
    (
        "a hang without body mass",
        {"baselines": [{"date": TODAY, "hand": "left", "grip": "open-hand", "method": "hang", "kg": [5]}]},
    ),
]


@pytest.mark.parametrize(("says", "change"), REFUSED, ids=[says for says, _ in REFUSED])
def test_what_is_refused_says_why_beside_its_field(
    says: str, change: dict[str, Any], desk: Page, small_case: dict[str, Any], library: Library
) -> None:
    fill(desk, {**small_case, **change})
    case, found = read_value(Case, read_form(desk))
    expected = found or list(find_case_findings(case, library, DAY)) if case or found else []
    assert expected, says
    assert sorted(problems(desk)) == sorted(". ".join(filter(None, (message, hint))) for _, message, hint in expected)
    assert desk.locator("#do-print").is_disabled()
    wrong = desk.locator("[aria-invalid=true]")
    assert wrong.count() == len({path for path, _, _ in expected})
    for number in range(wrong.count()):
        told = wrong.nth(number).get_attribute("aria-describedby") or ""
        assert any(desk.locator(f'[id="{id}"]').text_content() in problems(desk) for id in told.split())


def test_an_adult_has_no_growth_plate_injury(desk: Page, demo: dict[str, Any]) -> None:
    fill(desk, {**demo["growth-plate-left-middle"], "age_band": "adult"})
    assert ["happens only while a finger still grows" in says for says in problems(desk)] == [True]


def test_a_side_that_is_needed_is_asked_for(desk: Page, demo: dict[str, Any]) -> None:
    case = {key: value for key, value in demo["collateral-right-middle"].items() if key != "side"}
    fill(desk, case)
    assert state(desk) == "Still needed: 1."
    assert desk.locator(".desk-missing button").all_inner_texts() == ["Side"]
    pick(desk, "side", "ulnar")
    settle(desk)
    assert state(desk) == "The sheets are up to date."


def test_a_field_of_another_injury_does_not_count(desk: Page, demo: dict[str, Any]) -> None:
    load(desk, demo["collateral-right-middle"])
    desk.locator("#do-change").click()
    pick(desk, "protocol", "pulley")
    settle(desk)
    assert "side" not in read_form(desk)
    assert state(desk).startswith("Still needed: ")


def test_what_may_be_a_slip_is_told_beside_its_field_and_can_be_printed(
    desk: Page, small_case: dict[str, Any], library: Library
) -> None:
    """A stage weeks too early, or last year for this one, must not go to paper without a word."""
    anchor = {"event": "injury", "date": "2025-11-13"}
    fill(desk, {**small_case, "anchor": anchor, "began": []})
    assert "Is the year right?" in desk.locator('[data-field="anchor.date"] .field-doubt').inner_text()
    fill(desk, {**small_case, "anchor": {**anchor, "date": "2026-11-13"}, "stage": "build", "began": []})
    case, _ = read_value(Case, read_form(desk))
    assert case
    expected = [". ".join((message, hint)) for _, message, hint in find_case_doubts(case, library, DAY)]
    doubt = desk.locator(".stage-row:has(input:checked) .field-doubt")
    assert doubt.all_text_contents() == expected
    assert desk.locator("#desk-list li").count() == 1
    assert problems(desk) == []
    assert desk.locator("[aria-invalid=true]").count() == 0
    assert desk.locator("#do-print").is_enabled()
    assert "23 days from now" not in sheet_text(desk), "it is for the clinician, not for the person"


def test_another_injury_keeps_no_grade_and_no_stage(desk: Page, demo: dict[str, Any]) -> None:
    """Grade II of a pulley is not grade II of a ligament; who they are and when it began stay as they were."""
    load(desk, demo["pulley-left-ring"])
    desk.locator("#do-change").click()
    pick(desk, "protocol", "collateral-sprain")
    settle(desk)
    now = read_form(desk)
    assert not {"grade", "stage", "side"} & set(now)
    assert (now["reference"], now["hand"]) == (demo["pulley-left-ring"]["reference"], "left")


def test_the_same_injury_loses_nothing(desk: Page, demo: dict[str, Any]) -> None:
    load(desk, demo["pulley-left-ring"])
    before = read_form(desk)
    for back in ("#do-keep", '[data-choices="protocol"] .choice:has(input[value="pulley"])'):
        desk.locator("#do-change").click()
        settle(desk)
        assert desk.locator("#do-print").is_disabled()
        assert desk.locator("#desk-old").inner_text() == "These sheets are from before the last change."
        desk.locator(back).click()
        settle(desk)
        assert read_form(desk) == before
        assert desk.locator("#do-print").is_enabled()
        assert desk.locator("#desk-old").is_hidden()


WRONG = [
    ("grade: II", "grade: V\nsid: radial"),
    ("finger: ring", "finger: thumb"),
    ("grade: II", "grade: any"),
    ("kg: [28.0, 29.5, 29.0]", "kg: [28.0, yes"),
    ("protocol: pulley", "protocol: mallet-finger"),
    ("age_band: adult", "age_band: adult\nage_band: adult"),
    ("place: a2-pulley", "place: &a a2-pulley"),
    ("date: 2026-09-21", "date: 2026-13-21"),
]


def test_a_file_that_is_wrong_says_so_line_by_line(desk: Page, project: Path, library: Library, tmp_path: Path) -> None:
    good = (project / "tests" / "golden" / "cases" / "pulley-left-ring.yml").read_text(encoding="utf-8")
    for number, (old, new) in enumerate(WRONG):
        path = tmp_path / f"case-{number}.yml"
        path.write_text(good.replace(old, new, 1), encoding="utf-8")
        document, found = read_case(path, path.name)
        told = sorted({*found, *(find_case_problems(document, library, DAY) if document else ())})
        assert told
        desk.locator("#desk-chosen-file").set_input_files(path)
        expect(desk.locator("#desk-opened p")).to_contain_text(path.name)
        lines = desk.locator("#desk-opened li").evaluate_all("items => items.map(item => item.textContent)")
        assert lines == [*(str(problem) for problem in told), count_problems(told)]


def test_the_command_line_says_the_same_lines(
    desk: Page, project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    good = (project / "tests" / "golden" / "cases" / "pulley-left-ring.yml").read_text(encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    Path("mine.yml").write_text(good.replace(*WRONG[0], 1), encoding="utf-8")
    assert cli.main(["--protocols", str(project / "protocols"), "check", "mine.yml", "--today", TODAY]) == 1
    desk.locator("#desk-chosen-file").set_input_files("mine.yml")
    expect(desk.locator("#desk-opened p")).to_contain_text("mine.yml")
    lines = desk.locator("#desk-opened li").evaluate_all("items => items.map(item => item.textContent)")
    assert capsys.readouterr().out == "\n".join(lines) + "\n"


def test_the_button_between_form_and_sheets_keeps_its_meaning_while_somebody_types(
    desk: Page, small_case: dict[str, Any]
) -> None:
    desk.set_viewport_size({"width": 390, "height": 844})
    load(desk, small_case)
    jump = desk.locator("#do-jump")
    desk.locator("#part-dates > summary").click()
    desk.locator("[data-list=important_dates] [data-key=what]").click()
    desk.locator("#desk-sheets").evaluate("sheets => sheets.scrollIntoView()")
    desk.wait_for_timeout(300)
    expect(jump).to_have_text("See the sheets")
    desk.evaluate("scrollTo(0, 0)")
    jump.click()
    expect(jump).to_have_text("Back to the form")
