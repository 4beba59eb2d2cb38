"""What the tests of the site build: the whole site, or a small one, with stubs in the place of the general sheets."""

from __future__ import annotations

import dataclasses
import sys
from collections.abc import Mapping
from functools import cache, partial
from pathlib import Path

from jinja2 import Environment

from fingerpost.make import display_html, pdf, website
from fingerpost.make.templates import make_environment
from fingerpost.model.library import Library
from fingerpost.plan.base.paper import Site
from fingerpost.plan.pages.site import plan_site
from fingerpost.plan.walls.display import plan_display
from fingerpost.read.library import read_library
from fingerpost.run import site_build

PROJECT = Path(__file__).resolve().parent.parent
DISPLAY = "display/"  # a page of its own kind, which is no part of the plan of the site
STUB = b"%PDF-1.7\n% a stub: the sheets themselves are tested elsewhere\n"


@cache
def whole_library() -> Library:
    library, problems = read_library(PROJECT / "protocols")
    assert not problems
    return library


@cache
def whole_site() -> Site:
    return plan_site(whole_library())


def one_of_each_kind() -> list[str]:
    """The address of the shortest page of each kind."""
    pages = sorted(whole_site().pages, key=lambda page: len(repr(page)), reverse=True)
    return sorted({page.kind: page.address for page in pages}.values())


def page_id(address: str) -> str:
    """The name of a test of a page."""
    return address or "home"


def small_site() -> Site:
    """The least that has every group of the menu: one protocol, one short entry, and the pages they need."""
    site, seen, pages = whole_site(), set(), []
    for page in site.pages:
        if page.kind in ("home", "injuries", "protocol", "referral") and page.kind not in seen:
            seen.add(page.kind)
            pages.append(page)
    return dataclasses.replace(site, pages=tuple(pages), handouts=())


def make_templates(**changed: str) -> Environment:
    """The project's templates, some of them replaced; `site__page_html` stands for 'site/page.html'."""
    names = {"site__page_html": "site/page.html", "parts__blocks_html": "parts/blocks.html"}
    return make_environment({**pdf.read_templates(PROJECT / "templates"), **{names[n]: t for n, t in changed.items()}})


def stub_sheets(site: Site) -> Mapping[str, bytes]:
    """The display, and a stub for everything else that pages link to: all that is no page, and the pages left out."""
    shown = display_html.write_display(make_templates(), plan_display(whole_library()), PROJECT).encode()
    there = {page.address for page in site.pages}
    left_out = [f"{page.address}index.html" for page in whole_site().pages if page.address not in there]
    made = site_build.list_addresses(whole_library(), whole_site())
    return {**dict.fromkeys([*made, *left_out], STUB), display_html.ADDRESS: shown}


def build(target: Path, site: Site, environment: Environment | None = None) -> Path:
    website.build_site(
        partial(website.write_page, environment or make_templates()), site, PROJECT, target, stub_sheets(site)
    )
    return target


def read_tree(folder: Path) -> dict[str, bytes]:
    """Every file under a folder with its content."""
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*")) if p.is_file()}


if __name__ == "__main__":
    build(Path(sys.argv[1]), small_site())
