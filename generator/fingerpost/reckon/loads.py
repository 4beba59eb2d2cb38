"""Strength tests, the two hands compared, and what load a share of the reference comes to.

All loads are kilograms hanging from the fingers (kg); `units` says in what they are told. Sums are exact decimal
fractions, so rounding down to plates never slips by a last binary digit. No trial of staged shares for finger injuries
is known: every share is a design choice.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Literal, NamedTuple

from fingerpost.model.case import Baseline, Case, Hands, Method
from fingerpost.model.masses import KG_A_UNIT, Units, from_kg, read_exactly, to_kg, write_mass
from fingerpost.model.times import write_date
from fingerpost.model.words import Hand, Id
from fingerpost.reckon.why import DESIGN_CHOICE, Fault, Why

Verdict = Literal["cannot-be-told-apart", "injured-weaker", "injured-stronger"]
ReferenceKind = Literal["uninjured-hand", "own-before-injury"]

# Between-session variation of one maximal finger test, in percent of the value, taken as its SEM. The larger of
# 2.04 and 3.37 (J Sports Sci 2025, n=26, abstract read): the careful choice.
TEST_SEM_PERCENT = 3.37
# How far two healthy hands are apart, in percent. Hartley 2023 (n=36, 4.1) and Orth 2023 (n=32, 4): abstracts read.
HEALTHY_DIFFERENCE_PERCENT = 4.1
DIFFERENCE_SOURCE = "healthy hands: hartley-2023, orth-2023; retest: jss-2025-retest"

# Bounds for typing mistakes, a design choice: no hand test and no body lies outside them. In pounds they are the next
# round numbers inside.
LOADS: Mapping[Units, tuple[float, float]] = {"kg": (1.0, 300.0), "lb": (3.0, 660.0)}
BODIES: Mapping[Units, tuple[float, float]] = {"kg": (20.0, 250.0), "lb": (45.0, 550.0)}
EDGE_MM = (4.0, 80.0)
# Smallest steps of plates that are sold in each unit.
PLATES: Mapping[Units, tuple[float, ...]] = {
    "kg": (0.1, 0.125, 0.2, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 5.0, 10.0),
    "lb": (0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 5.0, 10.0, 25.0),
}
DEFAULT_PLATES: Mapping[Units, float] = {"kg": 0.5, "lb": 1.0}


class TestKey(NamedTuple):
    """What two tests must share before they are compared: one-handed and two-handed tests are never mixed."""

    hands: Hands
    grip: Id
    edge_mm: float
    method: Method


@dataclass(frozen=True)
class Measured:
    """One strength test worked out. `best_kg` is the heaviest attempt as a whole load on the fingers."""

    key: TestKey
    hand: Hand
    day: date
    before_injury: bool
    attempts_kg: tuple[float, ...]
    best_kg: float


@dataclass(frozen=True)
class Reference:
    """The test that targets are a share of, and why that one."""

    measured: Measured
    kind: ReferenceKind


@dataclass(frozen=True)
class HandComparison:
    """The injured hand beside the other one.

    `difference_percent`: how much weaker the injured hand is, in percent of the other (negative: stronger), one
    decimal. `share_percent`: injured / other, whole percent. `apart_percent`: the difference that must be passed
    before the two can be told apart. A stronger injured hand keeps its minus sign even where nothing can be told.
    """

    injured_kg: float
    other_kg: float
    difference_percent: float
    share_percent: int
    apart_percent: float
    verdict: Verdict
    why: Why


@dataclass(frozen=True)
class Target:
    """A load to train with. `kg` is on the fingers and never above `exact_kg`.

    `change_kg`: for a hang, what to add to the body's weight, or to take off it (negative); None for a pull.
    `too_light`: nothing that can be loaded with these plates is light enough.
    """

    share_percent: int
    exact_kg: float
    kg: float
    change_kg: float | None
    too_light: bool
    why: Why


def body_kg(case: Case) -> float | None:
    """The body mass of a case in kilograms, whichever unit it was written in."""
    return case.body_mass_kg if case.body_mass_lb is None else to_kg(case.body_mass_lb, "lb")


def plate_of(case: Case) -> float | None:
    """The smallest plate of a case in kilograms, whichever unit it was written in."""
    return case.plate_kg if case.plate_lb is None else to_kg(case.plate_lb, "lb")


def tries_kg(baseline: Baseline) -> tuple[float, ...]:
    """The attempts of a test in kilograms, whichever unit they were written in."""
    return baseline.kg or tuple(to_kg(lb, "lb") for lb in baseline.lb)


def step_of(plate_kg: float | None, units: Units) -> Fraction:
    """The smallest step of a load in kilograms: the plate at hand, or what is usual in `units`."""
    return KG_A_UNIT[units] * read_exactly(DEFAULT_PLATES[units]) if plate_kg is None else read_exactly(plate_kg)


def _is_plate(plate_kg: float, units: Units) -> bool:
    return any(math.isclose(from_kg(plate_kg, units), plate, abs_tol=1e-9) for plate in PLATES[units])


def find_faults(
    baselines: Sequence[Baseline],
    body_mass_kg: float | None,
    plate_kg: float | None,
    anchor: date | None = None,
    today: date | None = None,
    units: Units = "kg",
) -> Iterator[Fault]:
    """Every reason why these tests cannot be, in the order of a case file. `units`: in what the case is written."""
    if body_mass_kg is not None and (must := _say_outside(body_mass_kg, BODIES[units], units)):
        yield Fault((f"body_mass_{units}",), f"{write_mass(body_mass_kg, units)} is no body mass: it {must}")
    for at, baseline in enumerate(baselines):
        faults = _find_test_faults(baseline, body_mass_kg, units)
        yield from (Fault(("baselines", at, *fault.path), fault.must) for fault in faults)
        yield from (Fault(("baselines", at, "date"), must) for must in _find_day_faults(baseline, anchor, today))
    if plate_kg is not None and not _is_plate(plate_kg, units):
        like = "1, 2.5 or 5" if units == "lb" else "0.5, 1.25 or 2.5; plates in pounds need `units: lb`"
        must = f"no plate weighs {write_mass(plate_kg, units)}: it must be the smallest plate at hand, like {like}"
        yield Fault((f"plate_{units}",), must)


def _say_outside(kg: float, bounds: tuple[float, float], units: Units) -> str:
    """Between what a mass must lie, where it does not; '' where it does."""
    least, most = bounds
    return "" if least <= from_kg(kg, units) <= most else f"must be from {least:g} to {most:g} {units}"


def _find_test_faults(baseline: Baseline, body_mass_kg: float | None, units: Units) -> Iterator[Fault]:
    edge = baseline.edge_mm
    if not EDGE_MM[0] <= edge <= EDGE_MM[1]:
        hint = f" (is {edge:g} in centimetres? That is {edge * 10:g} mm)" if EDGE_MM[0] <= edge * 10 <= 50 else ""
        yield Fault(("edge_mm",), f"nobody tests on an edge of {edge:g} mm: it must be from 4 to 80 mm{hint}")
    if not tries_kg(baseline):
        yield Fault((units,), f"there is no attempt: at least one must be given, under `{units}`")
    if baseline.method == "hang" and body_mass_kg is None:
        yield Fault(("method",), f"a hang needs `body_mass_{units}`, because the body hangs from the fingers too")
        return
    carried = (body_mass_kg or 0.0) if baseline.method == "hang" else 0.0
    for at, kg in enumerate(tries_kg(baseline)):
        if must := _say_outside(kg + carried, LOADS[units], units):
            whole = write_mass(kg, units) + (f" with a body of {write_mass(carried, units)}" if carried else "")
            yield Fault((units, at), f"{whole} is not a load that fingers can be tested with: the whole {must}")


def _find_day_faults(baseline: Baseline, anchor: date | None, today: date | None) -> Iterator[str]:
    day = baseline.date.known
    if day is None:
        yield f"the calendar has no day {baseline.date}"
        return
    if today and day > today:
        yield f"the test on {write_date(day)} is after today, {write_date(today)}: it must have been done"
    elif anchor and baseline.when == "before-injury" and day > anchor:
        wrong = f"the test on {write_date(day)} is marked 'before-injury' but is after {write_date(anchor)}"
        yield f"{wrong}: it must be before, or marked 'now'"
    elif anchor and baseline.when == "now" and day < anchor:
        wrong = f"the test on {write_date(day)} is marked 'now' but is before {write_date(anchor)}"
        yield f"{wrong}: it must be later, or marked 'before-injury'"


def measure(baseline: Baseline, body_mass_kg: float | None) -> Measured:
    """Work out one test: load = kg for a pull, body mass + kg for a hang; the best attempt counts.

    Raises ValueError for a test that `find_faults` finds.
    """
    for fault in find_faults([baseline], body_mass_kg, None, units="lb" if baseline.lb else "kg"):
        raise ValueError(fault.must)
    carried = read_exactly(body_mass_kg or 0.0) if baseline.method == "hang" else Fraction(0)
    attempts = tuple(float(read_exactly(kg) + carried) for kg in tries_kg(baseline))
    return Measured(
        TestKey(baseline.hands, baseline.grip, baseline.edge_mm, baseline.method),
        baseline.hand,
        baseline.date.day,
        baseline.when == "before-injury",
        attempts,
        max(attempts),
    )


def list_keys(tests: Iterable[Measured]) -> tuple[TestKey, ...]:
    """The kinds of test that were done, each once, in the order in which they were first written."""
    return tuple(dict.fromkeys(test.key for test in tests))


def choose_reference(tests: Iterable[Measured], injured: Hand, key: TestKey) -> Reference | None:
    """The reference for one kind of test; the latest day counts.

    One hand: the uninjured hand now, else the injured hand's own value from before. Both hands: only a value from
    before, because a hand that spares itself makes any later one too low. None where there is nothing to go by.
    """
    alike = [test for test in tests if test.key == key]
    before = [test for test in alike if test.before_injury and (key.hands == "both" or test.hand == injured)]
    other = [test for test in alike if test.hand != injured and not test.before_injury]
    if other and key.hands == "one":
        return Reference(pick_latest(other), "uninjured-hand")
    return Reference(pick_latest(before), "own-before-injury") if before else None


def compare_hands(tests: Iterable[Measured], injured: Hand, key: TestKey, units: Units = "kg") -> HandComparison | None:
    """The injured hand's latest one-handed test beside the other hand's, or None where one of them is missing."""
    alike = [test for test in tests if test.key == key and key.hands == "one" and not test.before_injury]
    own, other = ([test for test in alike if (test.hand == injured) is wanted] for wanted in (True, False))
    return compare_loads(pick_latest(own).best_kg, pick_latest(other).best_kg, units) if own and other else None


def compare_loads(injured_kg: float, other_kg: float, units: Units = "kg") -> HandComparison:
    """difference = (other - injured) / other; told apart only beyond the larger of the minimal detectable change
    and the difference between healthy hands. Loads in kg; raises ValueError outside 1-300 kg."""
    for kg in (injured_kg, other_kg):
        _refuse_load(kg)
    difference = float(round((1 - read_exactly(injured_kg) / read_exactly(other_kg)) * 100, 1))
    apart = max(round(find_minimal_change(TEST_SEM_PERCENT), 1), HEALTHY_DIFFERENCE_PERCENT)
    verdict: Verdict = "injured-weaker" if difference > 0 else "injured-stronger"
    if abs(difference) <= apart:
        verdict = "cannot-be-told-apart"
    formula = (
        "(other hand - injured hand) / other hand; told apart only beyond the larger of 1.96 x sqrt(2) x SEM and the "
        "difference between healthy hands"
    )
    inputs = (
        ("other hand", write_mass(other_kg, units)),
        ("injured hand", write_mass(injured_kg, units)),
        ("SEM", f"{TEST_SEM_PERCENT} %"),
        ("healthy hands", f"{HEALTHY_DIFFERENCE_PERCENT} %"),
    )
    why = Why("difference between the hands", f"{difference:g} %", formula, inputs, DIFFERENCE_SOURCE)
    share = round(read_exactly(injured_kg) / read_exactly(other_kg) * 100)
    return HandComparison(injured_kg, other_kg, difference, share, apart, verdict, why)


def find_minimal_change(sem: float) -> float:
    """The minimal detectable change at 95 %: 1.96 x sqrt(2) x SEM, in the unit of `sem`."""
    return 1.96 * math.sqrt(2) * sem


def reckon_target(
    reference_kg: float,
    share_percent: int,
    method: Method,
    body_mass_kg: float | None = None,
    plate_kg: float | None = None,
    units: Units = "kg",
) -> Target:
    """target = share x reference, rounded down to whole plates of `units`.

    Pull: the load is a whole number of smallest plates. Hang: target - body mass is, so that what is added is rounded
    down and what is taken off is rounded up. Raises ValueError for a share outside 0-100 %, and for what
    `find_faults` finds.
    """
    if not 0 <= share_percent <= 100:
        raise ValueError(f"a share of {share_percent} % must be from 0 to 100 %")
    for fault in find_faults([], body_mass_kg, plate_kg, units=units):
        raise ValueError(fault.must)
    if method == "hang" and body_mass_kg is None:
        raise ValueError(f"a hang needs `body_mass_{units}`, because the body hangs from the fingers too")
    _refuse_load(reference_kg)
    exact, step = read_exactly(reference_kg) * share_percent / 100, step_of(plate_kg, units)
    carried = read_exactly(body_mass_kg or 0.0) if method == "hang" else Fraction(0)
    change = max(math.floor((exact - carried) / step) * step, -carried)
    kg = carried + change
    return Target(
        share_percent,
        float(round(exact, 2)),
        float(kg),
        float(change) if method == "hang" else None,
        kg == 0,
        _explain_target(reference_kg, share_percent, float(kg), float(step), float(carried), units),
    )


def keep_below(target: Target, own_kg: float, plate_kg: float | None = None, units: Units = "kg") -> Target:
    """The same load, or the largest step of plates below what the injured hand itself has held, kg.

    Why below: what a hurt finger has held once is a test and no load to train with (a design choice).
    """
    step, own = step_of(plate_kg, units), read_exactly(own_kg)
    if read_exactly(target.kg) < own:
        return target
    carried = read_exactly(target.kg) - read_exactly(target.change_kg) if target.change_kg is not None else Fraction(0)
    change = (math.ceil((own - carried) / step) - 1) * step
    kg = float(carried + change)
    inputs = (("held by the injured hand", write_mass(own_kg, units)), ("plate", write_mass(float(step), units)))
    formula = "the largest step of plates below what the injured hand held"
    why = Why("load", write_mass(kg, units), formula, inputs, DESIGN_CHOICE)
    return replace(target, kg=kg, change_kg=None if target.change_kg is None else float(change), why=why)


def _explain_target(
    reference_kg: float, share_percent: int, kg: float, step_kg: float, carried_kg: float, units: Units
) -> Why:
    inputs = [
        ("share", f"{share_percent} %"),
        ("reference", write_mass(reference_kg, units)),
        ("plate", write_mass(step_kg, units)),
    ]
    formula = "share x reference, rounded down to whole plates"
    if carried_kg:
        formula = "body mass + (share x reference - body mass, rounded down to whole plates)"
        inputs.append(("body mass", write_mass(carried_kg, units)))
    return Why("load", write_mass(kg, units), formula, tuple(inputs), DESIGN_CHOICE)


def _refuse_load(kg: float) -> None:
    if must := _say_outside(kg, LOADS["kg"], "kg"):
        raise ValueError(f"{kg:g} kg is not a load that fingers can be tested with: it {must}")


def pick_latest(tests: Sequence[Measured]) -> Measured:
    """The test that counts: of the latest day, and on it the heaviest."""
    return max(tests, key=lambda test: (test.day, test.best_kg))
