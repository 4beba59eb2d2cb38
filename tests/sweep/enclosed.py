"""A sheet that is enclosed with a leaf as blocks, each in the section that it stands for: tape as its taping."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fingerpost.plan.base.blocks import Block, Gallery
from fingerpost.plan.base.paper import Sheet

_LEADS = {"exercises": "exercises", "diary": "diary", "grips": "grips"}
_TAPE_PARTS = frozenset({"lead", "tape-steps", "tape-check"})


def find_subject(known: Mapping[str, str], sheet: Sheet, section: str, block: Block | None = None) -> str:
    """What a part of an enclosure is about: the lead of a sheet of exercises is no background, as its steps are not."""
    if sheet.name == "tape" and section in _TAPE_PARTS:
        return f"tape-{known[sheet.title]}"
    if sheet.name == "grips" and isinstance(block, Gallery):
        return "grip-pictures"
    return _LEADS.get(sheet.name, section) if section == "lead" else section


def list_blocks(known: Mapping[str, str], sheet: Sheet) -> Iterator[tuple[str, Block]]:
    """Each block of an enclosure with what it is about, from top to bottom."""
    parts = [("lead", sheet.lead), ("beside", sheet.beside), *((s.id, s.blocks) for s in sheet.sections)]
    return ((find_subject(known, sheet, id, block), block) for id, blocks in parts for block in blocks)
