"""What in a case may be a slip. It can be printed all the same: a clinician looks again and decides."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from fingerpost.model.case import Case
from fingerpost.model.library import Document, Library, Path
from fingerpost.model.masses import write_mass
from fingerpost.model.times import Span, write_date
from fingerpost.model.words import Hand
from fingerpost.plan.case.situation import Situation, is_first_visit, read_situation
from fingerpost.plan.person.strength import find_withheld_loads, measured_tests
from fingerpost.problems import Problem
from fingerpost.read.validate import Finding
from fingerpost.reckon.loads import TestKey, compare_hands, list_keys
from fingerpost.reckon.measures import find_odd_measures
from fingerpost.reckon.visits import find_check
from fingerpost.reckon.windows import PACES, WayBack

A_YEAR = 365
"""Whoever writes last year for this one, or next year for this one, is off by no less days. Design choice."""

CHECK_DAYS = 28
"""No check is proposed later than four weeks on (`choose_review`), so one that is older was not of today's finger.
Design choice."""
TOLERANCE_DAYS = 3
"""A visit falls on a free appointment, not on a day that was counted out. Three days are the longest time between two
working days without one, a long weekend. Design choice."""
TOLERANCE_SHARE = 0.1
"""The longer a time, the less a day of it says: a tenth of it. Design choice."""


def tolerate_late(way: WayBack) -> int:
    """By how many days today's stage may outlast its latest day before it is worth a look: 3, or 10 % of its usual
    length, whichever is more."""
    here, ahead = way.windows[way.today_index], way.windows[way.today_index + 1 :]
    length = (ahead[0].published.usual - here.published.usual).days if ahead else 0
    return max(TOLERANCE_DAYS, int(TOLERANCE_SHARE * length))


def tolerate_early(way: WayBack) -> int:
    """By how many days today's stage may come before its earliest day: 3, or 10 % of the time until then, whichever is
    less. Why less: to load too early does harm, to load too late does not."""
    until = (way.windows[way.today_index].published.earliest - way.anchor).days
    return min(TOLERANCE_DAYS, int(TOLERANCE_SHARE * until))


def _find_odd_years(case: Case, today: date) -> Iterator[Finding]:
    ago = (today - case.anchor.date.day).days
    if ago >= A_YEAR:
        yield ("anchor", "date"), f"that is {Span(ago, 'days')} ago", "Is the year right?"
    for n, important in enumerate(case.important_dates):
        ahead = (important.date.day - today).days
        if ahead >= A_YEAR:
            yield ("important_dates", n, "date"), f"that is {Span(ahead, 'days')} from now", "Is the year right?"
    if case.review_date and (ahead := (case.review_date.day - today).days) >= A_YEAR:
        yield ("review_date",), f"that is {Span(ahead, 'days')} from now", "Is the year right?"


def _find_old_check(case: Case, today: date) -> Iterator[Finding]:
    checked = find_check(case)
    if checked and (ago := (today - checked.date.day).days) > CHECK_DAYS:
        path: Path = ("visits", len(case.visits) - 1, "date") if case.visits else ("checked", "date")
        message = f"it was checked {Span(ago, 'days')} ago"
        yield path, message, "Decide anew and write the new day, or print it so."


def _find_odd_visits(case: Case) -> Iterator[Finding]:
    """Measures that are more often a slip than a finger."""
    for at, visit in enumerate(case.visits):
        for key, message in find_odd_measures(visit, case.visits[at - 1] if at else None):
            yield ("visits", at, key), message, "Measure again, or print it so."


def find_case_doubts(case: Case, library: Library, today: date) -> Iterator[Finding]:
    """What to look at again: (path, what is odd, what to do). `find_case_findings` has nothing against the case."""
    yield from _find_odd_years(case, today)
    yield from _find_old_check(case, today)
    yield from _find_odd_visits(case)
    situation = read_situation(case, library, today)
    yield from _find_hold(situation)
    if situation.way is None:
        return
    yield from _find_quick_stages(situation, situation.way)
    yield from _find_slow_stages(case, situation.way)
    yield from _find_odd_strength(case)
    yield from _find_withheld_loads(situation)
    yield from _find_late_visit(case, situation.way)


_HOLDS = {
    "surgeon": "a surgeon treats this grade",
    "stop": "no doctor has cleared the finger",
    "under-18": "no doctor has cleared a finger that grows",
}


def _find_hold(situation: Situation) -> Iterator[Finding]:
    """A stage of a home programme was chosen, and a sheet that says stop comes out all the same."""
    if situation.hold and situation.stage != situation.stages[0]:
        path = ("grade",) if situation.hold == "surgeon" else ("doctor_cleared",)
        message = f"'{situation.stage.name}' is not printed, but a sheet that says stop: {_HOLDS[situation.hold]}"
        hint = "Choose another grade if this is wrong." if situation.hold == "surgeon" else "Write the day if one has."
        yield path, message, hint


def _find_quick_stages(situation: Situation, way: WayBack) -> Iterator[Finding]:
    """A stage ahead of its published days, or reached faster than any pace goes."""
    here, hint = way.windows[way.today_index], "If you mean it, print."
    if way.early_days > tolerate_early(way):
        first = write_date(here.published.earliest)
        message = f"the earliest usual day for this stage is {first}, {Span(way.early_days, 'days')} from now"
        yield ("stage",), message, "If you mean it, print: the sheets do not say so."
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


def _find_slow_stages(case: Case, way: WayBack) -> Iterator[Finding]:
    """A stage that outlasts its latest day, or has begun on nobody knows which. A first visit is no lateness."""
    if is_first_visit(case, way.today):
        return
    if way.days_over > tolerate_late(way):
        message = f"the latest usual day for the next stage was {Span(way.days_over, 'days')} ago"
        yield ("stage",), message, "Look for the reason, and whether this is still the right injury, grade and stage."
    if not way.begin_known and way.delay_days > tolerate_late(way):
        late = Span(way.delay_days, "days")
        message = f"nobody wrote when this stage began, so it counts from today, {late} after its usual day"
        yield ("stage",), message, "Write the day on which it really began, or print it so."


def _find_odd_strength(case: Case) -> Iterator[Finding]:
    """A hurt hand that is stronger than the other one: more often a slip of a test than a strong hand."""
    tests = measured_tests(case)
    other: Hand = "left" if case.hand == "right" else "right"
    for key in list_keys(tests):
        comparison = compare_hands(tests, case.hand, key)
        if comparison and comparison.verdict == "injured-stronger":
            stronger = abs(comparison.difference_percent)
            message = f"the hurt {case.hand} hand is {stronger:g} % stronger than the {other} hand in the same test"
            hint = "Look at both tests and at the hands beside them: loads are shares of the healthy hand."
            yield ("baselines", _find_last(case, key, other), case.units), message, hint


def _find_withheld_loads(situation: Situation) -> Iterator[Finding]:
    case = situation.case
    for dose, key, own, least in find_withheld_loads(situation):
        message = (
            f"no load is printed for '{dose.exercise}': the least would be {write_mass(least.kg, case.units)}, "
            f"and the {case.hand} hand has held {write_mass(own, case.units)}"
        )
        yield (
            ("baselines", _find_last(case, key, case.hand), case.units),
            message,
            "Write a load of your own into the note.",
        )


def _find_last(case: Case, key: TestKey, hand: Hand) -> int:
    """Which of the case's tests is the latest of this hand since the injury."""
    tests = list(enumerate(measured_tests(case)))
    return max((t.day, n) for n, t in tests if t.key == key and t.hand == hand and not t.before_injury)[1]


def _find_late_visit(case: Case, way: WayBack) -> Iterator[Finding]:
    """An appointment so late that several stages usually begin before it, whose gates nobody has ticked."""
    if case.review_date is None:
        return
    review = case.review_date.day
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
