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


def find_tears_that_are_not_drawn(library: Library) -> Iterator[Problem]:
    """What a grade says is torn right through must be a pulley at one of its places, and the grade must have a tear."""
    pulleys = {part.value.id for part in list_entries(library, "anatomy") if part.value.kind == "pulley"}
    for document in library.protocols:
        for at, grade in enumerate(document.value.grades):
            for number, place in enumerate(grade.torn_through):
                path = ("grades", at, "torn_through", number)
                if not grade.tear:
                    yield document.problem(path, f"grade {grade.id} has no tear", "Write tear: true, or leave it out.")
                elif place not in pulleys or place not in (grade.places or document.value.places):
                    hint = "Only pulleys can be drawn torn, and only where the grade is."
                    yield document.problem(path, f"'{place}' is no pulley among the places of grade {grade.id}", hint)


def find_parts_drawn_elsewhere(library: Library) -> Iterator[Problem]:
    """What a part is under the skin must lie where the hand is marked for it."""
    for entry in list_entries(library, "anatomy"):
        part = entry.value
        bends = part.kind == "tendon" and part.landmark in TENDON_LANDMARKS
        there = bends if part.inside in ("tendon", "surface-tendon") else part.inside == part.landmark
        if part.inside and not there:
            message = f"'{part.inside}' under the skin is not where the hand is marked, '{part.landmark}'"
            yield entry.problem(("inside",), message, "Leave the key out where no drawing shows this part.")
