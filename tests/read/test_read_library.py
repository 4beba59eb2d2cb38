"""Reading YAML into the model: scalars, lines, and what is left out when a part cannot be read."""

from __future__ import annotations

import json
import shutil
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

import jsonschema
import pytest

from fingerpost.checks.rules import find_problems
from fingerpost.model.library import Library
from fingerpost.model.protocol import Dose, Protocol, Referral, Seek
from fingerpost.model.schema import write_schema
from fingerpost.model.words import Finger, Id, Line, Text
from fingerpost.read.library import read_case, read_document, read_library
from fingerpost.read.yaml_events import parse


def read(folder: Path, text: str | bytes, kind: type[Any]) -> tuple[Any, list[str]]:
    """One value from a text, and what is said about it."""
    path = folder / "file.yml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    document, problems = read_document(path, kind, "file.yml")
    return document, [str(problem) for problem in problems]


@dataclass(frozen=True, kw_only=True)
class Angles:
    mcp: int
    pip: int
    dip: int
    spread: int = 0


@dataclass(frozen=True, kw_only=True)
class Hold:
    """A class of this test's own, so that a change of the model is not a change here."""

    id: Id
    name: Line
    plain: Text
    also_called: tuple[Line, ...] = ()
    fingers: tuple[Finger, ...]
    neighbours: Literal["together", "free"]
    angles: Angles | None = None


HOLD = """\
# a comment
id: jug
name: Big hold
plain: >-
  A deep hold.
  The whole hand closes round it.
fingers: [index, middle]
neighbours: together
angles:
  mcp: 20
  pip: 70
  dip: -5
"""


def test_every_part_knows_its_line(tmp_path: Path) -> None:
    document, problems = read(tmp_path, HOLD, Hold)
    assert problems == []
    lines = {path: document.place(*path).line for path in [("id",), ("plain",), ("fingers", 1), ("angles", "dip")]}
    assert list(lines.values()) == [2, 4, 7, 12]
    assert str(document.place("angles", "dip")) == "file.yml:12: angles.dip"


def test_a_part_that_was_left_out_has_the_line_around_it(tmp_path: Path) -> None:
    document, _ = read(tmp_path, HOLD, Hold)
    assert document.place("angles", "spread").line == 9
    assert document.place("also_called", 3).line == 2


def test_the_order_of_keys_is_kept(tmp_path: Path) -> None:
    document, _ = read(tmp_path, HOLD, Hold)
    assert document.keys[()] == ("id", "name", "plain", "fingers", "neighbours", "angles")
    assert document.keys[("angles",)] == ("mcp", "pip", "dip")


def test_folded_lines_are_one_text(tmp_path: Path) -> None:
    document, _ = read(tmp_path, HOLD, Hold)
    assert document.value.plain == "A deep hold. The whole hand closes round it."
    assert document.value.fingers == ("index", "middle")


def test_a_byte_order_mark_is_fine(tmp_path: Path) -> None:
    document, problems = read(tmp_path, b"\xef\xbb\xbf" + HOLD.encode(), Hold)
    assert problems == []
    assert document.value.id == "jug"


def test_windows_line_ends_are_fine(tmp_path: Path) -> None:
    document, problems = read(tmp_path, HOLD.replace("\n", "\r\n"), Hold)
    assert problems == []
    assert document.place("angles", "dip").line == 12


@pytest.mark.parametrize("written", ["no", "yes", "on", "2026-11-25", "1_000", "0o17", "1:30", "=", "<<"])
def test_a_plain_word_stays_the_word_that_was_written(written: str, tmp_path: Path) -> None:
    document, problems = read(tmp_path, f"when: {written}\nwhom: {written}\nurgency: routine\n", Seek)
    assert problems == []
    assert document.value.when == document.value.whom == written


@pytest.mark.parametrize("written", ["12", "1.5", "-3", "1e3", "true", "null", "~"])
def test_a_number_is_no_text(written: str, tmp_path: Path) -> None:
    _, problems = read(tmp_path, f"when: {written}\nwhom: x\nurgency: routine\n", Seek)
    assert len(problems) == 1
    assert problems[0].startswith("file.yml:1: when: must be text, not ")


def test_quotes_make_a_text(tmp_path: Path) -> None:
    document, problems = read(tmp_path, "when: '12'\nwhom: \"null\"\nurgency: routine\n", Seek)
    assert problems == []
    assert (document.value.when, document.value.whom) == ("12", "null")


@pytest.mark.parametrize("written", ["3.0", "'3'", "true", "three", "[3]"])
def test_a_whole_number_is_nothing_else(written: str, tmp_path: Path) -> None:
    _, problems = read(tmp_path, f"exercise: a\nsets: {written}\nsource: common-practice\n", Dose)
    assert len(problems) == 1
    assert "sets: must be a whole number" in problems[0]


def test_one_bad_entry_does_not_hide_the_others(project: Path, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(project / "protocols", tmp_path / "protocols"))
    path = folder / "shared" / "gates.yml"
    path.write_text(path.read_text("utf-8").replace("name: Full fist\n", "nam: Full fist\n", 1), "utf-8")
    library, problems = read_library(folder)
    assert len(problems) == 2
    assert library.unread["gates"] == {"full-fist"}
    assert not library.read_everything("gates")
    assert "full-straight" in [gate.id for gate in library.vocabularies.gates]
    assert len(library.protocols) == 7


def test_a_bad_protocol_is_named_as_unread(project: Path, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(project / "protocols", tmp_path / "protocols"))
    (folder / "pulley.yml").write_text("id: pulley\n")
    (folder / "shared" / "terms.yml").unlink()
    library, problems = read_library(folder, "mine")
    assert {p.place.file for p in problems} == {"mine/pulley.yml", "mine/shared/terms.yml"}
    assert library.unread["conditions"] == {"pulley"}
    assert library.unread["terms"] == {"*"}
    assert library.find_protocol("pulley") is None


def test_strays_are_found(project: Path, tmp_path: Path) -> None:
    folder = Path(shutil.copytree(project / "protocols", tmp_path / "protocols"))
    for name in ("notes.txt", "pulley.yaml", "refer/old.yml~", "shared/grip.yml"):
        (folder / name).write_text("x")
    (folder / ".hidden").write_text("x")
    _, problems = read_library(folder)
    assert {p.place.file for p in problems} == {
        "protocols/notes.txt", "protocols/pulley.yaml", "protocols/refer/old.yml~", "protocols/shared/grip.yml",
    }  # fmt: skip
    assert "Did you mean 'grips'?" in [p.hint for p in problems]


def cut_gates(project: Path, tmp_path: Path) -> Path:
    """The shipped collection with its gates in a folder: the first in one file, all others in a second."""
    folder = Path(shutil.copytree(project / "protocols", tmp_path / "protocols"))
    whole = folder / "shared" / "gates.yml"
    first, *others = whole.read_text("utf-8").split("\n- id: ")[1:]
    whole.unlink()
    (folder / "shared" / "gates").mkdir()
    (folder / "shared" / "gates" / "a.yml").write_text(f"- id: {first}\n")
    (folder / "shared" / "gates" / "b.yml").write_text("".join(f"- id: {entry.rstrip()}\n" for entry in others))
    return folder


def test_a_folder_is_read_as_one_vocabulary(project: Path, library: Library, tmp_path: Path) -> None:
    read, problems = read_library(cut_gates(project, tmp_path))
    assert problems == find_problems(read) == []
    assert read.vocabularies == library.vocabularies
    assert [document.file.rpartition("/")[2] for document in read.shared_files["gates"]] == ["a.yml", "b.yml"]
    assert read.name_shared("gates") == "protocols/shared/gates/"
    places = [read.locate("gates", (number, "says")) for number in (0, 1)]
    assert [str(d.place(*path)) for d, path in filter(None, places)] == [
        "protocols/shared/gates/a.yml:4: [0].says",
        "protocols/shared/gates/b.yml:4: [0].says",
    ]
    assert read.locate("gates", ()) is None


def test_an_id_stands_once_in_all_files_of_a_folder(project: Path, tmp_path: Path) -> None:
    folder = cut_gates(project, tmp_path)
    other = folder / "shared" / "gates" / "b.yml"
    other.write_text(other.read_text("utf-8") + (folder / "shared" / "gates" / "a.yml").read_text("utf-8"), "utf-8")
    lines = other.read_text("utf-8").split("\n")
    found = [str(problem) for problem in find_problems(read_library(folder)[0])]
    assert len(found) == 1
    assert f"/gates/b.yml:{len(lines) - lines[::-1].index('- id: daily-life-painless')}: " in found[0]
    assert found[0].endswith("First in protocols/shared/gates/a.yml:1.")


def test_a_vocabulary_is_a_file_or_a_folder(project: Path, tmp_path: Path) -> None:
    folder = cut_gates(project, tmp_path)
    (folder / "shared" / "gates.yml").write_text("[]\n")
    (folder / "shared" / "gates" / "notes.txt").write_text("x")
    _, problems = read_library(folder)
    assert {p.place.file: p.message for p in problems} == {
        "protocols/shared/gates.yml": "there is the folder gates/ too",
        "protocols/shared/gates/notes.txt": "this file is not used",
    }


def test_a_file_of_a_folder_that_cannot_be_read_hides_no_other(project: Path, tmp_path: Path) -> None:
    folder = cut_gates(project, tmp_path)
    (folder / "shared" / "gates" / "b.yml").write_text("a: [")
    (folder / "shared" / "grips").symlink_to(folder / "shared" / "gates")
    read, problems = read_library(folder)
    assert {p.place.file for p in problems} >= {"protocols/shared/gates/b.yml", "protocols/shared/grips"}
    assert [gate.id for gate in read.vocabularies.gates] == ["daily-life-painless"]
    assert read.unread["gates"] == {"*"}


def test_a_collection_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        read_library(tmp_path / "nowhere")


def test_an_empty_folder_names_everything_that_is_missing(tmp_path: Path) -> None:
    library, problems = read_library(tmp_path)
    assert len(problems) == len(library.unread) == 16
    assert {p.message for p in problems} == {"there is no such file"}


def test_the_shipped_collection_is_read_whole(library: Library) -> None:
    assert [c.id for c in library.conditions][:7] == sorted(d.value.id for d in library.protocols)
    assert library.find_condition("mallet-finger") is not None
    assert library.find_condition("no-such") is None
    assert not any(library.unread.values())


@pytest.mark.parametrize(("kind", "folder"), [(Protocol, "."), (Referral, "refer")])
def test_the_schema_for_editors_fits_what_is_shipped(kind: type[Any], folder: str, project: Path) -> None:
    schema = json.loads(write_schema(kind, "title"))
    assert write_schema(kind, "title") == write_schema(kind, "title")
    check = jsonschema.Draft202012Validator(schema)
    paths = sorted((project / "protocols" / folder).glob("*.yml"))
    assert len(paths) > 6
    for path in paths[::4]:
        assert [error.message for error in check.iter_errors(parse(path.read_text("utf-8")).data)] == []
    assert list(check.iter_errors({"id": "x"}))


def test_a_case_is_read_with_the_same_messages(project: Path, tmp_path: Path) -> None:
    path = tmp_path / "case.yml"
    written = (project / "tests" / "golden" / "cases" / "pulley-left-ring.yml").read_text("utf-8")
    path.write_text(written.replace("finger: ring", "finger: thumb", 1), "utf-8")
    document, problems = read_case(path, "case.yml")
    assert document is None
    assert len(problems) == 1
    assert "thumb" in problems[0].message
    assert problems[0].place.path == "finger"


def test_a_file_that_may_not_be_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "file.yml"
    path.write_text(HOLD)

    def refuse(self: Path, mode: str) -> None:
        raise PermissionError(13, "Permission denied", str(self))

    monkeypatch.setattr(Path, "open", refuse)
    _, problems = read_document(path, Hold, "file.yml")
    assert [p.message for p in problems] == ["cannot be read: Permission denied"]
