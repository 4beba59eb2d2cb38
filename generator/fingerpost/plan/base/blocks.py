"""What pages and sheets are made of. Templates lay these out and decide nothing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Literal

from fingerpost.model.words import GripMark
from fingerpost.plan.base.pictures import Picture
from fingerpost.plan.base.runs import Handle, Spoken, Visible, Words


@dataclass(frozen=True, kw_only=True)
class Paragraph:
    words: Words
    lead: bool = False


@dataclass(frozen=True, kw_only=True)
class Bullets:
    """A list. `ticks`: boxes to tick by hand; `notes`: each item begins with its own mark; `boards`: links in a row."""

    items: tuple[Words, ...]
    style: Literal["points", "steps", "ticks", "notes", "boards"] = "points"
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
    """A box of things that open, in groups with a title each. With a `title` of its own the whole box folds, too."""

    level: Level
    title: Visible
    groups: tuple[tuple[Visible, tuple[Fold, ...]], ...]


@dataclass(frozen=True, kw_only=True)
class RedFlag:
    """A warning sign as a choice, and the one answer that it opens. `id`: the anchor of the answer.

    `order`: where to go and how soon; `call`: whom to call instead, with the `number` that a telephone dials ('' where
    nobody is called, or no number is known); `steps`: what to do until then.
    """

    id: Handle
    urgent: bool
    choice: Visible
    order: Words
    call: Visible
    number: Handle
    steps: tuple[Words, ...]
    sign: Words
    why: Words


@dataclass(frozen=True, kw_only=True)
class FlagGroup:
    """The flags of one urgency under what they all ask for. `id`: its anchor; `folded`: it opens at its title."""

    id: Handle
    title: Visible
    flags: tuple[RedFlag, ...]
    folded: bool


@dataclass(frozen=True, kw_only=True)
class Flags:
    """Warning signs to choose from. `back`: from an answer back to its group; `label_why`: before its reasons."""

    back: Visible
    label_why: Visible
    groups: tuple[FlagGroup, ...]


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
    """Questions that need a script. `many`: all choices of a question may be true together.

    `answered`: the title under which questions go once they are answered; '' where they stay.
    """

    help: Visible
    questions: tuple[Question, ...]
    many: bool = False
    answered: Visible = ""


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
    """The way to the answer of a warning sign, which shows when one of `signs` is there. `flag`: where it leads."""

    signs: tuple[Handle, ...]
    urgent: bool
    flag: Handle
    says: Visible


@dataclass(frozen=True, kw_only=True)
class Finder:
    """Pages by what fits them. `labels`: the words that the script sets; `data`: what it looks up."""

    helps: tuple[Help, ...]
    note: Visible
    pages: tuple[FoundPage, ...]
    labels: tuple[tuple[Handle, Visible], ...]
    data: Mapping[str, Any]


@dataclass(frozen=True, kw_only=True)
class Answer:
    """Whether one may, in a line: the sign and the words."""

    mark: GripMark
    words: Words


@dataclass(frozen=True, kw_only=True)
class Miniature:
    """A picture of the page's stock in one of the places where it stands. `of`: its name there; `words`: beside it."""

    of: Handle
    title: Spoken
    words: Words


@dataclass(frozen=True, kw_only=True)
class GripPanel:
    """The grips under one mark, as small pictures. `when`: what must hold for them."""

    mark: GripMark
    heading: Visible
    miniatures: tuple[Miniature, ...]
    when: Words = ()


@dataclass(frozen=True, kw_only=True)
class GripBoard:
    """Every grip under yes, only like this or no. `caption` names the list for who hears it."""

    caption: Spoken
    panels: tuple[GripPanel, ...]


@dataclass(frozen=True, kw_only=True)
class Card:
    """Something to do with its small picture, where it has one."""

    miniature: Miniature | None
    words: Words


@dataclass(frozen=True, kw_only=True)
class Cards:
    title: Visible
    cards: tuple[Card, ...]


@dataclass(frozen=True, kw_only=True)
class Split:
    """Two lists beside each other, where there is room."""

    title: Visible
    halves: tuple[Bullets, ...]


Step = Folds | Flags | Questionnaire | TouchMap | Unscripted | Finder
"""What only the way in has."""
OfInjury = Answer | GripBoard | Cards | Split
"""What only the page of an injury has."""
Block = Step | OfInjury | Paragraph | Bullets | Table | Box | GripList | Drawing | Diary | Beside | Gallery


Tier = Literal["plain", "act", "way", "know", "background"]
"""What a part of a page is for: what to do now, the way back stage by stage, good to know, or to look up. `plain`: on a
page whose parts weigh the same."""


@dataclass(frozen=True, kw_only=True)
class Section:
    """A part with a heading. `id` is its anchor; `level` 2 or 3.

    `folded`: only its head is seen until somebody opens it: the heading, under it `answer`, what the part says in a
    sentence, with a sign where there is a `mark`, and `aside`, something small.
    """

    id: Handle
    heading: Visible
    blocks: tuple[Block, ...]
    level: Literal[2, 3] = 2
    tier: Tier = "plain"
    folded: bool = False
    answer: Words = ()
    mark: GripMark | None = None
    aside: Words = ()


@dataclass(frozen=True, kw_only=True)
class Page:
    """A page of the site. `address` is relative to the site's root and ends with a slash ('' is the home page).

    `menu`: what it is called in the menu; '' for a page that is only linked to. `under`: the address of the page in
    whose group it stands in the menu, or ''. `linked_data`: the page for machines (JSON-LD), or ''. `beside`: pictures
    that stand beside the top of a page with tiers. `stock`: small pictures that stand in many places and on several
    pages; one name is one picture on all of them.
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
    beside: tuple[Drawing | Gallery, ...] = ()
    stock: tuple[Drawing, ...] = ()

    @property
    def in_tiers(self) -> bool:
        """Whether what to do now stands first and the rest is folded."""
        return any(section.tier != "plain" for section in self.sections)
