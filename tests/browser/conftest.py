"""A browser for the tests: Debian's Chromium, driven by Playwright, which downloads nothing."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright
from site_under_test import INDEX, NO_INDEX

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
# The browser itself stays quiet, so that every request that a test hears comes from the page.
FLAGS = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    path = next(filter(None, map(shutil.which, NAMES)), None)
    assert path, "these tests need Chromium: ./run test installs it or tells how"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=path, chromium_sandbox=False, args=list(FLAGS))
        yield browser
        browser.close()


Opener = Callable[..., Page]


@pytest.fixture
def open_page(browser: Browser, built_site: Path) -> Iterator[Opener]:
    """Opens a page of the site from its file."""
    contexts = []

    def open_page(address: str, width: int = 1280, scheme: str = "light", search: bool = False) -> Page:
        context = browser.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme)  # type: ignore[arg-type]
        contexts.append(context)
        if not search:
            context.route(INDEX, lambda route: route.fulfill(body=NO_INDEX))
        page = context.new_page()
        page.goto(f"{built_site.as_uri()}/{address}{'' if address.endswith('.html') else 'index.html'}")
        return page

    yield open_page
    for context in contexts:
        context.close()


@pytest.fixture
def search_for() -> Callable[[Page, str], None]:
    """Types words into the search and waits until the list of results has settled."""

    def search_for(page: Page, words: str) -> None:
        page.get_by_role("textbox", name="Search").click()
        page.keyboard.type(words)
        page.wait_for_function(
            """() => {
                const now = document.querySelector(".md-search-result").innerHTML;
                if (window.before !== now) [window.before, window.since] = [now, performance.now()];
                return /No matching|matching doc/.test(now) && performance.now() - window.since > 400;
            }"""
        )

    return search_for
