"""What separates two conditions, and the order of questions: the telling one first, few, and nobody is lost."""

from __future__ import annotations

import dataclasses
from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingerpost.model.protocol import SignFit
from fingerpost.reckon.telling import (
    Fits,
    KeyStep,
    Separator,
    SignQuestion,
    Standing,
    describe_sign,
    find_inseparable,
    list_standings,
    make_key,
    order_questions,
    separate,
    table_signs,
)

FITS: Fits = {
    "pulley": {
        "sudden": "usual",
        "crimp": "usual",
        "pop": "sometimes",
        "gradual": "does-not-fit",
        "side": "does-not-fit",
    },
    "sheath": {"gradual": "usual", "warm-up": "usual", "sudden": "does-not-fit", "pop": "does-not-fit"},
    "sprain": {"sudden": "usual", "side": "usual", "gradual": "does-not-fit"},
}


def test_table_from_protocols() -> None:
    signs = SignFit(usual=("a", "b"), sometimes=("c",), does_not_fit=("d",))
    assert table_signs({"x": signs}) == {"x": {"a": "usual", "b": "usual", "c": "sometimes", "d": "does-not-fit"}}


def test_what_separates_a_pair() -> None:
    pair = separate(FITS, "pulley", "sheath")
    assert pair.separators == (
        Separator("sudden", "pulley", "apart"),
        Separator("gradual", "sheath", "apart"),
        Separator("pop", "pulley", "partly"),
        Separator("crimp", "pulley", "hint"),
        Separator("warm-up", "sheath", "hint"),
    )


def test_hints_alone_do_not_separate() -> None:
    fits: Fits = {"a": {"x": "usual"}, "b": {"y": "usual"}}
    assert find_inseparable(fits) == (("a", "b"),)
    assert [separator.strength for separator in separate(fits, "a", "b").separators] == ["hint", "hint"]
    assert not find_inseparable(FITS)


def test_a_standing_lists_both_ways_and_does_not_rank() -> None:
    found = list_standings(FITS, there={"sudden", "pop"}, not_there={"side"})
    assert found == (
        Standing("pulley", fits=("sudden", "pop"), against=(), missing=()),
        Standing("sheath", fits=(), against=("sudden", "pop"), missing=()),
        Standing("sprain", fits=("sudden",), against=(), missing=("side",)),
    )


def test_a_sign_says_what_it_speaks_for() -> None:
    assert describe_sign(FITS, "pop") == SignQuestion("pop", (), ("pulley",), ("sheath",))


def test_the_first_question_tells_most() -> None:
    questions = [question.sign for question in order_questions(FITS)]
    assert questions[0] in {"gradual", "sudden"}
    assert "side" in questions[:3]
    assert len(questions) == len(set(questions))


def test_a_question_that_says_the_same_again_waits() -> None:
    fits: Fits = {
        "a": {"x": "usual", "x-again": "usual", "y": "usual"},
        "b": {"x": "usual", "x-again": "usual", "y": "does-not-fit"},
        "c": {"x": "does-not-fit", "x-again": "does-not-fit", "y": "usual"},
        "d": {"x": "does-not-fit", "x-again": "does-not-fit", "y": "does-not-fit"},
    }
    assert [question.sign for question in order_questions(fits)] == ["x", "y", "x-again"]


def test_no_question_where_nothing_can_be_told() -> None:
    assert order_questions({}) == ()
    assert order_questions({"a": {"x": "usual"}}) == ()
    assert order_questions({"a": {"x": "usual"}, "b": {"x": "usual"}}) == ()


def test_never_more_than_eight_questions() -> None:
    fits: Fits = {f"c{n}": {f"s{n}": "usual"} for n in range(12)}
    assert len(order_questions(fits, 99)) <= 8
    assert len(order_questions(fits, 3)) == 3


def test_nothing_public_is_a_probability() -> None:
    for kind in (SignQuestion, Standing, Separator, KeyStep):
        assert not [field.name for field in dataclasses.fields(kind) if "float" in str(field.type)]


def test_a_paper_key() -> None:
    steps = make_key(FITS)
    assert [step.number for step in steps] == list(range(1, len(steps) + 1))
    first = steps[0]
    assert first.sign in {"sudden", "gradual"}
    ends = {condition for step in steps for condition in (*step.yes_ends, *step.no_ends)}
    assert ends == set(FITS)
    assert ("pulley",) in [step.no_ends for step in steps] + [step.yes_ends for step in steps]


def test_no_key_where_nothing_separates() -> None:
    assert make_key({"a": {"x": "usual"}, "b": {"x": "usual"}}) == ()
    assert make_key({}) == ()


SIGNS = ["s0", "s1", "s2", "s3", "s4"]
MARKS = st.sampled_from(["usual", "sometimes", "does-not-fit"])
TABLES = st.dictionaries(st.sampled_from("abcdef"), st.dictionaries(st.sampled_from(SIGNS), MARKS), max_size=5)


@given(TABLES)
def test_separation_is_the_same_both_ways(fits: Fits) -> None:
    for first, second in combinations(fits, 2):
        one, other = separate(fits, first, second), separate(fits, second, first)
        assert set(one.separators) == set(other.separators)
        only_hints = all(separator.strength == "hint" for separator in one.separators)
        assert ((first, second) in find_inseparable(fits)) == only_hints


@given(TABLES)
def test_renaming_conditions_does_not_change_the_questions(fits: Fits) -> None:
    renamed = {f"new-{condition}": marks for condition, marks in fits.items()}
    assert [q.sign for q in order_questions(renamed)] == [q.sign for q in order_questions(fits)]


@given(TABLES)
def test_a_key_always_ends_and_loses_nobody(fits: Fits) -> None:
    steps = {step.number: step for step in make_key(fits)}
    reached: set[str] = set()
    todo, seen = [1] if steps else [], set[int]()
    while todo:
        step = steps[todo.pop()]
        assert step.number not in seen
        seen.add(step.number)
        for onward, ends in ((step.yes_step, step.yes_ends), (step.no_step, step.no_ends)):
            assert (onward is None) is bool(ends)
            reached.update(ends)
            todo += [onward] if onward else []
    assert seen == set(steps)
    assert not steps or reached == set(fits)


@pytest.mark.parametrize("deep", [1, 2])
def test_a_key_is_no_deeper_than_asked(deep: int) -> None:
    assert len(make_key(FITS, deep)) <= 2**deep - 1
