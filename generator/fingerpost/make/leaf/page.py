"""A leaf as print HTML: fitted on two sides, or in large print as many as it takes."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from fingerpost.make.leaf.art import Studio
from fingerpost.make.leaf.layout import Laid, Setter
from fingerpost.make.leaf.settings import BACK_STEPS, FRONT_STEPS, Settings, Step
from fingerpost.model.words import Paper, PrintSize
from fingerpost.plan.base.paper import Leaf, LeafBlock, Note, Points, Rows, Side, TapeHow
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
        if isinstance(block, Note) and "note-to-back" in given:
            go.append(block)
        elif isinstance(block, Points) and block.below and "inside-to-back" in given:
            stay.append(replace(block, below=None))
            go.append(Points(heading=leaf.inside_words, below=block.below))
        else:
            stay.append(block)
    if "last-to-back" in given and isinstance(stay[-1], Points | Rows):
        go.insert(0, stay.pop())
    return stay, go


def _lay(side: Side, settings: Settings, studio: Studio) -> LaidSide:
    setter = Setter(settings, studio)
    parts = tuple(setter.lay(block) for block in side.blocks)
    help_ = setter.lay(side.help) if side.help else None
    foot = setter.text(side.foot, settings.width_mm, small=True) + setter.air if side.foot else 0.0
    taken = sum(part.height_mm for part in parts) + (help_.height_mm if help_ else 0.0) + foot
    return LaidSide(settings, parts, help_, side, settings.height_mm - taken)


def fit(leaf: Leaf, paper: Paper, print_size: PrintSize, studio: Studio) -> tuple[LaidSide, LaidSide]:
    """Front and back, with as little given way as makes each fit. Larger print is not fitted: it runs on.

    Raises TooFull, with what to shorten, where everything has given way and a side is still too full.
    """
    settings = Settings(paper=paper, print_size=print_size)
    if settings.large:
        return _lay(leaf.front, settings, studio), _lay(leaf.back, settings, studio)
    front = _fit(leaf, leaf.front, settings, FRONT_STEPS, studio, "front")
    moved = tuple(_split(leaf.front.blocks, front.settings.given, leaf)[1])
    blocks = leaf.back.blocks[:1] + moved + leaf.back.blocks[1:]
    return front, _fit(leaf, replace(leaf.back, blocks=blocks), settings, BACK_STEPS, studio, "back")


def _fit(leaf: Leaf, side: Side, settings: Settings, steps: tuple[Step, ...], studio: Studio, name: str) -> LaidSide:
    spare_mm = 0.0
    for tried in settings.give(steps):
        blocks = tuple(_split(side.blocks, tried.given, leaf)[0])
        laid = _lay(replace(side, blocks=blocks), tried, studio)
        if laid.spare_mm >= 0:
            return laid
        spare_mm = laid.spare_mm
    noted = any(isinstance(block, Note) for block in (*leaf.front.blocks, *leaf.back.blocks))
    taped = any(isinstance(block, TapeHow) and block.others for block in side.blocks)
    at, first = ("note", "Shorten the note (`note`), or ") if noted else ("print_size", "")
    at, first = (
        ("tapings", "Choose fewer of the stage's tapings (`tapings`), or ") if taped and not noted else (at, first)
    )
    raise TooFull(
        f"the {name} of the leaf is too full by {math.ceil(-spare_mm)} mm of paper",
        at,
        f"{first}{'print' if first else 'Print'} larger (`print_size`): then the leaf runs on over more sides.",
    )
