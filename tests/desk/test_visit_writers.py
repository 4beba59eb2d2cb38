"""The desk and the command line write a visit into the same file, once, and old cases become new ones."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from desk_cases import make_cases
from site_under_test import whole_library
from sweep.cases import TODAY
from visit_cases import BY, ago, case_of

from fingerpost.desk.api import Door
from fingerpost.make.templates import make_environment
from fingerpost.model.case import Began, Case, Checked
from fingerpost.model.library import Library
from fingerpost.model.times import write_date
from fingerpost.plan.base.outline import outline_handout
from fingerpost.plan.case.file import to_plain
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.problems import ContentError
from fingerpost.read import validate
from fingerpost.read.library import read_case_text, read_plain
from fingerpost.rewrite.arrange import write_plain
from fingerpost.run.visit_log import add_visit, write_visit

# ------------------------------------------------------------------ both writers


HASH = "0123abcd"


def hashed() -> Library:
    """The collection as it is when it was loaded to be printed: each protocol has its content hash."""
    return replace(whole_library(), content_hashes={d.value.id: HASH for d in whole_library().protocols})


def door() -> Door:
    return Door(hashed(), make_environment({}))


def save(case: Any, printed: bool = True) -> str:
    asked = {"today": TODAY.isoformat(), "case": case, "printed": printed}
    return str(door().answer_data({"ask": "save", **asked})["text"])


def test_the_desk_and_the_command_line_write_the_same_file() -> None:
    """Whichever a clinic uses, a case goes on with the other: old ones and new ones, in every injury and stage."""
    for data in make_cases(whole_library(), 70, TODAY):
        case, _ = validate.read_value(Case, data)
        assert case
        file = (
            f"# A case for Fingerpost. Keep it where notes about people are kept.\n{write_plain(to_plain(case), Case)}"
        )
        assert add_visit(file, hashed(), TODAY, "a.yml")[0] == save(data)


def test_writing_twice_changes_nothing_and_an_old_case_becomes_a_new_one() -> None:
    check = Checked(name=BY.name, role=BY.role, date=ago(0), stage="move")
    old = replace(case_of("move"), checked=check, began=(Began(stage="settle", date=ago(40)),))
    text = write_plain(to_plain(old), Case)
    once, day = add_visit(text, hashed(), TODAY, "a.yml")
    assert day == TODAY
    assert add_visit(once, hashed(), TODAY, "a.yml") == (once, day)
    document, _ = read_case_text(once, "a.yml")
    assert document
    new = document.value
    assert (new.checked, new.began) == (None, old.began)
    assert [(v.date, v.stage, v.checked) for v in new.visits] == [(ago(0), "move", BY)]
    assert new.visits[0].printed == HASH
    told = [outline_handout(replace(plan_handout(whole_library(), c, TODAY), file_stem="x")) for c in (old, new)]
    assert told[0] == told[1]


def test_comments_stay_where_they_belong() -> None:
    check = Checked(name=BY.name, role=BY.role, date=ago(0), stage="move")
    text = write_plain(to_plain(replace(case_of("move"), checked=check)), Case)
    text = "# about this person\n\n" + text.replace("checked:", "# who said so\nchecked:").replace(
        "hand: left", "# sore\nhand: left"
    )
    text = text.replace("  role:", "  # her role\n  role:")
    made, _ = add_visit(text, hashed(), TODAY, "a.yml")
    for comment in (
        "# about this person\n\n",
        "# who said so\n    checked:",
        "# sore\nhand:",
        "# her role\n      role:",
    ):
        assert comment in made
    assert read_plain(made, "a.yml")["visits"]


def test_a_file_that_somebody_else_wrote_meanwhile_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "a.yml"
    text = write_plain(to_plain(case_of("move")), Case)
    path.write_text(text + "note: Added later.\n", encoding="utf-8")
    with pytest.raises(ContentError) as caught:
        write_visit(path, text, whole_library(), TODAY, lambda p: p.name)
    assert "somebody else wrote this file" in caught.value.problems[0].message
    assert path.read_text("utf-8") == text + "note: Added later.\n"


def test_a_written_file_stays_private_and_whole(tmp_path: Path) -> None:
    path = tmp_path / "a.yml"
    text = write_plain(to_plain(case_of("move")), Case)
    path.write_text(text, encoding="utf-8")
    path.chmod(0o600)
    said = write_visit(path, text, whole_library(), TODAY, lambda p: p.name)
    assert said == f"a.yml: the visit of {write_date(TODAY)} is in its log"
    assert path.stat().st_mode & 0o777 == 0o600
    assert [p.name for p in tmp_path.iterdir()] == ["a.yml"]
    assert f"date: {TODAY.isoformat()}" in path.read_text("utf-8")
