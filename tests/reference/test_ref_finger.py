"""The finger model beside published figures, and the two that it fails.

CALC: worked by hand from the formulas; tolerance 0.01 N, the digit that is written. READ: in the abstract or text
named. recalled: from memory. A tolerance on a published figure is the spread that its source and ours leave open.
"""

from __future__ import annotations

from math import asin, cos, degrees, radians

import pytest

from fingerpost.model.shared import JointAngles
from fingerpost.model.words import Finger
from fingerpost.reckon.finger import (
    BONES_MM,
    BUCHHOLZ,
    Forces,
    Geometry,
    compare_grip,
    list_published,
    measure_finger,
    solve,
)

CRIMP, HALF, OPEN, SLOPE, DRAG, POCKET = ((-25, 90), (0, 70), (45, 39), (50, 25), (45, 15), (40, 15))


def per_newton(grip: tuple[int, int]) -> Forces:
    return solve(1.0, *grip)


@pytest.mark.parametrize(
    ("grip", "fdp", "fds", "a2", "a4"),
    [
        (CRIMP, 247.06, 147.47, 335.96, 167.38),
        (SLOPE, 215.38, 207.73, 103.13, 41.29),
        (HALF, 280.00, 173.53, 304.27, 148.71),
    ],
)
def test_worked_by_hand(grip: tuple[int, int], fdp: float, fds: float, a2: float, a4: float) -> None:
    found = solve(100, *grip)  # CALC
    assert (found.fdp, found.fds, found.a2, found.a4) == pytest.approx((fdp, fds, a2, a4), abs=0.01)


@pytest.mark.parametrize(
    ("grip", "a2", "a4"),
    [
        (CRIMP, 1.10, 1.13), (HALF, 1.0, 1.0), (OPEN, 0.52, 0.44),
        (SLOPE, 0.34, 0.28), (DRAG, 0.23, 0.17), (POCKET, 0.24, 0.17),
    ],
)  # fmt: skip
def test_ratios_to_half_crimp(grip: tuple[int, int], a2: float, a4: float) -> None:
    half = JointAngles(mcp=20, dip=0, pip=70, source="x")
    found = compare_grip("g", JointAngles(mcp=0, dip=grip[0], pip=grip[1], source="x"), half)  # CALC
    assert (found.a2.typical, found.a4.typical) == pytest.approx((a2, a4), abs=0.011)


@pytest.mark.parametrize(
    ("edge", "a2", "a4"), [(5, 3.40, 2.26), (10, 3.26, 1.96), (15, 3.12, 1.66), (20, 2.97, 1.36), (30, 2.69, 0.77)]
)
def test_edge_depth(edge: float, a2: float, a4: float) -> None:
    found = solve(1.0, *CRIMP, measure_finger("middle", edge))  # CALC, bones of Buryanov & Kotiuk 2010 (READ-2ND)
    assert (found.a2, found.a4) == pytest.approx((a2, a4), abs=0.006)


def test_smaller_edge_asks_more_of_a4() -> None:
    # Direction only: more of the deep flexor on small holds, Schweizer & Hudek 2011, J Appl Biomech 27:116: READ.
    loads = [solve(1.0, *CRIMP, measure_finger("middle", edge)).a4 for edge in (30, 20, 10, 5)]
    assert loads == sorted(loads)


@pytest.mark.parametrize(("tilt", "crimp", "slope"), [(20, 3.57, 0.70), (-20, 2.75, 1.24)])
def test_tilt_of_the_force(tilt: float, crimp: float, slope: float) -> None:
    assert solve(1.0, *CRIMP, tilt_deg=tilt).a2 == pytest.approx(crimp, abs=0.01)  # CALC
    assert solve(1.0, *SLOPE, tilt_deg=tilt).a2 == pytest.approx(slope, abs=0.01)  # CALC


# --- against published figures


@pytest.mark.parametrize(
    ("pip", "a2", "a4", "within"),
    [(90, 0.825, 0.649, (0.05, 0.06)), (35, 0.326, 0.278, (0.06, 0.06))],
)
def test_pulley_by_deep_flexor(pip: int, a2: float, a4: float, within: tuple[float, float]) -> None:
    # I Schöffl 2009, J Biomech 42:2183, 21 dissected fingers, crimp 287 and 226 by 348 N, slope 121 and 103 by 371 N:
    # READ. Only the deep flexor was pulled, so its part of the pulley load is compared. One split of the bend (0.56)
    # was set on the first figure; tolerance 5-6 %, the spread of the means.
    alone = solve(1.0, -25 if pip == 90 else 50, pip)
    assert alone.a2 / (alone.fdp + alone.fds) == pytest.approx(a2, rel=within[0])
    assert alone.a4 / alone.fdp == pytest.approx(a4, rel=within[1])


def test_measured_pulley_loads_add_up_to_a_measured_angle() -> None:
    # Bends from the same paper: 2 asin(287/348/2) + 2 asin(226/348/2) = 86.6 degrees (READ + CALC) against a PIP
    # angle of 87 (SD 12) in full crimp, Fischer 2024, Bioengineering 11:370: READ. Two papers that share nothing.
    bend = 2 * degrees(asin(287 / 348 / 2)) + 2 * degrees(asin(226 / 348 / 2))
    assert bend == pytest.approx(86.6, abs=0.1)
    assert abs(bend - 87) < 12


def test_a2_by_fingertip_force_in_living_fingers() -> None:
    # About 3 in a crimp, Schweizer 2001, J Biomech 34:217: READ. "About": 20 %.
    assert per_newton(CRIMP).a2 == pytest.approx(3, rel=0.20)


def test_dissected_fingers_by_fingertip_force() -> None:
    # Schöffl 2009 as above, tip 161 N in crimp: A4 1.40, FDP 2.16, A2 (deep flexor's part) 1.78: READ. The tip force
    # differed from slope without significance, so 20 %.
    crimp = per_newton(CRIMP)
    assert crimp.a4 == pytest.approx(226 / 161, rel=0.20)
    assert crimp.fdp == pytest.approx(348 / 161, rel=0.20)
    assert crimp.a2 * crimp.fdp / (crimp.fdp + crimp.fds) == pytest.approx(287 / 161, rel=0.20)


def test_ratio_of_the_tendons() -> None:
    # 1.75 in crimp, Vigouroux 2006, J Biomech 39:2583: READ. 0.88 on a slope: recalled. Arms were set to come near
    # the first (10 %). Nothing tighter than the order is asked of the second.
    crimp, slope = per_newton(CRIMP), per_newton(SLOPE)
    assert crimp.fdp / crimp.fds == pytest.approx(1.75, rel=0.10)
    assert slope.fdp / slope.fds == pytest.approx(0.88, rel=0.20)
    assert crimp.fdp / crimp.fds > slope.fdp / slope.fds


@pytest.mark.parametrize("pulley", ["a2", "a4"])
def test_order_of_grips(pulley: str) -> None:
    # Crimp above slope: READ (2001, 2009). Half crimp and open hand between: CALC.
    loads = [getattr(per_newton(grip), pulley) for grip in (CRIMP, HALF, OPEN, SLOPE)]
    assert loads == sorted(loads, reverse=True)


def test_crimp_by_slope_lies_between_the_published() -> None:
    # Schöffl 2009, per newton at the tip: A2 1.55, A4 1.43 (READ + CALC). Vigouroux 2006: 36 and 4 (recalled).
    crimp, slope = per_newton(CRIMP), per_newton(SLOPE)
    assert crimp.a2 / slope.a2 == pytest.approx(3.26, abs=0.01)  # CALC
    assert 1.5 < crimp.a2 / slope.a2 < 36
    assert crimp.a4 / slope.a4 == pytest.approx(4.05, abs=0.01)  # CALC
    assert 1.4 < crimp.a4 / slope.a4 < 5


def test_crimp_by_slope_with_the_slope_less_straight() -> None:
    # Raw 2.37, Schöffl 2009: READ. Reached with a slope PIP of 35 degrees: one angle is chosen, so 5 %.
    assert per_newton(CRIMP).a2 / solve(1.0, 50, 35).a2 == pytest.approx(2.37, rel=0.05)


@pytest.mark.parametrize(
    ("pip", "times"),
    [(2, 36), (5, 14.7), (10, 7.5), (15, 5.2), (20, 4.0), (25, 3.3), (30, 2.8), (35, 2.4), (39, 2.2), (45, 2.0)],
)
def test_why_36_times_can_be_had(pip: int, times: float) -> None:
    # CALC: a straight finger puts next to nothing on A2, so its ratio can be as large as one likes.
    assert per_newton(CRIMP).a2 / solve(1.0, 50, pip).a2 == pytest.approx(times, rel=0.05)


def test_equal_tendons_press_harder_in_a_crimp() -> None:
    # With 40 N in each tendon the fingertip presses harder in crimp than on a slope, Schweizer & Hudek 2011: READ, as a
    # direction. The tip force that uses 40 N in the deep flexor and at most 40 N in the other:
    tips = {}
    for name, grip in (("crimp", CRIMP), ("slope", SLOPE)):
        dip, pip = grip
        arms = 40 * (7.5 + 0.040 * pip) + 40 * (6.2 + 0.028 * pip)
        tips[name] = arms / (14.0 + 29.0 * cos(radians(dip)))
    assert tips["crimp"] > tips["slope"]
    assert tips["crimp"] == pytest.approx(19.7, abs=0.1)  # CALC
    assert tips["slope"] == pytest.approx(18.9, abs=0.1)  # CALC


# --- known limits: published figures that the model does not reach. They must stay here, and must stay unreached.


def test_known_limit_36_times() -> None:
    # A2 36 times lower on a slope, Vigouroux 2006: recalled. Ours is 91 % lower than that at the usual angles.
    ratio = per_newton(CRIMP).a2 / per_newton(SLOPE).a2
    assert ratio / 36 - 1 == pytest.approx(-0.91, abs=0.01)


def test_known_limit_deep_flexor_on_a_slope() -> None:
    # 371 N for 105 N at the tip, 3.53, Schöffl 2009: READ. Ours is 39 % lower: dissected fingers were not balanced at
    # the joints as ours is.
    assert per_newton(SLOPE).fdp / (371 / 105) - 1 == pytest.approx(-0.39, abs=0.01)


def test_readers_are_shown_the_limit() -> None:
    crimp = JointAngles(mcp=20, dip=-25, pip=90, source="x")
    slope = JointAngles(mcp=10, dip=50, pip=25, source="x")
    rows = {(row.pulley, row.source): row for row in list_published(crimp, slope)}
    gaps = {key: row.percent_more for key, row in rows.items()}
    assert gaps["a2", "vigouroux-2006"] < -80
    assert abs(gaps["a4", "vigouroux-2006"]) < 5
    # Both measured ratios (2.37 and 2.19, abstract) are missed; the gap is told, and neither is called alike.
    assert 30 < gaps["a2", "schoffl-2009-pulley-load"] < 45
    assert 75 < gaps["a4", "schoffl-2009-pulley-load"] < 90
    assert rows["a2", "vigouroux-2006"].seen == "recalled"


# --- lengths


@pytest.mark.parametrize(("at", "mm"), [(0, 49.2), (1, 31.5), (2, 20.0)])
def test_middle_finger_from_a_hand_of_185_mm(at: int, mm: float) -> None:
    # Buchholz 1992, Ergonomics 35:261 (READ in code that cites it), times 185: tolerance 0.05, one decimal.
    assert BUCHHOLZ["middle"][at] * 185 == pytest.approx(mm, abs=0.051)


@pytest.mark.parametrize(("finger", "mm"), [("index", 81.8), ("middle", 92.3), ("ring", 88.4), ("little", 70.5)])
def test_bone_sums(finger: Finger, mm: float) -> None:
    # Buryanov & Kotiuk 2010, Int J Morphol 28:755 (READ-2ND); with the pulp beyond the bone. CALC sums.
    assert sum(BONES_MM[finger]) == pytest.approx(mm, abs=0.01)


def test_the_two_tables_are_not_mixed() -> None:
    # They differ by 10-20 % in the middle segment (joint middles against bones), so one finger uses one table.
    assert measure_finger("middle", 10).middle_mm == 26.3
    assert measure_finger("middle", 10, 185).middle_mm == pytest.approx(0.170 * 185)
    assert Geometry() == Geometry(29.0, 14.0)


def test_measured_joint_angles_give_the_same_order() -> None:
    # PIP 87 (12), 70 (14), 39 (27), Fischer 2024, n=11: READ. One SD of full and half crimp overlap.
    half = JointAngles(mcp=20, pip=70, dip=0, pip_spread=14, source="fischer-2024")
    full = compare_grip("full-crimp", JointAngles(mcp=20, pip=87, dip=-25, pip_spread=12, source="fischer-2024"), half)
    loose = compare_grip("open-hand", JointAngles(mcp=15, pip=39, dip=45, pip_spread=27, source="fischer-2024"), half)
    same = compare_grip("half-crimp", half, half)
    assert full.a2.typical > same.a2.typical > loose.a2.typical
    assert full.a2.least < same.a2.most
    # The open hand's joint angles reach into the half crimp's, its loads do not: the end joint is bent as well.
    assert 39 + 27 > 70 - 14
    assert loose.a2.most < same.a2.least
