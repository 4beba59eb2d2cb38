"""What the desk says before it prints: nothing that the paper does not keep, and no leap without a word."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from datetime import date

from sweep.detectors_dates import read_days
from sweep.sheets import Told


def find_promises_that_the_paper_breaks(told: Told) -> Iterator[str]:
    """Where the desk says that the first sheet says so too, the first sheet must say so."""
    for _, text in told.doubts:
        if "the first sheet says so too" in text:
            days = read_days(text)
            first = [line.text for line in told.lines if line.sheet == 1]
            if not any(set(days) & set(read_days(line)) for line in first):
                yield text


def find_stages_skipped_without_a_word(told: Told) -> Iterator[str]:
    """Whoever goes from one stage past others in a day must be doubted at the desk."""
    facts = told.facts
    order = [s.id for s in facts.stages]
    begun = [(order.index(b.stage), date.fromisoformat(b.date)) for b in facts.case.began if b.stage in order]
    for (one, _), (other, _) in itertools.pairwise(begun):
        if other - one > 1 and not any(at in ("stage", "began") or at.startswith("began") for at, _ in told.doubts):
            yield f"from {order[one]} to {order[other]}, and nothing said"
