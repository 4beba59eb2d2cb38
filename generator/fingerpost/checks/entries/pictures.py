"""Pictures: what is drawn of a place is that place, seen from outside and under the skin."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.checks.base.walk import list_entries
from fingerpost.model.grammar import choices_of
from fingerpost.model.library import Library
from fingerpost.model.shared import Landmark, Look
from fingerpost.problems import Problem

# A bending tendon runs through the whole finger: it may be marked wherever it is felt. Other parts lie at one landmark.
TENDON_LANDMARKS: frozenset[Landmark] = frozenset(("dip", "middle", "proximal", "palm-tendon", "forearm"))


def find_looks_that_are_no_sign(library: Library) -> Iterator[Problem]:
    """What is drawn of how a short entry looks must be one of its signs, usual or sometimes."""
    for document in library.referrals:
        entry = document.value
        if entry.looks and entry.looks not in (*entry.signs.usual, *entry.signs.sometimes):
            message = f"'{entry.looks}' is drawn, and is no sign of '{entry.id}'"
            yield document.problem(("looks",), message, "Draw one of its signs, or leave the key out.")


def find_looks_that_are_not_drawn(library: Library) -> Iterator[Problem]:
    """A short entry with a usual sign that can be drawn must say how it looks."""
    for document in library.referrals:
        entry = document.value
        drawn = [sign for sign in choices_of(Look) if sign in entry.signs.usual]
        if drawn and entry.looks is None:
            message = f"'{entry.id}' is recognised by sight, and has no picture of it"
            yield document.problem(("id",), message, f"Write looks: {drawn[0]}")


def find_parts_drawn_elsewhere(library: Library) -> Iterator[Problem]:
    """What a part is under the skin must lie where the hand is marked for it."""
    for entry in list_entries(library, "anatomy"):
        part = entry.value
        bends = part.kind == "tendon" and part.landmark in TENDON_LANDMARKS
        there = bends if part.inside in ("tendon", "surface-tendon") else part.inside == part.landmark
        if part.inside and not there:
            message = f"'{part.inside}' under the skin is not where the hand is marked, '{part.landmark}'"
            yield entry.problem(("inside",), message, "Leave the key out where no drawing shows this part.")
