"""The same case gives the same sheets, byte for byte, on the command line and in the browser's Python."""

from __future__ import annotations

import hashlib
import json
from datetime import date
from pathlib import Path
from typing import Any

from desk_cases import make_cases
from desk_under_test import read_answers, start_node

from fingerpost.desk.api import open_door, write_kit
from fingerpost.make import pdf
from fingerpost.make.templates import make_environment
from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.read.validate import read_value

TODAY = date(2026, 11, 25)
COUNT = 200


def ask(question: str, case: dict[str, Any]) -> dict[str, Any]:
    return {"ask": question, "today": TODAY.isoformat(), "case": case}


def test_both_pythons_make_the_same_sheets(library: Library, project: Path, tmp_path: Path) -> None:
    cases = make_cases(library, COUNT, TODAY)
    questions = [ask("sheets", case) for case in cases]
    questions += [ask(what, case) for case in cases[:20] for what in ("save", "calendar")]
    questions += [ask("sheets", {**cases[0], "name": name}) for name in ("日本語 😀", "a\u202eb", "a\u2028b")]
    node = start_node(questions, tmp_path)
    templates = pdf.read_templates(project / "templates")
    door = open_door(write_kit(library, templates))
    here = [json.loads(door.answer(json.dumps(question))) for question in questions]
    case, _ = read_value(Case, cases[0])
    assert case
    assert here[0]["html"] == pdf.write_html(make_environment(templates), plan_handout(library, case, TODAY))
    for answer in here[:COUNT]:
        answer["html"] = hashlib.sha256(answer["html"].encode()).hexdigest()  # none is refused
    assert len({answer["html"] for answer in here[:COUNT]}) > 0.95 * COUNT  # and they differ
    assert [answer["findings"][0]["at"] for answer in here[-3:]] == ["name"] * 3
    there = read_answers(node, tmp_path)
    assert [at for at, (one, other) in enumerate(zip(here, there, strict=True)) if one != other] == []
