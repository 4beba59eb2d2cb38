"""The site: every link leads somewhere, every page is well made, and a build is whole, repeatable and alone.

- links, anchors and files: each leads somewhere, every page is found from the home page, the menu is short
- what every page has: headings, language, title, description, badge, captions, stable addresses
- words stay words, whatever signs they hold
- a build is whole, repeatable and alone: failed, repeated, at once in several processes, an hour later
"""

from __future__ import annotations

import dataclasses
import itertools
import os
import posixpath
import re
import subprocess
import sys
import threading
import time
from functools import cache
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from bs4 import BeautifulSoup, Tag
from for_each import for_each
from hypothesis import example, given
from hypothesis import strategies as st
from site_under_test import (
    PROJECT,
    build,
    make_templates,
    page_id,
    read_tree,
    small_site,
    stub_sheets,
    whole_library,
    whole_site,
)

from fingerpost.make import website
from fingerpost.plan.base.blocks import Page, Paragraph, Section
from fingerpost.plan.base.runs import plain, strong, text

ADDRESSES = PROJECT / "tests" / "golden" / "addresses.txt"
SITE, TEMPLATES = whole_site(), make_templates()
PAGES = [page.address for page in SITE.pages]
BY_NAME = {page_id(address): address for address in PAGES}
PROTOCOLS = [page for page in SITE.pages if page.kind == "protocol"]


@cache
def read_page(folder: Path, address: str) -> BeautifulSoup:
    file = folder / address / "index.html" if not address.endswith(".html") else folder / address
    return BeautifulSoup(file.read_text(encoding="utf-8"), "html.parser")


@cache
def read_ids(folder: Path, file: str) -> frozenset[str]:
    soup = read_page(folder, file.removesuffix("index.html") if file.endswith("/index.html") else file)
    return frozenset(str(tag["id"]) for tag in soup.select("[id]"))


# --- Links and files


def list_references(soup: BeautifulSoup) -> list[str]:
    names = ("href", "src", "data", "poster", "action")
    return [str(tag[name]) for tag in soup.find_all(True) for name in names if tag.get(name) is not None]


@for_each("address", BY_NAME)
def test_every_link_and_anchor_leads_somewhere(built_site: Path, address: str) -> None:
    references = list_references(read_page(built_site, address))
    assert len(references) > 20
    for reference in references:
        parts = urlsplit(reference)
        assert not parts.scheme, f"{reference} leaves the site"
        assert not parts.netloc, f"{reference} leaves the site"
        assert not parts.path.startswith("/"), f"{reference} would fail from a folder"
        here = f"{address}index.html"
        file = posixpath.normpath(posixpath.join(address, unquote(parts.path))) if parts.path else here
        assert (built_site / file).is_file(), f"{reference} leads nowhere"
        if parts.fragment:
            assert unquote(parts.fragment) in read_ids(built_site, file), f"{reference} has no such place"


@pytest.mark.parametrize("name", ["fonts/fonts.css", "assets/frame.css", "assets/page.css", "assets/paper.css"])
def test_style_sheets_ask_only_for_files_that_are_there(built_site: Path, name: str) -> None:
    for url in re.findall(r"url\(\s*[\"']?([^\"')]+)", (built_site / name).read_text(encoding="utf-8")):
        assert ":" not in url
        assert (built_site / name).parent.joinpath(url).is_file(), url


def test_every_page_is_found_from_the_home_page(built_site: Path) -> None:
    found, queue = {""}, [""]
    while queue:
        here = queue.pop()
        for link in read_page(built_site, here).select("a[href]"):
            path = posixpath.normpath(posixpath.join(here, urlsplit(str(link["href"])).path))
            address = "" if path == "index.html" else path.removesuffix("index.html")
            if path.endswith("index.html") and address not in found:
                found.add(address)
                queue.append(address)
    assert sorted(found - {"display/"}) == sorted(PAGES)  # the display is one page of its own kind


def test_the_menu_groups_the_injuries(built_site: Path) -> None:
    menu = read_page(built_site, "injuries/pulley/").select_one(".side .menu")
    assert menu is not None
    current = menu.select("[aria-current]")
    assert [c.get_text() for c in current] == ["Pulley injury of the finger"]
    names = [a.get_text() for a in menu.select("li li > a")]
    assert sorted(names) == sorted(p.menu for p in SITE.pages if p.kind in ("protocol", "referral"))
    assert [g.get_text() for g in menu.select(".menu-group")] == [SITE.referral_menu]
    below = menu.select("li li li > a")
    assert len(below) == sum(p.kind == "referral" for p in SITE.pages)


def test_the_menu_is_short_and_opens_where_the_reader_is(built_site: Path) -> None:
    """More than eight entries are a list to search through, and no menu."""

    def list_menu(address: str) -> list[str]:
        return [a.get_text() for a in read_page(built_site, address).select(".side .menu > ul > li > a")]

    top = list_menu("")
    assert len(top) <= 8
    assert {"Injuries", "Warning signs"} < set(top)
    inner = {page.address: page.under for page in SITE.pages if page.under}
    assert len(inner) > 8
    for address, under in inner.items():
        menu = read_page(built_site, address).select_one(".side .menu")
        assert menu is not None
        assert list_menu(address) == top
        (group,) = [li for li in menu.select("ul > li") if li.select_one(":scope > ul")]
        assert posixpath.normpath(posixpath.join(address, str(group.a["href"]))) == f"{under}index.html"  # type: ignore[index]
        assert len(group.select("[aria-current]")) == 1


# --- What every page has


@for_each("address", BY_NAME)
def test_headings_are_the_planned_ones_and_skip_no_level(built_site: Path, address: str) -> None:
    page = next(p for p in SITE.pages if p.address == address)
    found = [(int(h.name[1]), h.get_text()) for h in read_page(built_site, address).select("h1, h2, h3, h4, h5, h6")]
    assert found[0] == (1, page.title)
    left = iter(found[1:])
    assert [s.heading for s in page.sections if (s.level, s.heading) not in left] == []
    levels = [level for level, _ in found]
    assert levels.count(1) == 1
    assert all(now <= before + 1 for before, now in itertools.pairwise(levels))


def test_every_page_has_a_language_a_title_and_a_description_of_its_own(built_site: Path) -> None:
    titles, descriptions = set(), set()
    for address in [*PAGES, "404.html"]:
        soup = read_page(built_site, address)
        assert soup.html is not None
        assert soup.html["lang"] == "en"
        assert soup.title is not None
        titles.add(soup.title.get_text())
        (description,) = soup.select('meta[name="description"]')
        assert len(str(description["content"])) > 15
        descriptions.add(str(description["content"]))
        assert soup.select_one("main") is not None
        assert soup.select_one('meta[name="viewport"]') is not None
    assert len(titles) == len(descriptions) == len(PAGES) + 1
    assert all(title.endswith(f" - {SITE.name}") for title in titles)


@for_each("address", BY_NAME)
def test_ids_are_used_once(built_site: Path, address: str) -> None:
    ids = [str(tag["id"]) for tag in read_page(built_site, address).select("[id]")]
    assert len(ids) == len(set(ids))


@for_each("address", BY_NAME)
def test_pictures_have_a_title_and_tables_a_caption(built_site: Path, address: str) -> None:
    page = read_page(built_site, address).select_one("article.page")
    assert page is not None
    assert page.select("iframe, object, embed, video, canvas") == []
    for shared in page.select("img"):  # a small picture that several pages show, which a browser keeps
        assert str(shared["src"]).startswith("../../pictures/")
        assert len(str(shared["alt"])) > 15
        assert shared["loading"] == "lazy"
    for picture in page.select("svg"):
        first = next(child for child in picture.children if isinstance(child, Tag))
        if picture["role"] == "group":  # a map to touch: its parts carry the words
            assert len(str(picture["aria-label"])) > 15
            continue
        assert (first.name, picture["role"]) == ("title", "img")
        assert len(first.get_text()) > 15
    for table in page.select("table"):
        assert table.caption is not None
        assert table.caption.get_text().strip()
        assert all(th.get("scope") in ("col", "row") for th in table.select("th"))


@for_each("address", BY_NAME)
def test_every_page_says_that_it_is_a_draft(built_site: Path, address: str) -> None:
    page = next(p for p in SITE.pages if p.address == address)
    assert plain(page.badge)
    (badge,) = read_page(built_site, address).select(".badge")
    assert badge.get_text() == plain(page.badge)


@for_each("address", BY_NAME)
def test_no_page_shows_signs_of_its_making(built_site: Path, address: str) -> None:
    words = read_page(built_site, address).get_text(" ")
    for sign in ("\\", "{{", "{%", "**", "](", "&lt;", "&amp;", "undefined", "None "):
        assert sign not in words.replace("None of", "")


@for_each("page", {page.menu: page for page in PROTOCOLS})
def test_every_stage_and_every_source_can_be_linked_to(built_site: Path, page: Page) -> None:
    ids = read_ids(built_site, f"{page.address}index.html")
    stages = [s.id for s in page.sections if s.id.startswith("stage-")]
    assert len(stages) >= 3
    assert stages == [f"stage-{n}" for n in range(1, len(stages) + 1)]
    assert ids.issuperset(s.id for s in page.sections)
    marks = read_page(built_site, page.address).select(".mark")
    assert len(marks) > 10
    for mark in marks:
        if mark.find_parent("summary"):  # a link in what is clicked to open something would be hit by mistake
            assert mark.a is None
            continue
        assert mark.a is not None
        assert str(mark.a["href"]).startswith("#source-")


def test_leaves_are_linked_from_their_page(built_site: Path) -> None:
    with_leaves = [page for page in SITE.pages if page.kind in ("protocol", "referral")]
    for page in with_leaves:
        links = [str(a["href"]) for a in read_page(built_site, page.address).select("a[href$='.pdf']")]
        name = page.address.split("/")[1]
        assert links == [f"../../sheets/{name}-{paper}.pdf" for paper in ("a4", "letter")]
    assert len(list((built_site / "sheets").iterdir())) == 2 * (len(with_leaves) + 1)  # and the key


def list_stages() -> list[tuple[str, int, str]]:
    """(id, number, name) of every stage that a leaf may send its reader to."""
    ways = [document.value for document in whole_library().protocols]
    return [(way.id, number, stage.name) for way in ways for number, stage in enumerate(way.stages, 1)]


@pytest.mark.parametrize(("way", "number", "name"), list_stages(), ids=lambda value: str(value).replace(" ", "-"))
def test_the_short_address_of_a_stage_leads_to_it(built_site: Path, way: str, number: int, name: str) -> None:
    """It stands on paper, in a code. It must work from a folder and below a path, and end at what the stage says.

    The place is what opens and not its heading: a browser that is sent into something folded opens it.
    """
    here = f"i/{way}-{number}/"
    page = read_page(built_site, here)
    (link,), (moved,) = page.select("main a[href]"), page.select("meta[http-equiv=refresh]")
    to = str(link["href"])
    assert str(moved["content"]) == f"0; url={to}"
    file, _, anchor = to.partition("#")
    target = posixpath.normpath(posixpath.join(here, file))
    assert (to.startswith("../../"), target) == (True, f"injuries/{way}/index.html")
    place = read_page(built_site, f"injuries/{way}/").find(id=anchor)
    assert isinstance(place, Tag)
    assert isinstance(place.parent, Tag)
    summary = place.parent.select_one(":scope > summary")
    assert summary is not None
    assert name in summary.get_text()
    assert [str(found["href"]) for found in page.select("link[rel=canonical]")] == [file]


def test_stable_addresses_have_not_vanished(built_site: Path, request: pytest.FixtureRequest) -> None:
    """Posters and other people's pages point at these. One that goes needs an entry in protocols/shared/retired.yml."""
    now = [f"/{p.address}" for p in SITE.pages]
    now += [f"/{p.address}#{s.id}" for p in SITE.pages for s in p.sections if p.kind == "protocol"]
    now += [f"/{sheet}" for sheet in stub_sheets(SITE)]
    now += [f"/{old}" for old, _ in SITE.redirects]
    if request.config.getoption("--refresh-golden"):
        ADDRESSES.write_text("\n".join(sorted(now)) + "\n", encoding="utf-8")
    moved = tuple(f"/{old}" for old, _ in SITE.redirects)
    known = ADDRESSES.read_text(encoding="utf-8").split()
    assert len(known) > 100
    vanished = [a for a in known if a not in now and not a.startswith(moved or ("-",))]
    assert vanished == []
    assert sorted(now) == known, "new addresses: run the tests with --refresh-golden"
    for address in PAGES:
        assert (built_site / address / "index.html").is_file()


# --- Words stay words


NASTY = "a_b_ *c* `d` [e](f) ![g](h) <b>i</b> &amp; # + - . ! | ~ : ^ = > {#j} \\ \"k\" 'l'"


@example(NASTY)
@example("1. Stage {: .x }")
@given(st.text(st.characters(min_codepoint=32, max_codepoint=126), min_size=1, max_size=40))
def test_a_heading_shows_exactly_its_words(words: str) -> None:
    shown = " ".join(f"x {words} x".split())
    section = Section(id="own", heading=shown, blocks=())
    page = dataclasses.replace(SITE.pages[0], title=shown, lead=(), sections=(section,))
    made = BeautifulSoup(website.write_page(TEMPLATES, page), "html.parser")
    assert [(h.name, h["id"], h.get_text()) for h in made.select("h1, h2")] == [
        ("h1", "top", shown),
        ("h2", "own", shown),
    ]


@pytest.mark.rest
def test_words_of_a_page_are_shown_as_they_are(tmp_path: Path) -> None:
    page = dataclasses.replace(
        SITE.pages[0],
        title=NASTY,
        description=NASTY,
        menu=NASTY,
        badge=strong(NASTY),
        lead=(Paragraph(words=text(NASTY)),),
        sections=tuple(Section(id=f"own-{n}", heading=NASTY, blocks=(Paragraph(words=text(NASTY)),)) for n in range(4)),
    )
    small = small_site()
    labels = tuple((name, NASTY) for name, _ in small.labels)
    build(tmp_path / "site", dataclasses.replace(small, pages=(page, *small.pages[1:]), labels=labels))
    soup = read_page(tmp_path / "site", "")
    assert [h.get_text() for h in soup.select("h1, h2")] == [NASTY] * 5
    assert [p.get_text() for p in soup.select("article p")] == [NASTY] * 6
    assert [a.get_text() for a in soup.select(".toc a, .on-page a, .menu [aria-current]")] == [NASTY] * 10
    assert [t.get_text() for t in soup.select("summary, .toc-title, .foot p")] == [NASTY] * 5
    assert {n["aria-label"] for n in soup.select("nav")} == {NASTY}
    assert read_page(tmp_path / "site", "404.html").h1.get_text() == NASTY  # type: ignore[union-attr]
    assert soup.title is not None
    assert soup.title.get_text() == f"{NASTY} - {SITE.name}"
    assert soup.select_one('meta[name="description"]')["content"] == NASTY  # type: ignore[index]


@pytest.mark.parametrize(
    ("here", "target", "link"),
    [
        ("", "", "index.html"),
        ("", "grips/", "grips/index.html"),
        ("injuries/pulley/", "", "../../index.html"),
        ("injuries/pulley/", "injuries/mallet-finger/", "../mallet-finger/index.html"),
        ("injuries/pulley/", "tests/#tip-hold", "../../tests/index.html#tip-hold"),
        ("injuries/pulley/", "sheets/pulley-a4.pdf", "../../sheets/pulley-a4.pdf"),
        ("injuries/pulley/", "#source-1", "#source-1"),
    ],
)
def test_links_work_from_a_folder(here: str, target: str, link: str) -> None:
    assert website.href_from(here)(target) == link


# --- A build is whole, repeatable and alone


@pytest.mark.rest
def test_a_retired_address_leads_on(tmp_path: Path) -> None:
    redirects = (("injuries/old-name/", "injuries/pulley/"),)
    folder = build(tmp_path / "site", dataclasses.replace(small_site(), redirects=redirects))
    soup = read_page(folder, "injuries/old-name/")
    (refresh,) = soup.select("meta[http-equiv=refresh]")
    assert refresh["content"] == "0; url=../pulley/index.html"
    assert [a["href"] for a in soup.select("a")] == ["../pulley/index.html"]


BROKEN = {
    "an unknown variable": {"site__page_html": "<h1>{{ page.heading }}</h1>"},
    "a slip in the syntax": {"parts__blocks_html": "{% macro words(runs, href) %}"},
    "a link that leads nowhere": {"site__page_html": '<h1 id="top">A page</h1> <a href="nowhere/index.html">There</a>'},
    "a link to what lies in the folder and nobody gets": {
        "site__page_html": '<h1 id="top">A page</h1> <a href="fonts/FingerpostSigns-Regular.ttf">There</a>'
    },
    "an anchor that is not there": {"site__page_html": '<h1 id="top">A page</h1> <a href="#nowhere">There</a>'},
    "an anchor that is not on another page": {
        "site__page_html": '<h1 id="top">A page</h1> <a href="injuries/pulley/index.html#nowhere">There</a>'
    },
}


@pytest.mark.rest
@pytest.mark.parametrize("changed", BROKEN.values(), ids=list(BROKEN))
def test_a_failed_build_leaves_an_earlier_site_whole(tmp_path: Path, changed: dict[str, str]) -> None:
    target = tmp_path / "build" / "site"
    target.mkdir(parents=True)
    (target / "index.html").write_text("earlier")
    with pytest.raises(website.WebsiteError, match=r"nowhere|\.ttf|page\.html|blocks\.html|has no attribute"):
        build(target, small_site(), make_templates(**changed))
    assert read_tree(tmp_path / "build") == {"site/index.html": b"earlier"}
    assert [p.name for p in target.parent.iterdir()] == ["site"]


@pytest.mark.rest
def test_mkdocs_by_itself_says_what_to_use(tmp_path: Path) -> None:
    """It finds mkdocs.yml and no page, so without a word it would make an empty site, or one of the wrong files."""
    call = [sys.executable, "-m", "mkdocs", "build", "--site-dir", tmp_path / "site"]
    done = subprocess.run(call, cwd=PROJECT, capture_output=True, text=True, check=False)
    assert (done.returncode, "Traceback" in done.stderr) == (1, False)
    assert "`./run build`" in done.stderr
    assert not (tmp_path / "site").exists()


@pytest.mark.rest
def test_a_build_takes_the_place_of_an_earlier_one(tmp_path: Path) -> None:
    target = tmp_path / "site"
    (target / "old").mkdir(parents=True)
    (target / "old" / "page.html").write_text("earlier")
    build(target, small_site())
    assert not (target / "old").exists()
    assert [p.name for p in tmp_path.iterdir()] == ["site"]
    assert target.stat().st_mode & 0o777 == 0o755


@pytest.mark.rest
def test_builds_at_once_in_other_processes_give_the_same_bytes_and_one_site(tmp_path: Path) -> None:
    def start(seed: int, zone: str) -> subprocess.Popen[bytes]:
        settings = {**os.environ, "PYTHONHASHSEED": str(seed), "TZ": zone, "PYTHONPATH": str(PROJECT / "generator")}
        script = PROJECT / "tests" / "site_under_test.py"
        return subprocess.Popen([sys.executable, script, tmp_path / "both" / "site"], env=settings)

    others = [start(1, "UTC"), start(2, "Pacific/Auckland")]
    alone = build(tmp_path / "site", small_site())
    assert [other.wait(60) for other in others] == [0, 0]
    assert [p.name for p in (tmp_path / "both").iterdir()] == ["site"]
    assert read_tree(tmp_path / "both" / "site") == read_tree(alone)


def test_many_swaps_at_once_leave_one_whole_folder(tmp_path: Path) -> None:
    target = tmp_path / "site"
    errors: list[BaseException] = []

    def swap_often(name: str) -> None:
        try:
            for turn in range(30):
                with website._work_folder(target) as work:
                    (work / "site").mkdir()
                    (work / "site" / "a").write_text(f"{name}{turn}")
                    (work / "site" / "b").write_text(f"{name}{turn}")
                    website._swap(work / "site", target, work)
        except BaseException as error:
            errors.append(error)

    threads = [threading.Thread(target=swap_often, args=(name,)) for name in "xyz"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert errors == []
    assert (target / "a").read_text() == (target / "b").read_text()
    assert [p.name for p in tmp_path.iterdir()] == ["site"]


def test_a_target_that_cannot_be_replaced_stays(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    target, work = tmp_path / "site", tmp_path / "work"
    for folder in (target, work / "site"):
        folder.mkdir(parents=True)
    (target / "index.html").write_text("earlier")
    rename = Path.rename

    def refuse(self: Path, to: Path) -> Path:
        if self == work / "site":
            raise PermissionError(13, "no")
        return rename(self, to)

    monkeypatch.setattr(website, "exchange", lambda *_: False)
    monkeypatch.setattr(Path, "rename", refuse)
    with pytest.raises(PermissionError):
        website._swap(work / "site", target, work)
    assert (target / "index.html").read_text() == "earlier"


def test_the_whole_site_is_the_same_an_hour_later(
    built_site: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    later = time.time() + 3600
    monkeypatch.setattr(time, "time", lambda: later)
    assert read_tree(build(tmp_path / "site", SITE)) == read_tree(built_site)


def test_the_site_ships_what_we_wrote_and_the_index_of_the_search_and_nothing_else(built_site: Path) -> None:
    """The theme brings scripts, icons and thirty languages as well, and every reader's host would carry them."""
    overrides = PROJECT / "site_overrides"
    kinds = (".css", ".js", ".svg", ".txt", ".woff2")
    ours = {p.relative_to(overrides).as_posix() for p in overrides.rglob("*") if p.suffix in kinds}
    shipped = [built_site / part for part in ("assets", "fonts", "search")]
    found = {p.relative_to(built_site).as_posix() for folder in shipped for p in folder.rglob("*") if p.is_file()}
    assert found == ours | {"search/index.js"}


def test_the_site_holds_nothing_that_no_page_asks_for(built_site: Path) -> None:
    names = {p.suffix for p in built_site.rglob("*") if p.is_file()}
    assert names == {
        ".html",
        ".css",
        ".js",
        ".json",
        ".pdf",
        ".svg",
        ".txt",
        ".woff2",
        ".xml",
    }  # .xml: the feed of changes
    assert not list(built_site.glob("sitemap*"))
    assert sum(p.stat().st_size for p in built_site.rglob("*")) < 8_000_000
