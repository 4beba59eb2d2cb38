"""Files of a collection in canonical form: which are not, and what one would be."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

import fingerpost
from fingerpost.files.cache import Kept, hash_files
from fingerpost.files.disk import write_whole
from fingerpost.problems import ContentError, Place, Problem
from fingerpost.read.texts import list_content, read_as_it_is
from fingerpost.rewrite.canonical import WRITER, find_first, find_kind, find_unformatted, rewrite

Name = Callable[[Path], str]
OURS = Path(fingerpost.__file__).parent


def _kind(path: Path, folder: Path) -> Any:
    try:
        return find_kind(path.resolve().relative_to(folder.resolve()).as_posix())
    except ValueError:
        return find_kind("case/")


def find_unformatted_files(paths: Iterable[Path], folder: Path, name: Name) -> Iterator[Problem]:
    """A file must be in canonical form. Files outside the folder of protocols are read as cases."""
    return find_unformatted((name(path), read_as_it_is(path), _kind(path, folder)) for path in paths)


def find_unformatted_content(folder: Path, name: Name, kept: Kept) -> Iterator[Problem]:
    """The same for a whole collection, in which a file is looked at again only when it or our code has changed."""
    code = hash_files(OURS.rglob("*.py"), OURS) + WRITER.encode()

    def find(text: str, kind: Any, called: str) -> int:
        return int(kept.take("canonical", code, repr(kind), text, make=lambda: b"%d" % find_first(text, kind, called)))

    files = ((name(path), read_as_it_is(path), _kind(path, folder)) for path in list_content(folder))
    yield from find_unformatted(files, find)
    kept.sweep()


def write_anew(path: Path, folder: Path, name: Name) -> bool:
    """Write one file in canonical form, if that changes nothing that it says. Whether it was not in it.

    Raises ContentError where it cannot be read, would not mean the same, or was written in the meantime.
    """
    if path.is_symlink():
        raise ContentError([Problem(Place(name(path)), "links are not followed", "Put the file itself here.")])
    text, kind = read_as_it_is(path), _kind(path, folder)
    if not find_first(text, kind, name(path)):
        return False
    made = rewrite(text, kind, name(path))
    if read_as_it_is(path) != text:
        raise ContentError([Problem(Place(name(path)), "somebody else wrote this file in the meantime", "Try again.")])
    write_whole(path, made.encode(), path.stat().st_mode & 0o777)
    return True
