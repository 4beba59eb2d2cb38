"""A case as the plain data of the YAML file that the command line reads."""

from __future__ import annotations

from typing import Any

from fingerpost.model.grammar import defaults_of, is_record, parts_of


def to_plain(value: Any) -> Any:
    """A case, or a part of one, as it is written in a file: what has its default value is left out.

    Reading it gives an equal value.
    """
    if isinstance(value, tuple):
        return [to_plain(part) for part in value]
    if isinstance(value, float):
        return int(value) if value.is_integer() and abs(value) < 1e15 else value
    if not is_record(value):
        return str(value) if isinstance(value, str) else value  # a day is written as the text that it was
    kind: Any = type(value)
    defaults = defaults_of(kind)
    told = ((name, part) for name, part in parts_of(value) if part is not None)
    return {name: to_plain(part) for name, part in told if name not in defaults or part != defaults[name]}
