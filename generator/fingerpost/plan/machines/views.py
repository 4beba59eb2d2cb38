"""Every page and sheet as plain lines, to compare with another revision. Marks name their source, not its number.

Why: a new source moves the numbers of all that follow, and no reader would call that a change.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from typing import Any

from fingerpost.changes.views import View
from fingerpost.model.grammar import is_record, parts_of
from fingerpost.model.words import split_sentences
from fingerpost.plan.base.blocks import Page
from fingerpost.plan.base.outline import list_leaf_lines, list_page_lines, list_sheet_lines
from fingerpost.plan.base.paper import Handout, Site
from fingerpost.plan.base.prose import LETTERS
from fingerpost.plan.base.runs import Run
from fingerpost.plan.base.visible import list_words

_NUMBER = re.compile(r"\[(\w+)\]:? ")


def _name_sources(part: Any) -> dict[str, str]:
    """What each numbered source is called: 'source-3' -> 'Orth D and others, 2023'."""
    names = {f"source-{letter}": name.replace("-", " ") for name, (letter, _) in LETTERS.items()}
    for words in list_words(part):
        for run, following in pairwise(words):
            found = _NUMBER.fullmatch(run.text) if run.kind == "strong" else None
            if found:
                names.setdefault(f"source-{found.group(1)}", following.text.split(". ")[0].rstrip("."))
    return names


def _with_names(part: Any, names: Mapping[str, str]) -> Any:
    """The same part of the plan with sources named where they were numbered."""
    if isinstance(part, Run):
        if part.kind == "mark":
            return replace(part, text=f" [{names.get(part.target, part.target)}]")
        return replace(part, text="") if part.kind == "strong" and _NUMBER.fullmatch(part.text) else part
    if isinstance(part, tuple):
        return tuple(_with_names(item, names) for item in part)
    if is_record(part):
        return replace(part, **{field: _with_names(below, names) for field, below in parts_of(part)})
    return part


def _split(line: str) -> Iterator[str]:
    """A line of the outline as sentences. Rows of tables and what drawings are made of stay whole."""
    flat = " ".join(line.split()).removeprefix("- ").removeprefix("☐ ")
    indented = line.startswith("      ")
    yield from (flat,) if " | " in flat or indented else split_sentences(flat) or (flat,)


def _view_page(page: Page) -> View:
    lines = list_page_lines(_with_names(page, _name_sources(page)))
    return View(f"/{page.address}", tuple((part, piece) for part, line in lines for piece in _split(line)))


def _view_handout(handout: Handout) -> View:
    """Leaves and sheets without their foot, which holds the version and the content hash. Each leaf has its sources."""
    lines = [("", f"head: {handout.head}")]
    for number, leaf in enumerate(handout.leaves, 1):
        named = _with_names(leaf, _name_sources(leaf))
        lines += [(f"leaf {number}", piece) for line in list_leaf_lines(named) for piece in _split(line)]
    for sheet in _with_names(handout.sheets, _name_sources(handout.sheets)):
        lines += [(f"sheet {sheet.number}", piece) for line in list_sheet_lines(sheet) for piece in _split(line)]
    return View(f"sheets {handout.file_stem}", tuple(lines))


def list_views(old: Site, new: Site) -> tuple[tuple[View, ...], tuple[View, ...]]:
    """All pages and general sheets that are not the same in two plans: as they were, and as they are."""
    pages = {page.address: page for page in old.pages}
    sheets = {handout.file_stem: handout for handout in old.handouts}
    same_pages = {page.address for page in new.pages if pages.get(page.address) == page}
    same_sheets = {handout.file_stem for handout in new.handouts if sheets.get(handout.file_stem) == handout}

    def view(site: Site) -> tuple[View, ...]:
        return (
            *(_view_page(page) for page in site.pages if page.address not in same_pages),
            *(_view_handout(handout) for handout in site.handouts if handout.file_stem not in same_sheets),
        )

    return view(old), view(new)
