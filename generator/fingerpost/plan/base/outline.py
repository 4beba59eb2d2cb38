"""The plan as plain text: every page and sheet in order, with finished sentences, numbers and drawing names."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from dataclasses import replace
from typing import Any, assert_never

from fingerpost.model.grammar import defaults_of, is_record, parts_of
from fingerpost.plan.base.blocks import (
    Answer,
    Beside,
    Block,
    Box,
    Bullets,
    Cards,
    Diary,
    Drawing,
    Finder,
    Flags,
    Folds,
    Gallery,
    GripBoard,
    GripList,
    Miniature,
    OfInjury,
    Page,
    Paragraph,
    Question,
    Questionnaire,
    RedFlag,
    Section,
    Split,
    Step,
    Table,
    TouchMap,
    Unscripted,
)
from fingerpost.plan.base.paper import Handout, Leaf, Sheet
from fingerpost.plan.base.runs import Run, Words, plain

WIDTH = 110
_BULLETS = {"points": "  - ", "ticks": "  ☐ ", "notes": "  ", "boards": "  > "}
_SIGNS = {"keep": "[yes]", "limit": "[only like this]", "leave": "[no]"}


def _wrap(content: str, first: str, rest: str) -> str:
    flat = content.replace("\u00a0", "~")
    lines = textwrap.wrap(
        flat, WIDTH, initial_indent=first, subsequent_indent=rest, break_long_words=False, break_on_hyphens=False
    )
    return "\n".join(lines).replace("~", " ")


def _say(words: Words) -> str:
    return "".join(f"{r.text} <{r.target}>" if r.kind == "link" else r.text for r in words)


def _told(part: Any) -> Iterator[tuple[str, Any]]:
    """The fields of a picture that say something: neither empty nor as usual."""
    kind: Any = type(part)
    usual = defaults_of(kind)
    for field, value in parts_of(part):
        if field != "title" and value not in ((), "", None) and not (field in usual and value == usual[field]):
            yield field, value


def _write_drawing(block: Drawing) -> Iterator[str]:
    yield _wrap(f"({type(block.picture).__name__} '{block.name}': {block.picture.title})", "  ", "    ")
    told = "; ".join(f"{name}: {_short(value)}" for name, value in _told(block.picture))
    if told:
        yield _wrap(told, "      ", "        ")
    if block.caption:
        yield _wrap(_say(block.caption), "    ", "    ")


def _short(value: Any) -> str:
    if isinstance(value, tuple):
        return " + ".join(_short(v) for v in value)
    if is_record(value):
        return ", ".join(f"{name} {_short(v)}" for name, v in _told(value))
    return str(value)


def _write_block(block: Block) -> Iterator[str]:
    match block:
        case Paragraph():
            yield _wrap(_say(block.words), "  ", "  ")
        case Bullets():
            if block.title:
                yield _wrap(block.title, "  ", "  ")
            for number, item in enumerate(block.items, 1):
                yield _wrap(_say(item), f"  {number}. " if block.style == "steps" else _BULLETS[block.style], "    ")
        case Table():
            if block.folded:
                yield _wrap(f"[folded] {block.folded}", "  ", "    ")
            yield _wrap(f"[table] {block.caption}", "  ", "    ")
            yield _wrap(" | ".join(block.head), "    ", "      ")
            for row in block.rows:
                yield _wrap(" | ".join(_say(cell) for cell in row), "    ", "      ")
        case Box():
            yield _wrap(f"[{block.level}] {block.title}", "  ", "    ")
            for line in block.lines:
                yield _wrap(_say(line), "    - ", "      ")
            for heading, lines in block.groups:
                yield _wrap(heading, "    ", "      ")
                yield from (_wrap(_say(line), "    - ", "      ") for line in lines)
        case GripList():
            yield _wrap(f"[grips] {block.caption}", "  ", "    ")
            words = dict(block.words)
            for grips in block.rows:
                when = f": {_say(grips.when)}" if grips.when else ""
                yield _wrap(f"{words[grips.mark]}: {', '.join(grips.grips)}{when}", "    ", "      ")
        case Drawing():
            yield from _write_drawing(block)
        case Beside():
            yield from _write_drawing(block.drawing)
            for part in block.blocks:
                yield from _write_block(part)
        case Gallery():
            yield _wrap(f"[pictures] {block.caption}", "  ", "    ")
            for number, drawing in enumerate(block.drawings, 1):
                if block.steps:
                    yield _wrap(_say(drawing.caption), f"  {number}. ", "    ")
                yield from _write_drawing(replace(drawing, caption=()) if block.steps else drawing)
        case Diary():
            yield _wrap(f"[diary] {block.caption} {plain(block.help)}", "  ", "    ")
            yield _wrap(" | ".join(block.head), "    ", "      ")
            yield _wrap("; ".join(f or "…" for f in block.first_column), "    ", "      ")
        case Folds() | Flags() | Questionnaire() | TouchMap() | Unscripted() | Finder():
            yield from _write_step(block)
        case Answer() | GripBoard() | Cards() | Split():
            yield from _write_of_injury(block)
        case _:
            assert_never(block)


def _write_of_injury(block: OfInjury) -> Iterator[str]:
    match block:
        case Answer():
            yield _wrap(f"{_SIGNS[block.mark]} {_say(block.words)}", "  ", "    ")
        case GripBoard():
            yield _wrap(f"[grips] {block.caption}", "  ", "    ")
            for panel in block.panels:
                names = ", ".join(_name(miniature) for miniature in panel.miniatures)
                told = ": ".join(filter(None, (panel.heading, names, _say(panel.when))))
                yield _wrap(f"{_SIGNS[panel.mark]} {told}", "    ", "      ")
        case Cards():
            yield _wrap(block.title, "  ", "  ")
            for card in block.cards:
                shown = f" (picture '{card.miniature.of}')" if card.miniature else ""
                yield _wrap(f"{_say(card.words)}{shown}", "  - ", "    ")
        case Split():
            yield _wrap(block.title, "  ", "  ")
            for half in block.halves:
                yield from _write_block(half)
        case _:
            assert_never(block)


def _name(miniature: Miniature) -> str:
    return f"{_say(miniature.words)} '{miniature.of}'"


def _write_step(block: Step) -> Iterator[str]:
    match block:
        case Folds():
            yield _wrap(f"[{block.level}] {block.title}".rstrip(), "  ", "    ")
            for title, folds in block.groups:
                yield _wrap(title, "    ", "    ")
                for fold in folds:
                    yield _wrap(" / ".join(_say(line) for line in (fold.title, *fold.lines)), "    - ", "      ")
        case Flags():
            for group in block.groups:
                yield _wrap(f"[flags] {group.title} {{{group.id}}}", "  ", "    ")
                for flag in group.flags:
                    yield from _write_flag(flag)
            yield _wrap(f"back: {block.back}", "    ", "    ")
        case Questionnaire():
            yield from _write_questions(block.help, block.questions)
            if block.answered:
                yield _wrap(block.answered, "    ", "    ")
        case TouchMap():
            for drawing in block.drawings:
                yield from _write_drawing(drawing)
            yield from _write_questions(block.help, (block.question,))
        case Unscripted():
            for sign in block.signs:
                told = "; ".join(_say(line) for line in (*sign.lines, *sign.more.lines))
                yield _wrap(f"{sign.title} {{{sign.id}}} {told}", "    - ", "      ")
        case Finder():
            yield _wrap(block.note, "  ", "  ")
            for help_ in block.helps:
                yield _wrap(f"when {', '.join(help_.signs)}: {help_.says} {{{help_.flag}}}", "  ", "    ")
            for page in block.pages:
                yield _wrap(f"{_say(page.name)}: {page.under}", "    - ", "      ")
            for place, signs in block.data["ask"].items():
                yield _wrap(f"ask for '{place}': {', '.join(signs)}", "    ", "      ")
        case _:
            assert_never(block)


def _write_flag(flag: RedFlag) -> Iterator[str]:
    call = [f"{flag.call}{f' <tel:{flag.number}>' if flag.number else ''}"] if flag.call else []
    told = (_say(flag.order), *call, *(_say(step) for step in flag.steps), _say(flag.sign), _say(flag.why))
    yield _wrap(f"{flag.choice} {{{flag.id}}} {' / '.join(told)}", "    - ", "      ")


def _write_questions(help_: str, questions: tuple[Question, ...]) -> Iterator[str]:
    if help_:
        yield _wrap(help_, "  ", "  ")
    for question in questions:
        choices = "; ".join(f"{c.says} <{c.sign}>" for c in question.choices)
        yield _wrap(f"[ask] {question.says} {choices}", "  ", "    ")


def _write_section(section: Section) -> Iterator[str]:
    yield f"{'#' * section.level} {section.heading} {{{section.id}}}{' [folded]' if section.folded else ''}"
    if section.answer:
        sign = f"{_SIGNS[section.mark]} " if section.mark else ""
        yield _wrap(f"{sign}{_say(section.answer)}", "  ", "  ")
    if section.aside:
        yield _wrap(_say(section.aside), "  ", "  ")
    for block in section.blocks:
        yield from _write_block(block)


def list_page_lines(page: Page) -> Iterator[tuple[str, str]]:
    """Each line of a page with the anchor of its section, '' above the first. A long line is broken inside."""
    lead = [f"=== PAGE /{page.address} === {page.title}", _wrap(f"({page.description})", "", "")]
    lead += [f"badge: {plain(page.badge)}"] if page.badge else []
    for block in (*page.lead, *page.beside):
        lead += _write_block(block)
    yield from (("", line) for line in lead)
    for section in page.sections:
        yield from ((section.id, line) for line in _write_section(section))
    for drawing in page.stock:
        yield from (("stock", line) for line in _write_drawing(drawing))


def outline_page(page: Page) -> str:
    """One page of the site as text."""
    return "\n".join(line for _, line in list_page_lines(page)) + "\n"


def list_sheet_lines(sheet: Sheet) -> Iterator[str]:
    """Each line of a sheet. A long line is broken inside."""
    yield f"--- SHEET {sheet.number} --- {sheet.title}"
    for line in sheet.under_title:
        yield _wrap(_say(line), "  ", "  ")
    for block in (*sheet.lead, *sheet.beside):
        yield from _write_block(block)
    for section in sheet.sections:
        yield from _write_section(section)


def _write_part(part: Any) -> Iterator[str]:
    """What stands in a part of a leaf, from its first field to its last."""
    if isinstance(part, Drawing):
        yield from _write_drawing(part)
    elif isinstance(part, str):
        yield _wrap(part, "  ", "    ")
    elif isinstance(part, tuple) and part and all(isinstance(run, Run) for run in part):
        yield _wrap(_say(part), "  ", "    ")
    elif isinstance(part, tuple) and part and all(isinstance(word, str) for word in part):
        yield _wrap(" | ".join(part), "  ", "    ")
    elif isinstance(part, tuple):
        for item in part:
            yield from _write_part(item)
    elif is_record(part):
        for _, value in parts_of(part):
            yield from _write_part(value) if value not in ("", (), None) else ()


def list_leaf_lines(leaf: Leaf) -> list[str]:
    """A leaf as lines of text: its two sides, part by part."""
    lines = [f"=== LEAF === {leaf.kind}"]
    for name, side in (("front", leaf.front), ("back", leaf.back)):
        lines.append(f"--- {name}")
        for block in (*side.blocks, *((side.help,) if side.help else ())):
            lines += [f"[{type(block).__name__.lower()}]", *_write_part(block)]
        lines += ["[foot]", *_write_part(side.foot)] if side.foot else []
    return lines


def outline_handout(handout: Handout) -> str:
    """A handout as text."""
    size = f"{handout.paper}, {handout.print_size} pt"
    lines = [
        f"=== HANDOUT {handout.file_stem} === {handout.title} ({size})",
        f"head: {handout.head}",
        f"foot: {handout.foot}",
    ]
    for leaf in handout.leaves:
        lines += list_leaf_lines(leaf)
    for sheet in handout.sheets:
        lines += list_sheet_lines(sheet)
    return "\n".join(lines) + "\n"
