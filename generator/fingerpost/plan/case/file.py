"""A case as the YAML file that the command line reads."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from fingerpost.model.case import Case
from fingerpost.model.grammar import defaults_of, is_record, parts_of

_BARE = re.compile(r"[A-Za-z][A-Za-z0-9-]*")
_NOT_BARE = frozenset({"null", "true", "false", "yes", "no", "on", "off", "y", "n"})
_SHORT = {'"': '\\"', "\\": "\\\\", "\n": "\\n", "\t": "\\t"}


def _quoted(text: str) -> str:
    """Text in double quotes on one line, with every sign that YAML would act on or not print as an escape."""
    return '"' + "".join(_SHORT.get(sign) or _sign(sign) for sign in text) + '"'


def _sign(sign: str) -> str:
    if sign.isprintable():
        return sign
    code = ord(sign)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def _scalar(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() and abs(value) < 1e15 else repr(value)
    if isinstance(value, int):
        return str(value)
    return value if _BARE.fullmatch(value) and value.lower() not in _NOT_BARE else _quoted(value)


def _lines(value: Any) -> Iterator[str]:
    """The lines of a part that has keys, from the margin."""
    kind: Any = type(value)
    defaults = defaults_of(kind)
    for field, content in parts_of(value):
        if content is None or (field in defaults and content == defaults[field]):
            continue
        if is_record(content):
            yield f"{field}:"
            yield from (f"  {line}" for line in _lines(content))
        elif isinstance(content, tuple) and content and is_record(content[0]):
            yield f"{field}:"
            for item in content:
                first, *rest = _lines(item)
                yield f"  - {first}"
                yield from (f"    {line}" for line in rest)
        elif isinstance(content, tuple):
            yield f"{field}: [{', '.join(_scalar(c) for c in content)}]"
        else:
            yield f"{field}: {_scalar(content)}"


def write_case(case: Case, note: str) -> str:
    """The case as YAML text, with a note for whoever opens it. What has its default value is left out.

    Reading the text gives an equal case.
    """
    return "".join(f"{line}\n" for line in (f"# {' '.join(note.split())}", *_lines(case)))
