"""Put the entries of two lists side by side: by their ids, or by how alike they are where they have none."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from typing import Generic, TypeVar

T = TypeVar("T")
ALIKE = 0.5


@dataclass(frozen=True)
class Pair(Generic[T]):
    """An entry before and now, with its number in the new list; what is gone has the number -1."""

    old: T | None
    new: T | None
    number: int = -1


def _number(keys: Iterable[Hashable]) -> list[tuple[Hashable, int]]:
    """Each key with how often it stood before."""
    seen: Counter[Hashable] = Counter()
    numbered = []
    for key in keys:
        numbered.append((key, seen[key]))
        seen[key] += 1
    return numbered


def pair_by(key: Callable[[T], Hashable], old: Sequence[T], new: Sequence[T]) -> Iterator[Pair[T]]:
    """What is gone first, in the old order; then every new entry with its old one, in the new order.

    Entries with the same key are paired in their order.
    """
    before = dict(zip(_number(map(key, old)), old, strict=True))
    now = dict(zip(_number(map(key, new)), new, strict=True))
    yield from (Pair(entry, None) for at, entry in before.items() if at not in now)
    yield from (Pair(before.get(at), entry, number) for number, (at, entry) in enumerate(now.items()))


def is_reordered(old: Sequence[Hashable], new: Sequence[Hashable]) -> bool:
    """Whether the entries that both lists have stand in another order."""
    both = set(old) & set(new)
    return [entry for entry in old if entry in both] != [entry for entry in new if entry in both]


def pair_alike(old: Sequence[str], new: Sequence[str]) -> Iterator[Pair[str]]:
    """Texts without ids: equal ones first, then those that share half of their letters, then what is left."""
    left = [text for text in old if text not in new]
    partner: dict[int, str] = {}
    open_ = [number for number, text in enumerate(new) if text not in old]
    for number in open_:
        near = max(left, key=lambda text: SequenceMatcher(None, text, new[number], False).ratio(), default=None)
        if near is not None and SequenceMatcher(None, near, new[number], False).ratio() >= ALIKE:
            partner[number] = near
            left.remove(near)
    yield from (Pair(text, None) for text in left)
    for number, text in enumerate(new):
        yield Pair(partner.get(number) if number in open_ else text, text, number)
