"""Revisions, content hashes and reviews: what a maintainer asks the repository."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest
from upkeep_world import (
    FOREARM,
    Files,
    commit,
    copy_files,
    entry,
    git,
    make_files,
    stage,
    start_history,
    write_files,
)

from fingerpost.changes.views import Sight
from fingerpost.maintain import upkeep
from fingerpost.maintain.git import is_tracked, list_revisions, read_files, resolve
from fingerpost.model.library import Library
from fingerpost.problems import ContentError
from fingerpost.read.texts import read_texts
from fingerpost.reckon.content_hash import hash_all, hash_content
from fingerpost.reckon.overdue import find_overdue, is_overdue
from fingerpost.run import cli

pytestmark = pytest.mark.rest


@pytest.fixture(scope="module")
def base() -> Files:
    return make_files()


@pytest.fixture(scope="module")
def repository(tmp_path_factory: pytest.TempPathFactory, base: Files) -> Path:
    """Begin; a gate has a new name; another file; a window opens later (tagged v2); and an edit, not committed."""
    folder = tmp_path_factory.mktemp("repository")
    start_history(folder, base)
    files = copy_files(base)
    entry(files, "gates", "full-fist")["name"] = "Whole fist"
    write_files(folder / "protocols", files)
    commit(folder, "Name a gate")
    (folder / "README.md").write_text("More.\n")
    commit(folder, "Say more")
    stage(files, "move")["windows"][0]["latest"] = "3 weeks"
    write_files(folder / "protocols", files)
    commit(folder, "Wait longer")
    git(folder, "tag", "v2")
    stage(files, "move")["windows"][0]["earliest"] = "1 day"
    write_files(folder / "protocols", files)
    return folder


def run(capsys: pytest.CaptureFixture[str], *arguments: str | Path) -> tuple[int, str]:
    code = cli.main([str(a) for a in arguments])
    return code, capsys.readouterr().out


# ---------------------------------------------------------------- changes, as a command


def test_the_files_here_are_the_new_side(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "--protocols", repository / "protocols", "changes", "v2")
    assert code == 1
    assert out.startswith("From v2 to the files here\n")
    assert "begins at the earliest after 1 day, was 7 days (6 days earlier)" in out
    assert "Overall: less cautious (less cautious 1). Readers see a change on 1 page and 0 sets of sheets." in out
    assert re.search(r"forearm\.yml:\d+: stages\[1\]\.windows\[0\]: less cautious, with no reason given", out)
    assert out.endswith("1 problem\n")


def test_two_revisions(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "--protocols", repository / "protocols", "changes", "main~2", "main")
    assert code == 0
    assert "more cautious\n    stage 2 'move', grade I: begins at the latest after 3 weeks, was 14 days" in out
    assert "gates" not in out


def test_two_folders_need_no_git(tmp_path: Path, base: Files, capsys: pytest.CaptureFixture[str]) -> None:
    files = copy_files(base)
    write_files(tmp_path / "old", files)
    files[FOREARM]["plain_name"] = "Sore forearms"
    write_files(tmp_path / "new" / "protocols", files)
    command = ["--protocols", tmp_path / "new" / "protocols", "changes", tmp_path / "old", tmp_path / "new"]
    code, out = run(capsys, *command)
    assert code == 0
    assert "plain name: “Sore forearm” is now “Sore forearms”" in out


def test_nothing_changed(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "--protocols", repository / "protocols", "changes", "main", "main")
    assert code == 0
    assert out == (
        "From main to main\n\nOverall: no change of meaning. Readers see a change on 0 pages and 0 sets of sheets.\n"
    )


def test_markdown_for_a_pull_request(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "--protocols", repository / "protocols", "changes", "main", "--markdown")
    assert code == 1
    lines = out.splitlines()
    assert lines[0] == "## What this change means for readers"
    assert "**1 problem to settle before this can be merged:**" in lines
    assert "### Sore forearm: less cautious" in lines
    assert "- **less cautious**" in lines
    assert out.count("<details>") == out.count("</details>") == 1
    assert "```diff" in lines
    assert "- Grade I | 7 days | 10 days | 3 weeks [common practice]" in lines
    assert "+ Grade I | 1 day | 10 days | 3 weeks [common practice]" in lines


@pytest.mark.parametrize(
    ("wanted", "message"),
    [
        ("mian", "Did you mean 'main'?"),
        ("--output=x", "there is no revision or folder of this name"),
        ("nowhere/at/all", "there is no revision or folder of this name"),
    ],
)
def test_an_unknown_side_is_a_message(wanted: str, message: str, repository: Path) -> None:
    with pytest.raises(ContentError) as caught:
        upkeep.read_edition(wanted, repository / "protocols", str)
    assert message in str(caught.value.problems[0])


def test_without_git_it_says_what_to_do(tmp_path: Path, base: Files) -> None:
    write_files(tmp_path / "protocols", base)
    with pytest.raises(ContentError) as caught:
        upkeep.read_edition("main", tmp_path / "protocols", str)
    assert "is in no git repository" in str(caught.value.problems[0])
    assert not is_tracked(tmp_path)
    assert list_revisions(tmp_path) == []


def test_an_old_side_that_cannot_be_read_whole_is_compared_as_far_as_it_can(tmp_path: Path, base: Files) -> None:
    files = copy_files(base)
    entry(files, "gates", "full-fist")["colour"] = "blue"
    write_files(tmp_path / "old", files)
    files = copy_files(base)
    stage(files, "move")["pain"]["most"] = 1
    write_files(tmp_path / "new", files)
    sides = [
        upkeep.read_edition(str(tmp_path / name), tmp_path / name, lambda path: path.name) for name in ("old", "new")
    ]
    report = upkeep.make_report(*sides)
    assert len(report.remarks) == 1
    assert "new/shared/gates.yml: today's program cannot read it whole as it was" in report.remarks[0]
    assert [d.what for d in report.comparison.differences] == ["pain up to 1 out of 10 is accepted, was 2"]
    with pytest.raises(ContentError):
        upkeep.make_report(sides[1], sides[0])


# ---------------------------------------------------------------- revisions


def test_files_of_a_revision_are_those_below_the_folder(repository: Path) -> None:
    files = read_files(repository / "protocols", "v2")
    assert FOREARM in files
    assert "shared/gates.yml" in files
    assert not [name for name in files if "README" in name]
    assert files[FOREARM] != (repository / "protocols" / FOREARM).read_bytes()
    assert len(resolve(repository, "v2")) == 40


def test_only_commits_that_touch_the_protocols_are_listed(repository: Path) -> None:
    assert [r.subject for r in list_revisions(repository / "protocols")] == ["Wait longer", "Name a gate", "Begin"]


def test_a_revision_without_the_folder_is_a_message(repository: Path, tmp_path: Path, base: Files) -> None:
    folder = tmp_path / "other"
    folder.mkdir()
    git(folder, "init", "-q", "-b", "main")
    (folder / "README.md").write_text("Nothing yet.\n")
    commit(folder, "Nothing yet")
    write_files(folder / "protocols", base)
    with pytest.raises(ContentError) as caught:
        read_files(folder / "protocols", "main")
    assert "there was no folder protocols/" in str(caught.value.problems[0])


def test_a_vocabulary_may_move_into_a_folder(tmp_path: Path, base: Files) -> None:
    """An earlier revision has all phrases in one file and in another order; nothing of that is a change."""
    parts = [name for name in base if name.startswith("shared/wording/")]
    flat = {name: data for name, data in copy_files(base).items() if name not in parts}
    flat["shared/wording.yml"] = [phrase for name in reversed(parts) for phrase in base[name]]
    write_files(tmp_path / "old", flat)
    write_files(tmp_path / "new", base)
    old, new = (upkeep.read_edition(str(tmp_path / side), tmp_path, lambda path: path.name) for side in ("old", "new"))
    report = upkeep.make_report(old, new)
    assert (report.comparison.subjects, report.problems) == ((), ())
    assert report.sight == Sight((), (), (), ())


def test_a_change_in_a_folder_names_its_file(tmp_path: Path, base: Files) -> None:
    files = copy_files(base)
    files["shared/wording/page.yml"][0]["says"] = "mostly"
    write_files(tmp_path / "old", base)
    write_files(tmp_path / "new", files)
    old, new = (upkeep.read_edition(str(tmp_path / side), tmp_path, lambda path: path.name) for side in ("old", "new"))
    told = [(s.about, s.file) for s in upkeep.make_report(old, new, look=False).comparison.subjects]
    assert told == [("wording/fit-usual", "new/shared/wording/page.yml")]


# ---------------------------------------------------------------- content hashes

TEXTS = {
    FOREARM: "id: forearm\n",
    "shared/gates.yml": "[]\n",
    "refer/x.yml": "id: x\n",
    "_example.yml": "id: example\n",
}


def test_a_content_hash_is_eight_signs_and_known() -> None:
    assert hash_all(TEXTS) == {"forearm": hash_content(TEXTS, "forearm")}
    assert hash_content(TEXTS, "forearm") == "f1506993"


@pytest.mark.parametrize(
    ("name", "text", "same"),
    [
        (FOREARM, "id: forearm\r\n", True),
        (FOREARM, "\ufeffid: forearm\n", True),
        ("shared/retired.yml", "- id: a\n", True),
        ("shared/exceptions.yml", "- rule: a\n", True),
        ("shared/standards/tidier.yml", "- id: a\n", True),
        ("shared/wording/page.yml", "[]\n", False),
        ("refer/x.yml", "id: y\n", True),
        ("other.yml", "id: other\n", True),
        (FOREARM, "id: forearm \n", False),
        ("shared/gates.yml", "[ ]\n", False),
        ("shared/terms.yml", "[]\n", False),
    ],
)
def test_it_changes_with_what_is_printed_and_with_nothing_else(name: str, text: str, same: bool) -> None:
    assert (hash_content({**TEXTS, name: text}, "forearm") == hash_content(TEXTS, "forearm")) is same


def test_text_cannot_move_from_one_file_to_the_next_unseen() -> None:
    one = {"a.yml": "x", "shared/b.yml": "yz"}
    other = {"a.yml": "xy", "shared/b.yml": "z"}
    assert hash_content(one, "a") != hash_content(other, "a")


def test_whence_finds_the_revisions_that_print_a_hash(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for revision, newest in (("v2", "Wait longer"), ("main~1", "Name a gate"), ("main~3", "Begin")):
        files = {n: c.decode() for n, c in read_files(repository / "protocols", revision).items()}
        wanted = hash_content(files, "forearm")
        code, out = run(capsys, "--protocols", repository / "protocols", "whence", wanted.upper())
        assert code == 0
        assert out.splitlines()[0] == f"{wanted} is printed on the sheets of forearm by 1 of the revisions here"
        assert re.fullmatch(rf"  the newest: [0-9a-f]{{10}} \(\d{{4}}-\d\d-\d\d, {newest}\)", out.splitlines()[1])


def test_whence_knows_the_files_here(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    wanted = hash_content(read_texts(repository / "protocols"), "forearm")
    code, out = run(capsys, "--protocols", repository / "protocols", "whence", wanted)
    assert (code, out.splitlines()[1]) == (0, "  the newest: the files here")


def test_whence_says_when_nothing_prints_it(repository: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "--protocols", repository / "protocols", "whence", "00000000")
    assert code == 1
    assert "00000000: no revision of these protocols prints this" in out


# ---------------------------------------------------------------- reviews


def test_a_review_is_overdue_from_the_day_after(library: Library) -> None:
    status = library.protocols[0].value.status
    due = date.fromisoformat(status.next_review)
    assert not is_overdue(status, due)
    assert is_overdue(status, date.fromordinal(due.toordinal() + 1))


def test_every_overdue_review_is_a_finding_with_its_line(library: Library) -> None:
    assert list(find_overdue(library, date(2026, 11, 25))) == []
    found = [str(p) for p in find_overdue(library, date(2040, 1, 1))]
    assert len(found) == len(library.conditions)
    assert re.match(r"protocols/\S+\.yml:\d+: status\.next_review: the review is overdue by \d+ days", found[0])


def test_check_looks_for_overdue_reviews_when_it_is_told_the_day(capsys: pytest.CaptureFixture[str]) -> None:
    code, out = run(capsys, "check", "--today", "2040-01-01")
    assert code == 1
    assert "the review is overdue by" in out
    assert "no problems" not in out
