"""What stands on a page or sheet: its drawings, and its words, which are runs and texts declared to be seen."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Any

from fingerpost.model.grammar import choices_of, hints_of, is_record, marks_of, parts_of, types_inside
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.runs import HEARD, SEEN, Run, Use, Words


def list_words(part: Any, *, heard: bool = False) -> Iterator[Words]:
    """Every run of words in a part of the plan, at any depth, in reading order; no id, anchor or title of a picture.

    `heard`: also what stands in for a picture, or describes a page from outside. Raises TypeError for a text whose use
    no field declares.
    """
    found: list[Words] = []
    _collect(part, Any, (SEEN, HEARD) if heard else (SEEN,), found)
    return iter(found)


def list_marks(part: Any) -> Iterator[Run]:
    """The marks of figures in a part of the plan, each as often as it stands there."""
    return (run for words in list_words(part) for run in words if run.kind == "mark")


def _collect(value: Any, hint: Any, wanted: Collection[Use], found: list[Words]) -> None:
    if isinstance(value, str):
        if value and _use_of(hint) in wanted:
            found.append((Run(value),))
    elif isinstance(value, tuple) and value and all(isinstance(run, Run) for run in value):
        found.append(value)
    elif isinstance(value, tuple):
        for item, of_item in zip(value, _hints_of_items(value, hint), strict=True):
            _collect(item, of_item, wanted, found)
    elif is_record(value):
        kind: Any = type(value)
        for name, of_field in hints_of(kind).items():
            _collect(getattr(value, name), of_field, wanted, found)


def _hints_of_items(value: tuple[Any, ...], hint: Any) -> tuple[Any, ...]:
    inner = types_inside(hint)
    if not inner or inner[-1] is Ellipsis:
        return (inner[0] if inner else Any,) * len(value)
    return inner


def _use_of(hint: Any) -> Use | None:
    """What a text is for; None for a word from a closed set."""
    if choices_of(hint):
        return None
    for use in marks_of(hint):
        if isinstance(use, Use):
            return use
    inner = [part for part in types_inside(hint) if part is not type(None)]
    if len(inner) != 1:
        raise TypeError(f"no field says what a text is for: {hint}")
    return _use_of(inner[0])


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
