"""Whatever line of a protocol is lost or garbled: the messages name the file and a line close by, nothing crashes."""

from __future__ import annotations

import dataclasses
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest
from breaking import PROTOCOLS, read_alone, swap_in

from fingerpost.checks.base.walk import list_documents
from fingerpost.checks.rules import find_problems
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol
from fingerpost.problems import Problem
from fingerpost.read.library import read_document


def garble(line: str) -> str:
    """A slip of the hand: a lost colon, a lost bracket, or two letters too many."""
    if line.endswith((">-", ":")):
        return line.replace(":", "", 1)
    key = re.match(r"(\s*(?:- )?[a-z_0-9]+:\s*)(.*)$", line)
    if key is None:
        return f"{line} zz"
    return line[:-1] if key.group(2).startswith(("[", "{", '"', "'")) else f"{key.group(1)}zz{key.group(2)[1:]}"


def find_block(lines: list[str], at: int) -> tuple[int, int]:
    """The lines, counted from 1, of the part of the file around a line: from its top-level key to the next one."""
    tops = [number for number, line in enumerate(lines) if re.match(r"[a-z]", line)]
    start = max((number for number in tops if number <= at), default=0)
    return start + 1, next((number for number in tops if number > at), len(lines)) + 2


def read_and_check(file: str, lines: list[str], library: Library, folder: Path) -> list[Problem]:
    """Read one protocol and check it beside the shipped vocabularies alone, as if nothing else could be read."""
    path = folder / file
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    document, problems = read_document(path, Protocol, file)
    alone = dataclasses.replace(
        library, protocols=(), referrals=(), specimen=None, shared_files={}, unread={"conditions": frozenset("*")}
    )
    if document and file.startswith("_"):
        alone = dataclasses.replace(alone, specimen=document)
    elif document:
        alone = dataclasses.replace(alone, protocols=(document,))
    return problems + find_problems(alone)


def break_lines(lines: list[str], how: str) -> Iterator[tuple[int, list[str]]]:
    """The file with each line lost in turn, or garbled in turn. Comments and empty lines may say what they like."""
    for at, line in enumerate(lines):
        if line.strip() and not line.lstrip().startswith("#"):
            yield at, [*lines[:at], *([garble(line)] if how == "garbled" else []), *lines[at + 1 :]]


@pytest.mark.rest
@pytest.mark.parametrize(
    ("file", "how"), [("sheath-irritation.yml", "lost"), ("_example.yml", "lost"), ("_example.yml", "garbled")]
)
def test_any_line(file: str, how: str, library: Library, tmp_path: Path) -> None:
    lines = (PROTOCOLS / file).read_text("utf-8").splitlines()
    assert len(lines) > 200
    assert read_and_check(file, lines, library, tmp_path) == []
    counts: Counter[int] = Counter()
    for at, broken in break_lines(lines, how):
        found = read_and_check(file, broken, library, tmp_path)
        counts[min(len(found), 3)] += 1
        first, last = find_block(lines, at)
        near = [p for p in found if first <= p.place.line <= last or p.message == f"'{p.place.path}' is missing"]
        assert all(p.place.file == file and p.place.line and p.message for p in found), lines[at]
        assert bool(near) == bool(found), (lines[at], found)
    assert counts[1] > 100
    # Only a line that opens a list or an entry may bring more: what stood below it now stands elsewhere.
    assert counts[2] + counts[3] < 0.08 * counts.total()


def test_lines_that_hold_no_prose_are_always_missed(library: Library, tmp_path: Path) -> None:
    """What a program reads, it misses: every key with a value of its own."""
    lines = (PROTOCOLS / "_example.yml").read_text("utf-8").splitlines()
    optional = re.compile(r"\s+(tests|skipped_by|grip|rest_seconds|coach|daily_brief): ")
    seen = 0
    for at, broken in break_lines(lines, "lost"):
        if re.match(r"\s*(- )?[a-z_]+: [^>\s]", lines[at]) and not optional.match(lines[at]):
            seen += 1
            assert read_and_check("_example.yml", broken, library, tmp_path), lines[at]
    assert seen > 60


def test_some_lines_in_the_whole_collection(library: Library, tmp_path: Path) -> None:
    file = "lumbrical-strain.yml"
    lines = (PROTOCOLS / file).read_text("utf-8").splitlines()
    known = {document.file for document in list_documents(library)}
    broken = list(break_lines(lines, "lost"))[::60]
    assert len(broken) > 8
    for _, text in broken:
        read, problems = read_alone(file, "\n".join(text) + "\n", tmp_path)
        found = problems + find_problems(swap_in(library, file, read))
        assert {problem.place.file for problem in found} <= known
