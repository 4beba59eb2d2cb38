"""What canonical form looks like: the lines of plain data, laid out as the model alone decides.

Keys stand in the order of the model. A text of several sentences is a folded block with one sentence a line. Lists of
ids and small records stand on one line where they fit.
"""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
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
    """Whether a class is a small record: no list, no further class but a condition or another small one, no prose."""
    if kind is For:
        return True
    fields = {name: _behind(hint) for name, hint in keys_of(kind).items() if hint is not For}
    return bool(fields) and all(
        item_of(hint) is None
        and (not is_class(hint) or _is_record(hint))
        and own_shape_of(hint) is not TEXT_SHAPE
        and (own_shape_of(hint) is not LINE_SHAPE or name == "source")
        for name, hint in fields.items()
    )


@dataclass(frozen=True, eq=False)
class _Way:
    """What a type says about its layout. Told once for each type: looking at types takes longer than laying out.

    `record`: a small record; `condition`: that of `For`; `fields`: the ways of its keys. `item`: the way of what stands
    in a list. `prose`, `prose_items`: whether a text in its place, or in a list in its place, is prose.
    """

    record: bool
    condition: bool
    fields: dict[str, _Way]
    item: _Way | None
    prose: bool
    prose_items: bool


def _is_prose(hint: Any) -> bool:
    return own_shape_of(_text_behind(hint)) is TEXT_SHAPE


@cache
def _find_way(hint: Any) -> _Way:
    hint = _behind(hint)
    return _Way(
        record=_is_record(hint),
        condition=hint is For,
        fields={key: _find_way(behind) for key, behind in keys_of(hint).items()},
        item=_find_way(item) if (item := item_of(hint)) else None,
        prose=_is_prose(hint),
        prose_items=_is_prose(item_of(hint)),
    )


def _in_a_line(value: Any) -> str:
    """A value as it stands inside a line, but for quotes."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{k}: {_in_a_line(v)}" for k, v in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_in_a_line, value)) + "]"
    return value if isinstance(value, str) else json.dumps(value)


def _fold(text: str, indent: int) -> list[str]:
    """One sentence a line; a sentence that is too wide goes on in the next line."""
    lines = []
    for sentence in split_sentences(text):
        if indent + len(sentence) <= WIDTH:
            lines.append(sentence)
            continue
        line = ""
        for word in sentence.split(" "):
            if line and indent + len(line) + 1 + len(word) > WIDTH:
                lines.append(line)
                line = word
            else:
                line = f"{line} {word}" if line else word
        lines.append(line)
    return lines


def _lay_out_text(text: str, prose: bool, column: int, block: int) -> Laid:
    """`column` is where the text would begin in its line, `block` where the lines of a block begin."""
    fits = column + len(text) <= WIDTH
    if fits and "\n" not in text and not (prose and (len(split_sentences(text)) > 1 or _QUOTED_SENTENCE.search(text))):
        return write_text(text), []
    closed = text.removesuffix("\n")
    keep = "" if closed != text else "-"
    if "\n" in text.rstrip("\n"):
        if closed[0] in " \n" or closed.endswith("\n") or any(map(holds_special, closed.split("\n"))):
            return write_text(text), []
        return f"|{keep}", [" " * block + line if line else "" for line in closed.split("\n")]
    lines = _fold(closed, block)
    if closed and " ".join(lines) == closed:  # a fold stands for one plain space, and for no other
        return f">{keep}", [" " * block + line for line in lines]
    return write_text(text), []


def _order(data: dict[str, Any], way: _Way) -> dict[str, Any]:
    """The keys in the order of the model, strange ones last; those of a condition too."""
    ordered = {key: data[key] for key in way.fields if key in data}
    if len(ordered) < len(data):
        ordered |= {key: value for key, value in data.items() if key not in ordered}
    if isinstance(data.get("for"), dict) and (condition := way.fields.get("for")):
        ordered["for"] = _order(ordered["for"], condition)
    return ordered


def _lay_out_map(data: dict[str, Any], way: _Way, column: int, indent: int) -> Laid:
    ordered = _order(data, way)
    short = way.record and column + len(_in_a_line(ordered)) <= WIDTH
    if not data or (short and (way.condition or not _holds_more(data))):
        return write_in_line(ordered), []
    lines, lead = [], " " * indent
    for key, value in ordered.items():
        head, below = _lay_out(value, way.fields.get(key) or _STRANGE, indent + len(key) + 2, indent + STEP)
        lines.append(f"{lead}{write_text(key)}: {head}" if head else f"{lead}{write_text(key)}:")
        lines += below
    return "", lines


def _holds_more(data: dict[str, Any]) -> bool:
    """Whether a record as written holds a list or another record, beside its condition."""
    return any(isinstance(value, (dict, list)) for key, value in data.items() if key != "for")


def _lay_out_list(data: list[Any], way: _Way, column: int, indent: int) -> Laid:
    plain = not way.prose_items and not any(isinstance(value, (dict, list)) for value in data)
    if not data or (plain and column + len(_in_a_line(data)) <= WIDTH):
        return write_in_line(data), []
    lines, lead, item = [], " " * indent + "- ", way.item or _STRANGE
    for value in data:
        head, below = _lay_out(value, item, indent + STEP, indent + STEP)
        first, rest = (head, below) if head else (below[0][indent + STEP :], below[1:])
        lines += [lead + first, *rest]
    return "", lines


def _lay_out(data: Any, way: _Way, column: int, indent: int) -> Laid:
    if isinstance(data, str):
        return _lay_out_text(data, way.prose, column, indent)
    if isinstance(data, dict):
        return _lay_out_map(data, way, column, indent)
    if isinstance(data, list):
        return _lay_out_list(data, way, column, indent)
    return json.dumps(data), []


_STRANGE = _find_way(None)
"""The way of what no type tells anything about."""


def lay_out(data: Any, hint: Any, column: int, indent: int) -> Laid:
    """Plain data in canonical form.

    `column`: where a value in the same line begins. `indent`: where its parts begin if they stand below.
    """
    return _lay_out(data, _find_way(hint), column, indent)


def write_plain(data: Any, kind: Any) -> str:
    """Plain data as canonical YAML without comments."""
    head, lines = lay_out(data, kind, WIDTH if isinstance(data, list) else 0, 0)
    return "".join(f"{line}\n" for line in ([head] if head else []) + lines)
