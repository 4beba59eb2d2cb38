"""`check` with nothing changed says the same at once. Whatever it depends on makes it look again."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from fingerpost.files.cache import Kept
from fingerpost.model.library import Library
from fingerpost.run import cli, inputs, load

CASE = Path("tests/golden/cases/pulley-left-ring.yml")


class Shelf:
    """A copy of the shipped protocols, and how often it was read."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self.capsys, self.looks = folder, capsys, 0

    def check(self, *arguments: str, out: str = "out") -> tuple[int, str]:
        inputs.hash_program.cache_clear()
        places = ["--protocols", str(self.folder / "protocols"), "--out", str(self.folder / out)]
        return cli.main([*places, "check", *arguments]), self.capsys.readouterr().out

    def change(self, name: str, old: str, new: str) -> None:
        path = self.folder / "protocols" / name
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new, 1), encoding="utf-8")

    def list_kept(self) -> list[Path]:
        return sorted((self.folder / "out" / ".kept" / "found").iterdir())


@pytest.fixture
def shelf(
    tmp_path: Path, project: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> Iterator[Shelf]:
    shutil.copytree(project / "protocols", tmp_path / "protocols")
    made, read = Shelf(tmp_path, capsys), load.load_library

    def count(*given: object) -> Library:
        made.looks += 1
        return read(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(load, "load_library", count)
    yield made
    inputs.hash_program.cache_clear()


def test_with_nothing_changed_nothing_is_read(shelf: Shelf) -> None:
    first = shelf.check()
    assert first == (0, "7 protocols, 13 short entries: no problems\n")
    assert [shelf.check(), shelf.check()] == [first, first]
    assert shelf.looks == 1


def test_findings_are_the_same_bytes_kept_or_not(shelf: Shelf) -> None:
    shelf.change("pulley.yml", "needs_side: false", "needs_sides: false")
    shelf.change("shared/gates.yml", "- id: ", "- id:   ")
    first = shelf.check()
    assert first[0] == 1
    assert first[1].count("\n") > 3
    assert shelf.check() == first
    assert shelf.looks == 1
    assert shelf.check(out="elsewhere") == first
    assert shelf.looks == 2


CHANGES: dict[str, Callable[[Shelf], object]] = {
    "a protocol": lambda s: s.change("pulley.yml", "needs_side: false", "needs_side: maybe"),
    "a short entry": lambda s: s.change("refer/volar-plate.yml", "id: volar-plate", "id: volar-plates"),
    "a vocabulary": lambda s: s.change("shared/gates.yml", "- id: ", "- id:  "),
    "the specimen": lambda s: s.change("_example.yml", "id: ", "ids: "),
    "a stranger": lambda s: (s.folder / "protocols" / "notes.txt").write_text("what is this"),
    "a file that is gone": lambda s: (s.folder / "protocols" / "shared" / "gates.yml").unlink(),
    "settings of a clinic": lambda s: (s.folder / "clinic.yml").write_text("names: wrong\n"),
    "a link": lambda s: (s.folder / "protocols" / "link.yml").symlink_to(s.folder / "protocols" / "pulley.yml"),
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_shows_at_once_and_goes_again(change: str, shelf: Shelf) -> None:
    good = shelf.check()
    shutil.copytree(shelf.folder / "protocols", shelf.folder / "before")
    CHANGES[change](shelf)
    assert shelf.check()[0] == 1
    assert shelf.looks == 2
    shutil.rmtree(shelf.folder / "protocols")
    shutil.copytree(shelf.folder / "before", shelf.folder / "protocols")
    (shelf.folder / "clinic.yml").unlink(missing_ok=True)
    assert shelf.check() == good
    assert shelf.looks == 2


def test_a_day_is_looked_at_by_itself(shelf: Shelf) -> None:
    assert shelf.check()[0] == 0
    status, said = shelf.check("--today", "2035-01-01")
    assert status == 1
    assert "the review is overdue by" in said
    assert shelf.check("--today", "2035-01-01") == (1, said)
    assert shelf.check()[0] == 0
    assert shelf.looks == 2


def test_another_program_looks_again(shelf: Shelf, monkeypatch: pytest.MonkeyPatch) -> None:
    shelf.check()
    monkeypatch.setattr(inputs, "name_installed", lambda: b"another library")
    shelf.check()
    assert shelf.looks == 2


@pytest.mark.parametrize("spoilt", [b"", b"1\nspoilt", b"\xff" * 40, b"0" * 100])
def test_what_was_spoilt_is_looked_at_again_and_replaced(spoilt: bytes, shelf: Shelf) -> None:
    good = shelf.check()
    (kept,) = shelf.list_kept()
    whole = kept.read_bytes()
    kept.write_bytes(spoilt or whole[:-1])
    assert shelf.check() == good
    assert shelf.looks == 2
    assert kept.read_bytes() == whole


def test_nothing_of_a_case_is_kept(shelf: Shelf, project: Path) -> None:
    shelf.check(str(project / CASE), "--today", "2026-11-25")
    assert not (shelf.folder / "out" / ".kept" / "found").exists()
    assert shelf.looks == 1


def test_a_folder_that_cannot_be_written_stops_no_check(shelf: Shelf) -> None:
    (shelf.folder / "out").write_text("a file in the place of the folder")
    assert [shelf.check()[0], shelf.check()[0]] == [0, 0]
    assert shelf.looks == 2


def test_a_content_that_is_not_as_it_was_put_there_is_made_anew(tmp_path: Path) -> None:
    """Of whatever kind: half a PDF would lie on the site."""
    kept = Kept(tmp_path)
    assert kept.take("a", make=lambda: b"first") == b"first"
    assert kept.take("a", make=lambda: b"second") == b"first"
    (path,) = tmp_path.iterdir()
    path.write_bytes(path.read_bytes()[:-1])
    assert kept.take("a", make=lambda: b"third") == b"third"
    assert Kept(tmp_path, fresh=True).take("a", make=lambda: b"fourth") == b"fourth"
    assert kept.take("a", make=lambda: b"fifth") == b"fourth"
