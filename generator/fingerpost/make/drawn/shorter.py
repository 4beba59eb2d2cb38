"""The lines of a drawing in fewer letters: each point by how far it is from the one before. It stays the same drawing.

Why: on a page most letters are those of drawings, and they come over the air to somebody who waits with a sore finger.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

_DATA = re.compile(r' d="(M[^"]*)"')
_PIECE = re.compile(r"([MLCAZ])|(-?(?:\d+\.?\d*|\.\d+))")
_LEFT = re.compile(r"[^MLCAZ0-9.\s-]")
_COUNTS = {"M": 2, "L": 2, "C": 6, "A": 7, "Z": 1}
_PARTS = 1000
"""Sums are made in thousandths, so that they are exact."""


def shorten_lines(svg: str) -> str:
    """The same drawing with shorter lines. A line with a command that our pens do not write stays as it is."""
    return _DATA.sub(lambda found: f' d="{_shorten(found[1])}"', svg)


def _shorten(data: str) -> str:
    if _LEFT.search(data):
        return data
    words: list[str] = []
    before, at, start = "", (0, 0), (0, 0)
    for letter, numbers in _list_commands(data):
        if letter == "Z":
            words, before, at = [*words, "z"], "z", start
        for first in range(0, len(numbers), _COUNTS[letter]):
            group = numbers[first : first + _COUNTS[letter]]
            name = "l" if letter == "M" and first else letter.lower()
            words += [name] if name != before or name == "m" else []
            words += map(_spell, _move(name, group, at))
            before, at = name, (group[-2], group[-1])
            start = at if name == "m" else start
    return "".join(_set_apart(words))


def _list_commands(data: str) -> list[tuple[str, list[int]]]:
    """Each letter with its numbers, in thousandths."""
    commands: list[tuple[str, list[int]]] = []
    for letter, number in _PIECE.findall(data):
        if letter:
            commands.append((letter, []))
        else:
            commands[-1][1].append(round(float(number) * _PARTS))
    return commands


def _move(name: str, group: list[int], at: tuple[int, int]) -> list[int]:
    """The numbers of one command, its points as distances. An arc begins with radii, a turn and two switches."""
    kept = 5 if name == "a" else 0
    return [*group[:kept], *(number - at[n % 2] for n, number in enumerate(group[kept:]))]


def _spell(number: int) -> str:
    """A number without what goes without saying: '-.5', '3'."""
    sign, number = ("-", -number) if number < 0 else ("", number)
    whole, parts = divmod(number, _PARTS)
    after = f".{parts:03}".rstrip("0") if parts else ""
    return f"{sign}{whole or ''}{after}" if after else f"{sign}{whole}"


def _set_apart(words: list[str]) -> Iterator[str]:
    """The words, with a blank only where two numbers would run into one."""
    before = "m"
    for word in words:
        runs_on = before.isalpha() or word.isalpha() or word[0] == "-" or (word[0] == "." and "." in before)
        yield word if runs_on else f" {word}"
        before = word
