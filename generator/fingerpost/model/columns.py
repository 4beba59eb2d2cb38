"""How the columns of somebody's table become cases."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fingerpost.model.words import Line

DayOrder = Literal["year-month-day", "day.month.year", "day/month/year", "month/day/year"]


@dataclass(frozen=True, kw_only=True)
class Meaning:
    """What stands in the table, and the word of a case that it means."""

    written: Line
    means: Line


@dataclass(frozen=True, kw_only=True)
class Column:
    """A column by its title, and the field of a case that it fills, e.g. ``anchor.date`` or ``began[0].stage``."""

    title: Line
    field: Line
    meanings: tuple[Meaning, ...] = ()
    days: DayOrder = "year-month-day"


@dataclass(frozen=True, kw_only=True)
class Always:
    """A field that is the same in every case of the table."""

    field: Line
    value: Line


@dataclass(frozen=True, kw_only=True)
class TableColumns:
    """Which columns are read. Others are left alone."""

    columns: tuple[Column, ...]
    always: tuple[Always, ...] = ()
