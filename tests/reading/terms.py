"""Are the words of the trade explained on the very handout that uses them?"""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from typing import TypeGuard

from fingerpost.model.shared import Term
from fingerpost.plan.base.blocks import Bullets, Section
from fingerpost.plan.base.paper import Handout, LeafBlock, Points
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.visible import list_words
from reading.texts import list_leaf_blocks, list_printed

WORD_LIST = "words"
WORDS_HERE = "Words"
# Sources are cited as they were published; the last lines are about the sheet and not about fingers.
_NOT_READ = {WORD_LIST, "sources", "about"}
_ABBREVIATION = re.compile(r"\b(?:[A-Z]{2,}|[A-Z]\d)\b")
# Numbers of grades, short forms that every reader of a clinic's letter knows, and the paper.
_KNOWN = {"II", "III", "IV", "UK", "A4"}


def _sections(handout: Handout) -> Iterator[Section]:
    for sheet in handout.sheets:
        yield from sheet.sections


def list_explained(handout: Handout) -> dict[str, str]:
    """The words that the handout's own lists explain."""
    found = {}
    lists = [b.items for s in _sections(handout) if s.id == WORD_LIST for b in s.blocks if isinstance(b, Bullets)]
    lists += [b.items for leaf in handout.leaves for b in list_leaf_blocks(leaf) if _is_list(b)]
    for items in lists:
        for item in items:
            word, _, meaning = plain(item).partition(": ")
            found[word] = meaning
    return found


def _is_list(block: LeafBlock) -> TypeGuard[Points]:
    """Whether a part of a leaf explains words."""
    return isinstance(block, Points) and block.heading == WORDS_HERE


def read_all(handout: Handout) -> str:
    """Everything that a reader meets on a handout before its word list: sentences, headings, tables, captions.

    Not what a clinician typed: the names and addresses at the top are nobody's to explain.
    """
    kept = [
        plain(words)
        for leaf in handout.leaves
        for block in list_leaf_blocks(leaf)
        if not _is_list(block)
        for words in list_words(block)
    ]
    for sheet in handout.sheets:
        sections = tuple(s for s in sheet.sections if s.id not in _NOT_READ)
        shown = dataclasses.replace(sheet, under_title=(), sections=sections)
        kept += list_printed(shown)
    return " \n".join(kept)


def find_unexplained(handout: Handout, terms: tuple[Term, ...]) -> Iterator[str]:
    """Words of the trade, and abbreviations, that stand on a handout and are explained nowhere on it."""
    text, explained = read_all(handout), list_explained(handout)
    for term in terms:
        for name in (term.term, *term.also_called):
            used = re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", text, re.IGNORECASE)
            if used and term.term not in explained and f"{name} ({term.plain})".lower() not in text.lower():
                yield name
    told = " ".join([*explained, *(name for t in terms if t.term in explained for name in t.also_called)])
    for short in sorted(set(_ABBREVIATION.findall(text)) - _KNOWN):
        if not re.search(rf"\b{short}\b", told) and not re.search(rf"\w \({short}\)", text):
            yield short
