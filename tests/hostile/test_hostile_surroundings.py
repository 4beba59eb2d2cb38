"""Odd surroundings: no Pango, no fonts, another language, a pipe that closes: a message in one line, no traceback."""

from __future__ import annotations

import dataclasses
import os
import shutil
import subprocess
import sys
import unicodedata
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from pdf_gate import lettering, paper, samples
from pdf_gate.document import Printed
from pdf_gate.samples import wanted_from

from fingerpost.make import pdf
from fingerpost.make.handout_html import write_html
from fingerpost.model.case import Case
from fingerpost.model.lettering import find_foreign, list_spans
from fingerpost.plan.case.check import find_case_findings
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.problems import ContentError
from fingerpost.read.library import read_library
from fingerpost.run import cli
from fingerpost.run.load import load_case, load_library
from hostile import world

pytestmark = pytest.mark.rest

PROJECT = world.PROJECT
SOURCES = {"PYTHONPATH": str(PROJECT / "generator")}
FONTS = PROJECT / "site_overrides" / "fonts"


def start(*arguments: str, code: str = "", **around: str | None) -> subprocess.Popen[bytes]:
    """The program as a process of its own. `around`: changes of the environment; None takes a variable away."""
    environment = {k: v for k, v in (os.environ | SOURCES | around).items() if v is not None}
    code += "\nimport sys; from fingerpost.run import cli; sys.exit(cli.main())"
    return subprocess.Popen(
        [sys.executable, "-c", code, *arguments],
        env=environment, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip


# ------------------------------------------------------------------ language, terminal, pipes

PLAIN = {
    "LC_ALL": "C",
    "PYTHONUTF8": "0",
    "PYTHONCOERCECLOCALE": "0",
    "TZ": "Nowhere/Never",
    "HOME": None,
    "TERM": None,
}
LATIN = {"PYTHONIOENCODING": "latin-1", "LC_ALL": "de_DE", "PYTHONUTF8": "0", "TZ": "Pacific/Kiritimati"}


@pytest.mark.parametrize(("around", "letters"), [(PLAIN, "ascii"), (LATIN, "latin-1")], ids=["plain", "latin"])
def test_another_language_or_terminal_changes_only_letters_that_it_has_not(
    around: dict[str, str | None], letters: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "case.yml"
    path.write_text("name: ש\n" + world.CASE.read_text("utf-8"), "utf-8")
    assert cli.main(["plan", str(path)]) == 1
    right = capsys.readouterr().out.encode(letters, "backslashreplace")
    assert b"\\u05e9" in right
    assert start("plan", str(path), **around).communicate() == (right, b"")


def test_a_reader_who_goes_away_is_no_traceback() -> None:
    process = start("outline")
    assert process.stdout
    assert process.stderr
    process.stdout.close()
    assert (process.stderr.read(), process.wait()) == (b"", 141)
    process.stderr.close()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no full disk to write to")
def test_a_full_disk_behind_the_output_is_one_line() -> None:
    with Path("/dev/full").open("wb") as full:
        process = subprocess.run(
            [sys.executable, "-m", "fingerpost.run.cli", "--protocols", "nowhere", "check"],
            env=os.environ | SOURCES, stdout=full, stderr=subprocess.PIPE, check=False,
        )  # fmt: skip
    assert process.returncode == 1
    assert process.stderr == b"standard output: No space left on device\n"


def test_closed_doors_are_no_traceback() -> None:
    command = f'exec "{sys.executable}" -m fingerpost.run.cli --protocols nowhere check <&- >&-'
    around = os.environ | SOURCES
    process = subprocess.run(["sh", "-c", command], env=around, stderr=subprocess.PIPE, check=False)
    assert (process.returncode, process.stderr) == (1, b"")


# ------------------------------------------------------------------ what is missing

NO_PANGO = """
import cffi
real = cffi.FFI.dlopen
def dlopen(self, name, *rest):
    if name and "pango" in str(name):
        raise OSError(f"cannot load library '{name}'")
    return real(self, name, *rest)
cffi.FFI.dlopen = dlopen
"""
SEVERAL = NO_PANGO + """
from fingerpost.run import cli
assert cli.main(["outline", "pulley"]) == 0
assert cli.main(["check"]) == 0
"""  # fmt: skip


def test_without_pango_all_but_the_sheets_works_and_one_line_says_what_to_install(tmp_path: Path) -> None:
    handout = ("--out", str(tmp_path / "out"), "handout", str(world.CASE), "--today", "2026-11-25")
    process = start(*handout, code=SEVERAL)
    out, err = process.communicate()
    assert (process.returncode, err) == (1, b"")
    *_, checked, said = out.decode().splitlines()
    assert checked.endswith("no problems")
    assert said.startswith("nothing was made: the PDF engine needs the libraries Pango")
    assert "apt-get install libpango-1.0-0" in said
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("how", ["gone", "cut short"])
@pytest.mark.parametrize("name", ["AtkinsonHyperlegibleNext-Bold.ttf", "FingerpostSigns-Regular.ttf"])
def test_a_missing_font_is_an_error_and_not_another_font(name: str, how: str, tmp_path: Path) -> None:
    shutil.copytree(PROJECT / "templates" / "print", tmp_path / "templates" / "print")
    shutil.copytree(FONTS, tmp_path / "site_overrides" / "fonts")
    path = tmp_path / "site_overrides" / "fonts" / name
    content = path.read_bytes()
    path.unlink() if how == "gone" else path.write_bytes(content[: len(content) // 3])
    with pytest.raises(pdf.PressError, match=r"Font-face .* cannot be loaded|Unable to subset"):
        pdf.print_pdf("<html lang='en-GB'><title>T</title><h1>Head →</h1></html>", tmp_path)


# ------------------------------------------------------------------ names in other letters


def test_the_spans_are_those_of_the_fonts() -> None:
    ours = {code for path in FONTS.glob("*.ttf") for code in TTFont(path).getBestCmap()} | {0x9, 0xA}
    assert {code for first, last in list_spans() for code in range(first, last + 1)} == ours


FOREIGN = {
    "שלום כהן": "ש",
    "محمد علي": "م",
    "Ann 👩‍👩‍👧": "👩",
    "Иван": "И",
    "Ann\u200bLee": "\u200b",
    "Ann\u202egnorw": "\u202e",
    "\u2066Ann\u2069": "\u2066",
    "Ann\u2028Lee": "\u2028",
    "Ann\x9bLee": "\x9b",
    "Ann\ufeff": "\ufeff",
    "q\u0351": "\u0351",
    "𝐀nn": "𝐀",
}


@pytest.mark.parametrize("name", FOREIGN)
def test_a_name_that_no_font_can_print_is_refused_with_its_line(name: str, tmp_path: Path) -> None:
    path = tmp_path / "case.yml"
    path.write_text(f"name: {name!r}\n".replace("'", '"') + world.CASE.read_text("utf-8"), "utf-8")
    with pytest.raises(ContentError) as refused:
        load_case(path, world.full_library(), world.TODAY, lambda p: p.name)
    (problem,) = refused.value.problems
    assert f"U+{ord(FOREIGN[name]):04X}" in problem.message
    assert (problem.place.line, problem.place.path) == (1, "name")
    assert "Latin letters" in problem.hint
    assert str(problem).isprintable() or "\n    " in str(problem)


def test_every_text_of_a_case_is_looked_at() -> None:
    case = world.plant_in(world.demo_case(), lambda _, old: f"{old} ש")
    case = dataclasses.replace(case, name="ש")
    found = [path for path, message, _ in find_case_findings(case, world.full_library(), world.TODAY)]
    assert len(found) == len(set(found)) == 11  # two lines of a letterhead


def test_a_clinics_own_words_are_looked_at(tmp_path: Path) -> None:
    shutil.copytree(PROJECT / "protocols", tmp_path / "protocols")
    (tmp_path / "clinic.yml").write_text("name: מרפאה\n", "utf-8")
    with pytest.raises(ContentError) as refused:
        load_library(tmp_path / "protocols", world.TODAY, lambda p: p.name)
    assert [(p.place.file, p.place.line) for p in refused.value.problems] == [("clinic.yml", 1)]


NAMES = {
    "accents": ("Zoe\u0308 A\u030angstro\u0308m Ńguğı Çelik Đang", 12),
    "long": ("x" * 200, 12),
    "long, wide and large": ("WM" * 100, 24),
}


@pytest.mark.parametrize("kind", NAMES)
def test_an_unusual_name_is_printed_whole_in_our_fonts(kind: str) -> None:
    name, print_size = NAMES[kind]
    case = with_name(name, print_size)
    assert not list(find_case_findings(case, world.full_library(), world.TODAY))
    handout = plan_handout(world.full_library(), case, world.TODAY)
    printed = Printed(pdf.print_pdf(write_html(world.sound(), handout), PROJECT))
    wanted = wanted_from(handout)
    for look in (lettering.fonts_allowed, lettering.fonts_embedded, paper.printable):
        assert not list(look(printed, wanted))
    close = "".join(word.text for words in printed.words for word in words)
    assert unicodedata.normalize("NFC", name).replace(" ", "") in unicodedata.normalize("NFC", close)


def with_name(name: str, print_size: int) -> Case:
    case = samples.cases()["growth-plate-left-middle"]
    return dataclasses.replace(case, name=name, print_size=print_size)  # type: ignore[arg-type]


def test_the_shipped_texts_need_no_other_font() -> None:
    library, _ = read_library(PROJECT / "protocols")
    assert not find_foreign(str(library.vocabularies))
    assert not find_foreign(str([d.value for d in (*library.protocols, *library.referrals)]))
    assert find_foreign("ש")
