"""Writing files whole or not at all, clearing up behind killed programs, and seeing when files have changed."""

from __future__ import annotations

import ctypes
import os
import platform
import re
import shutil
import tempfile
import time
import zlib
from collections.abc import Iterator, Sequence
from contextlib import suppress
from functools import cache
from pathlib import Path

A_DAY = 24 * 60 * 60
_HERE = f"{zlib.crc32(platform.node().encode()):08x}"
_WORK = re.compile(r"\.(?P<kind>new|site)-(?P<host>[0-9a-f]{8})-(?P<owner>\d+)-[a-z0-9_]{8}")
_AT_WORKING_FOLDER, _EXCHANGE = -100, 2  # of Linux's renameat2


def name_work(kind: str) -> str:
    """How the name of a file or folder begins that is there only while it is worked on: it tells who does."""
    return f".{kind}-{_HERE}-{os.getpid()}-"


def _is_running(owner: int) -> bool:
    try:
        os.kill(owner, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True


def _is_left_over(path: Path, kind: str) -> bool:
    """Whether nobody works on it any more: its owner on this computer has ended, or it is older than a day."""
    found = _WORK.fullmatch(path.name)
    if not found or found["kind"] != kind or path.is_symlink():
        return False
    if time.time() - path.lstat().st_mtime > A_DAY:
        return True
    return os.name == "posix" and found["host"] == _HERE and not _is_running(int(found["owner"]))


def find_leftovers(folder: Path, kind: str) -> Iterator[Path]:
    """What programs that were killed have left in a folder."""
    for path in sorted(folder.glob(f".{kind}-*")):
        with suppress(FileNotFoundError):  # another program clears up at the same time
            if _is_left_over(path, kind):
                yield path


@cache
def _sweep_once(folder: Path) -> None:
    """Clear up half-written files. Once for each folder, because thousands may be written into one."""
    for path in find_leftovers(folder, "new"):
        with suppress(OSError):
            path.unlink()


def write_whole(path: Path, content: bytes, mode: int = 0o644) -> None:
    """Write a file so that it is there whole or not at all."""
    _sweep_once(path.parent.absolute())
    handle, made = tempfile.mkstemp(prefix=name_work("new"), dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.chmod(made, mode)
        os.replace(made, path)
    except BaseException as error:
        os.unlink(made)
        if isinstance(error, OSError):
            error.filename = os.fspath(path)  # not the name that it has while it is written
        raise


def exchange(one: Path, other: Path) -> bool:
    """Let two folders change places in one step, where the system can. False where nothing was done."""
    try:
        rename = ctypes.CDLL(None).renameat2
    except (OSError, AttributeError, TypeError):
        return False
    at = _AT_WORKING_FOLDER
    return bool(rename(at, os.fsencode(one), at, os.fsencode(other), _EXCHANGE) == 0)


def put_back(work: Path, target: Path) -> None:
    """Throw a left-over work folder away. What it had moved out of the place of `target` goes back, if that is gone."""
    for earlier in sorted(work.glob("earlier-*")):
        if not os.path.lexists(target):
            earlier.rename(target)
    shutil.rmtree(work, ignore_errors=True)


def make_private(folder: Path) -> None:
    """Make a folder that only its owner can look into."""
    folder.mkdir(parents=True, exist_ok=True)
    folder.chmod(0o700)


def stamp(folders: Sequence[Path]) -> tuple[tuple[str, int], ...]:
    """Every file under some folders, and when it was last written."""
    files = (f for folder in folders for f in folder.rglob("*") if f.is_file())
    return tuple(sorted((str(f), f.stat().st_mtime_ns) for f in files))
