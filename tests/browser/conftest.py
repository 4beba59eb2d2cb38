"""A browser for the tests: Debian's Chromium, driven by Playwright, which downloads nothing."""

from __future__ import annotations

import fcntl
import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import desk_driver
import pytest
from desk_under_test import build_desk_site
from playwright.sync_api import Browser, Page, sync_playwright

from fingerpost.read.library import read_plain

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
# What every new window would start beside the page, in processes of their own: pages for the list under the address.
POPUPS = ("WebUIOmniboxPopup", "WebUIOmniboxAimPopup", "WebUIOmniboxFullPopup")
# What Playwright turns off. Of two such lists a browser heeds only the last one, so ours holds all of it.
TURNED_OFF = (
    "AvoidUnnecessaryBeforeUnloadCheckSync",
    "DestroyProfileOnBrowserClose",
    "HttpsUpgrades",
    "HttpsFirstBalancedModeAutoEnable",
    "LensOverlay",
    "MediaRouter",
    "PaintHolding",
    "ThirdPartyStoragePartitioning",
    "AvoidCorsURLLoaderRestartOnRedirect",
    "OptimizationHints",
    "NetworkTimeServiceQuerying",
    "AimEnabled",
    "PreconnectToSearch",
)
# The browser itself stays quiet, so that every request that a test hears comes from the page.
FLAGS = (
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    f"--disable-features={','.join((*TURNED_OFF, *POPUPS))}",
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


@pytest.fixture(scope="session")
def one_page(browser: Browser) -> Iterator[Page]:
    """One page for all tests that read: a new one starts a process and reads every script of the site anew."""
    context = browser.new_context()
    page = context.new_page()
    yield page
    context.close()


@pytest.fixture
def open_page(one_page: Page, built_site: Path) -> Iterator[Opener]:
    """Opens a page of the site from its file, as somebody who has never been there; each test opens one."""
    opened: list[Page] = []

    def open_page(address: str, width: int = 1280, scheme: str = "light") -> Page:
        assert not opened, "the page that this test has opened would be left"
        opened.append(one_page)
        (page,) = opened
        page.set_viewport_size({"width": width, "height": 844})
        page.emulate_media(media="screen", color_scheme=scheme)  # type: ignore[arg-type]
        page.goto(f"{built_site.as_uri()}/{address}{'' if address.endswith('.html') else 'index.html'}")
        return page

    yield open_page
    for page in opened:
        page.evaluate("localStorage.clear(); sessionStorage.clear()")
        page.mouse.move(0, 0)
        page.goto("about:blank")


@pytest.fixture
def search_for() -> Callable[[Page, str], None]:
    """Types words into the search, one key after another, and waits until it says what it has found."""

    def search_for(page: Page, words: str) -> None:
        box = page.get_by_role("textbox", name="Search")
        box.click()
        page.wait_for_function("'searchIndex' in window")
        box.fill("")
        page.keyboard.type(words)

    return search_for


@pytest.fixture(scope="session")
def desk_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small site with the desk, built once, however many workers there are."""
    base = tmp_path_factory.getbasetemp()
    base = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    with (base / "desk.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (base / "desk-site").exists():
            build_desk_site(base / "desk-site")
    return base / "desk-site"


@pytest.fixture(scope="session")
def opened_desk(browser: Browser, desk_site: Path) -> Iterator[Page]:
    """One desk for all tests: it takes a second to get ready, and has to be fit for the next person anyway."""
    with desk_driver.serve(desk_site) as address:
        context = desk_driver.new_context(browser)
        yield desk_driver.open_desk(context, address)
        context.close()


@pytest.fixture
def desk(opened_desk: Page) -> Iterator[Page]:
    """The desk with nothing on it. What a test has filled in is cleared with the desk's own button."""
    opened_desk.set_viewport_size({"width": 1280, "height": 900})
    yield opened_desk
    desk_driver.clear(opened_desk)


@pytest.fixture(scope="session")
def demo(project: Path) -> dict[str, dict[str, Any]]:
    """The demo cases as written."""
    found = sorted((project / "tests" / "golden" / "cases").glob("*.yml"))
    return {path.stem: read_plain(path.read_text(encoding="utf-8"), path.name) for path in found}


@pytest.fixture
def small_case(demo: dict[str, Any]) -> dict[str, Any]:
    """A case that is right, and small enough to be filled in often."""
    keys = ("reference", "age_band", "protocol", "grade", "hand", "finger", "place", "anchor", "stage")
    return {key: demo["pulley-left-ring"][key] for key in keys}
