"""Plants a text of its own in every field of a model that a person fills in freely."""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Callable, Iterator
from typing import Any

from fingerpost.model.audience import Said
from fingerpost.model.grammar import shape_of
from fingerpost.model.library import Library
from fingerpost.model.words import LINE_SHAPE, TEXT_SHAPE

Plant = Callable[[str, str], str]  # (name of the field, what stands there) -> what is to stand there
# Keys whose text points at something: with other text they point at nothing, which the checks refuse.
POINTERS = {"source"}


def _is_free(hint: Any) -> bool:
    return shape_of(hint) in (TEXT_SHAPE, LINE_SHAPE)


def _plant(value: Any, hint: Any, name: str, plant: Plant) -> Any:
    if isinstance(value, Said):  # a piece of the text that the field holds
        return dataclasses.replace(value, says=plant(name, value.says))
    if typing.get_origin(hint) in (types.UnionType, typing.Union):
        hint = next(part for part in typing.get_args(hint) if part is not type(None))
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return plant_in(value, plant)
    if isinstance(value, tuple):
        return tuple(_plant(item, typing.get_args(hint)[0], name, plant) for item in value)
    return plant(name, value) if isinstance(value, str) and _is_free(hint) else value


def plant_in(value: Any, plant: Plant) -> Any:
    """The same value with planted texts, however deep they stand."""
    hints = typing.get_type_hints(type(value), include_extras=True)
    changed = {
        name: _plant(getattr(value, name), hint, f"{type(value).__name__}.{name}", plant)
        for name, hint in hints.items()
        if name not in POINTERS
    }
    return dataclasses.replace(value, **changed)


def list_free_fields(kind: type) -> Iterator[str]:
    """Every field of a model class, and of those inside it, that a person fills in freely."""
    for name, hint in typing.get_type_hints(kind, include_extras=True).items():
        parts = [hint, *typing.get_args(hint)]
        parts += [inner for part in parts for inner in typing.get_args(part)]
        if name not in POINTERS and _is_free(hint):
            yield f"{kind.__name__}.{name}"
        for part in parts:
            if dataclasses.is_dataclass(part) and isinstance(part, type) and part is not Said:
                yield from list_free_fields(part)


def plant_in_library(library: Library, plant: Plant) -> Library:
    """A whole collection with planted texts. No check has seen it: most of them would refuse it."""
    protocols, referrals = (
        tuple(dataclasses.replace(d, value=plant_in(d.value, plant)) for d in documents)
        for documents in (library.protocols, library.referrals)
    )
    return dataclasses.replace(
        library,
        protocols=protocols,
        referrals=referrals,
        vocabularies=plant_in(library.vocabularies, plant),
        clinic=plant_in(library.clinic, plant),
    )
