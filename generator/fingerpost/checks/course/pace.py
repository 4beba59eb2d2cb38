"""Pace: how long stages last, and what the usual and the latest days rest on."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import ceil

from fingerpost.checks.base.walk import list_protocols
from fingerpost.checks.course.stages import list_home_grades, list_windows
from fingerpost.model.library import Library
from fingerpost.model.protocol import Grade, Protocol, Stage, Window
from fingerpost.model.times import Span
from fingerpost.model.words import COMMON_PRACTICE
from fingerpost.problems import Problem
from fingerpost.reckon.windows import PACES

# All three are choices of ours. A gate looks back over three sessions, so a stage must have room for three; and a week
# is the least in which a finger shows what a load does to it. What is torn gets two weeks of easy climbing.
LEAST_DAYS = 7
LEAST_SESSIONS = 3
LEAST_DAYS_TORN = 14
# A study rounds to a whole week or month, and so do we: less than a day is no difference.
_LESS_THAN_A_DAY = 0.99

_Step = tuple[tuple[int, int, Stage, Window], tuple[int, int, Stage, Window]]


def _list_steps(protocol: Protocol, grade: str) -> Iterator[_Step]:
    """Each stage of a grade with the one after it, where their days can be compared: one window each, in order."""
    windows = {found[0]: found for found in reversed(list(list_windows(protocol, grade)))}
    for before, after in pairwise(windows[number] for number in sorted(windows)):
        if all(getattr(before[3], pace).rough_days <= getattr(after[3], pace).rough_days for pace in PACES):
            yield before, after


def count_least_days(stage: Stage, grade: Grade) -> int:
    """How many days a stage must usually last: a week, three sessions of its rarest exercise, two weeks if torn."""
    rarest = min((dose.days_a_week for dose in stage.exercises if 1 <= dose.days_a_week <= 7), default=7)
    easy = LEAST_DAYS_TORN if grade.tear and stage.milestone == "easy-climbing" else 0
    return max(LEAST_DAYS, ceil(LEAST_SESSIONS * 7 / rarest), easy)


def find_stages_that_are_too_short(library: Library) -> Iterator[Problem]:
    """A stage after the first must last 7 days, three sessions, and 14 days if it is easy climbing after a tear.

    The first stage of a grade may be shorter: nothing is loaded in it, no gate of it counts sessions, and it ends when
    the swelling does or when somebody has looked at the finger. Rest that goes on for a week by rule stiffens a joint.
    """
    for document in list_protocols(library):
        for grade in document.value.grades:
            for before, after in list(_list_steps(document.value, grade.id))[1:]:
                least = count_least_days(before[2], grade)
                stays = after[3].usual.rough_days - before[3].usual.rough_days
                if stays + _LESS_THAN_A_DAY < least:
                    message = f"the stage '{before[2].id}' of grade {grade.id} must usually last {least} days or more"
                    path = ("stages", after[0], "windows", after[1], "usual")
                    yield document.problem(path, f"{message}, not {stays:.0f}", "Move this day to later.")


def find_usual_days_that_are_the_earliest(library: Library) -> Iterator[Problem]:
    """The usual day of a stage must be after its earliest day, unless a published source gives them as one day."""
    for document in list_protocols(library):
        for grade in document.value.grades:
            for number, at, _, window in list(list_windows(document.value, grade.id))[1:]:
                if window.usual.rough_days == window.earliest.rough_days and window.source == COMMON_PRACTICE:
                    message = f"{window.usual} is the earliest day too: by habit alone, nobody usually comes first"
                    path = ("stages", number, "windows", at, "usual")
                    yield document.problem(path, message, "Give a later usual day, or the source of this one.")


def find_steps_shorter_than_the_earliest(library: Library) -> Iterator[Problem]:
    """A stage must usually last as long as it does at the earliest pace, or longer."""
    for document in list_protocols(library):
        for grade in list_home_grades(document.value):
            for before, after in _list_steps(document.value, grade):
                earliest, usual = (
                    getattr(after[3], p).rough_days - getattr(before[3], p).rough_days for p in PACES[:2]
                )
                if usual + _LESS_THAN_A_DAY < earliest:
                    message = f"'{before[2].id}' lasts {usual:.0f} days at the usual pace, and {earliest:.0f} "
                    path = ("stages", after[0], "windows", after[1], "usual")
                    yield document.problem(path, message + "at the earliest: it must not be shorter")


def find_latest_days_before_a_study(library: Library) -> Iterator[Problem]:
    """The latest day of full climbing must not be before the time that a study found people to need."""
    for document in list_protocols(library):
        needed = {line.grade: line.recovery for line in document.value.timelines if line.recovery}
        for number, stage in enumerate(document.value.stages):
            for at, window in enumerate(stage.windows):
                study = needed.get(window.grade)
                if study and stage.milestone == "full-climbing" and _is_sooner(window.latest, study.after):
                    message = f"{window.latest} must not be before what a study found, {study.after} [{study.source}]"
                    path = ("stages", number, "windows", at, "latest")
                    yield document.problem(path, message, "Compare with `recovery` in timelines.")


def _is_sooner(one: Span, other: Span) -> bool:
    """Whether a time is shorter than another by a day or more; 52 weeks and 12 months are the same year."""
    return not _is_a_year(one, other) and one.rough_days + _LESS_THAN_A_DAY < other.rough_days


def _is_a_year(*spans: Span) -> bool:
    return all((span.number, span.unit) in {(52, "weeks"), (12, "months")} for span in spans)
