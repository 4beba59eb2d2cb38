"""Shares between fingers add up to the whole, and sparing one of them loads the others more."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fingerpost.model.words import FINGERS, Finger
from fingerpost.reckon.shares import share_load

SETS = st.sets(st.sampled_from(FINGERS), min_size=1)


def test_four_fingers() -> None:
    found = share_load(FINGERS)
    assert found.shares_percent == (("index", 32), ("middle", 33), ("ring", 23), ("little", 12))
    assert (found.left_percent, found.extra_percent, found.cautions) == (100, 0, ())


def test_three_fingers() -> None:
    found = share_load(["index", "middle", "ring"], "free")
    assert found.shares_percent == (("index", 36), ("middle", 37), ("ring", 27))
    assert found.left_percent == 88
    assert found.of("little") == 0


def test_a_pocket_carries_a_caution_not_a_number() -> None:
    assert share_load(["middle", "ring"], "tucked").cautions == ("tucked-neighbours-make-it-pull-harder",)
    assert share_load(["middle"], "tucked").cautions == (
        "tucked-neighbours-make-it-pull-harder",
        "one-finger-takes-all",
    )
    assert share_load(["middle"], "free").cautions == ("one-finger-takes-all",)


def test_no_finger_left() -> None:
    with pytest.raises(ValueError, match="no finger is left"):
        share_load(["middle"], spared="middle")


def test_sparing_a_finger_that_is_not_in_use() -> None:
    assert share_load(["middle", "ring"], spared="index") == share_load(["middle", "ring"])


@given(SETS, st.sampled_from(["together", "free", "tucked"]))
def test_shares_are_whole_and_sum_to_the_whole(fingers: set[Finger], neighbours: str) -> None:
    found = share_load(fingers, neighbours)  # type: ignore[arg-type]
    assert sum(percent for _, percent in found.shares_percent) == 100
    assert all(0 < percent <= 100 for _, percent in found.shares_percent)
    assert [finger for finger, _ in found.shares_percent] == [finger for finger in FINGERS if finger in fingers]


@given(SETS, st.sampled_from(FINGERS))
def test_sparing_a_finger_leaves_less_and_loads_the_rest_more(fingers: set[Finger], spared: Finger) -> None:
    if fingers == {spared}:
        return
    before, after = share_load(fingers), share_load(fingers, spared=spared)
    assert after.left_percent <= before.left_percent
    assert all(after.of(finger) >= before.of(finger) for finger in fingers if finger != spared)
    assert (after.extra_percent > 0) is (spared in fingers)
