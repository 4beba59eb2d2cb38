"""A reader without a mouse: the Tab key comes to everything, in the order of the page, and out again; and it shows."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from keyboard import find_faults, listen, walk
from playwright.sync_api import Page
from site_under_test import one_of_each_kind, page_id

Opener = Callable[..., Page]
KINDS = [*one_of_each_kind(), "404.html"]


def find_faults_on(page: Page) -> list[str]:
    wanted = listen(page)
    return find_faults(walk(page, len(wanted) - 1), wanted)


@pytest.mark.parametrize("width", [320, 1280])
@pytest.mark.parametrize("address", KINDS, ids=page_id)
def test_a_page_can_be_gone_through_without_a_mouse(open_page: Opener, address: str, width: int) -> None:
    assert find_faults_on(open_page(address, width)) == []


@pytest.mark.parametrize("address", ["", "injuries/pulley/"], ids=page_id)
def test_nobody_is_caught_on_the_way_back(open_page: Opener, address: str) -> None:
    page = open_page(address)
    wanted = listen(page)
    back = [stop.number for stop in walk(page, len(wanted) - 1, "Shift+Tab")]
    assert len(set(back)) >= len(wanted)
    assert back == sorted(back, reverse=True)


@pytest.mark.parametrize("width", [390, 1280])
def test_the_way_begins_with_the_skip_link_and_comes_to_the_menu_and_the_list(open_page: Opener, width: int) -> None:
    page = open_page("injuries/", width)
    wanted = listen(page)
    names = [stop.name for stop in walk(page, len(wanted) - 1)]
    assert names[:2] == ["Skip to content", "Fingerpost"]
    assert ("Menu" in names) == (width == 390)
    assert "query" in names
    assert {"Pulley injury of the finger", "Drooping fingertip"} <= set(names)


# --- Would it notice?

BAR = "#bar { position: fixed; inset: 0 0 auto; height: 60vh; z-index: 9; background: #fff }"
STEP = "document.querySelector('.page .part a')"
BREAKS = {
    "nothing shows": "document.head.append(Object.assign(document.createElement('style'),"
    " {textContent: '.menu a:focus-visible { outline: 0 }'}))",
    "hidden": f"document.head.append(Object.assign(document.createElement('style'), {{textContent: '{BAR}'}}));"
    " document.body.append(Object.assign(document.createElement('div'), {id: 'bar'}))",
    "never reached": f"{STEP}.inert = true",
    "above it in the document": f"{STEP}.tabIndex = 3",
    "jump back": f"{STEP}.closest('ul').style.cssText = 'display: flex; flex-direction: column-reverse'",
}


@pytest.mark.parametrize("fault", BREAKS)
def test_the_walk_would_notice(open_page: Opener, fault: str) -> None:
    page = open_page("injuries/")
    page.evaluate(BREAKS[fault])
    assert any(fault in line for line in find_faults_on(page))


def test_the_walk_would_notice_a_trap(open_page: Opener) -> None:
    page = open_page("injuries/")
    page.evaluate(f"{STEP}.addEventListener('keydown', (event) => event.preventDefault())")
    with pytest.raises(AssertionError, match="never comes to the end"):
        find_faults_on(page)
