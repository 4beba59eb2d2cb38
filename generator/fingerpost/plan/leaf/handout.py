"""One person's handout: the leaf, and what a clinician encloses with it."""

from __future__ import annotations

import hashlib
from datetime import date

from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.plan.base.checked import checked_head
from fingerpost.plan.base.paper import Handout
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.case.situation import Situation, read_situation
from fingerpost.plan.leaf.kinds import plan_leaf
from fingerpost.plan.leaf.words import explain_together
from fingerpost.plan.person.enclosures import plan_enclosures
from fingerpost.plan.person.sheet_parts import shell
from fingerpost.reckon.visits import find_check


def name_file(case: Case, version: str) -> str:
    """A file name that tells the protocol and nothing about the person.

    The ending tells two cases apart: the first ten hexadecimal digits of a SHA-256 of the case.
    """
    return f"{case.protocol}_v{version}_{hashlib.sha256(repr(case).encode()).hexdigest()[:10]}"


def _writer(situation: Situation) -> Writer:
    clinic = situation.case.clinic
    return Writer(situation.library, clinic.emergency_number if clinic else None)


def plan_handout(library: Library, case: Case, today: date) -> Handout:
    """The leaf and its enclosures for a case that `find_case_findings` has nothing against.

    Leaf and enclosures number their sources each for itself, because they are read apart.
    """
    situation = read_situation(case, library, today)
    writer = _writer(situation)
    leaf = plan_leaf(_writer(situation), situation)
    sheets = explain_together(writer, (leaf,), plan_enclosures(writer, situation))
    return shell(
        writer,
        situation.protocol,
        name_file(case, situation.protocol.status.version),
        case.paper,
        case.print_size,
        sheets,
        checked_head(writer, case),
        unchecked=find_check(case) is None,
        leaves=(leaf,),
    )
