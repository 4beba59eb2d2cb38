"""Reviews that are overdue on a day."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import Status
from fingerpost.problems import Problem

RULE = "overdue-review"


def is_overdue(status: Status, today: date) -> bool:
    """Whether the day on which a text must be looked at again has passed. On the day itself it has not."""
    day = status.next_review.known  # where the calendar has no such day, a rule of its own finds that
    return day is not None and day < today


def find_overdue(library: Library, today: date) -> Iterator[Problem]:
    """A text must be reviewed again by the day that it names."""
    documents: tuple[Document[Any], ...] = (*library.protocols, *library.referrals)
    for document in documents:
        status: Status = document.value.status
        if is_overdue(status, today):
            days = (today - status.next_review.day).days
            message = f"the review is overdue by {days} day{'' if days == 1 else 's'}"
            hint = "Review it again, or set the state to draft and a later day with the reason under `changes`."
            yield document.problem(("status", "next_review"), message, hint, RULE)
