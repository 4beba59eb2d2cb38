"""The page of an injury answers first: in so many screens and words, with each anchor opening what it names.

- short: screens at a desk and on a phone, words outside what folds, the first answers in the first screen
- folded: an anchor opens its part, without a script too; again after it was closed; on paper nothing is folded
- pictures: each small one is drawn, as it comes into sight
- axe, with everything open; proof: a page that is too long, and a fold that stays shut on paper, are found
"""

from __future__ import annotations

import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import axe
import pytest
from playwright.sync_api import Browser, Page
from site_under_test import whole_site

Opener = Callable[..., Page]
SITE = whole_site()
INJURIES = {page.address: page for page in SITE.pages if page.kind in ("protocol", "referral")}
PULLEY = "injuries/pulley/"
DESK, PHONE = (1366, 900), (390, 844)
MOST_SCREENS = {("protocol", DESK): 6.0, ("protocol", PHONE): 10.0, ("referral", DESK): 3.0, ("referral", PHONE): 5.0}
MOST_WORDS = 900
FIRST = {"protocol": (".part-now", ".part-who", ".part-how-long, .part-timelines"), "referral": (".answer",)}
"""What a reader came for. The first of them ends within the first screen, and all of them within one and a half."""
MEASURE = """(first) => {
    const end = (place) => document.querySelector(place).getBoundingClientRect().bottom + scrollY;
    const words = document.querySelector("article.page").innerText.split(/\\s+/).filter(Boolean).length;
    return { high: document.documentElement.scrollHeight, ends: first.map(end), words };
}"""


@pytest.fixture(scope="module")
def measured(browser: Browser, built_site: Path) -> Iterator[Callable[[str, tuple[int, int]], Any]]:
    context = browser.new_context()
    page = context.new_page()
    known: dict[tuple[str, tuple[int, int]], Any] = {}

    def measure(address: str, size: tuple[int, int]) -> Any:
        if (address, size) not in known:
            page.set_viewport_size({"width": size[0], "height": size[1]})
            page.goto(f"{built_site.as_uri()}/{address}index.html")
            known[address, size] = page.evaluate(MEASURE, list(FIRST[INJURIES[address].kind]))
        return known[address, size]

    yield measure
    context.close()


def find_too_long(address: str, size: tuple[int, int], found: Any) -> list[str]:
    """What is beyond the budget of a page."""
    kind, screen = INJURIES[address].kind, size[1]
    faults = []
    if found["high"] > MOST_SCREENS[kind, size] * screen:
        faults.append(f"{address}: {found['high'] / screen:.1f} screens of {size[0]} x {screen}")
    if found["words"] > MOST_WORDS:
        faults.append(f"{address}: {found['words']} words outside of what folds")
    if found["ends"][0] > screen:
        faults.append(f"{address}: the first answer ends at {found['ends'][0]:.0f} of {screen}")
    if max(found["ends"]) > 1.5 * screen:
        faults.append(f"{address}: the answers end at {max(found['ends']):.0f} of {screen}")
    return faults


@pytest.mark.parametrize("size", [DESK, PHONE], ids=["desk", "phone"])
def test_an_injury_page_is_short_and_answers_first(measured: Any, size: tuple[int, int]) -> None:
    assert len(INJURIES) == 20
    assert [fault for address in INJURIES for fault in find_too_long(address, size, measured(address, size))] == []


def test_a_page_that_is_too_long_is_found(open_page: Opener) -> None:
    page = open_page(PULLEY, DESK[0])
    page.set_viewport_size({"width": DESK[0], "height": DESK[1]})
    page.evaluate("document.querySelectorAll('.page details').forEach((fold) => { fold.open = true; })")
    page.add_style_tag(content=".part-lead { margin-bottom: 1400px }")
    faults = find_too_long(PULLEY, DESK, page.evaluate(MEASURE, list(FIRST["protocol"])))
    assert [fault.split(": ")[1].split()[1] for fault in faults] == ["screens", "words", "first", "answers"]


# --- What folds


def list_folded(page: Page) -> dict[str, bool]:
    """Every part that folds, and whether it is open."""
    return page.evaluate(
        "() => Object.fromEntries([...document.querySelectorAll('.part-fold')].map((fold) =>"
        " [fold.querySelector('.fold-in').id, fold.open]))"
    )


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_an_anchor_opens_what_it_names_and_nothing_else(browser: Browser, built_site: Path, scripts: bool) -> None:
    """Of a stage, which stands on paper; of the sources, which marks lead to; and of what lies inside of a part."""
    context = browser.new_context(java_script_enabled=scripts, viewport={"width": 390, "height": 844})
    page = context.new_page()
    for anchor, part in (("stage-4", "stage-4"), ("timelines", "timelines"), ("source-1", "sources")):
        page.goto("about:blank")
        page.goto(f"{built_site.as_uri()}/{PULLEY}index.html#{anchor}")
        place = page.locator(f"#{anchor}")
        place.wait_for(state="visible")
        folds = page.locator(".part-fold[open] > .fold-in")
        assert [fold.get_attribute("id") for fold in folds.all()] == [part]
        box = place.bounding_box()
        assert box is not None
        assert 0 <= box["y"] < 844
        heading = page.locator(f".part-fold:has(> #{part}) > summary").bounding_box()
        assert heading is not None
        assert anchor != part or heading["y"] > -2, "its heading has scrolled out of sight"
    context.close()


def test_a_stage_opens_again_from_the_same_link(open_page: Opener) -> None:
    page = open_page(PULLEY, 390)
    stage = page.locator(".part-fold:has(> #stage-5)")
    for _ in range(2):
        page.get_by_role("link", name="Stage 5").click()
        assert stage.evaluate("fold => fold.open")
        stage.locator("summary").click()
        assert not stage.evaluate("fold => fold.open")


def test_an_older_browser_opens_a_place_by_the_script(open_page: Opener) -> None:
    """One that does not open what it is sent into: here the place is closed again before the script looks."""
    page = open_page(PULLEY, 390)
    page.evaluate(
        "() => { history.replaceState(null, '', '#stage-2');"
        " document.querySelectorAll('.part-fold').forEach((fold) => { fold.open = false; });"
        " dispatchEvent(new HashChangeEvent('hashchange')); }"
    )
    assert [part for part, is_open in list_folded(page).items() if is_open] == ["stage-2"]


def test_every_part_has_its_anchor_and_folds_as_planned(open_page: Opener, built_site: Path) -> None:
    page = open_page(PULLEY, 390)
    for address, planned in INJURIES.items():
        page.goto(f"{built_site.as_uri()}/{address}index.html")
        assert list_folded(page) == {section.id: False for section in planned.sections if section.folded}, address
        ids = [section.id for section in planned.sections]
        assert page.evaluate("ids => ids.filter((id) => !document.getElementById(id))", ids) == [], address


def read_paper(page: Page, folder: Path) -> str:
    page.emulate_media(media="print")
    (folder / "page.pdf").write_bytes(page.pdf(format="A4"))
    made = subprocess.run(["pdftotext", str(folder / "page.pdf"), "-"], capture_output=True, text=True, check=True)
    return " ".join(made.stdout.split())


LAST_WORDS = ("Lift heavy things with the flat hand", "Never test how much more is possible", "Trade name", "S63.4")
"""Each stands in another fold: a stage, its gate, the names, the codes."""


def test_on_paper_nothing_is_folded(open_page: Opener, tmp_path: Path) -> None:
    paper = read_paper(open_page(PULLEY), tmp_path)
    assert [words for words in LAST_WORDS if words not in paper] == []


def test_a_fold_that_stays_shut_on_paper_is_found(open_page: Opener, tmp_path: Path) -> None:
    page = open_page(PULLEY)
    page.add_style_tag(content=".fold::details-content { content-visibility: hidden !important; block-size: 0 }")
    paper = read_paper(page, tmp_path)
    assert [words for words in LAST_WORDS if words not in paper] == list(LAST_WORDS)


# --- Small pictures


def test_small_pictures_come_when_their_stage_is_opened(open_page: Opener) -> None:
    page = open_page(PULLEY, 390)
    assert page.evaluate("[...document.images].filter((image) => image.naturalWidth).length") == 0
    page.get_by_role("link", name="Stage 4").click()
    grip = page.locator("#stage-4 .miniature").first
    grip.scroll_into_view_if_needed()
    page.wait_for_function("document.querySelector('#stage-4 .miniature').naturalWidth > 0")
    box = grip.bounding_box()
    assert box is not None
    assert box["width"] > 50
    assert box["height"] > box["width"]


def test_every_small_picture_is_there(open_page: Opener, built_site: Path) -> None:
    page = open_page(PULLEY)
    asked = page.evaluate("[...document.images].map((image) => image.getAttribute('src'))")
    assert len(asked) > 60
    assert [src for src in set(asked) if not (built_site / PULLEY / src).resolve().is_file()] == []


# --- axe


@pytest.mark.parametrize("address", [PULLEY, "injuries/growth-plate/", "injuries/sheath-infection/"])
def test_nobody_is_kept_from_what_has_been_opened(open_page: Opener, address: str) -> None:
    page = open_page(address)
    page.evaluate("document.querySelectorAll('.page details').forEach((fold) => { fold.open = true; })")
    for state in axe.STATES[:4]:
        axe.enter(page, state)
        violations, unsure = axe.look(page, axe.read_explained(), axe.COLOURS if state[2] == "dark" else axe.TAGS)
        assert violations == [], state
        assert [found for found in unsure if found[0] < 0] == [], state
        assert page.evaluate("document.documentElement.scrollWidth") <= state[1]
