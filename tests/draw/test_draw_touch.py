"""The drawings to touch: every place is on one of them, inside its frame, named, and its own link."""

from __future__ import annotations

import re
from typing import get_args

import pytest
from bs4 import BeautifulSoup, Tag

from fingerpost.draw.picture import draw
from fingerpost.model.library import Library
from fingerpost.model.shared import TouchSpot
from fingerpost.plan.base.blocks import TouchMap
from fingerpost.plan.base.pictures import TouchPicture
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.visible import list_drawings
from fingerpost.plan.pages.way_in import plan_way_in


@pytest.fixture
def drawn(library: Library) -> dict[str, Tag]:
    """Each drawing of the way in as a parsed `svg` element."""
    found = {}
    for number, drawing in enumerate(list_drawings(plan_way_in(Writer(library)))):
        assert isinstance(drawing.picture, TouchPicture)
        svg = draw(drawing.picture, prefix=f"d{number}-", width_mm=drawing.width_mm)
        found[drawing.picture.view] = BeautifulSoup(svg, "html.parser").svg
    return found  # type: ignore[return-value]


def test_every_spot_can_be_touched(drawn: dict[str, Tag], library: Library) -> None:
    assert set(drawn) == {"palm", "back", "side", "forearm"}
    areas = [a for svg in drawn.values() for a in svg.find_all("a")]
    places = {s.id: s for s in library.vocabularies.signs if s.spot}
    assert {s.spot for s in places.values()} == set(get_args(TouchSpot))
    assert {a["data-sign"] for a in areas} == set(places)
    for a in areas:
        assert a["href"] == f"#place-{a['data-sign']}"
        assert a["aria-label"] == places[a["data-sign"]].says
        assert a.find(class_="touch-reach")["fill-opacity"] == "0"
        assert a.find(class_="touch-mark")["visibility"] == "hidden"


def test_areas_lie_inside_their_drawing(drawn: dict[str, Tag]) -> None:
    for view, svg in drawn.items():
        width, height = map(float, svg["viewbox"].split()[2:])
        for a in svg.find_all("a"):
            numbers = re.findall(r"-?[\d.]+", a.find(class_="touch-reach")["d"])
            points = list(zip(map(float, numbers[::2]), map(float, numbers[1::2]), strict=True))
            assert all(0 <= x <= width and 0 <= y <= height for x, y in points), (view, a["data-sign"])


def test_each_is_a_group_with_a_description_and_a_hidden_hand(drawn: dict[str, Tag]) -> None:
    ids = [g["id"] for svg in drawn.values() for g in svg.find_all(id=True)]
    assert len(ids) == len(set(ids)) == 4
    for svg in drawn.values():
        assert svg["role"] == "group"
        assert svg["aria-label"].endswith(".")
        assert svg.g["aria-hidden"] == "true"


def test_close_places_carry_words(drawn: dict[str, Tag], library: Library) -> None:
    words = [t.get_text() for t in drawn["side"].find_all("text")]
    assert sorted(words) == ["all round", "back", "palm side", "side"]
    assert not drawn["palm"].find_all("text")
    maps = [b for s in plan_way_in(Writer(library)) for b in s.blocks if isinstance(b, TouchMap)]
    assert len(maps) == 1
    assert len(maps[0].question.choices) == len(get_args(TouchSpot))
