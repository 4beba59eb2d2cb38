"""Red flags: each warning sign is a choice that opens one full answer, on the home page and on the paper key."""

from __future__ import annotations

import dataclasses
import re
from functools import cache
from pathlib import Path

import pytest

from fingerpost.model.audience import MARK, flat
from fingerpost.model.case import ClinicSettings
from fingerpost.model.library import Library
from fingerpost.model.words import split_sentences
from fingerpost.plan.base.blocks import Finder, Flags, Page, RedFlag
from fingerpost.plan.base.parts import short_sign
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, plain
from fingerpost.plan.pages.site import plan_home
from fingerpost.plan.pages.way_in import dial
from fingerpost.plan.walls.paper_key import plan_key
from fingerpost.read.library import read_library

PROJECT = Path(__file__).resolve().parents[2]


@cache
def shipped() -> Library:
    return read_library(PROJECT / "protocols")[0]


@cache
def home(own: bool = False) -> Page:
    """The home page; `own`: of a clinic that has filled in its emergency number."""
    clinic = ClinicSettings(emergency_number="112") if own else ClinicSettings()
    return plan_home(Writer(dataclasses.replace(shipped(), clinic=clinic)))


def bare(words: Words) -> str:
    """The words without their marks."""
    return re.sub(r"\s*\[\w+\]", "", plain(words))


def flags_of(own: bool = False) -> dict[str, RedFlag]:
    """Every red flag of the home page, by the id of its warning sign."""
    blocks = (b for s in home(own).sections for b in s.blocks if isinstance(b, Flags))
    return {flag.id.removeprefix("flag-"): flag for b in blocks for group in b.groups for flag in group.flags}


def test_every_warning_sign_opens_one_full_answer() -> None:
    """Nothing that the sign says is lost: where and how soon, what to do until then, the sign and why."""
    found = flags_of()
    assert list(found) == [w.id for w in shipped().vocabularies.warning_signs]
    for warning in shipped().vocabularies.warning_signs:
        flag = found[warning.id]
        told = " ".join(bare(words) for words in (flag.order, *flag.steps))
        for sentence in split_sentences(MARK.sub("", flat(warning.do))):
            assert " ".join(sentence.split()) in told, warning.id
        assert plain(flag.order).startswith(("Go to an emergency", "See a doctor", "No hurry")), warning.id
        assert flag.choice == warning.choice
        assert len(flag.choice) <= 60, "it has to be read at a glance"


def test_only_an_emergency_has_a_number_to_call() -> None:
    for own, number, call in ((False, "", "Or call your local emergency number"), (True, "112", "Or call 112")):
        told = {id: (flag.call, flag.number) for id, flag in flags_of(own).items()}
        urgencies = {w.id: w.urgency for w in shipped().vocabularies.warning_signs}
        assert told == {id: (call, number) if u == "emergency" else ("", "") for id, u in urgencies.items()}


@pytest.mark.parametrize(
    ("number", "dialled"),
    [("999", "999"), ("0800 111-222", "0800111222"), ("+44 20 1", "+44201"), ("ask at the desk", ""), ("", "")],
)
def test_a_telephone_dials_figures_alone(number: str, dialled: str) -> None:
    assert dial(number) == dialled


def test_the_paper_key_ends_at_a_red_flag_too() -> None:
    boxes = plan_key(Writer(shipped()), "A4").warnings
    assert all(box.title.endswith("and the questions end.") for box in boxes)
    urgent = [w for w in shipped().vocabularies.warning_signs if w.urgency in ("emergency", "same-day")]
    assert [plain(line) for box in boxes for line in box.lines[1:]] == [short_sign(w) for w in urgent]


def test_an_answer_that_is_a_warning_sign_leads_to_its_flag() -> None:
    finder = next(b for s in home().sections for b in s.blocks if isinstance(b, Finder))
    assert {help_.flag.removeprefix("flag-"): set(help_.signs) for help_ in finder.helps} == {
        w.id: set(w.signs) for w in shipped().vocabularies.warning_signs if w.signs
    }
    urgent = [help_.urgent for help_ in finder.helps]
    assert urgent == sorted(urgent, reverse=True), "the most urgent first"
