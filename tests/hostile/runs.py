"""Runs the program many times in processes of its own, each of which may be killed, starved or shut out.

Everything that takes long (imports, the collection) is done once; each run is a fork. Sheets are stubs, and the site
has four pages, because here it only counts which files are written when. `python -m hostile.runs` reads jobs as JSON.
"""

from __future__ import annotations

import ctypes
import json
import os
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
from contextlib import redirect_stdout
from dataclasses import asdict, dataclass, replace
from hashlib import sha256
from io import StringIO
from pathlib import Path
from typing import Any, NoReturn

PROJECT = Path(__file__).resolve().parents[2]
CASE = PROJECT / "tests" / "golden" / "cases" / "pulley-left-ring.yml"
TODAY = "2026-11-25"
_CHANGES = {"os.rename", "os.mkdir", "os.remove", "os.rmdir", "os.chmod", "os.utime", "os.link", "os.symlink"}
_TAKEN = (1 << 1) | (1 << 2)  # the rights of root to read and write what file modes forbid


@dataclass(frozen=True, kw_only=True)
class Job:
    """One run. `text` is what everything it makes holds, so that old and new can be told apart.

    `kill_at`: the number of the change of a file before which it is killed, and `by` which signal. `most_bytes`: how
    large a file may get. `shut_out`: file modes count, also for root. `two_steps`: the system cannot exchange two
    folders. `careless`: files are written where they stand, and a site is taken away before the new one comes.
    """

    command: str
    out: str
    text: str
    cases: tuple[str, ...] = ()
    kill_at: int | None = None
    by: int = signal.SIGKILL
    most_bytes: int | None = None
    shut_out: bool = False
    two_steps: bool = False
    careless: bool = False


@dataclass(frozen=True, kw_only=True)
class Ran:
    """How a run ended (a negative status is the signal that killed it), what it said, and which files it changed.

    `files`: what lay in the output folder afterwards, each file with a digest, but for what is kept between builds.
    """

    status: int
    said: str
    changes: tuple[str, ...]
    files: dict[str, str]

    @property
    def whole(self) -> dict[str, str]:
        """The files that people look at."""
        return {
            name: digest
            for name, digest in self.files.items()
            if not name.rpartition("/")[2].startswith(".") and not name.startswith(".")
        }

    @property
    def leftovers(self) -> list[str]:
        return sorted({name for name in self.files if name not in self.whole})


class Workshop:
    """The other process. It stays for as many runs as there are, because getting ready takes it seconds."""

    def __init__(self) -> None:
        paths = os.pathsep.join([str(PROJECT / "generator"), str(PROJECT / "tests")])
        command, around = [sys.executable, "-m", "hostile.runs"], os.environ | {"PYTHONPATH": paths}
        pipe = subprocess.PIPE
        self._process = subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True, env=around)

    def run(self, *rounds: Job | list[Job]) -> list[Ran]:
        """Run jobs one after the other; those in a list at the same time."""
        jobs = [[asdict(job) for job in ([turn] if isinstance(turn, Job) else turn)] for turn in rounds]
        assert self._process.stdin
        assert self._process.stdout
        self._process.stdin.write(json.dumps(jobs) + "\n")
        self._process.stdin.flush()
        told = json.loads(self._process.stdout.readline())
        return [Ran(**{**ran, "changes": tuple(ran["changes"])}) for ran in told]

    def close(self) -> None:
        self._process.communicate()


# ------------------------------------------------------------------ inside the other process


def _shut_out() -> None:
    header, data = (ctypes.c_uint32 * 2)(0x20080522, 0), (ctypes.c_uint32 * 6)()
    libc = ctypes.CDLL(None, use_errno=True)
    libc.capget(header, data)
    data[0] &= ~_TAKEN
    assert libc.capset(header, data) == 0


def _watch(job: Job, changes: Any) -> None:
    """Count every change of a file below the output folder, and kill at the one that was asked for."""
    count = 0

    def hear(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal count
        writes = event == "open" and isinstance(arguments[2], int) and arguments[2] & (os.O_WRONLY | os.O_RDWR)
        if not (writes or event in _CHANGES) or job.out not in str(arguments[0]):
            return
        if count == job.kill_at:
            os.kill(os.getpid(), job.by)
        count += 1
        os.write(changes, f"{event} {Path(str(arguments[0])).name}\n".encode())

    sys.addaudithook(hear)


def _write_in_place(path: Path, content: bytes, mode: int = 0o644) -> None:
    path.write_bytes(content[:9])
    with path.open("ab") as file:
        file.write(content[9:])


def _take_away_first(made: Path, target: Path, _: Path) -> None:
    shutil.rmtree(target, ignore_errors=True)
    made.rename(target)


def _work(job: Job, world: dict[str, Any], said: int, changes: int) -> NoReturn:
    from fingerpost.files import disk
    from fingerpost.make import pdf, website
    from fingerpost.run import batch, building, cli

    os.dup2(said, 1)
    os.dup2(said, 2)
    signal.signal(signal.SIGINT, signal.default_int_handler)  # as at a terminal; what runs behind one ignores Ctrl-C
    if job.shut_out:
        _shut_out()
    if job.most_bytes:
        resource.setrlimit(resource.RLIMIT_FSIZE, (job.most_bytes, job.most_bytes))
    pdf.print_pdf = lambda *_, **__: b"%PDF-" + job.text.encode() * 60_000
    if job.two_steps:
        website.exchange = lambda *_: False
    if job.careless:
        disk.write_whole = batch.write_whole = _write_in_place
        website._swap = _take_away_first
    building.plan_site = lambda _: replace(world["site"], name=job.text * 20)
    _watch(job, changes)
    status = cli.main(["--out", job.out, job.command, *job.cases, *(("--today", TODAY) if job.cases else ())])
    sys.stdout.flush()
    os._exit(status)


def _list_files(out: Path) -> dict[str, str]:
    found = {p.relative_to(out).as_posix(): p for p in sorted(out.rglob("*")) if p.is_file()}
    return {name: sha256(path.read_bytes()).hexdigest() for name, path in found.items() if not name.startswith(".kept")}


def _start(job: Job, world: dict[str, Any], folder: Path) -> tuple[int, Path, Path]:
    said, changes = folder / "said", folder / "changes"
    pid = os.fork()
    if pid:
        return pid, said, changes
    try:
        flags = os.O_WRONLY | os.O_CREAT | os.O_APPEND
        _work(job, world, os.open(said, flags), os.open(changes, flags))
    except BaseException as error:
        os.write(2, f"Traceback: {error!r}\n".encode())
    os._exit(99)


def _get_ready(folder: str) -> dict[str, Any]:
    """Load and draw what every run needs, and put stubs in the place of what takes long and writes no file."""
    from site_under_test import small_site, whole_library

    from fingerpost.make import pdf
    from fingerpost.run import building, cli, load, site_build

    site = small_site()
    bare = tuple(replace(page, lead=(), sections=()) for page in site.pages)  # no links to what is not made here
    world = {"library": whole_library(), "site": replace(site, pages=bare)}
    pdf.print_pdf = lambda *_, **__: b"%PDF-"
    site_build.make_notices = lambda *_: {}
    load.load_library = lambda *_: world["library"]
    building.plan_site = lambda _: world["site"]
    building.make_desk_files = lambda *_: {}
    with redirect_stdout(StringIO()):
        assert cli.main(["--out", folder, "build"]) == 0
        assert cli.main(["--out", folder, "handout", str(CASE), "--today", TODAY]) == 0
    return world


def _run_rounds(rounds: list[list[Job]], world: dict[str, Any], folder: Path) -> list[Ran]:
    ran: list[Ran] = []
    for jobs in rounds:
        began = [_start(job, world, Path(tempfile.mkdtemp(dir=folder))) for job in jobs]
        ended = [(os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1]), *told) for pid, *told in began]
        files = _list_files(Path(jobs[0].out))
        for status, said, changes in ended:
            changed = tuple(changes.read_text().splitlines()) if changes.exists() else ()
            ran.append(Ran(status=status, said=said.read_text(), changes=changed, files=files))
    return ran


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        world = _get_ready(folder)
        for line in sys.stdin:
            rounds = [[Job(**{**job, "cases": tuple(job["cases"])}) for job in jobs] for jobs in json.loads(line)]
            print(json.dumps([asdict(ran) for ran in _run_rounds(rounds, world, Path(folder))]), flush=True)


if __name__ == "__main__":
    main()
