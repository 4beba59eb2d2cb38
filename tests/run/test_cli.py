"""The command line: clear messages, right exit codes, nothing half-written, no traceback for a content problem."""

from __future__ import annotations

import os
import shutil
import stat
from pathlib import Path

import pytest

from fingerpost.make import pdf
from fingerpost.run import cli

CASE = "tests/golden/cases/growth-plate-left-middle.yml"


@pytest.fixture
def shelf(tmp_path: Path, project: Path) -> Path:
    """A copy of the protocols that a test may spoil."""
    return Path(shutil.copytree(project / "protocols", tmp_path / "protocols"))


def run(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> tuple[int, str]:
    code = cli.main([str(a) for a in arguments])
    return code, capsys.readouterr().out


def test_the_shipped_library_has_no_problems(capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "check")
    assert (code, out) == (0, "7 protocols, 13 short entries: no problems\n")


def test_problems_are_listed_counted_and_fail(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = shelf / "pulley.yml"
    path.write_text(path.read_text().replace("needs_side: false", "needs_sides: false"))
    code, out = run(capsys, "--protocols", shelf, "check")
    assert code == 1
    assert "no key is called 'needs_sides' here" in out
    assert "Did you mean 'needs_side'?" in out
    assert out.rstrip().endswith("problems")


def test_a_missing_folder_is_a_message(capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "--protocols", "nowhere", "check")
    assert code == 1
    assert "there is no such folder" in out


HOSTILE = {
    "huge": b"a: " + b"x" * 10_000_000,
    "deep": b"[" * 100_000,
    "bomb": b"a: &a [x,x]\nb: &b [*a,*a]\nc: [*b,*b]\n",
    "python": b"id: !!python/object/apply:os.system ['true']\n",
    "nul": b"id: a\x00b\n",
    "latin": b"plain_name: caf\xe9\n",
    "twice": b"id: one\nid: two\n",
    "empty": b"",
    "list": b"- one\n- two\n",
    "number": b"12\n",
    "two": b"id: a\n---\nid: b\n",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_yaml_is_a_message_and_leaves_an_earlier_build(
    name: str, shelf: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (shelf / "hostile.yml").write_bytes(HOSTILE[name])
    earlier = tmp_path / "out" / "site"
    earlier.mkdir(parents=True)
    (earlier / "index.html").write_text("earlier")
    code, out = run(capsys, "--protocols", shelf, "--out", tmp_path / "out", "build")
    assert code == 1
    assert "hostile.yml" in out
    assert "Traceback" not in out
    assert (earlier / "index.html").read_text() == "earlier"
    assert [p.name for p in (tmp_path / "out").iterdir()] == ["site"]


def test_a_folder_in_place_of_a_protocol_is_a_message(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (shelf / "hostile.yml").mkdir()
    code, out = run(capsys, "--protocols", shelf, "check")
    assert code == 1
    assert "hostile.yml" in out
    assert "this is not a file" in out


def test_a_link_is_not_followed(shelf: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    secret = tmp_path / "secret"
    secret.write_text("hidden: words")
    (shelf / "hostile.yml").symlink_to(secret)
    code, out = run(capsys, "--protocols", shelf, "check")
    assert code == 1
    assert "links are not followed" in out
    assert "hidden" not in out


def test_outline_of_one_injury_shows_page_and_sheets(capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "outline", "pulley")
    assert code == 0
    assert "=== PAGE /injuries/pulley/ ===" in out
    assert "--- SHEET 1 ---" in out


def test_outline_of_an_unknown_injury_offers_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "outline", "puley")
    assert code == 1
    assert "Did you mean 'pulley'?" in out


@pytest.mark.rest
def test_a_leaf_for_anybody_is_printed_in_the_size_asked_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ("leaf", "mallet-finger", "--paper", "Letter", "--print-size", "18")
    code, out = run(capsys, "--out", tmp_path, *asked)
    assert code == 0
    assert out.endswith("handouts/mallet-finger-letter-18.pdf\n")
    assert (tmp_path / "handouts" / "mallet-finger-letter-18.pdf").read_bytes().startswith(b"%PDF")


def test_a_leaf_of_an_unknown_injury_offers_the_nearest(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "--out", tmp_path / "out", "leaf", "malet-finger")
    assert code == 1
    assert "no leaf is called 'malet-finger'" in out
    assert "Did you mean 'mallet-finger'?" in out
    assert not (tmp_path / "out").exists()


@pytest.mark.rest
def test_a_handout_is_private_and_whole(project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "--out", tmp_path, "handout", project / CASE, "--today", "2026-11-25")
    assert code == 0
    folder = tmp_path / "handouts"
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    coach, made = sorted(folder.iterdir())
    assert coach.name.startswith("coach_")
    assert made.name.startswith("growth-plate_v")
    assert stat.S_IMODE(made.stat().st_mode) == 0o600
    assert made.read_bytes().startswith(b"%PDF")
    assert str(made) in out or made.name in out


@pytest.mark.rest
def test_the_demo_prints_three_people(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The first command that a newcomer types; the site it builds is tested elsewhere."""
    monkeypatch.setattr(cli, "build", lambda _: 0)
    code, out = run(capsys, "--out", tmp_path, "demo")
    assert code == 0, out
    made = [path.name for path in sorted((tmp_path / "handouts").glob("*_v*.pdf"))]
    assert [name.split("_")[0] for name in made] == ["collateral-sprain", "growth-plate", "pulley"]
    assert list((tmp_path / "handouts").glob("*.ics"))


@pytest.mark.rest
def test_one_bad_case_does_not_stop_the_others(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = tmp_path / "bad.yml"
    bad.write_text((project / CASE).read_text().replace("finger: middle", "finger: thumb"))
    code, out = run(capsys, "--out", tmp_path, "handout", bad, project / CASE, "--today", "2026-11-25")
    assert code == 1
    assert "a thumb has other pulleys" in out
    assert len(list((tmp_path / "handouts").glob("growth-plate_v*.pdf"))) == 1


@pytest.mark.rest
def test_an_engine_warning_is_an_error_and_nothing_is_written(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    written = pdf.write_html
    monkeypatch.setattr(pdf, "write_html", lambda *a: written(*a).replace('lang="en-GB"', ""))
    code, out = run(capsys, "--out", tmp_path, "handout", project / CASE, "--today", "2026-11-25")
    assert code == 1
    assert "lang" in out.lower()
    assert not list((tmp_path / "handouts").glob("*")) if (tmp_path / "handouts").exists() else True


@pytest.mark.rest
def test_a_folder_that_cannot_be_written_is_a_message(
    project: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "out").write_text("a file where the folder should be")
    code, out = run(capsys, "--out", tmp_path / "out", "handout", project / CASE, "--today", "2026-11-25")
    assert code == 1
    assert os.fspath(tmp_path / "out") in out


def test_plan_with_why_names_a_formula_for_the_sums(project: Path, capsys: pytest.CaptureFixture[str]) -> None:
    case = project / "tests" / "golden" / "cases" / "pulley-left-ring.yml"
    code, out = run(capsys, "plan", case, "--today", "2026-11-25", "--why")
    assert code == 0
    assert "share x reference, rounded down to whole plates" in out
    assert "100 mm x C / 57 mm" in out


def test_a_wrong_day_is_a_wrong_call(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        cli.main(["check", "--today", "tomorrow"])
    assert stop.value.code == 2
    assert "is not a day like 2026-05-01" in capsys.readouterr().err
