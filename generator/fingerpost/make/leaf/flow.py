"""A leaf in large print: one column that runs on, in its order. Nothing stands beside anything but a short pair."""

from __future__ import annotations

from typing import Any

from fingerpost.make.leaf.art import LETTERS_PT, Art, draw_address
from fingerpost.make.leaf.laid import Laid
from fingerpost.make.leaf.layout import Setter
from fingerpost.make.leaf.metrics import width_mm
from fingerpost.make.leaf.settings import mm
from fingerpost.model.masses import UNITS
from fingerpost.model.words import PrintSize
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.paper import (
    Ahead,
    Ask,
    GripField,
    GripFields,
    Headline,
    HelpBox,
    Points,
    Rows,
    Strip,
    TapeHow,
    Ticks,
    Verdict,
    Week,
)
from fingerpost.plan.base.pictures import RulerPicture, StripPicture
from fingerpost.plan.base.runs import Run, Words

# A grid of days, and grips as pictures, have room up to this size; in larger print both are told in words.
PICTURED_PT = 14
FRAMES: dict[PrintSize, tuple[int, float]] = {14: (4, 33.0), 18: (3, 50.0), 24: (3, 44.0)}
"""How many pictures of a taping stand side by side, and how wide each is at the most, in mm."""
HAND_MM, GRIP_MM, CODE_MM = 28.0, 16.0, 34.0
WIDER = 1.25
DAY_MM = 16.0
HALF, MOST_MOVED = 0.5, 0.62
"""Of a page: a box or a picture that is kept whole moves to the next page, and a higher one would leave most of the one
before it white. Such a box is torn between its lines, such a picture is made smaller.
A leaf for anybody is read through, and its box may be torn sooner than that of somebody who needs it at night."""


def split_load(words: Words) -> tuple[Words, Words, Words]:
    """What stands before the load, the load, and what comes after it; where nothing is lifted, all stands before.

    A comma behind the load goes with it: apart from it, an engine breaks the line between them.
    """
    for at, run in enumerate(words):
        if run.kind == "strong" and run.text.removesuffix(",").endswith(UNITS):
            return words[:at], (run,), words[at + 1 :]
    return words, (), ()


class Flow(Setter):
    """Draws what a part needs in large print. Only of the box with the warning signs the height is reckoned: a box that
    has room on one page is not torn."""

    days_mm = (9.4, 6.9)

    @property
    def pictured(self) -> bool:
        return self.s.print_size <= PICTURED_PT

    def sign(self, drawing: Drawing, ems: float) -> Art:
        """A sign as large as the words beside it."""
        return self.studio.draw(drawing, mm(self.s.body_pt * ems))

    def wide(self, drawing: Drawing | None, times: float = 1.0) -> Art | None:
        """A picture larger than at 12 points, and never wider than the column; without a width, as wide as it is."""
        if drawing is None:
            return None
        across, most = (
            min((drawing.width_mm or self.s.width_mm) * times, self.s.width_mm),
            self.s.height_mm * MOST_MOVED,
        )
        art = self.studio.draw(drawing, across)
        return art if art.height_mm <= most else self.studio.draw(drawing, across * most / art.height_mm)

    def true_size(self, drawing: Drawing) -> Art:
        """At true size, with its figures as large as there is room for beside it."""
        picture = drawing.picture
        assert isinstance(picture, StripPicture | RulerPicture)
        fits = (pt for pt in (18.0, 16.0, 14.0, 12.0) if pt <= self.s.small_pt)
        letters = next((pt for pt in fits if picture.needed_mm(pt) <= self.s.width_mm), LETTERS_PT)
        return self.studio.draw(drawing, true_letters_pt=letters)

    def lay_strip(self, block: Strip) -> Laid:
        return Laid(block, 0.0)

    def lay_headline(self, block: Headline) -> Laid:
        hand, room = None, 0.0
        if block.hand:
            hand = self.studio.draw(block.hand, HAND_MM)
            told = width_mm("".join(run.text for run in block.hand.caption), self.s.small_pt, bold=True)
            room = max(hand.width_mm, told) + 1
        return Laid(block, 0.0, {"hand": hand, "hand_room": room, "bar": self.wide(block.bar)})

    def lay_verdict(self, block: Verdict) -> Laid:
        return Laid(block, 0.0, {"sign": self.sign(block.sign, 2.4 if block.halt else 1.4)})

    def lay_gripfields(self, block: GripFields) -> Laid:
        laid = [{"field": one, "sign": self.sign(one.sign, 1.15), **self._grips(one)} for one in block.fields]
        return Laid(block, 0.0, {"fields": laid})

    def _grips(self, one: GripField) -> dict[str, Any]:
        """Grips as pictures, or by name: what is a no, what several conditions name, and all in larger print."""
        named = any(run.kind == "strong" for run in one.when)
        if not one.pictures or not self.pictured or named or one.mark == "leave":
            words = one.when if named else (*one.names, Run(" "), *one.when) if one.when else one.names
            return {"cell": 0.0, "pictures": [], "words": words}
        cell = max(GRIP_MM + 2, *(self._name_width(drawing.caption) for drawing in one.pictures))
        drawn = [(self.studio.draw(drawing, GRIP_MM), drawing.caption) for drawing in one.pictures]
        tallest = max(art.height_mm for art, _ in drawn)
        pictures = [(art, name, tallest - art.height_mm) for art, name in drawn]
        return {"cell": cell, "pictures": pictures, "words": one.when}

    def lay_week(self, block: Week) -> Laid:
        if self.pictured:
            return super().lay_week(block)
        told = ((*row.words, Run(" "), *row.cue) if row.cue else row.words for row in block.rows if not row.written)
        done = [split_load(words) for words in told]
        written = [row.words for row in block.rows if row.written]
        across = min(DAY_MM * len(block.days), self.s.width_mm - 0.1)
        return Laid(block, 0.0, {"done": done, "written": written, "across": across})

    def lay_helpbox(self, block: HelpBox) -> Laid:
        room = self.s.width_mm - mm(6) - 2 * mm(8)
        height = self.leading() * 1.25 + self.text(block.first, room) + mm(6 + 12 + 8)
        for group in block.groups:
            height += self.text(group.heading, room, bold=True) + mm(4) + self.listed(group.signs, room, self.hang)
        return Laid(block, height, {"whole": height <= self.s.height_mm * (HALF if self.s.for_anybody else MOST_MOVED)})

    @property
    def hang(self) -> float:
        """How far the words of a list stand in, in mm."""
        return mm(self.s.body_pt)

    def lay_points(self, block: Points) -> Laid:
        """The picture with names in it grows with the letters, which need the room."""
        grown = self.s.print_size / 12
        return Laid(block, 0.0, {"beside": self.wide(block.beside, grown), "below": self.wide(block.below, WIDER)})

    def lay_rows(self, block: Rows) -> Laid:
        return Laid(block, 0.0)

    def lay_tapehow(self, block: TapeHow) -> Laid:
        across, widest = FRAMES[self.s.print_size]
        cell = (self.s.width_mm - 0.1) / across
        wide = min(widest, cell - 3)
        frames = [(self.studio.draw(one, wide), one.caption) for one in (block.whole, *block.steps) if one]
        strips, ruler = (self.true_size(one) if one else None for one in (block.strips, block.ruler))
        return Laid(block, 0.0, {"frames": frames, "cell": cell - 3, "strips": strips, "ruler": ruler})

    def lay_ticks(self, block: Ticks) -> Laid:
        room = self.s.width_mm - mm(16)
        return Laid(block, 0.0, {"bars": self.studio.draw(block.bars, room) if block.bars else None})

    def lay_ahead(self, block: Ahead) -> Laid:
        return Laid(block, 0.0)

    def lay_ask(self, block: Ask) -> Laid:
        code = draw_address(block.address, block.more_heading, CODE_MM) if block.address else None
        return Laid(block, 0.0, {"code": code, "lines": block.lines, "address": block.address.partition("://")[2]})
