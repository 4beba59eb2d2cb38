"""For whom something is meant: conditions name what there is, leave somebody out, and nobody without words."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any

from fingerpost.checks.base.walk import Part, find_first_odd_grade, list_documents, list_protocols, walk_parts
from fingerpost.model.audience import EVERYBODY, For, Said, is_told, may_mean
from fingerpost.model.grammar import choices_of, hints_of
from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.words import FINGERS, AgeBand, Side
from fingerpost.problems import Problem

_LISTS = ("grade", "place", "stage", "finger")
_CLOSED: Mapping[str, tuple[Any, ...]] = {
    "side": choices_of(Side),
    "age": choices_of(AgeBand),
    "cleared": (True, False),
    "allergy": (True, False),
    "first_visit": (True, False),
    "support": (True, False),
    "planned": (True, False),
}


def _list_conditions(document: Document[Any]) -> Iterator[Part]:
    yield from (part for part in walk_parts(document) if isinstance(part.value, For) and part.value != EVERYBODY)


def _stage_around(part: Part) -> Stage | None:
    """The stage that a part of a protocol stands in."""
    if part.path[:1] == ("stages",) and len(part.path) > 1:
        stage: Stage = part.document.value.stages[part.path[1]]
        return stage
    return None


def _offer(protocol: Protocol, stage: Stage | None) -> dict[str, tuple[str, ...]]:
    """What a condition in a protocol may name."""
    skipped = stage.skipped_by if stage else ()
    return {
        "grade": tuple(g.id for g in protocol.grades if g.id not in skipped),
        "place": protocol.places,
        "stage": () if stage else tuple(s.id for s in protocol.stages),
        "finger": protocol.fingers,
    }


def find_limits_to_others(library: Library) -> Iterator[Problem]:
    """What holds only for some must name grades that come so far, and places, stages and fingers of its protocol."""
    for document in list_protocols(library):
        if find_first_odd_grade(document.value) is not None:
            continue
        for number, grade in enumerate(document.value.grades):
            yield from _find_others(Part(document, ("grades", number), grade), "places", "place", document.value, None)
        for part in _list_conditions(document):
            for key in (key for key in _LISTS if getattr(part.value, key)):
                yield from _find_others(part, key, key, document.value, _stage_around(part))
            if part.value.side and not document.value.needs_side:
                yield part.problem(("side",), "this protocol has no side", "Leave the key out.")


def _find_others(part: Part, field: str, key: str, protocol: Protocol, stage: Stage | None) -> Iterator[Problem]:
    right = _offer(protocol, stage)[key]
    for at, named in enumerate(getattr(part.value, field)):
        if named not in right:
            where = f" in the stage '{stage.id}'" if stage else " in this protocol"
            yield part.problem(
                (field, at), f"there is no {key} '{named}'{where}", f"There are: {', '.join(right) or 'none'}."
            )


def find_conditions_about_one_protocol(library: Library) -> Iterator[Problem]:
    """A shared entry must not be for a grade or a stage, because each protocol has its own."""
    protocols = {id(document) for document in list_protocols(library)}
    for document in list_documents(library):
        if id(document) in protocols:
            continue
        for part in _list_conditions(document):
            for key in ("grade", "stage"):
                if getattr(part.value, key):
                    yield part.problem((key,), f"a {key} means something else in each protocol", "Name places instead.")


def find_conditions_that_leave_nobody_out(library: Library) -> Iterator[Problem]:
    """A condition must leave somebody out."""
    for document in list_documents(library):
        for part in walk_parts(document):
            if not isinstance(part.value, For):
                continue
            if part.value == EVERYBODY:
                if part.path in document.lines:
                    yield part.problem((), "this is for everybody", "Leave 'for' out.")
                continue
            protocol = document.value if isinstance(document.value, Protocol) else None
            right = _offer(protocol, _stage_around(part)) if protocol else {"finger": FINGERS}
            for key, named in right.items():
                if len(right[key]) and set(getattr(part.value, key)) >= set(named):
                    yield part.problem((key,), f"every {key} is named, so nobody is left out", f"Leave '{key}' out.")


@cache
def _list_told(kind: Any) -> tuple[str, ...]:
    """The fields of a class that hold a text in pieces."""
    return tuple(field for field, hint in hints_of(kind).items() if is_told(hint))


def _list_texts(document: Document[Any]) -> Iterator[tuple[Part, str, tuple[Said, ...]]]:
    """Every text in pieces: the part that holds it, its field, its pieces. A list of texts is none."""
    for part in walk_parts(document):
        kind: Any = type(part.value)
        for field in _list_told(kind):
            if (value := getattr(part.value, field)) is not None:
                yield part, field, value


def _options(key: str, pieces: Iterable[Said], part: Part) -> tuple[Any, ...]:
    """What a key can be for a reader of these pieces: what they name, and something that none of them names."""
    if key in _CLOSED:
        return _CLOSED[key]
    protocol = part.document.value
    if isinstance(protocol, Protocol):
        return _offer(protocol, _stage_around(part))[key]
    return (*{named for piece in pieces for named in getattr(piece.for_, key)}, "")


def find_texts_that_leave_somebody_without_words(library: Library) -> Iterator[Problem]:
    """A text in pieces must say something to everybody."""
    for document in list_documents(library):
        for part, field, pieces in _list_texts(document):
            if any(piece.for_ == EVERYBODY for piece in pieces):
                continue
            keys = [k for k in (*_LISTS, *_CLOSED) if any(getattr(p.for_, k) not in ((), None) for p in pieces)]
            for values in itertools.product(*(_options(key, pieces, part) for key in keys)):
                reader = dict(zip(keys, values, strict=True))
                if not any(may_mean(piece.for_, **reader) for piece in pieces):
                    told = ", ".join(f"{key} {value}" for key, value in reader.items())
                    message = f"this says nothing to some: {told}" if told else "this says nothing to anybody"
                    yield part.problem((field,), message, "Add a piece for them, or one for everybody.")
                    break
