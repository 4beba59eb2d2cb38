"""Whether what was made before still stands as it was made, and would be made the same again."""

from __future__ import annotations

import hashlib
import os
import stat
import sys
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from fingerpost.files.disk import write_whole

COMPILED = "__pycache__"


class NotPlain(OSError):
    """A link, a pipe or another thing whose content nobody can tell beforehand."""


def _list_below(place: str) -> Iterator[str]:
    """Every file below a folder; a file itself. Raises OSError for what is neither."""
    mode = os.lstat(place).st_mode
    if stat.S_ISREG(mode):
        yield place
    elif stat.S_ISDIR(mode):
        for name in sorted(os.listdir(place)):
            if name != COMPILED:
                yield from _list_below(os.path.join(place, name))
    else:
        raise NotPlain(place)


def hash_places(*places: Path) -> bytes | None:
    """One digest of some files and of all that lies below some folders, with their names. A place may be missing.

    None where it cannot be told: something cannot be read, or is a link or a pipe.
    """
    digest = hashlib.sha256()
    try:
        for number, place in enumerate(places):
            digest.update(b"%d\0%d\0" % (number, os.path.lexists(place)))
            for path in _list_below(os.fspath(place)) if os.path.lexists(place) else ():
                with open(path, "rb") as file:
                    content = hashlib.sha256(file.read()).digest()
                digest.update(os.fsencode(os.path.relpath(path, place)) + b"\0" + content)
    except OSError:
        return None
    return digest.digest()


def name_installed() -> bytes:
    """Python and every library that is installed, each with its version, as their folders are called."""
    found = {name for place in sys.path if os.path.isdir(place) for name in os.listdir(place)}
    return "\0".join([sys.version, *sorted(n for n in found if n.endswith((".dist-info", ".egg-info")))]).encode()


class FolderNote:
    """A few lines beside a folder that was made: from what, as what, and what was said of it.

    `origin` is a digest of all that the folder is made from; None where there is no telling, and then nothing is noted.
    """

    def __init__(self, path: Path, origin: bytes | None) -> None:
        self.path, self.origin = path, origin

    def find(self, folder: Path) -> str | None:
        """What was said of a folder, where it stands as it was made and would be made the same again."""
        with suppress(OSError, ValueError):
            origin, made, said = self.path.read_text(encoding="utf-8").splitlines()
            if self.origin and self.origin.hex() == origin and (hash_places(folder) or b"").hex() == made:
                return said
        return None

    def write(self, made: bytes | None, said: str) -> None:
        """Note a folder with the digest `made`. Where that cannot be written, the next round makes it again."""
        if self.origin and made:
            with suppress(OSError):
                self.path.parent.mkdir(parents=True, exist_ok=True)
                write_whole(self.path, f"{self.origin.hex()}\n{made.hex()}\n{said}\n".encode())
