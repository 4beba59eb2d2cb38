"""Calendar sums against dateutil's relativedelta, and days that anyone can look up."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from fingerpost.model.times import Span, Unit, add_span

UNITS: tuple[Unit, ...] = ("days", "weeks", "months")


@given(
    st.dates(date(1900, 1, 1), date(2400, 12, 31)),
    st.integers(0, 600),
    st.sampled_from(UNITS),
)
def test_same_as_relativedelta(day: date, count: int, unit: Unit) -> None:
    assert add_span(day, Span(count, unit)) == day + relativedelta(**{unit: count})


def test_every_day_of_a_leap_year_and_the_next() -> None:
    for number in range(731):
        day = date(2028, 1, 1) + timedelta(number)
        for months in (1, 2, 3, 6, 12):
            assert add_span(day, Span(months, "months")) == day + relativedelta(months=months)


@pytest.mark.parametrize(
    ("day", "span", "expected"),
    [
        (date(2026, 1, 31), Span(1, "months"), date(2026, 2, 28)),
        (date(2028, 1, 31), Span(1, "months"), date(2028, 2, 29)),
        (date(2028, 2, 29), Span(12, "months"), date(2029, 2, 28)),
        (date(2026, 11, 30), Span(3, "months"), date(2027, 2, 28)),
        (date(2026, 12, 31), Span(6, "months"), date(2027, 6, 30)),
        (date(2026, 3, 28), Span(1, "weeks"), date(2026, 4, 4)),  # over the change of clocks: still seven days
        (date(2026, 2, 26), Span(10, "days"), date(2026, 3, 8)),
        (date(2026, 5, 1), Span(0, "days"), date(2026, 5, 1)),
    ],
)
def test_month_ends_and_leap_years(day: date, span: Span, expected: date) -> None:
    assert add_span(day, span) == expected


def test_three_months_are_not_ninety_days() -> None:
    day = date(2026, 7, 1)
    assert add_span(day, Span(3, "months")) == date(2026, 10, 1)
    assert add_span(day, Span(90, "days")) == date(2026, 9, 29)
