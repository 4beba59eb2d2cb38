"""Canonical form: the same meaning, always laid out the same way, and nothing lost on the way.

- what is canonical: each shipped file, order of keys, quotes, line breaks, comments kept
- what is not is found with its line, and mended to the same meaning
- the command: it writes only what changes, and check says so
"""

from __future__ import annotations

import json
import os
import re
import shutil
from pathlib import Path
from typing import Any

import pytest
from for_each import for_each
from hypothesis import given, settings
from hypothesis import strategies as st

from fingerpost.files.cache import Kept
from fingerpost.problems import ContentError
from fingerpost.read.library import read_library, read_plain
from fingerpost.read.texts import list_content
from fingerpost.rewrite import files
from fingerpost.rewrite.arrange import write_plain
from fingerpost.rewrite.canonical import find_first, find_kind, find_unformatted, rewrite
from fingerpost.run import cli

PROJECT = Path(__file__).resolve().parents[2]
GOLDEN = PROJECT / "tests" / "golden" / "fmt"
CONTENT = [*list_content(PROJECT / "protocols"), PROJECT / "templates" / "project" / "case.yml"]
WARNINGS = find_kind("shared/warning_signs.yml")
WORDING = find_kind("shared/wording/sheet.yml")


def kind_of(path: Path) -> Any:
    inside = path.is_relative_to(PROJECT / "protocols")
    return find_kind(path.relative_to(PROJECT / "protocols").as_posix() if inside else "case/")


def list_comments(text: str) -> list[str]:
    return re.findall(r"(?m)(?:^|\s)(# .*)$", text)


def test_the_guard_sees_every_file() -> None:
    assert len(CONTENT) > 30


def test_a_thoroughly_untidy_file(request: pytest.FixtureRequest) -> None:
    made = rewrite((GOLDEN / "untidy.yml").read_text("utf-8"), WARNINGS, "untidy.yml")
    if request.config.getoption("--refresh-golden"):
        (GOLDEN / "tidy.yml").write_text(made, "utf-8")
    assert made == (GOLDEN / "tidy.yml").read_text("utf-8")


def test_every_comment_of_it_is_kept() -> None:
    untidy, tidy = ((GOLDEN / f"{name}.yml").read_text("utf-8") for name in ("untidy", "tidy"))
    assert sorted(list_comments(tidy)) == sorted(list_comments(untidy))
    assert len(list_comments(tidy)) == 6


@for_each("path", CONTENT)
def test_every_shipped_file_is_canonical(path: Path) -> None:
    text = path.read_text("utf-8")
    assert [str(p) for p in find_unformatted([(path.name, text, kind_of(path))])] == []


def test_every_shipped_file_means_the_same_after_being_spoilt_and_written_anew(tmp_path: Path) -> None:
    """Keys turned round, everything in double quotes on one line: the collection is read back equal."""
    folder = Path(shutil.copytree(PROJECT / "protocols", tmp_path / "protocols"))
    before, problems = read_library(folder)
    assert not problems
    paths = list_content(folder)
    originals = {path: path.read_text("utf-8") for path in paths}
    for path, text in originals.items():
        path.write_text(json.dumps(turn_round(read_plain(text, path.name)), ensure_ascii=False), "utf-8")
    for path, text in originals.items():
        kind = find_kind(path.relative_to(folder).as_posix())
        made = write_plain(read_plain(path.read_text("utf-8"), path.name), kind)
        assert made == drop_comments(text), path.name
        path.write_text(made, "utf-8")
    after, problems = read_library(folder)
    assert not problems
    assert [d.value for d in after.protocols] == [d.value for d in before.protocols]
    assert [d.value for d in after.referrals] == [d.value for d in before.referrals]
    assert after.vocabularies == before.vocabularies


def turn_round(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: turn_round(data[key]) for key in reversed(data)}
    return [turn_round(item) for item in data] if isinstance(data, list) else data


def drop_comments(text: str) -> str:
    """A canonical text without its comments and blank lines. No line of a shipped text looks like a comment."""
    return "".join(f"{line}\n" for line in text.splitlines() if line.strip() and not line.lstrip().startswith("#"))


def test_a_second_time_changes_nothing() -> None:
    for path in [CONTENT[0], CONTENT[9], CONTENT[-1]]:
        text = path.read_text("utf-8")
        assert rewrite(text, kind_of(path), path.name) == text


LINES = {
    "two sentences become two lines": ("Rest. Then wait.", ["  says: >-", "    Rest.", "    Then wait."]),
    "one sentence stays on the line": ("Rest a little.", ["  says: Rest a little."]),
    "a label in need of quotes has them": ("'{count}: all'", ["  says: '{count}: all'"]),
    "a sentence in need of quotes is a block": ("'Note: rest.'", ["  says: >-", "    Note: rest."]),
    "needless quotes go": ('"Rest"', ["  says: Rest"]),
    "a number that is text keeps its quotes": ("'999'", ["  says: '999'"]),
    "no sentence ends before a small letter": ("Cold, e.g. ice.", ["  says: Cold, e.g. ice."]),
    "a sign that some readers end a line at is told by its number": (
        '"One.\\u2028 Two. Three."',
        ['  says: "One.\\u2028 Two. Three."'],
    ),
    "lines that matter stay": ("|-\n    One\n    Two", ["  says: |-", "    One", "    Two"]),
    "a long sentence goes on in the next line": (
        "word " * 30 + "end",
        ["  says: >-", f"    {'word ' * 22}word", f"    {'word ' * 7}end"],
    ),
}


@pytest.mark.parametrize("name", LINES)
def test_how_a_text_is_laid_out(name: str) -> None:
    written, lines = LINES[name]
    assert rewrite(f"- id: a\n  says: {written}\n", WORDING, "a.yml").splitlines() == ["- id: a", *lines]


NOT_CANONICAL = {
    "keys out of order": "- says: Rest\n  id: a\n",
    "needless quotes": '- id: a\n  says: "Rest"\n',
    "two sentences on a line": "- id: a\n  says: Rest. Wait.\n",
    "too deep": "-   id: a\n    says: Rest\n",
    "two blank lines": "- id: a\n  says: Rest\n\n\n- id: b\n  says: Wait\n",
    "a blank line at the end": "- id: a\n  says: Rest\n\n",
    "a comment that stands nowhere": "- id: a\n   # so\n  says: Rest\n",
    "spaces at the end of a line": "- id: a \n  says: Rest\n",
    "spaces behind a comment": "# so \n- id: a\n  says: Rest\n",
    "line ends of another system": "- id: a\r\n  says: Rest\r\n",
    "a mark at the start": "\ufeff- id: a\n  says: Rest\n",
    "no line end at the end": "- id: a\n  says: Rest",
}


@pytest.mark.parametrize("name", NOT_CANONICAL)
def test_what_is_not_canonical_is_found_and_mended(name: str) -> None:
    text = NOT_CANONICAL[name]
    assert find_first(text, WORDING, "a.yml") > 0
    made = rewrite(text, WORDING, "a.yml")
    assert find_first(made, WORDING, "a.yml") == 0
    assert read_plain(made, "a.yml") == read_plain(text.removeprefix("\ufeff"), "a.yml")


def test_comments_and_single_blank_lines_are_fine() -> None:
    text = (
        "# Head.\n\n- id: a\n  # Why.\n  says: Rest\n  # Below it.\n\n# Next.\n- id: b\n  says: >-\n    # no comment.\n"
    )
    text += "    Wait.\n# Foot.\n"
    assert find_first(text, WORDING, "a.yml") == 0
    assert rewrite(text, WORDING, "a.yml") == text


def test_a_file_that_would_mean_something_else_is_refused() -> None:
    with pytest.raises(ContentError) as caught:
        rewrite(f"- id: a\n  ? {'x' * 1100}\n  : Rest\n", WORDING, "a.yml")  # too long for a key in a line
    assert "without changing what it says" in str(caught.value.problems[0])


def test_what_cannot_be_read_is_another_checks_finding() -> None:
    assert list(find_unformatted([("a.yml", "a: [", WORDING), ("b.yml", "a: 1\na: 2\n", WORDING)])) == []


def _check(folder: Path, kept: Kept) -> list[str]:
    return [str(problem) for problem in files.find_unformatted_content(folder, lambda path: path.name, kept)]


@pytest.fixture
def collection(tmp_path: Path) -> Path:
    (tmp_path / "protocols" / "shared").mkdir(parents=True)
    shutil.copy(GOLDEN / "tidy.yml", tmp_path / "protocols" / "shared" / "warning_signs.yml")
    return tmp_path / "protocols"


def test_only_a_changed_file_is_looked_at_again(collection: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kept, looked = Kept(collection.parent / "kept"), []
    monkeypatch.setattr(files, "find_first", lambda text, *_: looked.append(text) or find_first(text, *_))
    assert _check(collection, kept) == _check(collection, kept) == []
    assert len(looked) == 1
    shutil.copy(GOLDEN / "untidy.yml", collection / "shared" / "warning_signs.yml")
    found = _check(collection, kept)
    assert len(found) == 1
    assert found == _check(collection, kept)
    assert len(looked) == 2


def test_a_file_that_cannot_be_read_is_not_kept_as_good(collection: Path) -> None:
    kept = Kept(collection.parent / "kept")
    (collection / "shared" / "warning_signs.yml").write_text("a: [")
    assert _check(collection, kept) == []
    assert not kept.folder.exists()


def test_a_folder_that_cannot_be_written_stops_no_check(collection: Path) -> None:
    (collection.parent / "file").write_text("")
    shutil.copy(GOLDEN / "untidy.yml", collection / "shared" / "warning_signs.yml")
    assert len(_check(collection, Kept(collection.parent / "file" / "kept"))) == 1


words = st.text(st.characters(exclude_categories=["C", "Z"]), min_size=1, max_size=8)
texts = st.lists(words | st.sampled_from([".", "it.", "#", "-", "a:", "No", "3", "null"]), min_size=1, max_size=40)


@settings(max_examples=60)
@given(st.lists(st.builds(" ".join, texts), min_size=1, max_size=4))
def test_any_text_survives(says: list[str]) -> None:
    data = [{"id": f"a{number}", "says": text} for number, text in enumerate(says)]
    made = write_plain(data, WORDING)
    assert read_plain(made, "a.yml") == data
    assert rewrite(made, WORDING, "a.yml") == made


# ---------------------------------------------------------------- the command


@pytest.fixture
def shelf(tmp_path: Path) -> Path:
    """A folder of protocols with hardly anything in it: `fmt` needs no whole collection."""
    for name in ("pulley.yml", "shared/gates.yml", "refer/volar-plate.yml"):
        (tmp_path / "protocols" / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(PROJECT / "protocols" / name, tmp_path / "protocols" / name)
    return tmp_path / "protocols"


def run(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> tuple[int, list[str]]:
    code = cli.main([str(a) for a in arguments])
    return code, capsys.readouterr().out.splitlines()


def spoil(path: Path) -> str:
    text = path.read_text("utf-8")
    assert "stop: false" in text
    path.write_text(text.replace("stop: false", "stop:   false"), "utf-8")
    return text


def test_check_says_when_a_file_is_not_canonical_and_fmt_mends_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    shelf = Path(shutil.copytree(PROJECT / "protocols", tmp_path / "protocols"))
    monkeypatch.chdir(tmp_path)
    text = spoil(shelf / "pulley.yml")
    line = text.splitlines().index("stop: false") + 1
    for command in (["check"], ["fmt", "--check", "protocols/pulley.yml"]):
        code, out = run(capsys, "--protocols", "protocols", *command)
        assert code == 1
        assert out == [
            f"protocols/pulley.yml:{line}: the file must be in canonical form from here on",
            "    This writes it so, and changes nothing that it says: ./run fmt protocols/pulley.yml",
            "1 problem",
        ]
    code, out = run(capsys, "--protocols", "protocols", "fmt", "protocols/pulley.yml")
    assert (code, out) == (0, ["protocols/pulley.yml: written anew", "1 files are in canonical form"])
    assert (shelf / "pulley.yml").read_text("utf-8") == text


def test_fmt_leaves_alone_what_is_canonical(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = {path: path.stat().st_mtime_ns for path in shelf.rglob("*.yml")}
    code, out = run(capsys, "--protocols", shelf, "fmt")
    assert (code, len(out)) == (0, 1)
    assert {path: path.stat().st_mtime_ns for path in shelf.rglob("*.yml")} == before


def test_fmt_keeps_a_private_case_private(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "case.yml"
    path.write_text((PROJECT / "templates" / "project" / "case.yml").read_text().replace("size: M", 'size: "M"'))
    path.chmod(0o600)
    assert run(capsys, "fmt", path)[0] == 0
    assert path.stat().st_mode & 0o777 == 0o600
    assert "size: M\n" in path.read_text()


def test_fmt_tells_what_it_cannot_read_and_writes_the_others(shelf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = spoil(shelf / "pulley.yml")
    (shelf / "bad.yml").write_text("a: [\n")
    os.symlink(shelf / "pulley.yml", shelf / "link.yml")
    code, out = run(capsys, "--protocols", shelf, "fmt")
    assert code == 1
    assert [line for line in out if "bad.yml" in line and "not YAML" in line]
    assert [line for line in out if "link.yml" in line and "links are not followed" in line]
    assert (shelf / "pulley.yml").read_text("utf-8") == text
    assert (shelf / "link.yml").is_symlink()


def test_fmt_does_not_write_over_somebody_elses_work(
    shelf: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def write_meanwhile(text: str, *_: Any) -> str:
        (shelf / "pulley.yml").write_text(f"{text}# Theirs.\n", "utf-8")
        return text

    spoil(shelf / "pulley.yml")
    monkeypatch.setattr(files, "rewrite", write_meanwhile)
    code, out = run(capsys, "--protocols", shelf, "fmt", shelf / "pulley.yml")
    assert code == 1
    assert "somebody else wrote this file in the meantime" in out[0]
    assert (shelf / "pulley.yml").read_text("utf-8").endswith("# Theirs.\n")
