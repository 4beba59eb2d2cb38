"""What people type into the search: it leads somewhere, and nothing stands there for nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fingerpost.checks.base.walk import index_conditions, list_documents, list_entries, read_all, walk_prose
from fingerpost.model.library import Library
from fingerpost.problems import Problem

_BETWEEN = re.compile("[^a-z0-9&]+")


def _bare(typed: str) -> str:
    """Words as the search takes them: capitals and hyphens make no difference."""
    return _BETWEEN.sub(" ", typed.lower().replace("'", "").replace("’", "")).strip()


def find_search_words_without_an_end(library: Library) -> Iterator[Problem]:
    """What people type must stand for words of the texts, or lead to pages, and not both."""
    for part in list_entries(library, "search_words"):
        entry = part.value
        if not entry.typed:
            yield part.problem(("typed",), "'typed' must hold at least one entry")
        if bool(entry.means) == bool(entry.conditions or entry.pages):
            message = "must have either 'means', or one of 'conditions' and 'pages'"
            yield part.problem((), message, "Say which words of the texts it stands for, or to which pages it leads.")


def find_search_words_that_no_text_uses(library: Library) -> Iterator[Problem]:
    """What a typed word stands for must come up in a text, or it would find nothing."""
    if not read_all(library):
        return
    others = list_documents(library, {"search_words"})
    written = " ".join(_bare(passage.text) for document in others for passage in walk_prose(document))
    for part in list_entries(library, "search_words"):
        if part.value.means and f" {_bare(part.value.means)} " not in f" {written} ":
            message = f"no text uses the words '{part.value.means}'"
            yield part.problem(("means",), message, "Write them as the texts do, in the form that stands there.")


def find_search_words_that_stand_twice(library: Library) -> Iterator[Problem]:
    """What people type must stand only once, and must not be a name that its page has already."""
    conditions = index_conditions(library)
    seen: set[str] = set()
    for part in list_entries(library, "search_words"):
        led = [conditions[name].value for name in part.value.conditions if name in conditions]
        names = {_bare(name) for one in led for name in (one.plain_name, one.trade_name, *one.also_called)}
        for number, typed in enumerate(part.value.typed):
            if _bare(typed) in seen:
                yield part.problem(("typed", number), f"'{typed}' stands here already", "Keep one of the two.")
            elif _bare(typed) in names:
                yield part.problem(("typed", number), f"its page is called '{typed}' already", "Take it out.")
            seen.add(_bare(typed))
