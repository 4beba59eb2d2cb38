"""Figures: each one says where it is from and how far that was seen."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from fingerpost.checks.base.marks import (
    holds_a_figure,
    holds_a_mark,
    list_marks,
    list_written_marks,
    read_mark,
)
from fingerpost.checks.base.walk import (
    KnownIds,
    list_conditions,
    list_documents,
    list_ids,
    list_protocols,
    walk_sentences_about_hands,
)
from fingerpost.model.library import Library
from fingerpost.model.words import COMMON_PRACTICE, OWN, UNSOURCED, split_sentences
from fingerpost.problems import Problem, suggest

# How far a figure was seen, the farthest first.
SEEN = ("full", "abstract", "secondary", "recalled")
_UNSOURCED = f"[{COMMON_PRACTICE}] or [{OWN}]"
# Keys whose text is a name or a label: a digit in it is no figure.
_NAMES = frozenset({"plain_name", "trade_name", "also_called", "name", "title", "term", "source"})


# What a sentence says of its own mark: that we chose, or that many do it so.
_OURS = re.compile(r"\b(?:ours|our (?:own )?choice|choice is ours|we (?:choose|chose|set|stop))\b", re.IGNORECASE)
_HABIT = re.compile(r"\b(?:many|most|some) (?:clinic(?:ian)?s|doctors|therapists|surgeons|people)\b", re.IGNORECASE)


def _shorten(sentence: str) -> str:
    words = sentence.split()
    return " ".join(words[:8]) + (" …" if len(words) > 8 else "")


@lru_cache(maxsize=20_000)
def _list_unmarked(text: str) -> tuple[str, ...]:
    return tuple(s for s in split_sentences(text) if holds_a_figure(s) and not holds_a_mark(s))


def find_figures_without_a_mark(library: Library) -> Iterator[Problem]:
    """Every sentence that holds a figure must hold a mark that says where it is from."""
    for leaf in walk_sentences_about_hands(library):
        if leaf.field in _NAMES:
            continue
        for sentence in _list_unmarked(leaf.text):
            message = f"a figure without a mark: '{_shorten(sentence)}'"
            yield leaf.problem(message, f"End the sentence with [source-id], {_UNSOURCED}.")


def find_facts_without_a_mark(library: Library) -> Iterator[Problem]:
    """Every fact must hold a mark that says where it is from."""
    for document in list_protocols(library):
        for number, fact in enumerate(document.value.facts):
            if not holds_a_mark(fact.says):
                message = f"the fact '{fact.id}' does not say where it is from"
                yield document.problem(
                    ("facts", number, "says"), message, f"End a sentence with [source-id], {_UNSOURCED}."
                )


def find_codes_without_a_mark(library: Library) -> Iterator[Problem]:
    """Every choice of an ICD-10 code must hold a mark that says where it is from."""
    for document in list_conditions(library):
        for number, code in enumerate(document.value.codes):
            if not holds_a_mark(code.fits):
                message = f"the choice of {code.icd10} does not say where it is from"
                yield document.problem(("codes", number, "fits"), message, f"Add [source-id], {_UNSOURCED}.")


def find_loads_called_a_habit(library: Library) -> Iterator[Problem]:
    """A share of load must be from a published source, or be marked as a choice of ours."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            if stage.load and stage.load.source == COMMON_PRACTICE:
                message = "no clinician taught us this share, so it is no habit"
                yield document.problem(("stages", number, "load", "source"), message, f"Write {OWN}, or the source.")


def find_marks_that_say_the_opposite(library: Library) -> Iterator[Problem]:
    """What a sentence calls ours must not be marked as a habit, nor what many do as a choice of ours."""
    for leaf in walk_sentences_about_hands(library):
        for sentence in split_sentences(leaf.text) if "[" in leaf.text else ():
            if f"[{COMMON_PRACTICE}]" in sentence and _OURS.search(sentence):
                yield leaf.problem(f"this calls itself ours: '{_shorten(sentence)}'", f"Write [{OWN}].")
            elif f"[{OWN}]" in sentence and _HABIT.search(sentence):
                yield leaf.problem(f"this tells what others do: '{_shorten(sentence)}'", f"Write [{COMMON_PRACTICE}].")


def find_brackets_that_are_no_marks(library: Library) -> Iterator[Problem]:
    """Square brackets and `source` keys must hold one source id, and after it at most how far the figure was seen."""
    for document in list_documents(library):
        for leaf, written in list_written_marks(document):
            if not read_mark(written):
                hint = f"Write [source-id], [source-id recalled], {_UNSOURCED}, each in its own brackets."
                yield leaf.problem(f"'{written}' is no mark", hint)


def find_unknown_sources(library: Library) -> Iterator[Problem]:
    """Every source that a mark names must exist."""
    known = KnownIds(library)
    for document in list_documents(library):
        for leaf, mark in list_marks(document):
            if mark.name not in UNSOURCED and not known.has("sources", mark.name):
                hint = suggest(mark.name, (*list_ids(library, "sources"), *UNSOURCED))
                hint = hint or "Add it to shared/sources.yml first."
                yield leaf.problem(f"no source is called '{mark.name}'", hint)


def find_figures_seen_too_far(library: Library) -> Iterator[Problem]:
    """A mark must say how far a figure was seen only where that is less far than its source; no other mark has it."""
    sources = {source.id: source.seen for source in library.vocabularies.sources}
    for document in list_documents(library):
        for leaf, mark in list_marks(document):
            if mark.seen and mark.name in UNSOURCED:
                yield leaf.problem(f"'{mark.name}' cannot be seen", f"Leave out '{mark.seen}'.")
            elif mark.seen and mark.name in sources and SEEN.index(mark.seen) <= SEEN.index(sources[mark.name]):
                message = f"'{mark.name}' itself is '{sources[mark.name]}', so '{mark.seen}' must not stand here"
                yield leaf.problem(message, f"Leave out '{mark.seen}', or change `seen` in shared/sources.yml.")
