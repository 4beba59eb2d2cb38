"""What a log of visits tells: which of them is printed, which came before it, and when each stage really began.

A stage begins with the first visit of an unbroken run of visits that set it. The first visit of all shows only that
the stage was reached by then: alone it tells no begin, because nobody has set a pace yet. Design choices of ours.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import date

from fingerpost.model.case import Began, Case, Checked, Clinician, FingerSize, Visit
from fingerpost.model.library import Path
from fingerpost.model.times import to_written
from fingerpost.model.words import ContentHash, Id


def find_current(case: Case, today: date) -> Visit | None:
    """The visit that is printed: the newest, if it set today's stage and is of today or was checked.

    None: today's decision stands in no visit yet.
    """
    newest = case.visits[-1] if case.visits else None
    if newest is None or newest.stage != case.stage:
        return None
    return newest if newest.checked or newest.date.known == today else None


def list_earlier(case: Case, today: date) -> tuple[Visit, ...]:
    """The visits before the one that is printed, oldest first."""
    return case.visits[:-1] if find_current(case, today) else case.visits


def find_last(case: Case, today: date) -> Visit | None:
    """The visit before the one that is printed."""
    return next(reversed(list_earlier(case, today)), None)


def find_check(case: Case) -> Checked | None:
    """Who checked what is printed and when; None where nobody has."""
    if not case.visits:
        return case.checked
    newest = case.visits[-1]
    if newest.stage != case.stage or newest.checked is None:
        return None
    by = newest.checked
    return Checked(name=by.name, role=by.role, date=newest.date, stage=newest.stage)


def list_runs(visits: Sequence[Visit]) -> Iterator[tuple[int, Visit]]:
    """The first visit of each unbroken run of visits with one stage, with its number from 0."""
    for at, visit in enumerate(visits):
        if at == 0 or visits[at - 1].stage != visit.stage:
            yield at, visit


def _list_told(case: Case, today: date) -> Iterator[tuple[Path, Began]]:
    """Every begin that is written or follows from visits, in the order of the calendar; some may be undone later."""
    for at, began in enumerate(case.began):
        yield ("began", at), began
    if not list_earlier(case, today):
        return
    written = {(began.stage, began.date) for began in case.began}
    first = {began.stage for began in case.began}
    for at, visit in list_runs(case.visits):
        if (visit.stage, visit.date) not in written and (at or visit.stage not in first):
            yield ("visits", at), Began(stage=visit.stage, date=visit.date)
    if case.visits[-1].stage != case.stage:
        yield ("stage",), Began(stage=case.stage, date=to_written(today))


def list_begun(case: Case, stages: Sequence[Id], today: date) -> tuple[tuple[Path, Began], ...]:
    """Each stage so far with the day on which it really began, and where that stands in the case.

    Whoever goes back to a stage begins it anew, and what came after it has not begun. `stages`: in their order. Only
    for a case whose visits have been found to be in order.
    """
    told = tuple(_list_told(case, today))
    if not list_earlier(case, today):
        return told
    standing: list[tuple[Path, Began]] = []
    for one in sorted(told, key=lambda one: one[1].date):
        while standing and stages.index(standing[-1][1].stage) >= stages.index(one[1].stage):
            standing.pop()
        standing.append(one)
    return tuple(standing)


def list_sizes(case: Case) -> tuple[FingerSize, ...]:
    """Every measured finger, the sore one as the newest visit that measured it has it, in mm round the middle joint."""
    measured = next((visit.round_mm for visit in reversed(case.visits) if visit.round_mm is not None), None)
    if measured is None or any(size.finger == case.finger for size in case.finger_sizes):
        return case.finger_sizes
    return (*case.finger_sizes, FingerSize(finger=case.finger, mm=measured))


def renew(case: Case) -> Case:
    """The same case with its check in the log: one without visits stands for the one visit of its day."""
    if case.visits or not case.checked:
        return case
    by = Clinician(name=case.checked.name, role=case.checked.role)
    return replace(case, checked=None, visits=(Visit(date=case.checked.date, stage=case.checked.stage, checked=by),))


def log_visit(case: Case, today: date, printed: ContentHash | None = None) -> Case:
    """The same case with the visit that is printed in its log, once, however often it is asked for.

    `printed`: the content hash of sheets that were printed; None leaves what was written before.
    """
    renewed = renew(case)
    current = find_current(renewed, today)
    visit = current or Visit(date=to_written(today), stage=case.stage)
    earlier = list_earlier(renewed, today)
    return replace(renewed, visits=(*earlier, replace(visit, printed=printed or visit.printed)))
