"""Pointers: what is named exists, and what exists is named by something."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from fingerpost.checks.base.marks import list_marks
from fingerpost.checks.base.walk import (
    REMEMBERED,
    KnownIds,
    Passage,
    Same,
    find_first_odd_grade,
    index_conditions,
    list_documents,
    list_entries,
    list_ids,
    list_printed,
    list_protocols,
    read_all,
    walk_prose,
    walk_texts,
)
from fingerpost.model.audience import For
from fingerpost.model.library import Document, Library
from fingerpost.model.movement import Movement
from fingerpost.model.protocol import (
    Dose,
    GateUse,
    Grade,
    GripLimit,
    GripRules,
    LookAlike,
    Protocol,
    Referral,
    Seek,
    SignFit,
    SignUse,
    TapeUse,
)
from fingerpost.model.shared import SearchWords, Taping, Test, WarningSign
from fingerpost.problems import Problem, suggest

# Which vocabulary each key points into. A test holds that no key of the model with an id is forgotten here.
POINTERS: dict[tuple[type, str], str] = {
    (Protocol, "tissue"): "anatomy",
    (Protocol, "places"): "anatomy",
    (Protocol, "tests"): "tests",
    (Grade, "places"): "anatomy",
    (Grade, "torn_through"): "anatomy",
    (Referral, "tissue"): "anatomy",
    (Referral, "tests"): "tests",
    (SignFit, "usual"): "signs",
    (SignFit, "sometimes"): "signs",
    (SignFit, "does_not_fit"): "signs",
    (LookAlike, "id"): "conditions",
    (LookAlike, "signs"): "signs",
    (LookAlike, "tests"): "tests",
    (GripRules, "keep"): "grips",
    (GripRules, "leave"): "grips",
    (GripLimit, "grips"): "grips",
    (TapeUse, "taping"): "tapings",
    (Taping, "without_glue"): "tapings",
    (GateUse, "gate"): "gates",
    (SignUse, "sign"): "warning_signs",
    (For, "place"): "anatomy",
    (Dose, "exercise"): "exercises",
    (Dose, "grip"): "grips",
    (Movement, "grip"): "grips",
    (WarningSign, "signs"): "signs",
    (Seek, "warning_signs"): "warning_signs",
    (Test, "warning_signs"): "warning_signs",
    (SearchWords, "conditions"): "conditions",
}
_NAMES = {
    "anatomy": "part of the hand",
    "conditions": "protocol or short entry",
    "warning_signs": "warning sign",
}


def name_one(vocabulary: str) -> str:
    """What one entry of a vocabulary is called: 'gate' for gates."""
    return _NAMES.get(vocabulary, vocabulary.removesuffix("s"))


@lru_cache(maxsize=REMEMBERED)
def _remember_pointers(same: Same) -> tuple[tuple[Passage, str], ...]:
    found = ((passage, POINTERS.get((passage.owner, passage.field))) for passage in walk_texts(same.document))
    return tuple((passage, vocabulary) for passage, vocabulary in found if vocabulary)


def list_pointers(document: Document[Any]) -> tuple[tuple[Passage, str], ...]:
    """Every id in a file that points elsewhere, and the vocabulary that it points into."""
    return _remember_pointers(Same(document))


@lru_cache(maxsize=REMEMBERED)
def _remember_words(same: Same) -> str:
    return " ".join(" ".join(passage.text for passage in walk_prose(same.document)).lower().split())


def _say_where(library: Library, vocabulary: str) -> str:
    if vocabulary == "conditions":
        return "Each one's id is the name of its file."
    return f"Those that there are stand in {library.name_shared(vocabulary)}."


def find_unknown_ids(library: Library) -> Iterator[Problem]:
    """Every id that is pointed at must exist."""
    known = KnownIds(library)
    for document in list_documents(library):
        for passage, vocabulary in list_pointers(document):
            if not known.has(vocabulary, passage.text):
                near = suggest(passage.text, list_ids(library, vocabulary))
                hint = f"{near} {_say_where(library, vocabulary)}".strip()
                yield passage.problem(f"no {name_one(vocabulary)} is called '{passage.text}'", hint)


def find_unknown_grades(library: Library) -> Iterator[Problem]:
    """Every grade that is named must be one of the protocol's own grades."""
    for document in list_protocols(library):
        grades = [grade.id for grade in document.value.grades]
        if find_first_odd_grade(document.value) is not None:
            continue
        for passage in walk_texts(document):
            if passage.field in ("grade", "grades", "skipped_by") and passage.text not in grades:
                yield passage.problem(f"there is no grade {passage.text} here", f"There are: {', '.join(grades)}.")


def _list_used(library: Library) -> set[tuple[str, str]]:
    used = {
        (vocabulary, passage.text)
        for document in list_printed(library)
        for passage, vocabulary in list_pointers(document)
    }
    used |= {("tapings", taping.without_glue) for taping in library.vocabularies.tapings if taping.without_glue}
    for document in list_documents(library):
        used |= {("sources", mark.name) for _, mark in list_marks(document)}
    return used


def find_unused_entries(library: Library) -> Iterator[Problem]:
    """Every shared entry must be used by a protocol or short entry, and every source by a figure."""
    if not read_all(library):
        return
    used = _list_used(library)
    for vocabulary in (*dict.fromkeys(POINTERS.values()), "sources"):
        for part in list_entries(library, vocabulary):
            if (vocabulary, part.value.id) not in used:
                message = f"no text uses the {name_one(vocabulary)} '{part.value.id}'"
                yield part.problem(("id",), message, "Use it, or take it out.")


def _begins_a_word(name: str, text: str) -> bool:
    at = text.find(name)
    while at > 0 and text[at - 1].isalnum():
        at = text.find(name, at + 1)
    return at >= 0


def find_unused_terms(library: Library) -> Iterator[Problem]:
    """Every term must come up in a text outside the list of terms."""
    if not read_all(library):
        return
    written = " ".join(_remember_words(Same(other)) for other in list_documents(library, {"terms"}))
    for part in list_entries(library, "terms"):
        names = (part.value.term, *part.value.also_called)
        if not any(_begins_a_word(name.lower(), written) for name in names):
            message = f"no text uses the word '{part.value.term}'"
            yield part.problem(("term",), message, "Take it out, or name in also_called what the texts say.")


def find_one_sided_look_alikes(library: Library) -> Iterator[Problem]:
    """If one condition names another as a look-alike, the other must name it in return."""
    documents = index_conditions(library)
    for name, document in documents.items():
        for look_alike in document.value.look_alikes:
            other = documents.get(look_alike.id)
            if other and name not in [back.id for back in other.value.look_alikes]:
                message = f"{document.file} names this one as a look-alike, so '{name}' must stand here"
                yield other.problem(("look_alikes",), message, "Write the other direction, or take it out there.")
