"""What in a case may be a slip. It can be printed all the same: a clinician looks again and decides."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from generator.model.case import Case
from generator.model.library import Document, Library
from generator.model.times import Span, write_date
from generator.plan.situation import Situation, read_situation
from generator.problems import Problem
from generator.reckon.windows import PACES, WayBack
from generator.shape import Finding

A_YEAR = 365
"""Whoever writes last year for this one, or next year for this one, is off by no less days. Design choice."""


def _find_odd_years(case: Case, today: date) -> Iterator[Finding]:
    ago = (today - date.fromisoformat(case.anchor.date)).days
    if ago >= A_YEAR:
        yield ("anchor", "date"), f"that is {Span(ago, 'days')} ago", "Is the year right?"
    for n, important in enumerate(case.important_dates):
        ahead = (date.fromisoformat(important.date) - today).days
        if ahead >= A_YEAR:
            yield ("important_dates", n, "date"), f"that is {Span(ahead, 'days')} from now", "Is the year right?"
    if case.review_date and (ahead := (date.fromisoformat(case.review_date) - today).days) >= A_YEAR:
        yield ("review_date",), f"that is {Span(ahead, 'days')} from now", "Is the year right?"


def find_case_doubts(case: Case, library: Library, today: date) -> Iterator[Finding]:
    """What to look at again: (path, what is odd, what to do). `find_case_findings` has nothing against the case."""
    yield from _find_odd_years(case, today)
    situation = read_situation(case, library, today)
    if situation.way is None:
        return
    yield from _find_quick_stages(situation, situation.way)
    yield from _find_late_visit(case, situation.way)


def _find_quick_stages(situation: Situation, way: WayBack) -> Iterator[Finding]:
    """A stage ahead of its published days, or reached faster than any pace goes."""
    here, hint = way.windows[way.today_index], "If you mean it, print."
    if way.early_days:
        first = write_date(here.published.earliest)
        message = f"the earliest usual day for this stage is {first}, {Span(way.early_days, 'days')} from now"
        yield ("stage",), message, "If you mean it, print: the first sheet says so too."
        return
    before = [w for w in way.windows[: way.today_index] if w.began]
    if not before or before[-1].began is None:
        return
    shortest = min((here.published.at(pace) - before[-1].published.at(pace)).days for pace in PACES)
    took = ((here.began or way.today) - before[-1].began).days
    if took < shortest:
        name = next(s.name for s in situation.stages if s.id == before[-1].stage)
        yield (
            ("stage",),
            f"'{name}' to here took {Span(took, 'days')}, at the quickest it usually takes {Span(shortest, 'days')}",
            hint,
        )


def _find_late_visit(case: Case, way: WayBack) -> Iterator[Finding]:
    """An appointment so late that several stages usually begin before it, whose gates nobody has ticked."""
    if case.review_date is None:
        return
    review = date.fromisoformat(case.review_date)
    count = sum(w.standing == "ahead" and w.days.usual < review for w in way.windows)
    if count > 1:
        yield ("review_date",), f"{count} stages usually begin before this visit", "Is an earlier one possible?"


def find_doubtful_places(document: Document[Case], library: Library, today: date) -> Iterator[Problem]:
    """The doubts about a case, each with its line."""
    for path, message, hint in find_case_doubts(document.value, library, today):
        yield document.problem(path, message, hint, "doubt")


def say_doubt(doubt: Problem) -> str:
    """A doubt as it is told on the command line."""
    return f"look again: {doubt}"
