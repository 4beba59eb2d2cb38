"""What readers see otherwise: pages and sheets compared line by line, equal changes told once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher

Lines = tuple[str, ...]


@dataclass(frozen=True)
class View:
    """A page or a set of sheets as text. `name`: its address, or what the sheets are called. Each line has its part."""

    name: str
    lines: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Hunk:
    """Lines that gave way to others, with every place where that is to be seen."""

    gone: Lines
    come: Lines
    places: tuple[str, ...]


@dataclass(frozen=True)
class Sight:
    """All that readers see otherwise: whole pages and sheets that came or went, and changes on the others."""

    gone: tuple[str, ...]
    come: tuple[str, ...]
    hunks: tuple[Hunk, ...]
    changed: tuple[str, ...]


def _place(name: str, part: str) -> str:
    if not part:
        return name
    return f"{name}#{part}" if name.startswith("/") else f"{name}, {part}"


def _hunks(old: View, new: View) -> Iterator[tuple[Lines, Lines, str]]:
    """(lines gone, lines come, place) of each stretch that differs."""
    before, now = [line for _, line in old.lines], [line for _, line in new.lines]
    for kind, a, b, c, d in SequenceMatcher(None, before, now, False).get_opcodes():
        if kind != "equal":
            part = new.lines[c][0] if c < d else old.lines[a][0]
            yield tuple(before[a:b]), tuple(now[c:d]), _place(new.name, part)


def compare_views(old: Iterable[View], new: Sequence[View]) -> Sight:
    """Compare pages and sheets of the same name. Lines that change alike in several places make one hunk."""
    before = {view.name: view for view in old}
    names = {view.name for view in new}
    found: dict[tuple[Lines, Lines], list[str]] = {}
    changed = []
    for view in new:
        if view.name in before and before[view.name].lines != view.lines:
            changed.append(view.name)
            for gone, come, place in _hunks(before[view.name], view):
                places = found.setdefault((gone, come), [])
                places += [place] if place not in places else []
    return Sight(
        gone=tuple(name for name in before if name not in names),
        come=tuple(view.name for view in new if view.name not in before),
        hunks=tuple(Hunk(gone, come, tuple(places)) for (gone, come), places in found.items()),
        changed=tuple(changed),
    )


def focus(old: str, new: str, around: int = 40) -> tuple[str, str]:
    """Two long lines cut to where they differ, with some words around."""
    if max(len(old), len(new)) <= 3 * around:
        return old, new
    size = min(len(old), len(new))
    start = next((n for n in range(size) if old[n] != new[n]), size)
    end = next((n for n in range(size - start) if old[-1 - n] != new[-1 - n]), size - start)
    return _cut(old, start - around, len(old) - end + around), _cut(new, start - around, len(new) - end + around)


def _cut(line: str, start: int, end: int) -> str:
    """A stretch of a line, from the start of a word to the end of one."""
    first = line.find(" ", start) + 1 if start > 0 else 0
    last = line.rfind(" ", 0, end) if end < len(line) else len(line)
    return ("… " if first else "") + line[first : max(last, first)] + (" …" if last < len(line) else "")
