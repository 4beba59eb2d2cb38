"""A healthy finger and one that is recognised by sight: two frames of one scale."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.draw.pens.curves import heading
from fingerpost.draw.pens.svg import INK, WHITE, disc
from fingerpost.draw.props.stage import Drawn, Frame


@dataclass(frozen=True)
class LookPair:
    healthy: Frame
    sore: Frame


def ring_at(centre: complex, radius: float) -> Drawn:
    """Look here: a ring, set off from what it crosses. mm of the hand."""
    rim = tuple(centre + 1.12 * radius * heading(30 * k) for k in range(12))
    return Drawn(
        lambda place: (
            disc(place.at(centre), radius * place.scale, fill="none", stroke=WHITE, pen=3.4)
            + disc(place.at(centre), radius * place.scale, fill="none", stroke=INK, pen=1.7)
        ),
        rim,
    )
