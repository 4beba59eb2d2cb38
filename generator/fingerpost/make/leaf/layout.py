"""Where each part of a leaf stands and how high it is, in mm: what the template sets is what was reckoned here."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

from fingerpost.make.leaf.art import Art, draw_address
from fingerpost.make.leaf.laid import Laid, LaidField, PictureRow, pieces
from fingerpost.make.leaf.metrics import count_lines, width_mm
from fingerpost.make.leaf.ruler import BULLET_MM, SURE, Ruler
from fingerpost.make.leaf.settings import mm
from fingerpost.plan.base.addresses import words_of
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.paper import (
    Ahead,
    Ask,
    GripField,
    GripFields,
    Headline,
    HelpBox,
    HelpGroup,
    LeafBlock,
    Note,
    Points,
    Rows,
    Since,
    Strip,
    TapeHow,
    Ticks,
    Verdict,
    Week,
)
from fingerpost.plan.base.runs import Run, Words
from fingerpost.plan.leaf.week import LONG_WEEK

TICK_MM = 6.6
NARROW_DAY_MM = 4.9
PICTURE_MM = 16.0
"""What the picture of an exercise takes of the room for its words."""
CIRCLE_EM = (0.75, 0.52)
"""How wide a circle to tick is, in letters: in a week, in more. Two stand beside each other in the box of a day."""
BOX = "☐ "
LABEL_MM = (23.0, 28.0, 34.0, 40.0, 46.0)
"""How wide the first column of a table may be: the first of those that make it lowest is taken."""
BESIDE_TALLEST = 1.3
"""How tall a picture beside text is at the most, in its own widths."""
GUTTER_MM = 4.0
LEAST_FIELD_MM = 20.0
VISIT_MM, HAND_GAP_MM, HAND_TALLEST_MM = 42.0, 4.0, 34.0
MOST_POSTS = 3
"""How many stages stand on one leg of the path: on a second one they would be read from right to left."""


class Setter(Ruler):
    """Lays out the parts of one side."""

    days_mm = (7.8, 5.75)
    """How wide a day is in the plan, in mm: of a week, of more."""

    def lay(self, block: LeafBlock) -> Laid:
        kind = type(block).__name__.lower()
        make: Callable[[Any], Laid] = getattr(self, f"lay_{kind}")
        return make(block)

    def lay_strip(self, block: Strip) -> Laid:
        told = [words for words in (block.left, block.right) if words]
        wide = [sum(width_mm(says, self.s.small_pt, bold) for says, bold in pieces(words)) for words in told]
        stacked = sum(wide) + GUTTER_MM * (len(wide) - 1) > self.s.width_mm * SURE
        count = sum(self.lines(words, self.s.width_mm, small=True) for words in told) if stacked else 1
        height = mm(12.5 * count + 3 + 0.75) + self.air if told else 0.0
        if block.specimen:
            height += mm(14.5 + 7 + 6) + self.air
        return Laid(block, height, {"stacked": stacked})

    def lay_headline(self, block: Headline) -> Laid:
        hand = self._draw_hand(block)
        wide = self._hand_width(block, hand)
        left = wide + HAND_GAP_MM if hand else 0.0
        right = VISIT_MM + HAND_GAP_MM if block.visit else 0.0
        room = self.s.width_mm - left - right
        bar = self.studio.draw(block.bar, room) if block.bar else None
        heading = count_lines([(block.heading, True)], room * SURE, 24)
        words = heading * mm(29) + sum(self.text(line, room) for line in block.lines)
        words += bar.height_mm + mm(2) if bar else 0
        sides = [words]
        if hand:
            sides.append(hand.height_mm + mm(12.5))
        if block.visit:
            label = self.lines(block.visit.label, VISIT_MM - mm(17)) * self.leading()
            sides.append(label + max(1, len(block.visit.day)) * mm(18) + mm(14))
        height = max(sides)
        return Laid(
            block,
            height + self.air,
            {"hand": hand, "wide": wide, "bar": bar, "left": left, "right": right, "height": height},
        )

    def _draw_hand(self, block: Headline) -> Art | None:
        """The hand of the headline; with the forearm as tall as a hand, so that it leaves room for the rest."""
        if block.hand is None:
            return None
        art = self.studio.draw(block.hand)
        if art.height_mm <= HAND_TALLEST_MM:
            return art
        return self.studio.draw(block.hand, art.width_mm * HAND_TALLEST_MM / art.height_mm)

    def _hand_width(self, block: Headline, hand: Art | None) -> float:
        """As wide as the words below the hand are on one line."""
        if hand is None or block.hand is None:
            return 0.0
        says = "".join(run.text for run in block.hand.caption)
        return max(hand.width_mm, width_mm(says, self.s.small_pt, bold=True) + 0.5)

    def lay_verdict(self, block: Verdict) -> Laid:
        sign = self.studio.draw(block.sign)
        if block.halt:
            room = self.s.width_mm - sign.width_mm - 5 - mm(34)
            lines = sum(count_lines([(says, True)], room * SURE, 20) for says in block.says)
            inner = max(lines * mm(25) + mm(29), sign.height_mm + 7) - mm(10)
            at = {"sign": sign, "top": (inner - sign.height_mm) / 2}
            return Laid(block, max(lines * mm(25), sign.height_mm) + mm(29) + self.air, at)
        return Laid(block, mm(27), {"sign": sign})

    def _field_width(self, fields: Sequence[GripField]) -> list[float]:
        """How the fields share the width: a yes and an only are as wide as their pictures, the rest is for no."""
        inner = self.s.width_mm - mm(1.5) - 0.05
        if len(fields) == 1:
            return [inner]
        wanted: list[float] = []
        for one in fields[:-1]:
            count = min(len(one.pictures), 3)
            pictures = count * max([self.s.grip_mm + 3, *(self._name_width(d.caption) for d in one.pictures[:3])])
            wanted.append(
                max(pictures + 4, 50.0 if one.when else width_mm(one.heading, self.s.body_pt * 1.08, True) + 11)
            )
        over = sum(wanted) - 0.62 * self.s.width_mm
        if over > 0:
            wanted = [w * (1 - over / sum(wanted)) for w in wanted]
        return [*wanted, inner - sum(wanted)]

    def _name_width(self, name: Words) -> float:
        """The longest word of a name: names break into lines, words do not."""
        says = "".join(run.text for run in name)
        return max(width_mm(word, self.s.small_pt) for word in says.split()) + 1.5

    def _is_worded(self, one: GripField) -> bool:
        return "no-grip-pictures" in self.s.given or (one.mark == "leave" and "words-for-no" in self.s.given)

    def _pictures(self, one: GripField, room: float) -> LaidField:
        """The pictures of a field alone."""
        wide = 11.5 if one.mark == "leave" else self.s.grip_mm
        if self._is_worded(one) or not one.pictures:
            return self.text(one.names, room), [], 0.0
        least = max(wide + 1, *(self._name_width(d.caption) for d in one.pictures))
        across = max(1, min(len(one.pictures), int(room // least)))
        cell = (room - 0.1) / across
        rows: list[PictureRow] = []
        height = 0.0
        for start in range(0, len(one.pictures), across):
            row = one.pictures[start : start + across]
            tall = max(self.studio.measure(d, wide) for d in row)
            names = max(self.lines(d.caption, cell - 0.5, small=True) for d in row)
            height += tall + names * mm(11.5) + mm(2)
            rows.append((tall, [(d, wide) for d in row]))
        return height, rows, cell

    def lay_gripfields(self, block: GripFields) -> Laid:
        widths = self._field_width(block.fields)
        if "less-air" in self.s.given and len(block.fields) > 1:
            widths = self._lowest_widths(block.fields, widths)
        height = max(self._field_height(one, wide)[0] for one, wide in zip(block.fields, widths, strict=True))
        laid = []
        for one, wide in zip(block.fields, widths, strict=True):
            _, rows, cell = self._field_height(one, wide)
            drawn = [(tall, [(self.studio.draw(d, width), d.caption) for d, width in row]) for tall, row in rows]
            laid.append({"field": one, "width": wide, "rows": drawn, "cell": cell, "sign": self.studio.draw(one.sign)})
        at = {"fields": laid, "height": height, "before_last": sum(widths[:-1])}
        return Laid(block, height + mm(1.5) + self.air, at)

    def _field_height(self, one: GripField, wide_mm: float) -> LaidField:
        """As of `_pictures`, for the whole field. Many widths are tried, at each step of the ladder the same."""
        key = id(one), wide_mm, self.s.grip_mm, self.s.leading_pt, self._is_worded(one)
        if key not in self.studio.fields:
            room = wide_mm - mm(10.75) - 0.05
            height, rows, cell = self._pictures(one, room)
            head = self.lines(one.heading, room - 7, bold=True) * self.leading()
            self.studio.fields[key] = height + head + self.text(one.when, room) + mm(6), rows, cell
        return self.studio.fields[key]

    def _lowest_widths(self, fields: Sequence[GripField], usual: list[float]) -> list[float]:
        """The widths at which the tallest field is lowest, where there is no room for the usual ones."""
        inner = sum(usual)
        yes = [w for w in (usual[0], 24.0, 32.0, 44.0) if w >= LEAST_FIELD_MM] if len(fields) == 3 else [0.0]
        found = [usual]
        for first in yes:
            for share in range(30, 80, 5):
                second = (inner - first) * share / 100
                widths = [*([first] if first else []), second, inner - first - second]
                found.append(widths)

        lowest, least = usual, math.inf
        for widths in found:
            tallest = 0.0
            for one, wide in zip(fields, widths, strict=True):
                if min(widths) < LEAST_FIELD_MM or (tallest := max(tallest, self._field_height(one, wide)[0])) >= least:
                    break
            else:
                lowest, least = widths, tallest
        return lowest

    def lay_note(self, block: Note) -> Laid:
        return Laid(block, self.text(block.words, self.s.width_mm - mm(14)) + mm(8) + self.air)

    def lay_since(self, block: Since) -> Laid:
        return Laid(block, self.text(block.words, self.s.width_mm - mm(10)) + mm(4) + self.air)

    def lay_week(self, block: Week) -> Laid:
        long = len(block.days) > LONG_WEEK
        day = NARROW_DAY_MM if long and "narrow-days" in self.s.given else self.days_mm[long]
        first = self.s.width_mm - day * len(block.days)
        height = self.heading(block.heading, block.aside) + 2 * mm(12.5) + mm(4)
        drawn = []
        for row in block.rows:
            room = first - mm(8) - (PICTURE_MM if row.picture else 0)
            words = row.words if not row.cue or "no-cues" in self.s.given else (*row.words, Run(" "), *row.cue)
            art = self.studio.draw(row.picture, 14.0) if row.picture else None
            tall = max(self.text(words, room) + mm(5), self._circles(row.circles, long), 7.5 if row.written else 0)
            tall = max(tall, art.height_mm + mm(5)) if art else tall
            height += tall + mm(0.75)
            drawn.append((row, words, art))
        return Laid(block, height + self.air, {"day": day, "first": first, "rows": drawn, "long": long})

    def _circles(self, count: int, long: bool) -> float:
        """The height of the circles in the box of a day, two by two."""
        return -(-count // 2) * mm(self.s.body_pt * CIRCLE_EM[long] + 1)

    def lay_helpbox(self, block: HelpBox) -> Laid:
        room = self.s.width_mm - mm(6) - 2 * mm(8)
        title = width_mm(block.heading, self.s.body_pt * 1.25, True) + 6
        height = max(self.leading(), self.text(block.first, room - title)) + mm(4)
        first, rest = block.groups[:1], block.groups[1:]
        stacked = [self._group(group, room) for group in block.groups]
        laid, below, wide = stacked, 0, room
        if len(rest) > 1:
            wide = (room - GUTTER_MM * (len(rest) - 1)) / len(rest) - 0.1
            beside = [self._group(group, wide, (1,)) for group in rest]
            if max(tall for tall, _ in beside) <= sum(tall for tall, _ in stacked[1:]):
                laid, below = [*stacked[:1], *beside], len(rest)
        tallest = max((tall for tall, _ in laid[len(first) :]), default=0.0)
        groups = stacked[0][0] + tallest if below else sum(tall for tall, _ in laid)
        return Laid(
            block,
            height + groups + mm(6 + 12) + self.air,
            {"title": title, "groups": [at for _, at in laid], "below": below, "wide": wide},
        )

    def _group(
        self, group: HelpGroup, room: float, columns: tuple[int, ...] = (3, 2, 1)
    ) -> tuple[float, dict[str, Any]]:
        """Signs under what to do, in as many columns as make them lowest: (height, what the template needs)."""
        found: list[tuple[float, dict[str, Any]]] = []
        for across in columns:
            cell = (room - 0.1) / across
            rows = [group.signs[n : n + across] for n in range(0, len(group.signs), across)]
            tall = sum(max(self.text(sign, cell - BULLET_MM - 2) for sign in row) for row in rows)
            found.append((tall, {"group": group, "cell": cell, "across": across}))
        tall, at = min(found, key=lambda one: one[0])
        return self.text(group.heading, room, bold=True) + mm(2) + tall, at

    def _draw_beside(self, drawing: Drawing) -> Art:
        """A picture that stands beside text, smaller where it is as tall as a forearm."""
        art = self.studio.draw(drawing)
        tallest = art.width_mm * BESIDE_TALLEST
        return art if art.height_mm <= tallest else self.studio.draw(drawing, art.width_mm * tallest / art.height_mm)

    def lay_points(self, block: Points) -> Laid:
        beside = self._draw_beside(block.beside) if block.beside else None
        below = self.studio.draw(block.below) if block.below else None
        left = self.s.width_mm - (beside.width_mm + 6 if beside else 0)
        height = self.heading(block.heading, block.aside) if block.heading else 0.0
        if block.columns == 2:
            cell = (left - GUTTER_MM) / 2
            rows = [block.items[n : n + 2] for n in range(0, len(block.items), 2)]
            body = sum(max(self.text(item, cell - BULLET_MM) for item in row) + mm(2) for row in rows)
        else:
            body = self.listed(block.items, left, gap_pt=2)
        body += sum(self.text(line, left) + mm(2) for line in block.lead)
        inside = below.height_mm + mm(3) if below else 0.0
        # The space below the last line falls together with the space that follows.
        body -= mm(2) if block.columns == 1 or block.lead else 0
        stacked = body + inside
        height += max(stacked, beside.height_mm if beside else 0)
        return Laid(block, height + self.air, {"beside": beside, "below": below, "left": left})

    def lay_rows(self, block: Rows) -> Laid:
        def tall(wide: float) -> float:
            room = self.s.width_mm - wide - mm(12)
            return sum(max(self.text(words, room), self.text(label, wide - mm(12), bold=True)) for label, words in rows)

        rows = [(f"{BOX}{label}" if block.boxes else label, words) for label, words in block.rows]
        words = (word for label, _ in rows for word in label.split())
        longest = max((width_mm(word, self.s.body_pt, True) for word in words), default=0.0) + mm(12) + 0.5
        wide = min([wide for wide in LABEL_MM if wide >= longest] or LABEL_MM[-1:], key=tall)
        height = self.heading(block.heading, block.aside) + tall(wide) + mm(6) * len(rows)
        return Laid(block, height + mm(2.5) + self.air, {"label": wide})

    def lay_tapehow(self, block: TapeHow) -> Laid:
        height = self.heading(block.heading, block.aside)
        strips = self.studio.draw(block.strips) if block.strips else None
        ruler = self.studio.draw(block.ruler) if block.ruler else None
        at: dict[str, Any] = {"strips": strips, "ruler": ruler}
        if strips and ruler:
            beside = self.s.width_mm - strips.width_mm - 3
            at["beside"] = beside if beside >= ruler.width_mm else 0.0
            room = beside if at["beside"] else self.s.width_mm - ruler.width_mm - 5
            said = self.text(block.cut, room) + self.text(block.true_size, room, small=True)
            if at["beside"]:
                height += max(strips.height_mm, said + ruler.height_mm)
            else:
                height += strips.height_mm + max(said, ruler.height_mm)
        frames = tuple(one for one in (block.whole, *block.steps) if one)
        cells = max(len(frames) + (1 if block.checks else 0), 1)
        cell = self.s.width_mm / cells
        wide = min(self.s.frame_mm, cell - 2)
        at |= {"cell": cell, "frames": [(self.studio.draw(one, wide), one.caption) for one in frames]}
        tall = [art.height_mm + self.text(caption, cell - 2, small=True) for art, caption in at["frames"]]
        if block.checks:
            tall.append(self.leading() + self.listed(block.checks, cell - 1))
        height += max(tall, default=0.0) + self.air
        height += self.text(block.rule, self.s.width_mm) + self.text(block.others, self.s.width_mm)
        return Laid(block, height + self.air, at)

    def lay_ticks(self, block: Ticks) -> Laid:
        both = bool(block.you and block.clinic)
        half = (self.s.width_mm - GUTTER_MM) / 2 - 0.1 if both else self.s.width_mm
        room = half - mm(12)
        bars = self.studio.draw(block.bars, room) if block.bars else None
        yours = self.leading() + self.listed(block.you, half, TICK_MM, 2.5)
        clinic = self.leading() + self.listed(block.clinic, room, BULLET_MM, 2) + mm(6)
        if bars:
            clinic += bars.height_mm + self.text(block.bars_words, room, small=True)
        tall = max(yours if block.you else 0, clinic if block.clinic else 0)
        return Laid(
            block,
            self.heading(block.heading, block.aside) + tall + self.air,
            {"half": half, "bars": bars, "both": both},
        )

    def lay_ahead(self, block: Ahead) -> Laid:
        height = self.heading(block.heading, block.aside) + self.text(block.words, self.s.width_mm)
        drawn = block.path and len(block.rows) <= MOST_POSTS and "dates-as-table" not in self.s.given
        path = self.studio.draw(block.path, self.s.width_mm) if block.path and drawn else None
        height += path.height_mm if path else len(block.rows) * (self.leading() + mm(5.75))
        return Laid(block, height + self.air, {"path": path})

    def lay_ask(self, block: Ask) -> Laid:
        lines = min(block.lines, self.s.most_lines)
        whole = self.s.width_mm
        half = (whole - GUTTER_MM) / 2 - 0.1 if lines else whole
        code = draw_address(block.address, block.more_heading, self.s.code_mm) if block.address else None
        room = half - (code.width_mm + 2 if code else 0)
        address = words_of(block.address)
        more = self.text(block.more, room) + self.text(address, room, bold=True)
        mine = self.heading(block.heading) + lines * mm(self.s.body_pt) * 1.6 if lines else 0.0
        height = max(mine, self.heading(block.more_heading) + max(more, code.height_mm if code else 0))
        at = {"half": half, "whole": whole, "code": code, "lines": lines, "address": address}
        return Laid(block, height + self.air, at)
