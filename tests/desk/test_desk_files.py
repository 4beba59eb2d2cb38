"""The desk's files: the engine by its hash, what is compiled, what is shipped beside it, and a build without npm."""

from __future__ import annotations

import base64
import gzip
import hashlib
import io
import itertools
import json
import shutil
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest
from desk_under_test import build_desk_site, desk_files, read_part

from fingerpost.desk import engine, pack
from fingerpost.desk.bundle import list_library_sources, list_own_sources
from fingerpost.desk.engine import Engine, NoEngine, bring_engine
from fingerpost.files.cache import Kept
from fingerpost.model.library import Library
from fingerpost.run.building import make_desk_files

MOST_BYTES = 6_000_000


def make_package(**files: bytes) -> bytes:
    target = io.BytesIO()
    with tarfile.open(fileobj=target, mode="w:gz") as file:
        for name, content in files.items():
            entry = tarfile.TarInfo(f"package/{name}")
            entry.size = len(content)
            file.addfile(entry, io.BytesIO(content))
    return target.getvalue()


def integrity_of(package: bytes) -> str:
    return f"sha512-{base64.b64encode(hashlib.sha512(package).digest()).decode()}"


@pytest.fixture
def offered(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> bytes:
    """A small package in the place of the real one, with a lock that fits it."""
    package = make_package(**{name: name.encode() for name in engine.FILES}, **{"extra.txt": b"not wanted"})
    lock = tmp_path / "engine.json"
    lock.write_text(
        json.dumps({"package": "toy", "version": "1", "integrity": integrity_of(package)}), encoding="utf-8"
    )
    monkeypatch.setattr(engine, "LOCK", lock)
    monkeypatch.setattr(engine, "_download", lambda name: package)
    return package


def test_only_the_wanted_files_are_taken(offered: bytes, tmp_path: Path) -> None:
    brought = bring_engine(tmp_path / "kept")
    assert sorted(p.name for p in brought.folder.iterdir()) == sorted(engine.FILES)
    assert brought.integrity == integrity_of(offered)


def test_what_is_kept_is_not_asked_for_again(offered: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    bring_engine(tmp_path / "kept")
    monkeypatch.setattr(engine, "_download", lambda name: pytest.fail("asked again"))
    bring_engine(tmp_path / "kept")


def test_another_hash_is_refused(offered: bytes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "_download", lambda name: offered + b"x")
    with pytest.raises(NoEngine, match="another hash"):
        bring_engine(tmp_path / "kept")
    assert not list(tmp_path.glob("kept/toy*"))


def test_an_engine_that_is_built_otherwise_is_refused(tmp_path: Path) -> None:
    (tmp_path / "pyodide.asm.mjs").write_text("export default other;", encoding="utf-8")
    with pytest.raises(NoEngine, match="not built as it was"):
        Engine(tmp_path, "").as_script()


@pytest.mark.rest
def test_without_npm_the_site_is_built_and_the_page_says_so(
    project: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, library: Library, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(shutil, "which", lambda name: None)
    files = make_desk_files(library, {}, project, Kept(tmp_path / "kept"), print)
    assert files == {}
    assert capsys.readouterr().out == "the desk is left out: there is no npm on this machine\n"
    monkeypatch.setattr("desk_under_test.desk_files", lambda: files)
    site = build_desk_site(tmp_path / "site")
    page = (site / "desk" / "index.html").read_text(encoding="utf-8")
    assert "This copy of the site was made without the desk." in page
    assert "Content-Security-Policy" not in page
    assert not (site / "desk" / "engine").exists()


# ------------------------------------------------------------------ what is compiled


def test_imports_are_found_wherever_they_stand() -> None:
    source = b"import a.b\nfrom . import c\nif __name__ == '__main__':\n    import d\ndef f():\n    from ..e import g\n"
    assert list(pack.list_imports("p.q.m", False, source, deep=False)) == ["a.b", "p.q", "p.q.c"]
    assert list(pack.list_imports("p.q.m", False, source, deep=True)) == ["a.b", "p.q", "p.q.c", "p.e", "p.e.g"]
    assert list(pack.list_imports("p.q", True, source, deep=False)) == ["a.b", "p.q", "p.q.c"]


def test_the_library_is_cut_down_to_what_is_imported() -> None:
    library = {"a/__init__.py": b"", "a/b.py": b"import c", "c.py": b"def f():\n    import d", "d.py": b"", "e.py": b""}
    assert pack.find_needed(library, ["a.b"]) == {"a/__init__.py", "a/b.py", "c.py"}


def test_packing_runs_outside_the_engine_too() -> None:
    standard = pack.zip_modules({})
    sources = io.BytesIO()
    with zipfile.ZipFile(sources, "w") as file:
        file.writestr("ours.py", "def answer():\n    '''Words.'''\n    return 42\n")
    _, ours = pack.pack(standard, sources.getvalue(), [])
    assert pack.pack(standard, sources.getvalue(), [])[1] == ours
    with zipfile.ZipFile(io.BytesIO(ours)) as file:
        assert file.namelist() == ["ours.pyc"]


@pytest.mark.rest
def test_everything_that_our_code_imports_is_there(project: Path, tmp_path: Path) -> None:
    """In the page an import that fails would be found only by the one who needs it."""
    sources = {**list_own_sources(project, Kept(tmp_path)), **dict(list_library_sources())}
    there = {pack.name_module(n.replace(".pyc", ".py")) for kind in ("python", "ours") for n in names_in(kind)}
    builtin = set(sys.builtin_module_names) | {
        "_typing",
        "cmath",
        "zlib",
        "zipimport",
        "math",
        "unicodedata",
        "binascii",
    }
    asked = {
        name.split(".")[0]
        for path, source in sources.items()
        if path.startswith("fingerpost/")
        for name in pack.list_imports(pack.name_module(path), path.endswith("/__init__.py"), source, deep=True)
    }
    assert {n for n in asked if n not in there | builtin and n in sys.stdlib_module_names} == set()
    assert {
        "fingerpost.desk.api",
        "fingerpost.read.yaml_events",
        "jinja2.environment",
        "yaml.parser",
        "json.decoder",
    } <= there
    assert not [n for n in there if n.startswith(("weasyprint", "mkdocs", "fingerpost.make.pdf"))]


def names_in(kind: str) -> list[str]:
    with zipfile.ZipFile(io.BytesIO(read_part(kind))) as file:
        return file.namelist()


# ------------------------------------------------------------------ what is shipped


@pytest.mark.rest
def test_what_is_loaded_is_small_enough() -> None:
    files = desk_files()
    parts = sum(len(content) for name, content in files.items() if name.endswith(".bin"))
    scripts = sum(len(gzip.compress(content)) for name, content in files.items() if name.startswith("desk/engine/"))
    assert parts + scripts < MOST_BYTES


@pytest.mark.rest
def test_a_part_is_the_same_from_a_host_and_from_a_folder() -> None:
    files = desk_files()
    for name in (n for n in files if n.endswith(".bin")):
        script = files[name.removesuffix(".bin") + ".js"].decode()
        content = script.removesuffix('");\n').split('", "')[1]
        assert base64.b64decode(content) == files[name]


@pytest.mark.rest
def test_the_styles_ask_for_nothing() -> None:
    styles = read_part("styles").decode()
    assert styles.count('url("data:font/') == 3
    assert 'url("../' not in styles
    assert "http" not in styles.replace("http://www.w3.org/2000/svg", "")


@pytest.mark.rest
def test_the_licences_are_shipped() -> None:
    text = desk_files()["desk/licences.txt"].decode()
    for words in (
        "Mozilla Public License Version 2.0",
        "PYTHON SOFTWARE FOUNDATION LICENSE",
        "jinja2 3.",
        "markupsafe 3.",
    ):
        assert words in text
    assert "yaml 6." in text
    assert integrity_of(b"")[:7] in text  # the integrity of the engine stands there


@pytest.mark.rest
def test_the_page_is_in_the_menu_and_the_search_knows_its_name_alone(tmp_path: Path) -> None:
    desk_files()
    site = build_desk_site(tmp_path / "site")
    assert "desk/index.html" in (site / "index.html").read_text(encoding="utf-8")
    index = (site / "search" / "index.js").read_text(encoding="utf-8")
    found = json.loads(index.removeprefix("var searchIndex = ").removesuffix(";\n"))
    (number,) = (number for number, page in enumerate(found["pages"]) if page[0] == "desk/")
    held = {word for word, steps in found["text"].items() if number in itertools.accumulate(map(int, steps.split()))}
    assert held == set(), "a form is nothing to be found by"
