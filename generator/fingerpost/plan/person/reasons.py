"""The formula behind every number on a person's sheets."""

from __future__ import annotations

from datetime import date

from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.case.situation import read_situation
from fingerpost.plan.person.enclosures import chosen_tapings
from fingerpost.plan.person.since import explain_changes
from fingerpost.plan.person.strength import explain_goals, explain_loads
from fingerpost.plan.person.tape_cuts import explain_cuts
from fingerpost.reckon.why import Why
from fingerpost.reckon.windows import explain_window


def list_reasons(library: Library, case: Case, today: date) -> tuple[Why, ...]:
    """Every sum for the sheets of a case, also for those left out: dates, tape, loads; and what has changed since the
    last visit. None where a hold stands."""
    situation = read_situation(case, library, today)
    if situation.hold:
        return ()
    writer = Writer(situation.library)
    whys: list[Why] = []
    if situation.way:
        whys += [w for window in situation.way.windows for w in explain_window(situation.way, window)]
    if situation.taping_end:
        whys.append(situation.taping_end.why)
    whys += explain_cuts(chosen_tapings(writer, situation), situation)
    whys += explain_loads(situation)
    whys += explain_goals(writer, situation)
    whys += explain_changes(situation)
    return tuple(whys)
