"""A taping is followed with both hands: its sheet must lie there as one side, pictures and steps together."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace

import pikepdf
import pytest
from pdf_gate.samples import environment, library
from site_under_test import PROJECT
from sweep.cases import TODAY, Chosen, make_case, stages_for

from fingerpost.make.handout_html import write_html
from fingerpost.make.pdf import print_pdf
from fingerpost.model.case import Case
from fingerpost.model.words import Finger, Paper, Side
from fingerpost.plan.base.paper import Handout
from fingerpost.plan.case.check import find_case_findings
from fingerpost.plan.leaf.handout import plan_handout

pytestmark = pytest.mark.rest

TAPINGS = [taping.id for taping in library().vocabularies.tapings]
OUTER: tuple[tuple[Finger, Side], ...] = (("index", "radial"), ("little", "ulnar"), ("ring", "radial"))
"""Of the outer fingers most has to be said: on one side they have no neighbour."""


def list_cases(name: str, finger: Finger, side: Side) -> Iterator[Case]:
    """People of whom nothing was measured, which takes the most words, with one taping."""
    tapings = library().vocabularies.tapings
    glued = next((t.id for t in tapings if t.without_glue == name), None)
    wanted = glued or name
    for document in library().protocols:
        protocol = document.value
        grades = [(g.id, s) for g in protocol.grades for s in stages_for(protocol, g.id)]
        for grade, stage in grades:
            for place in protocol.places if wanted in [use.taping for use in stage.taping] else ():
                row = {
                    "step": (grade, stage.id), "finger": finger, "place": place, "age": "adult", "hand": "left",
                    "side": side if protocol.needs_side else None, "allergy": bool(glued), "visit": "first",
                    "strength": "none", "share": False,
                }  # fmt: skip
                case = replace(make_case(library(), Chosen(protocol, row)), tapings=(wanted,), enclose=("tape",))
                if not any(True for _ in find_case_findings(case, library(), TODAY)):
                    yield case


def count_sides(name: str, finger: Finger, side: Side, paper: Paper) -> list[int]:
    """How many sides the sheet of a taping takes, for the first person who gets its pictures."""
    for case in list_cases(name, finger, side):
        handout: Handout = plan_handout(library(), replace(case, paper=paper), TODAY)
        sheets = tuple(s for s in handout.sheets if f"step-{name}-1" in str(s))
        if sheets:
            html = write_html(environment(), replace(handout, leaves=(), sheets=sheets))
            return [len(pikepdf.open(io.BytesIO(print_pdf(html, PROJECT))).pages)]
    return []


@pytest.mark.parametrize("name", TAPINGS)
def test_a_taping_is_one_side_of_paper(name: str) -> None:
    counted = [count_sides(name, finger, side, "Letter") for finger, side in OUTER]
    assert [1] in counted
    assert all(sides in ([], [1]) for sides in counted)
    assert count_sides(name, "ring", "radial", "A4") == [1]
