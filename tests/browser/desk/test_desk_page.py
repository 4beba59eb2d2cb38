"""The desk's page: how sheets follow a change, how they print, and whether everybody can use it."""

from __future__ import annotations

import re
import subprocess
from collections import Counter
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import Any

import axe_playwright_python
import pytest
from desk_driver import (
    TODAY,
    clear,
    load,
    problems,
    put,
    read_form,
    settle,
    state,
)
from playwright.sync_api import Browser, CDPSession, Page

from fingerpost.make import pdf
from fingerpost.make.leaf.settings import SIZES_MM, Settings
from fingerpost.make.templates import make_environment
from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.model.words import Paper, PrintSize
from fingerpost.plan.base.paper import Handout
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.read.validate import read_value

DAY = date.fromisoformat(TODAY)
AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
RUN_AXE = """async tags => {
    const only = { runOnly: { type: "tag", values: tags }, resultTypes: ["violations"] };
    const found = await axe.run({ exclude: [["#desk-frame"]] }, only);
    return found.violations.map(v => [v.id, v.nodes.map(n => n.html)]);
}"""
LOW = """() => [...document.querySelectorAll(".desk :is(.choice, button:not(.touch-spot), input, select, textarea)")]
    .filter(e => e.offsetParent && !e.closest(".choice > *") && !e.matches("[type=radio], [type=checkbox]"))
    .map(e => [e.textContent.trim() || e.dataset.path, e.getBoundingClientRect().height])
    .filter(([, high]) => high < 32)"""
HEADS = """() => [...document.getElementById("desk-frame").contentDocument.querySelectorAll("thead, caption")]
    .map(part => part.innerText).join(" ")"""
FRAME = "document.getElementById('desk-frame').contentDocument"


# ------------------------------------------------------------------ the sheets


def test_a_change_shows_and_is_marked_for_a_moment(desk: Page, small_case: dict[str, Any]) -> None:
    load(desk, small_case)
    marked = f"[...{FRAME}.querySelectorAll('.desk-changed')].map(e => e.textContent)"
    assert desk.evaluate(marked) == []
    put(desk, "note", "Rest on Sundays.")
    settle(desk)
    assert ["Rest on Sundays." in words for words in desk.evaluate(marked)] == [True]
    desk.wait_for_timeout(100)
    devtools = desk.context.new_cdp_session(desk)
    devtools.send("Performance.enable")
    before = thread_ms(devtools)
    desk.evaluate("""() => {
        for (let n = 0; n < 5; n++) {
            document.querySelector('[data-path=note]').value = `Rest ${n}`;
            desk.main.changed(); desk.main.settled();
        }
    }""")
    took = (thread_ms(devtools) - before) / 5
    assert took < 300


def test_a_grip_that_is_allowed_from_now_on_is_marked(desk: Page, small_case: dict[str, Any]) -> None:
    """Its picture and its name are those of before; what counts is the sign above them."""
    shown = f"[...{FRAME}.querySelectorAll('.field figure%s figcaption')].map(e => e.textContent)"
    load(desk, {**small_case, "stage": "first-load"})
    assert "Big hold (jug)" in desk.evaluate(shown % "")
    load(desk, small_case)
    assert "Big hold (jug)" in desk.evaluate(shown % ".desk-changed")


def thread_ms(devtools: CDPSession) -> float:
    """How long the page has worked so far. What it waited for others on a busy machine does not count."""
    told = devtools.send("Performance.getMetrics")["metrics"]
    return next(float(metric["value"]) for metric in told if metric["name"] == "ThreadTime") * 1000


def test_what_is_printed_is_what_the_command_line_prints(
    desk: Page, browser: Browser, demo: dict[str, Any], library: Library, project: Path, tmp_path: Path
) -> None:
    """The same words; the same number of pages, but for large print, where one in twenty may differ."""
    environment = make_environment(pdf.read_templates(project / "templates"))
    all_of_it = ["tape", "exercises", "diary", "grips", "about"]
    wanted = [*demo.items(), *((f"{name} with all", {**case, "enclose": all_of_it}) for name, case in demo.items())]
    for name, case in wanted:
        load(desk, case)
        page = browser.new_page()
        page.set_content("<!doctype html>" + desk.evaluate(f"{FRAME}.documentElement.outerHTML"))
        page.emulate_media(media="print")
        (tmp_path / "here.pdf").write_bytes(page.pdf(prefer_css_page_size=True))
        page.close()
        read, _ = read_value(Case, read_form(desk))
        assert read
        planned = plan_handout(library, read, DAY)
        (tmp_path / "there.pdf").write_bytes(pdf.print_handout(environment, planned, project))
        said = desk.locator("#desk-pages").inner_text()
        told = int(said.rstrip(".").rpartition(" ")[2])
        (pages, here), (others, there) = (read_words(tmp_path / f"{n}.pdf", planned) for n in ("here", "there"))
        assert f" Sheets of paper, both sides: {(told + 1) // 2}. Pages: about " in said, name
        repeated = set(desk.evaluate(HEADS).split())  # the head of a table that runs over a page
        repeated |= set(planned.notes.split()) if planned.print_size > 14 else set()  # over each back that is blank
        assert set(here - there) | set(there - here) <= repeated, name
        assert abs(told - pages) <= 1 + pages // 20, name
        assert abs(pages - others) <= (others // 20 if planned.print_size > 14 else 0), name
        clear(desk)


ROOM_MM = """name => {
    const root = FRAME.documentElement, part = root.querySelector(name);
    root.classList.add("counting");
    const { width, height } = getComputedStyle(part), mm = (length) => parseFloat(length) * 25.4 / 96;
    root.classList.remove("counting");
    return [mm(width), mm(height)];
}""".replace("FRAME", FRAME)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("print_size", [12, 14, 18, 24])
def test_pages_are_counted_with_the_room_that_a_page_has(
    paper: Paper, print_size: PrintSize, desk: Page, small_case: dict[str, Any], demo: dict[str, Any]
) -> None:
    """Else the desk puts in a back where the sheet before it ends on one, and every sheet after it begins on a back."""
    checked = demo["pulley-left-ring"]["checked"]
    for more in ({}, {"checked": checked}):
        load(desk, {**small_case, **more, "paper": paper, "print_size": print_size, "enclose": ["about"]})
        settings = Settings(paper=paper, print_size=print_size, unchecked=not more)
        leaf, sheet = desk.evaluate(ROOM_MM, ".leaf"), desk.evaluate(ROOM_MM, ".sheet")
        top, foot = (9 if more else 15), (24 if print_size > 14 else 13)
        assert leaf == pytest.approx([settings.width_mm, settings.height_mm], abs=0.2)
        assert sheet == pytest.approx([settings.width_mm, SIZES_MM[paper][1] - top - foot], abs=0.2)


def read_words(path: Path, planned: Handout) -> tuple[int, Counter[str]]:
    """How many pages, and every word of them but those in the margins.

    Marks of lists are words to one engine only; numbers with a dash may stand closer in one.
    """
    text = subprocess.run(["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True).stdout
    pages = text.split("\f")[:-1]
    found = Counter(re.sub(r"-\s+", "-", text.replace("•", " ")).split())
    for number in range(1, len(pages) + 1):
        found -= Counter(f"{planned.head} {planned.foot} Page {number} of {len(pages)}".split())
    return len(pages), found


def test_without_margin_boxes_every_page_says_what_it_is(
    desk: Page, browser: Browser, small_case: dict[str, Any], tmp_path: Path
) -> None:
    """As in a browser that knows none: a specimen must not go out on a page that does not say so."""
    desk.evaluate("window.kept = window.CSSStyleSheet; window.CSSStyleSheet = undefined")
    try:
        load(desk, {key: value for key, value in small_case.items() if key != "checked"})
        page = browser.new_page()
        whole = desk.evaluate(f"{FRAME}.documentElement.outerHTML")
        page.set_content("<!doctype html>" + re.sub(r"@(top|bottom)-\w+ \{[^}]*\}", "", whole))
        page.emulate_media(media="print")
        (tmp_path / "plain.pdf").write_bytes(page.pdf(prefer_css_page_size=True))
        page.close()
    finally:
        desk.evaluate("() => { window.CSSStyleSheet = window.kept; }")
    call = ["pdftotext", "-layout", str(tmp_path / "plain.pdf"), "-"]
    pages = subprocess.run(call, capture_output=True, text=True, check=True).stdout.split("\f")[:-1]
    assert len(pages) > 6
    for text in (" ".join(page.split()) for page in pages):
        assert "Specimen: not checked by a clinician, do not hand out" in text
        assert re.search(
            r"Pulley injury of the finger. Version [\d.]+ Draft text\.(?: Content \w+\.)? Sheet [1-4] of 4", text
        )


# ------------------------------------------------------------------ everybody can use it


def test_axe_finds_nothing(desk: Page, demo: dict[str, Any], small_case: dict[str, Any]) -> None:
    desk.evaluate(AXE)
    assert desk.evaluate(RUN_AXE, TAGS) == []
    load(desk, {**demo["pulley-left-ring"], "plate_kg": 0.3, "review_date": "2026-01-01"})
    assert len(problems(desk)) == 2
    assert desk.evaluate(RUN_AXE, TAGS) == []
    load(desk, {**small_case, "important_dates": [{"what": "Trip", "date": "2028-02-03"}]})
    assert desk.locator(".field-doubt").count() == 1
    assert desk.evaluate(RUN_AXE, TAGS) == []
    desk.locator("#do-change").click()
    assert desk.locator("#desk-old").is_visible()
    assert desk.evaluate(RUN_AXE, TAGS) == []
    desk.locator("#do-keep").click()
    desk.set_viewport_size({"width": 390, "height": 844})
    assert desk.evaluate(RUN_AXE, TAGS) == []


@pytest.mark.parametrize("width", [320, 390, 640])  # 640 is 1280 at 200 %
def test_nothing_runs_off_the_side(width: int, desk: Page, demo: dict[str, Any]) -> None:
    load(desk, {**demo["pulley-left-ring"], "plate_kg": 0.3})
    desk.set_viewport_size({"width": width, "height": 844})
    assert desk.evaluate("document.documentElement.scrollWidth") <= width
    assert desk.evaluate(LOW) == []


def test_the_desk_says_that_it_prints_drafts(desk: Page) -> None:
    badge = desk.locator(".badge")
    assert badge.is_visible()
    assert badge.inner_text().startswith("Draft library.")


def test_clear_shows_every_injury_to_the_next_person(desk: Page) -> None:
    shown = desk.locator('[data-choices="protocol"] .choice:visible')
    every = shown.count()
    desk.locator("#desk-search").fill("growth")
    assert shown.count() < every
    clear(desk)
    assert desk.locator("#desk-search").input_value() == ""
    assert shown.count() == every


def test_the_keyboard_alone_will_do(desk: Page) -> None:
    keys = desk.keyboard

    def go(selector: str) -> None:
        for _ in range(80):
            if desk.evaluate("s => document.activeElement.matches(s)", selector):
                return
            keys.press("Tab")
        raise AssertionError(f"Tab does not reach {selector}")

    desk.locator("#desk-search").focus()
    keys.type("pulley")
    go("[name=protocol]")
    keys.press("Space")
    go("[name=hand]")
    keys.press("Space")
    go("[name=finger]")
    keys.press("ArrowDown")
    keys.press("ArrowDown")
    go("[name=place]")
    keys.press("Space")
    go("[name=grade]")
    keys.press("Space")
    go('[data-path="reference"]')
    keys.type("E. T.")
    go("[name=age_band]")
    keys.press("Space")
    go('[data-path="anchor.date"]')
    keys.type("09212026")
    go("[name=stage]")
    keys.press("Space")
    settle(desk)
    assert state(desk) == "The sheets are up to date."
    assert read_form(desk)["finger"] == "ring" or read_form(desk)["finger"] == "middle"
    go("#do-print")


def test_words_stand_in_the_wording_alone(library: Library, project: Path) -> None:
    """Every phrase that a script asks for is there, and every phrase of the desk is asked for somewhere."""
    scripts = "".join(
        p.read_text(encoding="utf-8") for p in (project / "site_overrides" / "assets" / "desk").glob("*.js")
    )
    template = (project / "templates" / "desk" / "form.html").read_text(encoding="utf-8")
    code = "".join(p.read_text(encoding="utf-8") for p in (project / "generator").rglob("*.py"))
    unused = []
    for phrase in library.vocabularies.wording:
        name = phrase.id.removeprefix("desk-")
        if name == phrase.id or phrase.id in code or f'"{name}"' in scripts + template:
            continue
        stems = [f'"{stem}-" ~' for stem in (name.rsplit("-", 1)[0],)] + [f"`{name.rsplit('-', 1)[0]}-$"]
        if not any(stem in scripts + template for stem in stems):
            unused.append(phrase.id)
    assert unused == []
    assert asdict(library.vocabularies.wording[0])["says"]


def test_on_a_phone_only_the_page_scrolls(desk: Page, small_case: dict[str, Any]) -> None:
    """A box that scrolls inside a page that scrolls holds a finger fast: the frame is as high as its sheets."""
    desk.set_viewport_size({"width": 390, "height": 844})
    try:
        load(desk, small_case)
        desk.wait_for_timeout(500)
        frame = "document.getElementById('desk-frame')"
        inner, outer = desk.evaluate(f"[{frame}.contentDocument.scrollingElement.scrollHeight, {frame}.clientHeight]")
        assert inner > 844
        assert inner - outer <= 3
    finally:
        desk.set_viewport_size({"width": 1280, "height": 900})
