"""One difference in meaning between two collections, and which way it leans."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Literal

from fingerpost.model.library import Path

# less-cautious: it lets a reader do more, sooner or with less care; more-cautious: the other way round;
# to-judge: it says something else, and which way that leans only a reviewer can tell;
# follows: it is the sum of other differences; wording: the same said otherwise, or in another order.
Lean = Literal["less-cautious", "more-cautious", "to-judge", "follows", "wording"]
LEANS: tuple[Lean, ...] = ("less-cautious", "more-cautious", "to-judge", "follows", "wording")
CAUTION: dict[int, Lean] = {-1: "less-cautious", 0: "to-judge", 1: "more-cautious"}


@dataclass(frozen=True, kw_only=True)
class Difference:
    """What is otherwise, as half a sentence after the place it is at.

    `about`: the id of a condition, or 'gates/full-fist' for a shared entry. `where`: the place in words, '' for the
    whole. `path`: the same place in the new file, or what is left of it. `source`: a source that the new value cites
    and the old one did not; `asked`: the value has a key for its source, so that no other source can stand for it.
    """

    lean: Lean
    what: str
    about: str = ""
    where: str = ""
    path: Path = ()
    source: str = ""
    asked: bool = False

    def __str__(self) -> str:
        return f"{self.where}: {self.what}" if self.where else self.what


def place(found: Iterable[Difference], where: str, *path: str | int) -> Iterator[Difference]:
    """The same differences, seen from one level further out."""
    for difference in found:
        inner = f"{where}, {difference.where}" if difference.where else where
        yield replace(difference, where=inner, path=(*path, *difference.path))


def name(found: Iterable[Difference], about: str) -> Iterator[Difference]:
    """The same differences with what they are about."""
    return (replace(difference, about=about) for difference in found)


def weigh(less: bool, more: bool) -> Lean:
    """The lean of something that became less cautious, more cautious, both or neither."""
    return CAUTION[int(more) - int(less)]


def weigh_all(leans: Iterable[Lean]) -> Lean | None:
    """The lean of the whole: the one that most needs a look. None when there is nothing."""
    found = set(leans)
    return next((lean for lean in LEANS if lean in found and lean != "follows"), None)
