"""Until when a finger is taped: as published, and for a while after full climbing, however late that comes.

The published times carry their own sources. The least time of taping after full climbing is a design choice.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from fingerpost.model.times import Span, add_days, add_span
from fingerpost.reckon.why import ARITHMETIC, Why

# Full climbing is the most that the finger has met, so the weeks after it are no time to take the tape off.
TAPING_AFTER_WEEKS = 4


@dataclass(frozen=True)
class TapingEnd:
    """When taping ends. `held_back`: full climbing comes so late that taping goes on beyond the published end."""

    day: date
    published: date
    held_back: bool
    why: Why


def find_taping_end(
    anchor: date, span: Span, full_span: Span, full_climbing: date | None, source: str = ARITHMETIC
) -> TapingEnd:
    """The end of taping: anchor + span as published, and as long after the real full climbing as published.

    `full_span`: full climbing as published; the gap between the two is at least 4 weeks, which is a design choice.
    """
    published = add_span(anchor, span)
    gap = max((published - add_span(anchor, full_span)).days, TAPING_AFTER_WEEKS * 7)
    day = max(published, add_days(full_climbing, gap)) if full_climbing else published
    inputs = (
        ("anchor", str(anchor)),
        ("span", str(span)),
        ("full climbing as published", str(full_span)),
        ("gap", f"{gap} days"),
        ("usual day of full climbing", str(full_climbing or "none")),
    )
    formula = (
        "the later of anchor + span and the usual day of full climbing + gap; gap = (anchor + span) minus "
        "(anchor + full climbing as published), at least 28 days"
    )
    return TapingEnd(day, published, day > published, Why("end of taping", str(day), formula, inputs, source))
