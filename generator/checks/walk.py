"""Go through what was read: files, their parts and their texts. The one sibling that every file of rules imports."""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from generator.model.library import Document, Library, Path
from generator.model.protocol import Protocol, Referral
from generator.model.words import ID_SHAPE, LINE_SHAPE, TEXT_SHAPE, Shape
from generator.problems import Problem

# Vocabularies that hold no sentences about hands: labels, citations, and notes about the collection itself.
NOT_ABOUT_HANDS = frozenset({"wording", "sources", "exceptions", "retired"})


@dataclass(frozen=True)
class Part:
    """A piece of a file that has keys of its own, and where it stands."""

    document: Document[Any]
    path: Path
    value: Any

    def problem(self, path: Path, message: str, hint: str = "") -> Problem:
        """A finding at a place below this part."""
        return self.document.problem((*self.path, *path), message, hint)


@dataclass(frozen=True)
class Leaf:
    """A piece of text: the key it belongs to, the class that has this key, and the shape it was read with."""

    document: Document[Any]
    path: Path
    text: str
    shape: Shape
    owner: type
    field: str

    def problem(self, message: str, hint: str = "") -> Problem:
        return self.document.problem(self.path, message, hint)

    @property
    def is_prose(self) -> bool:
        """Readers see it as words: not an id, a date, a code or a pointer to a source."""
        return self.shape in (TEXT_SHAPE, LINE_SHAPE) and self.field not in ("source", "doi", "file", "path", "since")


def list_protocols(library: Library) -> tuple[Document[Protocol], ...]:
    """Every protocol, and the annotated specimen: what must hold in one must hold in the other."""
    return (*library.protocols, *((library.specimen,) if library.specimen else ()))


def list_conditions(library: Library) -> tuple[Document[Any], ...]:
    """Every protocol, the specimen, and every short entry."""
    return (*list_protocols(library), *library.referrals)


def list_documents(library: Library) -> tuple[Document[Any], ...]:
    """Every file that could be read."""
    return (*list_conditions(library), *library.shared_files.values())


def list_entries(library: Library, vocabulary: str) -> Iterator[Part]:
    """The entries of one vocabulary with their places; nothing when the file could not be read."""
    document = library.shared_files.get(vocabulary)
    entries = document.value if document else ()
    for number, entry in enumerate(entries if isinstance(entries, tuple) else ()):
        if document and entry is not None:
            yield Part(document, (number,), entry)


@cache
def hints_of(kind: type) -> dict[str, Any]:
    """The fields of a model class and what each holds, shapes included."""
    return typing.get_type_hints(kind, include_extras=True)


@cache
def shape_of(hint: Any) -> Shape | None:
    """The shape of a text, of the texts of a list, or of an optional text."""
    for extra in getattr(hint, "__metadata__", ()):
        if isinstance(extra, Shape):
            return extra
    if typing.get_origin(hint) in (tuple, types.UnionType, typing.Union):
        return next((s for s in map(shape_of, typing.get_args(hint)) if s), None)
    return None


def walk_parts(document: Document[Any]) -> Iterator[Part]:
    """Every piece of a file that has keys of its own, in the order of the file."""
    yield from _walk(document, (), document.value)


def _walk(document: Document[Any], path: Path, value: Any) -> Iterator[Part]:
    if isinstance(value, tuple):
        for number, item in enumerate(value):
            yield from _walk(document, (*path, number), item)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        yield Part(document, path, value)
        for name in hints_of(type(value)):
            inner = getattr(value, name)
            if not isinstance(inner, (str, int, float)) and inner is not None:
                yield from _walk(document, (*path, name), inner)


def walk_fields(part: Part) -> Iterator[Leaf]:
    """Every text that stands directly in a part, or in a list of it."""
    for name, hint in hints_of(type(part.value)).items():
        shape, value = shape_of(hint), getattr(part.value, name)
        if shape is None:
            continue
        path = (*part.path, name)
        if isinstance(value, str):
            yield Leaf(part.document, path, value, shape, type(part.value), name)
        elif isinstance(value, tuple):
            for number, item in enumerate(value):
                if isinstance(item, str):
                    yield Leaf(part.document, (*path, number), item, shape, type(part.value), name)


def walk_texts(document: Document[Any]) -> Iterator[Leaf]:
    """Every text of a file."""
    for part in walk_parts(document):
        yield from walk_fields(part)


def walk_prose(library: Library) -> Iterator[Leaf]:
    """Every text that readers see as words, in every file."""
    for document in list_documents(library):
        yield from (leaf for leaf in walk_texts(document) if leaf.is_prose)


def walk_sentences_about_hands(library: Library) -> Iterator[Leaf]:
    """Every longer text that says something about hands: no labels, citations, names or codes."""
    left_out = {d.file for name, d in library.shared_files.items() if name in NOT_ABOUT_HANDS}
    for leaf in walk_prose(library):
        if leaf.document.file not in left_out and leaf.owner.__name__ != "Status":
            yield leaf


def is_known(library: Library, vocabulary: str, wanted: str) -> bool:
    """Whether an id exists, or stands in a file that could not be read, so that pointing at it is not called wrong."""
    unread = library.unread.get(vocabulary, frozenset())
    return wanted in unread or "*" in unread or wanted in list_ids(library, vocabulary)


def list_ids(library: Library, vocabulary: str) -> tuple[str, ...]:
    """The ids of a vocabulary, or of all "conditions", as read."""
    if vocabulary == "conditions":
        return tuple(condition.id for condition in library.conditions)
    return tuple(entry.id for entry in getattr(library.vocabularies, vocabulary))


def read_all(library: Library) -> bool:
    """Whether everything could be read, so that "nobody uses this" can be said."""
    return not any(library.unread.values())


def find_referral_or_protocol(library: Library, wanted: str) -> Document[Protocol] | Document[Referral] | None:
    """The file of a condition, or None."""
    return next((d for d in (*library.protocols, *library.referrals) if d.value.id == wanted), None)
