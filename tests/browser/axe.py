"""Runs axe-core on an open page, in every state in which readers meet one, and hands back what it found.

`violations` are faults. `incomplete` is what axe could not tell by itself: each must be explained in explained.yml.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import axe_playwright_python
import yaml
from playwright.sync_api import Page

SCRIPT = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
# What stands inside a drawing is lines and letters in fixed colours: tests/draw/test_draw.py looks at those.
SKIPPED = [[".drawing svg > *"], [".gallery svg > *"]]
# (name, width, light or dark, screen or print). The first one sees the whole page. In the dark, only colours
# are others: all that is about something else has been looked at in the light.
STATES = (
    ("desk", 1280, "light", "screen"),
    ("tablet", 768, "light", "screen"),
    ("phone", 320, "light", "screen"),
    ("dark", 1280, "dark", "screen"),
    ("paper", 768, "light", "print"),
)
COLOURS = ["color-contrast", "link-in-text-block"]
RUN = """async ({ runOnly, skipped, explained }) => {
    const only = { runOnly, resultTypes: ["violations", "incomplete"], elementRef: true };
    const found = await axe.run({ exclude: skipped }, only);
    const list = (rules, one) => rules.flatMap((rule) => rule.nodes.map((node) => one(rule.id, node)));
    const keys = (node) => [...node.any, ...node.all, ...node.none].map((check) => check.data?.messageKey || check.id);
    const fits = (id, node) => explained.findIndex(
        (e) => e.rule === id && keys(node).includes(e.message) && node.element.matches(e.where));
    return {
        violations: list(found.violations, (id, node) => [id, node.html]),
        unsure: list(found.incomplete, (id, node) => [fits(id, node), id, keys(node).join(), node.html]),
    };
}"""
# Lists, tables and the parts of some pages repeat one form many times: after the first look the first ones are enough.
# The form of a thing is its tags and classes, out to the page: styles go by these, by what is above and by even or odd.
SHORTEN = """() => {
    document.querySelectorAll(":is(.page, .menu) :is(li, tr):nth-child(n + 5)").forEach(item => item.remove());
    const heads = [...document.querySelectorAll("article.page h2:not(summary *)")];
    if (!document.querySelector("article.page h3") && heads.length >= 9) for (const head of heads.slice(5)) {
        while (head.nextElementSibling && head.nextElementSibling.tagName !== "H2") head.nextElementSibling.remove();
        head.remove();
    }
    const seen = new Map();
    const form = (thing) =>
        thing.matches(".page, .menu") ? "" : form(thing.parentElement) + ` ${thing.tagName}.${thing.className}`;
    for (const item of document.querySelectorAll(".menu li, .page :is(li, tr, p, dd, details, figure, .box, .part)")) {
        if (!item.isConnected || item.querySelector("h1, h2, h3, h4")) continue;
        const things = [item, ...item.querySelectorAll("*")].filter((thing) => !thing.closest("svg"));
        const forms = new Set(things.map(form));
        if ([...forms].every((one) => seen.get(one) >= 3)) item.remove();
        else forms.forEach((one) => seen.set(one, (seen.get(one) || 0) + 1));
    }
}"""


@cache
def read_explained() -> tuple[dict[str, str], ...]:
    """What axe is unsure of, and why it is right all the same."""
    return tuple(yaml.safe_load(Path(__file__).with_name("explained.yml").read_text(encoding="utf-8")))


def look(page: Page, explained: tuple[dict[str, str], ...], rules: list[str] = TAGS) -> tuple[list[Any], list[Any]]:
    """The violations on a page as it is now, and what axe is unsure of, with the place of its explanation or -1."""
    if not page.evaluate("'axe' in window"):
        page.evaluate(SCRIPT)
    found = page.evaluate(RUN, {"runOnly": rules, "skipped": SKIPPED, "explained": list(explained)})
    return found["violations"], found["unsure"]


def enter(page: Page, state: tuple[str, int, Any, Any]) -> None:
    """Bring a page into one of the STATES."""
    _, width, scheme, media = state
    page.set_viewport_size({"width": width, "height": 844})
    page.emulate_media(media=media, color_scheme=scheme)


def look_in_every_state(page: Page) -> tuple[list[Any], list[Any]]:
    """What is wrong with a page in any state, and what axe is unsure of; each begins with the name of the state."""
    violations, unsure = [], []
    for state in STATES:
        enter(page, state)
        wrong, open_ = look(page, read_explained(), COLOURS if state[2] == "dark" else TAGS)
        violations += [(state[0], *found) for found in wrong]
        unsure += [(state[0], *found) for found in open_]
        if state is STATES[0]:
            page.evaluate(SHORTEN)
    return violations, unsure
