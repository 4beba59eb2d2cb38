"""No case that the desk's form can make is told what contradicts itself or is not meant for it."""

from __future__ import annotations

import os
from functools import cache

import pytest
from for_each import for_each
from site_under_test import whole_library

from sweep.cases import TODAY, Chosen, count_cases, list_dimensions, list_more_dimensions, list_pairs, make_case
from sweep.detectors import DETECTORS
from sweep.pairs import cover_pairs
from sweep.run import Tally, sweep, sweep_all, take_sample, write_report
from sweep.sayings import SAYINGS

pytestmark = pytest.mark.rest

LIBRARY = whole_library()
SAMPLE = 220
"""So many cases take a few seconds."""
UNSAID = {
    *("a dose of a drug", "a draft", "called general", "early or late", "for the clinician"),
    *("alone", "long gone", "not under 18", "may stay out", "some climbing", "this finger"),
    *("a date as planned", "a finger as planned", "no dates", "counted from", "a ring told", "ring told", "no splint"),
    *("if the bone still grows", "if the cause was", "if the end joint", "if torn"),
}
"""Sayings that no person's sheet holds: what nobody may be told, and what general sheets leave open."""


@cache
def pairs() -> tuple[Chosen, ...]:
    return tuple(list_pairs(LIBRARY))


@cache
def sampled() -> Tally:
    return sweep(LIBRARY, take_sample(pairs(), SAMPLE))


def say_found(tally: Tally, name: str) -> str:
    told = [
        f"{times} x {text}\n    {tally.examples[name, text][0]}" for text, times in tally.texts[name].most_common(5)
    ]
    return "\n".join([f"{tally.cases[name]} cases: {DETECTORS[name].__doc__}", *told])


@for_each("name", list(DETECTORS))
def test_no_sheet_of_a_sample_is_caught(name: str) -> None:
    tally = sampled()
    assert not tally.cases[name], say_found(tally, name)


def test_no_detector_looks_for_words_that_are_said_otherwise_by_now() -> None:
    """A pattern that no sheet meets would let its detector pass everything."""
    assert set(SAYINGS) - sampled().met == UNSAID


def test_the_sample_meets_every_protocol_and_both_kinds_of_sheets() -> None:
    tally = sampled()
    assert {c.protocol.id for c in take_sample(pairs(), SAMPLE)} == {d.value.id for d in LIBRARY.protocols}
    assert 100 < tally.planned <= SAMPLE
    assert 20 < tally.held < tally.planned


@pytest.mark.sweep
def test_no_sheet_of_any_case_is_caught() -> None:
    tally = sweep_all(LIBRARY, os.cpu_count() or 1)
    assert tally.planned + sum(tally.refused.values()) >= sum(count_cases(LIBRARY).values())
    assert not tally.cases, write_report(LIBRARY, tally)


# ------------------------------------------------------------------ what is swept


def test_the_pairs_cover_every_two_values_that_can_stand_together() -> None:
    dimensions = {"a": range(5), "b": "xyz", "c": (True, False), "d": range(3)}
    rows = cover_pairs(dimensions, lambda row: not (row["a"] == 4 and row["b"] == "z"))
    met = {((n, r[n]), (m, r[m])) for r in rows for n in r for m in r if n != m}
    wanted = {
        ((n, v), (m, w)) for n in dimensions for m in dimensions if n != m for v in dimensions[n] for w in dimensions[m]
    }
    assert wanted - met == {(("a", 4), ("b", "z")), (("b", "z"), ("a", 4))}
    assert 15 <= len(rows) <= 25
    assert rows == cover_pairs(dimensions, lambda row: not (row["a"] == 4 and row["b"] == "z"))


def test_every_stage_grade_place_finger_and_side_is_swept() -> None:
    for document in LIBRARY.protocols:
        protocol, dimensions = document.value, list_dimensions(document.value)
        assert {g for g, _ in dimensions["step"]} == {g.id for g in protocol.grades}
        assert {s for _, s in dimensions["step"]} == {s.id for s in protocol.stages}
        assert set(dimensions["place"]) == set(protocol.places)
        assert set(dimensions["finger"]) == set(protocol.fingers)
        assert (None in dimensions["side"]) != protocol.needs_side
        assert dimensions.keys() < list_more_dimensions(protocol).keys()


def test_the_days_of_a_case_can_have_been() -> None:
    for chosen in pairs():
        case = make_case(LIBRARY, chosen)
        days = [case.anchor.date, *(b.date for b in case.began), TODAY.isoformat()]
        assert days == sorted(days)
        assert not case.began or case.began[-1].stage == case.stage
