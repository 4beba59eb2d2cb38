"""What readers see of the sums about grips: no bar that misleads, and what was measured beside what we work out."""

from __future__ import annotations

from typing import Literal

import pytest

from fingerpost.model.library import Library
from fingerpost.model.words import FINGERS
from fingerpost.plan.base.blocks import plain
from fingerpost.plan.base.pictures import LoadPicture
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.pages.grip_loads import load_chart, load_table, published_table


@pytest.mark.parametrize("pulley", ["a2", "a4"])
def test_no_grip_of_fewer_than_four_fingers_looks_mild(library: Library, pulley: Literal["a2", "a4"]) -> None:
    fewer = {g.name for g in library.vocabularies.grips if len(g.fingers) < len(FINGERS)}
    assert {"One-finger pocket", "Two-finger pocket"} <= fewer
    picture = load_chart(Writer(library), pulley).picture
    assert isinstance(picture, LoadPicture)
    names = {row.name for row in picture.rows}
    assert "Full crimp" in names
    assert not fewer & names
    assert not fewer & {plain(row[0]) for row in load_table(Writer(library)).rows}


def test_what_was_measured_stands_beside_ours_with_the_gap_between_them(library: Library) -> None:
    table = published_table(Writer(library))
    assert table is not None
    rows = {plain(row[0]): [plain(cell) for cell in row[1:]] for row in table.rows}
    for pulley, measured in (("A2", 2.37), ("A4", 2.19)):
        published, ours, compared = rows[pulley]
        assert published.startswith(f"{measured}")
        percent = round((float(ours) / measured - 1) * 100)
        assert abs(percent) > 10, "a gap as small as this would need other words"
        assert compared == f"not the same: ours is {percent} % more"
