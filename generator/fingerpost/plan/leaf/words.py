"""The words of the trade on a leaf: explained on its back where there is room, else on a sheet that goes with it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from fingerpost.plan.base.paper import Leaf, Points, Sheet, Side
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.person.sheet_parts import word_list

APART = ("words", "sources")
"""What explains, and what is cited as it was published: neither of them asks for a word to be explained."""


def words_here(writer: Writer, *parts: Any) -> tuple[Points, ...]:
    """The trade words of these parts of a leaf in plain words; nothing where there are none."""
    listed = word_list(writer, parts)
    return (Points(heading=writer.say("leaf-words"), items=listed.items, spare=True),) if listed else ()


def explain_together(writer: Writer, leaves: tuple[Leaf, ...], sheets: tuple[Sheet, ...]) -> tuple[Sheet, ...]:
    """The sheets, with each list of words made anew: it explains what stands on the leaves and on all sheets."""
    read = tuple(replace(sheet, sections=tuple(s for s in sheet.sections if s.id not in APART)) for sheet in sheets)
    own = writer.say("leaf-words")
    listed = word_list(writer, (*(_without_list(leaf, own) for leaf in leaves), *read))
    if listed is None:
        return sheets
    return tuple(
        replace(sheet, sections=tuple(replace(s, blocks=(listed,)) if s.id == "words" else s for s in sheet.sections))
        for sheet in sheets
    )


def _without_list(leaf: Leaf, heading: str) -> Leaf:
    """A leaf without the words that it explains itself, which stand under this heading."""

    def side(one: Side) -> Side:
        kept = (block for block in one.blocks if not (isinstance(block, Points) and block.heading == heading))
        return replace(one, blocks=tuple(kept))

    return replace(leaf, front=side(leaf.front), back=side(leaf.back))
