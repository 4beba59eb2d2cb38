"""Each detector catches the mistake that it is for, and no other detector takes that mistake for its own."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from sweep import specimens, specimens_leaf, specimens_more
from sweep.detectors import DETECTORS, detect
from sweep.plant import Specimen, shipped, usual
from sweep.sheets import tell

SPECIMENS: Mapping[str, Specimen] = {
    **specimens.STOP,
    **specimens.TAPE,
    **specimens.GRIPS,
    **specimens.PERSON,
    **specimens.PICTURES,
    **specimens_more.DATES,
    **specimens_more.WORDS,
    **specimens_more.STRUCTURE,
    **specimens_more.CARE,
    **specimens_more.CLAIMS,
    **specimens_more.FRAME,
    **specimens_more.COACH,
    **specimens_more.DESK,
    **specimens_leaf.LEAF,
}


def test_each_detector_has_its_specimen_and_says_what_no_reader_may_see() -> None:
    assert set(SPECIMENS) == set(DETECTORS)
    assert all((find.__doc__ or "").strip().endswith(".") for find in DETECTORS.values())


@pytest.mark.parametrize("name", DETECTORS)
def test_exactly_this_detector_catches_its_specimen(name: str) -> None:
    specimen = SPECIMENS[name]
    before = usual(specimen, shipped())
    after = tell(specimen.library(shipped()), before.facts.case) if specimen.library else specimen.plant(before)
    caught = set(detect(after)) - set(detect(before))
    assert {who for who, _ in caught} == {name}, sorted(caught)
