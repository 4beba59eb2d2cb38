"""Completeness: nothing that a reader needs is left out."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from fingerpost.checks.base.walk import (
    find_first_odd_grade,
    list_conditions,
    list_documents,
    list_entries,
    list_protocols,
    must_stop,
    walk_parts,
)
from fingerpost.model.library import Library
from fingerpost.model.protocol import GripLimit, LookAlike, Protocol, Referral, SignFit
from fingerpost.model.shared import FOR_UPKEEP, Exercise, Grip, Taping, Test
from fingerpost.model.words import URGENCIES
from fingerpost.problems import Place, Problem

_FULL: dict[type, tuple[str, ...]] = {
    Protocol: (
        "tissue", "places", "fingers", "tests", "look_alikes", "warning_signs", "grades", "stages", "goes_wrong",
        "cautions", "see_somebody", "questions",
    ),
    Referral: ("tissue", "until_then", "look_alikes", "see_somebody", "questions"),
    SignFit: ("usual", "does_not_fit"),
    LookAlike: ("signs",),
    GripLimit: ("grips",),
    Grip: ("fingers",),
    Test: ("how",),
    Taping: ("materials", "steps", "check_after", "mistakes"),
    Exercise: ("steps", "mistakes"),
}  # fmt: skip


def find_empty_lists(library: Library) -> Iterator[Problem]:
    """A list that readers rely on must hold at least one entry."""
    for document in list_documents(library):
        for part in walk_parts(document):
            for field in _FULL.get(type(part.value), ()):
                if not getattr(part.value, field):
                    yield part.problem((field,), f"'{field}' must hold at least one entry")


def find_empty_vocabularies(library: Library) -> Iterator[Problem]:
    """There must be protocols, short entries, and entries in each vocabulary that pages are made from."""
    for name, documents in library.shared_files.items():
        if name not in FOR_UPKEEP and library.read_everything(name) and not any(list_entries(library, name)):
            yield documents[0].problem((), "there must be at least one entry here")
    for conditions, name in ((library.protocols, "protocols"), (library.referrals, "short entries")):
        if not conditions and library.read_everything("conditions") and library.specimen:
            yield Problem(Place(library.specimen.file), f"there are no {name} beside this specimen")


def find_grades_out_of_order(library: Library) -> Iterator[Problem]:
    """Grades must stand from mild to bad, beginning with I, or be the one grade 'any'."""
    for document in list_protocols(library):
        number = find_first_odd_grade(document.value)
        if number is not None:
            message = f"grade {document.value.grades[number].id} must not stand here"
            hint = "Write I, II, III, IV in this order, or only 'any'."
            yield document.problem(("grades", number, "id"), message, hint)


def find_missing_timelines(library: Library) -> Iterator[Problem]:
    """Every grade that no surgeon treats must have its typical times, and a stop protocol must have none."""
    for document in list_protocols(library):
        given = [timeline.grade for timeline in document.value.timelines]
        if must_stop(library, document.value):
            if given:
                message = "a stop protocol must promise no times"
                yield document.problem(("timelines",), message, "Write [] here and the published times into facts.")
            continue
        for grade in document.value.grades:
            if grade.treated_by != "surgeon" and grade.id not in given and find_first_odd_grade(document.value) is None:
                yield document.problem(("timelines",), f"grade {grade.id} must have its typical times here")


def find_help_out_of_order(library: Library) -> Iterator[Problem]:
    """Under see_somebody the most urgent must stand first."""
    for document in list_conditions(library):
        seeks = document.value.see_somebody
        for number, (before, after) in enumerate(pairwise(seeks), start=1):
            if URGENCIES.index(after.urgency) < URGENCIES.index(before.urgency):
                message = f"'{after.urgency}' must stand before '{before.urgency}'"
                yield document.problem(("see_somebody", number, "urgency"), message, "Move this entry up.")
