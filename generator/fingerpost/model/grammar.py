"""Reading the types of the model: which keys a class has, what stands behind an optional one, which words are open.

One reader for all, because the model is told by its types alone: two readers would in time see two models. What is
built from the model's classes, such as the plan, is walked by the same functions.
"""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Iterator
from functools import cache
from typing import Any, TypeGuard

from fingerpost.model.words import Shape


def is_class(hint: Any) -> TypeGuard[type]:
    """Whether a type is a class with keys of its own."""
    return isinstance(hint, type) and dataclasses.is_dataclass(hint)


def is_record(value: Any) -> bool:
    """Whether a value is of such a class."""
    return hasattr(type(value), "__dataclass_fields__")


def is_optional(hint: Any) -> bool:
    """Whether null may stand in its place."""
    return typing.get_origin(hint) in (types.UnionType, typing.Union)


def strip_none(hint: Any) -> Any:
    """The type behind an optional one; any other as it is."""
    return next(part for part in typing.get_args(hint) if part is not type(None)) if is_optional(hint) else hint


def marks_of(hint: Any) -> tuple[Any, ...]:
    """What is said of a type beside it: the shape of a text, what a text of the plan is for."""
    return getattr(hint, "__metadata__", ())


def strip_marks(hint: Any) -> Any:
    """The type without what is said beside it."""
    return hint.__origin__ if marks_of(hint) else hint


def choices_of(hint: Any) -> tuple[Any, ...]:
    """The words or numbers of a closed set, in their order; nothing for any other type."""
    return typing.get_args(hint) if typing.get_origin(hint) is typing.Literal else ()


def item_of(hint: Any) -> Any:
    """The type of what stands in a list; None for any other type."""
    return typing.get_args(hint)[0] if typing.get_origin(hint) is tuple else None


def types_inside(hint: Any) -> tuple[Any, ...]:
    """The types that a type is made of, one level down; none for a word, a number or a closed set.

    A tuple of any length ends with the dots with which it was written.
    """
    if marks_of(hint):
        return (strip_marks(hint),)
    return () if typing.get_origin(hint) is typing.Literal else typing.get_args(hint)


def list_classes(hint: Any) -> Iterator[type]:
    """The classes that stand in a type, without those below their keys."""
    if is_class(hint):
        yield hint
    for part in types_inside(hint):
        yield from list_classes(part)


@cache
def hints_of(kind: Any) -> dict[str, Any]:
    """The fields of a class in their order, each with its type and shape; nothing for anything else."""
    return typing.get_type_hints(kind, include_extras=True) if is_class(kind) else {}


def key_of(field: str) -> str:
    """The key of a field in YAML: `for` is a word of Python, so the field is called `for_`."""
    return field.removesuffix("_")


@cache
def keys_of(kind: Any) -> dict[str, Any]:
    """The same by the keys of YAML."""
    return {key_of(name): hint for name, hint in hints_of(kind).items()}


@cache
def defaults_of(kind: Any) -> dict[str, Any]:
    """What a field holds that was left out. A field that is not named here must be written."""
    missing = dataclasses.MISSING
    return {f.name: f.default for f in dataclasses.fields(kind) if f.default is not missing}


@cache
def fields_of(kind: Any) -> tuple[str, ...]:
    """The fields of a class in their order."""
    return tuple(field.name for field in dataclasses.fields(kind))


def parts_of(record: Any) -> Iterator[tuple[str, Any]]:
    """Each field of a value of a class, with what it holds."""
    kind: Any = type(record)
    return ((name, getattr(record, name)) for name in fields_of(kind))


def own_shape_of(hint: Any) -> Shape | None:
    """The shape of a text; None for any other type, also where a text stands in it."""
    return next((mark for mark in marks_of(hint) if isinstance(mark, Shape)), None)


def shape_of(hint: Any) -> Shape | None:
    """The shape of a text, of the texts of a list, of an optional text, or of the pieces of a text.

    A class that stands for a text has its shape as `__shape__`.
    """
    if shape := getattr(hint, "__shape__", None):
        return shape if isinstance(shape, Shape) else None
    return own_shape_of(hint) or next((shape for shape in map(shape_of, types_inside(hint)) if shape), None)
