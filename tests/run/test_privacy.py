"""Nothing about a person leaves the sheet that was asked for: a canary name is planted and looked for everywhere."""

from __future__ import annotations

import os
import socket
import stat
import tempfile
from pathlib import Path
from typing import NoReturn

import pikepdf
import pytest

from fingerpost.run import cli

pytestmark = pytest.mark.rest

CANARY = "Quillonia Brambleknot"
REFERENCE = "CANARY-7781"
TODAY = "2026-11-25"


@pytest.fixture
def planted(project: Path, tmp_path: Path) -> Path:
    """A case of a person with a name that stands nowhere else."""
    text = (project / "tests" / "golden" / "cases" / "pulley-left-ring.yml").read_text(encoding="utf-8")
    lines = [f"reference: {REFERENCE}" if line.startswith("reference:") else line for line in text.splitlines()]
    path = tmp_path / "case.yml"
    path.write_text("\n".join([lines[0], lines[1], f"name: {CANARY}", *lines[2:]]) + "\n", encoding="utf-8")
    return path


@pytest.fixture
def no_network(monkeypatch: pytest.MonkeyPatch) -> None:
    """Opening a socket fails the test."""

    def refuse(*_: object, **__: object) -> NoReturn:
        raise AssertionError("a socket was opened")

    monkeypatch.setattr(socket, "socket", refuse)
    monkeypatch.setattr(socket, "create_connection", refuse)


def test_a_name_stands_on_the_sheet_and_nowhere_else(
    planted: Path,
    tmp_path: Path,
    no_network: None,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setenv("TMPDIR", str(temporary))
    monkeypatch.setattr(tempfile, "tempdir", str(temporary))
    out = tmp_path / "out"
    assert cli.main(["--out", str(out), "handout", str(planted), "--today", TODAY]) == 0
    said = capsys.readouterr()
    assert CANARY not in said.out + said.err
    assert REFERENCE not in said.out + said.err
    left = [p for p in temporary.rglob("*") if p.is_file()]  # the engine keeps its fonts there while it runs
    assert not [p for p in left if CANARY.encode() in p.read_bytes() or REFERENCE.encode() in p.read_bytes()]
    written = [p for p in out.rglob("*") if p.is_file()]
    assert sorted(p.name.split("_")[0] for p in written) == ["coach", "pulley"]
    for path in written:
        assert not any(word in path.name for word in ("Quillonia", "Bramble", "CANARY", "7781", "2026"))
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
        with pikepdf.open(path) as pdf:
            hidden = str(pdf.docinfo) + (bytes(pdf.Root.Metadata.read_bytes()).decode("utf-8"))
        assert CANARY not in hidden
        assert REFERENCE not in hidden
        assert "2026" not in hidden


def test_problems_of_a_case_do_not_repeat_the_name(
    planted: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    planted.write_text(planted.read_text(encoding="utf-8").replace("grade: II", "grade: V"), encoding="utf-8")
    assert cli.main(["--out", str(tmp_path / "out"), "handout", str(planted), "--today", TODAY]) == 1
    said = capsys.readouterr().out
    assert "grade" in said
    assert CANARY not in said


def test_checking_a_case_writes_nothing(planted: Path, tmp_path: Path) -> None:
    before = sorted(os.listdir(tmp_path))
    assert cli.main(["check", str(planted), "--today", TODAY]) == 0
    assert sorted(os.listdir(tmp_path)) == before


def test_cases_are_kept_out_of_version_control(project: Path) -> None:
    ignored = (project / ".gitignore").read_text(encoding="utf-8").splitlines()
    assert "/cases/" in ignored
    assert "/build/" in ignored


def test_two_people_with_the_same_injury_get_two_files(planted: Path, project: Path, tmp_path: Path) -> None:
    other = project / "tests" / "golden" / "cases" / "pulley-left-ring.yml"
    assert cli.main(["--out", str(tmp_path / "out"), "handout", str(planted), str(other), "--today", TODAY]) == 0
    assert len(list((tmp_path / "out" / "handouts").glob("pulley_*.pdf"))) == 2
