"""Killed, starved, shut out, or two at once: what was there before stays whole, or is replaced as a whole."""

from __future__ import annotations

import os
import random
import signal
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from fingerpost.files import disk
from fingerpost.make import website
from hostile.runs import CASE as A_CASE
from hostile.runs import Job, Ran, Workshop

pytestmark = pytest.mark.rest

CASE = str(A_CASE)
Run = Callable[..., list[Ran]]
SEED = 1126


def say(ran: Ran) -> str:
    assert "Traceback" not in ran.said
    return ran.said


def choose(changes: tuple[str, ...], count: int) -> list[int]:
    """Some changes of files at random, the same on every run, and the last ones, where the new takes its place."""
    last = list(range(len(changes) - 3, len(changes)))
    return sorted({*random.Random(SEED).sample(range(len(changes) - 3), count), *last})


@pytest.fixture(scope="module")
def run() -> Iterator[Run]:
    workshop = Workshop()
    yield workshop.run
    workshop.close()


@pytest.fixture(scope="module")
def built(run: Run, tmp_path_factory: pytest.TempPathFactory) -> tuple[Job, tuple[str, ...]]:
    """A build of new over an earlier one, and the changes of files that it makes."""
    new = Job(command="build", out=str(tmp_path_factory.mktemp("kill") / "out"), text="B")
    _, ran = run(replace(new, text="A"), new)
    assert (ran.status, ran.leftovers) == (0, []), ran.said
    return new, ran.changes


def test_a_killed_build_leaves_the_earlier_site_or_the_new_one(run: Run, built: tuple[Job, tuple[str, ...]]) -> None:
    new, changes = built
    points = choose(changes, 4)
    old, *killed, again = run(replace(new, text="A"), *(replace(new, kill_at=at) for at in points), new)
    assert again.status == 0
    assert again.leftovers == []
    assert old.whole != again.whole
    assert len(old.whole) > 30
    for at, ran in zip(points, killed, strict=True):
        assert ran.status == -9, f"at {at} of {len(changes)}: {ran.said}"
        assert ran.whole in (old.whole, again.whole), f"at {changes[at]}"
    assert killed[0].whole == old.whole
    assert any(ran.leftovers for ran in killed)


def test_careless_writing_is_found(run: Run, tmp_path: Path) -> None:
    for command, hit, cases in (("build", "os.rename site", ()), ("handout", "open pulley", (CASE,))):
        new = Job(command=command, out=str(tmp_path / command), text="B", cases=cases, careless=True)
        _, old = run(replace(new, text="A"), new)
        at = max(n for n, change in enumerate(old.changes) if change.startswith(hit))
        (killed,) = run(replace(new, text="C", kill_at=at))
        assert killed.status == -9
        assert killed.whole != old.whole


def test_ctrl_c_ends_without_a_trace(run: Run, built: tuple[Job, tuple[str, ...]], tmp_path: Path) -> None:
    build, changes = built
    points = choose(changes, 2)[:2]
    old, *stopped = run(replace(build, text="A"), *(replace(build, kill_at=at, by=signal.SIGINT) for at in points))
    sheet = Job(command="handout", out=str(tmp_path / "out"), text="A", cases=(CASE,))
    first, *more = run(sheet, *(replace(sheet, kill_at=at, by=signal.SIGINT) for at in range(3)))
    for earlier, ran in [*((old, ran) for ran in stopped), *((first, ran) for ran in more)]:
        assert (ran.status, say(ran), ran.leftovers) == (130, ran.said, [])
        assert ran.whole == earlier.whole


def test_a_site_that_was_moved_aside_comes_back_where_the_new_one_never_arrived(run: Run, tmp_path: Path) -> None:
    """Where the system cannot exchange folders, a kill can hit between two steps. Then the next helps."""
    new = Job(command="build", out=str(tmp_path / "out"), text="B", two_steps=True)
    _, old = run(replace(new, text="A"), new)
    moves = [n for n, change in enumerate(old.changes) if change == "os.rename site"]
    assert len(moves) == 2
    killed, failed = run(replace(new, text="C", kill_at=moves[1]), replace(new, most_bytes=2_000))
    assert killed.status == -9
    assert killed.whole == {}
    assert failed.status == 1
    assert failed.whole == old.whole
    assert failed.leftovers == []


def test_a_killed_handout_leaves_whole_sheets(run: Run, tmp_path: Path) -> None:
    new = Job(command="handout", out=str(tmp_path / "out"), text="B", cases=(CASE,))
    old, whole = run(replace(new, text="A"), new)
    points = range(len(whole.changes))
    assert len(points) >= 8  # for each of two files: make, fill, open to nobody else, put in its place
    old, *killed, again = run(replace(new, text="A"), *(replace(new, kill_at=at) for at in points), new)
    assert (again.status, again.leftovers, len(again.whole)) == (0, [], 2)
    for at, ran in zip(points, killed, strict=True):
        assert ran.status == -9
        assert sorted(ran.whole) == sorted(old.whole)
        assert all(digest in (old.whole[n], again.whole[n]) for n, digest in ran.whole.items()), whole.changes[at]
    assert any(ran.leftovers for ran in killed)


def test_two_at_once_leave_one_of_them(run: Run, tmp_path: Path) -> None:
    """Two builds into one folder, and two handouts of one case: the last one counts, and nothing is mixed."""
    site = Job(command="build", out=str(tmp_path / "site"), text="A")
    sheet = Job(command="handout", out=str(tmp_path / "sheet"), text="A", cases=(CASE,))
    for job in (site, sheet):
        other = replace(job, text="B")
        a, b, both, _ = run(job, other, [job, other])
        assert a.whole != b.whole
        assert (both.status, both.leftovers) == (0, []), both.said
        assert all(digest in (a.whole[name], b.whole[name]) for name, digest in both.whole.items())
        assert both.whole.keys() == a.whole.keys()
        if job is site:
            assert both.whole in (a.whole, b.whole)


@pytest.mark.parametrize("command", ["build", "handout"])
def test_a_disk_that_is_full_is_a_message_and_changes_nothing(run: Run, command: str, tmp_path: Path) -> None:
    """As where the disk is full: no file may grow any further."""
    cases = (CASE,) if command == "handout" else ()
    job = Job(command=command, out=str(tmp_path / "out"), text="A", cases=cases)
    old, failed = run(job, replace(job, text="B", most_bytes=2_000))
    assert failed.status == 1
    assert "File too large" in say(failed)
    assert str(tmp_path / "out") in failed.said
    assert failed.whole == old.whole
    assert failed.leftovers == []


@pytest.mark.parametrize("command", ["build", "handout"])
def test_a_folder_that_may_not_be_written_is_a_message_and_changes_nothing(
    run: Run, command: str, tmp_path: Path
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "mine").write_text("x")
    out.chmod(0o555)
    (ran,) = run(
        Job(command=command, out=str(out), text="A", cases=(CASE,) if command == "handout" else (), shut_out=True)
    )
    out.chmod(0o755)
    assert ran.status == 1
    assert "Permission denied" in say(ran)
    assert str(out) in ran.said
    assert list(ran.files) == ["mine"]


def test_a_case_that_may_not_be_read_is_a_message(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "case.yml"
    path.write_text(Path(CASE).read_text())
    path.chmod(0)
    out = tmp_path / "out"
    ran, _ = run(
        Job(command="handout", out=str(out), text="A", cases=(str(path), CASE), shut_out=True),
        Job(command="handout", out=str(out), text="A", cases=(CASE,)),
    )
    assert ran.status == 1
    assert f"{path}: cannot be read: Permission denied" in say(ran)
    assert len(ran.whole) == 2  # the other case is printed all the same


# ------------------------------------------------------------------ clearing up


def leave(folder: Path, host: str, owner: int, age: float = 0) -> Path:
    path = folder / f".new-{host}-{owner}-abcdefgh"
    path.write_text("half")
    os.utime(path, (time.time() - age, time.time() - age))
    return path


def test_only_what_nobody_works_on_is_cleared_away(tmp_path: Path) -> None:
    here, there = disk.name_work("new").split("-")[1], "00000000"
    ended = 2**22 + 1  # more than a process may be called
    kept = [leave(tmp_path, here, os.getpid()), leave(tmp_path, there, ended), leave(tmp_path, here, 1)]
    gone = [leave(tmp_path, here, ended), leave(tmp_path, there, 1, age=2 * disk.A_DAY)]
    mine = tmp_path / ".new-idea.yml"
    mine.write_text("x")
    os.utime(mine, (0, 0))
    (tmp_path / f".new-{here}-{ended}-symlinks").symlink_to(mine)
    disk.write_whole(tmp_path / "file", b"content")
    assert all(path.exists() for path in kept)
    assert not any(path.exists() for path in gone)
    assert mine.read_text() == "x"


def test_a_failed_write_names_the_file_and_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "file").write_text("earlier")

    def refuse(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(disk.os, "replace", refuse)
    with pytest.raises(OSError, match="No space left"):
        disk.write_whole(tmp_path / "file", b"new")
    assert [p.name for p in tmp_path.iterdir()] == ["file"]
    assert (tmp_path / "file").read_text() == "earlier"


def test_folders_change_places_in_one_step(tmp_path: Path) -> None:
    for name in "ab":
        (tmp_path / name).mkdir()
        (tmp_path / name / "file").write_text(name)
    if not disk.exchange(tmp_path / "a", tmp_path / "b"):
        pytest.skip("this system cannot")
    assert (tmp_path / "a" / "file").read_text() == "b"
    assert not disk.exchange(tmp_path / "a", tmp_path / "nowhere")
    assert website.exchange is disk.exchange
