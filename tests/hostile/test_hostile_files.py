"""Files that are no protocols and no cases: one clear message, soon, with the place and a way out.

- texts without end, huge files, huge numbers, days at the end of time
- what is no file, links, odd names, and where nothing is ever written
- a slip of any kind, anywhere in a case or a protocol
"""

from __future__ import annotations

import json
import os
import re
import shutil
import time
import tracemalloc
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fingerpost.checks.rules import find_problems
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.person.calendar import write_calendar
from fingerpost.plan.person.reasons import list_reasons
from fingerpost.problems import ContentError, Problem, show
from fingerpost.read import yaml_events
from fingerpost.read.library import read_case, read_document
from fingerpost.run import cli
from fingerpost.run.load import load_case
from hostile import world

CASE = world.CASE.read_text("utf-8")
PROTOCOL = (world.PROJECT / "protocols" / "lumbrical-strain.yml").read_bytes()
TODAY = "2026-11-25"


def read(path: Path, content: str | bytes) -> list[Problem]:
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return read_case(path, path.name)[1]


# What goes on and on: the text, and the beginning of the one thing that is said about it.
ENDLESS = {
    "one key": ("a: b\n" * 190_000, "up to here there are 1,001 slips"),
    "many keys": ("".join(f"k{n}: b\n" for n in range(90_000)), "a file may have 30,000 parts at the most"),
    "a list": ("- x\n" * 240_000, "a file may have 30,000 parts at the most"),
    "a list in a line": ("a: [" + "x," * 490_000 + "]", "a file may have 30,000 parts at the most"),
    "brackets": ("[" * 990_000, "lists and mappings may be nested 20 deep at the most"),
    "steps": ("".join(" " * n + "a:\n" for n in range(1_300)), "lists and mappings may be nested 20 deep at the most"),
    "anchors": ("&a " * 300_000, "anchors (&) and aliases (*) are not used here"),
    "merges": ("<<: {a: 1}\n" * 80_000, "up to here there are 1,001 slips"),
    "an alias": ("a: *b\n", "anchors (&) and aliases (*) are not used here"),
    "a merge of an anchor": ("a: &b {c: 1}\nd: {<<: *b}\n", "anchors (&) and aliases (*) are not used here"),
    "half a sign": ('reference: "\\ud83d"\n', "'\\ud83d' is half a sign"),
}


@pytest.mark.parametrize("name", ENDLESS)
def test_a_text_without_end_gets_one_message_soon(name: str, tmp_path: Path) -> None:
    text, message = ENDLESS[name]
    began = time.monotonic()
    (problem,) = read(tmp_path / "case.yml", text)
    assert time.monotonic() - began < 10  # it takes a tenth of that
    assert problem.message.startswith(message)
    assert problem.place.line > 0
    assert problem.hint or name in ("brackets", "steps")


def test_a_text_of_one_long_line_is_told_in_few_words(tmp_path: Path) -> None:
    problems = read(tmp_path / "case.yml", "".join(f"k{n}: {'x' * 900}\n" for n in range(1_000)))
    assert 0 < len(problems) < 4
    assert all(len(str(problem)) < 1_500 for problem in problems)


def test_a_huge_file_is_not_read_to_its_end(tmp_path: Path) -> None:
    path = tmp_path / "case.yml"
    with path.open("wb") as file:
        file.truncate(100_000_000)
    tracemalloc.start()
    _, (problem,) = read_case(path, "case.yml")
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert problem.message == "the file is larger than 1,000,000 bytes"
    assert most < 5 * yaml_events.MAX_BYTES


@pytest.mark.parametrize("number", ["1e999", "-1e999", "999999999999999", "9" * 400, "1e-999", ".nan", "0x7f", "1_0"])
def test_a_huge_number_is_a_message(number: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "case.yml"
    path.write_text(CASE.replace("body_mass_kg: 64.5", f"body_mass_kg: {number}"), "utf-8")
    line = CASE.splitlines().index("body_mass_kg: 64.5") + 1
    assert cli.main(["plan", str(path), "--today", TODAY]) == 1
    assert f"{path}:{line}: body_mass_kg: " in capsys.readouterr().out


@pytest.mark.rest
@pytest.mark.parametrize("day", ["9999-12-01", "0001-01-01", "0000-00-00", "2026-02-30", "20260101", "٢٠٢٦-٠١-٠١"])
def test_a_day_at_the_end_of_time_is_a_message(day: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "case.yml"
    began = (
        CASE.split("important_dates")[0].replace("stage: easy-climbing", "stage: settle", 1).split("  - stage: move")[0]
    )
    path.write_text(began.replace("2026-09-21", day), "utf-8")
    today = "9999-12-02" if day.startswith("9999") else TODAY
    assert cli.main(["--out", str(tmp_path / "out"), "handout", str(path), "--calendar", "--today", today]) == 1
    said = capsys.readouterr().out
    assert f"{path}:" in said
    assert not (tmp_path / "out").exists()


# ------------------------------------------------------------------ what is no file, or somewhere else


@pytest.mark.rest
def test_what_is_no_case_file_is_a_message_and_is_not_waited_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    os.mkfifo(tmp_path / "pipe.yml")
    (tmp_path / "loop.yml").symlink_to(tmp_path / "loop.yml")
    wrong = {
        tmp_path / "pipe.yml": "this is not a file",
        Path("/dev/zero"): "this is not a file",
        tmp_path / "loop.yml": "links are not followed",
        tmp_path / "none.yml": "there is no such file",
        tmp_path / ("x" * 300 + ".yml"): "cannot be read: File name too long",
    }
    names = [*map(str, wrong), "a\0b.yml"]
    assert cli.main(["--out", str(tmp_path / "out"), "handout", *names, "--today", TODAY]) == 1
    said = capsys.readouterr().out
    for path, message in wrong.items():
        assert f"{path}: {message}" in said
    assert "a\\u0000b.yml: there is no such file" in said
    assert not (tmp_path / "out").exists()


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    return Path(shutil.copytree(world.PROJECT / "protocols", tmp_path / "protocols"))


def check(shelf: Path, capsys: pytest.CaptureFixture[str]) -> str:
    assert cli.main(["--protocols", str(shelf), "check"]) == 1
    return capsys.readouterr().out


def test_links_among_the_protocols_are_not_followed(
    shelf: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (shelf / "loop").symlink_to(shelf)
    (shelf / "secret.yml").symlink_to("/etc/passwd")
    shutil.move(shelf / "refer", tmp_path / "elsewhere")
    (shelf / "refer").symlink_to(tmp_path / "elsewhere")
    said = check(shelf, capsys)
    assert "protocols/loop: this file is not used" in said
    assert "protocols/secret.yml: links are not followed" in said
    assert "protocols/refer: links are not followed" in said
    assert "root:" not in said


NAMES = ("CON", "nul", "pulley ", "Pulley", "рulley", "a..b", "a\\b", "-x", "x" * 61, "ﬁnger", "a\nb", "../up")


def test_no_odd_name_becomes_a_page(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Names that Windows keeps, that differ only in size or look alike, that are too long or lead elsewhere."""
    text = (shelf / "pulley.yml").read_text("utf-8")
    for name in NAMES:
        if "/" not in name:
            (shelf / f"{name}.yml").write_text(text.replace("id: pulley\n", f"id: {json.dumps(name)}\n", 1), "utf-8")
    said = check(shelf, capsys)
    for name in NAMES:
        if "/" not in name:
            assert re.search(rf"/{re.escape(show(name))}.yml:\d+: id: ", said), name


def test_no_odd_name_gets_a_new_file(shelf: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = sorted(p for p in tmp_path.rglob("*"))
    for name in (*NAMES, str(tmp_path / "up"), "pulley\n", "", "pulley"):
        assert cli.main(["--protocols", str(shelf), "new", "protocol", "--", name]) == 1, name
    assert cli.main(["--protocols", str(shelf), "--out", str(tmp_path / "o"), "notice", "../up"]) == 1
    assert cli.main(["--protocols", str(shelf), "outline", "../up"]) == 1
    assert sorted(p for p in tmp_path.rglob("*")) == before
    assert "Traceback" not in capsys.readouterr().out


def test_what_is_made_never_lies_among_the_protocols(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = sorted(shelf.rglob("*"))
    link = shelf.parent / "link"
    link.symlink_to(shelf)
    for out in (shelf, shelf / "refer", link, shelf / "refer" / ".." / "new"):
        assert cli.main(["--protocols", str(shelf), "--out", str(out), "build"]) == 1
        assert "what is made must not lie among the protocols" in capsys.readouterr().out
    assert sorted(shelf.rglob("*")) == before


# ------------------------------------------------------------------ a slip of any kind, anywhere


def mutate_bytes(content: bytes) -> st.SearchStrategy[bytes]:
    """The file with a piece cut out, doubled, moved, or replaced by signs that mean something to YAML."""
    at = st.integers(0, len(content))
    odd = st.sampled_from(
        [b"", b"\0", b"\t", b"\r", b"\xff", b"\xef\xbb\xbf", b": ", b"- ", b"&a ", b"*a ", b"!!x ", b"{", b"]", b'"',
         b"'", b"|\n", b">-\n", b"#", b"%YAML 1.1\n", b"---\n", b"...\n", b"\xc2\x85", b"\xe2\x80\xa8",
         b"\xed\xa0\x80", b"<<: "]
    )  # fmt: skip

    def change(start: int, end: int, new: bytes, double: bool) -> bytes:
        start, end = min(start, end), max(start, end)
        end = min(end, start + 200)
        return content[:start] + new + (content[start:end] * 2 if double else b"") + content[end:]

    return st.builds(change, at, at, odd | st.binary(max_size=4), st.booleans())


ODD = st.sampled_from(
    [None, True, False, 0, -1, 1e308, 10**15, "", " ", "x", "I", "9999-12-31", "0001-01-01", [], [[]], {}, {"a": 1},
     ["x"] * 3, "a" * 5_000, "{x}", "[a]", "\u202e", "é", "index", "12 weeks"]
)  # fmt: skip


def list_places(data: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    yield path
    for key, value in data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ():
        yield from list_places(value, (*path, key))


def put(data: Any, path: tuple[str | int, ...], value: Any) -> Any:
    if not path:
        return value
    if isinstance(data, dict):
        return {k: put(v, path[1:], value) if k == path[0] else v for k, v in data.items()}
    return [put(v, path[1:], value) if n == path[0] else v for n, v in enumerate(data)]


CASE_TREE = yaml_events.parse(CASE).data
PROTOCOL_TREE = yaml_events.parse(PROTOCOL.decode()).data


def mutate_tree(data: Any) -> st.SearchStrategy[bytes]:
    """The file with one or two of its values replaced. JSON is YAML."""
    change = st.tuples(st.sampled_from(list(list_places(data))[1:]), ODD)

    def apply(changes: list[tuple[tuple[str | int, ...], Any]]) -> bytes:
        changed = data
        for path, value in changes:
            if path in set(list_places(changed)):
                changed = put(changed, path, value)
        return json.dumps(changed, ensure_ascii=False, indent=1).encode("utf-8", "surrogatepass")

    return st.builds(apply, st.lists(change, min_size=1, max_size=2))


def judge(problems: list[Problem] | tuple[Problem, ...], file: str) -> None:
    assert problems
    for problem in problems:
        assert problem.place.file == file
        assert problem.message
        assert problem.place.line > 0 or "file" in problem.message


@pytest.mark.rest
@settings(max_examples=250)
@given(mutate_bytes(CASE.encode()) | mutate_tree(CASE_TREE))
def test_whatever_happens_to_a_case_it_is_printed_or_refused(content: bytes) -> None:
    path = _folder() / "case.yml"
    path.write_bytes(content)
    library = world.full_library()
    try:
        case = load_case(path, library, world.TODAY, lambda p: p.name).value
    except ContentError as error:
        judge(error.problems, "case.yml")
        return
    plan_handout(library, case, world.TODAY)
    write_calendar(library, case, world.TODAY)
    list_reasons(library, case, world.TODAY)


@pytest.mark.rest
@settings(max_examples=60)
@given(mutate_bytes(PROTOCOL) | mutate_tree(PROTOCOL_TREE))
def test_whatever_happens_to_a_protocol_it_is_read_or_refused(content: bytes) -> None:
    path = _folder() / "lumbrical-strain.yml"
    path.write_bytes(content)
    document, problems = read_document(path, Protocol, path.name)
    if document is None:
        judge(problems, path.name)
        return
    alone = world.full_library()
    found = find_problems(Library((document,), (), alone.vocabularies, {}, unread={"conditions": frozenset("*")}))
    assert all(problem.place.file == path.name for problem in found)


_FOLDER: list[Path] = []


def _folder() -> Path:
    return _FOLDER[0]


@pytest.fixture(scope="module", autouse=True)
def folder(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """One folder for every example."""
    _FOLDER.append(tmp_path_factory.mktemp("mutated"))
    yield
    _FOLDER.clear()
