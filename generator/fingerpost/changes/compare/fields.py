"""Compare two values of one class key by key, as their types say; some keys have a way of their own."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from typing import Any

from fingerpost.changes.compare.audience import compare_items, compare_told, say_for
from fingerpost.changes.compare.difference import Difference, Lean, place, weigh
from fingerpost.changes.compare.pairs import is_reordered, pair_by
from fingerpost.changes.compare.texts import compare_line, compare_text, compare_texts
from fingerpost.model.audience import For, Said, is_told
from fingerpost.model.grammar import hints_of, is_record, key_of, parts_of, shape_of
from fingerpost.model.words import LINE_SHAPE, TEXT_SHAPE

Way = Callable[[Any, Any], Iterator[Difference]]


def say(value: Any) -> str:
    """A value in short, as half a sentence needs it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, tuple):
        return ", ".join(map(say, value)) or "none"
    if is_record(value):
        return "; ".join(f"{field.replace('_', ' ')}: {say(part)}" for field, part in parts_of(value))
    return "none" if value is None else str(value)


def guarding(compare: Callable[..., Iterator[Difference]]) -> Way:
    """A way for what guards readers: less of it is less cautious."""
    return lambda old, new: compare(old, new, guards=True)


def compare_value(old: Any, new: Any) -> Iterator[Difference]:
    """A value as a whole. Which way it leans is for a reviewer."""
    if old != new:
        yield Difference(lean="to-judge", what=f"{say(new)} now, was {say(old)}")


def compare_order(order: Sequence[str], cautious: bool = True) -> Way:
    """A way for a value of an ordered set. `cautious`: what stands later is more cautious."""

    def compare(old: str, new: str) -> Iterator[Difference]:
        step = (order.index(new) - order.index(old)) * (1 if cautious else -1)
        yield Difference(lean=weigh(step < 0, step > 0), what=f"{new} now, was {old}")

    return compare


def compare_ids(gone: Lean = "to-judge", added: Lean = "to-judge") -> Way:
    """A way for a list of ids, whose order readers see and whose meaning it is not."""

    def compare(old: tuple[str, ...], new: tuple[str, ...]) -> Iterator[Difference]:
        yield from (Difference(lean=gone, what=f"{i} is gone") for i in old if i not in new)
        yield from (Difference(lean=added, what=f"{i} is new", path=(n,)) for n, i in enumerate(new) if i not in old)
        if is_reordered(old, new):
            yield Difference(lean="wording", what="the same in another order")

    return compare


def _compare_by_type(old: Any, new: Any, hint: Any) -> Iterator[Difference]:
    shape = shape_of(hint)
    if isinstance(old, str) and isinstance(new, str) and shape is TEXT_SHAPE:
        return compare_text(old, new)
    if isinstance(new or old, str) and shape in (TEXT_SHAPE, LINE_SHAPE):
        return compare_line(old, new)
    if _are_pieces(old or new):
        return compare_told(old, new) if is_told(hint) else compare_items(old, new)
    if isinstance(old, For) and isinstance(new, For):
        return compare_value(say_for(old), say_for(new))
    if isinstance(old, tuple) and isinstance(new, tuple) and _are_words(old) and _are_words(new):
        return compare_texts(old, new) if shape in (TEXT_SHAPE, LINE_SHAPE) else compare_ids()(old, new)
    if is_record(old) and type(old) is type(new):
        return compare_fields(old, new)
    return compare_value(old, new)


def _are_pieces(values: Any) -> bool:
    return isinstance(values, tuple) and bool(values) and isinstance(values[0], Said)


def _are_words(values: tuple[Hashable, ...]) -> bool:
    return all(isinstance(value, str) for value in values)


def compare_fields(
    old: Any, new: Any, ways: Mapping[str, Way] | None = None, placed: Mapping[str, Way] | None = None
) -> Iterator[Difference]:
    """Every key that two values share and that is otherwise, but for the id.

    `ways`: keys that are compared in a way of their own; `placed`: those whose differences know their place already.
    """
    kind: Any = type(new)
    hints = hints_of(kind)
    for name in (n for n in hints if n != "id" and hasattr(old, n)):
        before, now = getattr(old, name), getattr(new, name)
        if before == now:
            continue
        if placed and name in placed:
            yield from placed[name](before, now)
            continue
        way = (ways or {}).get(name)
        found = way(before, now) if way else _compare_by_type(before, now, hints[name])
        yield from place(found, key_of(name).replace("_", " "), key_of(name))


def compare_parts(key: str, ways: Mapping[str, Way] | None, gone: Lean = "to-judge", added: Lean = "to-judge") -> Way:
    """A way for a list of values of one class that one key tells apart."""

    def compare(old: tuple[Any, ...], new: tuple[Any, ...]) -> Iterator[Difference]:
        for pair in pair_by(lambda part: getattr(part, key), old, new):
            called = say(getattr(pair.new or pair.old, key))
            if pair.old and pair.new:
                yield from place(compare_fields(pair.old, pair.new, ways), called, pair.number)
            elif pair.new:
                yield Difference(lean=added, what=f"{called} is new", path=(pair.number,))
            else:
                yield Difference(lean=gone, what=f"{called} is gone")
        if is_reordered([getattr(p, key) for p in old], [getattr(p, key) for p in new]):
            yield Difference(lean="wording", what="the same in another order")

    return compare
