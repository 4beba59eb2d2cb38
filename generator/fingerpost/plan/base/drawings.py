"""Find the drawings that a part of the plan asks for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fingerpost.model.grammar import is_record, parts_of
from fingerpost.plan.base.blocks import Drawing


def list_drawings(part: Any) -> Iterator[Drawing]:
    """Every drawing in a page, sheet or handout, in reading order."""
    if isinstance(part, Drawing):
        yield part
    elif isinstance(part, tuple):
        for item in part:
            yield from list_drawings(item)
    elif is_record(part):
        for _, below in parts_of(part):
            yield from list_drawings(below)
