"""Strength tests, the two hands compared, and what load a share of the reference comes to.

All loads are kilograms hanging from the fingers (kg). Sums are exact decimal fractions, so rounding down to plates
never slips by a last binary digit. No trial of staged shares for finger injuries is known: every share is a design
choice.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Literal, NamedTuple

from fingerpost.model.case import Baseline, Hands, Method
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

# Bounds for typing mistakes, a design choice: no hand test lies outside them.
LOAD_KG = (1.0, 300.0)
EDGE_MM = (4.0, 80.0)
BODY_KG = (20.0, 250.0)
# Smallest steps of plates that are sold: in kilograms, then 1.25, 2.5, 5 and 10 pounds.
PLATES_KG = (
    0.1,
    0.125,
    0.2,
    0.25,
    0.5,
    0.75,
    1.0,
    1.25,
    1.5,
    2.0,
    2.5,
    5.0,
    10.0,
    0.57,
    1.13,
    1.134,
    2.27,
    2.268,
    4.54,
)
DEFAULT_PLATE_KG = 0.5


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


def find_faults(
    baselines: Sequence[Baseline],
    body_mass_kg: float | None,
    plate_kg: float | None,
    anchor: date | None = None,
    today: date | None = None,
) -> Iterator[Fault]:
    """Every reason why these tests cannot be, in the order of a case file."""
    if body_mass_kg is not None and not BODY_KG[0] <= body_mass_kg <= BODY_KG[1]:
        yield Fault(("body_mass_kg",), f"{body_mass_kg:g} kg is no body mass: it must be from 20 to 250 kg")
    for at, baseline in enumerate(baselines):
        yield from (
            Fault(("baselines", at, *fault.path), fault.must) for fault in _find_test_faults(baseline, body_mass_kg)
        )
        yield from (Fault(("baselines", at, "date"), must) for must in _find_day_faults(baseline, anchor, today))
    if plate_kg is not None and not any(math.isclose(plate_kg, plate, abs_tol=1e-9) for plate in PLATES_KG):
        must = f"no plate weighs {plate_kg:g} kg: it must be the smallest plate at hand, like 0.5, 1.25 or 2.5"
        yield Fault(("plate_kg",), must)


def _find_test_faults(baseline: Baseline, body_mass_kg: float | None) -> Iterator[Fault]:
    edge = baseline.edge_mm
    if not EDGE_MM[0] <= edge <= EDGE_MM[1]:
        hint = f" (is {edge:g} in centimetres? That is {edge * 10:g} mm)" if EDGE_MM[0] <= edge * 10 <= 50 else ""
        yield Fault(("edge_mm",), f"nobody tests on an edge of {edge:g} mm: it must be from 4 to 80 mm{hint}")
    if not baseline.kg:
        yield Fault(("kg",), "there is no attempt: at least one must be given")
    if baseline.method == "hang" and body_mass_kg is None:
        yield Fault(("method",), "a hang needs `body_mass_kg`, because the body hangs from the fingers too")
        return
    carried = (body_mass_kg or 0.0) if baseline.method == "hang" else 0.0
    for at, kg in enumerate(baseline.kg):
        if not LOAD_KG[0] <= kg + carried <= LOAD_KG[1]:
            whole = f"{kg:g} kg" + (f" with a body of {carried:g} kg" if carried else "")
            must = f"{whole} is not a load that fingers can be tested with: the whole must be from 1 to 300 kg"
            yield Fault(("kg", at), must)


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
    for fault in find_faults([baseline], body_mass_kg, None):
        raise ValueError(fault.must)
    carried = _exact(body_mass_kg or 0.0) if baseline.method == "hang" else Fraction(0)
    attempts = tuple(float(_exact(kg) + carried) for kg in baseline.kg)
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
        return Reference(_pick_latest(other), "uninjured-hand")
    return Reference(_pick_latest(before), "own-before-injury") if before else None


def compare_hands(tests: Iterable[Measured], injured: Hand, key: TestKey) -> HandComparison | None:
    """The injured hand's latest one-handed test beside the other hand's, or None where one of them is missing."""
    alike = [test for test in tests if test.key == key and key.hands == "one" and not test.before_injury]
    own, other = ([test for test in alike if (test.hand == injured) is wanted] for wanted in (True, False))
    return compare_loads(_pick_latest(own).best_kg, _pick_latest(other).best_kg) if own and other else None


def compare_loads(injured_kg: float, other_kg: float) -> HandComparison:
    """difference = (other - injured) / other; told apart only beyond the larger of the minimal detectable change
    and the difference between healthy hands. Loads in kg; raises ValueError outside 1-300 kg."""
    for kg in (injured_kg, other_kg):
        _refuse_load(kg)
    difference = float(round((1 - _exact(injured_kg) / _exact(other_kg)) * 100, 1))
    apart = max(round(find_minimal_change(TEST_SEM_PERCENT), 1), HEALTHY_DIFFERENCE_PERCENT)
    verdict: Verdict = "injured-weaker" if difference > 0 else "injured-stronger"
    if abs(difference) <= apart:
        verdict = "cannot-be-told-apart"
    formula = (
        "(other hand - injured hand) / other hand; told apart only beyond the larger of 1.96 x sqrt(2) x SEM and the "
        "difference between healthy hands"
    )
    inputs = (
        ("other hand", f"{other_kg:g} kg"),
        ("injured hand", f"{injured_kg:g} kg"),
        ("SEM", f"{TEST_SEM_PERCENT} %"),
        ("healthy hands", f"{HEALTHY_DIFFERENCE_PERCENT} %"),
    )
    why = Why("difference between the hands", f"{difference:g} %", formula, inputs, DIFFERENCE_SOURCE)
    share = round(_exact(injured_kg) / _exact(other_kg) * 100)
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
) -> Target:
    """target = share x reference, rounded down to whole plates.

    Pull: the load is a whole number of smallest plates. Hang: target - body mass is, so that what is added is rounded
    down and what is taken off is rounded up. Raises ValueError for a share outside 0-100 %, and for what
    `find_faults` finds.
    """
    if not 0 <= share_percent <= 100:
        raise ValueError(f"a share of {share_percent} % must be from 0 to 100 %")
    for fault in find_faults([], body_mass_kg, plate_kg):
        raise ValueError(fault.must)
    if method == "hang" and body_mass_kg is None:
        raise ValueError("a hang needs `body_mass_kg`, because the body hangs from the fingers too")
    _refuse_load(reference_kg)
    exact, step = _exact(reference_kg) * share_percent / 100, _exact(plate_kg or DEFAULT_PLATE_KG)
    carried = _exact(body_mass_kg or 0.0) if method == "hang" else Fraction(0)
    change = max(math.floor((exact - carried) / step) * step, -carried)
    kg = carried + change
    return Target(
        share_percent,
        float(round(exact, 2)),
        float(kg),
        float(change) if method == "hang" else None,
        kg == 0,
        _explain_target(reference_kg, share_percent, float(kg), float(step), float(carried)),
    )


def keep_below(target: Target, own_kg: float, plate_kg: float | None = None) -> Target:
    """The same load, or the largest step of plates below what the injured hand itself has held, kg.

    Why below: what a hurt finger has held once is a test and no load to train with (a design choice).
    """
    step, own = _exact(plate_kg or DEFAULT_PLATE_KG), _exact(own_kg)
    if _exact(target.kg) < own:
        return target
    carried = _exact(target.kg) - _exact(target.change_kg) if target.change_kg is not None else Fraction(0)
    change = (math.ceil((own - carried) / step) - 1) * step
    kg = float(carried + change)
    inputs = (("held by the injured hand", f"{own_kg:g} kg"), ("plate", f"{float(step):g} kg"))
    why = Why(
        "load", f"{kg:g} kg", "the largest step of plates below what the injured hand held", inputs, DESIGN_CHOICE
    )
    return replace(target, kg=kg, change_kg=None if target.change_kg is None else float(change), why=why)


def _explain_target(reference_kg: float, share_percent: int, kg: float, step_kg: float, carried_kg: float) -> Why:
    inputs = [("share", f"{share_percent} %"), ("reference", f"{reference_kg:g} kg"), ("plate", f"{step_kg:g} kg")]
    formula = "share x reference, rounded down to whole plates"
    if carried_kg:
        formula = "body mass + (share x reference - body mass, rounded down to whole plates)"
        inputs.append(("body mass", f"{carried_kg:g} kg"))
    return Why("load", f"{kg:g} kg", formula, tuple(inputs), DESIGN_CHOICE)


def _refuse_load(kg: float) -> None:
    if not LOAD_KG[0] <= kg <= LOAD_KG[1]:
        raise ValueError(f"{kg:g} kg is not a load that fingers can be tested with: it must be from 1 to 300 kg")


def _exact(kg: float) -> Fraction:
    """A written decimal number as the fraction that its writer meant: 0.1 is a tenth."""
    return Fraction(repr(float(kg)))


def _pick_latest(tests: Sequence[Measured]) -> Measured:
    return max(tests, key=lambda test: (test.day, test.best_kg))
