"""What every set of sheets must hold: whose it is, when to get help and under which number, and one answer to each."""

from __future__ import annotations

from collections.abc import Iterator

from sweep.leaves import BACK, FRONT, SIDES
from sweep.sayings import saying
from sweep.sheets import Told

saying("an emergency", r"\bemergency\b")
saying("a local number", r"\byour local emergency number\b")
saying("no test yet", r"\bno test in this grip yet\b|\bhas not been tested in this grip\b")


def find_sheets_without_a_person(told: Told) -> Iterator[str]:
    """Every sheet must say whose it is: loose sheets get mixed up."""
    case = told.facts.case
    for sheet in told.handout.sheets:
        lines = [
            line.text for line in told.lines if line.sheet == sheet.number + SIDES and line.section == "under-title"
        ]
        if not any(case.reference in line for line in lines):
            yield f"sheet {sheet.number}: {sheet.title}"
    for side in (FRONT, BACK) if told.leaf else ():
        if not any(case.reference in line.text for line in told.section("under-title") if line.sheet == side):
            yield f"side {side} of the leaf"


def find_a_first_sheet_without_help(told: Told) -> Iterator[str]:
    """The front of the leaf must say what is an emergency and what to do then."""
    front = [line for line in told.lines if line.sheet == FRONT]
    if not any(line.section == "help" and "emergency" in line.text.lower() for line in front):
        yield "the front of the leaf"


def find_another_emergency_number(told: Told) -> Iterator[str]:
    """Where the clinic gives an emergency number, no sheet may leave the reader to know one, or name another."""
    clinic = told.facts.case.clinic
    number = clinic.emergency_number if clinic else None
    if number:
        yield from (s for _, s in told.says("a local number"))
        for _, sentence in told.says("an emergency"):
            if "call " in sentence.lower() and " or go " in sentence and number not in sentence:
                yield sentence


def find_tests_that_one_sheet_denies(told: Told) -> Iterator[str]:
    """No exercise may say that its grip was never tested when a test of that grip stands on the sheets."""
    names = {g.id: g.name for g in told.facts.library.vocabularies.grips}
    tested = {line.text.partition(",")[0] for line in told.section("strength") if line.kind == "cell"}
    for line, sentence in told.says("no test yet"):
        grip = names.get(told.trained_grip(line.section))
        if grip in tested and "no test" in sentence:
            yield f"{line.section}: {sentence} Tested: {grip}"


def find_tape_on_the_coach_sheet_of_somebody_allergic(told: Told) -> Iterator[str]:
    """A coach must not read that somebody who reacts to tape is taped."""
    if told.facts.case.tape_allergy:
        yield from (line.text for line in told.coach_lines if "taped" in line.text or " tape" in line.text.lower())
