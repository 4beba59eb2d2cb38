"""When each stage may begin: windows from the anchor, and how a real delay moves the later ones.

All results are days of the calendar. Weeks are weeks and months are calendar months: 31 January + 1 month is the
last day of February. Sources: the spans themselves carry theirs; the follow-up rule is a design choice.
"""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import MAXYEAR, date, timedelta
from itertools import pairwise
from typing import Literal

from generator.model.protocol import Stage
from generator.model.times import Span, read_span, write_date
from generator.model.words import Id
from generator.reckon.why import ARITHMETIC, DESIGN_CHOICE, Fault, Why

Pace = Literal["earliest", "usual", "latest"]
PACES: tuple[Pace, ...] = ("earliest", "usual", "latest")
_FORMULA = "anchor + span, never before the stage before it"
_SHIFTED_FORMULA = (
    "anchor + span + delay + waiting, never before today; delay = real day minus usual day of "
    "the latest begun stage, waiting = today minus the next stage's usual day, neither below 0"
)


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
        return StageDays(*(max(_add_days(self.at(pace), days), not_before) for pace in PACES))


@dataclass(frozen=True)
class Begun:
    """A stage and the day on which it really began."""

    stage: Id
    day: date


@dataclass(frozen=True)
class StageWindow:
    """One stage on the way back. `published` counts from the anchor alone, `days` has the real delay in it.

    Past stages and today's keep their published days; `began` is the real one where it is known.
    """

    stage: Id
    spans: StageSpans
    published: StageDays
    days: StageDays
    standing: Literal["past", "today", "ahead"]
    began: date | None = None


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
class TapingEnd:
    """When taping ends. `held_back`: full climbing comes later than the published end, so taping goes on until then."""

    day: date
    published: date
    held_back: bool
    why: Why


@dataclass(frozen=True)
class ReviewDay:
    """When the next re-check is. `written`: the clinician set it; if not it is only a proposal."""

    day: date
    written: bool
    why: Why


def _add_days(day: date, days: int) -> date:
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
        return _add_days(day, span.count * (7 if span.unit == "weeks" else 1))
    year, month = divmod(day.year * 12 + day.month - 1 + span.count, 12)
    if not 1 <= year <= MAXYEAR:
        raise ValueError(f"{span} after {day} is beyond the year {MAXYEAR}")
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def list_spans(stages: Sequence[Stage], grade: str) -> tuple[StageSpans, ...]:
    """The published spans of every stage that a grade goes through, in order.

    Empty when no stage has windows (a stop protocol). Raises ValueError when only some stages have them.
    """
    ahead = [stage for stage in stages if grade not in stage.skipped_by]
    found = [(stage, window) for stage in ahead for window in stage.windows if window.grade == grade]
    missing = [stage.id for stage in ahead if stage.id not in {stage.id for stage, _ in found}]
    if found and missing:
        raise ValueError(f"stage '{missing[0]}' has no window for grade {grade}")
    return tuple(
        StageSpans(stage.id, read_span(w.earliest), read_span(w.usual), read_span(w.latest), w.source)
        for stage, w in found
    )


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


def reckon_way_back(
    anchor: date, today: date, stages: Sequence[StageSpans], stage_today: Id, begun: Sequence[Begun] = ()
) -> WayBack:
    """Every stage's window with the real delay in it.

    delay = the latest begun stage's real day minus its published usual day, not below 0. A stage ahead moves by the
    delay, all three of its days alike; so it is never before its published day, and never before today, since it has
    not begun. Where the next stage's usual day is past, that waiting is a delay too.
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
    windows = tuple(
        StageWindow(spans.stage, spans, days, days, "today" if at == index else "past", real.get(spans.stage))
        if at <= index
        else StageWindow(spans.stage, spans, days, days.shift(delay + waiting, today), "ahead")
        for at, (spans, days) in enumerate(zip(stages, published, strict=True))
    )
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


def place_date(windows: Sequence[StageDays], day: date) -> DateStanding:
    """The same for published days alone, where nobody has set a stage."""
    earliest, usual, latest = (
        max((at for at, days in enumerate(windows) if days.at(pace) <= day), default=None) for pace in PACES
    )
    return DateStanding(day, earliest, usual, latest)


def _last_begun(way: WayBack, day: date, pace: Pace) -> int:
    reached = [at for at, w in enumerate(way.windows) if w.standing == "ahead" and w.days.at(pace) <= day]
    return max(reached, default=way.today_index)


def find_taping_end(anchor: date, span: Span, full_climbing: date | None, source: str = ARITHMETIC) -> TapingEnd:
    """The end of taping: anchor + span, but never before the (shifted) usual day of full climbing."""
    published = add_span(anchor, span)
    day = max(published, full_climbing or published)
    inputs = (
        ("anchor", str(anchor)),
        ("span", str(span)),
        ("usual day of full climbing", str(full_climbing or "none")),
    )
    formula = "the later of anchor + span and the usual day of full climbing"
    return TapingEnd(day, published, day > published, Why("end of taping", str(day), formula, inputs, source))


def _find_workday(day: date) -> date:
    return _add_days(day, {5: -1, 6: 1}.get(day.weekday(), 0))


def choose_review(way: WayBack, written: date | None) -> ReviewDay:
    """The day of the next re-check: as written, else the next stage's usual day, 1 to 4 weeks from today.

    A Saturday becomes the Friday before it, a Sunday the Monday after it. All this is a design choice.
    Raises ValueError for a written day before today.
    """
    if written is not None and written < way.today:
        raise ValueError(
            f"the review on {write_date(written)} is in the past: it must be {write_date(way.today)} or later"
        )
    soonest, last = _add_days(way.today, 7), _add_days(way.today, 28)
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


def explain_window(way: WayBack, window: StageWindow) -> tuple[Why, ...]:
    """How the three days of a stage came about."""
    moved = window.standing == "ahead" and way.shift_days > 0
    return tuple(
        Why(
            f"stage '{window.stage}', {pace} day",
            str(window.days.at(pace)),
            _SHIFTED_FORMULA if moved else _FORMULA,
            (("anchor", str(way.anchor)), ("span", str(getattr(window.spans, pace))))
            + ((("delay", f"{way.delay_days} days"), ("waiting", f"{way.waiting_days} days")) if moved else ()),
            window.spans.source,
        )
        for pace in PACES
    )
