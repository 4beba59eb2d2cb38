"""Parts of printed sheets: what personal and general handouts share."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from fingerpost.model.masses import Units
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.words import URGENCIES, URGENT, Paper, PrintSize
from fingerpost.plan.base.blocks import Block, Box, Bullets, Diary, Paragraph, Section
from fingerpost.plan.base.checked import state_words, status_words
from fingerpost.plan.base.paper import Handout, Leaf, Sheet
from fingerpost.plan.base.parts import seek_words, warning_box
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, plain, strong, text
from fingerpost.plan.base.visible import list_words

# How wide the picture of a hand is printed, in mm: large enough to see one joint, small enough for text beside it.
HAND_MM = 62.0
TAPE_MM = 55.0
PATH_MM = 160.0
# The smallest letters on any sheet, in points.
LEAST_PT = 10.0


def section(writer: Writer, id: str, *blocks: Block | None, level: int = 2, **gaps: object) -> Section:
    """A part of a sheet whose heading stands in the wording."""
    kept = tuple(b for b in blocks if b is not None)
    return Section(id=id, heading=writer.say(f"sheet-{id}", **gaps), blocks=kept, level=3 if level == 3 else 2)


def named_signs(protocol: Protocol) -> tuple[str, ...]:
    """The warning signs of a protocol."""
    return tuple(use.sign for use in protocol.warning_signs)


def soon_box(writer: Writer, protocol: Protocol) -> Box:
    """What should be looked at and by whom, the most urgent first; with the warning signs that can wait for days."""
    lines: list[Words] = []
    for urgency in URGENCIES:
        lines += [seek_words(writer, s) for s in protocol.see_somebody if s.urgency == urgency]
        if urgency not in URGENT:
            lines += warning_box(writer, named_signs(protocol), (urgency,)).lines
    return Box(level="caution", title=writer.say("soon-title"), lines=tuple(lines))


def diary(
    writer: Writer,
    first_column: Sequence[str],
    charted: bool = False,
    loaded: bool = True,
    units: Units | None = None,
) -> Diary:
    """What gates and exercises want written down, to fill in by hand. `charted`: pain and stiffness go into a chart;
    `loaded`: something is trained with a load; `units`: in what, where it is known. With a chart goes a leaf, which
    tells what a worse morning means."""
    pain = () if charted else ("during", "next-morning", "stiff")
    load = ("load-in" if units else "load",) if loaded else ()
    columns = ("day", "did", *load, *pain, "swollen", "notes")
    head = tuple(writer.say(f"diary-{column}", units=units) for column in columns)
    return Diary(
        caption=writer.say("diary-caption-charted" if charted else "diary-caption"),
        help=text(writer.say("diary-help-charted" if charted else "diary-help")),
        head=head,
        first_column=tuple(first_column),
    )


def word_list(writer: Writer, parts: Iterable[Any]) -> Bullets | None:
    """The trade words that a reader meets in these parts of a handout, each in plain words, from A to Z."""
    whole = "\n".join(plain(words) for part in parts for words in list_words(part)).lower()
    items: list[Words] = []
    for term in sorted(writer.library.vocabularies.terms, key=lambda t: t.term.lower()):
        names = (term.term, *term.also_called)
        if any(_stands_in(n.lower(), whole) for n in names):
            items.append((*strong(f"{term.term}: "), *text(term.plain.rstrip(".") + ".")))
    return Bullets(items=tuple(items)) if items else None


def _stands_in(name: str, whole: str) -> bool:
    at = whole.find(name)
    while at >= 0:
        before, after = whole[at - 1 : at], whole[at + len(name) : at + len(name) + 1]
        if not before.isalnum() and not after.isalnum():
            return True
        at = whole.find(name, at + 1)
    return False


def closing_sections(
    writer: Writer,
    protocol: Protocol,
    so_far: Iterable[Any],
    behind: Words,
    personal: bool = False,
    asked: bool = False,
) -> tuple[Section, ...]:
    """Questions, words, where the figures are from, who stands behind the sheets (`behind`) and behind the text.

    `so_far`: all that stands before. On a person's sheets the foot alone tells the state of the text. `asked`: the
    questions stand on the leaf.
    """
    state = () if personal else (Paragraph(words=text(status_words(writer, protocol.status))),)
    items = () if asked else tuple(writer.words(q) for q in protocol.questions)
    questions = section(writer, "questions", Bullets(items=items) if items else None)
    listed = writer.source_list()
    about = section(
        writer,
        "about",
        Paragraph(words=behind),
        *state,
        Paragraph(words=text(writer.say("purpose-short"))),
    )
    words = word_list(writer, (*so_far, questions, about))
    told = (section(writer, name, block) for name, block in (("words", words), ("sources", listed)) if block)
    return (questions, *told, about)


def shell(
    writer: Writer,
    condition: Protocol | Referral,
    file_stem: str,
    paper: Paper,
    print_size: PrintSize,
    sheets: tuple[Sheet, ...],
    head: str,
    unchecked: bool = False,
    leaves: tuple[Leaf, ...] = (),
) -> Handout:
    """A handout around its sheets. Nothing about a person stands in its name, title, head or foot."""
    foot = writer.say("foot", name=condition.plain_name, version=condition.status.version)
    if state := state_words(writer, condition):
        foot = f"{foot} {state}"
    if content := writer.library.content_hashes.get(condition.id):
        foot = f"{foot} {writer.say('foot-content', content=content)}"
    return Handout(
        file_stem=file_stem,
        title=writer.say("handout-title", name=condition.plain_name),
        language="en-GB",
        paper=paper,
        print_size=print_size,
        head=head,
        foot=foot,
        page_words=(writer.say("page"), writer.say("of")),
        notes=writer.say("my-notes"),
        sheets=sheets,
        unchecked=unchecked,
        leaves=leaves,
    )
