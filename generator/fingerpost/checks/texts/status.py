"""Status: who stands behind a text, and until when."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.checks.base.walk import list_conditions, list_documents, walk_texts
from fingerpost.model.library import Library
from fingerpost.model.protocol import Status
from fingerpost.model.times import Day
from fingerpost.problems import Problem

# Three years of 365 days and a leap day.
LONGEST_DAYS = 1096


def find_impossible_dates(library: Library) -> Iterator[Problem]:
    """Every date must be a day that the calendar has."""
    for document in list_documents(library):
        for leaf in walk_texts(document):
            if isinstance(leaf.text, Day) and leaf.text.known is None:
                yield leaf.problem(f"the calendar has no day {leaf.text}", "Dates are written year-month-day.")


def find_dates_out_of_order(library: Library) -> Iterator[Problem]:
    """A text must be written before it is reviewed, and its next review must come after both."""
    for document in list_conditions(library):
        status: Status = document.value.status
        written, following = status.written.known, status.next_review.known
        reviewed = status.reviewed.known if status.reviewed else None
        if written and reviewed and reviewed < written:
            message = f"{reviewed} must not be before it was written, {written}"
            yield document.problem(("status", "reviewed"), message)
        latest = max((day for day in (written, reviewed) if day), default=None)
        if following and latest and following <= latest:
            yield document.problem(("status", "next_review"), f"{following} must be after {latest}")


def find_reviews_too_far_off(library: Library) -> Iterator[Problem]:
    """The next review must come at most three years after the text was written or last reviewed."""
    for document in list_conditions(library):
        status: Status = document.value.status
        start = (status.reviewed and status.reviewed.known) or status.written.known
        following = status.next_review.known
        if start and following and (following - start).days > LONGEST_DAYS:
            message = f"{following} must not be more than three years after {start}"
            yield document.problem(("status", "next_review"), message)


def find_approvals_without_a_reviewer(library: Library) -> Iterator[Problem]:
    """An approved text must say when and in which role it was reviewed, and the two must stand together."""
    for document in list_conditions(library):
        status: Status = document.value.status
        for key, other in (("reviewed", "reviewer_role"), ("reviewer_role", "reviewed")):
            needed = status.state == "approved" or getattr(status, other) is not None
            if needed and getattr(status, key) is None:
                why = "the text is approved" if status.state == "approved" else f"'{other}' is given"
                yield document.problem(("status", key), f"'{key}' must not be null: {why}")


def find_versions_that_say_too_much(library: Library) -> Iterator[Problem]:
    """A text must have version 1.0.0 or later once it is approved, and an earlier one until its first review."""
    for document in list_conditions(library):
        status: Status = document.value.status
        signed = not status.version.startswith("0.")
        if status.state == "approved" and not signed:
            yield document.problem(("status", "version"), f"{status.version} must be 1.0.0 or later: it is approved")
        if status.state == "draft" and status.reviewed is None and signed:
            message = f"{status.version} must be below 1.0.0: nobody has reviewed it"
            yield document.problem(("status", "version"), message)
