"""Safety: what no protocol may do. No finding of these rules can be tolerated."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from fingerpost.checks.base.walk import list_entries, list_kinds, list_protocols, must_stop, walk_all_prose
from fingerpost.checks.course.grips import list_grips
from fingerpost.checks.course.stages import list_home_grades
from fingerpost.model.audience import flat
from fingerpost.model.library import Library
from fingerpost.model.words import split_sentences
from fingerpost.problems import Problem

MOST_PAIN = 5
MOST_PAIN_TORN = 2
CLEARED = "doctor-cleared"

_COUNT = r"(?:\d+(?:[.,]\d+)?|a|one|two|three|four|five|six|half a)"
_AMOUNT = re.compile(
    rf"\b{_COUNT}\s?(?:mg|mcg|µg|ug|ml|milligram(?:me)?s?|microgram(?:me)?s?|millilit(?:re|er)s?|tablets?|pills?|capsules?|puffs?)\b",
    re.IGNORECASE,
)
_DRUG = re.compile(
    r"\b(?:painkillers?|pain relief|ibuprofen|paracetamol|acetaminophen|aspirin|naproxen|diclofenac|celecoxib|codeine"
    r"|opioids?|nsaids?|anti-inflammator(?:y|ies)|steroids?|cortisone|antibiotics?|medicines?|medication|drugs?|tablets?"
    r"|pills?)\b",
    re.IGNORECASE,
)
_OFTEN = re.compile(
    rf"\b(?:once|twice|{_COUNT} times) (?:a|per|each|every) day\b|\bdaily\b|\bevery {_COUNT} hours?\b|\b\d+\s?g\b"
    rf"|\b{_COUNT} a day\b",
    re.IGNORECASE,
)


@lru_cache(maxsize=20_000)
def find_doses(text: str) -> tuple[str, ...]:
    """What reads like the dose of a drug: an amount of medicine, or how often to take a drug that is named."""
    found = (_AMOUNT.search(s) or (_DRUG.search(s) and _OFTEN.search(s)) for s in split_sentences(text))
    return tuple(match.group() for match in found if match)


def find_pain_above_five(library: Library) -> Iterator[Problem]:
    """A pain limit must lie between 0 and 5 out of 10."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            if not 0 <= stage.pain.most <= MOST_PAIN:
                message = f"a pain limit of {stage.pain.most} must not stand here: 0 to {MOST_PAIN} out of 10"
                yield document.problem(("stages", number, "pain", "most"), message)


def find_pain_where_something_is_torn(library: Library) -> Iterator[Problem]:
    """Where a grade that no surgeon treats has a tear, every pain limit must be 2 out of 10 or less."""
    for document in list_protocols(library):
        home = list_home_grades(document.value)
        torn = [grade.id for grade in document.value.grades if grade.tear and grade.id in home]
        for number, stage in enumerate(document.value.stages):
            if torn and stage.pain.most > MOST_PAIN_TORN:
                message = f"grade {torn[0]} has a tear: at most {MOST_PAIN_TORN} must stand here, not {stage.pain.most}"
                yield document.problem(("stages", number, "pain", "most"), message)


def find_pain_at_a_growth_plate(library: Library) -> Iterator[Problem]:
    """Where a growth plate may be hurt, every pain limit must be 0."""
    for document in list_protocols(library):
        growing = "growth-plate" in list_kinds(library, document.value)
        for number, stage in enumerate(document.value.stages):
            if growing and stage.pain.most != 0:
                message = f"a growth plate must not hurt at all: the pain limit must be 0, not {stage.pain.most}"
                yield document.problem(("stages", number, "pain", "most"), message)


def find_drug_doses(library: Library) -> Iterator[Problem]:
    """No text must give the dose of a drug."""
    for leaf in walk_all_prose(library):
        for dose in find_doses(leaf.text):
            message = f"'{dose}' reads like the dose of a drug, and none must stand here"
            yield leaf.problem(message, "Send readers to a pharmacist or a doctor.")


def find_growing_joints_without_a_stop(library: Library) -> Iterator[Problem]:
    """A protocol about a growth plate, or only for people under 18 with a sore joint, must be a stop protocol."""
    for document in list_protocols(library):
        if must_stop(library, document.value) and not document.value.stop:
            message = "a joint that still grows must be a stop protocol"
            yield document.problem(("stop",), message, "Write stop: true.")


def find_protocols_without_an_under_18_warning(library: Library) -> Iterator[Problem]:
    """Every protocol must name a warning sign for people under 18."""
    young = {sign.id for sign in library.vocabularies.warning_signs if sign.for_.age == "under-18"}
    for document in list_protocols(library):
        if library.read_everything("warning_signs") and not young & {use.sign for use in document.value.warning_signs}:
            near = f"Add {' or '.join(sorted(young))}." if young else "Write one in shared/warning_signs.yml."
            yield document.problem(("warning_signs",), "a warning sign for people under 18 must stand here", near)


def find_under_18_warnings_that_can_wait(library: Library) -> Iterator[Problem]:
    """A warning sign for people under 18 must say stop, name a doctor, and not be routine."""
    for part in list_entries(library, "warning_signs"):
        sign = part.value
        if sign.for_.age != "under-18":
            continue
        for word in ("stop", "doctor"):
            if word not in flat(sign.do).lower():
                yield part.problem(("do",), f"what to do must hold the word '{word}'")
        if sign.urgency == "routine":
            yield part.problem(("urgency",), "this must not wait: within-days or sooner")


def find_home_programmes_for_surgeons(library: Library) -> Iterator[Problem]:
    """A grade that a surgeon treats must have no window, so that no home programme is printed for it."""
    for document in list_protocols(library):
        home = list_home_grades(document.value)
        surgical = [grade.id for grade in document.value.grades if grade.id not in home]
        for number, stage in enumerate(document.value.stages):
            for at, window in enumerate(stage.windows):
                if window.grade in surgical:
                    message = f"a surgeon treats grade {window.grade}, so it must have no window"
                    yield document.problem(("stages", number, "windows", at, "grade"), message, "Take it out.")


def find_windows_in_a_stop_protocol(library: Library) -> Iterator[Problem]:
    """A stop protocol must have no windows."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            if document.value.stop and stage.windows:
                message = "a stop protocol must have no windows"
                yield document.problem(("stages", number, "windows"), message, "Write [].")


def find_loads_in_a_stop_protocol(library: Library) -> Iterator[Problem]:
    """A stop protocol must name no load."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            if document.value.stop and stage.load:
                yield document.problem(("stages", number, "load"), "a stop protocol must name no load", "Write null.")


def find_stops_that_do_not_stop(library: Library) -> Iterator[Problem]:
    """The first stage of a stop protocol must leave every grip and have no exercise."""
    for document in list_protocols(library):
        if not document.value.stop or not document.value.stages:
            continue
        first = document.value.stages[0]
        for grip, rank, path in list_grips(first.grips):
            if rank:
                yield document.problem(("stages", 0, *path), f"'{grip}' must be left while everything is stopped")
        if first.exercises:
            yield document.problem(("stages", 0, "exercises"), "there must be no exercise while everything is stopped")


def find_stops_that_no_doctor_ends(library: Library) -> Iterator[Problem]:
    """Every gate of a stop protocol must ask that a doctor has cleared the finger."""
    for document in list_protocols(library):
        last = len(document.value.stages) - 1
        for number, stage in enumerate(document.value.stages):
            if document.value.stop and number < last and CLEARED not in [use.gate for use in stage.gate]:
                message = f"'{CLEARED}' must stand in this gate: nobody but a doctor ends a stop"
                yield document.problem(("stages", number, "gate"), message)
