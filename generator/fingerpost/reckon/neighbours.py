"""Which finger to buddy-tape to, by finger, side and rule.

Fingers run from the thumb: index, middle, ring, little. Radial is the thumb's side, ulnar the little finger's, on
either hand; so nothing here depends on left or right. Source: common practice, and textbook anatomy for the muscles.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fingerpost.model.shared import BuddyRule
from fingerpost.model.words import FINGERS, Finger, Side

Reason = Literal[
    "closes-the-injured-side", "only-the-thumb-on-that-side", "nothing-on-that-side", "one-muscle-belly", "next-to-it"
]  # fmt: skip

# The partner that keeps a finger from being loaded while its neighbour is tucked. The deep flexors of middle, ring and
# little come from one belly, and the two-headed lumbricals arise between middle and ring, and between ring and little:
# so the tendons that a lumbrical hangs from must travel together. The index has a belly of its own, and one neighbour.
_STRONGER: dict[Finger, tuple[Finger, Reason]] = {
    "index": ("middle", "next-to-it"),
    "middle": ("ring", "one-muscle-belly"),
    "ring": ("middle", "one-muscle-belly"),
    "little": ("ring", "one-muscle-belly"),
}


@dataclass(frozen=True)
class Buddy:
    """The finger to tape to, why that one, and whether it is a second choice (the side itself stays unprotected)."""

    finger: Finger
    partner: Finger
    reason: Reason

    @property
    def second_choice(self) -> bool:
        """The rule's own choice does not exist, so the tape steadies the finger but does not close the injured side."""
        return self.reason in ("only-the-thumb-on-that-side", "nothing-on-that-side")


def list_neighbours(finger: Finger) -> tuple[Finger, ...]:
    """The fingers beside one, thumb side first. The thumb does not count: it cannot be a buddy."""
    at = FINGERS.index(finger)
    return tuple(FINGERS[beside] for beside in (at - 1, at + 1) if 0 <= beside < len(FINGERS))


def choose_buddy(finger: Finger, rule: BuddyRule, side: Side | None = None) -> Buddy | None:
    """The finger to buddy-tape to, or None where the rule is 'none'.

    'injured-side': radial injury, the neighbour on the thumb's side; ulnar, the one on the little finger's side.
    'stronger': the neighbour whose tendon must travel with this one. Raises ValueError where the side is missing.
    """
    if rule == "none":
        return None
    if rule == "stronger":
        return Buddy(finger, *_STRONGER[finger])
    if side is None:
        raise ValueError("buddy taping on the injured side needs the side: it must be radial or ulnar")
    beside = FINGERS.index(finger) + (-1 if side == "radial" else 1)
    if 0 <= beside < len(FINGERS):
        return Buddy(finger, FINGERS[beside], "closes-the-injured-side")
    reason: Reason = "only-the-thumb-on-that-side" if side == "radial" else "nothing-on-that-side"
    return Buddy(finger, list_neighbours(finger)[0], reason)
