"""A leaf as print HTML: fitted on two sides, or in large print as many as it takes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from fingerpost.make.leaf.art import Studio
from fingerpost.make.leaf.flow import Flow
from fingerpost.make.leaf.laid import Laid
from fingerpost.make.leaf.layout import Setter
from fingerpost.make.leaf.settings import BACK_STEPS, DAYS_OF_A_WEEK, FRONT_STEPS, Settings, Step
from fingerpost.model.words import Paper, PrintSize
from fingerpost.plan.base.paper import (
    Ahead,
    Headline,
    Leaf,
    LeafBlock,
    Note,
    Points,
    Side,
    Since,
    Strip,
    TapeHow,
    Week,
)
from fingerpost.plan.base.pictures import PathPicture
from fingerpost.plan.leaf.week import LONG_WEEK
from fingerpost.problems import MakeError


class TooFull(MakeError):
    """A side of a leaf has no room for all that the case puts on it. `at`: the key of the case that gives most room."""

    def __init__(self, says: str, at: str, hint: str) -> None:
        super().__init__(f"{says}. {hint}")
        self.says, self.at, self.hint = says, at, hint


@dataclass(frozen=True)
class LaidSide:
    """One side as it is set: its parts from the top, the box at its foot, and how much room is left in mm."""

    settings: Settings
    parts: tuple[Laid, ...]
    help: Laid | None
    side: Side
    spare_mm: float


def _split(
    blocks: tuple[LeafBlock, ...], given: tuple[Step, ...], leaf: Leaf
) -> tuple[list[LeafBlock], list[LeafBlock]]:
    """(what stays on the front, what goes to the back) once some steps were taken."""
    stay: list[LeafBlock] = []
    go: list[LeafBlock] = []
    for block in blocks:
        if isinstance(block, Points) and block.beside and "no-hand" in given:
            block = replace(block, beside=None)
        if isinstance(block, Points) and block.below and "no-inside" in given:
            block = replace(block, below=None)
        if isinstance(block, Week) and "no-movements" in given:
            block = replace(block, rows=tuple(replace(row, picture=None) for row in block.rows))
        if isinstance(block, Week) and "no-aside" in given:
            block = replace(block, aside=())
        if isinstance(block, Week) and "one-week" in given:
            block = replace(block, days=block.days[:DAYS_OF_A_WEEK])
        if isinstance(block, Headline) and "no-sore-spot" in given:
            block = replace(block, hand=None)
        if isinstance(block, Points) and _is_left_out(block, given):
            continue
        if isinstance(block, Since) and "no-since" in given:
            continue
        if (
            (isinstance(block, Note) and "note-to-back" in given)
            or (isinstance(block, Since) and "since-to-back" in given)
            or (isinstance(block, Points) and not block.heading and block.items and "daily-to-back" in given)
        ):
            go.append(block)
        elif isinstance(block, Points) and block.below and "inside-to-back" in given:
            if block.lead or block.items:
                stay.append(replace(block, below=None))
            go.append(block if block.spare else Points(heading=leaf.inside_words, below=block.below))
        else:
            stay.append(block)
    if "last-to-back" in given and isinstance(stay[-1], Points):
        go.insert(0, stay.pop())
    return stay, go


def _is_left_out(block: Points, given: tuple[Step, ...]) -> bool:
    """Whether nothing of a part is left, or only what may stay out where there is no room."""
    if block.spare:
        return ("no-looks" if block.below else "no-words") in given
    if block.columns == 2:
        return "no-questions" in given
    return not (block.lead or block.items or block.below)


def _lay(side: Side, settings: Settings, studio: Studio) -> LaidSide:
    setter = Setter(settings, studio)
    parts = tuple(setter.lay(block) for block in side.blocks)
    help_ = setter.lay(side.help) if side.help else None
    foot = setter.text(side.foot, settings.width_mm, small=True) + setter.air if side.foot else 0.0
    taken = sum(part.height_mm for part in parts) + (help_.height_mm if help_ else 0.0) + foot
    return LaidSide(settings, parts, help_, side, settings.height_mm - taken)


def _run_on(leaf: Leaf, settings: Settings, studio: Studio) -> tuple[LaidSide, LaidSide]:
    """Both sides one after the other. The back begins in the middle of a page: its strip would say nothing there."""
    flow = Flow(settings, studio)
    sides = (
        leaf.front,
        replace(leaf.back, blocks=tuple(block for block in leaf.back.blocks if not isinstance(block, Strip))),
    )
    front, back = (
        LaidSide(settings, tuple(map(flow.lay, side.blocks)), flow.lay(side.help) if side.help else None, side, 0.0)
        for side in sides
    )
    return front, back


def fit(leaf: Leaf, paper: Paper, print_size: PrintSize, studio: Studio) -> tuple[LaidSide, LaidSide]:
    """Front and back, with as little given way as makes each fit. Larger print is not fitted: it runs on.

    Raises TooFull, with what to shorten, where everything has given way and a side is still too full.
    """
    unchecked = any(isinstance(block, Strip) and block.specimen for block in leaf.front.blocks)
    anybody = leaf.kind in ("general", "referral")
    settings = Settings(paper=paper, print_size=print_size, unchecked=unchecked, for_anybody=anybody)
    if settings.large:
        return _run_on(leaf, settings, studio)
    front = _fit(leaf, leaf.front, settings, FRONT_STEPS, studio, "front")
    moved = tuple(_split(leaf.front.blocks, front.settings.given, leaf)[1])
    blocks = leaf.back.blocks[:1] + moved + leaf.back.blocks[1:]
    return front, _fit(leaf, replace(leaf.back, blocks=blocks), settings, BACK_STEPS, studio, "back")


def _take_back(laid: LaidSide, lay: Callable[[tuple[Step, ...]], LaidSide]) -> LaidSide:
    """The same side with what need not have given way: a late step may have made room enough for an earlier one."""
    for step in reversed(laid.settings.given[:-1]):
        tried = lay(tuple(s for s in laid.settings.given if s != step))
        if tried.spare_mm >= 0:
            laid = tried
    return laid


def _fit(leaf: Leaf, side: Side, settings: Settings, steps: tuple[Step, ...], studio: Studio, name: str) -> LaidSide:

    def lay(given: tuple[Step, ...]) -> LaidSide:
        blocks = tuple(_split(side.blocks, given, leaf)[0])
        return _lay(replace(side, blocks=blocks), replace(settings, given=given), studio)

    spare_mm = 0.0
    for tried in settings.give(steps):
        laid = lay(tried.given)
        if laid.spare_mm >= 0:
            return _take_back(laid, lay)
        spare_mm = laid.spare_mm
    ways = tuple(_list_ways_out(leaf, settings.paper, moved=name == "front"))
    says = ", or ".join(f"{words} (`{field}`)" for field, words in ways)
    reason = f"the {name} of the leaf is too full by {math.ceil(-spare_mm)} mm of paper"
    raise TooFull(reason, ways[0][0], f"{says[0].upper()}{says[1:]}.")


def _has_flags(block: Ahead) -> bool:
    return bool(block.path and isinstance(block.path.picture, PathPicture) and block.path.picture.flags)


def _list_ways_out(leaf: Leaf, paper: Paper, moved: bool) -> Iterator[tuple[str, str]]:
    """(key of the case, what makes room) in this very case.

    `moved`: the front is too full though all that can go has gone to the back.
    """
    blocks = (*leaf.front.blocks, *leaf.back.blocks)
    if not moved and any(isinstance(block, Note) for block in blocks):
        yield "note", "shorten the note"
    if not moved and any(isinstance(block, TapeHow) and block.others for block in blocks):
        yield "tapings", "print fewer of the stage's tapings"
    if not moved and any(isinstance(block, Ahead) and _has_flags(block) for block in blocks):
        yield "important_dates", "name fewer important dates"
    if moved and any(isinstance(block, Week) and len(block.days) > LONG_WEEK for block in blocks):
        yield "review_date", f"book the next visit within {LONG_WEEK} days"
    if paper == "Letter":
        yield "paper", "print it on A4"
    yield "print_size", "print it larger (14): then it runs on over more sides"
