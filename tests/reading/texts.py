"""The running text of the plan: what is read as sentences, on pages and on sheets.

Left out, as Flesch's method does: headings, titles and captions, tables, lists of sources, codes and names, and lists
that are only links. Words in brackets at the end of a figure, which say where it is from, are left out too.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from fingerpost.plan.base.blocks import (
    Beside,
    Block,
    Box,
    Bullets,
    Diary,
    Flags,
    Folds,
    Gallery,
    GripList,
    Page,
    Paragraph,
)
from fingerpost.plan.base.paper import (
    Ahead,
    Ask,
    GripFields,
    Handout,
    Headline,
    Leaf,
    LeafBlock,
    Note,
    Strip,
    Ticks,
    Week,
)
from fingerpost.plan.base.runs import Run, Words, plain
from fingerpost.plan.base.visible import list_drawings, list_words

# Things to look up and not to read on: the sources of a page, its codes, and the other names of an injury.
_LOOKED_UP = {"sources"}
_CODES = "status"
_SOURCES = "sources"
_INJURIES = {"protocol", "referral"}


@dataclass(frozen=True)
class Reading:
    """The running text of one page or handout."""

    name: str
    texts: tuple[str, ...]


def _say(words: Words) -> str:
    """The words as they are read: without marks, and without a label that ends with a colon."""
    runs = [r for r in words if r.kind != "mark"]
    if len(runs) > 1 and runs[0].kind == "strong" and runs[0].text.rstrip().endswith(":"):
        runs = runs[1:]
    return "".join(". " if r.kind == "break" else r.text for r in runs).strip()


def _is_only_links(words: Words) -> bool:
    """A link, perhaps with another name in brackets."""
    return all(r.kind == "link" or re.fullmatch(r"\s*(\(.*\))?\s*", r.text) for r in words)


def list_running(block: Block) -> Iterator[str]:
    """Every text of a block that is read as sentences."""
    match block:
        case Paragraph():
            yield _say(block.words)
        case Bullets() if block.style != "notes":
            yield from (_say(item) for item in block.items if not _is_only_links(item))
        case Box():
            yield from (_say(line) for line in block.lines)
        case GripList():
            yield from (_say(row.when) for row in block.rows if row.when)
        case Flags():
            for group in block.groups:
                for flag in group.flags:
                    yield from (_say(words) for words in (flag.order, *flag.steps, flag.sign, flag.why))
        case Folds():
            for _, folds in block.groups:
                for fold in folds:
                    yield from (_say(words) for words in (fold.title, *fold.lines))
        case Diary():
            yield _say(block.help)
        case Beside():
            for inner in block.blocks:
                yield from list_running(inner)
        case Gallery() if block.steps:
            yield from (_say(drawing.caption) for drawing in block.drawings)
        case _:
            return


def _list_blocks(page: Page) -> Iterator[Block]:
    """The blocks of a page with running text. A page of sources is a list with some words between."""
    for block in page.lead:
        if not (page.kind in _INJURIES and isinstance(block, Bullets)):
            yield block
    for section in page.sections:
        for block in section.blocks:
            listed = section.id in (*_LOOKED_UP, _CODES) or page.kind == _SOURCES
            if not (listed and isinstance(block, Bullets)):
                yield block


def read_page(page: Page) -> Reading:
    texts = (text for block in _list_blocks(page) for text in list_running(block))
    return Reading(page.address or "home", tuple(t for t in texts if t))


def read_handout(handout: Handout) -> Reading:
    parts = [b for sheet in handout.sheets for b in sheet.lead]
    parts += [b for sheet in handout.sheets for s in sheet.sections if s.id not in _LOOKED_UP for b in s.blocks]
    texts = [text for leaf in handout.leaves for text in list_leaf_running(leaf)]
    texts += [text for block in parts for text in list_running(block)]
    return Reading(f"{handout.file_stem} ({handout.paper})", tuple(t for t in texts if t))


# Names and addresses, and what a clinician typed.
_NOT_OURS = (Headline, Strip, Ask, Note)
_ENDS = re.compile(r"[.!?]")


def list_leaf_blocks(leaf: Leaf) -> Iterator[LeafBlock]:
    """The parts of both sides, in reading order, but for what only names somebody or was typed."""
    for side in (leaf.front, leaf.back):
        for block in (*side.blocks, *((side.help,) if side.help else ())):
            if not isinstance(block, _NOT_OURS):
                yield block


def list_leaf_running(leaf: Leaf) -> Iterator[str]:
    """Every text of a leaf that is read as sentences: also the rows of its plan, and the captions that tell a step."""
    for words in list_words(tuple(list_leaf_blocks(leaf))):
        if _ENDS.search(plain(words)):
            yield _say(words)


def list_leaf_printed(leaf: Leaf) -> Iterator[str]:
    """Every text that stands on a leaf, but for what only names somebody or was typed: words of pictures too."""
    yield from (plain(words) for words in list_words(tuple(list_leaf_blocks(leaf))))


def list_leaf_sure(leaf: Leaf, gridded: bool = True) -> Iterator[str]:
    """What stands on a leaf in letters of the page however full it is: not what comes as pictures or as words, nor the
    cues of exercises, which give way. `gridded`: what is done is ticked in a grid of days."""
    for block in list_leaf_blocks(leaf):
        if isinstance(block, GripFields):
            block = replace(block, fields=tuple(replace(f, pictures=(), names=()) for f in block.fields))
        elif isinstance(block, Ahead):
            block = replace(block, path=None, rows=())
        elif isinstance(block, Week):
            head = block.first_head if gridded else ""
            block = replace(block, first_head=head, rows=tuple(replace(row, cue=()) for row in block.rows))
        elif isinstance(block, Ticks):
            headed = (block.you_heading if block.you else "", block.clinic_heading if block.clinic else "")
            block = replace(block, you_heading=headed[0], clinic_heading=headed[1])
        pictures = {plain(w) for drawing in list_drawings(block) for w in list_words(drawing)}
        yield from (said.replace("____", "") for w in list_words(block) if (said := plain(w)) not in pictures)


_NOT_PRINTED = {"id", "name", "style", "level", "mark", "number", "picture", "tier", "turns"}


def list_printed(part: Any) -> Iterator[str]:
    """Every text of a plan that stands on paper as letters of the page.

    Not the words in pictures, which the drawings hold, nor the caption of a list of grips, which a heading replaces.
    """
    if isinstance(part, GripList):
        part = replace(part, caption="", words=())
    if isinstance(part, tuple) and part and all(isinstance(r, Run) for r in part):
        yield plain(part)
    elif isinstance(part, str):
        yield part
    elif isinstance(part, tuple):
        for item in part:
            yield from list_printed(item)
    elif is_dataclass(part):
        for field in fields(part):
            if field.name not in _NOT_PRINTED:
                yield from list_printed(getattr(part, field.name))
