"""A test over many like cases tries every one of them, and names each that fails."""

from __future__ import annotations

import pytest
from for_each import for_each


def test_every_case_that_fails_is_named() -> None:
    @for_each("number", range(6))
    def check(number: int) -> None:
        assert number % 2, f"{number} is even"

    with pytest.raises(AssertionError) as raised:
        check()
    told = str(raised.value).splitlines()
    assert told[0] == "3 of 6 fail"
    assert [line[0] for line in told if "is even" in line] == ["0", "2", "4"]


def test_a_crash_is_no_finding_and_says_with_which_case() -> None:
    @for_each("number, word", {"good": (1, "one"), "bad": (0, "none")})
    def check(number: int, word: str) -> None:
        assert 1 / number, word

    with pytest.raises(ZeroDivisionError) as raised:
        check()
    assert raised.value.__notes__ == ["with bad"]


def test_no_cases_are_no_test() -> None:
    with pytest.raises(AssertionError, match="no case"):
        for_each("number", [])


@for_each("number", (1, 2))
def test_fixtures_come_as_usual(number: int, request: pytest.FixtureRequest) -> None:
    assert request.node.name == "test_fixtures_come_as_usual"
    assert number
