"""Earlier revisions of the protocols, from git. The only module that runs git, and it only reads."""

from __future__ import annotations

import subprocess
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from fingerpost.problems import ContentError, Place, Problem, suggest


@dataclass(frozen=True)
class Revision:
    """A commit: its full name, its day, the first line of its message."""

    commit: str
    day: str
    subject: str

    def __str__(self) -> str:
        return f"{self.commit[:10]} ({self.day}, {self.subject})"


def _run(folder: Path, *arguments: str, given: bytes = b"") -> bytes:
    command = ["git", "-C", str(folder), *arguments]
    done = subprocess.run(command, input=given, capture_output=True, check=True)
    return done.stdout


def _refuse(what: str, message: str, hint: str = "") -> ContentError:
    return ContentError([Problem(Place(what), message, hint)])


def is_tracked(folder: Path) -> bool:
    """Whether a folder lies in a git repository that has a commit, and git is there to say so."""
    try:
        _run(folder, "rev-parse", "--verify", "--quiet", "HEAD^{commit}")
    except (subprocess.CalledProcessError, FileNotFoundError):
        return False
    return True


def resolve(folder: Path, name: str) -> str:
    """The full name of a commit. Raises ContentError where there is none of that name."""
    try:
        found = _run(folder, "rev-parse", "--verify", "--quiet", "--end-of-options", f"{name}^{{commit}}")
    except FileNotFoundError:
        raise _refuse(name, "git is not installed, so no revision can be read") from None
    except subprocess.CalledProcessError:
        if not is_tracked(folder):
            hint = "Name two folders instead, or run this where the protocols are under version control."
            raise _refuse(name, f"{folder.name}/ is in no git repository that has a commit", hint) from None
        hint = suggest(name, _list_names(folder)) or "Branches, tags, commits and folders can be compared."
        raise _refuse(name, "there is no revision or folder of this name", hint) from None
    return found.decode().strip()


def _list_names(folder: Path) -> list[str]:
    found = _run(folder, "for-each-ref", "--format=%(refname:short)", "refs/heads", "refs/tags")
    return found.decode().split()


def _list_blobs(folder: Path, commit: str) -> Iterator[tuple[str, str]]:
    """(name below the folder, object) of each file below a folder at a commit. Links are passed over."""
    for entry in _run(folder, "ls-tree", "-r", "-z", commit).split(b"\0"):
        if entry:
            about, _, name = entry.partition(b"\t")
            mode, kind, found = about.decode().split()
            if kind == "blob" and mode != "120000":
                yield name.decode("utf-8", "surrogateescape"), found


def _read_blobs(folder: Path, wanted: Iterable[str]) -> dict[str, bytes]:
    """The content of objects, in one go."""
    names = list(wanted)
    answer = _run(folder, "cat-file", "--batch", given="".join(f"{n}\n" for n in names).encode()) if names else b""
    content, at = {}, 0
    for name in names:
        end = answer.index(b"\n", at)
        size = int(answer[at:end].split()[2])
        content[name] = answer[end + 1 : end + 1 + size]
        at = end + 1 + size + 1
    return content


def read_files(folder: Path, name: str) -> dict[str, bytes]:
    """Every file below a folder as it was at a revision, by its place below the folder. Raises ContentError."""
    commit = resolve(folder, name)
    blobs = dict(_list_blobs(folder, commit))
    if not blobs:
        raise _refuse(name, f"at this revision there was no folder {folder.name}/")
    content = _read_blobs(folder, set(blobs.values()))
    return {file: content[found] for file, found in blobs.items()}


def list_revisions(folder: Path) -> list[Revision]:
    """Every commit that changed something below a folder, the newest first."""
    if not is_tracked(folder):
        return []
    lines = _run(folder, "log", "--format=%H%x09%as%x09%s", "--", ".").decode("utf-8", "replace").splitlines()
    return [Revision(*line.split("\t", 2)) for line in lines]


def read_history(folder: Path) -> Iterator[tuple[Revision, dict[str, bytes]]]:
    """Every revision with its files below a folder, the newest first. Equal files are read once."""
    known: dict[str, bytes] = {}
    for revision in list_revisions(folder):
        blobs = dict(_list_blobs(folder, revision.commit))
        known |= _read_blobs(folder, {b for b in blobs.values() if b not in known})
        yield revision, {file: known[found] for file, found in blobs.items()}
