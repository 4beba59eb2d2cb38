"""What is otherwise than at the last visit: stage, grips, loads, what is worn, measures. Only true differences.

The last visit's stage and today's are both taken from the protocol as it is now. Nothing here says what is good or bad.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from fingerpost.model.masses import write_mass
from fingerpost.plan.base.parts import leaves_all
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.case.situation import Situation
from fingerpost.plan.person.enclosures import chosen_tapings
from fingerpost.plan.person.strength import choose_load
from fingerpost.reckon.visits import find_current, find_last
from fingerpost.reckon.why import DESIGN_CHOICE, Why

Standing = Literal["no", "floor", "limit", "yes"]
_ORDER: tuple[Standing, ...] = ("no", "floor", "limit", "yes")
Kind = Literal["stage", "cleared", "grip", "load", "worn", "measure"]
Measure = Literal["bend", "lack", "round", "pain"]
_FORMULA = "what the last visit's stage says beside what today's says, both from the protocol as it is"


@dataclass(frozen=True, kw_only=True)
class Contrast:
    """One thing that is otherwise. `what`: the id of a grip, an exercise's grip, a taping, or a measure.

    `before` and `now`: the number of a stage, the day of a doctor's clearing, the standing of a grip, a load with its
    unit, a measure; '' where something is not worn.
    """

    kind: Kind
    what: str
    before: str
    now: str


def _list_standings(situation: Situation) -> Mapping[str, Standing]:
    """How each grip stands on the leaf of a situation: off the wall nothing is a yes."""
    stage = situation.stage
    grips = stage.grips
    found: dict[str, Standing] = dict.fromkeys(grips.leave, "no")
    limited = [grip for rule in grips.limit for grip in rule.grips]
    if situation.hold or leaves_all(stage):
        return found | dict.fromkeys((*grips.keep, *limited), "no")
    found |= dict.fromkeys(grips.keep, "yes" if stage.on_wall else "floor")
    return found | dict.fromkeys(limited, "limit" if stage.on_wall else "floor")


def _compare_grips(before: Situation, now: Situation) -> Iterator[Contrast]:
    """What was taken away first, then what was allowed."""
    then, today = _list_standings(before), _list_standings(now)
    moved = [(g.id, then.get(g.id, "no"), today.get(g.id, "no")) for g in now.library.vocabularies.grips]
    changed = [(_ORDER.index(new) > _ORDER.index(old), g, old, new) for g, old, new in moved if old != new]
    for _, grip, old, new in sorted(changed, key=lambda one: one[0]):
        yield Contrast(kind="grip", what=grip, before=old, now=new)


def _list_loads(situation: Situation) -> Mapping[tuple[str, str], tuple[float, float | None]]:
    """(what is on the fingers in kg, of a hang what is added) by exercise and grip, where a load is printed."""
    if situation.hold or situation.stage.load is None:
        return {}
    loaded = {exercise.id for exercise in situation.library.vocabularies.exercises if exercise.loaded}
    found = {}
    for dose in situation.stage.exercises:
        load = choose_load(situation, dose) if dose.exercise in loaded and dose.grip else None
        if load and load.kg is not None and not load.withheld:
            found[dose.exercise, str(dose.grip)] = (load.kg, load.change_kg)
    return found


def _compare_loads(before: Situation, now: Situation) -> Iterator[Contrast]:
    """Loads on the fingers that are printed both times; those of a hang too, whole, so that one word does for both."""
    then, units = _list_loads(before), now.case.units
    told = set()
    for key, (kg, _) in _list_loads(now).items():
        if key not in then:
            continue
        old, new = write_mass(then[key][0], units), write_mass(kg, units)
        if old != new and (key[1], old, new) not in told:
            told.add((key[1], old, new))
            yield Contrast(kind="load", what=key[1], before=old, now=new)


def _list_worn(situation: Situation) -> tuple[str, ...]:
    if situation.hold:
        return ()
    return tuple(taping.id for taping in chosen_tapings(Writer(situation.library), situation))


def _compare_worn(before: Situation, now: Situation) -> Iterator[Contrast]:
    then, today = _list_worn(before), _list_worn(now)
    yield from (Contrast(kind="worn", what=one, before="", now=one) for one in today if one not in then)
    yield from (Contrast(kind="worn", what=one, before=one, now="") for one in then if one not in today)


_MEASURES: tuple[tuple[Measure, str], ...] = (
    ("bend", "bend_degrees"), ("lack", "lack_degrees"), ("round", "round_mm"), ("pain", "pain"),
)  # fmt: skip


def _compare_measures(now: Situation) -> Iterator[Contrast]:
    last, current = find_last(now.case, now.today), find_current(now.case, now.today)
    for name, key in _MEASURES:
        then, today = getattr(last, key, None), getattr(current, key, None)
        if then is not None and today is not None and then != today:
            yield Contrast(kind="measure", what=name, before=f"{then:g}", now=f"{today:g}")


def list_changes(situation: Situation) -> tuple[Contrast, ...]:
    """What is otherwise than at the last visit, the most important first; the stage always, moved on or not.

    Nothing where there was no visit before, and nothing where a stop is printed.
    """
    before = situation.before
    if before is None or situation.hold:
        return ()
    moved = _compare_stage(before, situation)
    return (
        moved,
        *_compare_grips(before, situation),
        *_compare_loads(before, situation),
        *_compare_worn(before, situation),
        *_compare_measures(situation),
    )


def _compare_stage(before: Situation, situation: Situation) -> Contrast:
    """Which stage it was and is; where a stop was printed, which tells no stage, only that a doctor has cleared it."""
    if before.hold:
        return Contrast(kind="cleared", what=before.hold, before="", now=str(situation.case.doctor_cleared))
    numbers = (situation.stages.index(situation.stage), [s.id for s in situation.stages].index(before.stage.id))
    now, then = (str(number + 1) for number in numbers)
    return Contrast(kind="stage", what=situation.stage.id, before=then, now=now)


def explain_changes(situation: Situation) -> Iterator[Why]:
    """Where each difference comes from."""
    last = find_last(situation.case, situation.today)
    for change in list_changes(situation) if last else ():
        label = f"since the last visit: {change.kind} '{change.what}'"
        told = (("last visit", str(last.date)), ("its stage", last.stage)) if last else ()
        inputs = (*told, ("then", change.before or "none"), ("now", change.now or "none"))
        formula = "measured then beside measured now" if change.kind == "measure" else _FORMULA
        yield Why(label, change.now or "none", formula, inputs, DESIGN_CHOICE)
