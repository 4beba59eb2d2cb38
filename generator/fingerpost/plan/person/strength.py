"""Strength tests and loads on paper: the two hands compared, and what a stage's share comes to for this person."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, TypeGuard

from fingerpost.model.case import Case, Hands
from fingerpost.model.masses import Units, from_kg, write_mass
from fingerpost.model.protocol import Dose, Load
from fingerpost.model.words import Hand, Id
from fingerpost.plan.base.blocks import Block, Box, Drawing, Paragraph, Table
from fingerpost.plan.base.parts import pick, table
from fingerpost.plan.base.pictures import StrengthPicture
from fingerpost.plan.base.prose import Writer, capital, uncapital
from fingerpost.plan.base.runs import Run, Words, text
from fingerpost.plan.case.situation import Situation
from fingerpost.reckon.goal import Goal, reckon_goal
from fingerpost.reckon.loads import (
    HandComparison,
    Measured,
    Reference,
    Target,
    TestKey,
    body_kg,
    choose_reference,
    compare_hands,
    keep_below,
    list_keys,
    measure,
    pick_latest,
    plate_of,
    reckon_target,
    step_of,
)
from fingerpost.reckon.why import Why, add_inputs

BARS_MM = 110.0


def measured_tests(case: Case) -> tuple[Measured, ...]:
    return tuple(measure(b, body_kg(case)) for b in case.baselines)


@dataclass(frozen=True, kw_only=True)
class GripGoal:
    """What the sore hand must pull in one grip. `pair`: healthy and sore hand, and `goal`; None: not tested yet."""

    grip: str
    pair: tuple[Measured, Measured] | None
    goal: Goal | None


def _find_pair(case: Case, grip: Id) -> tuple[Measured, Measured] | None:
    """(healthy hand, sore hand) in the latest kind of test of a grip that both hands have done since the injury."""
    tests = [t for t in measured_tests(case) if t.key.grip == grip and t.key.hands == "one" and not t.before_injury]
    pairs = []
    for key in list_keys(tests):
        sore, healthy = ([t for t in tests if t.key == key and (t.hand == case.hand) is own] for own in (True, False))
        pairs += [(pick_latest(healthy), pick_latest(sore))] if sore and healthy else []
    return max(pairs, key=lambda pair: pair[0].day, default=None)


def list_goals(writer: Writer, situation: Situation, share_percent: int) -> tuple[GripGoal, ...]:
    """The goal in each grip that today's stage trains with a load, in the order of its exercises."""
    vocabularies, case = writer.library.vocabularies, situation.case
    loaded = {exercise.id for exercise in vocabularies.exercises if exercise.loaded}
    names = {grip.id: uncapital(grip.name.partition(" (")[0]) for grip in vocabularies.grips}
    goals = []
    for grip in dict.fromkeys(d.grip for d in situation.stage.exercises if d.grip and d.exercise in loaded):
        pair = _find_pair(case, grip)
        goal = reckon_goal(pair[0].best_kg, share_percent, case.units) if pair else None
        goals.append(GripGoal(grip=names[grip], pair=pair, goal=goal))
    return tuple(goals)


def explain_goals(writer: Writer, situation: Situation) -> Iterator[Why]:
    """How each goal of a strength test came about, where both hands were tested."""
    shares = {gate.id: gate.strength for gate in writer.library.vocabularies.gates if gate.strength}
    for share in (shares[use.gate] for use in situation.stage.gate if use.gate in shares):
        for one in list_goals(writer, situation, share):
            if one.goal and one.pair:
                edge = f"{one.pair[0].key.edge_mm:g} mm"
                yield add_inputs(one.goal.why, ("grip", one.grip), ("edge", edge))


def _key_words(writer: Writer, key: TestKey) -> str:
    grip = next(g.name for g in writer.library.vocabularies.grips if g.id == key.grip)
    return writer.say(f"test-key-{key.hands}-{key.method}", grip=grip, edge=f"{key.edge_mm:g}\u00a0mm")


def _verdict(writer: Writer, comparison: HandComparison, injured: Hand) -> str:
    return writer.say(
        f"verdict-{comparison.verdict}",
        hand=injured,
        percent=f"{abs(comparison.difference_percent):g}",
        share=comparison.share_percent,
        apart=f"{comparison.apart_percent:g}",
    )


def _best_of(tests: tuple[Measured, ...], key: TestKey, hand: Hand, units: Units) -> str:
    own = [t for t in tests if t.key == key and t.hand == hand and not t.before_injury]
    return write_mass(max(own, key=lambda t: t.day).best_kg, units) if own else "–"


def comparison_table(writer: Writer, situation: Situation) -> Table | None:
    """The injured and the other hand side by side for each kind of test, with what can be told from it."""
    case = situation.case
    tests = measured_tests(case)
    other: Hand = "left" if case.hand == "right" else "right"
    rows: list[tuple[Words, ...]] = []
    for key in list_keys(tests):
        comparison = compare_hands(tests, case.hand, key, case.units)
        says = _verdict(writer, comparison, case.hand) if comparison else writer.say("verdict-none")
        rows.append(
            (
                text(_key_words(writer, key)),
                text(_best_of(tests, key, case.hand, case.units)),
                text(_best_of(tests, key, other, case.units)),
                text(says),
            )
        )
    if not rows:
        return None
    head = (
        writer.say("head-test"),
        writer.say("head-hand", hand=case.hand),
        writer.say("head-hand", hand=other),
        writer.say("head-verdict"),
    )
    return table(writer.say("caption-strength"), head, rows)


def find_reference(case: Case, dose: Dose) -> Reference | None:
    """The reference for a loaded exercise: the same grip; one-handed tests before two-handed ones."""
    tests = measured_tests(case)
    keys = sorted((k for k in list_keys(tests) if k.grip == dose.grip), key=lambda k: k.hands == "both")
    found = (choose_reference(tests, case.hand, key) for key in keys)
    return next((r for r in found if r), None)


def reckon_loads(case: Case, load: Load, reference: Reference) -> tuple[Target, Target]:
    """The least and the most load of a stage for one reference."""
    test = reference.measured
    least, most = (
        reckon_target(test.best_kg, share, test.key.method, body_kg(case), plate_of(case), case.units)
        for share in (load.least, load.most)
    )
    return least, most


def _target_words(writer: Writer, target: Target, units: Units) -> str:
    whole = write_mass(target.kg, units)
    if target.change_kg is None:
        return whole
    name = "target-add" if target.change_kg >= 0 else "target-take-off"
    return writer.say(name, change=write_mass(abs(target.change_kg), units), whole=whole)


def _find_own_best(case: Case, key: TestKey) -> float | None:
    """What the injured hand itself has held in the same test, kg."""
    own = [t.best_kg for t in measured_tests(case) if t.key == key and t.hand == case.hand and not t.before_injury]
    return max(own, default=None)


def _falls_short(own: float | None, least: Target) -> TypeGuard[float]:
    """Whether even the least load of a stage is no less than the injured hand has ever held."""
    return own is not None and own <= least.kg


def find_withheld_loads(situation: Situation) -> Iterator[tuple[Dose, TestKey, float, Target]]:
    """Each exercise whose load is not printed: (dose, which test, what the injured hand held in kg, the least load)."""
    case, load = situation.case, situation.stage.load
    for dose in situation.stage.exercises if load else ():
        reference = find_reference(case, dose) if dose.grip else None
        if load is None or reference is None:
            continue
        key = reference.measured.key
        least, own = reckon_loads(case, load, reference)[0], _find_own_best(case, key)
        if _falls_short(own, least):
            yield dose, key, own, least


def _ceiling(writer: Writer, case: Case, key: TestKey, own: float | None) -> str:
    """What bounds a load beside the stage's share, which counts from the healthy hand."""
    if key.hands == "both":
        return ""
    if own is None:
        return writer.say("own-best-none", hand=case.hand)
    return writer.say("own-best", hand=case.hand, own=write_mass(own, case.units))


def load_line(writer: Writer, situation: Situation, dose: Dose) -> Words:
    """What load to train with, from this person's own test; or that a test is missing."""
    case, load = situation.case, situation.stage.load
    if load is None:
        return ()
    reference = find_reference(case, dose)
    if reference is None:
        return text(writer.say("no-reference"))
    units, test = case.units, reference.measured
    least, most = reckon_loads(case, load, reference)
    own = _find_own_best(case, test.key)
    if _falls_short(own, least):
        too_much = write_mass(least.kg, units)
        return text(writer.say("own-best-below", hand=case.hand, own=write_mass(own, units), least=too_much))
    one_handed = own is not None and test.key.hands == "one"
    top = keep_below(most, own, plate_of(case), units) if own is not None and one_handed else most
    capped = {"hand": case.hand, "own": write_mass(own, units)} if own is not None and top != most else {}
    says = writer.say(
        "your-load-capped" if capped else "your-load",
        least=_target_words(writer, least, units),
        most=_target_words(writer, top, units),
        **capped,
        low=load.least,
        high=load.most,
        reference=writer.say(f"reference-{reference.kind}", hand=test.hand, best=write_mass(test.best_kg, units)),
        edge=f"{test.key.edge_mm:g}",
        plate=write_mass(float(step_of(plate_of(case), units)), units),
    )
    ceiling = "" if capped else _ceiling(writer, case, test.key, own)
    return (Run(says), writer.mark(load.source), Run(f". {ceiling}".rstrip()))


def bars_picture(
    title: str, tests: Sequence[tuple[str, Measured]], units: Units, goal: Goal | None, goal_said: str
) -> StrengthPicture:
    """Tests of one kind as bars, each with its name."""
    return StrengthPicture(
        title=title,
        rows=tuple((name, from_kg(t.best_kg, units), write_mass(t.best_kg, units)) for name, t in tests),
        goal=from_kg(goal.kg, units) if goal else None,
        goal_said=goal_said if goal else "",
    )


def _list_bars(case: Case, key: TestKey) -> tuple[tuple[Literal["now", "before"], Measured], ...]:
    """The sore hand today between the healthy one today and itself before the injury, the latest test of each.

    Nothing where it has not been tested since, or has nothing beside it.
    """
    tests = [t for t in measured_tests(case) if t.key == key]
    bars: list[tuple[Literal["now", "before"], Measured]] = []
    for sore, before in ((False, False), (True, False), (True, True)):
        own = [t for t in tests if (t.hand == case.hand) is sore and t.before_injury is before]
        if own:
            bars.append(("before" if before else "now", pick_latest(own)))
    tested = any(when == "now" and test.hand == case.hand for when, test in bars)
    return tuple(bars) if tested and len(bars) > 1 else ()


def strength_chart(writer: Writer, situation: Situation) -> Drawing | None:
    """One kind of test as bars with the goal to reach, if there is one; None where there is nothing to compare.

    The kind: the one that the stage has a goal for, else the one with most bars.
    """
    case = situation.case
    gates = pick(writer.library.vocabularies.gates, (use.gate for use in situation.stage.gate))
    share = next((gate.strength for gate in gates if gate.strength), None)
    goals = {g.pair[0].key: g.goal for g in (list_goals(writer, situation, share) if share else ()) if g.pair}
    keys = [key for key in list_keys(measured_tests(case)) if key.hands == "one"]
    shown = max(keys, key=lambda key: (key in goals, len(_list_bars(case, key))), default=None)
    if shown is None or not (bars := _list_bars(case, shown)):
        return None
    goal, healthy = goals.get(shown), "left" if case.hand == "right" else "right"
    named = tuple((capital(writer.say(f"bar-{when}", hand=test.hand)), test) for when, test in bars)
    said = "; ".join(f"{name} {write_mass(test.best_kg, case.units)}" for name, test in named)
    aim = writer.say("bars-goal", goal=write_mass(goal.kg, case.units), share=share, hand=healthy) if goal else ""
    title = writer.say("bars-title", test=_key_words(writer, shown), bars="; ".join(filter(None, (said, aim))))
    picture = bars_picture(title, named, case.units, goal, aim)
    caption = text(writer.say("bars-caption", test=_key_words(writer, shown)))
    return Drawing(name="strength", picture=picture, caption=caption, width_mm=BARS_MM)


def strength_blocks(writer: Writer, situation: Situation) -> tuple[Block, ...]:
    """One kind of test as bars, the table of all, and what the shares rest on; nothing without tests."""
    tests = comparison_table(writer, situation)
    if tests is None:
        return ()
    chart = strength_chart(writer, situation)
    note = Box(
        level="note",
        title=writer.say("strength-note-title"),
        lines=(writer.words(writer.say("strength-note-apart")), text(writer.say("strength-note-shares"))),
    )
    return (Paragraph(words=text(writer.say("strength-intro"))), *((chart,) if chart else ()), tests, note)


def explain_loads(situation: Situation) -> Iterator[Why]:
    """How every load and comparison on the sheets came about."""
    case = situation.case
    tests = measured_tests(case)
    for key in list_keys(tests):
        comparison = compare_hands(tests, case.hand, key, case.units)
        if comparison:
            yield comparison.why
    for dose in situation.stage.exercises:
        reference = find_reference(case, dose) if dose.grip else None
        if situation.stage.load and reference:
            least, most = reckon_loads(case, situation.stage.load, reference)
            own = _find_own_best(case, reference.measured.key)
            for name, target in (("least", least), ("most", most)):
                yield add_inputs(target.why, ("exercise", dose.exercise), ("load of the stage", name))
            if own is not None and reference.measured.key.hands == "one" and own <= most.kg:
                why = keep_below(most, own, plate_of(case), case.units).why
                yield add_inputs(why, ("exercise", dose.exercise))


@dataclass(frozen=True, kw_only=True)
class DoseLoad:
    """The one load of an exercise for this person. `kg` is on the fingers; None: nothing known, so it is left open.

    `change_kg`: of a hang, what is added to the body's weight, or taken off it. `withheld`: even the least load of the
    stage is no less than what the sore hand has held, so that only the clinician can choose one.
    """

    hands: Hands
    edge_mm: float = 0.0
    kg: float | None = None
    change_kg: float | None = None
    withheld: bool = False


def choose_load(situation: Situation, dose: Dose) -> DoseLoad:
    """The load to begin with: the least of the stage, which only a clinician raises."""
    reference = find_reference(situation.case, dose) if dose.grip else None
    if reference is None or situation.stage.load is None:
        return DoseLoad(hands="one")
    key = reference.measured.key
    least = reckon_loads(situation.case, situation.stage.load, reference)[0]
    withheld = _falls_short(_find_own_best(situation.case, key), least)
    return DoseLoad(hands=key.hands, edge_mm=key.edge_mm, kg=least.kg, change_kg=least.change_kg, withheld=withheld)
