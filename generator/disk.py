"""Writing files whole or not at all, and seeing when some have changed."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Sequence
from pathlib import Path


def write_whole(path: Path, content: bytes, mode: int = 0o644) -> None:
    """Write a file so that it is there whole or not at all."""
    handle, made = tempfile.mkstemp(prefix=".new-", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.chmod(made, mode)
        os.replace(made, path)
    except BaseException:
        os.unlink(made)
        raise


def make_private(folder: Path) -> None:
    """Make a folder that only its owner can look into."""
    folder.mkdir(parents=True, exist_ok=True)
    folder.chmod(0o700)


def stamp(folders: Sequence[Path]) -> tuple[tuple[str, int], ...]:
    """Every file under some folders, and when it was last written."""
    files = (f for folder in folders for f in folder.rglob("*") if f.is_file())
    return tuple(sorted((str(f), f.stat().st_mtime_ns) for f in files))
