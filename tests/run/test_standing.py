"""`build` with nothing changed makes nothing. Whatever a page could show differently makes it anew."""

from __future__ import annotations

import os
import shutil
import sys
from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path

import pytest
from site_under_test import PROJECT, make_templates, small_site, stub_sheets

import fingerpost
from fingerpost.files.cache import Kept
from fingerpost.files.standing import FolderNote, hash_places
from fingerpost.make import website
from fingerpost.run import building, cli, inputs, load

DAY = date(2026, 11, 25)
FILES = (
    *("protocols/pulley.yml", "protocols/shared/gates.yml", "templates/site/page.md", "site_overrides/main.html"),
    *("mkdocs.yml", "generator/fingerpost/draw/pen.py", "generator/fingerpost/desk/form.json"),
    *("libraries/invented-1.0.dist-info/METADATA", "build/site/index.html", "build/site/sheets/pulley.pdf"),
)


class World:
    """A project of a few files, with a stub in the place of what takes long: it counts how often it builds."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.builds, self.day = folder, 0, DAY
        for name in FILES[:-2]:
            self.write(name, "first")

    def write(self, name: str, text: str) -> None:
        path = self.folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")

    def build_all(self, _: object, project: Path, target: Path, kept: Kept, note: FolderNote, *__: object) -> str:
        self.builds += 1
        for name in FILES[-2:]:
            self.write(name, "made")
        note.write(hash_places(target), "1 page")
        return "1 page"

    def build(self, *options: str) -> int:
        """How often it was built after one more call."""
        inputs.hash_program.cache_clear()
        places = ["--protocols", str(self.folder / "protocols"), "--out", str(self.folder / "build")]
        assert cli.main([*places, "build", *options]) == 0
        return self.builds


@pytest.fixture
def world(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> World:
    made = World(tmp_path)
    monkeypatch.setattr("fingerpost.run.project.PROJECT", tmp_path)
    monkeypatch.setattr(fingerpost, "__file__", str(tmp_path / "generator" / "fingerpost" / "__init__.py"))
    monkeypatch.setattr(sys, "path", [*sys.path, str(tmp_path / "libraries")])
    monkeypatch.setattr(cli, "_today", lambda: made.day)
    monkeypatch.setattr(load, "load_library", lambda *_: None)
    monkeypatch.setattr(building, "build_all", made.build_all)
    return made


def test_what_stands_is_not_built_again_and_it_is_said(world: World, capsys: pytest.CaptureFixture[str]) -> None:
    assert [world.build(), world.build(), world.build()] == [1, 1, 1]
    first, *others = capsys.readouterr().out.splitlines()
    assert first.startswith("1 page are in ")
    assert [line.endswith("site: nothing has changed since they were made") for line in others] == [True, True]


def test_fresh_builds_whatever_stands_there(world: World) -> None:
    assert [world.build(), world.build("--fresh"), world.build()] == [1, 2, 2]


@pytest.mark.parametrize("name", [name for name in FILES if "METADATA" not in name])
def test_a_changed_file_builds_again(name: str, world: World) -> None:
    world.build()
    path = world.folder / name
    was, text = path.stat(), path.read_text(encoding="utf-8")
    path.write_text(text.upper(), encoding="utf-8")
    os.utime(path, ns=(was.st_atime_ns, was.st_mtime_ns))  # neither its size nor its time tells
    assert path.stat().st_size == was.st_size
    assert [world.build(), world.build()] == [2, 2]


@pytest.mark.parametrize("name", [name for name in FILES if "METADATA" not in name])
def test_a_file_that_is_gone_builds_again(name: str, world: World) -> None:
    world.build()
    (world.folder / name).unlink()
    assert [world.build(), world.build()] == [2, 2]


CHANGES: dict[str, Callable[[World], object]] = {
    "a protocol more": lambda w: w.write("protocols/refer/wart.yml", "new"),
    "settings of a clinic": lambda w: w.write("clinic.yml", "new"),
    "a newer library": lambda w: w.write("libraries/invented-1.1.dist-info/METADATA", "new"),
    "a library that is gone": lambda w: shutil.rmtree(w.folder / "libraries" / "invented-1.0.dist-info"),
    "another day": lambda w: setattr(w, "day", date(2026, 11, 26)),
    "a renamed template": lambda w: (w.folder / FILES[2]).rename(w.folder / "templates" / "page.md"),
    "a stranger among the pages": lambda w: w.write("build/site/stranger.html", "new"),
    "no site": lambda w: shutil.rmtree(w.folder / "build" / "site"),
    "no note": lambda w: (w.folder / "build" / ".kept" / "site").unlink(),
    "a broken note": lambda w: (w.folder / "build" / ".kept" / "site").write_bytes(b"\xff\n\n"),
    "a note cut short": lambda w: w.write("build/.kept/site", "1 page\n"),
}


@pytest.mark.parametrize("change", CHANGES)
def test_whatever_else_changes_builds_again(change: str, world: World) -> None:
    world.build()
    CHANGES[change](world)
    assert [world.build(), world.build()] == [2, 2]


@pytest.mark.parametrize("name", ["protocols/link.yml", "templates/link.html", "build/site/link.html"])
def test_a_link_is_no_reason_to_believe_that_nothing_changed(name: str, world: World) -> None:
    """What it leads to may change, and no digest of this folder would tell."""
    world.build()
    (world.folder / name).symlink_to(world.folder / "elsewhere")
    assert [world.build(), world.build()] == [2, 3]


def test_a_note_that_cannot_be_written_stops_nobody(world: World) -> None:
    world.write("build/.kept", "a file in the place of the folder")
    assert [world.build(), world.build()] == [1, 2]


def test_a_site_without_its_desk_is_not_noted(tmp_path: Path) -> None:
    """The next time there may be what was missing."""
    world = World(tmp_path)
    note = FolderNote(tmp_path / "note", b"origin")
    note.write(None, "1 page")
    assert not (tmp_path / "note").exists()
    note.write(hash_places(world.folder / "templates"), "1 page")
    assert note.find(world.folder / "templates") == "1 page"
    assert FolderNote(tmp_path / "note", None).find(world.folder / "templates") is None


@pytest.mark.rest
def test_what_is_noted_is_what_was_made(tmp_path: Path) -> None:
    """Taken before the site is in its place, where another build may put its own."""
    site, write = small_site(), partial(website.write_page, make_templates())
    made = website.build_site(write, site, PROJECT, tmp_path / "site", stub_sheets(site))
    assert made == hash_places(tmp_path / "site")
    assert made is not None
