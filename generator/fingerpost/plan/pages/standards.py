"""The page that says which reporting standards we hold to, item by item, and which we do not."""

from __future__ import annotations

from itertools import groupby

from fingerpost.model.shared import StandardItem
from fingerpost.plan.base.blocks import Page, Section, Table
from fingerpost.plan.base.parts import paragraph, table
from fingerpost.plan.base.prose import Writer, capital
from fingerpost.plan.base.runs import Words, link, stack, strong, text

ADDRESS = "standards/"
_HEADINGS = {"page": "heading", "leaf": "standard-leaf", "handout": "sheet", "general": "sheet"}


def _answer_of(item: StandardItem) -> str:
    """'held', 'part', 'unmet' or 'person'."""
    if item.unmet or item.person:
        return "unmet" if item.unmet else "person"
    return "part" if item.lacks else "held"


def _answer_words(writer: Writer, item: StandardItem) -> Words:
    answer, why = _answer_of(item), item.lacks or item.unmet or item.person or ""
    return (*strong(writer.say(f"standard-{answer}")), *text(" " if why else ""), *writer.words(why))


def _part_name(writer: Writer, place: str) -> str:
    """What a part of a page or of a sheet is headed."""
    kind, _, part = place.partition(" #")
    return writer.say("standard-stage" if part == "stage-1" else f"{_HEADINGS[kind]}-{part}")


def _where(writer: Writer, item: StandardItem) -> Words:
    """Where a reader meets it: pages as links, and the parts of one sort of page or sheet in one line."""
    lines: list[Words] = []
    for kind, places in groupby(sorted(item.shown, key=_sort_of), key=_sort_of):
        if kind in _HEADINGS:
            parts = "; ".join(_part_name(writer, place) for place in places)
            lines.append(text(writer.say(f"standard-where-{kind}", parts=parts)))
        elif kind == "foot":
            lines.append(text(writer.say("standard-where-foot")))
        else:
            addresses = [place.partition(" ")[2] for place in places]
            lines += [link(writer.say(f"title-{address.strip('/')}"), address) for address in addresses]
    return stack(lines) or text(writer.say("standard-nowhere"))


def _sort_of(place: str) -> str:
    return place.partition(" ")[0]


def _table(writer: Writer, name: str, items: list[StandardItem]) -> Table:
    rows = [
        (
            text(f"{item.item}. {capital(item.says)}"),
            _answer_words(writer, item),
            _where(writer, item),
        )
        for item in items
    ]
    head = tuple(writer.say(f"head-standard-{h}") for h in ("item", "answer", "where"))
    return table(writer.say("caption-standard", name=name), head, rows)


def _section(writer: Writer, standard: str, items: list[StandardItem]) -> Section:
    answers = [_answer_of(item) for item in items]
    counts = {answer: answers.count(answer) for answer in ("held", "part", "unmet", "person")}
    return Section(
        id=standard.lower(),
        heading=writer.say(f"heading-standard-{standard.lower()}"),
        blocks=(
            paragraph(writer, writer.say(f"standard-about-{standard.lower()}")),
            paragraph(writer, writer.say("standard-count", **counts)),
            _table(writer, standard, items),
        ),
    )


def plan_standards(writer: Writer) -> Page:
    """Every item of every standard, in the order of the map."""
    grouped = groupby(writer.library.vocabularies.standards, key=lambda item: item.standard)
    return Page(
        address=ADDRESS,
        kind="standards",
        title=writer.say("title-standards"),
        description=writer.say("description-standards"),
        badge=strong(writer.say("draft-badge-library")),
        lead=(
            paragraph(writer, writer.say("intro-standards"), lead=True),
            paragraph(writer, writer.say("standards-no-score")),
        ),
        sections=tuple(_section(writer, standard, list(items)) for standard, items in grouped),
        menu=writer.say("menu-standards"),
    )
