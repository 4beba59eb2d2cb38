"""Windows of days: as published, moved by a real delay, and never earlier or faster than the stages allow.

- windows as published, from the anchor on, and spans that cannot be
- the way back: what a late, an early and a made-up stage move
- dates that matter, the end of taping, reviews
- properties: windows never fall, paces are ordered, nothing ahead begins before today
"""

from __future__ import annotations

import copy
import json
import operator
import pickle
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from fingerpost.model.library import Library
from fingerpost.model.protocol import Window
from fingerpost.model.times import Day, Span, add_span, read_span
from fingerpost.reckon.taping_end import find_taping_end
from fingerpost.reckon.windows import (
    PACES,
    Begun,
    DateStanding,
    StageDays,
    StageSpans,
    choose_review,
    count_windows,
    explain_window,
    find_faults,
    find_standing,
    list_spans,
    list_stays,
    reckon_way_back,
)

ANCHOR = date(2026, 1, 12)


def make_stage(stage: str, earliest: str, usual: str, latest: str) -> StageSpans:
    return StageSpans(stage, read_span(earliest), read_span(usual), read_span(latest), "schoffl-2006")


STAGES = (
    make_stage("settle", "0 days", "0 days", "0 days"),
    make_stage("move", "10 days", "10 days", "14 days"),
    make_stage("load", "3 weeks", "4 weeks", "5 weeks"),
    make_stage("climb", "6 weeks", "2 months", "3 months"),
)


def day(weeks: int = 0, days: int = 0) -> date:
    return ANCHOR + timedelta(weeks=weeks, days=days)


# --- published windows


def test_windows_count_from_the_anchor() -> None:
    assert count_windows(ANCHOR, STAGES) == (
        StageDays(ANCHOR, ANCHOR, ANCHOR),
        StageDays(date(2026, 1, 22), date(2026, 1, 22), date(2026, 1, 26)),
        StageDays(date(2026, 2, 2), date(2026, 2, 9), date(2026, 2, 16)),
        StageDays(date(2026, 2, 23), date(2026, 3, 12), date(2026, 4, 12)),
    )


def test_mixed_units_do_not_fall_in_a_short_month() -> None:
    # 30 days from 1 February 2026 are 3 March, one month is 1 March: the later counts for both.
    (days,) = count_windows(date(2026, 2, 1), [make_stage("a", "30 days", "1 month", "5 weeks")])
    assert days == StageDays(date(2026, 3, 3), date(2026, 3, 3), date(2026, 3, 8))


def test_spans_out_of_order_are_refused() -> None:
    with pytest.raises(ValueError, match="earliest first"):
        count_windows(ANCHOR, [make_stage("a", "3 weeks", "2 weeks", "4 weeks")])
    with pytest.raises(ValueError, match=r"'b' .* must not begin before stage 'a'"):
        count_windows(
            ANCHOR, [make_stage("a", "3 weeks", "3 weeks", "4 weeks"), make_stage("b", "1 day", "1 day", "5 weeks")]
        )


def test_the_end_of_the_calendar_is_refused() -> None:
    for span in (Span(9000, "months"), Span(9999, "weeks"), Span(9999, "days")):
        with pytest.raises(ValueError, match="beyond the year 9999"):
            add_span(date(9990, 1, 31), span)


class Stage:
    """As much of a protocol's stage as windows look at."""

    def __init__(self, stage: str, grades: str, skipped_by: tuple[str, ...] = ()) -> None:
        self.id, self.skipped_by = stage, skipped_by
        earliest, usual, latest = map(read_span, ("1 day", "2 days", "1 week"))
        self.windows = tuple(
            Window(grade=grade, earliest=earliest, usual=usual, latest=latest, source="x") for grade in grades.split()
        )


def test_a_span_is_what_was_written_and_knows_its_length() -> None:
    written = read_span("1 weeks")
    assert f"{written}" == str(written) == json.loads(json.dumps(written)) == "1 weeks"
    assert (written.number, written.unit, written.rough_days) == (1, "weeks", 7)
    assert str(Span(1, "weeks")) == "1 week"
    for same in (copy.deepcopy(written), pickle.loads(pickle.dumps(written))):
        assert (same, same.number, same.unit) == (written, 1, "weeks")


def test_a_day_is_what_was_written_and_knows_its_date() -> None:
    written = Day("2026-05-01")
    assert f"{written}" == str(written) == json.loads(json.dumps(written)) == "2026-05-01"
    for same in (written, copy.deepcopy(written), pickle.loads(pickle.dumps(written))):
        assert (same, same.known, same.day) == (written, date(2026, 5, 1), date(2026, 5, 1))
    assert Day("2026-02-30").known is None
    with pytest.raises(ValueError, match="the calendar has no day 2026-02-30"):
        _ = Day("2026-02-30").day


def test_what_is_read_knows_its_times(library: Library) -> None:
    """Nobody behind the reader has to parse a text again."""
    protocol = library.protocols[0].value
    assert all(type(w.usual) is Span for stage in protocol.stages for w in stage.windows)
    assert type(protocol.status.written) is Day


def test_spans_are_not_put_in_order_as_texts() -> None:
    """As text, '10 days' would come before '9 days', and a stage would begin too early."""
    for sort in (operator.lt, operator.le, operator.gt, operator.ge):
        with pytest.raises(TypeError, match="rough_days"):
            sort(read_span("10 days"), read_span("9 days"))


def test_spans_of_a_grade() -> None:
    stages = [Stage("a", "I II"), Stage("b", "II", skipped_by=("I",)), Stage("c", "I II")]
    assert [spans.stage for spans in list_spans(stages, "I")] == ["a", "c"]  # type: ignore[arg-type]
    assert list_spans(stages, "II")[1].earliest == Span(1, "days")  # type: ignore[arg-type]


def test_a_stop_protocol_has_no_windows() -> None:
    assert list_spans([Stage("a", ""), Stage("b", "")], "any") == ()  # type: ignore[list-item]


def test_a_missing_window_is_refused() -> None:
    with pytest.raises(ValueError, match="'b' has no window for grade I"):
        list_spans([Stage("a", "I"), Stage("b", "II")], "I")  # type: ignore[list-item]


# --- the way back


def test_on_time_nothing_moves() -> None:
    way = reckon_way_back(ANCHOR, day(days=12), STAGES, "move", [Begun("settle", ANCHOR), Begun("move", day(days=10))])
    assert way.shift_days == 0
    assert [window.days for window in way.windows] == list(count_windows(ANCHOR, STAGES))
    assert [window.standing for window in way.windows] == ["past", "today", "ahead", "ahead"]
    assert (way.begin_known, way.longer_than_usual, way.days_over) == (True, False, 0)


def test_a_late_stage_moves_every_later_one() -> None:
    way = reckon_way_back(ANCHOR, day(days=16), STAGES, "move", [Begun("move", day(days=15))])
    assert (way.delay_days, way.waiting_days) == (5, 0)
    load, climb = way.windows[2:]
    assert load.days == StageDays(date(2026, 2, 7), date(2026, 2, 14), date(2026, 2, 21))
    assert climb.days == StageDays(date(2026, 2, 28), date(2026, 3, 17), date(2026, 4, 17))
    assert way.windows[1].days == way.windows[1].published


def test_an_early_stage_moves_nothing() -> None:
    way = reckon_way_back(ANCHOR, day(days=9), STAGES, "move", [Begun("move", day(days=8))])
    assert way.shift_days == 0
    assert way.early_days == 1
    assert way.windows[2].days == way.windows[2].published


def test_a_delay_that_was_made_up_is_forgotten() -> None:
    begun = [Begun("move", day(days=20)), Begun("load", day(weeks=4))]
    assert reckon_way_back(ANCHOR, day(weeks=4), STAGES, "load", begun).shift_days == 0


def test_waiting_for_the_next_stage_is_a_delay_too() -> None:
    way = reckon_way_back(ANCHOR, day(weeks=4, days=3), STAGES, "move", [Begun("move", day(days=10))])
    assert (way.delay_days, way.waiting_days) == (0, 3)
    assert way.windows[2].days.usual == way.today
    assert way.windows[3].days.usual == date(2026, 3, 15)
    assert not way.longer_than_usual


def test_longer_than_usual_is_a_fact_with_days() -> None:
    begun = [Begun("move", day(days=12))]  # two days late, so the next stage's latest day is in 5 weeks and 2 days
    assert not reckon_way_back(ANCHOR, day(5, 2), STAGES, "move", begun).longer_than_usual
    way = reckon_way_back(ANCHOR, day(5, 3), STAGES, "move", begun)
    assert (way.longer_than_usual, way.days_over) == (True, 1)


def test_the_last_stage_is_never_too_long() -> None:
    way = reckon_way_back(ANCHOR, day(200), STAGES, "climb", [Begun("climb", day(12))])
    assert not way.longer_than_usual


def test_a_first_stage_without_a_date_began_as_usual() -> None:
    way = reckon_way_back(ANCHOR, day(days=4), STAGES, "settle")
    assert (way.begin_known, way.shift_days) == (False, 0)


def test_another_stage_without_a_date_begins_today() -> None:
    way = reckon_way_back(ANCHOR, day(days=13), STAGES, "move", [Begun("settle", ANCHOR)])
    assert (way.begin_known, way.delay_days) == (False, 3)


def test_no_window_opens_before_todays_stage_began() -> None:
    stages = [make_stage("a", "0 days", "4 weeks", "4 weeks"), make_stage("b", "1 week", "5 weeks", "6 weeks")]
    way = reckon_way_back(ANCHOR, day(4), stages, "a", [Begun("a", day(4))])
    assert way.windows[1].days.earliest == day(5)


def test_the_earliest_day_counts_from_the_real_begin() -> None:
    # Published: 10 days, 3 weeks, 6 weeks, so the shortest stays are 11 and 21 days. Begun on day 12 of the injury.
    way = reckon_way_back(ANCHOR, day(days=12), STAGES, "move", [Begun("move", day(days=12))])
    assert [w.days.earliest for w in way.windows[2:]] == [day(days=23), day(days=44)]
    assert [(w.stay_from, w.stay_days) for w in way.windows[2:]] == [(day(days=12), 11), (day(days=23), 21)]


def test_no_stage_but_the_first_is_over_in_less_than_a_week() -> None:
    spans = (("a", "0 days"), ("b", "1 day"), ("c", "3 days"), ("d", "12 days"))
    stages = [make_stage(name, earliest, "2 weeks", "3 weeks") for name, earliest in spans]
    way = reckon_way_back(ANCHOR, ANCHOR, stages, "a", [Begun("a", ANCHOR)])
    assert [w.days.earliest for w in way.windows[1:]] == [day(days=1), day(days=8), day(days=17)]
    assert list_stays(stages) == (1, 7, 9)


def test_an_earliest_day_is_never_before_the_published_one() -> None:
    way = reckon_way_back(ANCHOR, day(days=2), STAGES, "move", [Begun("move", day(days=2))])
    assert [w.days.earliest for w in way.windows[2:]] == [w.published.earliest for w in way.windows[2:]]


def test_find_a_window() -> None:
    way = reckon_way_back(ANCHOR, ANCHOR, STAGES, "settle")
    assert way.find("load") is way.windows[2]
    assert way.find("gone") is None


# --- what cannot be


@pytest.mark.parametrize(
    ("anchor", "stage", "begun", "expected"),
    [
        (day(9), "settle", [], [("anchor", "date")]),
        (ANCHOR, "gone", [], [("stage",)]),
        (ANCHOR, "move", [Begun("gone", ANCHOR)], [("began", 0, "stage")]),
        (ANCHOR, "move", [Begun("load", day(2))], [("began", 0, "stage")]),
        (ANCHOR, "move", [Begun("move", day(3)), Begun("settle", day(3))], [("began", 1, "stage")]),
        (ANCHOR, "move", [Begun("move", day(1)), Begun("move", day(1))], [("began", 1, "stage")]),
        (ANCHOR, "move", [Begun("move", day(-1))], [("began", 0, "date")]),
        (ANCHOR, "move", [Begun("settle", day(2)), Begun("move", day(1))], [("began", 1, "date")]),
        (ANCHOR, "move", [Begun("move", day(5))], [("began", 0, "date")]),
        (
            ANCHOR,
            "load",
            [Begun("settle", day(2)), Begun("move", day(1)), Begun("load", day(1))],
            [("began", 1, "date"), ("began", 2, "date")],
        ),
        (day(9), "gone", [Begun("gone", ANCHOR)], [("anchor", "date"), ("stage",), ("began", 0, "stage")]),
    ],
)
def test_every_impossible_fact_is_found(
    anchor: date, stage: str, begun: list[Begun], expected: list[tuple[str | int, ...]]
) -> None:
    ids = [spans.stage for spans in STAGES]
    found = list(find_faults(anchor, day(4), ids, stage, begun))
    assert [fault.path for fault in found] == expected
    assert all("must" in fault.must for fault in found)
    with pytest.raises(ValueError, match="must"):
        reckon_way_back(anchor, day(4), STAGES, stage, begun)


def test_a_possible_episode_has_no_faults() -> None:
    begun = [Begun("settle", ANCHOR), Begun("move", day(2)), Begun("load", day(4))]
    assert not list(find_faults(ANCHOR, day(4), [spans.stage for spans in STAGES], "load", begun))


# --- dates that matter


def test_a_date_at_each_pace() -> None:
    way = reckon_way_back(ANCHOR, day(days=12), STAGES, "move", [Begun("move", day(days=10))])
    assert find_standing(way, day(3)) == DateStanding(day(3), earliest=2, usual=1, latest=1)
    assert find_standing(way, day(7)) == DateStanding(day(7), earliest=3, usual=2, latest=2)
    assert find_standing(way, day(30)) == DateStanding(day(30), earliest=3, usual=3, latest=3)


def test_todays_stage_is_reached_whatever_the_table_says() -> None:
    way = reckon_way_back(ANCHOR, day(1), STAGES, "load", [Begun("load", day(1))])
    assert find_standing(way, day(1)) == DateStanding(day(1), earliest=2, usual=2, latest=2)


def test_a_date_in_the_past_is_refused() -> None:
    way = reckon_way_back(ANCHOR, day(1), STAGES, "settle")
    with pytest.raises(ValueError, match="is in the past"):
        find_standing(way, ANCHOR)


# --- taping and review


def test_taping_ends_as_published() -> None:
    # Full climbing as published is on 23 February, and taping ends 48 days after it; full climbing is on time here.
    end = find_taping_end(ANCHOR, Span(3, "months"), Span(6, "weeks"), date(2026, 2, 23), "schoffl-2006")
    assert (end.day, end.held_back) == (date(2026, 4, 12), False)
    assert "from: schoffl-2006" in str(end.why)


def test_taping_moves_with_full_climbing() -> None:
    # 17 days later than published, both of them.
    end = find_taping_end(ANCHOR, Span(3, "months"), Span(6, "weeks"), date(2026, 3, 12))
    assert (end.day, end.published, end.held_back) == (date(2026, 4, 29), date(2026, 4, 12), True)
    assert ("gap", "48 days") in end.why.inputs
    assert find_taping_end(ANCHOR, Span(3, "months"), Span(6, "weeks"), None).day == date(2026, 4, 12)


def test_tape_stays_on_for_four_weeks_after_full_climbing() -> None:
    end = find_taping_end(ANCHOR, Span(7, "weeks"), Span(6, "weeks"), date(2026, 3, 12))
    assert end.day == date(2026, 4, 9)


def test_an_early_full_climbing_takes_no_tape_off() -> None:
    assert find_taping_end(ANCHOR, Span(3, "months"), Span(6, "weeks"), date(2026, 2, 1)).day == date(2026, 4, 12)


def test_review_as_written_or_proposed() -> None:
    way = reckon_way_back(ANCHOR, day(days=12), STAGES, "move", [Begun("move", day(days=10))])
    assert choose_review(way, day(20)).day == day(20)
    assert choose_review(way, day(20)).written
    assert choose_review(way, None).day == day(4)  # the usual day of the next stage
    assert not choose_review(way, None).written
    with pytest.raises(ValueError, match="in the past"):
        choose_review(way, ANCHOR)


def test_review_is_on_a_workday_between_one_and_four_weeks_away() -> None:
    """A clinic that is shut is no help: a Sunday becomes the Monday after it, a Saturday the Friday before it."""
    soon = reckon_way_back(ANCHOR, day(3, 6), STAGES, "move", [Begun("move", day(days=10))])
    assert choose_review(soon, None).day == day(5) == date(2026, 2, 16)
    soon = reckon_way_back(ANCHOR, day(3, 5), STAGES, "move", [Begun("move", day(days=10))])
    assert choose_review(soon, None).day == day(4, 4) == date(2026, 2, 13)
    late = reckon_way_back(ANCHOR, day(4), STAGES, "load", [Begun("load", day(4))])
    assert choose_review(late, None).day == day(8)
    last = reckon_way_back(ANCHOR, day(12), STAGES, "climb", [Begun("climb", day(12))])
    assert choose_review(last, None).day == day(16)


def test_windows_explain_themselves() -> None:
    way = reckon_way_back(ANCHOR, day(days=16), STAGES, "move", [Begun("move", day(days=15))])
    whys = explain_window(way, way.windows[2])
    assert [why.result for why in whys] == ["2026-02-07", "2026-02-14", "2026-02-21"]
    assert ("stage before", "2026-01-27") in whys[0].inputs
    assert ("shortest stay", "11 days") in whys[0].inputs
    assert ("delay", "5 days") in whys[1].inputs
    assert ("span", "4 weeks") in whys[1].inputs
    assert explain_window(way, way.windows[1])[0].formula.startswith("anchor + span,")
    assert {why.source for why in whys} == {"schoffl-2006"}


# --- properties

UNITS = st.sampled_from(["days", "weeks", "months"])
SPANS = st.builds(Span, st.integers(0, 12), UNITS)


@st.composite
def stage_lists(draw: st.DrawFn) -> tuple[StageSpans, ...]:
    """Stages whose spans never fall, units mixed."""
    count = draw(st.integers(1, 5))
    columns = [sorted(draw(st.lists(SPANS, min_size=count, max_size=count)), key=lambda s: s.rough_days) for _ in PACES]
    rows = [sorted(row, key=lambda span: span.rough_days) for row in zip(*columns, strict=True)]
    return tuple(StageSpans(f"s{at}", *row) for at, row in enumerate(rows))


DAYS = st.dates(date(2020, 1, 1), date(2040, 12, 31))


@given(DAYS, stage_lists())
def test_windows_never_fall(anchor: date, stages: tuple[StageSpans, ...]) -> None:
    windows = count_windows(anchor, stages)
    assert all(days.earliest <= days.usual <= days.latest for days in windows)
    for pace in PACES:
        assert all(before.at(pace) <= after.at(pace) for before, after in pairwise(windows))


@given(DAYS, stage_lists(), st.integers(0, 60))
def test_a_later_anchor_never_gives_an_earlier_day(anchor: date, stages: tuple[StageSpans, ...], later: int) -> None:
    first, second = count_windows(anchor, stages), count_windows(anchor + timedelta(later), stages)
    assert all(a.at(pace) <= b.at(pace) for a, b in zip(first, second, strict=True) for pace in PACES)


@given(DAYS, stage_lists(), st.data(), st.integers(0, 200), st.integers(0, 200), st.integers(0, 60))
def test_a_later_start_never_gives_an_earlier_day(
    anchor: date, stages: tuple[StageSpans, ...], data: st.DataObject, start: int, stayed: int, later: int
) -> None:
    at = data.draw(st.integers(0, len(stages) - 1))
    today = anchor + timedelta(start + stayed + later)
    stage = stages[at].stage
    soon, late = (
        reckon_way_back(anchor, today, stages, stage, [Begun(stage, anchor + timedelta(start + extra))])
        for extra in (0, later)
    )
    for first, second in zip(soon.windows, late.windows, strict=True):
        for pace in PACES:
            assert first.days.at(pace) <= second.days.at(pace)
            assert second.days.at(pace) >= second.published.at(pace)
    trip = today + timedelta(30)
    one, other = find_standing(soon, trip), find_standing(late, trip)
    for pace in PACES:
        reached, reached_later = getattr(one, pace), getattr(other, pace)
        assert reached is not None
        assert reached_later is not None
        assert reached_later <= reached


@given(DAYS, stage_lists(), st.data(), st.integers(0, 300))
def test_shifted_windows_never_fall_and_paces_are_ordered(
    anchor: date, stages: tuple[StageSpans, ...], data: st.DataObject, stayed: int
) -> None:
    at = data.draw(st.integers(0, len(stages) - 1))
    assume(len(stages) > 1)
    way = reckon_way_back(anchor, anchor + timedelta(stayed), stages, stages[at].stage)
    ahead = [window.days for window in way.windows if window.standing == "ahead"]
    assert all(a.at(pace) <= b.at(pace) for a, b in pairwise(ahead) for pace in PACES)
    assert all(days.usual >= way.today for days in ahead)
    standing = find_standing(way, way.today + timedelta(20))
    assert standing.earliest >= standing.usual >= standing.latest >= at  # type: ignore[operator]


def test_no_stage_ahead_begins_before_today() -> None:
    """A day that is gone cannot be kept: what has not begun by today begins today at the earliest."""
    way = reckon_way_back(ANCHOR, day(weeks=3, days=5), STAGES, "move", [Begun("move", day(days=10))])
    assert way.windows[2].published.earliest < way.today
    assert way.windows[2].days.earliest == way.today
