"""Strength tests: what cannot have been is refused, hands are compared as they were tested, and targets do not slip."""

from __future__ import annotations

import dataclasses
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingerpost.model.case import Baseline
from fingerpost.model.times import Day
from fingerpost.model.words import Hand
from fingerpost.reckon.loads import (
    PLATES,
    Measured,
    choose_reference,
    compare_hands,
    compare_loads,
    find_faults,
    keep_below,
    list_keys,
    measure,
    reckon_target,
)

NAN, INF = float("nan"), float("inf")
OTHER: dict[str, Hand] = {"left": "right", "right": "left"}


def make_test(hand: Hand = "left", kg: tuple[float, ...] = (30.0,), **other: Any) -> Baseline:
    known: dict[str, Any] = {"date": Day("2026-02-01"), "grip": "half-crimp", "edge_mm": 20.0, "method": "pull"}
    return Baseline(hand=hand, kg=kg, **(known | other))


def measure_all(*tests: Baseline, body: float | None = 70.0) -> list[Measured]:
    return [measure(test, body) for test in tests]


# --- one test


def test_a_pull_is_the_load() -> None:
    found = measure(make_test(kg=(28.0, 31.5, 30.0)), None)
    assert (found.best_kg, found.attempts_kg) == (31.5, (28.0, 31.5, 30.0))


def test_a_hang_carries_the_body() -> None:
    assert measure(make_test(method="hang", kg=(-20.1, -25.0)), 68.3).best_kg == 48.2
    assert measure(make_test(method="hang", kg=(12.5,), hands="both"), 68.3).best_kg == 80.8


@pytest.mark.parametrize(
    ("test", "body", "place", "says"),
    [
        (make_test(kg=(0.0,)), 70.0, ("kg", 0), "from 1 to 300 kg"),
        (make_test(kg=(30.0, 400.0)), 70.0, ("kg", 1), "from 1 to 300 kg"),
        (make_test(kg=(-5.0,)), 70.0, ("kg", 0), "from 1 to 300 kg"),
        (make_test(kg=(NAN,)), 70.0, ("kg", 0), "from 1 to 300 kg"),
        (make_test(kg=(INF,)), 70.0, ("kg", 0), "from 1 to 300 kg"),
        (make_test(kg=()), 70.0, ("kg",), "at least one"),
        (make_test(method="hang", kg=(-70.0,)), 70.0, ("kg", 0), "with a body of 70 kg"),
        (make_test(method="hang"), None, ("method",), "body_mass_kg"),
        (make_test(edge_mm=2.0), 70.0, ("edge_mm",), "centimetres? That is 20 mm"),
        (make_test(edge_mm=NAN), 70.0, ("edge_mm",), "from 4 to 80 mm"),
        (make_test(edge_mm=200.0), 70.0, ("edge_mm",), "from 4 to 80 mm"),
        (make_test(date=Day("2026-02-30")), 70.0, ("date",), "no day 2026-02-30"),
        (make_test(date=Day("2027-01-01")), 70.0, ("date",), "after today"),
        (make_test(date=Day("2026-02-01"), when="before-injury"), 70.0, ("date",), "must be before"),
        (make_test(date=Day("2025-12-01")), 70.0, ("date",), "marked 'before-injury'"),
    ],
)
def test_impossible_tests_are_found(
    test: Baseline, body: float | None, place: tuple[str | int, ...], says: str
) -> None:
    faults = list(find_faults([make_test(), test], body, 2.5, date(2026, 1, 12), date(2026, 3, 1)))
    assert [fault.path for fault in faults] == [("baselines", 1, *place)]
    assert says in faults[0].must


@pytest.mark.parametrize("body", [0.0, -70.0, 12.0, 700.0, NAN, INF])
def test_impossible_bodies_are_found(body: float) -> None:
    assert [fault.path for fault in find_faults([], body, None)] == [("body_mass_kg",)]


@pytest.mark.parametrize("plate", [0.0, -1.25, 0.3, 3.3, 400.0, NAN, INF])
def test_plates_that_do_not_exist_are_found(plate: float) -> None:
    (fault,) = find_faults([], None, plate)
    assert fault.path == ("plate_kg",)
    assert "no plate weighs" in fault.must


@pytest.mark.parametrize("plate", PLATES["kg"])
def test_plates_that_exist_pass(plate: float) -> None:
    assert not list(find_faults([make_test()], 70.0, plate, date(2026, 1, 12), date(2026, 3, 1)))


def test_impossible_tests_are_refused() -> None:
    with pytest.raises(ValueError, match="from 1 to 300 kg"):
        measure(make_test(kg=(0.0,)), None)


# --- reference


def test_the_uninjured_hand_is_the_reference() -> None:
    tests = measure_all(
        make_test("left", (20.0,)), make_test("right", (30.0,)), make_test("left", (33.0,), when="before-injury")
    )
    reference = choose_reference(tests, "left", tests[0].key)
    assert reference is not None
    assert (reference.kind, reference.measured.best_kg) == ("uninjured-hand", 30.0)


def test_the_latest_day_counts_then_the_best() -> None:
    tests = measure_all(
        make_test("right", (35.0,), date=Day("2026-02-01")),
        make_test("right", (30.0,), date=Day("2026-02-20")),
        make_test("right", (31.0,), date=Day("2026-02-20")),
    )
    reference = choose_reference(tests, "left", tests[0].key)
    assert reference is not None
    assert reference.measured.best_kg == 31.0


def test_own_value_from_before_where_there_is_no_other() -> None:
    tests = measure_all(make_test("left", (20.0,)), make_test("left", (33.0,), when="before-injury"))
    reference = choose_reference(tests, "left", tests[0].key)
    assert reference is not None
    assert (reference.kind, reference.measured.best_kg) == ("own-before-injury", 33.0)


@pytest.mark.parametrize("change", [{"grip": "open-hand"}, {"edge_mm": 15.0}, {"method": "hang"}, {"hands": "both"}])
def test_unlike_tests_are_no_reference(change: dict[str, Any]) -> None:
    injured, other = measure_all(make_test("left"), make_test("right", **change))
    assert choose_reference([injured, other], "left", injured.key) is None
    assert compare_hands([injured, other], "left", injured.key) is None
    assert list_keys([injured, other, injured]) == (injured.key, other.key)


def test_two_hands_now_are_no_reference() -> None:
    now = measure_all(make_test("right", (80.0,), hands="both"))
    assert choose_reference(now, "left", now[0].key) is None
    before = measure_all(make_test("right", (90.0,), hands="both", when="before-injury"))
    reference = choose_reference(now + before, "left", now[0].key)
    assert reference is not None
    assert (reference.kind, reference.measured.best_kg) == ("own-before-injury", 90.0)


def test_nothing_to_go_by() -> None:
    tests = measure_all(make_test("left"))
    assert choose_reference(tests, "left", tests[0].key) is None


# --- comparison


@pytest.mark.parametrize(
    ("injured", "other", "difference", "share", "verdict"),
    [
        (20.0, 30.0, 33.3, 67, "injured-weaker"),
        (28.0, 30.0, 6.7, 93, "cannot-be-told-apart"),
        (30.0, 30.0, 0.0, 100, "cannot-be-told-apart"),
        (31.0, 30.0, -3.3, 103, "cannot-be-told-apart"),
        (36.0, 30.0, -20.0, 120, "injured-stronger"),
    ],
)
def test_comparison(injured: float, other: float, difference: float, share: int, verdict: str) -> None:
    found = compare_loads(injured, other)
    assert (found.difference_percent, found.share_percent, found.verdict) == (difference, share, verdict)
    assert found.apart_percent == 9.3
    assert f"{other:g} kg" in str(found.why)


@pytest.mark.parametrize("kg", [0.0, -1.0, 400.0, NAN])
def test_impossible_loads_are_not_compared(kg: float) -> None:
    for pair in ((kg, 30.0), (30.0, kg)):
        with pytest.raises(ValueError, match="from 1 to 300 kg"):
            compare_loads(*pair)


def test_values_from_before_are_not_compared_as_now() -> None:
    tests = measure_all(make_test("left", (20.0,)), make_test("right", (30.0,), when="before-injury"))
    assert compare_hands(tests, "left", tests[0].key) is None


@given(st.floats(1, 300), st.floats(1, 300), st.sampled_from(["left", "right"]))
def test_left_and_right_mirror(injured_kg: float, other_kg: float, hand: Hand) -> None:
    tests = [measure(make_test(hand, (injured_kg,)), None), measure(make_test(OTHER[hand], (other_kg,)), None)]
    mirrored = [dataclasses.replace(test, hand=OTHER[test.hand]) for test in tests]
    key = tests[0].key
    assert compare_hands(tests, hand, key) == compare_hands(mirrored, OTHER[hand], key)
    first, second = choose_reference(tests, hand, key), choose_reference(mirrored, OTHER[hand], key)
    assert first is not None
    assert second is not None
    assert first.measured.best_kg == second.measured.best_kg == other_kg


@given(st.floats(10, 100), st.floats(10, 100))
def test_stronger_and_weaker_are_told_by_sign(injured: float, other: float) -> None:
    found = compare_loads(injured, other)
    assert (found.difference_percent > 0) <= (injured < other)
    assert (found.difference_percent < 0) <= (injured > other)


# --- targets


def test_tenths_do_not_slip() -> None:
    # 70 % of 1 kg is 0.7, which binary fractions put a hair below seven tenths.
    assert reckon_target(1.0, 70, "pull", plate_kg=0.1).kg == 0.7
    assert reckon_target(11.5, 60, "pull", plate_kg=0.1).kg == 6.9


def test_without_plates_half_kilograms() -> None:
    assert reckon_target(33.3, 50, "pull").kg == 16.5


def test_added_weight_is_rounded_down() -> None:
    found = reckon_target(80.0, 95, "hang", body_mass_kg=70.0, plate_kg=1.25)
    assert (found.exact_kg, found.change_kg, found.kg) == (76.0, 5.0, 75.0)


def test_too_light_for_the_plates_is_said() -> None:
    found = reckon_target(20.0, 20, "pull", plate_kg=5.0)
    assert (found.kg, found.too_light) == (0.0, True)
    hang = reckon_target(20.0, 5, "hang", body_mass_kg=68.3, plate_kg=10.0)
    assert (hang.kg, hang.change_kg, hang.too_light) == (0.0, -68.3, True)


def test_a_target_explains_itself() -> None:
    why = reckon_target(80.0, 60, "hang", body_mass_kg=70.0, plate_kg=2.5).why
    assert why.source == "design choice"
    assert dict(why.inputs) == {"share": "60 %", "reference": "80 kg", "plate": "2.5 kg", "body mass": "70 kg"}


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: reckon_target(30.0, 101, "pull"), "from 0 to 100"),
        (lambda: reckon_target(30.0, -1, "pull"), "from 0 to 100"),
        (lambda: reckon_target(0.0, 50, "pull"), "from 1 to 300"),
        (lambda: reckon_target(NAN, 50, "pull"), "from 1 to 300"),
        (lambda: reckon_target(30.0, 50, "hang"), "body_mass_kg"),
        (lambda: reckon_target(30.0, 50, "pull", plate_kg=3.3), "no plate weighs"),
        (lambda: reckon_target(30.0, 50, "hang", body_mass_kg=NAN), "no body mass"),
    ],
)
def test_impossible_targets_are_refused(call: Any, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        call()


REFERENCES = st.floats(1, 300)
SHARES = st.integers(0, 100)


@given(REFERENCES, SHARES, st.sampled_from(["hang", "pull"]), st.floats(20, 250), st.sampled_from(PLATES["kg"]))
def test_targets_never_exceed_the_reference(
    reference: float, share: int, method: Any, body: float, plate: float
) -> None:
    found = reckon_target(reference, share, method, body, plate)
    assert 0 <= found.kg <= reference
    assert found.kg <= reference * share / 100 + 1e-9
    assert found.kg > reference * share / 100 - plate - 1e-9 or found.too_light


@given(REFERENCES, SHARES, SHARES, st.sampled_from(["hang", "pull"]), st.floats(20, 250))
def test_a_larger_share_is_never_lighter(reference: float, one: int, other: int, method: Any, body: float) -> None:
    loads = [reckon_target(reference, share, method, body).kg for share in sorted((one, other))]
    assert loads == sorted(loads)


def test_a_load_stays_below_what_the_hurt_hand_has_held() -> None:
    """By hand: 90 % of 40 kg is 36 kg; the hurt hand held 30 kg, so with plates of 0.5 kg the most is 29.5 kg."""
    target = reckon_target(40.0, 90, "pull", plate_kg=0.5)
    assert target.kg == 36.0
    assert keep_below(target, 30.0, 0.5).kg == 29.5
    assert keep_below(target, 30.2, 0.5).kg == 30.0
    assert keep_below(target, 36.5, 0.5) == target
    hang = reckon_target(80.0, 90, "hang", body_mass_kg=62.5, plate_kg=2.5)
    assert (hang.kg, hang.change_kg) == (70.0, 7.5)
    capped = keep_below(hang, 66.0, 2.5)
    assert (capped.kg, capped.change_kg) == (65.0, 2.5)
