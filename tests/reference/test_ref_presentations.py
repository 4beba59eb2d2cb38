"""Textbook presentations bring their own page among the first two, and classic confusions come together.

The vectors stand in presentations.yml, each with its source and how far it was seen.
"""

from __future__ import annotations

from typing import Any, get_args

import pytest
from way_in_oracle import PRESENTATIONS, URGENT, lay_out

from fingerpost.model.library import Library
from fingerpost.model.words import Seen
from fingerpost.plan.base.addresses import pair_address
from fingerpost.plan.base.answers import explain_answers, list_separators
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.pages.telling_pages import plan_apart_pages


def name(vector: dict[str, Any]) -> str:
    return f"{vector['of']}-{vector['there'][-1]}"


def test_there_is_a_presentation_of_every_page(library: Library) -> None:
    assert len(PRESENTATIONS) >= 25
    assert {v["of"] for v in PRESENTATIONS} == {c.id for c in library.conditions}
    assert {v["seen"] for v in PRESENTATIONS} <= set(get_args(Seen))
    assert all(v["source"] for v in PRESENTATIONS)
    known = {sign.id for sign in library.vocabularies.signs} | {"warning"}
    assert {s for v in PRESENTATIONS for s in (*v["there"], *v["absent"])} <= known


@pytest.mark.parametrize("vector", PRESENTATIONS, ids=name)
def test_a_textbook_presentation_brings_its_own_page_among_the_first_two(
    vector: dict[str, Any], library: Library
) -> None:
    found = lay_out(library, vector["there"], vector["absent"])
    assert vector["of"] in found["front"][:2]
    assert len(found["front"]) <= 3


@pytest.mark.parametrize("vector", PRESENTATIONS, ids=name)
def test_nothing_in_a_textbook_presentation_speaks_against_its_own_page(
    vector: dict[str, Any], library: Library
) -> None:
    told = explain_answers(library)[vector["of"]]
    answers = [*vector["there"], *(f"!{sign}" for sign in vector["absent"])]
    assert not [a for a in answers if told.get(a) in ("against", "missing")]
    assert [a for a in answers if told.get(a) == "fits"]


# Mixed up most, by common practice: what is known so far fits both, and the sign that separates them.
CONFUSIONS = [
    ("pulley", "sheath-irritation", ["base-palm-side", "worse-crimping"], {"one-spot-palm-side", "along-the-sheath"}),
    ("collateral-sprain", "volar-plate", ["sudden-onset", "spindle-swelling"], {"sideways-wrench", "bent-back"}),
    ("flexor-strain", "lumbrical-strain", ["pocket-move", "deep-in-palm"], {"eases-when-neighbours-straighten"}),
    ("flexor-strain", "sheath-irritation", ["gradual-onset", "forearm-ache"], {"along-the-sheath"}),
    ("joint-irritation", "finger-osteoarthritis", ["gradual-onset", "short-morning-stiffness"], {"bony-knobs"}),
    ("joint-irritation", "inflammatory-arthritis", ["gradual-onset", "puffy-joint"], {"long-morning-stiffness"}),
    ("dupuytren", "trigger-finger", ["gradual-onset", "base-crease"], {"catching-or-locking", "cord-in-palm"}),
]


@pytest.mark.parametrize(("one", "other", "yes", "separating"), CONFUSIONS)
def test_a_classic_confusion_comes_together_with_what_separates_it(
    one: str, other: str, yes: list[str], separating: set[str], library: Library
) -> None:
    front = lay_out(library, yes, ["warning", "growing"])["front"]
    assert {one, other} <= set(front)
    pairs = list_separators(library)
    signs = pairs.get((one, other)) or pairs[other, one]
    assert separating & {sign for sign, _ in signs}


# The two mistakes that cost most: the care differs, and the page says how.
@pytest.mark.parametrize(("other", "grip"), [("sheath-irritation", "Half crimp"), ("collateral-sprain", "Half crimp")])
def test_the_page_of_a_classic_mistake_says_why_care_differs(other: str, grip: str, library: Library) -> None:
    one, two = library.find_condition("pulley"), library.find_condition(other)
    assert one
    assert two
    (page,) = plan_apart_pages([(Writer(library), one, two)])
    assert page.address == pair_address("pulley", other)
    parts = {section.id: section for section in page.sections}
    assert {"apart-signs", "apart-tests", "apart-why", "apart-grips"} <= set(parts)
    (grips,) = parts["apart-grips"].blocks
    assert grip in [row[0][0].text for row in grips.rows]  # type: ignore[union-attr]


def test_a_hurt_pulley_and_a_sprained_joint_get_their_grips_in_opposite_order(library: Library) -> None:
    """Common practice: open hand before half crimp for a pulley, half crimp first for the sprain."""

    def first_kept(protocol: str, grip: str) -> int:
        stages = next(d.value for d in library.protocols if d.value.id == protocol).stages
        return next(n for n, s in enumerate(stages) if grip in s.grips.keep)

    assert first_kept("pulley", "open-hand") < first_kept("pulley", "half-crimp")
    assert first_kept("collateral-sprain", "half-crimp") < first_kept("collateral-sprain", "open-hand")


def test_an_urgent_presentation_holds_an_urgent_warning(library: Library) -> None:
    """What belongs to an emergency department cannot be told without meeting a warning sign."""
    urgent = {s for w in library.vocabularies.warning_signs if w.urgency in URGENT for s in w.signs}
    for vector in PRESENTATIONS:
        if vector["of"] in (
            "sheath-infection",
            "fracture-dislocation",
            "tendon-avulsion",
            "mallet-finger",
            "central-slip",
        ):
            assert urgent & set(vector["there"])
