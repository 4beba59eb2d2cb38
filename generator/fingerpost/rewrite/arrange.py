"""What canonical form looks like: plain data with the style of each part, decided by the model alone.

Keys stand in the order of the model. A text of several sentences is a folded block with one sentence a line. Lists of
ids and small records stand on one line where they fit.
"""

from __future__ import annotations

import json
import re
from functools import cache
from typing import Any

from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.scalarstring import FoldedScalarString, LiteralScalarString

from fingerpost.model.audience import For, bare_key, is_told
from fingerpost.model.grammar import is_class, item_of, keys_of, own_shape_of, strip_marks, strip_none
from fingerpost.model.words import LINE_SHAPE, TEXT_SHAPE, split_sentences

WIDTH = 120
STEP = 2
# A sentence that would need quotes on its line: it begins with a sign of YAML, or holds a colon or a number sign.
_QUOTED_SENTENCE = re.compile(r"""^(?:[-?:] |[\[\]{},#&*!|>'"%@`]|.*(?:: | #)).*[.?!]$""")


def _behind(hint: Any) -> Any:
    """The type behind an optional one, and behind a text in pieces."""
    hint = strip_none(hint)
    return strip_marks(hint) if is_told(hint) else hint


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


def _fold(text: str, column: int) -> Any:
    """A folded block with one sentence a line; a sentence that is too wide goes on in the next line."""
    folded, at, used = FoldedScalarString(text), 0, 0
    folded.fold_pos = []
    for sentence in split_sentences(text):
        for number, word in enumerate(sentence.split(" ")):
            start = text.index(word, at)
            if start and (number == 0 or column + used + 1 + len(word) > WIDTH):
                folded.fold_pos.append(start - 1)
                used = len(word)
            else:
                used += len(word) + (1 if start else 0)
            at = start + len(word)
    return folded


def _arrange_text(text: str, hint: Any, column: int, block: int) -> Any:
    """`column` is where the text would begin in its line, `block` where the lines of a block begin."""
    if "\n" in text.rstrip("\n"):
        return LiteralScalarString(text)
    prose = own_shape_of(hint) is TEXT_SHAPE and (len(split_sentences(text)) > 1 or _QUOTED_SENTENCE.search(text))
    closed = text.removesuffix("\n")
    if (prose or closed != text or not _fits(text, column)) and "  " not in text and closed == closed.strip():
        return _fold(text, block)
    return text


def _arrange_map(data: dict[str, Any], hint: Any, column: int, indent: int) -> CommentedMap:
    fields = keys_of(hint)
    ordered = {k: data[k] for k in (*(f for f in fields if f in data), *(k for k in data if k not in fields))}
    made = CommentedMap()
    if _is_record(hint) and _fits(ordered, column) and (hint is For or not _holds_more(data)):
        made.fa.set_flow_style()
        made.update({k: arrange(v, fields[k], 0, 0) if k == "for" and k in fields else v for k, v in ordered.items()})
        return made
    for key, value in ordered.items():
        made[key] = arrange(value, fields.get(key), indent + len(str(key)) + 2, indent + STEP)
    return made


def _holds_more(data: dict[str, Any]) -> bool:
    """Whether a record as written holds a list or another record, beside its condition."""
    return any(isinstance(value, (dict, list)) for key, value in data.items() if key != "for")


def _arrange_list(data: list[Any], hint: Any, column: int, indent: int) -> CommentedSeq:
    item = item_of(hint)
    plain = not any(isinstance(v, (dict, list)) for v in data) and own_shape_of(_text_behind(item)) is not TEXT_SHAPE
    made = CommentedSeq()
    if not data or (plain and _fits(data, column)):
        made.fa.set_flow_style()
        made.extend(data)
        return made
    made.extend(arrange(value, item, indent + STEP, indent + STEP) for value in data)
    return made


def arrange(data: Any, hint: Any, column: int, indent: int) -> Any:
    """Plain data with the style that each part has in canonical form.

    `column`: where a value in the same line begins. `indent`: where its parts begin if they stand below.
    """
    hint = _behind(hint)
    if isinstance(data, dict):
        return _arrange_map(data, hint, column, indent)
    if isinstance(data, list):
        return _arrange_list(data, hint, column, indent)
    return _arrange_text(data, _text_behind(hint), column, indent) if isinstance(data, str) else data
