"""What was made once is not made again: a folder of contents, each named by all that it was made from.

Only for what is about nobody. What is made from a person's case is never kept. A folder that cannot be written keeps
nothing, and stops nobody.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable, Iterable
from contextlib import suppress
from pathlib import Path

from fingerpost.files.disk import write_whole

SPARE = 4
"""How many times as many contents may lie there as the last round asked for: enough to go back and forth."""


def hash_files(paths: Iterable[Path], base: Path) -> bytes:
    """One digest of some files, with their places below `base`."""
    digest = hashlib.sha256()
    for path in sorted(paths):
        digest.update(f"{path.relative_to(base).as_posix()}\0".encode() + hashlib.sha256(path.read_bytes()).digest())
    return digest.digest()


class Kept:
    """A folder of contents. Two programs may use it at once: each content is put there whole, and is the same."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._asked: set[Path] = set()

    def take(self, *told: str | bytes, make: Callable[[], bytes]) -> bytes:
        """The content that was made from `told` before, or what `make` makes of it now."""
        digest = hashlib.sha256()
        for part in told:
            content = part.encode() if isinstance(part, str) else part
            digest.update(f"{len(content)}:".encode() + content)
        path = self.folder / digest.hexdigest()
        self._asked.add(path)
        if path.is_file():
            with suppress(OSError):
                os.utime(path)
            return path.read_bytes()
        content = make()
        with suppress(OSError):
            self.folder.mkdir(parents=True, exist_ok=True)
            write_whole(path, content)
        return content

    def sweep(self) -> None:
        """Let go of what was not asked for the longest, where much more lies there than was asked for."""
        lying = [path for path in self.folder.glob("[0-9a-f]*") if path.is_file()]
        lying.sort(key=lambda path: (path in self._asked, path.stat().st_mtime_ns))
        for path in lying[: max(0, len(lying) - SPARE * len(self._asked))]:
            path.unlink(missing_ok=True)
