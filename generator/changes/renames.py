"""Follow ids that were given up: the old collection as if it had always had today's ids."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any, TypeVar

from generator.changes.cited import MARK
from generator.changes.fields import hints_of, shape_of
from generator.model.library import Library
from generator.model.shared import Vocabularies
from generator.model.words import ID_SHAPE, TEXT_SHAPE

T = TypeVar("T")
# They name ids that are no longer used, or findings about files as they were.
_LEFT_ALONE = frozenset({"retired", "exceptions"})


def list_ids(library: Library) -> frozenset[str]:
    """Every id of a condition or a shared entry."""
    shared = (
        getattr(library.vocabularies, f.name) for f in dataclasses.fields(Vocabularies) if f.name not in _LEFT_ALONE
    )
    return frozenset(c.id for c in library.conditions) | frozenset(e.id for entries in shared for e in entries)


def find_renames(old: Library, new: Library) -> dict[str, str]:
    """Old id -> new id, for ids that were retired in between and whose entry lives on under an id that is new."""
    before, now = list_ids(old), list_ids(new)
    moved = {r.id: r.now for r in new.vocabularies.retired if r.id in before and r.id not in now}
    return {was: to for was, to in moved.items() if to in now and to not in before}


def _rename_mark(text: str, renames: Mapping[str, str]) -> str:
    """'lutter-2018 recalled' with its source renamed."""
    first, space, rest = text.partition(" ")
    return renames.get(first, first) + space + rest


def _follow_text(text: str, shape: Any, key: str, renames: Mapping[str, str]) -> str:
    if shape is ID_SHAPE:
        return renames.get(text, text)
    if key == "source":
        return _rename_mark(text, renames)
    if shape is TEXT_SHAPE:
        return MARK.sub(lambda m: m.group().replace(m.group(1), _rename_mark(m.group(1), renames)), text)
    return text


def _follow(value: Any, shape: Any, key: str, renames: Mapping[str, str]) -> Any:
    if isinstance(value, str):
        return _follow_text(value, shape, key, renames)
    if isinstance(value, tuple):
        return tuple(_follow(item, shape, key, renames) for item in value)
    return follow(value, renames) if dataclasses.is_dataclass(value) else value


def follow(value: T, renames: Mapping[str, str]) -> T:
    """The same value with every old id replaced, at any depth."""
    kind: Any = type(value)
    hints = hints_of(kind)
    parts = {n: _follow(getattr(value, n), shape_of(h), n, renames) for n, h in hints.items() if n not in _LEFT_ALONE}
    return dataclasses.replace(value, **parts)  # type: ignore[type-var]


def follow_library(library: Library, renames: Mapping[str, str]) -> Library:
    """The collection with today's ids. Lines and places stay those of the old files."""
    if not renames:
        return library
    protocols = tuple(dataclasses.replace(d, value=follow(d.value, renames)) for d in library.protocols)
    referrals = tuple(dataclasses.replace(d, value=follow(d.value, renames)) for d in library.referrals)
    vocabularies = follow(library.vocabularies, renames)
    return dataclasses.replace(library, protocols=protocols, referrals=referrals, vocabularies=vocabularies)
