"""One finding: how it prints, sorts and suggests."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingerpost.problems import ContentError, Place, Problem, count_problems, suggest, write_path


@pytest.mark.parametrize(
    ("place", "printed"),
    [
        (Place("a.yml"), "a.yml"),
        (Place("a.yml", 3), "a.yml:3"),
        (Place("a.yml", 3, "stages[2].gate"), "a.yml:3: stages[2].gate"),
        (Place("a.yml", 0, "id"), "a.yml: id"),
    ],
)
def test_a_place_prints_as_editors_read_it(place: Place, printed: str) -> None:
    assert str(place) == printed


def test_a_hint_stands_indented_below() -> None:
    assert str(Problem(Place("a.yml", 3), "must be text")) == "a.yml:3: must be text"
    assert str(Problem(Place("a.yml", 3), "must be text", "Put it in quotes.")) == (
        "a.yml:3: must be text\n    Put it in quotes."
    )


def test_an_error_carries_each_finding_once_in_file_order() -> None:
    late, early = Problem(Place("b.yml", 1), "x"), Problem(Place("a.yml", 20), "x")
    first = Problem(Place("a.yml", 3), "x")
    error = ContentError([late, early, first, late])
    assert error.problems == (first, early, late)
    assert str(error) == "3 problems"


@pytest.mark.parametrize(("number", "words"), [(0, "no problems"), (1, "1 problem"), (2, "2 problems")])
def test_counting(number: int, words: str) -> None:
    assert count_problems(Problem(Place("a.yml"), str(n)) for n in range(number)) == words


def test_the_nearest_right_answer_is_offered() -> None:
    assert suggest("full-fits", ["full-fist", "full-straight"]) == "Did you mean 'full-fist'?"
    assert suggest("jug", ["full-fist", "full-straight"]) == ""
    assert suggest("jug", []) == ""


@pytest.mark.parametrize(
    ("path", "written"),
    [(("id",), "id"), (("stages", 2, "gate"), "stages[2].gate"), ((3, "says"), "[3].says"), ((1, 2), "[1][2]")],
)
def test_a_path_is_written_as_a_reader_says_it(path: tuple[str | int, ...], written: str) -> None:
    assert write_path(path) == written


@given(st.lists(st.one_of(st.text("abc_", min_size=1), st.integers(0, 99)), max_size=6))
def test_any_path_can_be_written(path: list[str | int]) -> None:
    written = write_path(path)
    assert written.count("[") == sum(isinstance(step, int) for step in path)
    assert not written.startswith(".")
