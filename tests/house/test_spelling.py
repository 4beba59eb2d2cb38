"""No slip of the pen reaches a reader: common slips, words that nobody knows, anything but British spelling."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from pdf_gate.samples import library
from reading.score import find_unknown
from reading.spelling import (
    PROJECT,
    READ_BY_CODESPELL,
    WORDS,
    find_american,
    find_strange,
    list_comments,
    list_handout_texts,
    list_page_texts,
    read_exceptions,
    read_own_words,
    run_codespell,
)
from site_under_test import whole_site

from fingerpost.checks.base.walk import walk_all_prose
from fingerpost.model.audience import flat
from fingerpost.plan.base.blocks import Page, Section
from fingerpost.plan.base.runs import text

CODE = [p for part in ("generator", "tests") for p in sorted((PROJECT / part).rglob("*.py"))]
GUIDES = [PROJECT / "README.md", PROJECT / "DEVELOPERS.md", PROJECT / "protocols" / "README.md"]
GUIDES += sorted((PROJECT / "templates" / "project").rglob("*.md"))


@cache
def read_texts() -> list[str]:
    """All that readers of the site and of the general sheets meet, and every phrase that may come up."""
    site = whole_site()
    found = [text for page in site.pages for text in list_page_texts(page)]
    found += [text for handout in site.handouts for text in list_handout_texts(handout)]
    return found + [flat(phrase.says) for phrase in library().vocabularies.wording]


@cache
def list_for_people() -> list[str]:
    """All texts, guides, comments and docstrings."""
    found = read_texts() + [leaf.text for leaf in walk_all_prose(library())]
    found += [path.read_text(encoding="utf-8") for path in GUIDES]
    return found + [text for path in CODE for text in list_comments(path)]


@pytest.mark.rest
def test_no_common_slip_stands_anywhere() -> None:
    assert run_codespell(list(READ_BY_CODESPELL), list(read_exceptions()["no_slip"]), PROJECT) == []


def test_every_word_on_a_page_or_a_sheet_is_known() -> None:
    assert len(read_texts()) > 10_000
    strange = find_strange(read_texts())
    assert not strange, f"a slip, or a word for {WORDS.relative_to(PROJECT)}: {sorted(strange)}"


def test_words_are_spelt_the_british_way() -> None:
    assert len(list_for_people()) > 10_000
    found = {word for text in list_for_people() for word in find_american(text)}
    assert found - set(read_exceptions()["both"]) == set()


@pytest.mark.rest
def test_no_exception_is_left_over() -> None:
    unneeded = read_own_words()
    assert list(unneeded) == sorted(unneeded)
    assert set(unneeded) - find_unknown(read_texts()) == set()
    slips = run_codespell(list(READ_BY_CODESPELL), [], PROJECT)
    heard = {line.split(": ", 1)[1].split(" ==> ")[0].lower() for line in slips}
    assert set(read_exceptions()["no_slip"]) - heard == set()
    american = {word for text in list_for_people() for word in find_american(text)}
    assert set(read_exceptions()["both"]) - american == set()
    reasons = [why for part in read_exceptions().values() for why in part.values()]
    assert all(len(why) > 5 for why in reasons)


# --- Would it notice?


def page(heading: str) -> Page:
    section = Section(id="a", heading=heading, blocks=())
    return Page(
        address="", kind="x", title="A hand", description="A hand", badge=text("A hand"), lead=(), sections=(section,)
    )


@pytest.mark.parametrize("slip", ["fingr", "tendom", "clmibing", "Exercizes"])
def test_a_slip_in_a_heading_is_noticed(slip: str) -> None:
    assert find_strange(list(list_page_texts(page(f"Where the {slip} is sore")))) == {slip.lower()}
    assert find_strange(list(list_page_texts(page("Where the finger is sore")))) == set()


@pytest.mark.rest
def test_a_common_slip_is_noticed(tmp_path: Path) -> None:
    (tmp_path / "page.md").write_text("Go and see the doctor immediatly.\n", encoding="utf-8")
    (line,) = run_codespell(["page.md"], [], tmp_path)
    assert "immediatly ==> immediately" in line
    assert run_codespell(["page.md"], ["immediatly"], tmp_path) == []


def test_an_american_spelling_is_noticed() -> None:
    assert find_american("The color of the center") == {"color", "center"}
    assert find_american("The colour of `color` in a/center.css") == set()
