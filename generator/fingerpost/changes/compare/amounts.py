"""How much: load, pain, exercises and tape. More of what loads a finger is less cautious."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from fingerpost.changes.compare.audience import compare_reach, compare_uses, say_for
from fingerpost.changes.compare.cited import compare_source, new_source, published
from fingerpost.changes.compare.difference import Difference, Lean, place, weigh
from fingerpost.changes.compare.pairs import is_reordered, pair_by
from fingerpost.model.protocol import Dose, Load, PainLimit, TapeUse

_AMOUNT = (
    ("sets", "sets"),
    ("repeats", "repeats"),
    ("hold_seconds", "seconds of holding"),
    ("times_a_day", "times a day"),
    ("days_a_week", "days a week"),
)


def compare_load(old: Load | None, new: Load | None) -> Iterator[Difference]:
    """The share of the baseline. Where either end is raised, it is less cautious."""
    if old and new:
        backing = new_source([old.source], [new.source])
        if (old.least, old.most) != (new.least, new.most):
            raised = new.least > old.least or new.most > old.most
            what = f"{new.least} to {new.most} % of the baseline, was {old.least} to {old.most} %"
            yield Difference(lean=weigh(raised, not raised), what=what, source=backing, asked=True)
        yield from compare_source(old.source, new.source)
    elif new:
        what = f"the finger is loaded now: {new.least} to {new.most} % of the baseline"
        yield Difference(lean="less-cautious", what=what, source=published(new.source), asked=True)
    elif old:
        what = f"the finger is not loaded any more (was {old.least} to {old.most} %)"
        yield Difference(lean="more-cautious", what=what)


def compare_pain(old: PainLimit, new: PainLimit) -> Iterator[Difference]:
    """The most pain that is accepted."""
    step = new.most - old.most
    if step:
        backing = new_source([old.source], [new.source])
        what = f"pain up to {new.most} out of 10 is accepted, was {old.most}"
        yield Difference(lean=weigh(step > 0, step < 0), what=what, source=backing, asked=True)
    yield from compare_source(old.source, new.source)


def say_dose(dose: Dose) -> str:
    """A dose in short, without its source."""
    said = [f"{getattr(dose, key)} {unit}" for key, unit in _AMOUNT if getattr(dose, key) is not None]
    return ", ".join([*said, f"{dose.rest_seconds} seconds of rest"] if dose.rest_seconds else said)


def _dose(old: Dose, new: Dose, loaded: bool) -> Iterator[Difference]:
    said = [
        f"{getattr(new, key) or 'no'} {unit}, was {getattr(old, key) or 'none'}"
        for key, unit in (*_AMOUNT, ("rest_seconds", "seconds of rest"))
        if getattr(old, key) != getattr(new, key)
    ]
    if said:
        more = any((getattr(new, k) or 0) > (getattr(old, k) or 0) for k, _ in _AMOUNT)
        fewer = any((getattr(new, k) or 0) < (getattr(old, k) or 0) for k, _ in _AMOUNT)
        less_rest, more_rest = new.rest_seconds < old.rest_seconds, new.rest_seconds > old.rest_seconds
        lean = weigh(more or less_rest, fewer or more_rest) if loaded else "to-judge"
        backing = new_source([old.source], [new.source])
        yield Difference(lean=lean, what="; ".join(said), source=backing, asked=True)
    if old.grip != new.grip:
        what = f"in the grip {new.grip or 'of choice'}, was {old.grip or 'of choice'}"
        yield Difference(lean="to-judge", what=what)
    if old.for_ != new.for_:
        fewer, more = compare_reach(old.for_, new.for_)
        what = f"is for {say_for(new.for_)}, was for {say_for(old.for_)}"
        yield Difference(lean=weigh(more, fewer) if loaded else "to-judge", what=what)
    yield from compare_source(old.source, new.source)


def compare_exercises(
    old: Sequence[Dose], new: Sequence[Dose], is_loaded: Callable[[str], bool]
) -> Iterator[Difference]:
    """Exercises and their doses. Only for those that load the finger it can be told which way a change leans."""
    for pair in pair_by(lambda dose: dose.exercise, old, new):
        if pair.old and pair.new:
            found = _dose(pair.old, pair.new, is_loaded(pair.new.exercise))
            yield from place(found, f"exercise {pair.new.exercise}", "exercises", pair.number)
        elif pair.new:
            lean: Lean = "less-cautious" if is_loaded(pair.new.exercise) else "to-judge"
            what = f"new exercise {pair.new.exercise}: {say_dose(pair.new)}"
            path = ("exercises", pair.number)
            source = published(pair.new.source)
            yield Difference(lean=lean, what=what, path=path, source=source, asked=True)
        elif pair.old:
            lean = "more-cautious" if is_loaded(pair.old.exercise) else "to-judge"
            yield Difference(lean=lean, what=f"exercise {pair.old.exercise} is gone", path=("exercises",))
    if is_reordered([d.exercise for d in old], [d.exercise for d in new]):
        yield Difference(lean="wording", what="the same exercises in another order", path=("exercises",))


_compare_uses = compare_uses("taping", "less-cautious", "more-cautious")


def compare_tapings(old: Sequence[TapeUse], new: Sequence[TapeUse]) -> Iterator[Difference]:
    """Tape and splints: what is gone, or reaches fewer people, is less cautious."""
    yield from _compare_uses(old, new)
    for pair in pair_by(lambda use: use.taping, old, new):
        if pair.old and pair.new and pair.old.by_choice != pair.new.by_choice:
            says = "only where a clinician chooses it" if pair.new.by_choice else "without a choice"
            yield Difference(lean="to-judge", what=f"{pair.new.taping} is printed {says} now", path=(pair.number,))
