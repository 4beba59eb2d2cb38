"""The files of a collection as texts, not yet read as anything."""

from __future__ import annotations

from pathlib import Path


def list_content(folder: Path) -> list[Path]:
    """Every YAML file of a collection, in the order in which it is read."""
    return [path for part in ("", "refer", "shared") for path in sorted((folder / part).glob("*.yml"))]


def read_as_it_is(path: Path) -> str:
    """A file as it is, its line ends too. What is not UTF-8 is another check's finding."""
    return path.read_bytes().decode("utf-8", "replace")


def read_texts(folder: Path) -> dict[str, str]:
    """The text of each file of a collection, by its place below the folder."""
    return {path.relative_to(folder).as_posix(): read_as_it_is(path) for path in list_content(folder)}
