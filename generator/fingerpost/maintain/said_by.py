"""Which places of the program name a phrase: as a whole, or put together, as in f"finger-{finger}"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

DESK = "desk-"
"""What the desk's form and scripts leave out of the phrases that they name."""

_NAME = re.compile(r"[\"'`]([a-z0-9-]+)(?=[\"'`$])")
_BUILT = re.compile(r"f[\"']((?:[a-z0-9-]|\{[^}\n]*\})+)[\"']")
_HOLE = re.compile(r"\{[^}]*\}")


@dataclass(frozen=True)
class Namings:
    """Every name in the program with its places, 'file:line', and every pattern by which names are put together."""

    whole: Mapping[str, list[str]]
    built: tuple[tuple[re.Pattern[str], str], ...]

    def find(self, phrase: str) -> list[str]:
        """Where a phrase is named as a whole; if nowhere, where it could be put together."""
        return self.whole.get(phrase) or [place for pattern, place in self.built if pattern.fullmatch(phrase)]


def list_sources(project: Path) -> dict[str, str]:
    """The text of every file of the program that names phrases, by its place below the project."""
    kinds = ("generator/**/*.py", "templates/desk/*.html", "site_overrides/assets/desk/*.js")
    paths = (path for kind in kinds for path in sorted(project.glob(kind)))
    return {path.relative_to(project).as_posix(): path.read_text("utf-8") for path in paths}


def _place(name: str, text: str, at: int) -> str:
    return f"{name}:{text.count(chr(10), 0, at) + 1}"


def _list_built(sources: Mapping[str, str]) -> Iterator[tuple[re.Pattern[str], str]]:
    """What is put together of letters of its own and others; on the desk, what only begins a name."""
    for name, text in sources.items():
        for made in (_BUILT if name.endswith(".py") else _NAME).finditer(text):
            shape = "[a-z0-9-]+".join(_HOLE.split(made[1]))
            if not name.endswith(".py"):
                shape = f"{DESK}{made[1]}[a-z0-9-]+" if made[1].endswith("-") else ""
            if re.search("[a-z]", _HOLE.sub("", made[1])) and shape:
                yield re.compile(shape), _place(name, text, made.start())


def list_namings(sources: Mapping[str, str]) -> Namings:
    """Look through all sources once."""
    whole: dict[str, list[str]] = {}
    for name, text in sources.items():
        for made in _NAME.finditer(text):
            called = made[1] if name.endswith(".py") else f"{DESK}{made[1]}"
            whole.setdefault(called, []).append(_place(name, text, made.start()))
    return Namings(whole, tuple(_list_built(sources)))
