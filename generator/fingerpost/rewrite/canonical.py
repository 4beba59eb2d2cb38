"""Write a file anew in canonical form: the same meaning always looks the same, so that a diff shows what changed."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from fingerpost.model.case import Case
from fingerpost.model.grammar import hints_of
from fingerpost.model.library import Path
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.shared import Vocabularies
from fingerpost.problems import ContentError, Place, Problem
from fingerpost.read.library import read_plain
from fingerpost.read.yaml_events import Unreadable
from fingerpost.read.yaml_stretches import list_stretches
from fingerpost.rewrite.arrange import write_plain
from fingerpost.rewrite.comments import find_notes, first_difference, put_notes

RULE = "canonical-form"


def find_kind(name: str) -> Any:
    """The model class of a file, from its place below the folder of protocols; a case where it has none."""
    folder, *below = name.removesuffix(".yml").split("/")
    if folder == "shared" and below:
        return hints_of(Vocabularies).get(below[0])
    if not below:
        return Protocol
    return Referral if folder == "refer" and len(below) == 1 else Case


def _same(one: Any, other: Any) -> bool:
    """Whether plain data is the same, true and 1 being different."""
    return json.dumps(one, sort_keys=True) == json.dumps(other, sort_keys=True)


def _refuse(name: str) -> ContentError:
    message = "this file cannot be written in canonical form without changing what it says"
    return ContentError([Problem(Place(name), message, "It is left as it was.", RULE)])


def _hold(made: str, data: Any, name: str) -> None:
    """Refuse a text that does not say exactly what it should. Raises ContentError."""
    try:
        same = _same(read_plain(made, name), data)
    except ContentError:
        same = False
    if not same:
        raise _refuse(name)


def rewrite_as(text: str, data: Any, kind: Any, name: str, move: Callable[[Path], Path] = lambda path: path) -> str:
    """Canonical YAML of plain data, with the comments of a text that has the same parts. See `rewrite`.

    `move`: where a part of the text stands now, for its comments.
    """
    body = write_plain(data, kind)
    _hold(body, data, name)
    try:
        made = put_notes(find_notes(list_stretches(text), text).move(move), list_stretches(body), body)
    except Unreadable:  # for the slower reader, which tells places more exactly
        raise _refuse(name) from None
    _hold(made, data, name)
    return made


def rewrite(text: str, kind: Any, name: str) -> str:
    """The same file in canonical form. `name` is how the file is called in messages.

    Raises ContentError where the file cannot be read, or where it would not mean the same afterwards.
    """
    clean = text.removeprefix("\ufeff").replace("\r\n", "\n")
    return rewrite_as(clean, read_plain(clean, name), kind, name)


def find_first(text: str, kind: Any, name: str) -> int:
    """The first line (from 1) that is not as canonical form has it; 0 where all are.

    Raises ContentError where the file cannot be read.
    Why: looking for comments takes long, and it is not needed. But for them, a canonical file is what its data gives.
    """
    return first_difference(text, write_plain(read_plain(text.removeprefix("\ufeff"), name), kind))


FindFirst = Callable[[str, Any, str], int]


def find_unformatted(files: Iterable[tuple[str, str, Any]], find: FindFirst = find_first) -> Iterator[Problem]:
    """A file must be in canonical form.

    Each file is (name for messages, text, kind); what cannot be read is passed over. `find`: what does the work of
    `find_first`, or remembers that it is done.
    """
    for name, text, kind in files:
        try:
            line = find(text, kind, name)
        except ContentError:
            continue
        if line:
            hint = f"This writes it so, and changes nothing that it says: ./run fmt {name}"
            yield Problem(Place(name, line), "the file must be in canonical form from here on", hint, RULE)
