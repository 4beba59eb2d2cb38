"""The search finds what people type, in any way of typing, says how much it found, and costs nothing until it is asked.

- the table of what people type, over http and from a folder
- what results show, and what stands there where nothing is found
- keys, pasted text, how many were found, the way out
- what is asked for, and when; nothing that a strict policy would stop
- the box for everybody: axe, wide and narrow, light and dark
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import axe
import desk_driver
import pytest
import yaml
from playwright.sync_api import Browser, Page, Request, expect
from site_under_test import whole_site

Opener = Callable[..., Page]
Search = Callable[[Page, str], None]
PULLEY = "injuries/pulley/"
BOX, RESULTS = ".search-query", ".search-found a"
# What a page of its own names goes before: it has their names as well.
BESIDES = re.compile(r"(?:apart|for-coaches)/.|(?:standards|changed|data)/")
FIND = """(typed) => {
    const box = document.querySelector(".search-query");
    box.value = typed;
    box.dispatchEvent(new Event("input", { bubbles: true }));
    return [...document.querySelectorAll(".search-found a")].map((link) => link.href);
}"""


@cache
def read_table() -> tuple[tuple[str, str], ...]:
    """(what is typed, the address of the page)."""
    rows = yaml.safe_load(Path(__file__).with_name("searches.yml").read_text(encoding="utf-8"))
    return tuple((row["typed"], "" if row["here"] == "home" else row["here"]) for row in rows)


@pytest.fixture(scope="module", params=["http", "folder"])
def found(request: pytest.FixtureRequest, browser: Browser, built_site: Path) -> Iterator[Callable[[str], list[str]]]:
    """What is found for words, as addresses of pages in their order: over http, and from a folder."""
    with desk_driver.serve(built_site) as place:
        home = place if request.param == "http" else built_site.as_uri()
        page = browser.new_page()
        page.goto(f"{home}/{PULLEY}index.html")
        page.locator(BOX).focus()
        page.wait_for_function("'searchIndex' in window")

        def find(typed: str) -> list[str]:
            links = page.evaluate(FIND, typed)
            return [link.removeprefix(f"{home}/").partition("index.html")[0] for link in links]

        yield find
        page.close()


# --- What people type


def test_the_table_is_long_and_names_pages() -> None:
    typed = [typed for typed, _ in read_table()]
    assert len(typed) >= 100
    assert len(set(typed)) == len(typed)
    assert {address for _, address in read_table()} <= {page.address for page in whole_site().pages}
    injuries = {page.address for page in whole_site().pages if page.kind in ("protocol", "referral")}
    assert injuries <= {address for _, address in read_table()}


def test_the_right_page_is_among_the_first_three(found: Callable[[str], list[str]]) -> None:
    lost = [(typed, address) for typed, address in read_table() if address not in found(typed)[:3]]
    assert len(lost) <= len(read_table()) // 20, lost


def test_no_page_about_two_injuries_stands_before_the_right_one(found: Callable[[str], list[str]]) -> None:
    before = {typed: found(typed)[: found(typed).index(a)] for typed, a in read_table() if a in found(typed)}
    assert {typed: pages for typed, pages in before.items() if any(BESIDES.match(page) for page in pages)} == {}


def test_every_injury_is_found_first_by_each_of_its_names(found: Callable[[str], list[str]]) -> None:
    """Where two have one name, both are among the first three."""
    search = whole_site().search
    named = [(name, p.address) for p in search.pages if p.rank == 3 for name in (p.title, *p.called)]
    twice = {name for name, _ in named if sum(name == other for other, _ in named) > 1}
    lost = [(name, address) for name, address in named if address not in found(name)[: 3 if name in twice else 1]]
    assert len(named) > 80
    assert lost == []


def test_what_stands_in_the_list_of_search_words_leads_where_it_says(found: Callable[[str], list[str]]) -> None:
    typed = [(words, p.address) for p in whole_site().search.pages for words in p.typed]
    assert len(typed) > 200
    assert [(words, address) for words, address in typed if address not in found(words)[:4]] == []


def test_letters_accents_and_spaces_make_no_difference(found: Callable[[str], list[str]]) -> None:
    alike = (("BOUTONNIÈRE", "boutonniere"), ("  h   tape ", "H-tape"), ("climber’s finger", "climbers finger"))
    for one, other in alike:
        assert found(one)[0] == found(other)[0]


def test_what_nobody_wrote_about_finds_nothing(found: Callable[[str], list[str]]) -> None:
    for typed in ("xylophone", "qwrtz", "xylophone finger", "!?", "   "):
        assert found(typed) == []


# --- What results show


def test_a_result_reads_as_sentences_and_holds_nothing_that_stands_round_a_text() -> None:
    badges = {"".join(run.text for run in page.badge) for page in whole_site().pages} - {""}
    for page in whole_site().search.pages:
        assert re.fullmatch(r"[A-Z].{10,240}[.?]", page.says), page.says
        assert not any(badge[:20] in page.says for badge in badges)
        assert "[" not in page.says
    assert badges


def test_a_result_names_what_it_was_found_by(open_page: Opener, search_for: Search) -> None:
    page = open_page(PULLEY)
    search_for(page, "jammed finger")
    first = page.locator(RESULTS).first
    assert first.locator(".found-title").inner_text() == "Sprain on the side of a finger joint"
    assert first.locator(".found-aside").inner_text() == "Collateral ligament sprain of the PIP joint, jammed finger"


def test_a_thing_on_a_page_of_many_is_come_to_at_its_own_place(open_page: Opener, search_for: Search) -> None:
    page = open_page("")
    search_for(page, "sideways press without movement")
    assert page.locator(".found-aside").first.inner_text() == "Sideways press without movement"
    page.keyboard.press("Enter")
    page.wait_for_url("**/exercises/index.html#sideways-press")


def test_where_nothing_is_found_the_box_leads_on(open_page: Opener, search_for: Search) -> None:
    page = open_page("grips/", 390)
    search_for(page, "xylophone")
    assert page.get_by_role("status").inner_text() == "No page has these words."
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    ways_on = {"Which finger problem fits?": "", "Signs that need a doctor, and how soon": "warning-signs/"}
    for name, address in ways_on.items():
        link = page.locator(".search-none").get_by_role("link", name=name)
        assert link.is_visible()
        assert link.evaluate("link => link.href").endswith(f"/{address}index.html")
    page.keyboard.press("ArrowDown")
    assert page.evaluate("document.activeElement.textContent") == "Which finger problem fits?"
    search_for(page, "mallet")
    assert not page.locator(".search-none").is_visible()


# --- By key, by voice, by paste


def test_enter_opens_the_first_page(open_page: Opener) -> None:
    """Even where it is pressed before the index has come."""
    page = open_page(PULLEY)
    page.locator(BOX).fill("mallet")
    page.keyboard.press("Enter")
    page.wait_for_url("**/injuries/mallet-finger/index.html")
    assert page.locator("h1").inner_text() == "Drooping fingertip"


def test_arrows_go_through_the_pages_and_back_to_the_box(open_page: Opener, search_for: Search) -> None:
    page = open_page(PULLEY)
    search_for(page, "pulley")
    links = page.locator(RESULTS)
    assert links.count() > 2
    for n in (0, 1):
        page.keyboard.press("ArrowDown")
        assert links.nth(n).evaluate("link => link === document.activeElement")
    for _ in range(2):
        page.keyboard.press("ArrowUp")
    assert page.locator(BOX).evaluate("box => box === document.activeElement")
    for _ in range(40):
        page.keyboard.press("ArrowDown")
    assert links.last.evaluate("link => link === document.activeElement")


@pytest.mark.parametrize("way_out", ["Escape in the box", "Escape in the list", "beside it", "Tab"])
def test_the_box_closes(open_page: Opener, search_for: Search, way_out: str) -> None:
    page = open_page("", 390)
    search_for(page, "dupuytren")
    output = page.locator(".search-output")
    assert output.is_visible()
    if way_out == "beside it":
        page.mouse.click(20, 835)
    elif way_out == "Tab":
        for _ in range(page.locator(RESULTS).count() + 3):
            page.keyboard.press("Tab")
    else:
        if way_out == "Escape in the list":
            page.keyboard.press("ArrowDown")
        page.keyboard.press("Escape")
        assert page.locator(BOX).evaluate("box => box === document.activeElement")
    output.wait_for(state="hidden")
    page.locator(BOX).click()
    output.wait_for(state="visible")


def test_text_that_comes_without_a_key_is_searched(open_page: Opener, search_for: Search) -> None:
    """Paste, dictation and what a browser fills in tell of themselves by the same event."""
    page = open_page(PULLEY)
    page.locator(BOX).focus()
    page.wait_for_function("'searchIndex' in window")
    page.keyboard.insert_text("carpal tunnel")
    assert page.locator(RESULTS).first.evaluate("link => link.href").endswith("injuries/carpal-tunnel/index.html")
    page.get_by_role("button", name="Clear the search").click()
    expect(page.locator(RESULTS)).to_have_count(0)
    assert page.locator(BOX).evaluate("box => box === document.activeElement")


def test_a_screen_reader_hears_how_many_pages_there_are(open_page: Opener, search_for: Search) -> None:
    page = open_page(PULLEY)
    search_for(page, "pulley")
    status = page.get_by_role("status")
    assert status.inner_text() == f"{page.locator(RESULTS).count()} pages found"
    search_for(page, "carpal tunnel syndrome")
    assert status.inner_text() == "1 page found"
    box = page.get_by_role("textbox", name="Search")
    assert page.locator(f"#{box.get_attribute('aria-controls')}").locator(RESULTS).count() == 1


# --- What it costs


def list_asked(page: Page) -> list[str]:
    asked: list[str] = []

    def hear(request: Request) -> None:
        asked.append(request.url)

    page.on("request", hear)
    return asked


def test_the_index_comes_with_the_first_look_at_the_box_and_once(browser: Browser, built_site: Path) -> None:
    for_search = ["assets/javascripts/ranking.js", "search/index.js"]
    with desk_driver.serve(built_site) as place:
        page = browser.new_page()
        asked = list_asked(page)
        page.goto(f"{place}/index.html")
        page.wait_for_load_state("networkidle")
        assert not [url for url in asked if url.endswith(tuple(for_search))]
        before = len(asked)
        page.locator(BOX).focus()
        page.wait_for_function("'searchIndex' in window")
        page.locator(BOX).fill("pulley")
        page.locator("h1").click()
        page.locator(BOX).click()
        page.wait_for_load_state("networkidle")
        assert sorted(asked[before:]) == [f"{place}/{address}" for address in for_search]
        page.close()


def test_a_search_that_does_not_load_says_so_and_tries_again(browser: Browser, built_site: Path) -> None:
    with desk_driver.serve(built_site) as place:
        page = browser.new_page()
        page.route("**/search/index.js", lambda route: route.abort())
        page.goto(f"{place}/grips/index.html")
        page.locator(BOX).fill("pulley")
        page.locator(".search-none").wait_for(state="visible")
        assert page.get_by_role("status").inner_text() == "The search did not load."
        page.unroute("**/search/index.js")
        page.locator(BOX).fill("pulley ")
        page.locator(RESULTS).first.wait_for()
        page.close()


def test_a_strict_policy_stops_nothing(browser: Browser, built_site: Path) -> None:
    """A host may allow the site's own scripts and styles alone."""
    policy = "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; font-src 'self'; img-src 'self'"

    def answer(route: Any) -> None:
        whole = route.fetch()
        route.fulfill(response=whole, headers={**whole.headers, "content-security-policy": policy})

    with desk_driver.serve(built_site) as place:
        page = browser.new_page()
        said: list[str] = []
        page.on("console", lambda message: said.append(message.text))
        page.route("**/*.html", answer)
        page.goto(f"{place}/{PULLEY}index.html")
        page.locator(BOX).fill("mallet")
        page.locator(RESULTS).first.wait_for()
        assert said == []
        page.close()


# --- For everybody


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("width", [390, 1366])
def test_nobody_is_kept_from_the_open_box(open_page: Opener, search_for: Search, width: int, scheme: str) -> None:
    page = open_page("about/", width, scheme)
    for typed in ("pulley", "xylophone"):
        search_for(page, typed)
        assert axe.look(page, axe.read_explained())[0] == []
        # Of letters over other letters axe is never sure: the page behind the box is looked at elsewhere.
        page.evaluate("document.querySelector('.md-main__inner').style.visibility = 'hidden'")
        assert axe.look(page, axe.read_explained(), axe.COLOURS) == ([], [])
        page.evaluate("document.querySelector('.md-main__inner').style.visibility = ''")
