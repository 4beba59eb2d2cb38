"""What in a case may be a slip. It can be printed all the same: a clinician looks again and decides."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from generator.model.case import Case
from generator.model.library import Document, Library
from generator.model.times import write_date
from generator.plan.casecheck import Finding
from generator.plan.situation import read_situation
from generator.problems import Problem

A_YEAR = 365
"""Whoever writes last year for this one, or next year for this one, is off by no less days. Design choice."""


def say_days(count: int) -> str:
    return "1 day" if count == 1 else f"{count} days"


def _find_odd_years(case: Case, today: date) -> Iterator[Finding]:
    ago = (today - date.fromisoformat(case.anchor.date)).days
    if ago >= A_YEAR:
        yield ("anchor", "date"), f"that is {say_days(ago)} ago", "Is the year right?"
    for n, important in enumerate(case.important_dates):
        ahead = (date.fromisoformat(important.date) - today).days
        if ahead >= A_YEAR:
            yield ("important_dates", n, "date"), f"that is {say_days(ahead)} from now", "Is the year right?"
    if case.review_date and (ahead := (date.fromisoformat(case.review_date) - today).days) >= A_YEAR:
        yield ("review_date",), f"that is {say_days(ahead)} from now", "Is the year right?"


def find_case_doubts(case: Case, library: Library, today: date) -> Iterator[Finding]:
    """What to look at again: (path, what is odd, what to do). `find_case_findings` has nothing against the case."""
    yield from _find_odd_years(case, today)
    way = read_situation(case, library, today).way
    if way and way.early_days:
        first = write_date(way.windows[way.today_index].published.earliest)
        message = f"the earliest usual day for this stage is {first}, {say_days(way.early_days)} from now"
        yield ("stage",), message, "If you mean it, print: the first sheet says so too."


def find_doubtful_places(document: Document[Case], library: Library, today: date) -> Iterator[Problem]:
    """The doubts about a case, each with its line."""
    for path, message, hint in find_case_doubts(document.value, library, today):
        yield document.problem(path, message, hint, "doubt")


def say_doubt(doubt: Problem) -> str:
    """A doubt as it is told on the command line."""
    return f"look again: {doubt}"
