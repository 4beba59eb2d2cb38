"""What the rules take for a figure, a mark, a dose of a drug, a sentence and a hard text."""

from __future__ import annotations

import pytest

from fingerpost.checks.base import marks, walk
from fingerpost.checks.texts import reading, safety
from fingerpost.model.library import Library
from fingerpost.plan.base import prose


@pytest.mark.parametrize(
    "sentence",
    [
        "It took 5 weeks.",
        "It took five weeks.",
        "Wait one to two weeks.",
        "Wait two or three days.",
        "Rest for half an hour.",
        "Do it on two short sessions a week.",
        "About 2.7 % of all.",
        "Pain of 2/10 is fine.",
        "The gap was ½ mm.",
        "The year was 2003.",
        "The A2 pulley carried 287 N.",
        "Under 18, wait 3 days.",
        "A twelve-month plan, or a two-week one.",
    ],
)
def test_a_figure(sentence: str) -> None:
    assert marks.holds_a_figure(sentence)


@pytest.mark.parametrize(
    "sentence",
    [
        "The A2 pulley lies at the base.",
        "They are called A1 to A5.",
        "Go back to stage 3.",
        "Stages 2 and 3 are for this.",
        "The ICD-10 code is S63.6.",
        "You are under 18.",
        "Use two fingers.",
        "Change one thing a week.",
        "Grades II and III are tears.",
        "It began [lutter-2018].",
        "Some day it went.",
        "See doi 10.1055/s-0042-1749420",
    ],
)
def test_no_figure(sentence: str) -> None:
    assert not marks.holds_a_figure(sentence)


@pytest.mark.parametrize("text", ["lutter-2018", "lutter-2018 recalled", "common-practice", "own", "text-bites full"])
def test_a_mark(text: str) -> None:
    mark = marks.read_mark(text)
    assert mark is not None
    assert f"{mark.name} {mark.seen}".strip() == text
    assert prose.MARK.fullmatch(f"[{text}]"), "the rules and the pages must read marks alike"


@pytest.mark.parametrize("text", ["Lutter 2018", "lutter-2018, orth-2023", "lutter-2018 read", "", "1", "lutter_2018"])
def test_no_mark(text: str) -> None:
    assert (marks.read_mark(text) is None) == (prose.MARK.fullmatch(f"[{text}]") is None)


@pytest.mark.parametrize(
    "text",
    [
        "Take 400 mg.",
        "Take 400mg of it.",
        "Two tablets are enough.",
        "A painkiller three times a day helps.",
        "Ibuprofen every 8 hours.",
        "Rub in 5 ml.",
        "Use a cortisone cream daily.",
        "Paracetamol, 1 g at night.",
    ],
)
def test_a_dose_of_a_drug(text: str) -> None:
    assert safety.find_doses(text)


@pytest.mark.parametrize(
    "text",
    [
        "Bend the finger three times a day.",
        "Painkillers hide the signal you need. Move it four times a day.",
        "Ask a pharmacist which painkiller suits you.",
        "Cool it for 20 minutes.",
        "Pull 5 kg on an edge of 20 mm.",
        "A steroid shot can weaken a pulley.",
    ],
)
def test_no_dose_of_a_drug(text: str) -> None:
    assert not safety.find_doses(text)


@pytest.mark.parametrize(
    ("word", "syllables"),
    [("pulley", 2), ("little", 2), ("healed", 1), ("rested", 2), ("use", 1), ("ligament", 3), ("be", 1), ("PIP", 1)],
)
def test_syllables(word: str, syllables: int) -> None:
    assert reading.count_syllables(word) == syllables


def test_school_grades() -> None:
    assert reading.grade_text("") == 0
    assert reading.grade_text("The cat sat on the mat.") == pytest.approx(0.39 * 6 + 11.8 - 15.59, abs=0.01)
    hard = "Physiological remodelling necessitates graduated rehabilitation and individualised supervision."
    assert reading.grade_text(hard) > 20


def test_nothing_that_readers_see_is_passed_over(library: Library) -> None:
    """The walk comes to every kind of text: leaves out ids, labels and citations, and no more."""
    leaves = list(walk.walk_sentences_about_hands(library))
    seen = {(leaf.owner.__name__, leaf.field) for leaf in leaves}
    assert len(leaves) > 2500
    for wanted in [
        ("Protocol", "summary"), ("Protocol", "cautions"), ("Stage", "climbing"), ("GripLimit", "when"),
        ("Grade", "imaging"), ("Fact", "says"), ("Seek", "when"), ("Referral", "until_then"), ("Test", "how"),
        ("Taping", "evidence"), ("Exercise", "steps"), ("Gate", "how_to_check"), ("WarningSign", "do"),
        ("Term", "more"), ("Grip", "plain"), ("Structure", "plain"), ("Code", "fits"), ("LookAlike", "why_it_matters"),
    ]:  # fmt: skip
        assert wanted in seen
    assert not {("Source", "full"), ("Phrase", "says"), ("Status", "funding")} & seen


def test_a_walk_is_remembered_for_the_same_document_alone(library: Library) -> None:
    first, second = library.protocols[:2]
    assert walk.walk_texts(first) is walk.walk_texts(first)
    assert walk.walk_texts(first)[0].text != walk.walk_texts(second)[0].text
