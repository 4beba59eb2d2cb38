"""Published schedules by grade, beside their source, and the protocol files held against them.

Marks: READ (in the text named, mostly its abstract), READ-2ND (in somebody else's copy), recalled (from memory).
Whole days and weeks are compared exactly: a schedule has no tolerance.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from fingerpost.model.protocol import Protocol
from fingerpost.model.times import Span, add_span, read_span
from fingerpost.reckon.taping_end import find_taping_end
from fingerpost.reckon.windows import count_windows, list_spans

ROOT = Path(__file__).parents[2]
INJURY = date(2026, 1, 12)  # a Monday

# Schöffl & Schöffl 2006, J Hand Surg 31A:647-654, its table as a surgical practice reproduces it. READ-2ND.
# Starts counted from the injury (grade IV: from surgery): (least, most); None: the table gives no time.
SCHEDULE: dict[str, dict[str, tuple[str, str] | None]] = {
    "I": {
        "immobilise": None,
        "therapy": ("2 weeks", "4 weeks"),
        "easy": ("4 weeks", "4 weeks"),
        "full": ("6 weeks", "6 weeks"),
        "tape": ("3 months", "3 months"),
    },
    "II": {
        "immobilise": ("10 days", "10 days"),
        "therapy": ("2 weeks", "4 weeks"),
        "easy": ("4 weeks", "4 weeks"),
        "full": ("6 weeks", "8 weeks"),
        "tape": ("3 months", "3 months"),
    },
    "III": {
        "immobilise": ("10 days", "14 days"),
        "therapy": ("4 weeks", "4 weeks"),
        "easy": ("6 weeks", "8 weeks"),
        "full": ("3 months", "3 months"),
        "tape": ("6 months", "6 months"),
    },
    "IV": {
        "immobilise": ("14 days", "14 days"),
        "therapy": ("4 weeks", "4 weeks"),
        "easy": ("4 months", "4 months"),
        "full": ("6 months", "6 months"),
        "tape": ("12 months", "12 months"),  # the table says more than 12 months
    },
}
GRADES = tuple(SCHEDULE)
ROWS = [(grade, row) for grade in GRADES for row in ("easy", "full", "tape")]

# Lutter 2018, J Hand Surg Eur 43:767: mean healing time in weeks by grade. READ-2ND (a hand clinic's summary).
LUMBRICAL_WEEKS = {"I": 5, "II": 6, "III": 10}
LUMBRICAL_ALL_DONE_WEEKS = 12  # same, READ-2ND
LUMBRICAL_BUDDY_TAPE_II_WEEKS = 8  # same, READ-2ND


def days_of(spans: tuple[str, str]) -> tuple[date, date]:
    return add_span(INJURY, read_span(spans[0])), add_span(INJURY, read_span(spans[1]))


@pytest.fixture(scope="module")
def protocols() -> dict[str, Protocol]:
    from fingerpost.read.library import read_library

    library, _ = read_library(ROOT / "protocols")
    return {document.value.id: document.value for document in library.protocols}


def test_the_table_is_whole() -> None:
    assert GRADES == ("I", "II", "III", "IV")
    assert all(set(rows) == {"immobilise", "therapy", "easy", "full", "tape"} for rows in SCHEDULE.values())


def test_schedule_as_days_of_the_calendar() -> None:
    # Worked by hand from Monday 12 January 2026.
    assert days_of(SCHEDULE["II"]["immobilise"]) == (date(2026, 1, 22), date(2026, 1, 22))  # type: ignore[arg-type]
    assert days_of(SCHEDULE["I"]["easy"]) == (date(2026, 2, 9), date(2026, 2, 9))  # type: ignore[arg-type]
    assert days_of(SCHEDULE["II"]["full"]) == (date(2026, 2, 23), date(2026, 3, 9))  # type: ignore[arg-type]
    assert days_of(SCHEDULE["III"]["easy"]) == (date(2026, 2, 23), date(2026, 3, 9))  # type: ignore[arg-type]
    assert days_of(SCHEDULE["III"]["full"]) == (date(2026, 4, 12), date(2026, 4, 12))  # type: ignore[arg-type]
    assert days_of(SCHEDULE["IV"]["tape"]) == (date(2027, 1, 12), date(2027, 1, 12))  # type: ignore[arg-type]


@pytest.mark.parametrize("row", ["easy", "full", "tape"])
def test_schedule_never_falls_with_the_grade(row: str) -> None:
    starts = [SCHEDULE[grade][row] for grade in GRADES]
    days = [days_of(start) for start in starts if start]
    assert len(days) == 4
    assert days == sorted(days)


def test_cells_are_not_added_up() -> None:
    # Grade II: easy after 4 weeks and full at 6 to 8 weeks both count from the injury. Their sum would be 10 to 12.
    full = SCHEDULE["II"]["full"]
    assert full
    assert [read_span(text) for text in full] == [Span(6, "weeks"), Span(8, "weeks")]
    assert days_of(full)[1] < add_span(INJURY, Span(10, "weeks"))


@pytest.mark.parametrize("grade", GRADES)
def test_taping_ends_no_earlier_than_full_climbing(grade: str) -> None:
    full, tape = SCHEDULE[grade]["full"], SCHEDULE[grade]["tape"]
    assert full
    assert tape
    end = find_taping_end(INJURY, read_span(tape[0]), read_span(full[0]), days_of(full)[0])
    assert not end.held_back
    assert end.day == days_of(tape)[0]


def test_cohort_is_slower_than_the_schedule() -> None:
    # Schneeberger & Schweizer 2016, WEM 27:211: back at the old level after a mean of 8.8 months (READ, abstract). Both
    # figures are shown to readers, so both must stay apart here: 3 months is when climbing may begin in full.
    full = SCHEDULE["III"]["full"]
    assert full
    assert read_span(full[0]) == Span(3, "months")
    assert read_span(full[0]).rough_days < 8.8 * Span(1, "months").rough_days


def test_lumbrical_weeks_as_days() -> None:
    days = [add_span(INJURY, Span(weeks, "weeks")) for weeks in LUMBRICAL_WEEKS.values()]
    assert days == [date(2026, 2, 16), date(2026, 2, 23), date(2026, 3, 23)]
    assert days == sorted(days)
    assert days[-1] <= add_span(INJURY, Span(LUMBRICAL_ALL_DONE_WEEKS, "weeks"))


# --- the protocol files


@pytest.mark.parametrize(("grade", "row"), ROWS)
def test_pulley_timeline_is_the_published_one(protocols: dict[str, Protocol], grade: str, row: str) -> None:
    timeline = next(line for line in protocols["pulley"].timelines if line.grade == grade)
    written = {"easy": timeline.easy_climbing, "full": timeline.full_climbing, "tape": timeline.taping_ends}[row]
    assert written is not None
    assert (written.least, written.most) == SCHEDULE[grade][row]
    assert written.source == "schoffl-2006"


@pytest.mark.parametrize("grade", ["I", "II", "III"])
def test_pulley_stages_keep_to_the_schedule(protocols: dict[str, Protocol], grade: str) -> None:
    """Easy and full climbing never begin before the published time, and may do so when it is over; movement waits too.

    The usual day may be later than the table's, which has one date for most grades: it has no room for a bad week.
    """
    pulley = protocols["pulley"]
    spans = list_spans(pulley.stages, grade)
    days = dict(zip([span.stage for span in spans], count_windows(INJURY, spans), strict=True))
    for row, milestone in (("easy", "easy-climbing"), ("full", "full-climbing")):
        stage = next(stage.id for stage in pulley.stages if stage.milestone == milestone)
        published = SCHEDULE[grade][row]
        assert published
        assert days[stage].earliest >= days_of(published)[0]
        assert days_of(published)[0] <= days[stage].usual
        assert days[stage].latest >= days_of(published)[1]
    still = SCHEDULE[grade]["immobilise"]
    if still:
        assert days["move"].earliest >= days_of(still)[0]


def test_pulley_grade_four_has_no_windows(protocols: dict[str, Protocol]) -> None:
    pulley = protocols["pulley"]
    assert next(grade for grade in pulley.grades if grade.id == "IV").treated_by == "surgeon"
    assert list_spans(pulley.stages, "IV") == ()


@pytest.mark.parametrize("grade", ["I", "II"])
def test_lumbrical_full_climbing_not_before_mean_healing(protocols: dict[str, Protocol], grade: str) -> None:
    timeline = next(line for line in protocols["lumbrical-strain"].timelines if line.grade == grade)
    healed = add_span(INJURY, Span(LUMBRICAL_WEEKS[grade], "weeks"))
    assert add_span(INJURY, read_span(timeline.full_climbing.most)) >= healed
