"""Times as people write them: a length in days, weeks or calendar months, and a day of the calendar."""

from __future__ import annotations

from calendar import monthrange
from datetime import MAXYEAR, date, timedelta
from typing import Literal, NoReturn

_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
Unit = Literal["days", "weeks", "months"]
_UNITS: dict[str, Unit] = {"day": "days", "week": "weeks", "month": "months"}
# Only for putting spans in order: a calendar month is taken as its mean length, 365.2425 / 12 days.
_DAYS: dict[Unit, float] = {"days": 1.0, "weeks": 7.0, "months": 30.436875}


class Span(str):
    """A number of days, weeks or calendar months. The unit is kept: '3 months' never becomes 90 days.

    It is the text that an author wrote, '10 days', and knows what that means. So it prints, and is compared, as it was
    written; which of two is longer, `rough_days` tells, and `<` between them is refused.
    """

    __slots__ = ("number", "unit")
    number: int
    unit: Unit

    def __new__(cls, number: int, unit: Unit, written: str = "") -> Span:
        made = super().__new__(cls, written or f"{number} {unit[:-1] if number == 1 else unit}")
        made.number, made.unit = number, unit
        return made

    def __getnewargs__(self) -> tuple[int, Unit, str]:  # type: ignore[override]
        return self.number, self.unit, str(self)

    def _refuse_order(self, other: str) -> NoReturn:
        raise TypeError(f"whether {self} is shorter than {other} is for rough_days to tell: as text, 10 is before 9")

    __lt__ = __le__ = __gt__ = __ge__ = _refuse_order

    @property
    def rough_days(self) -> float:
        """The length in days for comparing, a month counted as its mean 30.44 days."""
        return self.number * _DAYS[self.unit]


class Day(str):
    """A day as it was written, '2026-05-01', which knows what it means. It prints, and is compared, as written.

    `known` is None where the calendar has no such day, '2026-02-30': that is for a rule to find, so that it is told
    together with all else that is wrong.
    """

    __slots__ = ("known",)
    known: date | None

    def __new__(cls, written: str) -> Day:
        made = super().__new__(cls, written)
        try:
            made.known = date.fromisoformat(written)
        except ValueError:
            made.known = None
        return made

    @property
    def day(self) -> date:
        """The day of the calendar. Raises ValueError where it has none."""
        if self.known is None:
            raise ValueError(f"the calendar has no day {self}")
        return self.known


def to_written(day: date) -> Day:
    """A day of the calendar as it is written in a file."""
    return Day(day.isoformat())


def write_date(day: date) -> str:
    """5 January 2026: no reader mistakes the month for the day."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def write_weekday(day: date) -> str:
    """Monday 5 January 2026: a day to be somewhere."""
    return f"{_WEEKDAYS[day.weekday()]} {write_date(day)}"


def read_span(text: str) -> Span:
    """Read '10 days', '1 week' or '3 months'. Raises ValueError on anything else."""
    number, _, unit = text.partition(" ")
    singular = unit.removesuffix("s")
    if not number.isdigit() or singular not in _UNITS:
        raise ValueError(f"not a time: {text!r}")
    return Span(int(number), _UNITS[singular], text)


def add_days(day: date, days: int) -> date:
    """Add whole days. Raises ValueError when the result is beyond the calendar."""
    try:
        return day + timedelta(days=days)
    except OverflowError:
        raise ValueError(f"{days} days after {day} is beyond the year {MAXYEAR}") from None


def add_span(day: date, span: Span) -> date:
    """Add a length of time to a day.

    Days and weeks are counted. Months are calendar months: the same day of a later month, or that month's last day
    where it is shorter. Raises ValueError when the result is beyond the calendar.
    """
    if span.unit != "months":
        return add_days(day, span.number * (7 if span.unit == "weeks" else 1))
    year, month = divmod(day.year * 12 + day.month - 1 + span.number, 12)
    if not 1 <= year <= MAXYEAR:
        raise ValueError(f"{span} after {day} is beyond the year {MAXYEAR}")
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))
