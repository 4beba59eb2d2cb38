"""Goes through an open page with the Tab key, as someone does who has no mouse, and notes what happens on the way."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

from playwright.sync_api import Page

# Before each Tab, the page notes where the last one has led: by then it has scrolled there.
LISTEN = """() => {
    window.walk = [];
    [...document.querySelectorAll("*")].forEach((thing, place) => { thing.place = place; });
    // Whether a point of it that is in the window has nothing lying over it. A link may run over two lines.
    const points = [[.5, .5], [.05, .5], [.95, .5], [.5, .2], [.5, .8]];
    const free = (here, box) => points.some(([x, y]) => {
        const left = Math.max(box.left, 0), right = Math.min(box.right, innerWidth);
        const top = Math.max(box.top, 0), bottom = Math.min(box.bottom, innerHeight);
        if (left >= right || top >= bottom) return false;
        const found = document.elementFromPoint(left + (right - left) * x, top + (bottom - top) * y);
        return found && (here.contains(found) || here.labels?.[0]?.contains(found));
    });
    // How far the frames round it have been scrolled: places are compared as if nothing were.
    const scrolled = (thing) => (thing ? thing.scrollTop + scrolled(thing.parentElement) : 0);
    window.note = () => {
        const here = document.activeElement;
        if (!here || here === document.body || here === document.documentElement) return;
        const shown = here.labels?.length && here.matches("[type=radio], [type=checkbox]") ? here.labels[0] : here;
        const box = shown.getBoundingClientRect();
        const lines = [here, here.form, shown].filter(Boolean).map((thing) => getComputedStyle(thing));
        const widths = lines.map((s) => s.outlineStyle === "none" ? 0 : parseFloat(s.outlineWidth));
        const area = here.matches("svg a") ? [...here.querySelectorAll(".touch-edge path")] : [];
        widths.push(...area.map((path) => getComputedStyle(path).strokeDasharray === "none" ? 2 : 0));
        const part = here.closest("header, .side, article, footer, form") || document.body;
        walk.push({
            number: here.place ?? -1, part: part.place, drawn: Boolean(here.closest("svg")),
            name: (here.textContent.trim() || here.name || here.tagName).slice(0, 60),
            line: Math.max(...widths), seen: [...shown.getClientRects()].some((box) => free(here, box)),
            left: box.left, right: box.right, top: box.top + scrolled(shown), bottom: box.bottom + scrolled(shown),
        });
    };
    addEventListener("keydown", (event) => { if (event.key === "Tab") note(); }, true);
}"""
# Every thing that the Tab key should reach: shown, and not one of a group of which only one is stopped at.
COUNT = """() => [...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")]
    .filter((thing) => !thing.disabled && thing.tabIndex >= 0 && thing.checkVisibility({ visibilityProperty: true }))
    .filter((thing) => thing.type !== "radio" || thing.checked)
    .map((thing) => thing.place)"""
# After the last thing, the focus leaves the page, or comes to the first thing again.
AT_THE_END = """() => {
    const here = document.activeElement;
    return here === document.body || (walk.length > 0 && here.place === walk[0].number);
}"""
# So many more than there are things are tried before a walk counts as caught.
SPARE = 60


@dataclass(frozen=True)
class Stop:
    """Where one Tab led. `number` and `part` are places in the document; `line` is the width of the focus line."""

    number: int
    part: int
    name: str
    line: float
    seen: bool
    drawn: bool
    left: float
    top: float
    right: float
    bottom: float


def listen(page: Page) -> list[int]:
    """Begin to note stops. Gives the places in the document of all that the Tab key should reach."""
    page.evaluate(LISTEN)
    found: list[int] = page.evaluate(COUNT)
    return found


def walk(page: Page, at_least: int, key: str = "Tab") -> list[Stop]:
    """Every stop from the start of the page until the keyboard leaves it. Fails where it never does.

    `at_least`: so many stops there are, and the page need not be asked before.
    """
    with hold(page, key.split("+")[:-1]):
        for turn in range(at_least + SPARE):
            page.keyboard.down(key.split("+")[-1])  # held down, it goes on like one pressed again, in half the time
            if turn >= at_least and page.evaluate(AT_THE_END):
                return [Stop(**stop) for stop in page.evaluate("walk")]
    raise AssertionError("the Tab key never comes to the end of the page")


@contextmanager
def hold(page: Page, keys: list[str]) -> Iterator[None]:
    for key in keys:
        page.keyboard.down(key)
    try:
        yield
    finally:
        for key in keys:
            page.keyboard.up(key)


def find_faults(stops: list[Stop], wanted: list[int]) -> list[str]:
    """What a reader without a mouse would trip over."""
    reached = [stop.number for stop in stops]
    found = [f"{stop.name}: nothing shows that the keyboard is here" for stop in stops if stop.line < 2]
    found += [f"{stop.name}: hidden, or out of the window" for stop in stops if not stop.seen]
    found += [f"the thing at {number} is never reached" for number in wanted if number not in reached]
    found += [f"{stop.name}: reached before what stands above it in the document" for stop in find_backward(stops)]
    return found + [f"{stop.name}: the eye has to jump back for it" for stop in find_jumps(stops)]


def find_backward(stops: list[Stop]) -> list[Stop]:
    """Stops that come earlier in the document than the one before them."""
    return [now for before, now in itertools.pairwise(stops) if now.number <= before.number]


def find_jumps(stops: list[Stop]) -> list[Stop]:
    """Stops in the same part of a page that lie above, and not to the right of, the one before them."""
    pairs = itertools.pairwise(stops)
    together = [(one, two) for one, two in pairs if one.part == two.part and not (one.drawn and two.drawn)]
    return [now for before, now in together if now.bottom <= before.top + 1 and now.left < before.right]
