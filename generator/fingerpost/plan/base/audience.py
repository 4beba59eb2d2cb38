"""What is meant for one reader: the only place in which conditions are held against a person.

A collection that was narrowed to a person holds nothing that is meant for somebody else, and no condition that is still
open. Narrowed to less than a person (a page for anybody under 18), it keeps the conditions that nobody can decide.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Any, TypeVar, cast

from fingerpost.model.audience import EVERYBODY, For
from fingerpost.model.grammar import fields_of, hints_of, is_record, list_classes
from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import Dose, GateUse, Protocol, Stage
from fingerpost.model.shared import Vocabularies
from fingerpost.model.words import AgeBand, Finger, GradeId, Id, Side

T = TypeVar("T")


@dataclass(frozen=True, kw_only=True)
class Reader:
    """What is known of a reader; None where nobody knows. `side` is '' for an injury that has none."""

    grade: GradeId | None = None
    place: Id | None = None
    stage: Id | None = None
    finger: Finger | None = None
    side: Side | str | None = None
    age: AgeBand | None = None
    cleared: bool | None = None
    allergy: bool | None = None
    first_visit: bool | None = None
    support: bool | None = None
    planned: bool | None = None


ANYBODY = Reader()
_KEYS = fields_of(For)


def narrow(meant: For, reader: Reader) -> For | None:
    """What of a condition is still open for a reader: EVERYBODY where it holds, None where it does not."""
    if meant is EVERYBODY:
        return meant
    known: dict[str, Any] = {}
    for key in _KEYS:
        asked, told = getattr(meant, key), getattr(reader, key)
        if asked in ((), None) or told is None:
            continue
        if told not in asked if isinstance(asked, tuple) else told != asked:
            return None
        known[key] = () if isinstance(asked, tuple) else None
    left = replace(meant, **known) if known else meant
    return EVERYBODY if left == EVERYBODY else left


class _Kept:
    """Anything as the key of a memory: only itself is equal to it."""

    __slots__ = ("it",)

    def __init__(self, it: Any) -> None:
        self.it = it

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Kept) and self.it is other.it

    def __hash__(self) -> int:
        return id(self.it)


Open = Mapping[str | int, Any]
"""Where in a value conditions stand: the fields and numbers that lead there, each with the same again below it."""


@cache
def _list_conditional(kind: type) -> tuple[str, ...]:
    """The fields of a class in which something may be meant for some readers only, at any depth."""
    inside = ((name, tuple(list_classes(hint))) for name, hint in hints_of(kind).items())
    return tuple(n for n, classes in inside if any(c is For or _list_conditional(c) for c in classes))


def find_open(value: Any) -> Open | None:
    """Where in a value something is meant for some readers only; None where everything is for everybody."""
    if isinstance(value, For):
        return {} if value != EVERYBODY else None
    if isinstance(value, tuple):
        parts: Iterable[tuple[str | int, Any]] = enumerate(value)
    elif is_record(value):
        kind: Any = type(value)
        parts = ((name, getattr(value, name)) for name in _list_conditional(kind))
    else:
        return None
    found = {key: below for key, part in parts if (below := find_open(part)) is not None}
    return found or None


@lru_cache(maxsize=64)
def _find_open_once(kept: _Kept) -> Open | None:
    """The same, once for each value: few parts of a protocol or of the vocabularies hold a condition."""
    return find_open(kept.it)


def tell(value: T, reader: Reader) -> T | None:
    """What of a value is meant for a reader, at any depth; None where all of it is for somebody else.

    What no condition touches is the same object as before.
    """
    opened = _find_open_once(_Kept(value))
    return value if opened is None else cast(T | None, _tell(value, reader, opened))


def _tell(value: Any, reader: Reader, opened: Open) -> Any:
    if isinstance(value, For):
        return narrow(value, reader)
    if isinstance(value, tuple):
        told = (_tell(part, reader, opened[n]) if n in opened else part for n, part in enumerate(value))
        kept = tuple(part for part in told if part is not None)
        same = len(kept) == len(value) and all(a is b for a, b in zip(kept, value, strict=True))
        return value if same else kept
    changed = {}
    for name, below in opened.items():
        before = getattr(value, str(name))
        now = _tell(before, reader, below)
        if now is None and isinstance(before, For):
            return None
        if now is not before:
            changed[str(name)] = now
    return replace(value, **changed) if changed else value


def _meet(stage: Stage, exercises: frozenset[Id], in_place: Mapping[Id, Id]) -> Stage:
    """A stage without the exercises that are meant for somebody else, and with what takes the place of its tapings."""
    doses: tuple[Dose, ...] = tuple(d for d in stage.exercises if d.exercise in exercises)
    taping = tuple(dict.fromkeys(replace(use, taping=in_place.get(use.taping, use.taping)) for use in stage.taping))
    if len(doses) == len(stage.exercises) and taping == stage.taping:
        return stage
    return replace(stage, exercises=doses, taping=taping)


def _list_places(vocabularies: Vocabularies, reader: Reader) -> dict[Id, Id]:
    """What takes the place of each taping with glue on a skin that does not bear it: the one rule for it."""
    return {t.id: t.without_glue for t in vocabularies.tapings if t.without_glue} if reader.allergy else {}


GROWTH_GATES = ("no-spot-pain", "clinician-agrees")
"""What a finger that still grows must meet before every next stage: nobody moves on alone. Design choice."""


def _spare_growth(stage: Stage, vocabularies: Vocabularies) -> Stage:
    """A stage for a finger that still grows: no pain at all, and no grip that is for adults only.

    Source: the pain limit of 0 and the grips are common practice for growth plates; that they hold for every injury of
    a finger that grows is our choice, the more cautious one.
    """
    barred = {grip.id for grip in vocabularies.grips if grip.adults_only}
    rules = stage.grips
    limit = tuple(replace(rule, grips=tuple(g for g in rule.grips if g not in barred)) for rule in rules.limit)
    left = (*rules.leave, *(g.id for g in vocabularies.grips if g.id in barred and g.id not in rules.leave))
    grips = replace(
        rules,
        keep=tuple(grip for grip in rules.keep if grip not in barred),
        limit=tuple(rule for rule in limit if rule.grips),
        leave=left,
    )
    named = {use.gate for use in stage.gate}
    known = {gate.id for gate in vocabularies.gates}
    more = tuple(GateUse(gate=g) for g in GROWTH_GATES if stage.gate and g not in named and g in known)
    return replace(stage, grips=grips, pain=replace(stage.pain, most=0), gate=(*stage.gate, *more))


def _drop_gates(stage: Stage, vocabularies: Vocabularies) -> Stage:
    """A stage without the gates that are meant for somebody else."""
    known = {gate.id for gate in vocabularies.gates}
    gates = tuple(use for use in stage.gate if use.gate in known)
    return stage if len(gates) == len(stage.gate) else replace(stage, gate=gates)


def _drop_loads(stage: Stage, vocabularies: Vocabularies) -> Stage:
    """A stage without its load where no loaded exercise is left: a share of nothing is no plan."""
    loaded = {exercise.id for exercise in vocabularies.exercises if exercise.loaded}
    left = any(dose.exercise in loaded for dose in stage.exercises)
    return replace(stage, load=None) if stage.load and not left else stage


def _narrow_protocol(protocol: Protocol, vocabularies: Vocabularies, reader: Reader) -> Protocol:
    told = tell(protocol, reader) or protocol
    exercises, in_place = frozenset(e.id for e in vocabularies.exercises), _list_places(vocabularies, reader)
    stages = tuple(_drop_loads(_meet(stage, exercises, in_place), vocabularies) for stage in told.stages)
    if reader.age == "under-18":
        stages = tuple(_spare_growth(stage, vocabularies) for stage in stages)
    stages = tuple(_drop_gates(stage, vocabularies) for stage in stages)
    signs = {sign.id for sign in vocabularies.warning_signs}
    warnings = tuple(use for use in told.warning_signs if use.sign in signs)
    return replace(told, stages=stages, warning_signs=warnings)


def _documents(library: Library, vocabularies: Vocabularies, reader: Reader, about: Id) -> Iterator[Document[Protocol]]:
    for document in library.protocols:
        if document.value.id == about:
            yield replace(document, value=_narrow_protocol(document.value, vocabularies, reader))
        else:
            yield document


def narrow_library(library: Library, reader: Reader, about: Id) -> Library:
    """The collection with what one protocol and the shared entries mean for a reader. Other conditions stay whole.

    Why it is remembered: a person's sheets, coach sheet, calendar and doubts, and the papers of a general sheet, are
    planned one after the other for the same reader.
    """
    return _narrow_once(_Kept(library), reader, about)


@lru_cache(maxsize=16)
def _narrow_once(kept: _Kept, reader: Reader, about: Id) -> Library:
    library: Library = kept.it
    vocabularies = tell(library.vocabularies, reader) or library.vocabularies
    protocols = tuple(_documents(library, vocabularies, reader, about))
    return replace(library, vocabularies=vocabularies, protocols=protocols)
