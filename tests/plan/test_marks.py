"""Marks on pages and sheets: each one leads to a line that says where the figure is from."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any, get_args

import pytest
from pdf_gate.samples import TODAY, cases

from fingerpost.model.audience import MARK, flat
from fingerpost.model.case import Case, EnclosureName
from fingerpost.model.library import Library
from fingerpost.model.times import Day
from fingerpost.model.words import UNSOURCED
from fingerpost.plan.base.paper import Handout, Side
from fingerpost.plan.base.prose import LETTERS, Writer
from fingerpost.plan.base.runs import Words, text
from fingerpost.plan.base.visible import list_words
from fingerpost.plan.case.check import find_case_findings, stages_of
from fingerpost.plan.injury.page import plan_protocol_page
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.site import plan_site
from fingerpost.plan.person import gate_words

_LINE = re.compile(r"\[(\w+)\]:? ")


def test_every_mark_of_every_page_and_sheet_has_its_line(library: Library) -> None:
    site = plan_site(library)
    seen: set[str] = set()
    mine = [plan_handout(library, replace(case, enclose=get_args(EnclosureName)), TODAY) for case in cases().values()]
    handouts = (*site.handouts, *mine, *list_sheets(library))
    for part in (*site.pages, *(handout.sheets for handout in handouts if handout.sheets)):
        used, told = list_marks(part)
        assert used <= told, getattr(part, "address", "") or part
        seen |= used
    assert {"source-p", "source-o", "source-1"} <= seen


def list_marks(part: Any) -> tuple[set[str], set[str]]:
    """(the marks of a page or of sheets, those that a line explains)."""
    words = list(list_words(part))
    used = {run.target for line in words for run in line if run.kind == "mark"}
    return used, {f"source-{m.group(1)}" for line in words for run in line if (m := _LINE.fullmatch(run.text))}


def list_sides(handouts: Iterable[Handout]) -> Iterator[Side]:
    return (side for handout in handouts for leaf in handout.leaves for side in (leaf.front, leaf.back))


def test_each_side_of_a_leaf_explains_its_own_marks_at_its_foot(library: Library) -> None:
    """Sides get copied one by one. The foot explains each mark once, and none that is not there."""
    seen: list[str] = []
    for side in list_sides((*plan_site(library).handouts, *list_sheets(library))):
        used = [run.target for words in list_words((side.blocks, side.help)) for run in words if run.kind == "mark"]
        told = [f"source-{m.group(1)}" for run in side.foot if (m := re.fullmatch(r"\[(\w+)\]: ", run.text))]
        assert told == list(dict.fromkeys(used))
        seen += told
    assert {"source-p", "source-o", "source-1"} <= {*seen}


def test_a_choice_of_ours_is_not_told_as_a_habit(library: Library) -> None:
    writer = Writer(library)
    assert writer.mark("own").text != writer.mark("common-practice").text
    told = writer.source_list()
    assert told is not None
    rows = ["".join(run.text for run in row) for row in told.items]
    assert [row[:4] for row in rows] == [f"[{letter}] " for letter, _ in LETTERS.values()]
    assert "many clinicians" in rows[0]
    assert "Our own choice" in rows[1]
    assert "clinicians" not in rows[1]


def list_sheets(library: Library) -> Iterator[Handout]:
    """Each demo case in each of its stages, and the growing finger cleared too."""
    for case in (*cases().values(), cleared_child()):
        protocol = library.find_protocol(case.protocol)
        assert protocol
        for stage in stages_of(protocol, case.grade):
            now = replace(case, stage=stage.id, began=(), checked=None, tapings=())
            if not any(True for _ in find_case_findings(now, library, TODAY)):
                yield plan_handout(library, now, TODAY)


def cleared_child() -> Case:
    return replace(cases()["growth-plate-left-middle"], doctor_cleared=Day("2026-11-24"), pace_reason="Seen elsewhere.")


def find_bare_marks(library: Library, parts: Iterable[Any]) -> set[str]:
    """Texts that print a mark as its author wrote it, and lead nowhere."""
    names = {*UNSOURCED, *(source.id for source in library.vocabularies.sources)}
    runs = (run for part in parts for words in list_words(part, heard=True) for run in words if run.kind != "mark")
    return {run.text for run in runs for found in MARK.finditer(run.text) if found["name"] in names}


def test_no_mark_is_printed_as_it_was_written(library: Library) -> None:
    site = plan_site(library)
    sheets = list(list_sheets(library))
    assert len(sheets) > 15
    assert find_bare_marks(library, (*site.pages, *site.handouts, *sheets)) == set()


def test_a_mark_that_is_printed_as_it_was_written_is_found(library: Library, monkeypatch: pytest.MonkeyPatch) -> None:
    """The time that a gate asks for was taken for words without a mark."""
    monkeypatch.setattr(gate_words, "_after", lambda writer, says: text(f" {says}"))
    page = plan_protocol_page(library, "growth-plate")
    assert find_bare_marks(library, (page,)) == {" At least 28 days in this stage [own]."}


def test_a_mark_that_a_leaf_prints_as_it_was_written_is_found(
    library: Library, monkeypatch: pytest.MonkeyPatch
) -> None:
    def bare(self: Writer, written: Any) -> Words:
        pieces = written if isinstance(written, str | tuple) else (written,)
        return text(" ".join((pieces if isinstance(pieces, str) else flat(pieces)).split()))

    monkeypatch.setattr(Writer, "words", bare)
    cleared = replace(cleared_child(), stage="easy-climbing", began=(), checked=None)
    found = find_bare_marks(library, plan_handout(library, cleared, TODAY).leaves)
    assert any(line.endswith("without going back a step [own].") for line in found)
