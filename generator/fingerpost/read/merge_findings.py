"""One slip, one message: findings that follow from the same slip are said once.

A lost line often takes a whole entry with it. Then every key of the entry is missing, or strange, and every entry of
a list is wrong in the same way; a reader needs to hear that once.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from fingerpost.model.library import Path
from fingerpost.read.validate import Finding, say_missing, say_unknown

MANY = 3
MOST_KEYS = 40
AND_MORE = "{count} entries of this list are wrong in the same way: a line above them may be lost."


def _sort(finding: Finding) -> str:
    """'missing', 'unknown', or the message itself."""
    path, message, _ = finding
    key = str(path[-1]) if path else ""
    if message == say_missing(key):
        return "missing"
    return "unknown" if message == say_unknown(key) else message


def _join_keys(found: list[Finding], sort: str) -> Finding:
    """Many keys of one entry as one finding at the entry."""
    keys = ", ".join(f"'{path[-1]}'" for path, _, _ in found[:MOST_KEYS])
    keys += f" and {len(found) - MOST_KEYS} more" if len(found) > MOST_KEYS else ""
    message = f"these keys are missing: {keys}" if sort == "missing" else f"no keys are called {keys} here"
    hint = "A line above may be lost, or stand too far in or out."
    return found[0][0][:-1], message, hint


def _gather_keys(found: Iterable[Finding]) -> Iterator[Finding]:
    def place(finding: Finding) -> tuple[Path, str]:
        sort = _sort(finding)
        return (finding[0][:-1], sort) if sort in ("missing", "unknown") else (finding[0], sort)

    ordered = list(found)
    seen = list(dict.fromkeys(place(f) for f in ordered))
    for path, sort in seen:
        alike = [f for f in ordered if place(f) == (path, sort)]
        yield from [_join_keys(alike, sort)] if len(alike) > MANY else alike


def gather(found: Iterable[Finding]) -> Iterator[Finding]:
    """The findings, with many like ones in one entry or one list said once."""

    def home(finding: Finding) -> tuple[Path, str, str]:
        path, message, _ = finding
        message = message.split(", not ")[0]  # what stood there instead differs from entry to entry
        numbers = [n for n, step in enumerate(path) if isinstance(step, int)]
        if not numbers:
            return path, message, ""
        at = numbers[-1]
        return path[:at], message, ".".join(str(step) for step in path[at + 1 :])

    ordered = list(_gather_keys(found))
    groups = {key: list(group) for key, group in groupby(sorted(ordered, key=lambda f: str(home(f))), key=home)}
    said: set[tuple[Path, str, str]] = set()
    for finding in ordered:
        alike = groups[home(finding)]
        if len(alike) <= MANY:
            yield finding
        elif home(finding) not in said:
            said.add(home(finding))
            path, message, _ = finding
            yield path, message, AND_MORE.format(count=len(alike))
