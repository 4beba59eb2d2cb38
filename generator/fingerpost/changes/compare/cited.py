"""Where figures are from, and whether that is new."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from fingerpost.changes.compare.difference import Difference
from fingerpost.model.audience import MARK
from fingerpost.model.words import UNSOURCED


def list_marks(text: str) -> tuple[str, ...]:
    """Where the figures of a text are from, in order."""
    return tuple(found["source"] for found in MARK.finditer(" ".join(text.split())))


def published(source: str) -> str:
    """A source that is more than a habit or a choice of ours; '' for these."""
    return "" if source.split(" ")[0] in UNSOURCED else source


def new_source(old: Sequence[str], new: Sequence[str]) -> str:
    """The first source that is cited now and was not before; '' if there is none. What is unsourced does not count."""
    before = {mark.split(" ")[0] for mark in old}
    return next((mark for mark in new if mark.split(" ")[0] not in before and published(mark)), "")


def compare_source(old: str, new: str) -> Iterator[Difference]:
    """Where a figure is from."""
    if old != new:
        what = f"the figure is now from {new}, was from {old}"
        yield Difference(lean="to-judge", what=what, source=published(new), asked=True)
