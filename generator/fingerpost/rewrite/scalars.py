"""A value as it stands inside a line of YAML: without quotes where every reader takes it for what it is."""

from __future__ import annotations

import json
import re
from functools import lru_cache
from typing import Any

# What some reader of YAML takes for no text: a number in any of its spellings, a truth, nothing, a sign of merging.
_NO_TEXT = re.compile(
    r"[-+]?(?:[0-9][0-9_]*(?:\.[0-9_]*)?|\.[0-9_]+)(?:[eE][-+]?[0-9]+)?|[-+]?0[bB][01_]+|[-+]?0[oO]?[0-7_]+"
    r"|[-+]?0[xX][0-9a-fA-F_]+|[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)|true|True|TRUE|false|False|FALSE|null|Null|NULL|~|<<|="
)
# What begins something else than text, what ends it early, and what no line can hold as it is.
_SPECIAL = re.compile("[^\x20-\x7e\xa0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]")
_NOT_PLAIN = re.compile(r"""[-?:](?:\s|$)|[,\[\]{}#&*!|>'"%@`]|---|\.\.\.|\s|.*(?:: |:$| #|\s$)""", re.DOTALL)
_NOT_IN_BRACKETS = re.compile(r"[-?:]|.*[,?\[\]{}:]", re.DOTALL)


def holds_special(text: str) -> bool:
    """Whether a text holds a sign that no line can hold as it is."""
    return bool(_SPECIAL.search(text))


@lru_cache(maxsize=20_000)
def write_text(text: str, in_brackets: bool = False) -> str:
    """A text in a line: plain, in single quotes where it would be taken for something else, or with escapes."""
    if holds_special(text):
        escaped = json.dumps(text, ensure_ascii=False)
        return _SPECIAL.sub(lambda found: f"\\u{ord(found.group()):04x}", escaped)
    if not text or _NOT_PLAIN.match(text) or _NO_TEXT.fullmatch(text):
        return "'" + text.replace("'", "''") + "'"
    if in_brackets and _NOT_IN_BRACKETS.match(text):
        return "'" + text.replace("'", "''") + "'"
    return text


def write_in_line(value: Any, in_brackets: bool = False) -> str:
    """Plain data in a line: lists and records in brackets."""
    if isinstance(value, str):
        return write_text(value, in_brackets)
    if isinstance(value, dict):
        return "{" + ", ".join(f"{write_text(k, True)}: {write_in_line(v, True)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(write_in_line(v, True) for v in value) + "]"
    return json.dumps(value)
