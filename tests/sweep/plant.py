"""Ways to plant a mistake in planned sheets, for specimens that a detector must catch."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from fingerpost.model.grammar import is_record, parts_of
from fingerpost.model.library import Library
from fingerpost.plan.base.blocks import Block, Bullets, Drawing, Paragraph, Section
from fingerpost.plan.base.paper import Ahead, Handout, Sheet, Side
from fingerpost.plan.base.runs import text
from sweep.cases import ENCLOSURES, Chosen, make_case
from sweep.run import read_shipped
from sweep.sheets import Told, find_section, tell, with_parts

Plant = Callable[[Told], Told]
USUAL: Mapping[str, Any] = {
    "step": ("II", "easy-climbing"),
    "finger": "ring",
    "place": "a2-pulley",
    "age": "adult",
    "hand": "left",
    "side": None,
    "allergy": False,
    "visit": "later",
    "strength": "none",
    "share": False,
    "enclose": ENCLOSURES,
}


@dataclass(frozen=True)
class Specimen:
    """A mistake. `row`: whose sheets; `before`: what is done to them first; `library`: what is done to what we say."""

    plant: Plant
    protocol: str = "pulley"
    row: Mapping[str, Any] | None = None
    before: Plant = lambda told: told
    library: Callable[[Library], Library] | None = None


@lru_cache(maxsize=1)
def shipped() -> Library:
    return read_shipped()


def usual(specimen: Specimen, library: Library) -> Told:
    """The sheets before anything is planted."""
    protocol = library.find_protocol(specimen.protocol)
    assert protocol is not None
    return specimen.before(tell(library, make_case(library, Chosen(protocol, {**USUAL, **(specimen.row or {})}))))


# ------------------------------------------------------------------ whole sheets


def bare(told: Told) -> Told:
    """The same person with one sheet that says nothing, so that only what is planted can be caught."""
    sheet = Sheet(number=1, name="about", title="A sheet", under_title=(), lead=(), beside=(), sections=())
    handout = replace(told.handout, title="Sheets", head="", foot="", notes="", leaves=(), sheets=(sheet,))
    return with_parts(told, handout=handout, coach=None, events=(), calendar="", doubts=())


def with_section(told: Told, id: str, *blocks: Block, heading: str = "Part", sheet: int = 1) -> Told:
    """A section, or more blocks in it where it stands already."""
    found = find_section(told.handout, id)
    if found:
        return _with_sections(told, found[0], lambda s: replace(s, blocks=(*s.blocks, *blocks)) if s.id == id else s)
    own = Section(id=id, heading=heading, blocks=blocks)
    sheets = tuple(replace(s, sections=(*s.sections, own)) if s.number == sheet else s for s in told.handout.sheets)
    return with_parts(told, handout=replace(told.handout, sheets=sheets))


def without_section(told: Told, id: str) -> Told:
    sheets = tuple(replace(s, sections=tuple(p for p in s.sections if p.id != id)) for s in told.handout.sheets)
    return with_parts(told, handout=replace(told.handout, sheets=sheets))


def _with_sections(told: Told, sheet: Sheet, change: Callable[[Section], Section]) -> Told:
    changed = replace(sheet, sections=tuple(change(s) for s in sheet.sections))
    return with_handout(told, lambda handout: _swap(handout, sheet, changed))


def _swap(handout: Handout, old: Sheet, new: Sheet) -> Handout:
    return replace(handout, sheets=tuple(new if s is old else s for s in handout.sheets))


def with_handout(told: Told, change: Callable[[Handout], Handout]) -> Told:
    return with_parts(told, handout=change(told.handout))


def with_front(told: Told, change: Callable[[Side], Side]) -> Told:
    """The same with another front of the leaf."""
    assert told.leaf
    leaf = replace(told.leaf, front=change(told.leaf.front))
    return with_handout(told, lambda handout: replace(handout, leaves=(leaf,)))


def with_block(told: Told, kind: type, change: Callable[[Any], Any]) -> Told:
    """The same with every part of the leaf of a kind changed."""
    assert told.leaf
    assert any(True for _ in told.leaf_blocks(kind))

    def side(one: Side) -> Side:
        return replace(one, blocks=tuple(change(b) if isinstance(b, kind) else b for b in one.blocks))

    leaf = replace(told.leaf, front=side(told.leaf.front), back=side(told.leaf.back))
    return with_handout(told, lambda handout: replace(handout, leaves=(leaf,)))


def without_words_on_tape(told: Told) -> Told:
    """The way back without what stands below it."""
    return with_block(told, Ahead, lambda block: replace(block, words=()))


def with_under_title(told: Told, says: str) -> Told:
    first, *others = told.handout.sheets
    first = replace(first, under_title=(*first.under_title, text(says)))
    return with_handout(told, lambda handout: replace(handout, sheets=(first, *others)))


# ------------------------------------------------------------------ blocks


def paragraph(says: str) -> Paragraph:
    return Paragraph(words=text(says))


def items(*says: str) -> Bullets:
    return Bullets(items=tuple(text(s) for s in says))


def saying(says: str, section: str = "day", sheet: int = 1) -> Plant:
    """Plant one text in a section."""
    return lambda told: with_section(told, section, paragraph(says), sheet=sheet)


def listing(*says: str, section: str) -> Plant:
    """Plant items of a list in a section."""
    return lambda told: with_section(told, section, items(*says))


def both(*plants: Plant) -> Plant:
    def plant(told: Told) -> Told:
        for one in plants:
            told = one(told)
        return told

    return plant


# ------------------------------------------------------------------ pictures


def with_picture(kind: type, **changed: Any) -> Plant:
    """Change the first picture of a kind, wherever it stands: leaf or enclosure."""

    def plant(told: Told) -> Told:
        done: list[Drawing] = []

        def change(part: Any) -> Any:
            if isinstance(part, Drawing):
                if done or not isinstance(part.picture, kind):
                    return part
                done.append(part)
                return replace(part, picture=replace(part.picture, **changed))
            if isinstance(part, tuple):
                return tuple(change(item) for item in part)
            if is_record(part):
                return replace(part, **{name: change(below) for name, below in parts_of(part)})
            return part

        handout = change(told.handout)
        assert done, f"no {kind.__name__} to change"
        return with_parts(told, handout=handout)

    return plant


def drawing(picture: Any) -> Drawing:
    return Drawing(name="planted", picture=picture, caption=())
