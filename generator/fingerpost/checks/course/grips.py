"""Grips: what to keep, limit and leave in each stage. The heart of a protocol."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import pairwise

from fingerpost.checks.base.walk import (
    KnownIds,
    Passage,
    list_documents,
    list_entries,
    list_protocols,
    must_stop,
    walk_prose,
)
from fingerpost.model.audience import flat
from fingerpost.model.library import Library
from fingerpost.model.protocol import GripRules, Protocol
from fingerpost.model.shared import Grip
from fingerpost.model.words import split_sentences
from fingerpost.problems import Problem
from fingerpost.reckon.finger import DIP_RANGE, MCP_RANGE, PIP_RANGE, GripLoad, Pulley, asks_more, compare_grip

RANKS = ("leave", "limit", "keep")
_ANGLES = {"mcp": MCP_RANGE, "pip": PIP_RANGE, "dip": DIP_RANGE, "pip_spread": (0, 60)}
_FEWEST_WORDS = 3


def list_grips(rules: GripRules) -> Iterator[tuple[str, int, tuple[str | int, ...]]]:
    """Each grip of a stage: (id, 0 leave / 1 limit / 2 keep, path below the stage)."""
    for number, grip in enumerate(rules.keep):
        yield grip, 2, ("grips", "keep", number)
    for at, limit in enumerate(rules.limit):
        for number, grip in enumerate(limit.grips):
            yield grip, 1, ("grips", "limit", at, "grips", number)
    for number, grip in enumerate(rules.leave):
        yield grip, 0, ("grips", "leave", number)


def rank_grips(rules: GripRules) -> dict[str, int]:
    """How far each grip is allowed; the least where it stands twice."""
    ranks: dict[str, int] = {}
    for grip, rank, _ in list_grips(rules):
        ranks[grip] = min(rank, ranks.get(grip, rank))
    return ranks


def find_missing_grips(library: Library) -> Iterator[Problem]:
    """Every grip must stand in every stage."""
    known = KnownIds(library)
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            there = {grip for grip, _, _ in list_grips(stage.grips)}
            misspelt = any(not known.has("grips", grip) for grip in there)
            for grip in library.vocabularies.grips:
                if grip.id not in there and not misspelt:
                    message = f"the grip '{grip.id}' is missing from the stage '{stage.id}'"
                    yield document.problem(("stages", number, "grips"), message, "Put it into keep, limit or leave.")


def find_grips_that_stand_twice(library: Library) -> Iterator[Problem]:
    """A grip must stand only once in a stage."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            seen: dict[str, int] = {}
            for grip, rank, path in list_grips(stage.grips):
                if grip in seen:
                    message = f"the grip '{grip}' stands under '{RANKS[seen[grip]]}' already"
                    yield document.problem(("stages", number, *path), message, "Decide which of the two it is.")
                seen.setdefault(grip, rank)


def find_vague_limits(library: Library) -> Iterator[Problem]:
    """A limit must have a condition that can be followed on the wall, in at least three words."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            for at, limit in enumerate(stage.grips.limit):
                if len(flat(limit.when).split()) < _FEWEST_WORDS:
                    message = f"'{flat(limit.when)}' is no condition that somebody can follow"
                    hint = "Say on which holds, with how much weight or how often."
                    yield document.problem(("stages", number, "grips", "limit", at, "when"), message, hint)


def find_half_crimps_behind_full_crimps(library: Library) -> Iterator[Problem]:
    """In no stage must full crimp be allowed further than half crimp."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            ranks = rank_grips(stage.grips)
            half, full = ranks.get("half-crimp"), ranks.get("full-crimp")
            if half is not None and full is not None and full > half:
                message = f"full crimp stands under '{RANKS[full]}' and half crimp only under '{RANKS[half]}'"
                yield document.problem(("stages", number, "grips"), message, "Half crimp comes back no later.")


def find_grips_taken_away(library: Library) -> Iterator[Problem]:
    """A grip that has come back must not be taken away in a later stage."""
    for document in list_protocols(library):
        for number, (before, after) in enumerate(pairwise(document.value.stages), start=1):
            earlier = rank_grips(before.grips)
            for grip, rank, path in list_grips(after.grips):
                if rank < earlier.get(grip, 0):
                    message = f"'{grip}' stands under '{RANKS[earlier[grip]]}' in the stage '{before.id}' already"
                    yield document.problem(("stages", number, *path), message, "A way back goes one way.")


def find_grips_left_to_the_end(library: Library) -> Iterator[Problem]:
    """The last stage must keep or limit every grip, except in a stop protocol."""
    for document in list_protocols(library):
        if must_stop(library, document.value) or not document.value.stages:
            continue
        last = len(document.value.stages) - 1
        for number, grip in enumerate(document.value.stages[last].grips.leave):
            path = ("stages", last, "grips", "leave", number)
            yield document.problem(path, f"'{grip}' is still left in the last stage", "Keep it, or limit it.")


def find_impossible_angles(library: Library) -> Iterator[Problem]:
    """Joint angles of a grip must be ones that a finger can have."""
    for part in list_entries(library, "grips"):
        angles = part.value.angles
        for name, (least, most) in _ANGLES.items():
            value = getattr(angles, name) if angles else least
            if not least <= value <= most:
                yield part.problem(("angles", name), f"{value} degrees must lie between {least} and {most}")


def _reckon_loads(library: Library) -> dict[str, tuple[Grip, GripLoad]]:
    """What each grip asks of the pulleys beside a half crimp, where its angles are known and possible."""
    half = next((grip.angles for grip in library.vocabularies.grips if grip.id == "half-crimp"), None)
    loads: dict[str, tuple[Grip, GripLoad]] = {}
    for grip in library.vocabularies.grips:
        try:
            if half and grip.angles:
                loads[grip.id] = (grip, compare_grip(grip.id, grip.angles, half))
        except (ValueError, ZeroDivisionError):
            continue
    return loads


def _list_injured_pulleys(library: Library, protocol: Protocol) -> tuple[Pulley, ...]:
    """The pulleys that a protocol is about, as far as loads are known: A3 goes with A2."""
    marks = {part.id: part.landmark for part in library.vocabularies.anatomy if part.kind == "pulley"}
    injured = {marks[tissue] for tissue in protocol.tissue if tissue in marks}
    pulleys: tuple[tuple[Pulley, set[str]], ...] = (("a2", {"a2", "a3"}), ("a4", {"a4"}))
    return tuple(pulley for pulley, landmarks in pulleys if injured & landmarks)


def find_grips_that_load_a_pulley_more(library: Library) -> Iterator[Problem]:
    """A stage must not keep a grip that loads the injured pulley more than one with as many fingers that it leaves."""
    loads: dict[str, tuple[Grip, GripLoad]] = {}
    for document in list_protocols(library):
        pulleys = _list_injured_pulleys(library, document.value)
        loads = loads or (_reckon_loads(library) if pulleys else {})
        for number, stage in enumerate(document.value.stages):
            for at, grip, left, loaded in _compare_stage(stage.grips, loads, pulleys):
                names = " and ".join(pulley.upper() for pulley in loaded)
                message = f"'{grip}' loads {names} more than '{left}', which this stage leaves"
                yield document.problem(("stages", number, "grips", "keep", at), message, "Leave or limit it too.")


def _compare_stage(
    rules: GripRules, loads: dict[str, tuple[Grip, GripLoad]], pulleys: tuple[Pulley, ...]
) -> Iterator[tuple[int, str, str, list[Pulley]]]:
    """Which grip that is kept loads which pulleys more than which grip that is left, by its number in `keep`."""
    left = [loads[grip] for grip in rules.leave if grip in loads]
    for at, name in enumerate(rules.keep):
        kept = loads.get(name)
        for grip, load in left if kept else ():
            loaded = [pulley for pulley in pulleys if kept and asks_more(kept[1], load, pulley)]
            if kept and loaded and len(kept[0].fingers) <= len(grip.fingers):
                yield at, name, grip.id, loaded


def find_doses_in_a_grip_left_out(library: Library) -> Iterator[Problem]:
    """An exercise must not use a grip that its stage leaves."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            ranks = rank_grips(stage.grips)
            for at, dose in enumerate(stage.exercises):
                if dose.grip and ranks.get(dose.grip) == 0:
                    message = f"the exercise uses '{dose.grip}', which the stage '{stage.id}' leaves"
                    hint = "Limit the grip to this exercise, or choose another."
                    yield document.problem(("stages", number, "exercises", at, "grip"), message, hint)


def find_pictures_of_a_grip_left_out(library: Library) -> Iterator[Problem]:
    """A stage must not prescribe an exercise whose picture shows a grip that it leaves, or another than its dose."""
    known = KnownIds(library)
    pictures = {e.id: e.picture.grip for e in library.vocabularies.exercises if e.picture}
    shown = {exercise: grip for exercise, grip in pictures.items() if grip and known.has("grips", grip)}
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            ranks = rank_grips(stage.grips)
            for at, dose in enumerate(stage.exercises):
                grip = shown.get(dose.exercise)
                path = ("stages", number, "exercises", at, "exercise")
                if grip and ranks.get(grip) == 0:
                    message = f"its picture shows '{grip}', which the stage '{stage.id}' leaves"
                    yield document.problem(path, message, "Limit the grip to this exercise, or choose another.")
                elif grip and dose.grip and dose.grip != grip:
                    yield document.problem(path, f"its picture shows '{grip}', and the dose says '{dose.grip}'")


_RIGHT_ANGLE = re.compile(r"(?<!less than )\ba right angle\b", re.IGNORECASE)
# About the spread of what was measured: a joint 14 degrees off is one that many a climber holds so.
_STILL_RIGHT = 15


def find_right_angles_that_are_none(library: Library) -> Iterator[Problem]:
    """A text about a grip must say "a right angle" only where the middle joint of that grip is bent about so far."""
    bent = range(PIP_RANGE[0], PIP_RANGE[1] + 1)
    pips = {g.name.lower(): g.angles.pip for g in library.vocabularies.grips if g.angles and g.angles.pip in bent}
    for document in list_documents(library):
        for passage in walk_prose(document):
            # Looked for first in a tenth of the time of the pattern, which is tried at every letter.
            if "angle" not in passage.text.lower():
                continue
            for sentence in split_sentences(passage.text) if _RIGHT_ANGLE.search(passage.text) else ():
                named = _list_named(sentence, pips) or _list_named(_name_entry(passage), pips)
                wrong = [name for name in named if abs(pips[name] - 90) > _STILL_RIGHT]
                if wrong and _RIGHT_ANGLE.search(sentence):
                    message = f"in a {wrong[0]} the middle joint bends to {pips[wrong[0]]} degrees, no right angle"
                    yield passage.problem(message, "It must say what grips.yml says.")


def _list_named(text: str, names: Iterable[str]) -> list[str]:
    return [name for name in names if name in text.lower()]


def _name_entry(passage: Passage) -> str:
    """The name of the entry of a vocabulary that a text belongs to; '' where it has none."""
    number = passage.path[0] if passage.path else None
    entry = passage.document.value[number] if isinstance(number, int) else None
    return str(getattr(entry, "name", ""))
