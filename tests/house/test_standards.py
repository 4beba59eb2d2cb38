"""The standards map: every item of TIDieR, CERT, PEMAT-P, DISCERN and CDC's index has an honest answer."""

from __future__ import annotations

import copy
from dataclasses import replace
from typing import get_args

import pytest
from pdf_gate.samples import TODAY, cases, library
from reading import standards

from fingerpost.model.case import EnclosureName
from fingerpost.plan.base.blocks import Table
from fingerpost.plan.base.runs import plain
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.site import plan_site


@pytest.fixture(scope="module")
def places() -> set[str]:
    site = plan_site(library())
    everything = (replace(case, enclose=get_args(EnclosureName)) for case in cases().values())
    handouts = [plan_handout(library(), case, TODAY) for case in everything]
    programmes = [h for h in handouts if h.leaves[0].kind != "stop"]  # who has to stop gets no home programme
    assert len(programmes) == 2
    stops = {d.value.id for d in library().protocols if d.value.stop}
    kept = {d.value.id for d in library().protocols} - stops  # nor does a short entry have one
    general = [h for h in site.handouts if h.file_stem.rpartition("-")[0] in kept]
    assert len(general) == 2 * len(kept)
    return standards.list_places(list(site.pages), programmes, general)


def test_every_item_is_there() -> None:
    found = {standard: list(items) for standard, items in standards.read_map().items()}
    assert found == standards.IDS
    assert [len(ids) for ids in standards.IDS.values()] == [12, 19, 24, 16, 20]


def test_every_answer_is_so(places: set[str]) -> None:
    assert len(standards.list_fields()) > 100
    assert not list(standards.find_faults(places))


def test_what_is_unmet_is_called_unmet() -> None:
    """These have no field and no part: an item that gets one must leave this list, and none may slip in unseen."""
    unmet = {f"{s} {id}" for s, items in standards.read_map().items() for id, item in items.items() if "unmet" in item}
    assert unmet == {"TIDieR T6", "TIDieR T7", "TIDieR T12", "CERT C3", "CERT C6", "CERT C12", "CERT C16b"}


@pytest.mark.parametrize(
    ("item", "says"),
    [
        ({"says": "x"}, "must be either"),
        ({"says": "x", "unmet": "no"}, "gives no reason"),
        ({"says": "x", "fields": ["Stage.colour"], "shown": ["foot"]}, "no field Stage.colour"),
        ({"says": "x", "fields": ["Stage.aim"], "shown": ["page #nowhere"]}, "do not meet"),
        ({"says": "x", "fields": ["Stage.aim"]}, "must be either"),
        ({"fields": ["Stage.aim"], "shown": ["foot"]}, "does not say"),
        ({"says": "x", "score": 5, "person": "only a person can tell this"}, "a key too many"),
    ],
)
def test_a_false_answer_is_noticed(
    item: dict[str, object], says: str, places: set[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    changed = copy.deepcopy(standards.read_map())
    changed["CERT"]["C1"] = item
    monkeypatch.setattr(standards, "read_map", lambda: changed)
    assert any(says in fault for fault in standards.find_faults(places))


def test_readers_find_every_point_and_what_we_do_not_hold_to() -> None:
    """The page is made from the very map that is held against the model here."""
    (page,) = [page for page in plan_site(library()).pages if page.kind == "standards"]
    tables = [block for section in page.sections for block in section.blocks if isinstance(block, Table)]
    told = {plain(row[0]).split(".")[0]: plain(row[1]) for table in tables for row in table.rows}
    assert [plain(row[0]).split(".")[0] for table in tables for row in table.rows] == [
        id for ids in standards.IDS.values() for id in ids
    ]
    assert {id for id, answer in told.items() if answer.startswith("Not held. ")} == {
        "T6", "T7", "T12", "C3", "C6", "C12", "C16b"
    }  # fmt: skip
    assert all(plain(row[2]) for table in tables for row in table.rows)
