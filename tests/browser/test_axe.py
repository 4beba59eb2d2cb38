"""What axe-core, the usual set of automatic accessibility checks, finds on one page of each kind: nothing."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import axe_playwright_python
import pytest
from playwright.sync_api import Page
from site_under_test import one_of_each_kind, page_id

Opener = Callable[..., Page]
AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
ALL = {"runOnly": {"type": "tag", "values": TAGS}}
# Contrast takes most of the time, and does not change with the width.
ALL_BUT_CONTRAST = {**ALL, "rules": {"color-contrast": {"enabled": False}}}
CONTRAST = {"runOnly": {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}}
RUN = """async only => {
    const inside = { exclude: [[".drawing svg > *"]] };
    const found = await axe.run(inside, { ...only, resultTypes: ["violations"] });
    return found.violations.map(v => [v.id, v.nodes.map(n => n.html)]);
}"""
# Lists, tables and the parts of some pages repeat one form many times: the first ones are looked at.
SHORTEN = """() => {
    document.querySelectorAll(":is(.page, .menu) :is(li, tr):nth-child(n + 5)").forEach(item => item.remove());
    const heads = [...document.querySelectorAll("article.page h2")];
    if (document.querySelector("article.page h3") || heads.length < 9) return;
    for (const head of heads.slice(5)) {
        while (head.nextElementSibling && head.nextElementSibling.tagName !== "H2") head.nextElementSibling.remove();
        head.remove();
    }
}"""


def find_violations(page: Page, rules: dict[str, Any]) -> list[Any]:
    page.evaluate(AXE)
    page.evaluate(SHORTEN)
    return list(page.evaluate(RUN, rules))


def test_axe_would_find_a_fault(open_page: Callable[..., Page]) -> None:
    page = open_page("about/")
    page.evaluate("document.querySelector('h1').style.color = '#999'; document.documentElement.lang = ''")
    found = [name for name, _ in find_violations(page, ALL)]
    assert found == ["color-contrast", "html-has-lang"]


def test_one_page_of_each_kind_is_looked_at() -> None:
    kinds = one_of_each_kind()
    assert {"", "injuries/", "grips/", "tapings/", "warning-signs/", "words/", "sources/"} < set(kinds)
    assert sum(address.startswith("injuries/") for address in kinds) == 3


@pytest.mark.parametrize(("width", "rules"), [(390, ALL_BUT_CONTRAST), (1280, ALL)], ids=["phone", "desk"])
@pytest.mark.parametrize("address", [*one_of_each_kind(), "404.html"], ids=page_id)
def test_axe_finds_nothing(open_page: Opener, address: str, width: int, rules: dict[str, Any]) -> None:
    assert find_violations(open_page(address, width), rules) == []


@pytest.mark.parametrize("address", [*one_of_each_kind(), "404.html"], ids=page_id)
def test_axe_finds_enough_contrast_in_the_dark(open_page: Opener, address: str) -> None:
    assert find_violations(open_page(address, 1280, "dark"), CONTRAST) == []


def test_axe_finds_nothing_in_an_open_menu_and_an_open_search(
    open_page: Opener, search_for: Callable[[Page, str], None]
) -> None:
    page = open_page("about/", 390, search=True)
    page.locator(".head-menu summary").click()
    search_for(page, "tape")
    assert find_violations(page, ALL) == []
