"""A collection and a case whose every text is hostile, its harmless twin, and all that is made from them."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import get_args
from unittest.mock import patch

from jinja2 import Environment

from fingerpost.make import display_html, pdf, posters_html
from fingerpost.make.handout_html import write_html
from fingerpost.make.leaf.settings import SIZES_MM
from fingerpost.make.templates import make_environment
from fingerpost.model.case import Case, ClinicSettings, EnclosureName
from fingerpost.model.library import Library
from fingerpost.model.protocol import Change, Protocol
from fingerpost.model.shared import Retired
from fingerpost.model.times import Day
from fingerpost.plan.base.paper import Handout
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.general import plan_general_handout, plan_referral_handout
from fingerpost.plan.person.coach import plan_coach_sheet
from fingerpost.plan.walls.display import plan_display
from fingerpost.plan.walls.notices import plan_notices
from fingerpost.plan.walls.paper_key import plan_key
from fingerpost.read.library import read_case, read_library
from hostile.payloads import FAMILIES, mark, tame
from hostile.planting import plant_in, plant_in_library

PROJECT = Path(__file__).resolve().parents[2]
TODAY = date(2026, 11, 25)
CASE = PROJECT / "tests" / "golden" / "cases" / "pulley-left-ring.yml"


@dataclass
class Planted:
    """A planted collection, the field behind each number, and the payload that was planted there."""

    library: Library
    fields: dict[int, str]
    payloads: dict[int, str]


@cache
def full_library() -> Library:
    """The shipped collection with something in each field that is still empty there."""
    library, problems = read_library(PROJECT / "protocols")
    assert not problems
    words = library.vocabularies
    terms = tuple(dataclasses.replace(term, also_called=("word",)) for term in words.terms)
    retired = (Retired(id="old-name", now="pulley", since="0.1.0", reason="Renamed."),)
    protocols = tuple(dataclasses.replace(d, value=_fill(d.value)) for d in library.protocols)
    return dataclasses.replace(
        library,
        protocols=protocols,
        vocabularies=dataclasses.replace(words, terms=terms, retired=retired),
        clinic=ClinicSettings(name="Gym", emergency_number="112", site_address="https://example.org/fingers/"),
    )


def _fill(protocol: Protocol) -> Protocol:
    status = dataclasses.replace(protocol.status, state="approved", reviewer_role="Doctor", reviewed=Day("2026-11-01"))
    change = Change(version=status.version, date=Day("2026-11-02"), what="A word.", reason="It was hard to read.")
    return dataclasses.replace(protocol, status=status, changes=(change,))


class Planter:
    """Gives each text a number and a payload of its own. `turn`: which kind of payload comes first."""

    def __init__(self, hostile: bool, turn: int) -> None:
        self.hostile, self.turn = hostile, turn
        self.fields: dict[int, str] = {}
        self.payloads: dict[int, str] = {}

    def plant(self, field: str, old: str) -> str:
        number = len(self.fields)
        payload = FAMILIES[(number + self.turn) % len(FAMILIES)]
        self.fields[number], self.payloads[number] = field, " ".join(payload.split())
        text = mark(number, payload if self.hostile else tame(payload))
        if field == "Phrase.says":  # a phrase has gaps in curly brackets: a bracket that is none is written twice
            text = text.replace("{", "{{").replace("}", "}}")
        return f"{old} {text}"


@cache
def plant_library(hostile: bool, turn: int = 0) -> Planted:
    planter = Planter(hostile, turn)
    library = plant_in_library(full_library(), planter.plant)
    return Planted(library, planter.fields, planter.payloads)


@cache
def demo_case() -> Case:
    document, problems = read_case(CASE, CASE.name)
    assert document, problems
    return document.value


def plant_case(hostile: bool, turn: int = 0) -> tuple[Case, dict[int, str]]:
    """A case with a text of its own in each field, and the payload behind each number."""
    planter = Planter(hostile, turn)
    return plant_in(demo_case(), planter.plant), planter.payloads


@cache
def templates() -> dict[str, str]:
    return dict(pdf.read_templates(PROJECT / "templates"))


def spoil(name: str, old: str, new: str) -> Environment:
    """The project's templates with a hole in one of them."""
    assert old in templates()[name]
    return make_environment({**templates(), name: templates()[name].replace(old, new)})


@cache
def sound() -> Environment:
    return make_environment(templates())


def run_on(handout: Handout) -> Handout:
    """In large print, which runs on: a leaf of two sides refuses what is too long."""
    return replace(handout, print_size=18)


def set_small(environment: Environment, handout: Handout) -> str:
    """In print of 12 points, on paper so large that whatever stands on a leaf has room on one line."""
    with patch.dict(SIZES_MM, {"A4": (9_000.0, 20_000.0)}):
        return write_html(environment, handout)


def take_all(case: Case) -> Case:
    """With every sheet that can be enclosed."""
    return replace(case, enclose=get_args(EnclosureName))


Maker = Callable[[Library, Case, Environment], str]
MADE: dict[str, Maker] = {
    "general sheets": lambda lib, _, env: write_html(env, run_on(plan_general_handout(lib, "pulley", "A4"))),
    "referral leaf": lambda lib, _, env: write_html(
        env, run_on(plan_referral_handout(lib, lib.referrals[0].value, "A4"))
    ),
    "handout": lambda lib, case, env: write_html(env, run_on(plan_handout(lib, take_all(case), TODAY))),
    "small general leaf": lambda lib, _, env: set_small(env, plan_general_handout(lib, "pulley", "A4")),
    "small referral leaf": lambda lib, _, env: set_small(env, plan_referral_handout(lib, lib.referrals[0].value, "A4")),
    "small leaf": lambda lib, case, env: set_small(env, plan_handout(lib, case, TODAY)),
    "coach sheet": lambda lib, case, env: posters_html.write_coach_sheet(env, plan_coach_sheet(lib, case, TODAY)),
    "notice": lambda lib, _, env: posters_html.write_notice(env, plan_notices(lib, "pulley")[0]),
    "first notice": lambda lib, _, env: posters_html.write_notice(env, plan_notices(lib, "start")[0]),
    "key": lambda lib, _, env: posters_html.write_key(env, plan_key(Writer(lib), "A4")),
    "display": lambda lib, _, env: display_html.write_display(env, plan_display(lib), PROJECT),
}
"""Everything that is printed or shown on a screen of its own, and how its HTML is made."""
ONLY_ON_LEAVES = {
    "Exercise.brief", "Exercise.cue", "Gate.brief", "Grade.brief", "GripLimit.brief", "Stage.brief",
    "Stage.daily_brief", "TapeStep.brief", "Taping.brief", "Taping.wear",
}  # fmt: skip
"""What is said on paper in fewer words than on a page of the site."""
