"""Days: in order, ahead, the same in every place, and nobody blamed for them."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from datetime import date, timedelta

from fingerpost.plan.base.paper import Ahead
from fingerpost.plan.base.pictures import PathPicture
from fingerpost.plan.base.runs import plain
from sweep.cases import TODAY
from sweep.sayings import saying
from sweep.sheets import Told

saying(
    "early or late",
    r"\blater than usual\b|\bearlier than usual\b|\bover the latest day\b|\bask for a re-check\b|\bmoved by\b"
    r"|\bhave moved by that much\b|\bnot known when this stage began\b|\bafter its usual day\b"
    r"|\bearliest usual day for this stage\b|\bchose it all the same\b|\bwere not told why\b|\bdays? ago, so\b",
)
saying("dates ahead", r"\bat your visit, \d|\bat a visit about \d|\boften about \d|\balready include your delay\b")
saying("no dates", r"\bthere are no dates\b|\bthere is no date\b")
saying("next visit", r"\bnext visit \w{3,9} \d|\bphone for a visit about \w")
saying("splint worn until", r"\bsplint\b[^.]*\bon for \d+ (?:days|weeks)\b")
saying("long gone", r"\bkeep the splint on if you were given one\b|\bbefore it swells\b")
saying(
    "a long day",
    r"\b\d{1,2} (?:January|February|March|April|May|June|July|August|September|October|November|December) \d{4}\b",
)

_MONTHS = {
    m: n for n, m in enumerate(["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"], 1)
}
_DAY = re.compile(r"\b(\d{1,2}) (Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)[a-z]*(?: (\d{4}))?\b")
_SPAN = re.compile(r"\bon for (\d+) (day|week)s\b", re.IGNORECASE)
WEEKS_TAPED_AFTER = 4
"""How long tape goes on after full climbing has begun, at the least. Design choice, for a clinician to decide."""
LONG_AGO_DAYS = 84
LEAST_STAGE_DAYS = 7
"""Three sessions with rest days between take no less. Design choice."""


def read_days(text: str, ahead: bool = False) -> list[date]:
    """The days that a text names, in order. The leaf leaves out this year, and no other.

    `ahead`: a day without a year is the next one of that name, as on the sheet for the coach.
    """
    found = []
    for day, month, year in _DAY.findall(text):
        one = date(int(year or TODAY.year), _MONTHS[month], int(day))
        found.append(one.replace(year=one.year + 1) if ahead and not year and one < TODAY else one)
    return found


def _rows(told: Told) -> list[tuple[str, date]]:
    """The stages ahead with the day of each, from the rows on the leaf."""
    return [
        (name, day) for block in told.leaf_blocks(Ahead) for name, when in block.rows for day in read_days(plain(when))
    ]


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
    """Among the days ahead no day may be before today."""
    yield from (f"{name}: {day}" for name, day in _rows(told) if day < TODAY)
    for _, picture in told.pictures(PathPicture):
        for post in picture.posts:
            if post.standing == "ahead":
                yield from (f"{post.name}: {arm}" for arm in post.arms if any(d < TODAY for d in read_days(arm)))
    for name in ("tape until", "next visit"):
        for _, sentence in told.says(name, only=("dates", "visit")):
            if any(day < TODAY for day in read_days(sentence)):
                yield sentence
    yield from (
        f"calendar, {e.what}: {e.first} to {e.last}" for e in told.events if e.first < TODAY or e.last < e.first
    )


def find_days_that_fall(told: Told) -> Iterator[str]:
    """Days must not fall from a stage to the next, and must be the same on the path and in the rows."""
    rows = _rows(told)
    for (before, one), (after, other) in itertools.pairwise(rows):
        if other < one:
            yield f"{before}: {one}, then {after}: {other}"
    days = [day for _, day in rows]
    for piece, picture in told.pictures(PathPicture):
        arms = [d for p in picture.posts if p.standing == "ahead" for arm in p.arms for d in read_days(arm)]
        if piece.section == "dates" and arms != days:
            yield f"the path says {arms}, the rows {days}"


def find_days_before_the_next_visit(told: Told) -> Iterator[str]:
    """No stage may be promised for a day before the next visit or before a splint comes off: on no paper or screen."""
    if told.facts.hold:
        return
    visits = [day for line in told.section("visit") for day in read_days(line.text)]
    anchor = date.fromisoformat(told.facts.case.anchor.date)
    for _, sentence in told.says("splint worn until", fits=lambda s: s in ("day", "week") or s.startswith("tape")):
        count, unit = _SPAN.findall(sentence)[0]
        visits.append(anchor + timedelta(days=int(count) * (7 if unit == "week" else 1)))
    floor = max(visits, default=TODAY)
    numbers = {s.id for s in told.facts.stages}
    yield from (f"{name}: {day}, visit or splint {floor}" for name, day in _rows(told) if day < floor)
    yield from (f"calendar, {e.what}: {e.first}" for e in told.events if e.what in numbers and e.first < floor)
    for line in told.coach_lines:
        if line.section in ("gates", "path") and any(day < floor for day in read_days(line.text, ahead=True)):
            yield f"coach: {line.text}"


def find_windows_where_there_are_no_dates(told: Told) -> Iterator[str]:
    """Sheets without dates must not speak of dates, nor sheets with dates of none."""
    none = [s for _, s in told.says("no dates")]
    windows = [s for _, s in told.says("dates ahead", but={"alt"})]
    if none and (windows or _rows(told)):
        yield " / ".join([*none, *windows])


def find_a_calendar_against_the_sheet(told: Told) -> Iterator[str]:
    """The calendar must hold the days of the leaf: of each stage ahead, the end of taping, the next visit."""
    rows = {_number(name): day for name, day in _rows(told)}
    numbers = {s.id: n for n, s in enumerate(told.facts.stages, 1)}
    dated = "dates" in told.sections
    for event in told.events:
        if event.what in numbers and dated:
            day = rows.get(numbers[event.what])
            if day is None or not event.first <= day <= event.last:
                yield f"{event.what}: {event.first} to {event.last}, the leaf says {day}"
            elif any(said != day for said in read_days(event.description)):
                yield f"{event.what}: {event.description} The leaf says {day}"
    if dated:
        yield from _differing(told, "tape", "tape until")
        yield from _differing(told, "review", "next visit")
    said = sum(line.startswith("BEGIN:VEVENT") for line in told.calendar.split("\r\n"))
    if said != len(told.events):
        yield f"{said} events in the file, {len(told.events)} planned"


def _differing(told: Told, what: str, name: str) -> Iterator[str]:
    """An event whose day is not the day of the sentence about it."""
    said = [day for _, s in told.says(name, only=("dates", "visit")) for day in read_days(s)]
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


def find_stages_shorter_than_their_gates(told: Told) -> Iterator[str]:
    """A stage with load must not be so short, at the usual pace, that its gate's three sessions have no room."""
    rows = {_number(name): day for name, day in _rows(told)}
    began = {b.stage: date.fromisoformat(b.date) for b in told.facts.case.began}
    for number, stage in enumerate(told.facts.stages, 1):
        start = rows[number] if number in rows else began.get(stage.id) if stage is told.facts.stage else None
        if stage.load and start and number + 1 in rows:
            length = (rows[number + 1] - start).days
            if length < LEAST_STAGE_DAYS:
                yield f"{number}. {stage.name}: {length} days at the usual pace"


def find_tape_that_ends_too_early(told: Told) -> Iterator[str]:
    """Tape must not end sooner than some weeks after the usual day of full climbing, however late that has become."""
    full = next((n for n, s in enumerate(told.facts.stages, 1) if s.milestone == "full-climbing"), None)
    day = {_number(name): day for name, day in _rows(told)}.get(full or 0)
    for _, sentence in told.says("tape until", only=("dates",)):
        end = read_days(sentence)
        if day and end and end[0] < day + timedelta(weeks=WEEKS_TAPED_AFTER):
            yield f"{sentence} Full climbing often from {day}."


def find_first_days_long_after(told: Told) -> Iterator[str]:
    """Months after the injury nobody may read what is meant for its first days."""
    ago = (TODAY - date.fromisoformat(told.facts.case.anchor.date)).days
    if ago > LONG_AGO_DAYS:
        yield from (s for _, s in told.says("long gone"))


def find_set_today_by_nobody(told: Told) -> Iterator[str]:
    """No sheet may say that somebody checked it whom the case does not name, nor hide that nobody has."""
    checked = told.facts.case.checked
    named = [line.text for line in told.section("under-title") if line.text.startswith("Checked for you")]
    if checked is None:
        yield from named
        sides = {line.sheet for line in told.section("under-title") if line.text.startswith("Specimen")}
        yield from (f"side {n} does not say that nobody has checked it" for n in (1, 2) if told.leaf and n not in sides)
    else:
        yield from (says for says in named if checked.name not in says)
        yield from () if named or not told.leaf else ("nobody is named as who checked it",)
