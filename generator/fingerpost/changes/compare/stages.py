"""Stages: grips, gates, grades, and everything else that one stage says."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from fingerpost.changes.compare.amounts import compare_exercises, compare_load, compare_pain, compare_tapings
from fingerpost.changes.compare.audience import compare_told, compare_uses
from fingerpost.changes.compare.difference import Difference, Lean, place, weigh
from fingerpost.changes.compare.fields import Way, compare_fields
from fingerpost.changes.compare.pairs import Pair, is_reordered, pair_by
from fingerpost.changes.compare.times import compare_lengths, compare_windows, say_grade, say_stage
from fingerpost.model.audience import Told, flat
from fingerpost.model.protocol import GripRules, Protocol, Stage

_STRICT = {"keep": 0, "limit": 1, "leave": 2}


def _marks(rules: GripRules) -> dict[str, tuple[str, Told]]:
    """Each grip with its mark and, where it is limited, the condition."""
    limited = {grip: ("limit", limit.when) for limit in rules.limit for grip in limit.grips}
    return dict.fromkeys(rules.keep, ("keep", ())) | limited | dict.fromkeys(rules.leave, ("leave", ()))


def _marks_in_order(rules: GripRules) -> tuple[object, ...]:
    return (rules.keep, tuple(limit.grips for limit in rules.limit), rules.leave)


def _grips(old: GripRules, new: GripRules) -> Iterator[Difference]:
    before, now = _marks(old), _marks(new)
    for grip in [*(g for g in before if g not in now), *now]:
        (was, _), (is_now, when) = before.get(grip, ("", ())), now.get(grip, ("", ()))
        if was == is_now:
            continue
        if was and is_now:
            step = _STRICT[is_now] - _STRICT[was]
            what = f"{grip} is '{is_now}' now, was '{was}'" + (f" (when: {flat(when)})" if when else "")
            yield Difference(lean=weigh(step < 0, step > 0), what=what, path=(is_now,))
        elif is_now:
            lean: Lean = "more-cautious" if is_now == "leave" else "to-judge"
            yield Difference(lean=lean, what=f"{grip} is named now: '{is_now}'", path=(is_now,))
        else:
            yield Difference(lean="to-judge", what=f"{grip} is not named any more (was '{was}')")
    yield from _conditions(before, now, "condition")
    yield from _conditions(_briefs(old), _briefs(new), "brief condition")
    if _marks_in_order(old) != _marks_in_order(new) and sorted(before.items()) == sorted(now.items()):
        yield Difference(lean="wording", what="the same grips in another order or grouping")


def _briefs(rules: GripRules) -> dict[str, tuple[str, Told]]:
    """Each limited grip with the short form of its condition."""
    return {grip: ("limit", limit.brief) for limit in rules.limit for grip in limit.grips}


def _conditions(
    before: Mapping[str, tuple[str, Told]], now: Mapping[str, tuple[str, Told]], called: str
) -> Iterator[Difference]:
    """Conditions of grips that are limited before and now, once for all grips that share a change."""
    changed: dict[tuple[Told, Told], list[str]] = {}
    for grip, (mark, when) in now.items():
        was = before.get(grip, ("", ()))
        if mark == was[0] == "limit" and when != was[1]:
            changed.setdefault((was[1], when), []).append(grip)
    for (was_when, when), grips in changed.items():
        yield from place(compare_told(was_when, when), f"{called} of {', '.join(grips)}", "limit")


_gate = compare_uses("gate", "less-cautious", "more-cautious")


def _skips(old: Sequence[str], new: Sequence[str]) -> Iterator[Difference]:
    for grade in old:
        if grade not in new:
            yield Difference(lean="more-cautious", what=f"{say_grade(grade)} goes through this stage now")
    for grade in new:
        if grade not in old:
            yield Difference(lean="less-cautious", what=f"{say_grade(grade)} goes past this stage now")


def _wall(old: bool, new: bool) -> Iterator[Difference]:
    what = f"the stage is {'on' if new else 'off'} the wall now"
    yield Difference(lean=weigh(new, old), what=what)


def compare_stage(old: Stage, new: Stage, is_loaded: Callable[[str], bool]) -> Iterator[Difference]:
    """Everything that is otherwise in one stage, in the order of the file."""
    ways: dict[str, Way] = {
        "skipped_by": _skips,
        "on_wall": _wall,
        "grips": _grips,
        "load": compare_load,
        "pain": compare_pain,
        "taping": compare_tapings,
        "gate": _gate,
    }
    placed: dict[str, Way] = {
        "windows": compare_windows,
        "exercises": lambda before, now: compare_exercises(before, now, is_loaded),
    }
    yield from compare_fields(old, new, ways, placed)


def _pair_stages(old: Protocol, new: Protocol) -> Iterator[Pair[Stage]]:
    """Stages by id; a stage with a new id is the same one where its name or its milestone is."""
    known = {s.id for s in new.stages} & {s.id for s in old.stages}
    left = [s for s in old.stages if s.id not in known]
    renamed: dict[str, str] = {}
    for stage in (s for s in new.stages if s.id not in known):
        same = [s for s in left if s.name == stage.name or s.milestone == stage.milestone != "none"]
        if same:
            renamed[same[0].id] = stage.id
            left.remove(same[0])
    return pair_by(lambda s: renamed.get(s.id, s.id) if s in old.stages else s.id, old.stages, new.stages)


def compare_stages(old: Protocol, new: Protocol, is_loaded: Callable[[str], bool]) -> Iterator[Difference]:
    """Every stage with the same stage before; stages that came or went; and how much longer each lasts."""
    for pair in _pair_stages(old, new):
        if pair.old and pair.new:
            where = say_stage(new, pair.new)
            found = list(compare_stage(pair.old, pair.new, is_loaded))
            if pair.old.id != pair.new.id:
                what = f"the stage is called '{pair.new.id}' now, was '{pair.old.id}'"
                found.append(Difference(lean="wording", what=what))
            yield from place(found, where, "stages", pair.number)
        elif pair.new:
            what = f"new: {say_stage(new, pair.new)}"
            yield Difference(lean="to-judge", what=what, path=("stages", pair.number))
        elif pair.old:
            what = f"{say_stage(old, pair.old)} is gone"
            yield Difference(lean="less-cautious", what=what, path=("stages",))
    if is_reordered([s.id for s in old.stages], [s.id for s in new.stages]):
        yield Difference(lean="to-judge", what="stages stand in another order", path=("stages",))
    yield from compare_lengths(old, new)
