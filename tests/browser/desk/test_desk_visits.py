"""The desk and the log of visits: what a file brings is shown and kept, and a new visit is written down once."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import Any

from desk_driver import TODAY, clear, load, pick, problems, put, read_form, settle, sheet_text
from playwright.sync_api import Page, expect

from fingerpost.model.library import Library
from fingerpost.read.library import read_plain
from fingerpost.run.visit_log import add_visit

FRAME = "document.getElementById('desk-frame').contentDocument"
DAY = date.fromisoformat(TODAY)


def follow_up(demo: dict[str, Any]) -> dict[str, Any]:
    return dict(demo["collateral-right-middle"])


def save(desk: Page, folder: Path) -> str:
    with desk.expect_download() as waiting:
        desk.locator("#do-save").click()
    waiting.value.save_as(folder / "saved.yml")
    return (folder / "saved.yml").read_text("utf-8")


def stub_print(desk: Page) -> None:
    desk.evaluate("() => { document.getElementById('desk-frame').contentWindow.print = () => {}; }")


def test_earlier_visits_are_shown_and_the_newest_fills_the_form(desk: Page, demo: dict[str, Any]) -> None:
    load(desk, follow_up(demo))
    lines = desk.locator("#desk-earlier li").all_inner_texts()
    assert [line.partition(":")[0] for line in lines] == ["2026-10-28", "2026-11-10"]
    assert desk.locator('[data-path="checked.date"]').input_value() == "2026-11-24"
    assert desk.locator('[data-path="visit.bend_degrees"]').input_value() == "85"
    assert "Since your last visit, 10 Nov: Moved on from stage 2 to 3." in sheet_text(desk)
    assert problems(desk) == []


def test_a_new_visit_keeps_the_person_and_asks_for_the_rest(desk: Page, demo: dict[str, Any]) -> None:
    case = follow_up(demo)
    load(desk, case)
    desk.locator("#do-new-visit").click()
    settle(desk)
    now = read_form(desk)
    for key in ("reference", "protocol", "grade", "hand", "finger", "place", "side", "anchor", "clinic"):
        assert now[key] == case[key]
    assert not {"stage", "note", "review_date"} & set(now)
    assert now["visits"] == case["visits"]
    assert desk.locator('[data-path="checked.name"]').input_value() == "Marigold Underhill"
    assert desk.locator('[data-path="checked.date"]').input_value() == ""
    pick(desk, "stage", "first-load")
    put(desk, "visit.bend_degrees", 90)
    settle(desk)
    assert read_form(desk)["visits"] == [*case["visits"], {"date": TODAY, "stage": "first-load", "bend_degrees": 90}]
    assert "Since your last visit, 24 Nov: Still stage 3. Bend: 85 to 90 degrees." in sheet_text(desk)
    assert "Specimen: not checked by a clinician" in sheet_text(desk)


def test_printing_and_saving_write_a_visit_down_once(
    desk: Page, demo: dict[str, Any], library: Library, tmp_path: Path
) -> None:
    """And the command line, given the file as it was, writes the same one."""
    case = follow_up(demo)
    load(desk, case)
    before = save(desk, tmp_path)
    stub_print(desk)
    desk.locator("#do-print").click()
    desk.locator("#do-print").click()
    printed = save(desk, tmp_path)
    visits = read_plain(printed, "saved.yml")["visits"]
    assert [v["date"] for v in visits] == [v["date"] for v in case["visits"]]
    assert printed == add_visit(before, library, DAY, "saved.yml")[0]
    assert save(desk, tmp_path) == printed


def test_a_first_visit_is_in_the_file_that_is_saved(desk: Page, small_case: dict[str, Any], tmp_path: Path) -> None:
    load(desk, small_case)
    assert "visits" not in read_form(desk)
    visits = read_plain(save(desk, tmp_path), "saved.yml")["visits"]
    assert visits == [{"date": TODAY, "stage": small_case["stage"]}]


def test_another_injury_has_no_visits_yet_and_the_first_keeps_its_own(desk: Page, demo: dict[str, Any]) -> None:
    case = follow_up(demo)
    load(desk, case)
    desk.locator("#do-change").click()
    pick(desk, "protocol", "pulley")
    settle(desk)
    assert "visits" not in read_form(desk)
    expect(desk.locator("#desk-earlier")).to_be_hidden()
    desk.locator("#do-change").click()
    pick(desk, "protocol", "collateral-sprain")
    pick(desk, "stage", "first-load")
    settle(desk)
    assert [v["date"] for v in read_form(desk)["visits"]][:2] == ["2026-10-28", "2026-11-10"]


def test_an_earlier_visit_can_be_taken_out_and_clearing_takes_all(desk: Page, demo: dict[str, Any]) -> None:
    load(desk, follow_up(demo))
    desk.locator("#desk-earlier li button").first.click()
    settle(desk)
    assert [v["date"] for v in read_form(desk)["visits"]] == ["2026-11-10", "2026-11-24"]
    clear(desk)
    expect(desk.locator("#desk-earlier")).to_be_hidden()
    assert "visits" not in read_form(desk)


def test_a_measure_that_no_finger_has_is_told_beside_its_field(desk: Page, demo: dict[str, Any]) -> None:
    load(desk, follow_up(demo))
    put(desk, "visit.bend_degrees", 185)
    settle(desk)
    field = desk.locator('[data-field="visit.bend_degrees"] .field-problem')
    expect(field).to_contain_text("no middle joint bends to 185 degrees")
