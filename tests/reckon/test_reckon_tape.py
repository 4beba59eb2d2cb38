"""Tape: a finger's size from the best that is known, strips that leave joints free, and enough of them for a week."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingerpost.model.case import FingerSize
from fingerpost.model.shared import TapingKind, TapingLevel
from fingerpost.model.words import FINGERS, Finger
from fingerpost.reckon.tape import (
    SEGMENTS,
    convert_to_ring_size,
    explain_refusal,
    find_faults,
    find_loop_length,
    list_strips,
    plan_cuts,
    round_up,
    size_finger,
)

NAN = float("nan")


def size(finger: Finger, mm: float) -> FingerSize:
    return FingerSize(finger=finger, mm=mm)


# --- sizes


def test_a_measured_finger_is_used_as_it_is() -> None:
    found = size_finger("ring", [size("middle", 60), size("ring", 55.5)], "S")
    assert (found.pip_mm, found.origin) == (55.5, "measured")


def test_the_nearest_measured_finger_is_next() -> None:
    found = size_finger("ring", [size("index", 58.8), size("little", 45.0)])
    assert (found.pip_mm, found.origin) == (51.5, "from-another-finger")  # 45 x 0.95 / 0.83
    assert size_finger("little", [size("index", 58.8)]).pip_mm == 49.8


@pytest.mark.parametrize(("letter", "mm"), [("S", 47.5), ("M", 54.1), ("L", 60.8)])
def test_letters_are_last(letter: str, mm: float) -> None:
    found = size_finger("ring", [], letter)  # type: ignore[arg-type]
    assert (found.pip_mm, found.origin) == (mm, "size-letter")


def test_no_letter_lies_outside_the_gauge() -> None:
    assert not any(size_finger(finger, [], letter).outside_gauge for finger in FINGERS for letter in ("S", "M", "L"))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("mm", "says"),
    [
        (5.7, "looks like centimetres: it must be in millimetres round the finger, 57 mm"),
        (8.5, "centimetres"),
        (2.25, "looks like inches: it must be in millimetres round the finger, 57 mm"),
        (18.2, "looks like millimetres across: it must be in millimetres round the finger, 57 mm"),
        (35.9, "from 36 to 85 mm"),
        (85.1, "from 36 to 85 mm"),
        (570.0, "from 36 to 85 mm"),
        (0.0, "from 36 to 85 mm"),
        (-57.0, "from 36 to 85 mm"),
        (NAN, "from 36 to 85 mm"),
        (float("inf"), "from 36 to 85 mm"),
    ],
)
def test_impossible_sizes_say_the_likely_slip(mm: float, says: str) -> None:
    assert says in explain_refusal(mm)
    (fault,) = find_faults([size("index", 57), size("ring", mm)])
    assert fault.path == ("finger_sizes", 1, "mm")
    with pytest.raises(ValueError, match="must be"):
        size_finger("little", [size("ring", mm)])


@pytest.mark.parametrize(("mm", "marked"), [(36.0, True), (40.9, True), (41.0, False), (76.0, False), (85.0, True)])
def test_odd_sizes_are_marked(mm: float, marked: bool) -> None:
    assert explain_refusal(mm) == ""
    assert size_finger("ring", [size("ring", mm)]).outside_gauge is marked


# --- strips


def test_a_ring_on_each_pulley() -> None:
    finger = size_finger("middle", [size("middle", 57)])
    (a2,), (a4,) = list_strips("ring", "a2", finger), list_strips("ring", "a4", finger)
    assert (a2.segment, a2.length_mm, a2.width_mm) == ("proximal", 125, 15)  # 2 x 55.29 + 3.8 + 10 = 124.4
    assert (a4.segment, a4.length_mm, a4.width_mm) == ("middle", 115, 10)  # 2 x 49.59 + 3.8 + 10 = 113.0


def test_a_short_finger_gets_a_narrow_ring() -> None:
    (strip,) = list_strips("ring", "a2", size_finger("little", []))
    assert strip.width_mm == 10


def test_buddy_strips_leave_the_joints_free() -> None:
    finger, partner = size_finger("ring", []), size_finger("middle", [])
    for level in ("proximal-and-middle", "pip"):
        strips = list_strips("buddy", level, finger, partner)  # type: ignore[arg-type]
        assert [strip.segment for strip in strips] == ["proximal", "middle"]
        assert [strip.length_mm for strip in strips] == [155, 140]


@pytest.mark.parametrize(
    ("one", "other", "width"), [("index", "middle", 10), ("ring", "little", 8), ("little", "ring", 8)]
)
def test_buddy_strips_are_so_narrow_that_no_joint_lies_under_them(one: Finger, other: Finger, width: int) -> None:
    strips = list_strips("buddy", "proximal-and-middle", size_finger(one, []), size_finger(other, []))
    assert [strip.width_mm for strip in strips] == [width, width]


def test_a_crossing_loop_is_longer() -> None:
    finger, partner = size_finger("ring", []), size_finger("middle", [])
    straight = list_strips("buddy", "proximal-and-middle", finger, partner)
    crossing = list_strips("buddy", "proximal-and-middle", finger, partner, "crossing")
    assert all(a.length_mm < b.length_mm for a, b in zip(straight, crossing, strict=True))
    assert "figure of eight" in crossing[0].why.formula


def test_an_h_strip_has_four_equal_tails() -> None:
    (strip,) = list_strips("h-strip", "proximal-and-middle", size_finger("ring", [], "S"))
    assert (strip.length_mm, strip.tail_mm, strip.bridge_mm) == (85, 37.5, 10.0)
    assert 2 * strip.tail_mm + strip.bridge_mm == strip.length_mm


def test_a_splint_is_not_cut() -> None:
    assert list_strips("splint", "pip", size_finger("ring", [])) == ()


def test_a_buddy_is_needed() -> None:
    with pytest.raises(ValueError, match="needs a finger to tape to"):
        list_strips("buddy", "proximal-and-middle", size_finger("ring", []))


def test_a_negative_gap_is_refused() -> None:
    for gap in (-1.0, NAN):
        with pytest.raises(ValueError, match="must not be below 0"):
            find_loop_length(57, 54, gap)


def test_strips_explain_themselves() -> None:
    (strip,) = list_strips("ring", "a2", size_finger("ring", [size("middle", 57)]))
    said = str(strip.why)
    assert "n C + pi t n^2 + overlap" in said
    assert "from-another-finger" in said
    assert "before rounding up to 5 mm" in said


@pytest.mark.parametrize(("mm", "up"), [(100.0, 100), (100.0000000001, 100), (100.01, 105), (99.9, 100), (0.0, 0)])
def test_rounding_up(mm: float, up: int) -> None:
    assert round_up(mm) == up


# --- cut lists


def test_a_week_of_cuts() -> None:
    strips = list_strips("buddy", "proximal-and-middle", size_finger("ring", []), size_finger("middle", []))
    cuts = plan_cuts(strips, 7)
    assert (cuts.each_time_mm, cuts.week_strips, cuts.week_mm, cuts.roll_weeks) == (295, 14, 2065, 4)


@pytest.mark.parametrize("times", [0, -1, 71])
def test_impossible_weeks_are_refused(times: int) -> None:
    with pytest.raises(ValueError, match="from 1 to 70"):
        plan_cuts((), times)


def test_ring_sizes_out_of_the_gauge_are_marked() -> None:
    assert [convert_to_ring_size(mm).in_gauge for mm in (40, 41, 76, 77)] == [False, True, True, False]


# --- properties

TAPINGS: list[tuple[TapingKind, TapingLevel]] = [
    *(("ring", level) for level in SEGMENTS), ("h-strip", "proximal-and-middle"), ("buddy", "proximal-and-middle")
]  # fmt: skip
ROUNDS = st.floats(36, 85)


@given(st.sampled_from(TAPINGS), st.sampled_from(["straight", "crossing"]), ROUNDS, ROUNDS, ROUNDS)
def test_strips_grow_with_the_finger(
    taping: tuple[TapingKind, TapingLevel], variant: str, one: float, other: float, mate: float
) -> None:
    thin, thick = sorted((one, other))
    partner = size_finger("middle", [size("middle", mate)])
    lengths = [
        [
            strip.length_mm
            for strip in list_strips(*taping, size_finger("ring", [size("ring", mm)]), partner, variant)  # type: ignore[arg-type]
        ]
        for mm in (thin, thick)
    ]
    assert all(a <= b for a, b in zip(*lengths, strict=True))
    assert all(length % 5 == 0 and length > 0 for row in lengths for length in row)


@given(ROUNDS, ROUNDS, st.floats(0, 20), st.sampled_from(["straight", "crossing"]))
def test_a_loop_does_not_care_which_finger_comes_first(one: float, other: float, gap: float, variant: str) -> None:
    first, second = find_loop_length(one, other, gap, variant), find_loop_length(other, one, gap, variant)  # type: ignore[arg-type]
    assert first == pytest.approx(second, abs=1e-9)


@given(ROUNDS, ROUNDS, st.floats(0, 19), st.floats(0.01, 1))
def test_a_wider_gap_needs_more_tape(one: float, other: float, gap: float, more: float) -> None:
    assert find_loop_length(one, other, gap + more) > find_loop_length(one, other, gap)
