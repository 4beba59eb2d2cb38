"""The way back as a picture, a table and sentences: for one person with dates, in general with times."""

from __future__ import annotations

from datetime import date

from fingerpost.model.times import write_date, write_weekday
from fingerpost.plan.base.pictures import Flag
from fingerpost.plan.case.situation import Situation
from fingerpost.reckon.windows import ReviewDay, WayBack, choose_review, find_standing


def short_date(day: date) -> str:
    """5 Jan 2026, for arms of signposts and rows of a diary."""
    long = write_date(day).split()
    return f"{long[0]} {long[1][:3]} {long[2]}"


def diary_date(day: date) -> str:
    """Wed 25 Nov, for the narrow first column of a diary."""
    return f"{write_weekday(day)[:3]} {short_date(day).rsplit(' ', 1)[0]}"


def flags_of(situation: Situation, way: WayBack) -> tuple[Flag, ...]:
    """The dates that matter, each after the stage in which it falls at the usual pace."""
    flags = []
    for important in sorted(situation.case.important_dates, key=lambda d: d.date):
        day = important.date.day
        standing = find_standing(way, day)
        flags.append(Flag(after=(standing.usual or 0) + 1, what=important.what, date=short_date(day)))
    return tuple(flags)


def find_review(situation: Situation) -> ReviewDay | None:
    """The next visit, booked or proposed; None where a case has neither a way back nor a day."""
    written = situation.case.review_date
    if situation.way is None:
        return None
    return choose_review(situation.way, written.day if written else None)
