"""Nothing is lost: not on a small telephone, not with letters and lines set wider, and not over a slow network."""

from __future__ import annotations

import gzip
import hashlib
from collections.abc import Callable
from functools import cache
from pathlib import Path

import desk_driver
import pytest
from lost import SPACING, find_lost
from playwright.sync_api import Browser, Page, Response
from site_under_test import one_of_each_kind, page_id, whole_site

Opener = Callable[..., Page]
KINDS = [*one_of_each_kind(), "404.html"]
OPEN_ALL = "document.querySelectorAll('details').forEach(fold => { fold.open = true })"
MOST_BYTES = 350_000
MOST_BYTES_AT_HOME = 250_000  # whoever comes first is at the wall, or has just been hurt
HEADERS = 400  # what each answer of a web server costs beside its content
PACKED = {"font", "image"}


@pytest.mark.parametrize("address", KINDS, ids=page_id)
def test_all_of_a_page_can_be_read_on_320_pixels_and_with_wider_letters(open_page: Opener, address: str) -> None:
    """320 pixels are also a screen of 1280 at 400 %. Tables and drawings may scroll in a frame of their own."""
    page = open_page(address, 320)
    assert find_lost(page) == []
    page.evaluate(OPEN_ALL)
    assert find_lost(page) == []
    page.add_style_tag(content=SPACING)
    assert find_lost(page) == []
    page.set_viewport_size({"width": 1280, "height": 844})
    assert find_lost(page) == []


BREAKS = {
    "the page is": ".page { min-width: 700px }",
    "outside of the window": ".page h1 { margin-left: -30px }",
    "cut off": ".page .lead { height: 2em; overflow: hidden }",
    "lies over other text": ".page h1 { margin-bottom: -3rem }",
}


@pytest.mark.parametrize("fault", BREAKS)
def test_it_would_be_noticed_if_something_were_lost(open_page: Opener, fault: str) -> None:
    page = open_page("injuries/", 320)
    page.add_style_tag(content=BREAKS[fault])
    assert any(line.startswith(fault) for line in find_lost(page))


def test_it_would_be_noticed_if_wider_letters_did_not_fit(open_page: Opener) -> None:
    page = open_page("injuries/", 320)
    page.locator(".lead").evaluate("p => { p.style.cssText = `height: ${p.clientHeight}px; overflow: hidden` }")
    before = find_lost(page)
    page.add_style_tag(content=SPACING)
    assert not before
    assert any(line.startswith("cut off") for line in find_lost(page))


# --- What the first page costs


@cache
def measure_packed(body: bytes) -> int:
    """Several pages bring the same scripts along, which take longer to pack than to load."""
    return len(gzip.compress(body, 6))


def weigh(answer: Response) -> int:
    """The bytes of an answer over the wire, packed as a web server packs what is text."""
    body = answer.body()
    return HEADERS + (len(body) if answer.request.resource_type in PACKED else measure_packed(body))


def open_first(browser: Browser, address: str) -> tuple[Page, list[Response]]:
    """A page as a reader opens it who comes first, with nothing kept from before; and what is answered."""
    answers: list[Response] = []
    page = browser.new_context(viewport={"width": 1280, "height": 844}).new_page()
    page.on("response", lambda answer: answers.append(answer))
    page.goto(address)
    return page, answers


def weigh_pages(browser: Browser, addresses: list[str]) -> list[dict[str, int]]:
    """What each answer weighs, page for page. That nothing more comes is waited for at all of them together."""
    weights = []
    for page, answers in [open_first(browser, address) for address in addresses]:
        page.wait_for_load_state("networkidle")
        weights.append({answer.url: weigh(answer) for answer in answers})
        page.context.close()
    return weights


def find_heavy(weights: dict[str, int], place: str) -> list[str]:
    """What makes a first page slow: too much of it, drawings that have to be asked for, other places."""
    pictures = [url for url in weights if url.endswith((".svg", ".png", ".jpg", ".webp"))]
    found = [f"a picture by itself: {url}" for url in pictures if not url.endswith("/favicon.svg")]
    found += [f"another place: {url}" for url in weights if not url.startswith(f"{place}/")]
    return found + ([f"{sum(weights.values())} bytes"] if sum(weights.values()) >= MOST_BYTES else [])


def test_the_first_page_and_that_of_an_injury_come_over_a_slow_network(browser: Browser, built_site: Path) -> None:
    protocols = [page.address for page in whole_site().pages if page.kind == "protocol"]
    assert len(protocols) >= 7
    with desk_driver.serve(built_site) as place:
        home, *others = weigh_pages(browser, [f"{place}/{address}index.html" for address in ("", *protocols)])
    assert sum(home.values()) < MOST_BYTES_AT_HOME
    for weights in (home, *others):
        assert find_heavy(weights, place) == []


def test_a_heavy_page_would_be_noticed(browser: Browser, tmp_path: Path) -> None:
    words = b"".join(hashlib.sha256(str(n).encode()).hexdigest().encode() for n in range(11_000))
    (tmp_path / "index.html").write_bytes(b"<title>x</title><img src=hand.svg><p>" + words)
    (tmp_path / "hand.svg").write_text("<svg xmlns='http://www.w3.org/2000/svg'/>", encoding="utf-8")
    with desk_driver.serve(tmp_path) as place:
        (weights,) = weigh_pages(browser, [f"{place}/index.html"])
        heavy, big = find_heavy(weights, place)
    assert heavy.startswith("a picture by itself")
    assert big.endswith(" bytes")
