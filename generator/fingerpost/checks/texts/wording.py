"""Wording: plain, finished text in the order of the specimen."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterator
from functools import lru_cache
from string import Formatter

from fingerpost.checks.base.walk import list_documents, list_entries, walk_all_prose, walk_parts
from fingerpost.model.audience import flat
from fingerpost.model.grammar import keys_of
from fingerpost.model.lettering import find_foreign, say_foreign
from fingerpost.model.library import Library
from fingerpost.problems import Problem

_PLACEHOLDER = re.compile(r"\b(?:TODO|TBD|FIXME|TBC|XXX+|xxx+|lorem ipsum)\b|\?\?|\.\.\.|<[a-z -]+>", re.IGNORECASE)
_DOCTOR_SPEAK = re.compile(r"\b(?:the|a|your|this|each|every) patient\b(?!'s own)", re.IGNORECASE)
_MARKUP = re.compile(r"</?[a-z][^>]*>|\*\*|__|`|\]\(|\bhttps?://|^#+ |\*\w+\*", re.IGNORECASE | re.MULTILINE)
_GAP = re.compile(r"[a-z][a-z_]*")


@lru_cache(maxsize=40_000)
def _search(pattern: re.Pattern[str], text: str) -> str:
    """The first slip in a text, or ''."""
    found = pattern.search(text)
    return found.group() if found else ""


def find_placeholder_text(library: Library) -> Iterator[Problem]:
    """No text must be a placeholder for one that is still to be written."""
    for leaf in walk_all_prose(library):
        if found := _search(_PLACEHOLDER, leaf.text):
            yield leaf.problem(f"'{found}' must give way to finished text")


def find_talk_about_the_patient(library: Library) -> Iterator[Problem]:
    """Readers must be called 'you', never 'the patient'."""
    for leaf in walk_all_prose(library):
        if found := _search(_DOCTOR_SPEAK, leaf.text):
            yield leaf.problem(f"'{found}' must be 'you'")


def find_exclamation_marks(library: Library) -> Iterator[Problem]:
    """No text must hold an exclamation mark."""
    for leaf in walk_all_prose(library):
        if "!" in leaf.text:
            yield leaf.problem("an exclamation mark must not stand here", "Plain words are enough.")


def find_markup(library: Library) -> Iterator[Problem]:
    """Text must be plain: no tags, no signs for bold or links, no web addresses to click."""
    for leaf in walk_all_prose(library):
        if found := _search(_MARKUP, leaf.text):
            yield leaf.problem(f"'{found}' must not stand in plain text")


def find_signs_that_no_font_has(library: Library) -> Iterator[Problem]:
    """No text must hold a sign that none of our fonts has, or one that cannot be seen."""
    for leaf in walk_all_prose(library):
        if sign := find_foreign(leaf.text):
            yield leaf.problem(*say_foreign(sign))


@lru_cache(maxsize=2_000)
def _find_slip(kind: Hashable, written: tuple[str, ...]) -> tuple[tuple[str, str], ...]:
    """The first key that does not stand where it belongs, and the key that does; nothing where all stand well."""
    right = [key for key in keys_of(kind) if key in written]
    slips = [(key, expected) for key, expected in zip(written, right, strict=False) if key != expected]
    return tuple(slips[:1])


def find_keys_out_of_order(library: Library) -> Iterator[Problem]:
    """Keys must stand in the order of the annotated specimen."""
    for document in list_documents(library):
        for part in walk_parts(document):
            kind: type = type(part.value)
            for key, expected in _find_slip(kind, document.keys.get(part.path, ())):
                message = f"'{expected}' must stand here, before '{key}'"
                yield part.problem((key,), message, "The annotated specimen shows the order of the keys.")


def find_gaps_that_cannot_be_filled(library: Library) -> Iterator[Problem]:
    """A gap in a phrase must be one plain name in curly brackets."""
    for part in list_entries(library, "wording"):
        try:
            parsed = Formatter().parse(flat(part.value.says))
            gaps = [name for _, name, form, _ in parsed if name is not None or form]
        except ValueError as error:
            yield part.problem(("says",), f"the curly brackets do not match: {error}")
            continue
        for name in gaps:
            if not _GAP.fullmatch(name or ""):
                yield part.problem(("says",), f"'{{{name}}}' must be a plain name in curly brackets, such as {{count}}")
