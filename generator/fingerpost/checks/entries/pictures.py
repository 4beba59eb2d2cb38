"""Pictures: what is drawn of a place is that place, seen from outside and under the skin."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.checks.base.walk import list_entries
from fingerpost.model.library import Library
from fingerpost.model.shared import Landmark
from fingerpost.problems import Problem

# A bending tendon runs through the whole finger: it may be marked wherever it is felt. Other parts lie at one landmark.
TENDON_LANDMARKS: frozenset[Landmark] = frozenset(("dip", "middle", "proximal", "palm-tendon", "forearm"))


def find_parts_drawn_elsewhere(library: Library) -> Iterator[Problem]:
    """What a part is under the skin must lie where the hand is marked for it."""
    for entry in list_entries(library, "anatomy"):
        part = entry.value
        bends = part.kind == "tendon" and part.landmark in TENDON_LANDMARKS
        there = bends if part.inside in ("tendon", "surface-tendon") else part.inside == part.landmark
        if part.inside and not there:
            message = f"'{part.inside}' under the skin is not where the hand is marked, '{part.landmark}'"
            yield entry.problem(("inside",), message, "Leave the key out where no drawing shows this part.")
