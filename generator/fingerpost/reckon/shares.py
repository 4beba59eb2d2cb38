"""How fingers share a load, and what is left when one is spared.

Shares are percent of the whole hand's force. Mean of healthy adults gripping a handle as hard as they can, Li 2002,
J Hand Surg 27A:886 (abstract read): index 32.2, middle 32.6, ring 23.5, little 11.7 (SD 3.8, 4.3, 4.5, 4.9). No such
table is known for climbing holds, only an order (Sports Technol 2012 5:151, abstract read).
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Literal

from fingerpost.model.shared import Neighbours
from fingerpost.model.words import FINGERS, Finger

SHARES_PERCENT: Mapping[Finger, float] = {"index": 32.2, "middle": 32.6, "ring": 23.5, "little": 11.7}
SHARES_SD_PERCENT: Mapping[Finger, float] = {"index": 3.8, "middle": 4.3, "ring": 4.5, "little": 4.9}
# Who takes most, by grip; fingers in one group could not be told apart.
CRIMP_ORDER: tuple[tuple[Finger, ...], ...] = (("index",), ("middle",), ("ring",), ("little",))
OPEN_ORDER: tuple[tuple[Finger, ...], ...] = (("middle",), ("index", "ring"), ("little",))

Caution = Literal["tucked-neighbours-make-it-pull-harder", "one-finger-takes-all"]


@dataclass(frozen=True)
class Sharing:
    """How a load is shared by the fingers in use, in whole percent that sum to 100, thumb side first.

    `left_percent`: what the hand can still hold if each finger in use does no more than before, in percent of all four
    fingers. `extra_percent`: by how much more each finger in use is loaded because one is spared, if the hand holds as
    much as before. `cautions` are for words: the neighbour effect is not known well enough for a number.
    """

    shares_percent: tuple[tuple[Finger, int], ...]
    left_percent: int
    extra_percent: int = 0
    cautions: tuple[Caution, ...] = ()

    def of(self, finger: Finger) -> int:
        """The share of one finger in percent; 0 if it is not in use."""
        return dict(self.shares_percent).get(finger, 0)


def share_load(
    fingers: Collection[Finger],
    neighbours: Neighbours = "together",
    spared: Finger | None = None,
) -> Sharing:
    """Share a load between the fingers in use: share = own share / sum of the shares in use.

    `spared` is taken out first. `neighbours` says what the fingers that are not in use do. No gain from tucked
    neighbours is added (Schweizer 2001 shows the effect; its size is second-hand). Raises ValueError when no finger is
    left.
    """
    used = [finger for finger in FINGERS if finger in fingers and finger != spared]
    if not used:
        raise ValueError("no finger is left to take the load")
    total = sum(SHARES_PERCENT[finger] for finger in used)
    before = sum(SHARES_PERCENT[finger] for finger in set(fingers))
    whole = _round_to_hundred([SHARES_PERCENT[finger] * 100 / total for finger in used])
    cautions: list[Caution] = []
    if neighbours == "tucked" and len(used) < len(FINGERS):
        cautions.append("tucked-neighbours-make-it-pull-harder")
    if len(used) == 1:
        cautions.append("one-finger-takes-all")
    extra = round(round((before / total - 1) * 100, 6))
    return Sharing(tuple(zip(used, whole, strict=True)), int(round(total, 6)), extra, tuple(cautions))


def _round_to_hundred(shares: list[float]) -> list[int]:
    """Round percentages to whole numbers that still sum to 100: the largest remainders are rounded up."""
    whole = [int(round(share, 6)) for share in shares]
    order = sorted(range(len(shares)), key=lambda at: (-round(shares[at] - whole[at], 6), at))
    for at in order[: 100 - sum(whole)]:
        whole[at] += 1
    return whole
