"""Hostile texts in every field of the collection: on the site they are letters, and in a real browser nothing runs."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

import pytest
from hostile import gate, world
from hostile.planting import list_free_fields
from playwright.sync_api import Browser, Page
from site_under_test import stub_sheets

from fingerpost.make import data_files, display_html, website
from fingerpost.model.case import ClinicSettings
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.shared import Vocabularies
from fingerpost.plan.base.paper import Site
from fingerpost.plan.pages.site import plan_site

TRAP = """
window.hits = [];
window.hit = (number) => { window.hits.push(number); };
window.print = () => {};
"""
# Printed on notices, shown on the gym's screen, or told to programs and to those who write protocols.
NOT_ON_PAGES = {
    "ClinicSettings.name", "Exercise.no_picture", "Notice.do", "Notice.look_for", "Structure.plain", "Term.also_called",
    "Retired.reason", "Retired.since", "SearchWords.means", "SearchWords.typed", "Tolerated.file", "Tolerated.path",
    "Tolerated.reason", "WarningSign.words",
}  # fmt: skip
# Those that have scripts or blocks of their own; the others differ from them in nothing but words.
OPENED = {"home", "injuries", "protocol", "apart", "apart-pair", "signs", "words", "for-coaches", "desk", "sources"}


@cache
def plan(hostile: bool) -> Site:
    """One page of each kind, the protocol with the most in it among them."""
    site = plan_site(world.plant_library(hostile).library)
    first: dict[str, str] = {"protocol": "injuries/pulley/"}
    for page in site.pages:
        first.setdefault(page.kind, page.address)
    pages = tuple(page for page in site.pages if page.address in first.values())
    return dataclasses.replace(site, pages=pages, handouts=())


def build(target: Path, hostile: bool) -> Path:
    library, site = world.plant_library(hostile).library, plan(hostile)
    files = {**stub_sheets(site), **data_files.make_data_files(library, [p.address for p in site.pages])}
    files[display_html.ADDRESS] = world.MADE["display"](library, world.demo_case(), world.sound()).encode()
    website.build_site(lambda page: website.write_page(world.sound(), page), site, world.PROJECT, target, files)
    return target


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The hostile site and its harmless twin."""
    folder = tmp_path_factory.mktemp("sites")
    return build(folder / "hostile", True), build(folder / "harmless", False)


def list_files() -> list[str]:
    return [*(f"{page.address}index.html" for page in plan(True).pages), "404.html"]


def test_hostile_texts_change_nothing_but_letters(sites: tuple[Path, Path]) -> None:
    hostile, harmless = sites
    files = [*list_files(), *(f"{old}index.html" for old, _ in plan(True).redirects)]
    payloads, shown = world.plant_library(True).payloads, set()
    assert len(files) > 20
    for file in files:
        html, right = ((folder / file).read_text("utf-8") for folder in (hostile, harmless))
        assert gate.find_defects(html, right, payloads) == [], file
        shown |= gate.list_shown(html)
    fields = {world.plant_library(True).fields[number] for number in shown}
    free = {f for kind in (Protocol, Referral, Vocabularies, ClinicSettings) for f in list_free_fields(kind)}
    assert free - fields == NOT_ON_PAGES | world.ONLY_ON_LEAVES


def test_the_site_has_the_same_files(sites: tuple[Path, Path]) -> None:
    hostile, harmless = sites
    names = [sorted(p.relative_to(folder).as_posix() for p in folder.rglob("*")) for folder in (hostile, harmless)]
    assert names[0] == names[1]


Trapped = Callable[[Path, str], tuple[Page, list[str]]]


@pytest.fixture
def open_trapped(browser: Browser) -> Iterator[Trapped]:
    """Opens a file with a trap. What is caught: code that ran, a dialog, and anything that is asked of another host."""
    context = browser.new_context(viewport={"width": 1280, "height": 844})
    context.add_init_script(TRAP)
    context.route("http*://**", lambda route: route.abort())

    def open_trapped(folder: Path, file: str) -> tuple[Page, list[str]]:
        caught: list[str] = []
        page = context.new_page()
        page.on("dialog", lambda dialog: (caught.append(f"dialog {dialog.message}"), dialog.dismiss()))
        page.on("request", lambda r: None if r.url.startswith(("file:///", "data:", "blob:")) else caught.append(r.url))
        page.on("pageerror", lambda error: caught.append(str(error)))
        page.goto((folder / file).as_uri())
        return page, caught

    yield open_trapped
    context.close()


def spring(page: Page) -> None:
    """Open all folds, and click every link that is code."""
    page.evaluate("document.querySelectorAll('details').forEach((fold) => { fold.open = true; })")
    page.evaluate("for (const a of document.querySelectorAll('a[href^=javascript]')) a.click()")


def collect(page: Page, caught: list[str]) -> list[str]:
    """Everything that was caught on a page that was sprung. Of several, all are sprung first: they wait together."""
    page.wait_for_load_state("networkidle")  # what is asked of another host is heard a moment later
    return [*caught, *(f"hit {number}" for number in page.evaluate("window.hits"))]


def test_nothing_runs_and_nothing_is_loaded(sites: tuple[Path, Path], open_trapped: Trapped) -> None:
    opened = [f"{page.address}index.html" for page in plan(True).pages if page.kind in OPENED]
    assert len(opened) == len(OPENED)
    trapped = {file: open_trapped(sites[0], file) for file in [*opened, "404.html", "display/index.html"]}
    for page, _ in trapped.values():
        spring(page)
    assert {file: found for file, (page, caught) in trapped.items() if (found := collect(page, caught))} == {}


def test_nothing_runs_in_what_the_search_finds(
    sites: tuple[Path, Path],
    open_trapped: Trapped,
    search_for: Callable[[Page, str], None],
) -> None:
    page, caught = open_trapped(sites[0], "injuries/pulley/index.html")
    search_for(page, "onerror")
    assert page.locator(".search-found li").count() > 3
    assert "onerror=hit(2)" in page.locator(".search-found").inner_text()
    spring(page)
    assert collect(page, caught) == []


HOLES = {
    "text of a block": ("parts/blocks.html", "{{ run.text | bound }}", "{{ run.text | bound | safe }}"),
    "title": ("site/page.html", "{{ page.title }}", "{{ page.title | safe }}"),
    "heading": ("site/page.html", "{{ section.heading }}", "{{ section.heading | safe }}"),
}


@cache
def convert(hostile: bool, kind: str, hole: str = "") -> str:
    """The content of a page, without the frame around it."""
    environment = world.spoil(*HOLES[hole]) if hole else world.sound()
    page = next(page for page in plan(hostile).pages if page.kind == kind)
    return website.write_page(environment, page).decode()


@pytest.mark.parametrize("hole", HOLES)
def test_a_hole_in_a_template_is_found(hole: str) -> None:
    payloads, found = world.plant_library(True).payloads, []
    for kind in ("home", "injuries", "referral"):
        right = convert(False, kind)
        assert gate.find_defects(convert(True, kind), right, payloads) == []
        found += gate.find_defects(convert(True, kind, hole), right, payloads)
    assert found


def test_what_runs_is_caught(tmp_path: Path, open_trapped: Trapped) -> None:
    """On one page alone a hostile text may happen to comment out those after it; so every page is tried until both
    sorts of harm have sprung."""
    found: list[str] = []

    def sprung() -> bool:
        return any(what.startswith("hit ") for what in found) and any("bad.invalid" in what for what in found)

    for kind in (page.kind for page in plan(True).pages):
        (tmp_path / f"{kind}.html").write_text(convert(True, kind, "text of a block"), "utf-8")
        page, caught = open_trapped(tmp_path, f"{kind}.html")
        spring(page)
        found += collect(page, caught)
        page.close()
        if sprung():
            break
    assert sprung()
