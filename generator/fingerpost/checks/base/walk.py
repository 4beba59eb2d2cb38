"""Go through what was read: files, their parts and their texts. The one sibling that every file of rules imports."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from functools import cache, lru_cache
from itertools import chain
from typing import Any, NamedTuple

from fingerpost.model.audience import EVERYBODY, Said, bare_key
from fingerpost.model.grammar import hints_of, key_of, list_classes, shape_of
from fingerpost.model.library import Document, Library, Path
from fingerpost.model.protocol import Protocol, Status
from fingerpost.model.shared import JOINT_KINDS
from fingerpost.model.words import LINE_SHAPE, TEXT_SHAPE, Shape
from fingerpost.problems import Problem

# Vocabularies that hold no sentences about hands: labels, citations, what people type, notes about the collection.
NOT_ABOUT_HANDS = frozenset({"wording", "sources", "standards", "search_words", "exceptions", "retired"})
_NO_PROSE = frozenset({"source", "doi", "file", "path", "since", "fields", "shown"})
# More files than a collection has. Where a memory is too short for all, each rule walks every file anew.
REMEMBERED = 4096


class Part(NamedTuple):
    """A piece of a file that has keys of its own, and where it stands.

    A tuple, as `Passage` is: a large collection has hundreds of thousands, and those are made in a third of the time.
    """

    document: Document[Any]
    path: Path
    value: Any

    def problem(self, path: Path, message: str, hint: str = "") -> Problem:
        """A finding at a place below this part."""
        return self.document.problem((*self.path, *path), message, hint)


class Passage(NamedTuple):
    """A piece of text: the key it belongs to, the class that has this key, and the shape it was read with."""

    document: Document[Any]
    path: Path
    text: str
    shape: Shape
    owner: type
    field: str

    def problem(self, message: str, hint: str = "") -> Problem:
        return self.document.problem(self.path, message, hint)


class Same:
    """A document as the key of a memory: only itself is equal to it.

    Why: every rule walks every text, and the key that keeps a document alive keeps its identity from being used again.
    """

    __slots__ = ("document",)

    def __init__(self, document: Document[Any]) -> None:
        self.document = document

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and self.document is other.document

    def __hash__(self) -> int:
        return id(self.document)


def list_protocols(library: Library) -> tuple[Document[Protocol], ...]:
    """Every protocol, and the annotated specimen: what must hold in one must hold in the other."""
    return (*library.protocols, *((library.specimen,) if library.specimen else ()))


def list_printed(library: Library) -> tuple[Document[Any], ...]:
    """Every protocol and every short entry that readers see."""
    return (*library.protocols, *library.referrals)


def name_condition(document: Document[Any]) -> str:
    """What others call a condition: the name of its file, so that a slip in its id is one finding and not many.

    The specimen's file has a `_` that its id has not.
    """
    return document.file.rpartition("/")[2].removesuffix(".yml").removeprefix("_")


def index_conditions(library: Library) -> dict[str, Document[Any]]:
    """Every condition that readers see, by what others call it; the first where two are called the same."""
    found: dict[str, Document[Any]] = {}
    for document in list_printed(library):
        found.setdefault(name_condition(document), document)
    return found


def list_conditions(library: Library) -> tuple[Document[Any], ...]:
    """Every protocol, the specimen, and every short entry."""
    return (*list_protocols(library), *library.referrals)


def list_documents(library: Library, without: Collection[str] = ()) -> tuple[Document[Any], ...]:
    """Every file that could be read; `without`: vocabularies to leave out."""
    shared = (documents for name, documents in library.shared_files.items() if name not in without)
    return (*list_conditions(library), *(document for documents in shared for document in documents))


def list_entries(library: Library, vocabulary: str) -> Iterator[Part]:
    """The entries of one vocabulary with their places; none of a file that could not be read."""
    for document in library.shared_files.get(vocabulary, ()):
        for number, entry in enumerate(document.value):
            if entry is not None:
                yield Part(document, (number,), entry)


def _holds_parts(hint: Any) -> bool:
    """Whether a key holds a piece with keys of its own, or a list of such."""
    return next(list_classes(hint), None) is not None


class _Tour(NamedTuple):
    """Where to look in a model class: fields that hold text, and fields that hold further parts, with their keys.

    `texts`: (field, key, shape of the text, whether bare text may stand for the whole class). Words from a closed set,
    such as fingers, are no text.
    """

    texts: tuple[tuple[str, str, Shape, bool], ...]
    parts: tuple[tuple[str, str], ...]


@cache
def plan_walk(kind: type) -> _Tour:
    """How a value of a model class is gone through. Told once for each class."""
    hints, bare = hints_of(kind), bare_key(kind)
    shapes = ((name, shape_of(hint)) for name, hint in hints.items())
    return _Tour(
        tuple((name, key_of(name), shape, name == bare) for name, shape in shapes if shape),
        tuple((name, key_of(name)) for name, hint in hints.items() if _holds_parts(hint)),
    )


@lru_cache(maxsize=REMEMBERED)
def _remember_parts(same: Same) -> tuple[Part, ...]:
    parts: list[Part] = []
    _collect(same.document, (), same.document.value, parts)
    return tuple(parts)


@lru_cache(maxsize=REMEMBERED)
def _remember_texts(same: Same) -> tuple[Passage, ...]:
    return tuple(passage for part in _remember_parts(same) for passage in walk_fields(part))


@lru_cache(maxsize=REMEMBERED)
def _remember_prose(same: Same) -> tuple[Passage, ...]:
    return tuple(passage for passage in _remember_texts(same) if _is_prose(passage))


@lru_cache(maxsize=REMEMBERED)
def _remember_content(same: Same) -> tuple[Passage, ...]:
    return tuple(passage for passage in _remember_prose(same) if passage.owner is not Status)


def walk_parts(document: Document[Any]) -> tuple[Part, ...]:
    """Every piece of a file that has keys of its own, in the order of the file."""
    return _remember_parts(Same(document))


def walk_texts(document: Document[Any]) -> tuple[Passage, ...]:
    """Every text of a file."""
    return _remember_texts(Same(document))


def walk_prose(document: Document[Any]) -> tuple[Passage, ...]:
    """Every text of a file that readers see as words: no id, date, code or pointer to a source."""
    return _remember_prose(Same(document))


def _is_prose(passage: Passage) -> bool:
    return (passage.shape is TEXT_SHAPE or passage.shape is LINE_SHAPE) and passage.field not in _NO_PROSE


def _collect(document: Document[Any], path: Path, value: Any, parts: list[Part]) -> None:
    if isinstance(value, tuple):
        for number, item in enumerate(value):
            if item is not None:
                _collect(document, (*path, number), item, parts)
    elif value is not None:
        parts.append(Part(document, path, value))
        kind: type = type(value)
        for field, key in plan_walk(kind).parts:
            held = getattr(value, field)
            if held and held is not EVERYBODY:  # a condition that nobody wrote
                _collect(document, (*path, key), held, parts)


def walk_fields(part: Part) -> Iterator[Passage]:
    """Every text that stands directly in a part, or in a list of it. A piece of a text belongs to what holds it."""
    document, place, whole = part
    kind: type = type(whole)
    if kind is Said:
        return
    for field, key, shape, is_bare in plan_walk(kind).texts:
        value = getattr(whole, field)
        if not value:
            continue
        path: Path = (*place, key)
        if is_bare and path not in document.lines:
            path = place
        if isinstance(value, str):
            yield Passage(document, path, value, shape, kind, field)
            continue
        for number, item in enumerate(value):
            at = (*path, number)
            written = item.says if isinstance(item, Said) else item
            yield Passage(document, at if at in document.lines else path, written, shape, kind, field)


def walk_all_prose(library: Library) -> Iterator[Passage]:
    """Every text that readers see as words, in every file."""
    return chain.from_iterable(map(walk_prose, list_documents(library)))


def walk_sentences_about_hands(library: Library) -> Iterator[Passage]:
    """Every longer text that says something about hands: no labels, citations, names or codes."""
    return chain.from_iterable(map(_remember_content, map(Same, list_documents(library, NOT_ABOUT_HANDS))))


class KnownIds:
    """The ids that may be pointed at, by vocabulary: those that exist, and those in an entry that could not be read."""

    def __init__(self, library: Library) -> None:
        self._library = library
        self._ids: dict[str, frozenset[str]] = {}

    def has(self, vocabulary: str, wanted: str) -> bool:
        """Whether an id exists, or cannot be called wrong because something could not be read."""
        if vocabulary not in self._ids:
            unread = self._library.unread.get(vocabulary, frozenset())
            self._ids[vocabulary] = unread.union(list_ids(self._library, vocabulary))
        return wanted in self._ids[vocabulary] or "*" in self._ids[vocabulary]


def list_ids(library: Library, vocabulary: str) -> tuple[str, ...]:
    """The ids of a vocabulary, or of all "conditions", as read."""
    if vocabulary == "conditions":
        return tuple(map(name_condition, list_printed(library)))
    return tuple(entry.id for entry in getattr(library.vocabularies, vocabulary))


def must_stop(library: Library, protocol: Protocol) -> bool:
    """Whether a protocol stops people, or has to: it is about a joint that still grows."""
    kinds = list_kinds(library, protocol)
    return protocol.stop or "growth-plate" in kinds or (protocol.people == "under-18" and bool(kinds & JOINT_KINDS))


def list_kinds(library: Library, protocol: Protocol) -> set[str]:
    """The kinds of tissue that a protocol is about."""
    kinds = {part.id: str(part.kind) for part in library.vocabularies.anatomy}
    return {kinds[tissue] for tissue in (*protocol.tissue, *protocol.places) if tissue in kinds}


def find_first_odd_grade(protocol: Protocol) -> int | None:
    """The number of the first grade that does not belong where it stands; None where I, II, … or 'any' stand well.

    While one does not, what is said about the grades elsewhere is not called wrong: that would be one slip told often.
    """
    grades = tuple(grade.id for grade in protocol.grades)
    right = ("any",) if grades == ("any",) else ("I", "II", "III", "IV")
    return next((n for n, grade in enumerate(grades) if n >= len(right) or grade != right[n]), None)


def read_all(library: Library) -> bool:
    """Whether everything could be read, so that "nobody uses this" can be said."""
    return not any(library.unread.values())
