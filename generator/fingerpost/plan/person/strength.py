"""Strength tests and loads on paper: the two hands compared, and what a stage's share comes to for this person."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeGuard

from fingerpost.model.case import Case, Hands
from fingerpost.model.protocol import Dose, Load
from fingerpost.model.words import Hand
from fingerpost.plan.base.blocks import Block, Box, Paragraph, Run, Table, Words, text
from fingerpost.plan.base.parts import table
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.case.situation import Situation
from fingerpost.reckon.goal import reckon_goal
from fingerpost.reckon.loads import (
    DEFAULT_PLATE_KG,
    HandComparison,
    Measured,
    Reference,
    Target,
    TestKey,
    choose_reference,
    compare_hands,
    keep_below,
    list_keys,
    measure,
    reckon_target,
)
from fingerpost.reckon.why import Why


def write_kg(kg: float) -> str:
    """12.5 kg, 12 kg: no more digits than a plate has."""
    return f"{round(kg, 2):g} kg"


def measured_tests(case: Case) -> tuple[Measured, ...]:
    return tuple(measure(b, case.body_mass_kg) for b in case.baselines)


def find_pair(case: Case) -> tuple[Measured, Measured] | None:
    """(healthy hand, sore hand) of the first test that both hands have done since the injury."""
    tests = [t for t in measured_tests(case) if not t.before_injury and t.key.hands == "one"]
    own = [t for t in tests if t.hand == case.hand]
    return next(((a, b) for a in tests if a.hand != case.hand for b in own if a.key == b.key), None)


def explain_goal(writer: Writer, situation: Situation) -> Iterator[Why]:
    """How the goal of the strength test came about, where the stage has one and both hands were tested."""
    pair = find_pair(situation.case)
    shares = {gate.id: gate.strength for gate in writer.library.vocabularies.gates if gate.strength}
    for use in situation.stage.gate:
        if pair and use.gate in shares:
            yield reckon_goal(pair[0].best_kg, shares[use.gate]).why


def _key_words(writer: Writer, key: TestKey) -> str:
    grip = next(g.name for g in writer.library.vocabularies.grips if g.id == key.grip)
    return writer.say(f"test-key-{key.hands}-{key.method}", grip=grip, edge=f"{key.edge_mm:g}")


def _verdict(writer: Writer, comparison: HandComparison, injured: Hand) -> str:
    return writer.say(
        f"verdict-{comparison.verdict}",
        hand=injured,
        percent=f"{abs(comparison.difference_percent):g}",
        share=comparison.share_percent,
        apart=f"{comparison.apart_percent:g}",
    )


def _best_of(tests: tuple[Measured, ...], key: TestKey, hand: Hand) -> str:
    own = [t for t in tests if t.key == key and t.hand == hand and not t.before_injury]
    return write_kg(max(own, key=lambda t: t.day).best_kg) if own else "–"


def comparison_table(writer: Writer, situation: Situation) -> Table | None:
    """The injured and the other hand side by side for each kind of test, with what can be told from it."""
    case = situation.case
    tests = measured_tests(case)
    other: Hand = "left" if case.hand == "right" else "right"
    rows: list[tuple[Words, ...]] = []
    for key in list_keys(tests):
        comparison = compare_hands(tests, case.hand, key)
        says = _verdict(writer, comparison, case.hand) if comparison else writer.say("verdict-none")
        rows.append(
            (
                text(_key_words(writer, key)),
                text(_best_of(tests, key, case.hand)),
                text(_best_of(tests, key, other)),
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
        reckon_target(test.best_kg, share, test.key.method, case.body_mass_kg, case.plate_kg)
        for share in (load.least, load.most)
    )
    return least, most


def _target_words(writer: Writer, target: Target) -> str:
    if target.change_kg is None:
        return write_kg(target.kg)
    name = "target-add" if target.change_kg >= 0 else "target-take-off"
    return writer.say(name, kg=write_kg(abs(target.change_kg)), whole=write_kg(target.kg))


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
    return writer.say("own-best", hand=case.hand, kg=write_kg(own))


def load_line(writer: Writer, situation: Situation, dose: Dose) -> Words:
    """What load to train with, from this person's own test; or that a test is missing."""
    load = situation.stage.load
    if load is None:
        return ()
    reference = find_reference(situation.case, dose)
    if reference is None:
        return text(writer.say("no-reference"))
    least, most = reckon_loads(situation.case, load, reference)
    test = reference.measured
    own = _find_own_best(situation.case, test.key)
    if _falls_short(own, least):
        return text(writer.say("own-best-below", hand=situation.case.hand, kg=write_kg(own), least=write_kg(least.kg)))
    top = keep_below(most, own, situation.case.plate_kg) if own is not None and test.key.hands == "one" else most
    capped = {"hand": situation.case.hand, "own": write_kg(own)} if own is not None and top != most else {}
    says = writer.say(
        "your-load-capped" if capped else "your-load",
        least=_target_words(writer, least),
        most=_target_words(writer, top),
        **capped,
        low=load.least,
        high=load.most,
        reference=writer.say(f"reference-{reference.kind}", hand=test.hand, kg=write_kg(test.best_kg)),
        edge=f"{test.key.edge_mm:g}",
        plate=write_kg(situation.case.plate_kg or DEFAULT_PLATE_KG),
    )
    ceiling = "" if capped else _ceiling(writer, situation.case, test.key, own)
    return (Run(says), writer.mark(load.source), Run(f". {ceiling}".rstrip()))


def strength_blocks(writer: Writer, situation: Situation) -> tuple[Block, ...]:
    """The table of tests and what the shares rest on; nothing without tests."""
    tests = comparison_table(writer, situation)
    if tests is None:
        return ()
    note = Box(
        level="note",
        title=writer.say("strength-note-title"),
        lines=(writer.words(writer.say("strength-note-apart")), text(writer.say("strength-note-shares"))),
    )
    return (Paragraph(words=text(writer.say("strength-intro"))), tests, note)


def explain_loads(situation: Situation) -> Iterator[Why]:
    """How every load and comparison on the sheets came about."""
    case = situation.case
    tests = measured_tests(case)
    for key in list_keys(tests):
        comparison = compare_hands(tests, case.hand, key)
        if comparison:
            yield comparison.why
    for dose in situation.stage.exercises:
        reference = find_reference(case, dose) if dose.grip else None
        if situation.stage.load and reference:
            least, most = reckon_loads(case, situation.stage.load, reference)
            own = _find_own_best(case, reference.measured.key)
            yield least.why
            yield most.why
            if own is not None and reference.measured.key.hands == "one" and own <= most.kg:
                yield keep_below(most, own, case.plate_kg).why


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
