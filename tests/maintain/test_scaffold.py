"""New files from the annotated specimens: every open place is named, and nothing that is open can be printed."""

from __future__ import annotations

import re
import shutil
from datetime import date
from pathlib import Path

import pytest

from fingerpost.maintain.scaffold import open_protocol, write_case, write_protocol
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol
from fingerpost.model.words import TO_FILL
from fingerpost.plan.case.check import find_case_problems
from fingerpost.read.library import read_case, read_document, read_plain
from fingerpost.rewrite.canonical import find_first, find_kind
from fingerpost.run import cli

PROJECT = Path(__file__).resolve().parents[2]
SPECIMEN = PROJECT / "protocols" / "_example.yml"
CASE = PROJECT / "templates" / "project" / "case.yml"
TODAY = date(2028, 2, 29)


@pytest.fixture
def made(tmp_path: Path) -> Path:
    path = tmp_path / "finger-sprain.yml"
    path.write_text(write_protocol(SPECIMEN.read_text("utf-8"), "_example.yml", "finger-sprain", TODAY), "utf-8")
    return path


def run(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> tuple[int, list[str]]:
    code = cli.main([str(a) for a in arguments])
    return code, capsys.readouterr().out.splitlines()


def test_every_open_place_is_a_finding_and_nothing_else_is(made: Path) -> None:
    text = made.read_text("utf-8")
    body = "\n".join(line for line in text.splitlines() if not line.lstrip().startswith("#"))
    document, problems = read_document(made, Protocol, "finger-sprain.yml")
    assert document is None
    assert {p.message for p in problems} == {"still to fill"}
    assert len(problems) == len({p.place for p in problems}) == body.count(TO_FILL) > 80
    for problem in problems:
        assert TO_FILL in text.splitlines()[problem.place.line - 1]


def test_filled_in_it_is_as_good_as_the_specimen(made: Path) -> None:
    specimen = read_plain(SPECIMEN.read_text("utf-8"), "_example.yml")
    opened = read_plain(made.read_text("utf-8"), "finger-sprain.yml")
    assert list(opened) == list(specimen)
    assert opened["id"] == "finger-sprain"
    assert opened["status"]["written"] == "2028-02-29"
    assert opened["status"]["next_review"] == "2029-02-28"
    assert opened["status"]["state"] == "draft"
    assert opened == open_protocol(specimen, "finger-sprain", TODAY)
    made.write_text(SPECIMEN.read_text("utf-8").replace("id: example\n", "id: finger-sprain\n"), "utf-8")
    assert read_document(made, Protocol, "finger-sprain.yml")[1] == []


def test_it_is_canonical_and_keeps_what_the_specimen_explains(made: Path) -> None:
    text = made.read_text("utf-8")
    assert find_first(text, find_kind("finger-sprain.yml"), "finger-sprain.yml") == 0
    explained = set(re.findall(r"(?m)^# Mandatory.*$", SPECIMEN.read_text("utf-8")))
    assert len(explained) > 20
    assert explained <= set(text.splitlines())
    assert "An annotated specimen" not in text


def test_every_grip_is_left_out_until_the_author_says_otherwise(made: Path, library: Library) -> None:
    grips = {grip.id for grip in library.vocabularies.grips}
    for stage in read_plain(made.read_text("utf-8"), "finger-sprain.yml")["stages"]:
        assert set(stage["grips"]["leave"]) == grips
        assert stage["load"] is None


def test_nothing_that_is_open_can_be_printed(made: Path) -> None:
    """Even where only one text is open."""
    made.write_text(SPECIMEN.read_text("utf-8").replace("plain_name: Tired and", f"plain_name: {TO_FILL} #"), "utf-8")
    document, problems = read_document(made, Protocol, "finger-sprain.yml")
    assert document is None
    assert [p.place.path for p in problems] == ["plain_name"]


def test_the_specimen_of_a_case_shows_every_key_and_passes(library: Library) -> None:
    document, problems = read_case(CASE, "case.yml")
    assert document
    assert problems == []
    assert list(find_case_problems(document, library, date(2026, 11, 25))) == []
    keys = set(find_kind("case/").__dataclass_fields__)
    told = CASE.read_text("utf-8")
    in_pounds = {"body_mass_lb", "plate_lb"}  # in place of those in kilograms
    assert set(document.keys[()]) == keys - {"side", "checked"} - in_pounds
    assert "# side: radial" in told
    assert "above as `checked`, with name, role, date and stage" in told
    assert all(f" {key}" in told for key in in_pounds)


def test_a_new_case_names_what_is_open_and_passes_when_filled(tmp_path: Path, library: Library) -> None:
    path = tmp_path / "case.yml"
    path.write_text(write_case(CASE.read_text("utf-8"), "case.yml"), "utf-8")
    document, problems = read_case(path, "case.yml")
    assert document is None
    assert {p.message for p in problems} == {"still to fill"}
    assert len(problems) == 10
    filled = path.read_text("utf-8")
    known = read_plain(CASE.read_text("utf-8"), "case.yml")
    for key in ("reference", "age_band", "protocol", "grade", "hand", "finger", "place"):
        filled = filled.replace(f"\n{key}: {TO_FILL}", f"\n{key}: {known[key]}")
    filled = filled.replace(f"{{event: {TO_FILL}, date: {TO_FILL}}}", "{event: injury, date: 2026-11-20}")
    filled = filled.replace(f"stage: {TO_FILL}", "stage: settle").replace(f"date: {TO_FILL}", "date: 2026-11-20")
    path.write_text(filled, "utf-8")
    document, problems = read_case(path, "case.yml")
    assert document
    assert list(find_case_problems(document, library, date(2026, 11, 25))) == []


# ---------------------------------------------------------------- the command


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("fingerpost.run.project.PROJECT", tmp_path)
    shutil.copytree(PROJECT / "templates" / "project", tmp_path / "templates" / "project")
    return Path(shutil.copytree(PROJECT / "protocols", tmp_path / "protocols"))


def test_new_protocol_then_check(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "--protocols", "protocols", "new", "protocol", "finger-sprain")
    assert (code, out) == (0, ["protocols/finger-sprain.yml: made. ./run check names what is still to fill."])
    code, out = run(capsys, "--protocols", "protocols", "check")
    assert code == 1
    findings = [line for line in out if line.startswith("protocols/finger-sprain.yml:")]
    assert len(findings) > 80
    assert all(line.endswith(": still to fill") for line in findings)


def test_new_case_is_private(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "new", "case")
    assert (code, out[0]) == (0, "cases/new-case.yml: made. ./run check names what is still to fill.")
    path = shelf.parent / "cases" / "new-case.yml"
    assert path.stat().st_mode & 0o777 == 0o600
    assert path.parent.stat().st_mode & 0o777 == 0o700


REFUSED = {
    "pulley": "protocols/pulley.yml: there is such a file already",
    "volar-plate": "protocols/refer/volar-plate.yml: there is such a file already",
    "given-up": "given-up: this id was given up",
    "Finger": "Finger: must be an id",
    "../x": "../x: must be an id",
}


@pytest.mark.parametrize("wanted", REFUSED)
def test_an_id_that_is_taken_or_is_none_is_refused(
    wanted: str, shelf: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    retired = "- id: given-up\n  now: pulley\n  since: 2026-12-01\n  reason: Merged.\n"
    (shelf / "shared" / "retired.yml").write_text(retired)
    before = {path: path.read_bytes() for path in shelf.rglob("*.yml")}
    code, out = run(capsys, "--protocols", "protocols", "new", "protocol", wanted)
    assert code == 1
    assert out[0].startswith(REFUSED[wanted])
    assert {path: path.read_bytes() for path in shelf.rglob("*.yml")} == before


def test_a_case_is_not_written_over(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(capsys, "new", "case", "mine")[0] == 0
    code, out = run(capsys, "new", "case", "mine")
    assert code == 1
    assert out[:2] == ["cases/mine.yml: there is such a file already", "    Nothing was written."]
