"""The coach sheet: nothing that names the injury or the person, and nothing that the person's own sheets do not say."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from fingerpost.model.library import Library
from fingerpost.plan.base.paper import Ahead
from fingerpost.plan.base.runs import plain
from sweep.detectors_dates import read_days
from sweep.sheets import Told

_PARTS = re.compile(
    r"\b(?:pulley|tendon|sheath|ligament|muscle|lumbrical|bone|growth plate|strain|sprain|tear|torn|grade"
    r"|splint|surgeon|x-ray|mri|pip|dip|mcp|a[1-5])s?\b",
    re.IGNORECASE,
)


@lru_cache(maxsize=4)
def _names(conditions: tuple[object, ...]) -> re.Pattern[str]:
    found = set()
    for condition in conditions:
        found |= {condition.plain_name, condition.trade_name, *condition.also_called}  # type: ignore[attr-defined]
    return re.compile("|".join(rf"\b{re.escape(n)}\b" for n in sorted(found, key=len, reverse=True)), re.IGNORECASE)


def _pattern(library: Library) -> re.Pattern[str]:
    return _names(library.conditions)


def find_the_injury_on_the_coach_sheet(told: Told) -> Iterator[str]:
    """A coach must not read what is hurt, nor how badly."""
    pattern = _pattern(told.facts.library)
    for line in told.coach_lines:
        if found := _PARTS.search(line.text) or pattern.search(line.text):
            yield f"{found.group()}: {line.text}"


def find_the_person_on_the_coach_sheet(told: Told) -> Iterator[str]:
    """A coach sheet must not hold the name, the number, the clinic or the note of the person."""
    case = told.facts.case
    secret = [case.reference, case.name, case.note, case.clinic.name if case.clinic else None]
    secret += [d.what for d in case.important_dates]
    for line in told.coach_lines:
        yield from (
            f"{word}: {line.text}" for word in secret if word and re.search(rf"\b{re.escape(word)}\b", line.text)
        )


def find_a_coach_sheet_against_the_sheet(told: Told) -> Iterator[str]:
    """The coach must read the same grips, the same stage and the same days as the person."""
    coach = told.coach
    if coach is None:
        return
    if told.facts.hold:
        if coach.path or coach.grips or coach.stages or coach.gates:
            yield "a stop sheet, and a plan for the coach"
        return
    names = {g.id: g.name for g in told.facts.library.vocabularies.grips}
    yield from _differing_grips(told, names)
    number = told.facts.stages.index(told.facts.stage) + 1
    if not any(f"stage {number} of {len(told.facts.stages)}" in line.text for line in told.coach_lines):
        yield f"the coach is not told stage {number} of {len(told.facts.stages)}"
    yield from _differing_days(told)


def _differing_grips(told: Told, names: dict[str, str]) -> Iterator[str]:
    listed = told.marked
    grips = told.coach.grips if told.coach else None
    for row in grips.rows if grips else ():
        name, mark = row[0][0].text, row[1][0].kind
        if name in names.values() and mark != listed.get(name, mark):
            yield f"{name}: {mark} for the coach, {listed.get(name, 'leave')} on the sheet"


def _differing_days(told: Told) -> Iterator[str]:
    """Days of a stage that are not round the day that the person's own leaf gives it."""
    days = [day for block in told.leaf_blocks(Ahead) for _, when in block.rows for day in read_days(plain(when))]
    numbers = {f"Stage {n}": day for n, day in enumerate(days, len(told.facts.stages) - len(days) + 1)}
    for line in told.coach_lines:
        own = next((day for label, day in numbers.items() if line.text.startswith(label)), None)
        said = read_days(line.text, ahead=True)
        if line.section == "gates" and own and said and not min(said) <= own <= max(said):
            yield f"{line.text} The leaf: {own}"
