"""What axe-core, the usual set of automatic accessibility checks, finds on a page of each kind: nothing."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import axe
import pytest
from playwright.sync_api import Browser, Page
from site_under_test import DISPLAY, one_of_each_kind, page_id, whole_site

Opener = Callable[..., Page]
Looked = Callable[[str], tuple[list[Any], list[Any]]]
KINDS = [*one_of_each_kind(), DISPLAY, "404.html"]


@pytest.fixture(scope="module")
def look_at(browser: Browser, built_site: Path) -> Iterator[Looked]:
    """What axe says about a page in every state. Each page is looked at once."""
    context = browser.new_context()
    page = context.new_page()

    @cache
    def look_at(address: str) -> tuple[list[Any], list[Any]]:
        page.goto(f"{built_site.as_uri()}/{address}{'' if address.endswith('.html') else 'index.html'}")
        return axe.look_in_every_state(page)

    yield look_at
    context.close()


def test_a_page_of_every_kind_of_the_plan_is_looked_at() -> None:
    planned = {page.address: page.kind for page in whole_site().pages}
    assert {planned[address] for address in KINDS if address in planned} == set(planned.values())
    assert len(KINDS) == len(set(planned.values())) + 2
    assert [(width, media) for _, width, _, media in axe.STATES if media == "screen"][:3] == [
        (1280, "screen"),
        (768, "screen"),
        (320, "screen"),
    ]


@pytest.mark.parametrize("address", KINDS, ids=page_id)
def test_nobody_is_kept_from_reading_a_page(address: str, look_at: Looked) -> None:
    violations, unsure = look_at(address)
    assert violations == []
    assert [found for found in unsure if found[1] < 0] == [], "axe is unsure, and explained.yml does not say why"


def test_no_explanation_is_left_over(look_at: Looked) -> None:
    used = {found[1] for address in KINDS for found in look_at(address)[1]}
    assert [e for at, e in enumerate(axe.read_explained()) if at not in used] == []
    assert all(len(e["why"].split()) >= 8 for e in axe.read_explained())


def test_nobody_is_kept_from_an_open_menu(open_page: Opener) -> None:
    page = open_page("about/", 390)
    page.locator(".head-menu summary").click()
    violations, unsure = axe.look(page, axe.read_explained())
    assert violations == []
    assert [found for found in unsure if found[0] < 0] == []


# --- Would it notice?

BREAKS = {
    "color-contrast": "document.querySelector('h1').style.color = '#999'",
    "html-has-lang": "document.documentElement.lang = ''",
    "target-size": "document.querySelectorAll('.menu a').forEach(a => a.style.cssText = 'padding: 0; font-size: 8px')",
    "heading-order": "document.querySelector('h2').outerHTML = '<h4>Purpose</h4>'",
    "region": "document.body.append(Object.assign(document.createElement('p'), {textContent: 'outside of all'}))",
    "link-name": "document.querySelector('.side-menu a').textContent = ''",
    "image-alt": "document.querySelector('.page').append(new Image())",
}


@pytest.mark.parametrize("rule", BREAKS)
def test_axe_would_find_a_fault(open_page: Opener, rule: str) -> None:
    page = open_page("for-gyms/")
    page.evaluate(BREAKS[rule])
    violations, _ = axe.look(page, axe.read_explained())
    assert rule in [name for name, _ in violations]


def test_a_fault_only_in_the_dark_or_only_on_paper_is_found(open_page: Opener) -> None:
    page = open_page("about/")
    page.add_style_tag(
        content="@media (prefers-color-scheme: dark) { h1 { color: #222 } }"
        " @media print { h2 { color: #ddd !important } }"
    )
    found = {(state, rule) for state, rule, _ in axe.look_in_every_state(page)[0]}
    assert found == {("dark", "color-contrast"), ("paper", "color-contrast")}


def test_an_unexplained_doubt_is_found(open_page: Opener) -> None:
    page = open_page("about/")
    page.evaluate("document.querySelector('.page p').style.background = 'linear-gradient(#fff, #777)'")
    _, unsure = axe.look(page, axe.read_explained())
    assert [(at, rule, message) for at, rule, message, _ in unsure] == [(-1, "color-contrast", "bgGradient")]
