"""The list of cases that are printed already, so that a long run can go on where it ended.

It stands beside what was printed and says nothing about anybody: a digest for each case, and the names of its files.
"""

from __future__ import annotations

from pathlib import Path

from fingerpost.files.disk import write_whole

NAME = ".printed"


class Printed:
    """The list in one folder. A case whose files are gone is not on it. A run of one case needs none (`used`)."""

    def __init__(self, folder: Path, used: bool = True) -> None:
        self.folder, self.used = folder, used
        self._begun = False
        self._files: dict[str, tuple[str, ...]] = {}
        for line in self._read().splitlines():
            key, *names = line.split("\t")
            if len(key) == 64 and all((folder / name).is_file() for name in names):
                self._files[key] = tuple(names)

    def _read(self) -> str:
        path = self.folder / NAME
        return path.read_text(encoding="utf-8", errors="replace") if path.is_file() else ""

    def find(self, key: str) -> tuple[str, ...] | None:
        """The names of the files of a case; None where it is not printed."""
        return self._files.get(key)

    def _begin(self) -> None:
        """Write the list anew, without what is gone."""
        self._begun = True
        content = "".join("\t".join((key, *names)) + "\n" for key, names in self._files.items())
        write_whole(self.folder / NAME, content.encode(), 0o600)

    def add(self, key: str, names: tuple[str, ...]) -> None:
        """Called once the files of a case are there whole. A line that was cut off is a case that is printed again."""
        if not self.used:
            return
        if not self._begun:
            self._begin()
        self._files[key] = names
        with (self.folder / NAME).open("a", encoding="utf-8") as file:
            file.write("\t".join((key, *names)) + "\n")
