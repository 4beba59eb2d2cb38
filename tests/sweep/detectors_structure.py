"""What a sheet is made of: nothing over nothing, no gap left by a template, no figure without its unit."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from functools import lru_cache

from fingerpost.model.words import split_sentences
from fingerpost.plan.base.blocks import Box, Bullets, Diary, Gallery, Paragraph, Table
from fingerpost.plan.base.paper import Ahead, GripFields, HelpBox, Points, Rows, Ticks, Week
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.visible import list_words
from sweep.sayings import saying
from sweep.sheets import Line, Told

_GAPS = re.compile(
    r"\bNone\b(?! of)|[{}]|\S {2,}\S|\S\s,|(?<!\.)\.\.(?!\.)|\(\s*\)|\[\s*\]|\bnan\b"
    r"|<to fill>|\s\.(?!\d)|,,|;;|\.,|\(\w+=",
)
_NUMBER = re.compile(
    r"\b1 (?:days|weeks|months|routes|sets|stages|strips|minutes|seconds)\b|(?<![\d.,])0 (?:days|weeks)\b|\ba index\b"
)
_UNIT = r"(?:mm|cm|m|kg|lb|N|%|°)"
_PARTED = re.compile(rf"\d[ \t]*\n\s*{_UNIT}(?:\W|$)|\d {{2,}}{_UNIT}(?:\W|$)|\d [°](?:\W|$)")
_BOUND = re.compile(rf"\d {_UNIT}(?:\W|$)")
_ENDS_IN_FIGURE = re.compile(r"\d\s?$")
_BEGINS_WITH_UNIT = re.compile(rf"\s?{_UNIT}(?:\W|$)")
LEAST_WORDS = 10
"""So long a sentence is not said twice by chance."""

saying("on this sheet", r"\bon this sheet\b|\bthis sheet\b")
saying("the pulls", r"\blight pulls\b")
saying("hold as planned", r"\bhold as long as your plan says\b")
saying("rest as planned", r"\brest as long as your plan says\b")
saying("length as planned", r"\byour plan gives the length\b|\bto the length in your plan\b")
saying("a date as planned", r"\bthe date on your plan\b")
saying("a finger as planned", r"\bthe neighbour that your plan names\b")


def find_headings_over_nothing(told: Told) -> Iterator[str]:
    """A heading must have something below it: a text, or headings of a lower level that have."""
    for sheet in told.handout.sheets:
        for at, section in enumerate(sheet.sections):
            following = sheet.sections[at + 1] if at + 1 < len(sheet.sections) else None
            nested = section.level == 2 and following is not None and following.level == 3
            if not section.heading.strip() or (not section.blocks and not nested):
                yield f"sheet {sheet.number}: {section.heading or section.id}"
        if not sheet.title.strip():
            yield f"sheet {sheet.number} has no title"
    for block in told.leaf_blocks(Points):
        if not (block.lead or block.items or block.beside or block.below):
            yield f"leaf: {block.heading}"
    for kind, name in ((Ticks, "you"), (Week, "rows"), (Rows, "rows"), (HelpBox, "groups"), (Ahead, "rows")):
        blocks = told.leaf_blocks(kind)
        yield from (f"leaf: {b.heading}" for b in blocks if not (getattr(b, name) or getattr(b, "clinic", ())))


def find_masses_in_the_other_unit(told: Told) -> Iterator[str]:
    """No sheet must name a mass in the unit in which the case is not written: whoever loads plates converts nothing."""
    other = {"kg": "lb", "lb": "kg"}[told.facts.case.units]
    named = re.compile(rf"\b(?:{other}|{'kilogram' if other == 'kg' else 'pound'}s?)\b")
    yield from (line.text for line in (*told.lines, *told.coach_lines) if named.search(line.text))


def find_empty_lists(told: Told) -> Iterator[str]:
    """No list, table, box, gallery or paragraph may be empty, nor any item or row of one."""
    for piece in told.pieces:
        if _is_empty(piece.block):
            yield f"sheet {piece.sheet}, {piece.section}: {type(piece.block).__name__}"
    yield from (f"leaf: {type(b).__name__}" for b in told.leaf_blocks(object) if _is_empty(b))


def _is_empty(block: object) -> bool:
    match block:
        case Paragraph():
            return not plain(block.words).strip()
        case Bullets():
            return not block.items or any(not plain(i).strip() for i in block.items)
        case Table():
            return not block.rows or any(not any(plain(c).strip(" –") for c in row[1:]) for row in block.rows)
        case Box():
            inside = [*block.lines, *(line for _, lines in block.groups for line in lines)]
            empty_group = any(not lines for _, lines in block.groups)
            return not inside or empty_group or any(not plain(line).strip() for line in inside)
        case Points():
            return any(not plain(words).strip() for words in (*block.lead, *block.items))
        case GripFields():
            return not block.fields or any(
                f.mark != "leave" and not (f.pictures or f.names or f.when) for f in block.fields
            )
        case Ticks():
            return any(not plain(item).strip() for item in (*block.you, *block.clinic))
        case HelpBox():
            return any(not group.signs for group in block.groups)
        case Week():
            return not block.days or any(not plain(row.words).strip() for row in block.rows)
        case Gallery():
            return not block.drawings
        case Diary():
            return not block.first_column or not block.head
    return False


@lru_cache(maxsize=200_000)
def _gap_in(text: str) -> str:
    found = _GAPS.search(text) or _NUMBER.search(text)
    return found.group() if found else ""


def _every_text(told: Told) -> Iterator[tuple[str, str]]:
    """(where, text) of everything that anybody reads."""
    yield from ((f"sheet {line.sheet}, {line.section}", line.text) for line in told.lines)
    yield from ((f"coach sheet, {line.section}", line.text) for line in told.coach_lines)
    for event in told.events:
        yield from ((f"calendar, {event.what}", text) for text in (event.summary, event.description))
    yield from ((f"desk, {at}", text) for at, text in told.doubts)


def find_template_gaps(told: Told) -> Iterator[str]:
    """No text may show a gap: None, braces, two blanks, a blank before a comma, two full stops, '1 days'."""
    typed = (told.facts.case.note, told.facts.case.name)
    for where, text in _every_text(told):
        if _gap_in(text) and text not in typed:
            yield f"{where}: {text}"


def find_labels_with_nothing_after(told: Told) -> Iterator[str]:
    """A label with a colon must have something behind it."""
    for line in told.lines:
        if line.kind in ("text", "item", "when", "help") and line.text.rstrip().endswith((":", ": .")):
            yield f"sheet {line.sheet}, {line.section}: {line.text}"


def find_figures_parted_from_their_units(told: Told) -> Iterator[str]:
    """No line may break between a figure and its unit: not by a line break, nor across two pieces of text.

    The templates bind the two in running text. In captions, titles and heads nobody does.
    """
    for line in told.lines:
        if _PARTED.search(line.text) or (
            line.kind in ("caption", "head", "heading", "title") and _BOUND.search(line.text)
        ):
            yield f"sheet {line.sheet}, {line.section}: {line.text}"
    for piece in told.pieces:
        for words in _runs(piece.block):
            for one, other in itertools.pairwise(words):
                if _ENDS_IN_FIGURE.search(one.text) and _BEGINS_WITH_UNIT.match(other.text):
                    yield f"{piece.section}: {one.text}|{other.text}"
    for words in list_words(tuple(told.leaf_blocks(object))):
        for one, other in itertools.pairwise(words):
            if _ENDS_IN_FIGURE.search(one.text) and _BEGINS_WITH_UNIT.match(other.text):
                yield f"leaf: {one.text}|{other.text}"


def _runs(block: object) -> Iterator[tuple]:  # type: ignore[type-arg]
    match block:
        case Paragraph():
            yield block.words
        case Bullets():
            yield from block.items
        case Box():
            yield from block.lines
        case Table():
            yield from (cell for row in block.rows for cell in row)


@lru_cache(maxsize=200_000)
def _long_sentences(text: str) -> tuple[str, ...]:
    return tuple(s for s in split_sentences(text) if len(s.split()) >= LEAST_WORDS)


def find_sentences_said_twice(told: Told) -> Iterator[str]:
    """One section of an enclosure must not say one long sentence twice."""
    seen: dict[tuple[int, str], set[str]] = {}
    for line in told.lines:
        if line.kind not in ("alt", "drawn", "cell"):
            known = seen.setdefault((line.sheet, line.section), set())
            for sentence in _long_sentences(line.text):
                if sentence in known:
                    yield f"{line.section}: {sentence}"
                known.add(sentence)


def find_pointers_to_another_sheet(told: Told) -> Iterator[str]:
    """What is said to stand "on this sheet" must stand on that very sheet."""
    on = {line.sheet for line in told.lines if line.section.startswith("exercise-")}
    for line, sentence in told.says("the pulls"):
        if (line, sentence) in told.said.get("on this sheet", ()) and line.sheet not in on:
            yield f"sheet {line.sheet}: {sentence} The exercises: {sorted(on) or 'left out'}"


def find_plans_that_say_nothing(told: Told) -> Iterator[str]:
    """What "your plan says" must be said: the hold and the rest of a dose, a length of tape, the date, the finger."""

    def dose(line: Line) -> str:
        own = [other.text for other in told.section(line.section) if other.text.startswith("How much:")]
        return own[0] if own else ""

    for line, sentence in told.says("hold as planned"):
        if "held for" not in dose(line):
            yield f"{line.section}: {sentence} {dose(line)}"
    for line, sentence in told.says("rest as planned"):
        if "rest " not in dose(line).lower():
            yield f"{line.section}: {sentence} {dose(line)}"
    for line, sentence in told.says("length as planned"):
        if not any(" mm long" in other.text for other in told.section(line.section)):
            yield f"{line.section}: {sentence}"
    if not any(True for _ in told.says("tape until", only=("dates",))):
        yield from (s for _, s in told.says("a date as planned"))
    for line, sentence in told.says("a finger as planned"):
        if not any(other.section == line.section for other, _ in told.says("buddy pair")):
            yield f"{line.section}: {sentence}"
