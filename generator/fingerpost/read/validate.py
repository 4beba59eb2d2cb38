"""Plain data checked against the model: the one checker, for files and in a browser alike.

For each type of the model a check is put together once, and then only runs.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Iterator
from functools import cache, partial
from typing import Any, TypeVar

from fingerpost.model.audience import bare_key, find_written, is_told
from fingerpost.model.case import GONE, Case
from fingerpost.model.grammar import (
    choices_of,
    defaults_of,
    hints_of,
    is_class,
    is_optional,
    item_of,
    key_of,
    keys_of,
    marks_of,
    own_shape_of,
    strip_marks,
    strip_none,
)
from fingerpost.model.library import Path
from fingerpost.model.words import TO_FILL, Shape
from fingerpost.problems import suggest

T = TypeVar("T")
Finding = tuple[Path, str, str]
Check = Callable[[Any, list[Finding]], Any]
"""Takes data and the findings so far, to which it adds, each with its place in the data from there on.

What it returns counts only if it adds none.
"""

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


def check(kind: Any, data: Any) -> tuple[Any, list[Finding]]:
    """Plain data as a value of a model type, with every finding. The value counts only where there are none."""
    found: list[Finding] = []
    value = _make_check(kind)(data, found)
    return value, [(find_written(data, path), message, hint) for path, message, hint in found]


@cache
def _make_check(hint: Any) -> Check:
    if is_optional(hint):
        return partial(_check_optional, _make_check(strip_none(hint)))
    if choices := choices_of(hint):
        return partial(_check_choice, choices, frozenset(c for c in choices if isinstance(c, str)))
    if item := item_of(hint):
        return partial(_check_list, _make_check(item))
    if is_class(hint):
        keys = [(key_of(f), f, f in defaults_of(hint), _make_check(h)) for f, h in hints_of(hint).items()]
        behind = partial(_check_keys, hint, keys)
        return partial(_check_bare, bare, behind) if (bare := bare_key(hint)) else behind
    if shape := own_shape_of(hint):
        return partial(_check_text, shape, re.compile(shape.pattern).fullmatch, shape.max_length, shape.read)
    if marks_of(hint):
        unmarked = _make_check(strip_marks(hint))
        return partial(_check_told, unmarked) if is_told(hint) else unmarked
    return partial(_check_plain, hint)


def _check_optional(behind: Check, data: Any, found: list[Finding]) -> Any:
    return None if data is None else behind(data, found)


def _check_told(behind: Check, data: Any, found: list[Finding]) -> Any:
    """Bare text, or one piece, in the place of a list of pieces."""
    return behind(data if isinstance(data, list) else [data], found)


def _check_bare(key: str, behind: Check, data: Any, found: list[Finding]) -> Any:
    """Bare text in the place of the record that it stands for."""
    return behind(data if isinstance(data, (dict, list)) else {key: data}, found)


def _check_plain(kind: type, data: Any, found: list[Finding]) -> Any:
    if kind is float and isinstance(data, (int, float)) and not isinstance(data, bool):
        return _to_float(data)
    if isinstance(data, kind) and (kind is bool or not isinstance(data, bool)):
        return data
    return found.append(((), *say_wrong_kind(kind, data)))


def _to_float(number: float) -> float:
    try:
        return float(number)
    except OverflowError:  # more digits than a float can hold
        return math.inf if number > 0 else -math.inf


def _check_text(
    shape: Shape, fits: Callable[[str], object], most: int, read: Callable[[str], str], data: Any, found: list[Finding]
) -> Any:
    if not isinstance(data, str):
        found.append(((), *say_wrong_kind(str, data)))
    elif len(data) > most:
        found.append(((), say_too_long(most), ""))
    elif not fits(data):
        found.append(((), f"{shape.must}, not {quote(data)}", ""))
    else:
        return read(data)
    return None


def _check_choice(right: tuple[Any, ...], words: frozenset[str], data: Any, found: list[Finding]) -> Any:
    if isinstance(data, str) and data in words:
        return data
    for choice in right:
        if data == choice and isinstance(data, bool) == isinstance(choice, bool):
            return choice
    return found.append(((), *say_not_among([str(r) for r in right], data)))


def _place(found: list[Finding], before: int, step: str | int) -> None:
    """Write where the findings since `before` stand. Most data has none, so nobody keeps track of places for them."""
    found[before:] = [((step, *path), message, hint) for path, message, hint in found[before:]]


def _check_list(check_item: Check, data: Any, found: list[Finding]) -> Any:
    if not isinstance(data, list):
        return found.append(((), *say_wrong_kind(tuple, data)))
    values = []
    for at, value in enumerate(data):
        before = len(found)
        values.append(check_item(value, found))
        if len(found) > before:
            _place(found, before, at)
    return tuple(values)


def _check_keys(kind: type, keys: list[tuple[str, str, bool, Check]], data: Any, found: list[Finding]) -> Any:
    if not isinstance(data, dict):
        return found.append(((), *say_wrong_kind(dict, data)))
    start = len(found)
    values: dict[str, Any] = {}
    for key, field, may_miss, check_value in keys:
        if key in data:
            before = len(found)
            values[field] = check_value(data[key], found)
            if len(found) > before:
                _place(found, before, key)
        elif not may_miss:
            found.append(((key,), say_missing(key), ""))
    if len(values) < len(data):
        found += _find_unknown(kind, data)
    return kind(**values) if len(found) == start else None


def _find_unknown(kind: type, data: dict[str, Any]) -> Iterator[Finding]:
    for key in data:
        if key not in keys_of(kind):
            instead = GONE.get(key) if kind is Case else None
            yield (key,), say_unknown(key), instead or suggest(key, list(keys_of(kind)))


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
