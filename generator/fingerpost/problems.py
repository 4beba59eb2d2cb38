"""One finding about what somebody wrote, and how it prints."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches

# Signs that cannot be seen, turn the direction of text, or make a terminal do something.
_UNSEEN = re.compile("[\\x00-\\x1f\\x7f-\\x9f\\u200b-\\u200f\\u2028-\\u202e\\u2060-\\u206f\\ufeff\\ud800-\\udfff]")


def show(text: str) -> str:
    """A text that may come from anywhere, as it can be printed: what cannot be seen is told by its number."""
    return _UNSEEN.sub(lambda found: f"\\u{ord(found.group()):04x}", text)


@dataclass(frozen=True, order=True)
class Place:
    """Where something was written.

    `file` as the reader knows it (relative where possible), `line` from 1 (0: the file as a whole),
    `path` as a reader would say it, e.g. ``stages[2].gate``.
    """

    file: str
    line: int = 0
    path: str = ""

    def __str__(self) -> str:
        parts = [f"{self.file}:{self.line}" if self.line else self.file]
        if self.path:
            parts.append(self.path)
        return ": ".join(parts)


@dataclass(frozen=True, order=True)
class Problem:
    """One finding: what must hold at a place, and a way out."""

    place: Place
    message: str
    hint: str = ""
    rule: str = ""

    def __str__(self) -> str:
        text = show(f"{self.place}: {self.message}")
        return f"{text}\n    {show(self.hint)}" if self.hint else text


class ContentError(Exception):
    """Content cannot be used. Carries every finding, in file order."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(set(problems)))
        super().__init__(count_problems(self.problems))


class MakeError(Exception):
    """Something could not be made. What was there before is untouched."""


def count_problems(problems: Iterable[Problem]) -> str:
    """Say how many problems there are, in words that can end a report."""
    number = len(tuple(problems))
    return "no problems" if number == 0 else f"{number} problem{'s' if number > 1 else ''}"


def suggest(wrong: str, right: Iterable[str]) -> str:
    """Offer the nearest right answer as a sentence, or nothing when none is near."""
    near = get_close_matches(wrong, list(right), n=1, cutoff=0.6)
    return f"Did you mean '{near[0]}'?" if near else ""


def write_path(path: Iterable[str | int]) -> str:
    """Write ``("stages", 2, "gate")`` as ``stages[2].gate``."""
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step}]"
        else:
            text += f".{step}" if text else step
    return text
