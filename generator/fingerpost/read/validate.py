"""Plain data checked against the model with nothing but the standard library, in the words of `library`.

Why: a browser reads cases too, and has no pydantic. A test holds both checkers to the same findings.
"""

from __future__ import annotations

import dataclasses
import json
import types
import typing
from collections.abc import Iterator
from functools import cache
from typing import Any, Literal, TypeVar

from fingerpost.model.audience import find_written, write_out
from fingerpost.model.grammar import key_of, keys_of, strip_none
from fingerpost.model.library import Path
from fingerpost.model.words import TO_FILL, Shape
from fingerpost.problems import suggest

T = TypeVar("T")
Finding = tuple[Path, str, str]

MUST_BE = {
    str: "must be text",
    int: "must be a whole number",
    float: "must be a number",
    bool: "must be true or false",
    tuple: "must be a list",
    type(None): "must be null",
    dict: "must hold keys and values",
}
THUMB = "a thumb has other pulleys, joints and grips than the fingers, and no protocol here covers it"
THUMB_HINT = "Choose index, middle, ring or little."


def quote(value: Any) -> str:
    """A value as it was written, cut off where it is long."""
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= 60 else text[:57] + "…"


def say_missing(key: str) -> str:
    return f"'{key}' is missing"


def say_unknown(key: str) -> str:
    return f"no key is called '{key}' here"


def say_not_among(names: list[str], value: Any) -> tuple[str, str]:
    """What to say of a value outside a closed set: (message, hint)."""
    if value == "thumb":
        return THUMB, THUMB_HINT
    return f"must be one of {', '.join(names)}, not {quote(value)}", suggest(str(value), names)


def say_too_long(most: int) -> str:
    return f"may have {most} letters at the most"


def say_wrong_kind(kind: type, value: Any) -> tuple[str, str]:
    """What to say of a value of another kind: (message, hint)."""
    must = f"{MUST_BE[kind]}, not {quote(value)}"
    if kind is bool and value in ("yes", "no", "on", "off"):
        return must, f"Write {'true' if value in ('yes', 'on') else 'false'}."
    if kind is str and isinstance(value, (int, float)):
        return must, "Put it in quotes."
    return must, ""


@cache
def _fields(kind: type) -> dict[str, tuple[str, bool]]:
    """The field behind each key of a class, and whether the key must be there."""
    missing = dataclasses.MISSING
    return {
        key_of(f.name): (f.name, f.default is missing and f.default_factory is missing)
        for f in dataclasses.fields(kind)
    }


def check(kind: Any, data: Any) -> tuple[Any, list[Finding]]:
    """Plain data as a value of a model type, with every finding. The value counts only where there are none."""
    value, findings = _check(kind, write_out(kind, data), ())
    return value, [(find_written(data, path), message, hint) for path, message, hint in findings]


def _check(kind: Any, data: Any, path: Path) -> tuple[Any, list[Finding]]:
    origin = typing.get_origin(kind)
    if origin is typing.Annotated:
        inner, *extras = typing.get_args(kind)
        return _check_text(kind, data, path) if any(isinstance(e, Shape) for e in extras) else _check(inner, data, path)
    if origin is Literal:
        return _check_choice(typing.get_args(kind), data, path)
    if origin is tuple:
        return _check_list(typing.get_args(kind)[0], data, path)
    if origin in (types.UnionType, typing.Union):
        if data is None:
            return None, []
        return _check(strip_none(kind), data, path)
    if dataclasses.is_dataclass(kind) and isinstance(kind, type):
        return _check_keys(kind, data, path)
    return _check_plain(kind, data, path)


def _check_plain(kind: type, data: Any, path: Path) -> tuple[Any, list[Finding]]:
    if kind is float and isinstance(data, (int, float)) and not isinstance(data, bool):
        return float(data), []
    if isinstance(data, kind) and (kind is bool or not isinstance(data, bool)):
        return data, []
    return None, [(path, *say_wrong_kind(kind, data))]


def _check_text(kind: Any, data: Any, path: Path) -> tuple[Any, list[Finding]]:
    if not isinstance(data, str):
        return None, [(path, *say_wrong_kind(str, data))]
    shape = next(a for a in typing.get_args(kind) if isinstance(a, Shape))
    if len(data) > shape.max_length:
        return None, [(path, say_too_long(shape.max_length), "")]
    if not shape.fits(data):
        return None, [(path, f"{shape.must}, not {quote(data)}", "")]
    return data, []


def _check_choice(right: tuple[Any, ...], data: Any, path: Path) -> tuple[Any, list[Finding]]:
    for choice in right:
        if data == choice and isinstance(data, bool) == isinstance(choice, bool):
            return choice, []
    return None, [(path, *say_not_among([str(r) for r in right], data))]


def _check_list(item: Any, data: Any, path: Path) -> tuple[Any, list[Finding]]:
    if not isinstance(data, list):
        return None, [(path, *say_wrong_kind(tuple, data))]
    checked = [_check(item, value, (*path, at)) for at, value in enumerate(data)]
    return tuple(value for value, _ in checked), [f for _, found in checked for f in found]


def _check_keys(kind: type, data: Any, path: Path) -> tuple[Any, list[Finding]]:
    if not isinstance(data, dict):
        return None, [(path, *say_wrong_kind(dict, data))]
    values: dict[str, Any] = {}
    findings: list[Finding] = []
    for key, hint in keys_of(kind).items():
        field, required = _fields(kind)[key]
        if key in data:
            values[field], found = _check(hint, data[key], (*path, key))
            findings += found
        elif required:
            findings.append(((*path, key), say_missing(key), ""))
    findings += _find_unknown(kind, data, path)
    return (None if findings else kind(**values)), findings


def _find_unknown(kind: type, data: dict[str, Any], path: Path) -> Iterator[Finding]:
    for key in data:
        if key not in keys_of(kind):
            yield (*path, key), say_unknown(key), suggest(key, list(keys_of(kind)))


def read_value(kind: type[T], data: Any) -> tuple[T | None, list[Finding]]:
    """Plain data as a value of a model class: (value or None, findings)."""
    value, findings = check(kind, data)
    kept = [f for f in findings if not _is_still_to_fill(data, f[0])]
    return (None if findings else value), kept


def _is_still_to_fill(data: Any, path: Path) -> bool:
    """Whether the writer has marked this place as not decided yet: that is said once, by the reader of files."""
    for step in path:
        try:
            data = data[step]
        except (KeyError, IndexError, TypeError):
            return False
    return bool(data == TO_FILL)
