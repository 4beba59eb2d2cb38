"""What a part of a leaf is once it is laid: the part, its height, and the numbers that the template needs."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from fingerpost.make.leaf.metrics import Piece, bind
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.paper import LeafBlock
from fingerpost.plan.base.runs import Words

BLANK = "_" * 18  # as wide as it is drawn, or wider


@dataclass(frozen=True)
class Laid:
    """A part with its height in mm and the numbers and pictures that the template needs."""

    block: LeafBlock
    height_mm: float
    at: dict[str, Any] = field(default_factory=dict)

    @property
    def kind(self) -> str:
        return type(self.block).__name__.lower()


PictureRow = tuple[float, list[tuple[Drawing, float]]]
"""Pictures beside each other, each with its width: how tall the tallest is, in mm."""
LaidField = tuple[float, list[PictureRow], float]
"""A field of grips: its height, its rows of pictures, and the width of a cell, in mm."""


def pieces(words: Words, bold: bool = False) -> list[Piece]:
    """Words as stretches of text, as they print: a blank to write on is as wide as it is drawn."""
    return [(BLANK if run.kind == "blank" else bind(run.text), bold or run.kind == "strong") for run in words]
