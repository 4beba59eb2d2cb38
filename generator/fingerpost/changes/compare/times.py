"""When things begin and how long they last. Later is more cautious."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from fingerpost.changes.compare.cited import compare_source, new_source, published
from fingerpost.changes.compare.difference import Difference, place, weigh
from fingerpost.changes.compare.pairs import Pair, is_reordered, pair_by
from fingerpost.model.protocol import Protocol, Stage, Window
from fingerpost.model.times import Span

_WHEN = (
    ("earliest", "begins at the earliest after"),
    ("usual", "usually begins after"),
    ("latest", "begins at the latest after"),
)


def say_days(days: float) -> str:
    """A length in days as a person says it: '4 days', 'about 30 days'."""
    whole = round(days)
    return f"{'' if abs(days - whole) < 1e-6 else 'about '}{whole} day{'' if whole == 1 else 's'}"


def compare_span(old: Span, new: Span, says: str, source: str) -> Iterator[Difference]:
    """A time: later is more cautious. The same length in another unit is wording."""
    if old == new:
        return
    gap = new.rough_days - old.rough_days
    if abs(gap) < 1e-6:
        yield Difference(lean="wording", what=f"{says} {new}, the same as {old}")
        return
    way = f"{say_days(abs(gap))} {'later' if gap > 0 else 'earlier'}"
    lean = weigh(gap < 0, gap > 0)
    yield Difference(lean=lean, what=f"{says} {new}, was {old} ({way})", source=source, asked=True)


def say_stage(protocol: Protocol, stage: Stage) -> str:
    """Stage 2 'move'."""
    return f"stage {protocol.stages.index(stage) + 1} '{stage.id}'"


def say_grade(grade: str) -> str:
    return "all grades" if grade == "any" else f"grade {grade}"


def _maximal_test(old: Span | None, new: Span | None, backing: str) -> Iterator[Difference]:
    if old and new:
        yield from compare_span(old, new, "allows a maximal test after", backing)
    elif old != new:
        given = f"a day is given for the maximal test, {new}"
        what = given if new else f"no day is given for the maximal test any more (was {old})"
        yield Difference(lean=weigh(new is None, new is not None), what=what)


def _window(pair: Pair[Window]) -> Iterator[Difference]:
    old, new = pair.old, pair.new
    if old and new:
        backing = new_source([old.source], [new.source])
        for key, says in _WHEN:
            yield from compare_span(getattr(old, key), getattr(new, key), says, backing)
        yield from _maximal_test(old.maximal_test, new.maximal_test, backing)
        yield from compare_source(old.source, new.source)
    elif new:
        what = f"has a window now: {new.earliest}, {new.usual}, {new.latest}"
        yield Difference(lean="less-cautious", what=what, source=published(new.source), asked=True)
    elif old:
        what = f"has no window any more (was {old.earliest}, {old.usual}, {old.latest})"
        yield Difference(lean="more-cautious", what=what)


def compare_windows(old: Sequence[Window], new: Sequence[Window]) -> Iterator[Difference]:
    """When a stage may begin, grade by grade."""
    for pair in pair_by(lambda window: window.grade, old, new):
        path = ("windows", pair.number) if pair.new else ("windows",)
        where = say_grade((pair.new or pair.old or old[0]).grade)
        yield from place(_window(pair), where, *path)
    if is_reordered([w.grade for w in old], [w.grade for w in new]):
        yield Difference(lean="wording", what="the same windows in another order", path=("windows",))


def _say_length(start: Span, following: Span, days: float) -> str:
    if start.unit == following.unit:
        return str(Span(following.number - start.number, start.unit))
    return say_days(days)


def list_lengths(protocol: Protocol) -> dict[tuple[str, str], tuple[float, str]]:
    """How long each stage usually lasts: (stage, grade) -> (days, in words from its start to the next one's)."""
    lengths = {}
    for grade in protocol.grades:
        starts = [(s.id, w.usual) for s in protocol.stages for w in s.windows if w.grade == grade.id]
        for (stage, start), (_, following) in pairwise(starts):
            days = following.rough_days - start.rough_days
            lengths[(stage, grade.id)] = (days, _say_length(start, following, days))
    return lengths


def compare_lengths(old: Protocol, new: Protocol) -> Iterator[Difference]:
    """How much longer or shorter each stage is. It follows from the windows, so it leans no way of its own."""
    before = list_lengths(old)
    for (stage, grade), (days, says) in list_lengths(new).items():
        was = before.get((stage, grade))
        if was and abs(days - was[0]) > 1e-6:
            number = next(n for n, s in enumerate(new.stages) if s.id == stage)
            where = f"{say_stage(new, new.stages[number])}, {say_grade(grade)}"
            way = "longer" if days > was[0] else "shorter"
            what = f"usually lasts {says}, was {was[1]} ({way})"
            yield Difference(lean="follows", what=what, where=where, path=("stages", number, "windows"))
