"""Ids: each stands for one thing, and a file is found by it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fingerpost.checks.base.walk import (
    list_conditions,
    list_documents,
    list_entries,
    list_ids,
    list_printed,
    name_condition,
    walk_parts,
    walk_texts,
)
from fingerpost.model.library import Library, Path
from fingerpost.model.protocol import Protocol, Referral, SignFit, Stage
from fingerpost.model.words import KEPT_BY_WINDOWS, TEXT_SHAPE
from fingerpost.problems import Problem, suggest

# Lists whose entries are told apart by one of their keys.
_KEYED: dict[type, dict[str, str]] = {
    Protocol: {"grades": "id", "stages": "id", "look_alikes": "id", "facts": "id", "timelines": "grade"},
    Referral: {"look_alikes": "id"},
    Stage: {"windows": "grade"},
}


def find_misnamed_files(library: Library) -> Iterator[Problem]:
    """The id of a protocol or short entry must be the name of its file."""
    for document in list_printed(library):
        name = name_condition(document)
        if document.value.id != name:
            message = f"the id '{document.value.id}' must be the name of the file, '{name}'"
            yield document.problem(("id",), message, "Rename the file or change the id.")


def find_names_that_windows_keeps(library: Library) -> Iterator[Problem]:
    """The id of a protocol or short entry must not be a name that Windows keeps, because files are called by it."""
    for document in list_printed(library):
        if document.value.id in KEPT_BY_WINDOWS:
            yield document.problem(("id",), f"'{document.value.id}' can be no file on Windows", "Choose another id.")


def find_ids_like_stages(library: Library) -> Iterator[Problem]:
    """The id of a protocol or short entry must not be a protocol's id with '-' and a number: so are stages called."""
    ways = {p.value.id for p in library.protocols} | {retired.id for retired in library.vocabularies.retired}
    for document in list_printed(library):
        way, _, number = document.value.id.rpartition("-")
        if way in ways and number.isdigit():
            message = f"'{document.value.id}' is the short address of a stage of '{way}'"
            yield document.problem(("id",), message, "Choose another id.")


def _find_second_ones(ids: Iterable[str]) -> Iterator[tuple[int, str]]:
    seen: set[str] = set()
    for number, wanted in enumerate(ids):
        if wanted in seen:
            yield number, wanted
        seen.add(wanted)


def find_repeated_ids(library: Library) -> Iterator[Problem]:
    """An id must stand only once in its vocabulary, and only one protocol or short entry must have it."""
    documents = list_printed(library)
    for number, wanted in _find_second_ones(map(name_condition, documents)):
        first = next(d for d in documents if name_condition(d) == wanted)
        message = f"the id '{wanted}' belongs to {first.file} already"
        yield documents[number].problem(("id",), message, "Choose another id and rename the file.")
    for vocabulary in library.shared_files:
        entries = [part for part in list_entries(library, vocabulary) if hasattr(part.value, "id")]
        for number, wanted in _find_second_ones(part.value.id for part in entries):
            again, place = entries[number], next(e for e in entries if e.value.id == wanted).problem((), "").place
            where = f"on line {place.line}" if place.file == again.document.file else f"in {place.file}:{place.line}"
            yield again.problem(("id",), f"there is an entry '{wanted}' already", f"First {where}.")


def find_repeated_parts(library: Library) -> Iterator[Problem]:
    """Grades, stages, look-alikes, facts, timelines and windows must each stand only once where they stand."""
    for document in list_conditions(library):
        for part in walk_parts(document):
            for field, key in _KEYED.get(type(part.value), {}).items():
                for number, name in _find_second_ones(getattr(item, key) for item in getattr(part.value, field)):
                    message = f"'{name}' stands in this list already"
                    yield part.problem((field, number, key), message, "Keep one of the two.")


def find_repeated_entries(library: Library) -> Iterator[Problem]:
    """A list of ids, names or labels must hold each of them only once."""
    for document in list_documents(library):
        seen: set[tuple[Path, str]] = set()
        for leaf in walk_texts(document):
            if leaf.shape is TEXT_SHAPE or leaf.path[-1] == leaf.field:
                continue
            entry = (leaf.path[:-1], leaf.text)
            if entry in seen:
                yield leaf.problem(f"'{leaf.text}' stands in this list already", "Remove one of the two.")
            seen.add(entry)


def find_signs_in_two_lists(library: Library) -> Iterator[Problem]:
    """A sign must stand in only one of usual, sometimes and does_not_fit."""
    for document in list_conditions(library):
        signs: SignFit = document.value.signs
        seen: dict[str, str] = {}
        for name in ("usual", "sometimes", "does_not_fit"):
            for number, sign in enumerate(getattr(signs, name)):
                if seen.setdefault(sign, name) != name:
                    message = f"'{sign}' stands in '{seen[sign]}' already"
                    yield document.problem(("signs", name, number), message, "Decide which of the two it is.")


def find_retired_ids_in_use(library: Library) -> Iterator[Problem]:
    """A retired id must no longer be in use, and must lead to one that is."""
    vocabularies = ("conditions", *(name for name in library.shared_files if name not in ("exceptions", "retired")))
    in_use = [wanted for name in vocabularies for wanted in list_ids(library, name)]
    unread = {wanted for ids in library.unread.values() for wanted in ids}
    for part in list_entries(library, "retired"):
        if part.value.id in in_use:
            yield part.problem(("id",), f"'{part.value.id}' is in use", "Only an id that is gone is retired.")
        if part.value.now not in in_use and part.value.now not in unread and "*" not in unread:
            hint = suggest(part.value.now, in_use) or "Name the entry where readers should go now."
            yield part.problem(("now",), f"nothing is called '{part.value.now}'", hint)
