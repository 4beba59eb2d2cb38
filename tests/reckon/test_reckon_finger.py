"""The statics of a finger: laws that must hold whatever the numbers are."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingerpost.model.shared import JointAngles
from fingerpost.model.words import FINGERS, Finger
from fingerpost.reckon.finger import Geometry, asks_more, compare_grip, measure_finger, solve

HALF = JointAngles(mcp=20, pip=70, dip=0, source="x")
PIPS, DIPS, TILTS = st.floats(0, 135), st.floats(-30, 90), st.floats(-30, 30)
SIZES = st.builds(Geometry, st.floats(15, 40), st.floats(1, 30))


def angles(pip: int, dip: int, spread: int = 0) -> JointAngles:
    return JointAngles(mcp=0, pip=pip, dip=dip, pip_spread=spread, source="fischer-2024")


@given(st.floats(0.1, 500), st.floats(0.1, 10), DIPS, PIPS, SIZES, TILTS)
def test_linear_in_force(force: float, times: float, dip: float, pip: float, size: Geometry, tilt: float) -> None:
    one, more = solve(force, dip, pip, size, tilt), solve(force * times, dip, pip, size, tilt)
    for name in ("fdp", "fds", "a2", "a4"):
        assert getattr(more, name) == pytest.approx(getattr(one, name) * times, rel=1e-9, abs=1e-9)


@given(DIPS, PIPS, SIZES, TILTS)
def test_tendons_never_push(dip: float, pip: float, size: Geometry, tilt: float) -> None:
    found = solve(100, dip, pip, size, tilt)
    assert min(found.fdp, found.fds, found.a2, found.a4) >= 0


def test_a_tendon_that_would_push_is_left_out() -> None:
    # A long lever at the tip and a bent PIP joint: the deep flexor alone more than balances the middle joint.
    assert solve(100, 0, 90, Geometry(29.0, 25.0)).fds == 0.0


@given(DIPS, SIZES)
def test_a_straight_joint_loads_no_pulley(dip: float, size: Geometry) -> None:
    found = solve(100, dip, 0, size)
    assert (found.a2, found.a4) == (0, 0)


@given(st.integers(0, 120), st.integers(-30, 90), st.integers(0, 30), st.sampled_from(FINGERS))
def test_the_range_holds_the_typical_value(pip: int, dip: int, spread: int, finger: Finger) -> None:
    found = compare_grip("g", angles(pip, dip, spread), HALF, measure_finger(finger, 15))
    for ratio in (found.a2, found.a4):
        assert ratio.least <= ratio.typical <= ratio.most
    assert found.spread_known is (spread > 0)


def test_the_range_reaches_both_ways() -> None:
    found = compare_grip("half-crimp", angles(70, 0, 14), HALF)
    ends = [compare_grip("g", angles(pip, 0), HALF) for pip in (56, 84)]
    assert (found.a2.least, found.a2.most) == (ends[0].a2.typical, ends[1].a2.typical)
    assert (found.a4.least, found.a4.most) == (ends[0].a4.typical, ends[1].a4.typical)


def test_half_crimp_beside_itself() -> None:
    found = compare_grip("half-crimp", HALF, HALF)
    assert found.a2.typical == found.a4.typical == 1.0


def test_only_ratios_are_shown() -> None:
    found = compare_grip("full-crimp", angles(87, -25, 12), HALF)
    assert set(vars(found)) == {"grip", "a2", "a4", "spread_known", "why"}
    said = str(found.why)
    assert " N;" not in said
    assert "newton" not in said.lower()
    assert "fdp" not in said.lower()


def test_asking_more_needs_a_margin() -> None:
    full, half, slope = (compare_grip("g", a, HALF) for a in (angles(87, -25), HALF, angles(25, 50)))
    assert asks_more(full, half, "a2")
    assert asks_more(half, slope, "a4")
    assert not asks_more(half, full, "a2")
    assert not asks_more(half, half, "a2")
    drag, pocket = (compare_grip("g", a, HALF) for a in (angles(15, 45), angles(15, 40)))
    assert not asks_more(pocket, drag, "a2")


@pytest.mark.parametrize("pair", [(-1, 0), (136, 0), (70, -31), (70, 91)])
def test_impossible_angles_are_refused(pair: tuple[int, int]) -> None:
    with pytest.raises(ValueError, match="cannot stand at"):
        compare_grip("g", angles(*pair), HALF)
    with pytest.raises(ValueError, match="cannot stand at"):
        compare_grip("g", HALF, angles(*pair))


@pytest.mark.parametrize("edge", [2.0, 0.0, 31.0, float("nan")])
def test_impossible_edges_are_refused(edge: float) -> None:
    with pytest.raises(ValueError, match="from 4 to 30 mm"):
        measure_finger("ring", edge)


@pytest.mark.parametrize("hand", [18.5, 0.0, 300.0, float("nan")])
def test_impossible_hands_are_refused(hand: float) -> None:
    with pytest.raises(ValueError, match="from 120 to 240 mm"):
        measure_finger("ring", hand_mm=hand)


@pytest.mark.parametrize("finger", FINGERS)
def test_lengths_of_each_finger(finger: Finger) -> None:
    bones, hand = measure_finger(finger), measure_finger(finger, 10, 185)
    assert 15 < bones.middle_mm < hand.middle_mm < 35
    assert 5 < bones.tip_mm < hand.tip_mm < 20
