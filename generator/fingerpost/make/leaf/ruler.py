"""How high text is on a leaf, in mm: what every part of it rests on."""

from __future__ import annotations

from collections.abc import Sequence

from fingerpost.make.leaf.art import Studio
from fingerpost.make.leaf.laid import pieces
from fingerpost.make.leaf.metrics import Piece, count_lines, fill_lines
from fingerpost.make.leaf.settings import Settings, mm
from fingerpost.plan.base.runs import Words

BULLET_MM = 4.2
# Room for what the sums leave out, as a share of the width: rounding in an engine, and letters that are not kerned.
SURE = 0.995


class Ruler:
    """Measures the text of one side."""

    def __init__(self, settings: Settings, studio: Studio) -> None:
        self.s = settings
        self.studio = studio

    def lines(self, words: Words | str, room_mm: float, small: bool = False, bold: bool = False) -> int:
        size_pt = self.s.small_pt if small else self.s.body_pt
        return sum(fill_lines(stretch, room_mm * SURE, size_pt) for stretch in self.studio.weigh(words, bold))

    def text(self, words: Words | str, room_mm: float, small: bool = False, bold: bool = False) -> float:
        """The height in mm of a paragraph."""
        return self.lines(words, room_mm, small, bold) * self.leading(small)

    def leading(self, small: bool = False) -> float:
        return mm(12.5 if small else self.s.leading_pt)

    @property
    def air(self) -> float:
        return mm(self.s.air_pt)

    def heading(self, says: str, aside: Words | str = "") -> float:
        """A heading under its rule, with what runs on behind it."""
        told: list[Piece] = [(f"{says} ", True)]
        told += [(aside, False)] if isinstance(aside, str) else pieces(aside)
        count = count_lines(told, self.s.width_mm * SURE, self.s.body_pt * 1.1)
        return mm(1.5) + self.air + count * self.leading() + mm(2)

    def listed(self, items: Sequence[Words], room_mm: float, hang_mm: float = BULLET_MM, gap_pt: float = 0) -> float:
        return sum(self.text(item, room_mm - hang_mm) + mm(gap_pt) for item in items)
