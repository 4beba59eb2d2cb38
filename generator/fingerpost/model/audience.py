"""For whom something is meant: the one condition of texts, exercises, tapings, gates, warnings and questions; and the
mark of a figure in a text.

In YAML a condition stands under `for:`. What is left out there is no matter; what stands there must all be true of the
reader. A text that everybody reads is written as bare text; one that holds for some only is a list of pieces, each bare
text or a piece with `for` and `says`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Annotated, Any

from fingerpost.model.grammar import (
    choices_of,
    defaults_of,
    hints_of,
    is_record,
    key_of,
    marks_of,
    parts_of,
    strip_none,
)
from fingerpost.model.words import TEXT_SHAPE, AgeBand, Finger, GradeId, Id, Seen, Side, Text

MARK = re.compile(rf"\s*\[(?P<source>(?P<name>[a-z0-9-]+)(?: (?P<seen>{'|'.join(choices_of(Seen))}))?)\]")
"""How a text says where a figure is from: '[lutter-2018 recalled]', '[common-practice]'; with the blank before it.
`source` is what a key `source` holds: a name, and at most how far it was seen."""


@dataclass(frozen=True, kw_only=True)
class For:
    """Who is meant. A list means any of its entries; a key that is left out excludes nobody.

    `cleared`: a doctor has cleared the finger. `allergy`: the skin does not bear tape. `first_visit`: nobody has set a
    stage before. `support`: in the stage of today the person wears tape, a ring, loops or a splint. `planned`: a
    clinician has made a plan with the person, so what the plan tells is no question any more.
    """

    grade: tuple[GradeId, ...] = ()
    place: tuple[Id, ...] = ()
    stage: tuple[Id, ...] = ()
    finger: tuple[Finger, ...] = ()
    side: Side | None = None
    age: AgeBand | None = None
    cleared: bool | None = None
    allergy: bool | None = None
    first_visit: bool | None = None
    support: bool | None = None
    planned: bool | None = None


EVERYBODY = For()


def may_mean(meant: For, **known: object) -> bool:
    """Whether somebody of whom so much is known may be meant."""
    for key, told in known.items():
        asked = getattr(meant, key)
        if asked not in ((), None) and (told not in asked if isinstance(asked, tuple) else told != asked):
            return False
    return True


class MayBeBare:
    """What bare text may stand for: `__bare__` names the key that it fills."""

    __bare__ = ""


@dataclass(frozen=True, kw_only=True)
class Said(MayBeBare):
    """A piece of a text and for whom it is. Bare text in its place is for everybody."""

    for_: For = EVERYBODY
    says: Text

    __bare__ = "says"
    __shape__ = TEXT_SHAPE


@dataclass(frozen=True)
class Pieces:
    """Marks a text that may be one piece or several, so that bare text in its place is its only piece."""


PIECES = Pieces()
Told = Annotated[tuple[Said, ...], PIECES]
"""One text, in pieces for one reader after another."""


def is_told(hint: Any) -> bool:
    """Whether a type, or the type behind an optional one, is one text in pieces and no list of texts."""
    return PIECES in marks_of(strip_none(hint))


def bare_key(kind: Any) -> str | None:
    """The key that bare text stands for in the place of a class, or None where a class must be written out."""
    return getattr(kind, "__bare__", None) or None


def find_written(data: Any, path: tuple[str | int, ...]) -> tuple[str | int, ...]:
    """The place in the data as written that a place in the written-out data comes from."""
    at: list[str | int] = []
    for step in path:
        if not isinstance(data, (dict, list)):
            break
        if isinstance(step, int) and isinstance(data, dict):  # one piece, in the place of a list of pieces
            continue
        at.append(step)
        try:
            data = data[step]  # type: ignore[index]
        except (KeyError, IndexError, TypeError):
            return path
    return tuple(at)


def flat(told: Told) -> str:
    """Everything that a text says to anybody, as one text."""
    return " ".join(" ".join(piece.says.split()) for piece in told)


def write_back(value: Any, hint: Any = None) -> Any:
    """A value as plain data that reads back as an equal one, with the keys of YAML.

    What is for everybody is bare text and has no condition; a condition has only the keys that leave somebody out.
    `hint`: the type of the key that holds the value.
    """
    if isinstance(value, tuple):
        parts = [write_back(item) for item in value]
        return parts[0] if len(parts) == 1 and isinstance(parts[0], str) and is_told(hint) else parts
    if not is_record(value):
        return value
    kind: Any = type(value)
    bare, defaults = bare_key(kind), defaults_of(kind)
    if bare and all(name in defaults and part == defaults[name] for name, part in parts_of(value) if name != bare):
        return getattr(value, bare)
    hints = hints_of(kind)
    if isinstance(value, For):
        return {n: write_back(asked) for n in hints if (asked := getattr(value, n)) not in ((), None)}
    return {key_of(n): write_back(getattr(value, n), h) for n, h in hints.items() if getattr(value, n) != EVERYBODY}
