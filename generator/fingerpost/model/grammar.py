"""Reading the types of the model: what stands behind an optional one, which keys a class has, which shape a text has.

One reader for all, because the model is told by its types alone: two readers would in time see two models.
"""

from __future__ import annotations

import dataclasses
import types
import typing
from functools import cache
from typing import Any

from fingerpost.model.words import Shape


def strip_none(hint: Any) -> Any:
    """The type behind an optional one; any other as it is."""
    if typing.get_origin(hint) in (types.UnionType, typing.Union):
        return next(part for part in typing.get_args(hint) if part is not type(None))
    return hint


@cache
def hints_of(kind: Any) -> dict[str, Any]:
    """The keys of a class in their order, each with its type and shape; nothing for anything else."""
    return typing.get_type_hints(kind, include_extras=True) if dataclasses.is_dataclass(kind) else {}


def key_of(field: str) -> str:
    """The key of a field in YAML: `for` is a word of Python, so the field is called `for_`."""
    return field.removesuffix("_")


@cache
def keys_of(kind: Any) -> dict[str, Any]:
    """The same by the keys of YAML."""
    return {key_of(name): hint for name, hint in hints_of(kind).items()}


def shape_of(hint: Any) -> Shape | None:
    """The shape of a text, of the texts of a list, of an optional text, or of the pieces of a text.

    A class that stands for a text has its shape as `__shape__`.
    """
    if shape := getattr(hint, "__shape__", None):
        return shape if isinstance(shape, Shape) else None
    for extra in getattr(hint, "__metadata__", ()):
        if isinstance(extra, Shape):
            return extra
    if typing.get_origin(hint) in (tuple, types.UnionType, typing.Union, typing.Annotated):
        return next((s for s in map(shape_of, typing.get_args(hint)) if s), None)
    return None
