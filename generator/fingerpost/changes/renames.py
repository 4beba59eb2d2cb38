"""Follow ids that were given up: the old collection as if it had always had today's ids."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from typing import Any, TypeVar

from fingerpost.model.audience import MARK
from fingerpost.model.grammar import fields_of, hints_of, is_record, shape_of
from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import LookAlike, Protocol, Referral
from fingerpost.model.shared import Vocabularies
from fingerpost.model.words import TEXT_SHAPE

T = TypeVar("T")
# (vocabulary or "conditions", old id) -> new id
Renames = Mapping[tuple[str, str], str]
CONDITIONS = "conditions"
# They name ids that are no longer used, or findings about files as they were.
_LEFT_ALONE = frozenset({"retired", "exceptions"})
# Which vocabulary the ids under a key are from.
_POINTS_AT = {
    **dict.fromkeys(("tissue", "places"), "anatomy"),
    **dict.fromkeys(("signs", "usual", "sometimes", "does_not_fit"), "signs"),
    **dict.fromkeys(("grips", "keep", "leave", "grip"), "grips"),
    "tests": "tests",
    "warning_signs": "warning_signs",
    "taping": "tapings",
    "exercise": "exercises",
    "gate": "gates",
    "sign": "warning_signs",
    "place": "anatomy",
    "source": "sources",
    "conditions": CONDITIONS,
}


def _list_ids(library: Library) -> Iterator[tuple[str, frozenset[str]]]:
    yield CONDITIONS, frozenset(c.id for c in library.conditions)
    for name in (n for n in fields_of(Vocabularies) if n not in _LEFT_ALONE):
        yield name, frozenset(entry.id for entry in getattr(library.vocabularies, name))


def find_renames(old: Library, new: Library) -> dict[tuple[str, str], str]:
    """Ids that were retired in between and whose entry lives on, of the same sort, under an id that is new."""
    retired = {r.id: r.now for r in new.vocabularies.retired}
    found = {}
    for (sort, before), (_, now) in zip(_list_ids(old), _list_ids(new), strict=True):
        for was in sorted(before - now):
            if retired.get(was, "") in now - before:
                found[(sort, was)] = retired[was]
    return found


def _rename_mark(text: str, renames: Renames) -> str:
    """'lutter-2018 recalled' with its source renamed."""
    first, space, rest = text.partition(" ")
    return renames.get(("sources", first), first) + space + rest


def _follow_text(text: str, shape: Any, key: str, sort: str, renames: Renames) -> str:
    if key == "source":
        return _rename_mark(text, renames)
    if shape is TEXT_SHAPE:
        return MARK.sub(lambda m: m.group().replace(m["source"], _rename_mark(m["source"], renames)), text)
    return renames.get((sort, text), text)


def _follow(value: Any, shape: Any, key: str, sort: str, renames: Renames) -> Any:
    if isinstance(value, str):
        return _follow_text(value, shape, key, sort, renames)
    if isinstance(value, tuple):
        return tuple(_follow(item, shape, key, sort, renames) for item in value)
    return follow(value, renames, sort) if is_record(value) else value


def follow(value: T, renames: Renames, sort: str = "") -> T:
    """The same value with every old id replaced, at any depth. `sort`: what the value itself is an entry of."""
    kind: Any = type(value)
    own = CONDITIONS if kind in (Protocol, Referral, LookAlike) else sort
    parts = {}
    for name, hint in hints_of(kind).items():
        if name not in _LEFT_ALONE:
            within = own if name == "id" else name if kind is Vocabularies else _POINTS_AT.get(name, "")
            parts[name] = _follow(getattr(value, name), shape_of(hint), name, within, renames)
    return dataclasses.replace(value, **parts)  # type: ignore[type-var]


def _follow_documents(documents: tuple[Document[T], ...], renames: Renames) -> tuple[Document[T], ...]:
    return tuple(dataclasses.replace(d, value=follow(d.value, renames)) for d in documents)


def follow_library(library: Library, renames: Renames) -> Library:
    """The collection with today's ids. Lines and places stay those of the old files."""
    if not renames:
        return library
    return dataclasses.replace(
        library,
        protocols=_follow_documents(library.protocols, renames),
        referrals=_follow_documents(library.referrals, renames),
        vocabularies=follow(library.vocabularies, renames),
    )
