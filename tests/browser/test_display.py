"""The display: one message a page, nothing to scroll, on by itself for days, still for those who want it still."""

from __future__ import annotations

import dataclasses
import io
import re
from collections.abc import Callable, Iterator
from math import ceil
from pathlib import Path

import pytest
import zxingcpp
from PIL import Image
from playwright.sync_api import Browser, Page
from site_under_test import PROJECT, make_templates, whole_library

from fingerpost.make.display_html import write_display
from fingerpost.model.case import ClinicSettings
from fingerpost.model.library import Library
from fingerpost.plan.walls.display import LEAST_SECONDS, plan_display, seconds_for

GYM = ClinicSettings(name="Boulder Hall Thornmere", emergency_number="999", site_address="https://example.org/fingers/")
SCREENS = [(1920, 1080), (1080, 1920), (1280, 720)]
MORE_SCREENS = [(1366, 768), (3840, 2160), (1024, 768), (800, 480), (768, 1366)]
DISPLAY = plan_display(dataclasses.replace(whole_library(), clinic=GYM))


def in_gym(gym: ClinicSettings) -> Library:
    return dataclasses.replace(whole_library(), clinic=gym)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A stick with the display on it: with the gym's own settings, with none, and with an address as long as can be."""
    stick = tmp_path_factory.mktemp("stick")
    long = dataclasses.replace(GYM, site_address="https://example.org/" + "climbing-" * 8 + "/")
    for name, gym in (("own", GYM), ("none", ClinicSettings()), ("long", long)):
        (stick / f"{name}.html").write_text(write_display(make_templates(), plan_display(in_gym(gym)), PROJECT))
    return stick


Show = Callable[..., Page]


@pytest.fixture
def show(browser: Browser, folder: Path) -> Iterator[Show]:
    """Opens the display, with a clock that the test turns."""
    contexts = []

    def show(size: tuple[int, int] = SCREENS[0], name: str = "own", motion: str = "no-preference") -> Page:
        context = browser.new_context(
            viewport={"width": size[0], "height": size[1]},
            reduced_motion=motion,  # type: ignore[arg-type]
        )
        contexts.append(context)
        page = context.new_page()
        page.clock.install(time=0)
        page.clock.pause_at(1000)  # before the page is there: on a busy machine no second slips by
        page.goto((folder / f"{name}.html").as_uri())
        return page

    yield show
    for context in contexts:
        context.close()


def shown(page: Page) -> str:
    (found,) = page.eval_on_selector_all(
        "section", "all => all.filter(s => getComputedStyle(s).visibility === 'visible').map(s => s.id)"
    )
    return str(found)


# --- The plan


def test_a_page_stands_for_as_long_as_its_words_take() -> None:
    assert seconds_for(0) == seconds_for(1) == LEAST_SECONDS
    assert [seconds_for(n) for n in (9, 15, 30)] == [10, 14, 24]
    for page in DISPLAY.pages:
        words = sum(len(text.split()) for text in (*page.message, page.heading, *page.lines))
        assert page.seconds == max(8, ceil(4 + words / 1.5))
        assert 10 <= page.seconds <= 25


def test_help_and_the_young_come_first_and_every_notice_follows() -> None:
    ids = [page.id for page in DISPLAY.pages]
    assert ids[:4] == ["start-look", "start-do", "growth-plate-look", "growth-plate-do"]
    assert len(ids) == len(set(ids)) == 2 * 8
    assert all("999" in page.foot[0] for page in DISPLAY.pages)
    assert all(page.head == ("Boulder Hall Thornmere", "For awareness only") for page in DISPLAY.pages)


def test_the_script_is_short_enough_to_read() -> None:
    lines = (PROJECT / "templates" / "display" / "display.js").read_text(encoding="utf-8").splitlines()
    assert 20 < len(lines) < 80


def test_the_file_needs_nothing_beside_itself(folder: Path) -> None:
    html = (folder / "own.html").read_text(encoding="utf-8")
    asked = re.findall(r"(?:src|href)\s*=\s*\S+|url\([^)]{0,40}|@import|https?://\S+", html)
    assert len(asked) > 10
    for found in asked:
        assert re.match(r'url\("?data:|http://www.w3.org/2000/svg', found), found


# --- In the browser

_OUTSIDE = """() => {
  const found = [];
  for (const tag of document.querySelectorAll(".shown h1, .shown h2, .shown li, .shown p, .shown svg")) {
    const box = tag.getBoundingClientRect();
    const out = box.left < 0 || box.top < 0 || box.right > innerWidth + 0.5 || box.bottom > innerHeight + 0.5;
    if (out || tag.scrollWidth > tag.clientWidth + 1) found.push(tag.tagName + " " + tag.textContent.slice(0, 30));
  }
  const root = document.scrollingElement;
  if (root.scrollHeight > innerHeight || root.scrollWidth > innerWidth) found.push("the page scrolls");
  return found;
}"""
_OVERLAPS = """() => {
  const boxes = [...document.querySelectorAll(".shown h1, .shown h2, .shown li, .shown .head p, .shown .foot p, " +
    ".shown .code p, .shown svg")].filter(t => t.textContent.trim()).map(t => [t, t.getBoundingClientRect()]);
  const found = [];
  boxes.forEach(([one, a], n) => boxes.slice(n + 1).forEach(([other, b]) => {
    const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
    const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
    if (wide > 1 && high > 1) found.push(one.textContent.slice(0, 20) + " / " + other.textContent.slice(0, 20));
  }));
  return found;
}"""


@pytest.mark.parametrize("size", SCREENS + MORE_SCREENS, ids=lambda s: f"{s[0]}x{s[1]}")
def test_no_page_scrolls_or_lies_over_itself(size: tuple[int, int], show: Show) -> None:
    page = show(size, motion="reduce")
    for planned in DISPLAY.pages:
        assert shown(page) == planned.id
        assert page.evaluate(_OUTSIDE) == [], planned.id
        assert page.evaluate(_OVERLAPS) == [], planned.id
        page.keyboard.press("ArrowRight")
    assert shown(page) == DISPLAY.pages[0].id


@pytest.mark.parametrize("size", SCREENS[:2], ids=lambda s: f"{s[0]}x{s[1]}")
@pytest.mark.parametrize("name", ["none", "long"])
def test_other_settings_fit_as_well(size: tuple[int, int], name: str, show: Show) -> None:
    page = show(size, name, motion="reduce")
    for _ in DISPLAY.pages:
        assert page.evaluate(_OUTSIDE) == []
        assert page.evaluate(_OVERLAPS) == []
        page.keyboard.press("ArrowRight")
    assert page.locator(".code").count() == (0 if name == "none" else 8)


@pytest.mark.parametrize("size", SCREENS, ids=lambda s: f"{s[0]}x{s[1]}")
def test_words_are_large_for_the_screen(size: tuple[int, int], show: Show) -> None:
    """Across a hall: what counts is at least a 15th of the short side, and nothing is below a 50th."""
    page = show(size)
    short = min(size)
    sizes = page.evaluate("""() => [...document.querySelectorAll("h1, h2, li, p")].filter(t => t.textContent.trim())
        .map(t => [t.tagName, parseFloat(getComputedStyle(t).fontSize)])""")
    assert min(s for tag, s in sizes if tag in ("H1", "LI")) >= short / 15
    assert min(s for _, s in sizes) >= short / 50


def test_it_goes_on_by_itself_and_comes_round(show: Show) -> None:
    page = show(motion="reduce")
    for planned in DISPLAY.pages:
        assert shown(page) == planned.id
        page.clock.run_for((planned.seconds - 1) * 1000)
        assert shown(page) == planned.id
        page.clock.run_for(1000)
    assert shown(page) == DISPLAY.pages[0].id


def test_a_key_or_a_touch_holds_it(show: Show) -> None:
    page = show(motion="reduce")
    page.keyboard.press("Space")
    page.clock.run_for(600_000)
    assert shown(page) == DISPLAY.pages[0].id
    page.mouse.click(400, 400)
    page.clock.run_for(DISPLAY.pages[0].seconds * 1000)
    assert shown(page) == DISPLAY.pages[1].id
    page.keyboard.press("ArrowLeft")
    page.keyboard.press("ArrowLeft")
    assert shown(page) == DISPLAY.pages[-1].id


@pytest.mark.parametrize(("motion", "moves"), [("reduce", False), ("no-preference", True)])
def test_who_wants_less_motion_gets_none(motion: str, moves: bool, show: Show) -> None:
    page = show(motion=motion)
    lasts = page.evaluate("() => getComputedStyle(document.querySelector('section')).transitionDuration")
    assert any(float(part.strip().rstrip("s")) > 0 for part in lasts.split(",")) is moves
    assert page.evaluate("() => document.getAnimations().length") == 0


def test_memory_stays_flat_for_hours(show: Show) -> None:
    """An hour to warm up, then four hours of advancing at high speed: no more nodes, listeners or heap than before."""
    page = show(motion="reduce")
    session = page.context.new_cdp_session(page)

    def measure() -> tuple[int, int, float]:
        session.send("HeapProfiler.collectGarbage")
        counted = session.send("Memory.getDOMCounters")
        return counted["nodes"], counted["jsEventListeners"], session.send("Runtime.getHeapUsage")["usedSize"]

    page.clock.run_for(3_600_000)
    before = measure()
    page.clock.run_for(4 * 3_600_000)
    after = measure()
    assert after[:2] == before[:2]
    assert after[2] <= before[2] * 1.02 + 20_000


def test_it_asks_for_nothing_and_complains_of_nothing(browser: Browser, folder: Path) -> None:
    page = browser.new_page()
    asked: list[str] = []
    said: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto((folder / "own.html").as_uri())
    assert [url for url in asked if not url.startswith("data:")] == [(folder / "own.html").as_uri()]
    assert said == []
    assert page.evaluate("() => document.cookie + localStorage.length") == "0"
    page.close()


@pytest.mark.parametrize("size", SCREENS, ids=lambda s: f"{s[0]}x{s[1]}")
def test_a_phone_reads_the_code_off_the_screen(size: tuple[int, int], show: Show) -> None:
    page = show(size, motion="reduce")
    for planned in DISPLAY.pages[:4]:
        if planned.address:
            picture = Image.open(io.BytesIO(page.screenshot()))
            assert [code.text for code in zxingcpp.read_barcodes(picture)] == [planned.address]
        page.keyboard.press("ArrowRight")
