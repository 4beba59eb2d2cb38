"""What pages and sheets are made of. Templates lay these out and decide nothing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from fingerpost.model.words import GripMark
from fingerpost.plan.base.pictures import Picture
from fingerpost.plan.base.uses import Handle, Spoken, Visible


@dataclass(frozen=True)
class Run:
    """A piece of text. `link`: `target` is an address on the site.

    `mark`: where a figure is from; `target` is the anchor of that source, which the line of the source carries.
    `break`: a new line, where bare text has its `text`. `blank`: room to write in by hand. `keep`, `limit`, `leave`:
    words with a grip mark before them.
    """

    text: str
    kind: Literal["plain", "strong", "mark", "link", "break", "blank", "keep", "limit", "leave"] = "plain"
    target: Handle = ""


Words = tuple[Run, ...]


def plain(words: Words) -> str:
    """The words as bare text."""
    return "".join(run.text for run in words)


BLANK = Run("____", "blank")
"""Room to write by hand."""


def text(content: str) -> Words:
    return (Run(content),) if content else ()


def strong(content: str) -> Words:
    return (Run(content, "strong"),)


def link(content: str, target: str) -> Words:
    return (Run(content, "link", target),)


def stack(lines: Iterable[Words]) -> Words:
    """Several words as one, each on a line of its own; in bare text with a semicolon between."""
    runs: list[Run] = []
    for words in lines:
        runs += [Run("; ", "break"), *words] if runs else words
    return tuple(runs)


@dataclass(frozen=True, kw_only=True)
class Paragraph:
    words: Words
    lead: bool = False


@dataclass(frozen=True, kw_only=True)
class Bullets:
    """A list. `ticks`: boxes to tick by hand; `notes`: each item begins with its own mark."""

    items: tuple[Words, ...]
    style: Literal["points", "steps", "ticks", "notes"] = "points"
    title: Visible = ""


@dataclass(frozen=True, kw_only=True)
class Table:
    """The first cell of each row is its heading. `caption` says how to read the table.

    `folded`: on a screen the table opens at these words; it says again what a picture shows.
    """

    caption: Visible
    head: tuple[Visible, ...]
    rows: tuple[tuple[Words, ...], ...]
    folded: Visible = ""


Level = Literal["warning", "caution", "note"]
"""`warning`: get help; `caution`: stop and ask; `note`: good to know."""


@dataclass(frozen=True, kw_only=True)
class Box:
    """Something set apart. `groups`: further lines, each few under words of their own."""

    level: Level
    title: Visible
    lines: tuple[Words, ...] = ()
    groups: tuple[tuple[Visible, tuple[Words, ...]], ...] = ()
    bulleted: bool = True


@dataclass(frozen=True, kw_only=True)
class GripRow:
    mark: GripMark
    grips: tuple[Visible, ...]
    when: Words = ()


@dataclass(frozen=True, kw_only=True)
class GripList:
    """Every grip under a mark. `words` gives the word for each mark, which always stands beside its shape."""

    caption: Visible
    words: tuple[tuple[GripMark, Visible], ...]
    rows: tuple[GripRow, ...]


@dataclass(frozen=True, kw_only=True)
class Drawing:
    """A picture with a caption. `name` is unique on its page."""

    name: Handle
    picture: Picture
    caption: Words
    width_mm: float | None = None


@dataclass(frozen=True, kw_only=True)
class Diary:
    """A table to write in: `lines` empty rows under `head`. `help` says how to fill it in."""

    caption: Visible
    help: Words
    head: tuple[Visible, ...]
    first_column: tuple[Visible, ...]


@dataclass(frozen=True, kw_only=True)
class Beside:
    """A drawing with blocks standing next to it where there is room."""

    drawing: Drawing
    blocks: tuple[Paragraph | Bullets | Box, ...]


@dataclass(frozen=True, kw_only=True)
class Gallery:
    """Small drawings in rows, all of one width. `caption` says how to read them.

    `steps`: they are what is done, one after the other, each with its number and its words below it.
    """

    caption: Visible
    drawings: tuple[Drawing, ...]
    steps: bool = False


@dataclass(frozen=True, kw_only=True)
class Fold:
    """Something that opens: what is always seen, and what it holds. `open`: it stands open to begin with."""

    title: Words
    lines: tuple[Words, ...]
    open: bool = False


@dataclass(frozen=True, kw_only=True)
class Folds:
    """A box of things that open, in groups with a title each."""

    level: Level
    title: Visible
    groups: tuple[tuple[Visible, tuple[Fold, ...]], ...]


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One answer among several: `sign` is what the answer stands for ('' clears it)."""

    sign: Handle
    says: Visible


@dataclass(frozen=True, kw_only=True)
class Question:
    """Something to answer on the page. `asked`: it is shown only when the script asks for it."""

    name: Handle
    says: Visible
    choices: tuple[Choice, ...]
    asked: bool = False


@dataclass(frozen=True, kw_only=True)
class Questionnaire:
    """Questions that need a script. `many`: all choices of a question may be true together."""

    help: Visible
    questions: tuple[Question, ...]
    many: bool = False


@dataclass(frozen=True, kw_only=True)
class TouchMap:
    """Drawings to touch, and the same places as a list."""

    drawings: tuple[Drawing, ...]
    help: Visible
    list_title: Visible
    question: Question


@dataclass(frozen=True, kw_only=True)
class SignLines:
    """One sign and the pages that it speaks for; those that it speaks against are folded away. `id`: its anchor."""

    id: Handle
    title: Visible
    lines: tuple[Words, ...]
    more: Fold


@dataclass(frozen=True, kw_only=True)
class Unscripted:
    """The same as a list, for a reader whose browser runs no script."""

    signs: tuple[SignLines, ...]


@dataclass(frozen=True, kw_only=True)
class FoundPage:
    """A page that can come to the front."""

    id: Handle
    name: Words
    under: Visible


@dataclass(frozen=True, kw_only=True)
class Help:
    """A box that shows when one of `signs` is there."""

    signs: tuple[Handle, ...]
    urgent: bool
    box: Box


@dataclass(frozen=True, kw_only=True)
class Finder:
    """Pages by what fits them. `labels`: the words that the script sets; `data`: what it looks up."""

    helps: tuple[Help, ...]
    note: Visible
    pages: tuple[FoundPage, ...]
    labels: tuple[tuple[Handle, Visible], ...]
    data: Mapping[str, Any]


Step = Folds | Questionnaire | TouchMap | Unscripted | Finder
"""What only the way in has."""
Block = Step | Paragraph | Bullets | Table | Box | GripList | Drawing | Diary | Beside | Gallery


@dataclass(frozen=True, kw_only=True)
class Section:
    """A part with a heading. `id` is its anchor; `level` 2 or 3; `span` lets a sheet set it beside another."""

    id: Handle
    heading: Visible
    blocks: tuple[Block, ...]
    level: Literal[2, 3] = 2


@dataclass(frozen=True, kw_only=True)
class Page:
    """A page of the site. `address` is relative to the site's root and ends with a slash ('' is the home page).

    `menu`: what it is called in the menu; '' for a page that is only linked to. `under`: the address of the page in
    whose group it stands in the menu, or ''. `linked_data`: the page for machines (JSON-LD), or ''.
    """

    address: Handle
    kind: Handle
    title: Visible
    description: Spoken
    badge: Words
    lead: tuple[Block, ...]
    sections: tuple[Section, ...]
    menu: Visible = ""
    under: Handle = ""
    linked_data: Handle = ""
