"""Pounds and kilograms: what was typed comes back as it was typed, and no load in pounds is more than it may be."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingerpost.model.case import Baseline
from fingerpost.model.masses import Units, from_kg, to_kg, write_mass
from fingerpost.model.times import Day
from fingerpost.reckon.goal import reckon_goal
from fingerpost.reckon.loads import PLATES, compare_loads, find_faults, keep_below, measure, reckon_target

POUND_KG = Decimal("0.45359237")
TYPED_LB = st.decimals(3, 660, places=1).map(float)
WEIGHED_KG = st.decimals(2, 290, places=1).map(float)


def make_pull(**tries: tuple[float, ...]) -> Baseline:
    return Baseline(date=Day("2026-02-01"), hand="left", grip="half-crimp", edge_mm=20, method="pull", **tries)  # type: ignore[arg-type]


@given(TYPED_LB)
def test_pounds_come_back_as_they_were_typed(lb: float) -> None:
    best = measure(make_pull(lb=(lb,)), None).best_kg
    assert Decimal(repr(best)) == Decimal(repr(lb)) * POUND_KG
    assert write_mass(best, "lb") == f"{lb:g} lb"


@given(WEIGHED_KG, st.integers(5, 100), st.sampled_from(PLATES["lb"]))
def test_a_load_in_pounds_is_never_more_than_its_kilograms(best_kg: float, share: int, plate: float) -> None:
    """The whole plates of pounds that are printed lie below the exact share in kilograms, by less than a plate."""
    target = reckon_target(best_kg, share, "pull", plate_kg=to_kg(plate, "lb"), units="lb")
    printed = Decimal(write_mass(target.kg, "lb").removesuffix(" lb"))
    share_kg = Decimal(repr(best_kg)) * share / 100
    assert printed * POUND_KG <= share_kg < (printed + Decimal(repr(plate))) * POUND_KG
    assert printed % Decimal(repr(plate)) == 0
    assert target.why.result == f"{printed:g} lb" == write_mass(target.kg, "lb")


@given(TYPED_LB, st.integers(5, 100), st.sampled_from(PLATES["lb"]))
def test_a_sum_in_pounds_is_the_one_that_is_made_by_hand(lb: float, share: int, plate: float) -> None:
    """Share x pounds, down to whole plates: nobody who checks it has to know a kilogram."""
    target = reckon_target(to_kg(lb, "lb"), share, "pull", plate_kg=to_kg(plate, "lb"), units="lb")
    step = Decimal(repr(plate))
    assert Decimal(repr(from_kg(target.kg, "lb"))) == Decimal(repr(lb)) * share / 100 // step * step


@given(TYPED_LB, st.integers(50, 100))
def test_a_goal_in_pounds_is_never_too_low(lb: float, share: int) -> None:
    goal = Decimal(write_mass(reckon_goal(to_kg(lb, "lb"), share, "lb").kg, "lb").removesuffix(" lb"))
    exact = Decimal(repr(lb)) * share / 100
    assert goal - Decimal("0.1") < exact <= goal


@given(st.floats(3, 660), st.floats(45, 550), st.sampled_from(PLATES["lb"]), st.integers(5, 100))
def test_a_hang_in_pounds_changes_by_whole_plates(lb: float, body: float, plate: float, share: int) -> None:
    lb, body = round(lb, 1), round(body, 1)
    target = reckon_target(to_kg(lb, "lb"), share, "hang", to_kg(body, "lb"), to_kg(plate, "lb"), "lb")
    assert target.change_kg is not None
    change = Decimal(repr(from_kg(target.change_kg, "lb")))
    assert target.too_light or change % Decimal(repr(plate)) == 0
    assert Decimal(repr(from_kg(target.kg, "lb"))) <= max(Decimal(repr(lb)) * share / 100, 0)


def test_a_cap_stays_below_what_the_hurt_hand_held_in_pounds() -> None:
    target = reckon_target(to_kg(88, "lb"), 90, "pull", plate_kg=to_kg(2.5, "lb"), units="lb")
    assert write_mass(target.kg, "lb") == "77.5 lb"
    capped = keep_below(target, to_kg(70, "lb"), to_kg(2.5, "lb"), "lb")
    assert write_mass(capped.kg, "lb") == "67.5 lb"
    assert dict(capped.why.inputs) == {"held by the injured hand": "70 lb", "plate": "2.5 lb"}


def test_without_a_plate_the_step_is_a_pound() -> None:
    assert write_mass(reckon_target(to_kg(41, "lb"), 50, "pull", units="lb").kg, "lb") == "20 lb"


@pytest.mark.parametrize("units", ["kg", "lb"])
def test_a_sum_names_no_other_unit_than_the_case(units: Units) -> None:
    other = {"kg": "lb", "lb": "kg"}[units]
    whys = (
        reckon_target(30.0, 50, "hang", 70.0, units=units).why,
        keep_below(reckon_target(40.0, 90, "pull", units=units), 30.0, units=units).why,
        reckon_goal(30.0, 90, units).why,
        compare_loads(20.0, 30.0, units).why,
    )
    assert not [str(why) for why in whys if f" {other}" in str(why)]


@pytest.mark.parametrize(
    ("test", "body", "plate", "place", "says"),
    [
        (make_pull(lb=(2.0,)), None, None, ("baselines", 0, "lb", 0), "2 lb is not a load .* from 3 to 660 lb"),
        (make_pull(lb=(50.0, 700.0)), None, None, ("baselines", 0, "lb", 1), "from 3 to 660 lb"),
        (make_pull(), None, None, ("baselines", 0, "lb"), "under `lb`"),
        (make_pull(lb=(50.0,)), 14.0, None, ("body_mass_lb",), "14 lb is no body mass: it must be from 45 to 550 lb"),
        (make_pull(lb=(50.0,)), None, 2.2, ("plate_lb",), "no plate weighs 2.2 lb"),
    ],
)
def test_what_cannot_be_in_pounds_is_told_in_pounds(
    test: Baseline, body: float | None, plate: float | None, place: tuple[str | int, ...], says: str
) -> None:
    masses = (None if mass is None else to_kg(mass, "lb") for mass in (body, plate))
    (fault,) = find_faults([test], *masses, units="lb")
    assert fault.path == place
    assert re.search(says, fault.must)


def test_plates_in_pounds_are_no_plates_in_kilograms() -> None:
    """1.13 and 1.134 kg were both 2.5 lb, and sums with either were wrong by a little: pounds are written as pounds."""
    (fault,) = find_faults([], None, 1.134)
    assert "plates in pounds need `units: lb`" in fault.must
