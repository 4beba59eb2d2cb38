"""What canonical form looks like: the lines of plain data, laid out as the model alone decides.

Keys stand in the order of the model. A text of several sentences is a folded block with one sentence a line. Lists of
ids and small records stand on one line where they fit.
"""

from __future__ import annotations

import json
import re
from functools import cache
from typing import Any

from fingerpost.model.audience import For, bare_key, is_told
from fingerpost.model.grammar import is_class, item_of, keys_of, own_shape_of, strip_marks, strip_none
from fingerpost.model.words import LINE_SHAPE, TEXT_SHAPE, split_sentences
from fingerpost.rewrite.scalars import holds_special, write_in_line, write_text

Laid = tuple[str, list[str]]
"""What stands behind the key or the dash, and the lines below it. Nothing behind it: its parts stand below."""

WIDTH = 120
STEP = 2
# A sentence that would need quotes on its line: it begins with a sign of YAML, or holds a colon or a number sign.
_QUOTED_SENTENCE = re.compile(r"""^(?:[-?:] |[\[\]{},#&*!|>'"%@`]|.*(?:: | #)).*[.?!]$""")


@cache
def _behind(hint: Any) -> Any:
    """The type behind an optional one, and behind a text in pieces."""
    hint = strip_none(hint)
    return strip_marks(hint) if is_told(hint) else hint


@cache
def _text_behind(hint: Any) -> Any:
    """The type of the text that stands in the place of a list of pieces or of a record."""
    hint = item_of(hint) or hint
    return keys_of(hint)[key] if (key := bare_key(hint)) else hint


@cache
def _is_record(kind: Any) -> bool:
    """Whether a class is a small record: no list, no further class but a condition, no prose."""
    if kind is For:
        return True
    fields = {name: _behind(hint) for name, hint in keys_of(kind).items() if hint is not For}
    return bool(fields) and all(
        item_of(hint) is None
        and not is_class(hint)
        and own_shape_of(hint) is not TEXT_SHAPE
        and (own_shape_of(hint) is not LINE_SHAPE or name == "source")
        for name, hint in fields.items()
    )


def _in_a_line(value: Any) -> str:
    """A value as it stands inside a line, but for quotes."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{k}: {_in_a_line(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_in_a_line, value)) + "]"
    return value if isinstance(value, str) else json.dumps(value)


def _fits(value: Any, column: int) -> bool:
    return column + len(_in_a_line(value)) <= WIDTH


def _fold(text: str, indent: int) -> list[str]:
    """One sentence a line; a sentence that is too wide goes on in the next line."""
    lines = []
    for sentence in split_sentences(text):
        line = ""
        for word in sentence.split(" "):
            if line and indent + len(line) + 1 + len(word) > WIDTH:
                lines.append(line)
                line = word
            else:
                line = f"{line} {word}" if line else word
        lines.append(line)
    return lines


def _lay_out_text(text: str, hint: Any, column: int, block: int) -> Laid:
    """`column` is where the text would begin in its line, `block` where the lines of a block begin."""
    closed = text.removesuffix("\n")
    keep = "" if closed != text else "-"
    if "\n" in text.rstrip("\n"):
        if closed[0] in " \n" or closed.endswith("\n") or any(map(holds_special, closed.split("\n"))):
            return write_text(text), []
        return f"|{keep}", [" " * block + line if line else "" for line in closed.split("\n")]
    prose = own_shape_of(hint) is TEXT_SHAPE and (len(split_sentences(text)) > 1 or _QUOTED_SENTENCE.search(text))
    if prose or closed != text or not _fits(text, column):
        lines = _fold(closed, block)
        if closed and " ".join(lines) == closed:  # a fold stands for one plain space, and for no other
            return f">{keep}", [" " * block + line for line in lines]
    return write_text(text), []


def _order(data: dict[str, Any], hint: Any) -> dict[str, Any]:
    """The keys in the order of the model, strange ones last; those of a condition too."""
    fields = keys_of(hint)
    ordered = {k: data[k] for k in (*(f for f in fields if f in data), *(k for k in data if k not in fields))}
    if "for" in fields and isinstance(ordered.get("for"), dict):
        ordered["for"] = _order(ordered["for"], For)
    return ordered


def _lay_out_map(data: dict[str, Any], hint: Any, column: int, indent: int) -> Laid:
    fields, ordered = keys_of(hint), _order(data, hint)
    if not data or (_is_record(hint) and _fits(ordered, column) and (hint is For or not _holds_more(data))):
        return write_in_line(ordered), []
    lines = []
    for key, value in ordered.items():
        written = write_text(key)
        head, below = lay_out(value, fields.get(key), indent + len(key) + 2, indent + STEP)
        lines += [" " * indent + f"{written}:" + (f" {head}" if head else ""), *below]
    return "", lines


def _holds_more(data: dict[str, Any]) -> bool:
    """Whether a record as written holds a list or another record, beside its condition."""
    return any(isinstance(value, (dict, list)) for key, value in data.items() if key != "for")


def _lay_out_list(data: list[Any], hint: Any, column: int, indent: int) -> Laid:
    item = item_of(hint)
    plain = not any(isinstance(v, (dict, list)) for v in data) and own_shape_of(_text_behind(item)) is not TEXT_SHAPE
    if not data or (plain and _fits(data, column)):
        return write_in_line(data), []
    lines, lead = [], " " * indent + "- "
    for value in data:
        head, below = lay_out(value, item, indent + STEP, indent + STEP)
        first, rest = (head, below) if head else (below[0][indent + STEP :], below[1:])
        lines += [lead + first, *rest]
    return "", lines


def lay_out(data: Any, hint: Any, column: int, indent: int) -> Laid:
    """Plain data in canonical form.

    `column`: where a value in the same line begins. `indent`: where its parts begin if they stand below.
    """
    hint = _behind(hint)
    if isinstance(data, dict):
        return _lay_out_map(data, hint, column, indent)
    if isinstance(data, list):
        return _lay_out_list(data, hint, column, indent)
    return _lay_out_text(data, _text_behind(hint), column, indent) if isinstance(data, str) else (json.dumps(data), [])
