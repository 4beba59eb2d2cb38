"""What was measured at visits: what no finger can be, and what is more often a slip than a finger. Design choices of
ours: wide enough for every finger that was hurt."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.model.case import Visit

MOST_BEND, MOST_LACK = 130.0, 110.0
"""Degrees of the middle joint (PIP) that no finger passes."""
ODD_BEND = 115.0
"""A middle joint that bends further than this is more often the sum of two joints."""
ODD_TURN, ODD_ROUND = 50.0, 8.0
"""Degrees and mm by which two visits in a row seldom differ."""


def find_impossible_angles(visit: Visit) -> Iterator[tuple[str, str]]:
    """(key, why it cannot be) of each angle of one visit."""
    bend, lack = visit.bend_degrees, visit.lack_degrees
    if bend is not None and not 0 <= bend <= MOST_BEND:
        yield "bend_degrees", f"no middle joint bends to {bend:g} degrees: it must be from 0 to {MOST_BEND:g}"
    if lack is not None and not 0 <= lack <= MOST_LACK:
        yield "lack_degrees", f"no middle joint lacks {lack:g} degrees to straight: it must be from 0 to {MOST_LACK:g}"
    elif lack is not None and bend is not None and 0 <= bend < lack:
        yield "lack_degrees", f"a joint that lacks {lack:g} degrees to straight cannot bend to only {bend:g}"


def find_odd_measures(visit: Visit, before: Visit | None) -> Iterator[tuple[str, str]]:
    """(key, what is odd) of each measure of a visit, beside the visit before it."""
    if visit.bend_degrees is not None and visit.bend_degrees > ODD_BEND:
        yield "bend_degrees", f"{visit.bend_degrees:g} degrees are more than a middle joint usually bends"
    for key, most, unit in (
        ("bend_degrees", ODD_TURN, "degrees"),
        ("lack_degrees", ODD_TURN, "degrees"),
        ("round_mm", ODD_ROUND, "mm"),
    ):
        now, then = getattr(visit, key), getattr(before, key, None)
        if now is not None and then is not None and abs(now - then) > most:
            yield key, f"{now:g} {unit} after {then:g} at the visit before"
