"""The days ahead as a calendar file (iCalendar, RFC 5545). Nothing in it tells who it is about or what is hurt."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.model.times import write_date
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.case.situation import Situation, read_situation
from fingerpost.plan.person.way_back import find_review
from fingerpost.reckon.visits import find_check
from fingerpost.reckon.windows import list_ahead

_MOST_OCTETS = 75


@dataclass(frozen=True)
class Event:
    """Something that lasts whole days, from the first to the last. `what` names it, and no other event of the case."""

    what: str
    first: date
    last: date
    summary: str
    description: str


def list_events(library: Library, case: Case, today: date) -> tuple[Event, ...]:
    """The windows of the stages ahead, the end of taping and the next appointment, in order of days.

    Only for a case that `find_case_findings` has nothing against.
    """
    situation = read_situation(case, library, today)
    writer = Writer(situation.library)
    events = _list_events(writer, situation)
    if find_check(case) is None:
        events = (replace(e, summary=writer.say("calendar-unchecked", what=e.summary)) for e in events)
    return tuple(sorted(events, key=lambda e: (e.first, e.last, e.what)))


def _list_events(writer: Writer, situation: Situation) -> Iterator[Event]:
    if situation.way:
        for number, stage, days in list_ahead(situation.way, find_review(situation)):
            summary = writer.say("calendar-stage", number=number, count=len(situation.way.windows))
            more = writer.say("calendar-stage-more", usual=write_date(days.usual))
            yield Event(stage, days.earliest, days.latest, summary, more)
    more = writer.say("calendar-more")
    if situation.taping_end and situation.taping_end.day >= situation.today:
        day = situation.taping_end.day
        yield Event("tape", day, day, writer.say("calendar-tape"), more)
    if situation.case.review_date:
        day = situation.case.review_date.day
        yield Event("review", day, day, writer.say("calendar-review"), more)


def _escape(text: str) -> str:
    """Text as a value: backslash, semicolon, comma and line break are written with a backslash."""
    return text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")


def _fold(line: str) -> str:
    """A content line in pieces of at most 75 octets, none of which splits a character."""
    pieces, piece, room = [], "", _MOST_OCTETS
    for sign in line:
        size = len(sign.encode())
        if size > room:
            pieces.append(piece)
            piece, room = " ", _MOST_OCTETS - 1
        piece, room = piece + sign, room - size
    return "\r\n".join([*pieces, piece]) + "\r\n"


def _identify(case: Case, what: str) -> str:
    """A name that stays the same when the days move, so that a calendar replaces what it had. It tells nothing."""
    told = (case.reference, case.protocol, case.hand, case.finger, case.place, case.anchor, what)
    return hashlib.sha256(repr(told).encode()).hexdigest()[:32]


def _write_event(event: Event, case: Case, today: date) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{_identify(case, event.what)}"
    yield f"DTSTAMP:{today:%Y%m%d}T000000Z"
    yield f"DTSTART;VALUE=DATE:{event.first:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{event.last + timedelta(days=1):%Y%m%d}"
    yield f"SUMMARY:{_escape(event.summary)}"
    yield f"DESCRIPTION:{_escape(event.description)}"
    yield "CLASS:PRIVATE"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def write_calendar(library: Library, case: Case, today: date) -> str:
    """The events of a case as the text of an .ics file; '' where there are none."""
    events = list_events(library, case, today)
    if not events:
        return ""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Fingerpost//EN", "CALSCALE:GREGORIAN"]
    for event in events:
        lines += _write_event(event, case, today)
    return "".join(_fold(line) for line in [*lines, "END:VCALENDAR"])
