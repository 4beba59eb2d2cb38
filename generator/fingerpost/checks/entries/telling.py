"""The way in and the paper key: whoever answers honestly gets somewhere, and an urgent answer gets to help."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.checks.base.walk import list_entries, list_printed, read_all
from fingerpost.model.library import Library
from fingerpost.model.protocol import Referral
from fingerpost.model.words import URGENT
from fingerpost.problems import Problem


def find_spots_that_are_no_place(library: Library) -> Iterator[Problem]:
    """A spot on the drawn hand must belong to one sign, and that sign must be a place."""
    taken: dict[str, str] = {}
    for part in list_entries(library, "signs"):
        sign = part.value
        if sign.spot is None:
            continue
        if sign.kind != "place":
            yield part.problem(("spot",), f"'{sign.id}' must be a place to have a spot", "Write kind: place.")
        if sign.spot in taken:
            message = f"the spot '{sign.spot}' must not stand for '{taken[sign.spot]}' and for '{sign.id}'"
            yield part.problem(("spot",), message, "Give each its own spot.")
        taken.setdefault(sign.spot, sign.id)


def find_conditions_that_nobody_can_point_at(library: Library) -> Iterator[Problem]:
    """Every protocol and short entry must be sore, usually or sometimes, in a place that can be touched."""
    if not read_all(library):
        return
    spots = {sign.id for sign in library.vocabularies.signs if sign.spot}
    for document in list_printed(library):
        fits = document.value.signs
        if not spots & {*fits.usual, *fits.sometimes}:
            message = f"nobody who points at a place finds '{document.value.id}'"
            yield document.problem(("signs",), message, "Add a place that has a spot to usual or sometimes.")


def find_urgent_conditions_without_a_warning(library: Library) -> Iterator[Problem]:
    """A short entry that can never wait must have a usual sign that an urgent warning sign names."""
    if not read_all(library):
        return
    urgent = {s for w in library.vocabularies.warning_signs if w.urgency in URGENT for s in w.signs}
    for document in list_printed(library):
        condition = document.value
        never_waits = all(seek.urgency in URGENT for seek in condition.see_somebody)
        if isinstance(condition, Referral) and never_waits and not urgent & set(condition.signs.usual):
            message = f"no urgent warning sign leads to help for '{condition.id}'"
            hint = "Add one of its usual signs to the signs of an urgent warning sign."
            yield document.problem(("signs", "usual"), message, hint)


def find_age_questions_that_nobody_asks(library: Library) -> Iterator[Problem]:
    """A warning sign for people under 18 must name the sign that asks for age."""
    persons = {sign.id for sign in library.vocabularies.signs if sign.kind == "person"}
    for part in list_entries(library, "warning_signs"):
        warning = part.value
        if warning.for_.age == "under-18" and library.read_everything("signs") and not persons & set(warning.signs):
            message = f"'{warning.id}' must name the sign that asks whether somebody is under 18"
            yield part.problem(("signs",), message, "Add that sign to its signs.")
