"""The stages ahead as they are printed: their windows, with no day before the next visit."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from fingerpost.reckon.windows import ReviewDay, StageDays, WayBack


def list_ahead(way: WayBack, review: ReviewDay | None) -> Iterator[tuple[int, str, StageDays]]:
    """(number from 1, stage, days) of each stage ahead: its window, no part of it before the next visit.

    A stage that has to wait for the visit makes those behind it wait as long, so that each keeps its length. Days
    neither fall within a stage nor from one stage to the next.
    """
    floor = review.day if review else way.today
    waited = timedelta(0)
    latest = date.min
    for number, window in enumerate(way.windows, 1):
        if window.standing != "ahead":
            continue
        usual = max(window.days.usual + waited, floor)
        waited = max(waited, usual - window.days.usual)
        earliest = min(max(window.days.earliest + waited, floor), usual)
        latest = max(window.days.latest, usual, latest)
        yield number, window.stage, StageDays(earliest, usual, latest)
