"""`handout --log` from the outside: only asked for does a case file change, and only where it was printed."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from fingerpost.read.library import read_plain
from fingerpost.run import cli

pytestmark = pytest.mark.rest

TODAY = ("--today", "2026-11-25")


@pytest.fixture
def case(project: Path, tmp_path: Path) -> Path:
    return Path(
        shutil.copy(project / "tests" / "golden" / "cases" / "growth-plate-left-middle.yml", tmp_path / "a.yml")
    )


def run(capsys: pytest.CaptureFixture[str], out: Path, *arguments: str | Path) -> tuple[int, str]:
    code = cli.main(["--out", str(out), "handout", *map(str, arguments), *TODAY])
    return code, capsys.readouterr().out


def test_a_file_is_written_only_where_that_was_asked_for(
    case: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = case.read_bytes()
    assert run(capsys, tmp_path / "out", case)[0] == 0
    assert case.read_bytes() == before
    code, said = run(capsys, tmp_path / "out", case, "--log")
    assert code == 0
    assert "a.yml: the visit of 23 November 2026 is in its log" in said
    once = case.read_text("utf-8")
    (visit,) = read_plain(once, "a.yml")["visits"]
    assert (visit["date"], visit["stage"]) == ("2026-11-23", "stop")
    assert len(visit["printed"]) == 8
    assert once.startswith("# An invented person.")
    assert run(capsys, tmp_path / "out", case, "--log")[0] == 0
    assert case.read_text("utf-8") == once


def test_what_was_refused_is_not_in_the_log(case: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = case.read_text("utf-8").replace("finger: middle", "finger: thumb")
    case.write_text(text, "utf-8")
    assert run(capsys, tmp_path / "out", case, "--log")[0] == 1
    assert case.read_text("utf-8") == text


def test_a_table_keeps_no_log(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tmp_path / "all.csv"
    table.write_text("reference\nx\n", encoding="utf-8")
    code, said = run(capsys, tmp_path / "out", table, "--log")
    assert code == 1
    assert "a table keeps no log of visits" in said
    assert "leave --log out" in said
