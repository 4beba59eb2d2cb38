"""What is printed: leaves, sheets, handouts; and the site, which holds pages and handouts. Templates lay it out."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from fingerpost.model.words import GripMark, Paper, PrintSize
from fingerpost.plan.base.blocks import Block, Drawing, Page, Section
from fingerpost.plan.base.runs import Handle, Spoken, Visible, Words


@dataclass(frozen=True, kw_only=True)
class Strip:
    """The top line of a side: `left` and `right`. `specimen` stands above it in a frame where nobody has checked."""

    left: Words
    right: Words
    specimen: Visible = ""


@dataclass(frozen=True, kw_only=True)
class NextVisit:
    """The next visit: what to do about it, and its day, a part a line. Without a day there is room to write one."""

    label: Visible
    day: tuple[Visible, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Headline:
    """Which finger, what is hurt, whose sheet, which stage. `hand`: the sore spot, where there is room for it."""

    hand: Drawing | None
    heading: Visible
    lines: tuple[Words, ...]
    bar: Drawing | None
    visit: NextVisit | None


@dataclass(frozen=True, kw_only=True)
class Verdict:
    """The one line that a reader takes home. `halt`: it stands in a thick frame, and nothing is climbed."""

    sign: Drawing
    says: tuple[Visible, ...]
    halt: bool = False


@dataclass(frozen=True, kw_only=True)
class GripField:
    """The grips under one mark: as pictures with their names, or in words. `when`: only like this."""

    mark: GripMark
    sign: Drawing
    heading: Visible
    pictures: tuple[Drawing, ...] = ()
    names: Words = ()
    when: Words = ()


@dataclass(frozen=True, kw_only=True)
class GripFields:
    fields: tuple[GripField, ...]


@dataclass(frozen=True, kw_only=True)
class Note:
    """The clinician's own words, whole."""

    words: Words


@dataclass(frozen=True, kw_only=True)
class Since:
    """What has changed since the last visit. All of it stands elsewhere on the leaf, too."""

    words: Words


@dataclass(frozen=True, kw_only=True)
class WeekRow:
    """What is done and how often, or what is written down (`written`). Each day has `circles` to tick, if any.

    `cue`: one more line on how, which stands on the sheet that shows how to train, too.
    """

    words: Words
    cue: Words = ()
    circles: int = 0
    written: bool = False
    picture: Drawing | None = None


@dataclass(frozen=True, kw_only=True)
class Week:
    """The plan until the next visit, to tick. `days`: (day of the week, day of the month)."""

    heading: Visible
    aside: Words
    first_head: Visible
    days: tuple[tuple[Visible, Visible], ...]
    rows: tuple[WeekRow, ...]


@dataclass(frozen=True, kw_only=True)
class HelpGroup:
    heading: Words
    signs: tuple[Words, ...]


@dataclass(frozen=True, kw_only=True)
class HelpBox:
    """What makes one stop, and whom to call. It stands at the foot of the front of every leaf."""

    heading: Visible
    first: Words
    groups: tuple[HelpGroup, ...]


@dataclass(frozen=True, kw_only=True)
class Points:
    """A few lines under a heading. `beside`: a picture at their right; `columns` where they are short.

    `spare`: they may stay out where there is no room, because another sheet or page says the same.
    """

    heading: Visible
    aside: Words = ()
    lead: tuple[Words, ...] = ()
    items: tuple[Words, ...] = ()
    columns: int = 1
    beside: Drawing | None = None
    below: Drawing | None = None
    spare: bool = False


@dataclass(frozen=True, kw_only=True)
class Rows:
    """A table of two columns: what is asked, and the answer. `boxes`: each row has a box to tick before it."""

    heading: Visible
    aside: Words = ()
    rows: tuple[tuple[Visible, Words], ...]
    boxes: bool = False


@dataclass(frozen=True, kw_only=True)
class TapeHow:
    """Which finger to tape to which: strips at true size, the whole hand, the steps, the check.

    `name`: the id of the taping. No `whole` where it lies elsewhere than it is drawn.
    """

    name: Handle
    heading: Visible
    aside: Words
    cut: Words
    strips: Drawing | None
    ruler: Drawing | None
    true_size: Visible
    whole: Drawing | None
    steps: tuple[Drawing, ...]
    check_heading: Visible
    checks: tuple[Words, ...]
    rule: Words
    others: Words = ()


@dataclass(frozen=True, kw_only=True)
class Ticks:
    """What must be true before the next stage: what the reader ticks, and what only the clinic tests."""

    heading: Visible
    aside: Words
    you_heading: Visible
    you: tuple[Words, ...]
    clinic_heading: Visible
    clinic: tuple[Words, ...]
    bars: Drawing | None = None
    bars_words: Words = ()


@dataclass(frozen=True, kw_only=True)
class Ahead:
    """The way back: drawn as a path, or as `rows` of (stage, when) where there is less room or more stages."""

    heading: Visible
    aside: Words
    path: Drawing | None
    rows: tuple[tuple[Visible, Words], ...]
    words: Words = ()


@dataclass(frozen=True, kw_only=True)
class Ask:
    """Lines to write questions on, and where to read more: `address` is printed as a code and in words, if any."""

    heading: Visible
    lines: int
    more_heading: Visible
    more: Words
    address: Handle = ""


LeafBlock = (
    Strip
    | Headline
    | Verdict
    | GripFields
    | Note
    | Since
    | Week
    | HelpBox
    | Points
    | Rows
    | TapeHow
    | Ticks
    | Ahead
    | Ask
)
LeafKind = Literal["first-visit", "follow-up", "stop", "referral", "general"]


@dataclass(frozen=True, kw_only=True)
class Side:
    """One side of a leaf, from top to foot. `foot`: where the figures are from."""

    blocks: tuple[LeafBlock, ...]
    help: HelpBox | None = None
    foot: Words = ()


@dataclass(frozen=True, kw_only=True)
class Leaf:
    """One sheet of paper, both sides. `inside_words`: the heading of what lies under the skin where it stands alone."""

    kind: LeafKind
    front: Side
    back: Side
    inside_words: Visible


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """What is printed beside the leaf, and begins on the front of a sheet of paper. `name`: what it is about.

    `beside` stands next to the lead where there is room. `turns`: sections that begin a new side in small print.
    `foot`: where its figures are from, if no other sheet tells it.
    """

    number: int
    name: Handle
    title: Visible
    under_title: tuple[Words, ...]
    lead: tuple[Block, ...] = ()
    beside: tuple[Block, ...] = ()
    sections: tuple[Section, ...]
    turns: tuple[Handle, ...] = ()
    foot: Words = ()


@dataclass(frozen=True, kw_only=True)
class Handout:
    """The leaf that one person takes home, with the sheets enclosed; or the general sheets of a protocol.

    `file_stem` and `title` never hold anything about a person. `head` and `foot` are printed on every page.
    `notes`: what stands over the lines on a back that would be blank.
    `unchecked`: `head` says that nobody has checked the sheets, and they must not pass for anything else.
    """

    file_stem: Handle
    title: Spoken
    language: Handle
    paper: Paper
    print_size: PrintSize
    head: Visible
    foot: Visible
    page_words: tuple[Visible, Visible]
    notes: Visible
    sheets: tuple[Sheet, ...] = field(default=())
    leaves: tuple[Leaf, ...] = ()
    unchecked: bool = False


@dataclass(frozen=True, kw_only=True)
class Findable:
    """A page as the search knows it: what a result shows (`title`, `called`, `says`), and what it is found by.

    `called`: its other names, that of the trade first; `typed`: what people type for it. `parts`: (heading, anchor) of
    what may be looked for by itself. `opening`: what it says first; `text`: all that stands on it. `rank`: from 3 for
    an injury down to below 0 for what only goes with another page.
    """

    address: Handle
    title: Visible
    called: tuple[Visible, ...]
    says: Visible
    typed: tuple[Handle, ...]
    parts: tuple[tuple[Visible, Handle], ...]
    opening: Handle
    text: Handle
    rank: int


@dataclass(frozen=True, kw_only=True)
class Search:
    """What the search of the site knows. `same`: (what people type, what the texts say for it)."""

    pages: tuple[Findable, ...] = ()
    same: tuple[tuple[Handle, Handle], ...] = ()


@dataclass(frozen=True, kw_only=True)
class Site:
    """All pages and the general sheets, in menu order. `labels`: the words of the frame round every page, by name."""

    name: Visible
    description: Spoken
    referral_menu: Visible
    labels: tuple[tuple[Handle, Visible], ...]
    pages: tuple[Page, ...]
    handouts: tuple[Handout, ...]
    redirects: tuple[tuple[Handle, Handle], ...]
    search: Search = Search()
