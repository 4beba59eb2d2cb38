"""Files of the wrong shape: each gets its messages, with the line, and never a traceback."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

import pytest

from fingerpost.model.protocol import Protocol, Seek
from fingerpost.model.words import Finger, Id, Line
from fingerpost.read.library import read_document


@dataclass(frozen=True, kw_only=True)
class Angles:
    mcp: int
    pip: int
    dip: int


@dataclass(frozen=True, kw_only=True)
class Hold:
    """A class of this test's own, so that a change of the model is not a change here."""

    id: Id
    name: Line
    fingers: tuple[Finger, ...]
    neighbours: Literal["together", "free"]
    angles: Angles | None = None


SEEK = "when: It hurts.\nwhom: doctor\nurgency: routine\n"
NESTED = "when: " + "[" * 30 + "]" * 30 + "\n"
BOMB = "when: &a [x, x]\nwhom: &b [*a, *a]\nurgency: [*b, *b, *b]\n"

# What is wrong: the text and all that is said about it.
SHAPES: dict[str, tuple[str | bytes, list[str]]] = {
    "missing key": (SEEK.replace("whom: doctor\n", ""), ["1: whom: 'whom' is missing"]),
    "unknown key": (SEEK + "urgencies: x\n", ["4: urgencies: no key is called 'urgencies' here"]),
    "wrong type": (SEEK.replace("doctor", "[doctor]"), ['2: whom: must be text, not ["doctor"]']),
    "wrong word": (
        SEEK.replace("routine", "soon"),
        ['3: urgency: must be one of emergency, same-day, within-days, routine, not "soon"'],
    ),
    "empty text": (SEEK.replace("It hurts.", '" "'), ['1: when: must be text that says something, not " "']),
    "two lines": (
        SEEK.replace("doctor", '"a\\nb"'),
        ['2: whom: must be one line of text, not "a\\nb"'],
    ),
    "too long": (SEEK.replace("doctor", "x" * 201), ["2: whom: may have 200 letters at the most"]),
    "duplicate key": (SEEK + "whom: nurse\n", ["4: whom: the key 'whom' stands here twice"]),
    "duplicate key, three times": (
        SEEK + "whom: a\nwhom: b\n",
        ["4: whom: the key 'whom' stands here twice", "5: whom: the key 'whom' stands here twice"],
    ),
    "alias bomb": (BOMB, ["1: anchors (&) and aliases (*) are not used here"]),
    "tag": (
        SEEK.replace("It hurts.", "!!python/object:os.system x"),
        ["1: the tag 'tag:yaml.org,2002:python/object:os.system' is not used here"],
    ),
    "own tag": (SEEK.replace("doctor", "!doctor x"), ["2: the tag '!doctor' is not used here"]),
    "deep nesting": (NESTED, ["1: lists and mappings may be nested 20 deep at the most"]),
    "very deep nesting": ("- " * 50_000 + "x\n", ["1: lists and mappings may be nested 20 deep at the most"]),
    "NUL": (SEEK.replace("hurts", "hu\0rts"), ["1: this file holds a sign that YAML does not allow"]),
    "control character": (SEEK.replace("doctor", "doc\x07tor"), ["2: this file holds a sign that YAML does not allow"]),
    "wrong encoding": (SEEK.replace("doctor", "médecin").encode("latin-1"), ["2: the file is not in UTF-8"]),
    "UTF-16": (SEEK.encode("utf-16"), ["1: the file is not in UTF-8"]),
    "empty": ("", ["the file is empty"]),
    "only a comment": ("# nothing\n", ["the file is empty"]),
    "only null": ("~\n", ["the file is empty"]),
    "a list": ("- a\n", ['1: must hold keys and values, not ["a"]']),
    "a word": ("hello\n", ['1: must hold keys and values, not "hello"']),
    "two documents": (SEEK + "---\n" + SEEK, ["4: only one document may stand in a file"]),
    "a key that is a list": ("[a, b]: c\n", ["1: a key must be a plain word"]),
    "10 MB": (SEEK + "#" * 10_000_000, ["the file is larger than 1,000,000 bytes"]),
    "a lost quote": (SEEK.replace("doctor", '"doctor'), ["2: this is not YAML: found unexpected end of stream"]),
    "a tab": (
        SEEK.replace("whom:", "\twhom:"),
        ["2: this is not YAML: found character '\\t' that cannot start any token"],
    ),
    "a colon in a text": (
        SEEK.replace("It hurts.", "It hurts: a lot"),
        ["1: this is not YAML: mapping values are not allowed here"],
    ),
}


def say(path: Path, kind: type[object]) -> list[str]:
    document, problems = read_document(path, kind, "f")
    assert (document is None) == bool(problems)
    return [f"{p.place}: {p.message}".removeprefix("f:").strip() for p in problems]


@pytest.mark.parametrize("name", SHAPES)
def test_a_wrong_shape_gets_its_messages(name: str, tmp_path: Path) -> None:
    text, expected = SHAPES[name]
    path = tmp_path / "file.yml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    assert say(path, Seek) == expected


def test_the_right_shape_gets_none(tmp_path: Path) -> None:
    path = tmp_path / "file.yml"
    path.write_bytes(b"\xef\xbb\xbf" + SEEK.encode())
    assert say(path, Seek) == []


def test_what_is_no_file(tmp_path: Path) -> None:
    (tmp_path / "folder.yml").mkdir()
    (tmp_path / "real.yml").write_text(SEEK)
    (tmp_path / "link.yml").symlink_to(tmp_path / "real.yml")
    (tmp_path / "dead.yml").symlink_to(tmp_path / "nowhere.yml")
    assert say(tmp_path / "folder.yml", Seek) == ["this is not a file"]
    assert say(tmp_path / "link.yml", Seek) == ["links are not followed"]
    assert say(tmp_path / "dead.yml", Seek) == ["links are not followed"]
    assert say(tmp_path / "none.yml", Seek) == ["there is no such file"]


@pytest.mark.parametrize(
    ("old", "new", "hint"),
    [
        ("fingers: [index]", "fingers: [thumb]", "Choose index, middle, ring or little."),
        ("name: Jug", "nane: Jug", "Did you mean 'name'?"),
        ("neighbours: free", "neighbours: fre", "Did you mean 'free'?"),
        ("mcp: 1", "mpc: 1", "Did you mean 'mcp'?"),
        ("name: Jug", "name: 12", "Put it in quotes."),
    ],
)
def test_the_nearest_right_answer_is_offered(old: str, new: str, hint: str, tmp_path: Path) -> None:
    text = "id: jug\nname: Jug\nfingers: [index]\nneighbours: free\nangles: {mcp: 1, pip: 2, dip: 3}\n"
    path = tmp_path / "file.yml"
    path.write_text(text)
    assert read_document(path, Hold, "f")[1] == []
    path.write_text(text.replace(old, new))
    assert hint in [p.hint for p in read_document(path, Hold, "f")[1]]


@pytest.mark.parametrize(("written", "hint"), [("yes", "Write true."), ("no", "Write false."), ("on", "Write true.")])
def test_yes_and_no_are_no_answer(written: str, hint: str, project: Path, tmp_path: Path) -> None:
    path = tmp_path / "file.yml"
    text = (project / "protocols" / "_example.yml").read_text("utf-8")
    path.write_text(text.replace("needs_side: false", f"needs_side: {written}"), "utf-8")
    (problem,) = read_document(path, Protocol, "f")[1]
    assert problem.message == f'must be true or false, not "{written}"'
    assert problem.hint == hint
