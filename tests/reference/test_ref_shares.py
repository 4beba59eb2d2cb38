"""How fingers share a load, beside the published shares."""

from __future__ import annotations

import pytest

from fingerpost.model.words import FINGERS
from fingerpost.reckon.shares import CRIMP_ORDER, OPEN_ORDER, SHARES_PERCENT, SHARES_SD_PERCENT, share_load


def test_published_shares_sum_to_the_whole() -> None:
    # Z-M Li 2002, J Hand Surg 27A:886, 32.2 / 32.6 / 23.5 / 11.7 %: READ (abstract).
    assert tuple(SHARES_PERCENT.values()) == (32.2, 32.6, 23.5, 11.7)
    assert sum(SHARES_PERCENT.values()) == pytest.approx(100.0, abs=1e-9)
    assert tuple(SHARES_SD_PERCENT.values()) == (3.8, 4.3, 4.5, 4.9)  # READ, same


def test_another_task_shares_alike() -> None:
    # Static pinch, Radwin 1992, Ergonomics 35:275, 33 / 33 / 17 / 15 % (sums to 98): READ. A different task, so only
    # within two of Li's standard deviations.
    for finger, percent in zip(FINGERS, (33, 33, 17, 15), strict=True):
        assert abs(SHARES_PERCENT[finger] - percent) < 2 * SHARES_SD_PERCENT[finger]


def test_single_fingers_do_not_sum_to_four() -> None:
    # Yun, Arch Hand Microsurg 29(2): index 108.4, middle 110.5, ring 83.6 N alone, four together 343.3 N: READ. Index
    # and middle as in Li (equal within 2 %); three alone are nearly as strong as four together, so a share is not a
    # single finger's strength, and no gain for single fingers may be added.
    assert pytest.approx(SHARES_PERCENT["index"] / SHARES_PERCENT["middle"], rel=0.02) == 108.4 / 110.5
    left = share_load(FINGERS, spared="little").left_percent
    assert pytest.approx(left, abs=1) == (108.4 + 110.5 + 83.6) / 343.3 * 100


def test_order_by_grip() -> None:
    # Sports Technol 2012 5:151: closed crimp index first, then middle, ring, little; half crimp and open hand middle
    # first, index and ring alike, little least: READ (abstract).
    assert CRIMP_ORDER == (("index",), ("middle",), ("ring",), ("little",))
    assert OPEN_ORDER == (("middle",), ("index", "ring"), ("little",))


@pytest.mark.parametrize(
    ("spared", "left", "extra"), [("index", 67, 47), ("middle", 67, 48), ("ring", 76, 31), ("little", 88, 13)]
)
def test_what_is_left_when_one_is_spared(spared: str, left: int, extra: int) -> None:
    # CALC from Li: left = 100 - share; extra = share / (100 - share).
    found = share_load(FINGERS, spared=spared)  # type: ignore[arg-type]
    assert found.left_percent == left
    assert found.extra_percent == extra
