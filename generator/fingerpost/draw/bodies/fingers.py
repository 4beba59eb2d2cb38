"""A finger of the open hand as a soft centre line with a width: everything on a finger is placed along it."""

from __future__ import annotations

from bisect import bisect_right
from functools import cache

from fingerpost.draw.bodies.proportions import SHAPES, WIDTHS, FingerShape
from fingerpost.draw.pens.curves import heading, smooth
from fingerpost.model.words import FINGERS, Finger

STEP = 0.25
Spreads = tuple[float, float, float, float]
"""Degrees from the long axis of the hand, ulnar positive: index, middle, ring, little."""

RELAXED: Spreads = (-6.5, -0.5, 6.0, 15.5)
_BUDDIES: dict[frozenset[Finger], Spreads] = {
    frozenset(("index", "middle")): (-3.0, 0.2, 6.5, 15.5),
    frozenset(("middle", "ring")): (-7.0, 0.0, 3.2, 13.5),
    frozenset(("ring", "little")): (-6.5, -0.5, 4.5, 8.2),
}


def spreads_for(pairs: tuple[frozenset[Finger], ...]) -> Spreads:
    """The relaxed hand, or one with two fingers beside each other (3 degrees apart; closer, the outlines touch)."""
    for pair in pairs:
        if pair in _BUDDIES:
            return _BUDDIES[pair]
    return RELAXED


class FingerLine:
    """Centre line and half width of one finger, by the length `a` in mm from the MCP centre.

    `at(a, side)`: `side` in mm to the ulnar side. Below 0 the line goes straight back into the palm.
    """

    def __init__(self, shape: FingerShape, spread: float) -> None:
        self.shape = shape
        self.l1, self.l2, self.l3 = shape.lengths
        self.total = self.l1 + self.l2 + self.l3
        self._spread = spread
        self._points = [shape.mcp]
        for k in range(int(self.total / STEP) + 1):
            self._points.append(self._points[-1] + STEP * self.along((k + 0.5) * STEP))
        self._stops = [self.from_share(*row[:2]) for row in WIDTHS]
        self._halves = [row[2] * shape.half for row in WIDTHS]

    def from_share(self, segment: int, share: float) -> float:
        """Length from the MCP centre of a place given as a share of segment 1, 2 or 3."""
        return (0.0, self.l1, self.l1 + self.l2)[segment - 1] + share * (self.l1, self.l2, self.l3)[segment - 1]

    def along(self, a: float) -> complex:
        """Unit vector to the tip: the finger bends softly at its two joints."""
        first, second = self.shape.bends
        turn = first * smooth((a - self.l1 + 7) / 14) + second * smooth((a - self.l1 - self.l2 + 6) / 12)
        return heading(90 + self._spread + turn)

    def at(self, a: float, side: float = 0.0) -> complex:
        return self._centre(a) + side * 1j * self.along(a)

    def _centre(self, a: float) -> complex:
        if a <= 0:
            return self.shape.mcp + a * self.along(0)
        k = min(int(a / STEP), len(self._points) - 2)
        return self._points[k] + (a - k * STEP) * self.along(a)

    def half(self, a: float) -> float:
        """Half width in mm, straight between the places of the table."""
        if a <= 0:
            return self._halves[0]
        if a >= self._stops[-1]:
            return 0.0
        k = bisect_right(self._stops, a) - 1
        low, high = self._stops[k], self._stops[k + 1]
        return self._halves[k] + (self._halves[k + 1] - self._halves[k]) * (a - low) / (high - low)

    @property
    def stations(self) -> list[tuple[float, float]]:
        """(length, half width) of the table, without the tip."""
        return list(zip(self._stops[:-1], self._halves[:-1], strict=True))

    def length_at_height(self, y: float) -> float:
        """The length at which the centre line reaches the height y of the hand frame."""
        low, high = 0.0, self.total
        for _ in range(30):
            mid = (low + high) / 2
            low, high = (mid, high) if self.at(mid).imag < y else (low, mid)
        return low


Hand4 = dict[Finger, FingerLine]


@cache
def lay_fingers(spreads: Spreads = RELAXED) -> Hand4:
    """All four fingers at given spreads."""
    return {finger: FingerLine(SHAPES[finger], spread) for finger, spread in zip(FINGERS, spreads, strict=True)}
