"""Rows that cover every two values of any two dimensions. The same rows on every run."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any
from zlib import crc32

Row = dict[str, Any]


@dataclass
class _Cover:
    """Which pairs of values are still to be met. Every value has a number; a bit per number says with whom."""

    dimensions: Mapping[str, Sequence[Any]]
    numbers: dict[tuple[str, int], int] = field(default_factory=dict)
    open: list[int] = field(default_factory=list)

    def __post_init__(self) -> None:
        for name, values in self.dimensions.items():
            for at in range(len(values)):
                self.numbers[name, at] = len(self.numbers)
        every = (1 << len(self.numbers)) - 1
        for name, values in self.dimensions.items():
            own = sum(1 << self.numbers[name, at] for at in range(len(values)))
            self.open += [every & ~own] * len(values)

    def first(self) -> tuple[int, int] | None:
        """The first pair that is still to be met."""
        for number, wanted in enumerate(self.open):
            if wanted:
                return number, (wanted & -wanted).bit_length() - 1
        return None

    def close(self, one: int, other: int) -> None:
        self.open[one] &= ~(1 << other)
        self.open[other] &= ~(1 << one)

    def meet(self, numbers: Sequence[int]) -> None:
        mask = sum(1 << n for n in numbers)
        for number in numbers:
            self.open[number] &= ~mask


def cover_pairs(dimensions: Mapping[str, Sequence[Any]], fits: Callable[[Row], bool] = lambda row: True) -> list[Row]:
    """Rows in which every two values of any two dimensions stand together, where any row that `fits` allows it."""
    cover = _Cover(dimensions)
    names = list(dimensions)
    back = {number: key for key, number in cover.numbers.items()}
    rows: list[Row] = []
    while (pair := cover.first()) is not None:
        fixed = dict(back[number] for number in pair)
        chosen = _fill(cover, names, fixed, len(rows))
        chosen = next((c for c in _variants(dimensions, chosen, fixed) if fits(_row(dimensions, c))), None) or {}
        if not chosen:
            cover.close(*pair)
            continue
        cover.meet([cover.numbers[name, chosen[name]] for name in names])
        rows.append(_row(dimensions, chosen))
    return rows


def _row(dimensions: Mapping[str, Sequence[Any]], chosen: Mapping[str, int]) -> Row:
    return {name: dimensions[name][at] for name, at in chosen.items()}


def _fill(cover: _Cover, names: Sequence[str], fixed: Mapping[str, int], turn: int) -> dict[str, int]:
    """For every other dimension the value that meets most of what is still open; of equals now this one, now that.

    Why by a checksum of turn and name: dimensions that took turns alike would always stand in the same threes.
    """
    chosen = dict(fixed)
    mask = sum(1 << cover.numbers[key] for key in fixed.items())
    for name in names:
        if name in chosen:
            continue
        count = len(cover.dimensions[name])
        start = crc32(f"{turn} {name}".encode())
        order = [(at + start) % count for at in range(count)]
        best = max(order, key=lambda at: (mask & cover.open[cover.numbers[name, at]]).bit_count())
        chosen[name] = best
        mask |= 1 << cover.numbers[name, best]
    return {name: chosen[name] for name in names}


def _variants(
    dimensions: Mapping[str, Sequence[Any]], chosen: dict[str, int], fixed: Mapping[str, int]
) -> Iterator[dict[str, int]]:
    """The row itself, then rows that differ in one or two of its other values."""
    yield chosen
    free = [(name, at) for name, values in dimensions.items() if name not in fixed for at in range(len(values))]
    for name, at in free:
        yield chosen | {name: at}
    for place, (name, at) in enumerate(free):
        for other, where in free[place + 1 :]:
            if other != name:
                yield chosen | {name: at, other: where}
