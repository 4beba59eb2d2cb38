"""What a log of visits must not say: days out of order, stages that are none, one thing told in two places."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import pairwise

from fingerpost.model.case import Case, Visit
from fingerpost.model.library import Library
from fingerpost.model.times import write_date
from fingerpost.model.words import Id
from fingerpost.problems import suggest
from fingerpost.read.validate import Finding
from fingerpost.reckon.measures import find_impossible_angles
from fingerpost.reckon.tape import explain_refusal
from fingerpost.reckon.visits import list_runs


def find_unfit_visits(
    case: Case, library: Library, stages: Sequence[Id], anchor: date, today: date
) -> Iterator[Finding]:
    """Every reason why a log cannot be. Only called when every day is a day. `stages`: those of protocol and grade."""
    yield from _find_unfit_days(case.visits, anchor, today)
    for at, visit in enumerate(case.visits):
        if visit.stage not in stages:
            message = f"no stage of this way back is called '{visit.stage}'"
            hint = suggest(visit.stage, stages) or f"There are: {', '.join(stages)}."
            yield ("visits", at, "stage"), message, hint
        yield from ((("visits", at, key), must, "") for key, must in find_impossible_angles(visit))
        if visit.round_mm is not None and (must := explain_refusal(visit.round_mm)):
            yield ("visits", at, "round_mm"), must, ""
        yield from _find_unfit_tests(at, visit, library)
    if case.visits:
        yield from _find_told_twice(case, today)


def _find_unfit_days(visits: Sequence[Visit], anchor: date, today: date) -> Iterator[Finding]:
    for at, visit in enumerate(visits):
        if visit.date.day > today:
            message = f"{write_date(visit.date.day)} is after today, {write_date(today)}"
            yield ("visits", at, "date"), f"{message}: a visit is written once it has been", "Is the day right?"
        elif visit.date.day < anchor:
            message = f"{write_date(visit.date.day)} is before {write_date(anchor)}, from which all days are counted"
            yield ("visits", at, "date"), message, "Leave out what was before, or correct `anchor`."
    for at, (before, after) in enumerate(pairwise(visits), 1):
        if after.date.day == before.date.day:
            hint = "Put what was found into one entry."
            yield ("visits", at, "date"), f"there are two visits on {write_date(after.date.day)}", hint
        elif after.date.day < before.date.day:
            message = f"{write_date(after.date.day)} stands after {write_date(before.date.day)}"
            yield ("visits", at, "date"), message, "Write the visits in order, the oldest first."


def _find_unfit_tests(at: int, visit: Visit, library: Library) -> Iterator[Finding]:
    known = [test.id for test in library.vocabularies.tests]
    done = [shown.test for shown in visit.tests]
    for number, test in enumerate(done):
        if test not in known:
            hint = suggest(test, known) or "The ids stand in protocols/shared/tests.yml."
            yield ("visits", at, "tests", number, "test"), f"no test is called '{test}'", hint
        if test in done[:number]:
            yield ("visits", at, "tests", number, "test"), f"'{test}' stands twice in this visit", "Keep one."


def _find_told_twice(case: Case, today: date) -> Iterator[Finding]:
    """What the log tells and another key tells otherwise, or once more."""
    newest, at = case.visits[-1], len(case.visits) - 1
    if newest.date.day == today and newest.stage != case.stage:
        message = f"the visit of today set stage '{newest.stage}', and `stage` is '{case.stage}'"
        yield ("visits", at, "stage"), message, "Write the stage that you have decided in both places."
    if case.checked:
        hint = "Write name and role as `checked` of the visit of that day, and leave this out."
        yield ("checked",), "who checked stands under `visits` in this case", hint
    yield from _find_other_begins(case)
    measured = next((visit.round_mm for visit in reversed(case.visits) if visit.round_mm is not None), None)
    for number, size in enumerate(case.finger_sizes):
        if size.finger == case.finger and measured not in (None, size.mm):
            message = f"the newest visit that measured the {size.finger} finger found {measured:g} mm, not {size.mm:g}"
            yield ("finger_sizes", number, "mm"), message, "Leave this finger out here: the visits have it."


def _find_other_begins(case: Case) -> Iterator[Finding]:
    """Begins that the visits tell otherwise: `began` is for what was before the first of them."""
    runs = [visit for _, visit in list_runs(case.visits)]
    first, told = runs[0], {(visit.stage, visit.date) for visit in runs}
    end = runs[1].date if len(runs) > 1 else None
    for at, began in enumerate(case.began):
        in_first = began.stage == first.stage and (end is None or began.date < end)
        if began.date > first.date and not in_first and (began.stage, began.date) not in told:
            message = f"the visits do not tell that '{began.stage}' began on {write_date(began.date.day)}"
            hint = "`began` is for the time before the first visit: leave this out, or correct the visits."
            yield ("began", at, "date"), message, hint
