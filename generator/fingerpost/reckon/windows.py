"""When each stage may begin: windows from the anchor, and how a real delay moves the later ones.

All results are days of the calendar. Weeks are weeks and months are calendar months: 31 January + 1 month is the
last day of February. Sources: the spans themselves carry theirs. Design choices: how a delay moves the later stages,
that no stage but the first is over in less than a week, the review day.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from typing import Literal

from fingerpost.model.protocol import Stage
from fingerpost.model.times import Span, add_days, add_span, write_date
from fingerpost.model.words import Id
from fingerpost.reckon.why import DESIGN_CHOICE, Fault, Why

GROWTH_STAGE_DAYS = 28
"""A stage after a doctor has cleared a growth plate lasts four weeks or more. No source tells the weeks of a stage; MRI
was better after 6 to 12 weeks and X-rays showed union after a mean of 35, so this is a design choice."""

Pace = Literal["earliest", "usual", "latest"]
PACES: tuple[Pace, ...] = ("earliest", "usual", "latest")
_FORMULA = "anchor + span, never before the stage before it"
_SHIFTED_FORMULA = (
    "anchor + span + delay + waiting, never before today or the earliest day; delay = real day minus usual day of "
    "the latest begun stage, waiting = today minus the next stage's usual day, neither below 0"
)
_EARLIEST_FORMULA = (
    "the latest of anchor + span, the day on which the stage before begins + its shortest stay, and today; shortest "
    "stay = published earliest day of this stage minus that of the stage before, at least 7 days but for the first"
)
# A gate looks back over three sessions, and a week is the least in which a finger shows what a load does to it.
LEAST_STAY_DAYS = 7


@dataclass(frozen=True)
class StageSpans:
    """When one stage may begin, as published: counted from the anchor, units kept."""

    stage: Id
    earliest: Span
    usual: Span
    latest: Span
    source: str = DESIGN_CHOICE


@dataclass(frozen=True)
class StageDays:
    """The days on which one stage may begin."""

    earliest: date
    usual: date
    latest: date

    def at(self, pace: Pace) -> date:
        """The day at one pace."""
        return {"earliest": self.earliest, "usual": self.usual, "latest": self.latest}[pace]

    def shift(self, days: int, not_before: date = date.min) -> StageDays:
        """The same window `days` later, no part of it before `not_before`."""
        return StageDays(*(max(add_days(self.at(pace), days), not_before) for pace in PACES))


@dataclass(frozen=True)
class Begun:
    """A stage and the day on which it really began."""

    stage: Id
    day: date


@dataclass(frozen=True)
class StageWindow:
    """One stage on the way back. `published` counts from the anchor alone, `days` has the real delay in it.

    Past stages and today's keep their published days; `began` is the real one where it is known. For a stage ahead,
    `stay_from` is the day on which the stage before it begins at the earliest, and `stay_days` its shortest stay.
    """

    stage: Id
    spans: StageSpans
    published: StageDays
    days: StageDays
    standing: Literal["past", "today", "ahead"]
    began: date | None = None
    stay_from: date | None = None
    stay_days: int = 0


@dataclass(frozen=True)
class WayBack:
    """Every stage's window. Day counts are whole days, never negative.

    `delay_days`: how much later than usual the latest begun stage really began. `waiting_days`: how much later still
    the next stage is already, because its usual day is past and it has not begun. Stages ahead shift by both.
    `begin_known`: today's stage has a written date; if not, the first stage counts as begun on its usual day and any
    other as begun today. `longer_than_usual`: today is after the latest day of the next stage, by `days_over` days.
    """

    anchor: date
    today: date
    windows: tuple[StageWindow, ...]
    today_index: int
    delay_days: int
    waiting_days: int
    begin_known: bool
    longer_than_usual: bool
    days_over: int

    @property
    def shift_days(self) -> int:
        """By how many days the stages ahead are shifted from their published days."""
        return self.delay_days + self.waiting_days

    @property
    def early_days(self) -> int:
        """For how many days more today's stage is ahead of its published earliest day; 0 once that day is here."""
        return max(0, (self.windows[self.today_index].published.earliest - self.today).days)

    def find(self, stage: Id) -> StageWindow | None:
        """The window of one stage, or None if this way back does not have it."""
        return next((window for window in self.windows if window.stage == stage), None)


@dataclass(frozen=True)
class DateStanding:
    """Which stage a date falls in at each pace, as indexes into the windows; None: before the first stage."""

    day: date
    earliest: int | None
    usual: int | None
    latest: int | None


@dataclass(frozen=True)
class ReviewDay:
    """When the next re-check is. `written`: the clinician set it; if not it is only a proposal."""

    day: date
    written: bool
    why: Why


def list_spans(stages: Sequence[Stage], grade: str) -> tuple[StageSpans, ...]:
    """The published spans of every stage that a grade goes through, in order.

    Empty when no stage has windows (a stop protocol). Raises ValueError when only some stages have them.
    """
    ahead = [stage for stage in stages if grade not in stage.skipped_by]
    found = [(stage, window) for stage in ahead for window in stage.windows if window.grade == grade]
    missing = [stage.id for stage in ahead if stage.id not in {stage.id for stage, _ in found}]
    if found and missing:
        raise ValueError(f"stage '{missing[0]}' has no window for grade {grade}")
    return tuple(StageSpans(stage.id, w.earliest, w.usual, w.latest, w.source) for stage, w in found)


def count_windows(anchor: date, stages: Sequence[StageSpans]) -> tuple[StageDays, ...]:
    """The published days of every stage, counted from the anchor alone.

    Days never fall, neither within a stage nor from one stage to the next.
    Why: units are mixed, and in a short month '30 days' lands after '1 month'; the later of the two then counts.
    Raises ValueError when the spans themselves fall.
    """
    _refuse_falling(stages)
    days: list[StageDays] = []
    floor = StageDays(date.min, date.min, date.min)
    for spans in stages:
        earliest = max(add_span(anchor, spans.earliest), floor.earliest)
        usual = max(add_span(anchor, spans.usual), floor.usual, earliest)
        floor = StageDays(earliest, usual, max(add_span(anchor, spans.latest), floor.latest, usual))
        days.append(floor)
    return tuple(days)


def _refuse_falling(stages: Sequence[StageSpans]) -> None:
    """Raise ValueError for spans out of order; a month is taken as 30.44 days."""
    for spans in stages:
        if not spans.earliest.rough_days <= spans.usual.rough_days <= spans.latest.rough_days:
            raise ValueError(
                f"stage '{spans.stage}': {spans.earliest}, {spans.usual} and {spans.latest} must stand in order, "
                "earliest first"
            )
    for before, after in pairwise(stages):
        if after.usual.rough_days < before.usual.rough_days:
            raise ValueError(f"stage '{after.stage}' ({after.usual}) must not begin before stage '{before.stage}'")


def find_faults(
    anchor: date, today: date, stages: Sequence[Id], stage_today: Id, begun: Sequence[Begun]
) -> Iterator[Fault]:
    """Every reason why these facts cannot be, in the order of a case file: anchor, stage, what began when."""
    if anchor > today:
        yield Fault(
            ("anchor", "date"),
            f"{write_date(anchor)} is after today, {write_date(today)}: it must have happened",
        )
    if stage_today not in stages:
        yield Fault(
            ("stage",), f"no stage of this way back is called '{stage_today}': it must be one of {_list(stages)}"
        )
    reached = stages.index(stage_today) if stage_today in stages else len(stages)
    latest: tuple[int, date] = (-1, anchor)
    for at, entry in enumerate(begun):
        if entry.stage not in stages:
            must = f"no stage of this way back is called '{entry.stage}': it must be one of {_list(stages)}"
            yield Fault(("began", at, "stage"), must)
            continue
        yield from _find_begun_faults(at, entry, stages.index(entry.stage), latest, today)
        if stages.index(entry.stage) > reached:
            must = f"stage '{entry.stage}' comes after today's stage '{stage_today}': it must not have begun yet"
            yield Fault(("began", at, "stage"), must)
        latest = (stages.index(entry.stage), max(entry.day, latest[1]))


def _find_begun_faults(at: int, entry: Begun, index: int, before: tuple[int, date], today: date) -> Iterator[Fault]:
    if index <= before[0]:
        must = f"stage '{entry.stage}' is out of order: stages must be listed once each, in the order of the protocol"
        yield Fault(("began", at, "stage"), must)
    if entry.day > today:
        yield Fault(
            ("began", at, "date"), f"{write_date(entry.day)} is after today, {write_date(today)}: it must have happened"
        )
    elif entry.day < before[1]:
        what = "the day that all days are counted from" if before[0] < 0 else "the stage before it"
        must = f"{write_date(entry.day)} is before {write_date(before[1])}: it must not be earlier than {what}"
        yield Fault(("began", at, "date"), must)


def _list(ids: Sequence[Id]) -> str:
    return ", ".join(f"'{entry}'" for entry in ids)


def find_stay(published: Sequence[StageDays], at: int) -> int:
    """How many days the stage before `at` lasts at the least: as published, and a week but for the first stage."""
    as_published = (published[at].earliest - published[at - 1].earliest).days
    return as_published if at == 1 else max(as_published, LEAST_STAY_DAYS)


def list_stays(stages: Sequence[StageSpans]) -> tuple[int, ...]:
    """The same without an anchor, for every stage but the last, in days; a month counts as its mean length."""
    steps = (round(after.earliest.rough_days - before.earliest.rough_days) for before, after in pairwise(stages))
    return tuple(days if at == 0 else max(days, LEAST_STAY_DAYS) for at, days in enumerate(steps))


def _plan_ahead(
    stages: Sequence[StageSpans], published: Sequence[StageDays], index: int, start: date, shift: int, today: date
) -> Iterator[StageWindow]:
    for at in range(index + 1, len(stages)):
        stay = find_stay(published, at)
        earliest = max(published[at].earliest, add_days(start, stay), today)
        moved = published[at].shift(shift, earliest)
        days = StageDays(earliest, moved.usual, moved.latest)
        spans = stages[at]
        yield StageWindow(spans.stage, spans, published[at], days, "ahead", None, start, stay)
        start = earliest


def reckon_way_back(
    anchor: date, today: date, stages: Sequence[StageSpans], stage_today: Id, begun: Sequence[Begun] = ()
) -> WayBack:
    """Every stage's window with the real delay in it.

    delay = the latest begun stage's real day minus its published usual day, not below 0. The usual and the latest day
    of a stage ahead move by the delay. Its earliest day counts from the real begin of today's stage: each stage before
    it keeps its shortest stay. None of the three is before its published day, nor before today, since it has not
    begun. Where the next stage's usual day is past, that waiting is a delay too.
    Raises ValueError for facts that `find_faults` finds.
    """
    ids = [spans.stage for spans in stages]
    for fault in find_faults(anchor, today, ids, stage_today, begun):
        raise ValueError(fault.must)
    published = count_windows(anchor, stages)
    index = ids.index(stage_today)
    real = {entry.stage: entry.day for entry in begun}
    start = real.get(stage_today, published[0].usual if index == 0 else today)
    delay = max(0, (start - published[index].usual).days)
    following = published[index + 1].shift(delay, start) if index + 1 < len(ids) else None
    over = max(0, (today - following.latest).days) if following else 0
    waiting = max(0, (today - following.usual).days) if following else 0
    reached = (
        StageWindow(spans.stage, spans, days, days, "today" if at == index else "past", real.get(spans.stage))
        for at, (spans, days) in enumerate(zip(stages[: index + 1], published, strict=False))
    )
    windows = (*reached, *_plan_ahead(stages, published, index, start, delay + waiting, today))
    return WayBack(anchor, today, windows, index, delay, waiting, stage_today in real, over > 0, over)


def find_standing(way: WayBack, day: date) -> DateStanding:
    """Which stage `day` falls in at each pace: the last stage that has begun by then.

    Today's stage is reached already. Raises ValueError for a day before today.
    """
    if day < way.today:
        raise ValueError(
            f"{write_date(day)} is in the past: a date that matters must be {write_date(way.today)} or later"
        )
    earliest, usual, latest = (_last_begun(way, day, pace) for pace in PACES)
    return DateStanding(day, earliest, usual, latest)


def _last_begun(way: WayBack, day: date, pace: Pace) -> int:
    reached = [at for at, w in enumerate(way.windows) if w.standing == "ahead" and w.days.at(pace) <= day]
    return max(reached, default=way.today_index)


def _find_workday(day: date) -> date:
    return add_days(day, {5: -1, 6: 1}.get(day.weekday(), 0))


def choose_review(way: WayBack, written: date | None) -> ReviewDay:
    """The day of the next re-check: as written, else the next stage's usual day, 1 to 4 weeks from today.

    A Saturday becomes the Friday before it, a Sunday the Monday after it. All this is a design choice.
    Raises ValueError for a written day before today.
    """
    if written is not None and written < way.today:
        raise ValueError(
            f"the review on {write_date(written)} is in the past: it must be {write_date(way.today)} or later"
        )
    soonest, last = add_days(way.today, 7), add_days(way.today, 28)
    ahead = way.windows[way.today_index + 1 :]
    usual = ahead[0].days.usual if ahead else last
    day = written or _find_workday(min(max(usual, soonest), last))
    formula = (
        "as written"
        if written
        else "the next stage's usual day, not sooner than 1 week and not later than 4 weeks, on the nearest workday"
    )
    inputs = (("today", str(way.today)), ("next stage's usual day", str(usual) if ahead else "none"))
    return ReviewDay(day, written is not None, Why("review date", str(day), formula, inputs, DESIGN_CHOICE))


def list_ahead(way: WayBack, review: ReviewDay | None) -> Iterator[tuple[int, str, StageDays]]:
    """(number from 1, stage, days) of each stage ahead: its window, no part of it before the next visit.

    A stage that has to wait for the visit makes those behind it wait as long, so that each keeps its length. Days
    neither fall within a stage nor from one stage to the next.
    """
    floor = review.day if review else way.today
    waited = timedelta(0)
    latest = date.min
    for number, window in enumerate(way.windows, 1):
        if window.standing != "ahead":
            continue
        usual = max(window.days.usual + waited, floor)
        waited = max(waited, usual - window.days.usual)
        earliest = min(max(window.days.earliest + waited, floor), usual)
        latest = max(window.days.latest, usual, latest)
        yield number, window.stage, StageDays(earliest, usual, latest)


def _explain_pace(way: WayBack, window: StageWindow, pace: Pace) -> tuple[str, tuple[tuple[str, str], ...]]:
    if window.stay_from and pace == "earliest":
        stay = (("stage before", str(window.stay_from)), ("shortest stay", f"{window.stay_days} days"))
        return _EARLIEST_FORMULA, (*stay, ("today", str(way.today)))
    if window.standing == "ahead" and way.shift_days > 0:
        return _SHIFTED_FORMULA, (("delay", f"{way.delay_days} days"), ("waiting", f"{way.waiting_days} days"))
    return _FORMULA, ()


def explain_window(way: WayBack, window: StageWindow) -> tuple[Why, ...]:
    """How the three days of a stage came about."""
    whys = []
    for pace in PACES:
        formula, more = _explain_pace(way, window, pace)
        inputs = (("anchor", str(way.anchor)), ("span", str(getattr(window.spans, pace))), *more)
        name = f"stage '{window.stage}', {pace} day"
        whys.append(Why(name, str(window.days.at(pace)), formula, inputs, window.spans.source))
    return tuple(whys)
