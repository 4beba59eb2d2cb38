"""For whom something is meant: texts in pieces, and what is used for some readers only."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from fingerpost.changes.compare.difference import Difference, Lean, place, weigh
from fingerpost.changes.compare.pairs import is_reordered, pair_by
from fingerpost.changes.compare.texts import compare_text, compare_texts, quote
from fingerpost.model.audience import EVERYBODY, For, Said, Told
from fingerpost.model.grammar import key_of, parts_of


def say_for(meant: For) -> str:
    """Who is meant, in short: 'grade I or II, under-18'."""
    if meant == EVERYBODY:
        return "everybody"
    said = []
    for field, value in parts_of(meant):
        key = key_of(field).replace("_", " ")
        if value in ((), None):
            continue
        if isinstance(value, tuple):
            said.append(f"{key} {' or '.join(value)}")
        else:
            said.append(f"{'' if value else 'not '}{key}" if isinstance(value, bool) else f"{key} {value}")
    return ", ".join(said)


def _drops(old: Any, new: Any) -> bool:
    """Whether somebody whom one key let in is not let in any more."""
    if isinstance(new, tuple):
        return bool(new) and (not old or not set(old) <= set(new))
    return new is not None and new != old


def compare_reach(old: For, new: For) -> tuple[bool, bool]:
    """(whether fewer are meant, whether more are meant). Both where some come and others go."""
    both = [(asked, getattr(new, key)) for key, asked in parts_of(old)]
    return any(_drops(was, now) for was, now in both), any(_drops(now, was) for was, now in both)


def _pieces(told: Told | None, meant: For) -> str:
    return " ".join(piece.says for piece in told or () if piece.for_ == meant)


def _where(found: Iterator[Difference], meant: For) -> Iterator[Difference]:
    return found if meant == EVERYBODY else place(found, f"for {say_for(meant)}")


def compare_told(old: Told | None, new: Told | None, guards: bool = False) -> Iterator[Difference]:
    """A text, for each reader with what was meant for the same reader before."""
    for meant in dict.fromkeys(piece.for_ for piece in (*(old or ()), *(new or ()))):
        before, now = _pieces(old, meant), _pieces(new, meant)
        if before and now:
            yield from _where(compare_text(before, now, guards), meant)
        elif now:
            lean: Lean = "more-cautious" if guards else "to-judge"
            yield Difference(lean=lean, what=f"new for {say_for(meant)}: {quote(now)}")
        else:
            lean = "less-cautious" if guards else "to-judge"
            yield Difference(lean=lean, what=f"gone for {say_for(meant)}: {quote(before)}")


def compare_items(old: Sequence[Said], new: Sequence[Said], guards: bool = False) -> Iterator[Difference]:
    """A list of texts, those for the same readers with each other."""
    for meant in dict.fromkeys(item.for_ for item in (*old, *new)):
        at = [number for number, item in enumerate(new) if item.for_ == meant]
        before, now = ([item.says for item in items if item.for_ == meant] for items in (old, new))
        for found in compare_texts(before, now, guards):
            path = (at[int(found.path[0])], *found.path[1:]) if found.path else ()
            where = "" if meant == EVERYBODY else f"for {say_for(meant)}"
            yield dataclasses.replace(found, path=path, where=", ".join(w for w in (where, found.where) if w))


def compare_uses(
    key: str, gone: Lean, added: Lean, narrower: Lean = "less-cautious"
) -> Callable[[Sequence[Any], Sequence[Any]], Iterator[Difference]]:
    """A way for what is named by one key for some readers. `narrower`: what it means that fewer are meant."""

    def compare(old: Sequence[Any], new: Sequence[Any]) -> Iterator[Difference]:
        names = [[getattr(use, key) for use in uses] for uses in (old, new)]
        for pair in pair_by(lambda use: getattr(use, key), old, new):
            path = (pair.number,) if pair.new else ()
            if pair.old and pair.new and pair.old.for_ != pair.new.for_:
                fewer, more = compare_reach(pair.old.for_, pair.new.for_)
                if narrower == "more-cautious":
                    fewer, more = more, fewer
                who = f"is for {say_for(pair.new.for_)}, was for {say_for(pair.old.for_)}"
                yield Difference(lean=weigh(fewer, more), what=f"{names[1][pair.number]} {who}", path=path)
            elif pair.new and not pair.old:
                who = "" if pair.new.for_ == EVERYBODY else f", for {say_for(pair.new.for_)}"
                yield Difference(lean=added, what=f"{names[1][pair.number]} is new{who}", path=path)
            elif pair.old and not pair.new:
                yield Difference(lean=gone, what=f"{getattr(pair.old, key)} is gone")
        if is_reordered(*names):
            yield Difference(lean="wording", what="the same in another order")

    return compare
