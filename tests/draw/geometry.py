"""What a drawing is measured with."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from math import atan2, pi

from fingerpost.draw.pens.curves import meet


def crossings(points: Sequence[complex]) -> list[complex]:
    """Where an open chain of points cuts itself. Stretches are met from left to right, and only with near ones."""
    pairs = enumerate(pairwise(points))
    stretches = sorted((min(a.real, b.real), max(a.real, b.real), i, a, b) for i, (a, b) in pairs)
    found: list[complex] = []
    open_now: list[tuple[float, int, complex, complex]] = []
    for left, right, i, a, b in stretches:
        open_now = [other for other in open_now if other[0] >= left]
        for _, j, c, d in open_now:
            low, high = min(a.imag, b.imag), max(a.imag, b.imag)
            near = abs(i - j) > 1 and max(c.imag, d.imag) >= low and min(c.imag, d.imag) <= high
            hit = meet(a, b, c, d) if near else None
            if hit is not None:
                found.append(hit)
        open_now.append((right, i, a, b))
    return found


def angle_between(a: complex, b: complex) -> float:
    """Degrees from direction a to direction b, between -180 and 180."""
    turn = b / a
    return atan2(turn.imag, turn.real) * 180 / pi


def points_of(data: str) -> list[complex]:
    """The end points of a path's commands (M, L, C, Q, A, Z; all absolute)."""
    found = []
    for command, rest in re.findall(r"([MLCQAZ])([^MLCQAZ]*)", data):
        numbers = [float(n) for n in rest.split()]
        step = {"M": 2, "L": 2, "C": 6, "Q": 4, "A": 7, "Z": 1}[command]
        for k in range(0, len(numbers), step):
            found.append(complex(numbers[k + step - 2], numbers[k + step - 1]))
    return found
