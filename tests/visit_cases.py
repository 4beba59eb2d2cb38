"""Cases with a log of visits, for the tests about them: days are counted back from today."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from typing import Any

from site_under_test import whole_library
from sweep.cases import TODAY, Chosen, make_case

from fingerpost.model.case import Case, Clinician, Visit
from fingerpost.model.times import Day, to_written
from fingerpost.plan.base.paper import Since
from fingerpost.plan.base.runs import plain
from fingerpost.plan.case.check import find_case_findings
from fingerpost.plan.leaf.handout import plan_handout

USUAL = {
    "finger": "ring", "age": "adult", "hand": "left", "side": None, "allergy": False, "visit": "first",
    "strength": "none", "share": False, "place": "a2-pulley", "step": ("II", "easy-climbing"),
}  # fmt: skip
BY = Clinician(name="Imogen Thackeray-Vale", role="hand therapist")
STAGES = ("settle", "move", "first-load", "easy-climbing", "build", "full-climbing")


def ago(days: int) -> Day:
    return to_written(TODAY - timedelta(days=days))


def visit(days: int, stage: str, **more: Any) -> Visit:
    return Visit(date=ago(days), stage=stage, **more)


def case_of(stage: str, *visits: Visit, protocol: str = "pulley", **more: Any) -> Case:
    found = whole_library().find_protocol(protocol)
    assert found
    made = make_case(whole_library(), Chosen(found, USUAL))
    anchor = replace(made.anchor, date=ago(90))
    case = replace(made, stage=stage, began=(), visits=visits, checked=None, anchor=anchor, review_date=None)
    return replace(case, pace_reason="Seen elsewhere.", **more)


def since(case: Case) -> str:
    """What the leaf says of the last visit; '' where it says nothing."""
    leaf = plan_handout(whole_library(), case, TODAY).leaves[0]
    found = [plain(b.words) for b in (*leaf.front.blocks, *leaf.back.blocks) if isinstance(b, Since)]
    return found[0] if found else ""


def findings(case: Case) -> list[tuple[tuple[str | int, ...], str]]:
    return [(path, says) for path, says, _ in find_case_findings(case, whole_library(), TODAY)]
