"""A less cautious change needs a reason: a source that is new here, or a note by the person who changed it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fingerpost.changes.compare.cited import list_marks, new_source
from fingerpost.changes.compare.difference import Difference
from fingerpost.changes.comparison import Comparison, Subject
from fingerpost.model.grammar import is_record, parts_of
from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import Change, Condition
from fingerpost.problems import Place, Problem

RULE = "unexplained-change"


def list_cited(value: Any, key: str = "") -> Iterator[str]:
    """Every source that a value names, at any depth: under `source`, and in the marks of its texts."""
    if isinstance(value, str):
        yield from (value,) if key == "source" else list_marks(value)
    elif isinstance(value, tuple):
        for item in value:
            yield from list_cited(item, key)
    elif is_record(value):
        for field, part in parts_of(value):
            yield from list_cited(part, field)


def list_words(value: Any) -> Iterator[str]:
    """Every id, figure and text in a value, at any depth."""
    if isinstance(value, tuple):
        for item in value:
            yield from list_words(item)
    elif is_record(value):
        for _, part in parts_of(value):
            yield from list_words(part)
    elif isinstance(value, str):
        yield value


def _find_document(library: Library, wanted: str) -> Document[Any] | None:
    documents: tuple[Document[Any], ...] = (*library.protocols, *library.referrals)
    return next((d for d in documents if d.value.id == wanted), None)


def _find_entry(library: Library, about: str) -> Any:
    vocabulary, _, wanted = about.partition("/")
    entries = getattr(library.vocabularies, vocabulary, ())
    return next((e for e in entries if getattr(e, "id", "") == wanted), None)


def list_new_notes(comparison: Comparison, condition: Condition) -> tuple[Change, ...]:
    """The notes on today's version that were not there before. A version that was there before explains nothing new."""
    before = _find_document(comparison.old, condition.id)
    if before is None:
        return condition.changes
    version = condition.status.version
    if version == before.value.status.version:
        return ()
    return tuple(c for c in condition.changes if c.version == version and c not in before.value.changes)


def _has_source(difference: Difference, old: Any, new: Any) -> bool:
    """Whether a source that is new here stands behind a change: its own, or any where it has no key for one."""
    if difference.source:
        return True
    return not difference.asked and bool(new_source(list(list_cited(old)), list(list_cited(new))))


def _place(comparison: Comparison, subject: Subject, difference: Difference) -> Place:
    document = _find_document(comparison.new, subject.about)
    document = document or comparison.new.shared_files.get(subject.about.split("/")[0])
    return document.place(*difference.path) if document and document.file == subject.file else Place(subject.file)


def _names(note: Change, entry: Any) -> bool:
    said = f"{note.what} {note.reason}".lower()
    called = (getattr(entry, key, "") for key in ("id", "name", "sign"))
    return any(words and words.strip().rstrip(".").lower() in said for words in called)


def list_users(library: Library, entry: str) -> tuple[Condition, ...]:
    """The conditions that point at a shared entry."""
    return tuple(c for c in library.conditions if entry in set(list_words(c)))


def _explained_by_note(comparison: Comparison, subject: Subject) -> tuple[bool, str]:
    """(whether a note explains it, what to do where none does)."""
    _, shared, wanted = subject.about.partition("/")
    if not shared:
        document = _find_document(comparison.new, subject.about)
        if document is None:
            return False, "Add its id to protocols/shared/retired.yml with the page that takes its place."
        explained = bool(list_new_notes(comparison, document.value))
        return explained, "Give the source, or raise the version and say why under `changes`."
    entry = _find_entry(comparison.new, subject.about) or _find_entry(comparison.old, subject.about)
    users = list_users(comparison.new, wanted) or list_users(comparison.old, wanted)
    notes = [n for c in users if _find_document(comparison.new, c.id) for n in list_new_notes(comparison, c)]
    using = ", ".join(c.id for c in users) or "no condition"
    hint = (
        f"Give the source, or raise the version of a condition that uses it and name it under its `changes`: {using}."
    )
    return any(_names(note, entry) for note in notes), hint


def find_unexplained(comparison: Comparison) -> Iterator[Problem]:
    """A less cautious change must have a source that is new here, or a note on the new version that says why."""
    for subject in comparison.subjects:
        found = [d for d in subject.differences if d.lean == "less-cautious"]
        if not found:
            continue
        explained, hint = _explained_by_note(comparison, subject)
        sides = []
        for library in (comparison.old, comparison.new):
            document = _find_document(library, subject.about)
            sides.append(document.value if document else _find_entry(library, subject.about))
        for difference in () if explained else found:
            if not _has_source(difference, *sides):
                place = _place(comparison, subject, difference)
                yield Problem(place, f"less cautious, with no reason given: {difference}", hint, RULE)


def find_silent_versions(comparison: Comparison) -> Iterator[Problem]:
    """An approved text that changed in meaning must have a new version, and a new review or the state draft."""
    for subject in comparison.subjects:
        before, now = (_find_document(library, subject.about) for library in (comparison.old, comparison.new))
        if (
            before is None
            or now is None
            or before.value.status.state != "approved"
            or subject.lean in (None, "wording")
        ):
            continue
        was, status = before.value.status, now.value.status
        if status.version == was.version:
            message = f"what it says changed, and the version is still {was.version}"
            yield Problem(now.place("status", "version"), message, "Raise it, so that printed sheets differ.", RULE)
        if status.state == "approved" and status.reviewed == was.reviewed:
            message = "what it says changed, and nobody has reviewed that"
            yield Problem(now.place("status", "state"), message, "Set the state to draft until it is reviewed.", RULE)
