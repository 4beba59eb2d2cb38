"""Days: in order, ahead, the same in every place, and nobody blamed for them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta

from fingerpost.plan.base.blocks import Table
from fingerpost.plan.base.pictures import PathPicture
from sweep.cases import TODAY
from sweep.sayings import saying
from sweep.sheets import Told

saying(
    "early or late",
    r"\blater than usual\b|\bearlier than usual\b|\bover the latest day\b|\bask for a re-check\b|\bmoved by\b"
    r"|\bhave moved by that much\b|\bnot known when this stage began\b|\bafter its usual day\b"
    r"|\bearliest usual day for this stage\b|\bchose it all the same\b|\bwere not told why\b|\bdays? ago, so\b",
)
saying("dates are windows", r"\bthe dates are windows\b|\bwhat the dates mean\b|\bdate on your plan\b")
saying("no dates", r"\bthere are no dates\b")
saying("next visit", r"\byour next visit is on\b|\bask for one about\b")
saying("long gone", r"\bkeep the splint on if you were given one\b|\bbefore it swells\b")
saying(
    "a long day",
    r"\b\d{1,2} (?:January|February|March|April|May|June|July|August|September|October|November|December) \d{4}\b",
)

_MONTHS = {
    m: n for n, m in enumerate(["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"], 1)
}
_DAY = re.compile(r"\b(\d{1,2}) (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)[a-z]* (\d{4})\b")
WEEKS_TAPED_AFTER = 4
"""How long tape goes on after full climbing has begun, at the least. Design choice, for a clinician to decide."""
LONG_AGO_DAYS = 84
LEAST_STAGE_DAYS = 7
"""Three sessions with rest days between take no less. Design choice."""


def read_days(text: str) -> list[date]:
    """The days that a text names with their years, in order."""
    return [date(int(year), _MONTHS[month], int(day)) for day, month, year in _DAY.findall(text)]


def _rows(told: Told, as_printed: bool = False) -> list[tuple[str, list[date]]]:
    """The stages ahead with their three days, from the table of windows. A day that is three days is printed once."""
    found = []
    for piece, block in told.blocks(Table):
        if piece.section == "dates":
            for row in block.rows:
                cells = ["".join(run.text for run in cell) for cell in row]
                days = [day for cell in cells[1:] for day in read_days(cell)]
                if len(days) == 1 and cells[2].startswith("–") and not cells[1].startswith("began") and not as_printed:
                    days *= 3
                if len(days) == 3:
                    found.append((cells[0], days))
    return found


def _number(name: str) -> int:
    return int(name.partition(".")[0])


def find_early_or_late_on_paper(told: Told) -> Iterator[str]:
    """No paper that a patient gets may call them early, late or over a day; least of all at a first visit."""
    yield from (s for _, s in told.says("early or late", but={"sources"}))


def find_early_or_late_on_the_coach_sheet(told: Told) -> Iterator[str]:
    """A coach must not read that the athlete is early or late."""
    for line in told.coach_lines:
        if re.search(r"earliest usual day for this stage|later than usual|over the latest day", line.text):
            yield line.text


def find_a_first_visit_called_late(told: Told) -> Iterator[str]:
    """The desk must not doubt at a first visit that a stage came late, because nothing was agreed before."""
    if not told.facts.case.began:
        yield from (text for _, text in told.doubts if re.search(r"\blate\b|later than|over the latest|overdue", text))


def find_days_behind(told: Told) -> Iterator[str]:
    """Among the days ahead no day may be before today, nor any day at all before the one that all count from."""
    for name, days in _rows(told):
        yield from (f"{name}: {day}" for day in days if day < TODAY)
    for _, picture in told.pictures(PathPicture):
        for post in picture.posts:
            if post.standing == "ahead":
                yield from (f"{post.name}: {arm}" for arm in post.arms if any(d < TODAY for d in read_days(arm)))
    anchor = date.fromisoformat(told.facts.case.anchor.date)
    for _, sentence in told.says("a long day", only=("dates",)):
        days = read_days(sentence)
        ahead = "until" in sentence or "next visit" in sentence or "Ask for one" in sentence
        if any(day < (TODAY if ahead else anchor) for day in days):
            yield sentence
    yield from (
        f"calendar, {e.what}: {e.first} to {e.last}" for e in told.events if e.first < TODAY or e.last < e.first
    )


def find_days_that_fall(told: Told) -> Iterator[str]:
    """Earliest, usual and latest must not fall in a row, nor from a stage to the next, on table and path alike."""
    rows = _rows(told)
    for at, (name, days) in enumerate(rows):
        if days != sorted(days):
            yield f"{name}: {days}"
        if at and any(day < before for day, before in zip(days, rows[at - 1][1], strict=True)):
            yield f"{rows[at - 1][0]} {rows[at - 1][1]}, then {name} {days}"
    table = [[str(d) for d in days] for _, days in rows]
    for _, picture in told.pictures(PathPicture):
        arms = [[str(d) for arm in p.arms for d in read_days(arm)] for p in picture.posts if p.standing == "ahead"]
        if arms and any(post not in table for post in arms):
            yield f"the path says {arms}, the table {table}"


def find_windows_where_there_are_no_dates(told: Told) -> Iterator[str]:
    """Sheets without dates must not speak of dates, nor sheets with dates of none."""
    none = [s for _, s in told.says("no dates")]
    windows = [s for _, s in told.says("dates are windows")]
    if none and (windows or _rows(told)):
        yield " / ".join([*none, *windows])


def find_a_calendar_against_the_sheet(told: Told) -> Iterator[str]:
    """The calendar must hold the days of the sheet: windows, the end of taping, the next visit."""
    rows = {_number(name): days for name, days in _rows(told)}
    numbers = {s.id: n for n, s in enumerate(told.facts.stages, 1)}
    dated = "dates" in told.sections
    for event in told.events:
        if event.what in numbers and dated:
            days = rows.get(numbers[event.what])
            if days is None or (days[0], days[-1]) != (event.first, event.last):
                yield f"{event.what}: {event.first} to {event.last}, the sheet says {days}"
            elif any(day not in days for day in read_days(event.description)):
                yield f"{event.what}: {event.description} The sheet says {days}"
    if dated:
        yield from _differing(told, "tape", "tape until")
        yield from _differing(told, "review", "next visit")
    said = sum(line.startswith("BEGIN:VEVENT") for line in told.calendar.split("\r\n"))
    if said != len(told.events):
        yield f"{said} events in the file, {len(told.events)} planned"


def _differing(told: Told, what: str, name: str) -> Iterator[str]:
    """An event whose day is not the day of the sentence about it."""
    said = [day for _, s in told.says(name, only=("dates",)) for day in read_days(s)]
    for event in told.events:
        if event.what == what and said and event.first not in said:
            yield f"{what}: {event.first} in the calendar, {said} on the sheet"


def find_tape_in_the_calendar_of_somebody_allergic(told: Told) -> Iterator[str]:
    """The calendar of somebody who reacts to tape, or must not climb, must not tell them to tape or to go on."""
    facts = told.facts
    for event in told.events:
        tape = "tape" in event.summary.lower() and facts.case.tape_allergy
        if tape or (facts.hold and event.what != "review"):
            yield f"{event.summary} ({event.first})"


def find_a_window_that_is_none(told: Told) -> Iterator[str]:
    """A stage ahead must not have one and the same day as earliest, usual and latest."""
    yield from (f"{name}: {days[0]} three times" for name, days in _rows(told, as_printed=True) if len(set(days)) == 1)


def find_stages_shorter_than_their_gates(told: Told) -> Iterator[str]:
    """A stage with load must not be so short, at the usual pace, that its gate's three sessions have no room."""
    rows = {_number(name): days for name, days in _rows(told)}
    began = {b.stage: date.fromisoformat(b.date) for b in told.facts.case.began}
    for number, stage in enumerate(told.facts.stages, 1):
        start = rows[number][1] if number in rows else began.get(stage.id) if stage is told.facts.stage else None
        if stage.load and start and number + 1 in rows:
            length = (rows[number + 1][1] - start).days
            if length < LEAST_STAGE_DAYS:
                yield f"{number}. {stage.name}: {length} days at the usual pace"


def find_tape_that_ends_too_early(told: Told) -> Iterator[str]:
    """Tape must not end sooner than some weeks after the usual day of full climbing, however late that has become."""
    full = next((n for n, s in enumerate(told.facts.stages, 1) if s.milestone == "full-climbing"), None)
    days = {_number(name): days for name, days in _rows(told)}.get(full or 0)
    for _, sentence in told.says("tape until", only=("dates",)):
        end = read_days(sentence)
        if days and end and end[0] < days[1] + timedelta(weeks=WEEKS_TAPED_AFTER):
            yield f"{sentence} Full climbing usually from {days[1]}."


def find_first_days_long_after(told: Told) -> Iterator[str]:
    """Months after the injury nobody may read what is meant for its first days."""
    ago = (TODAY - date.fromisoformat(told.facts.case.anchor.date)).days
    if ago > LONG_AGO_DAYS:
        yield from (s for _, s in told.says("long gone"))


def find_set_today_by_nobody(told: Told) -> Iterator[str]:
    """No sheet may say that the stage was set on a day on which nobody wrote down that it began."""
    began = {b.stage: date.fromisoformat(b.date) for b in told.facts.case.began}
    for line in told.section("under-title"):
        if "Set by your clinician on" in line.text and began.get(told.facts.stage.id) not in read_days(line.text):
            yield line.text
