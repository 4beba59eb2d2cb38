"""A leaf as lines and pictures, each in the section that it stands for: week rows as exercises, ticks as gates."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.paper import (
    Ahead,
    Ask,
    GripField,
    GripFields,
    Headline,
    HelpBox,
    Leaf,
    Note,
    Points,
    Rows,
    Since,
    Strip,
    TapeHow,
    Ticks,
    Verdict,
    Week,
)
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, plain

FRONT, BACK = 1, 2
SIDES = 2
"""The sheets of a handout are counted on from the sides of its leaf."""
Part = tuple[str, str, "str | Drawing"]
"""The section, the kind of text, and the text; or a drawing, whose kind is ''."""
_HEADINGS = {
    "leaf-about": "what",
    "leaf-until-visit": "day",
    "leaf-questions": "questions",
    "leaf-until-then": "until-seen",
    "leaf-why": "lead",
    "leaf-words": "words",
    "sheet-if-nothing": "if-nothing",
    "leaf-see": "who",
    "leaf-later": "who",
}


def list_parts(writer: Writer, leaf: Leaf, exercises: tuple[str, ...]) -> Iterator[tuple[int, Part]]:
    """Everything on a leaf, with its side. `exercises`: the ids of those of the stage, in order."""
    named = {writer.say(name): section for name, section in _HEADINGS.items()}
    for number, side in ((FRONT, leaf.front), (BACK, leaf.back)):
        for block in (*side.blocks, *((side.help,) if side.help else ())):
            yield from ((number, part) for part in _parts(block, named, exercises))
        if side.foot:
            yield number, ("sources", "text", plain(side.foot))


def _parts(block: Any, named: dict[str, str], exercises: tuple[str, ...]) -> Iterator[Part]:
    match block:
        case Strip():
            yield from (("under-title", "text", words) for words in (block.specimen, plain(block.left)))
            yield "under-title", "text", plain(block.right)
        case Headline():
            yield "title", "title", block.heading
            yield from (("under-title", "text", plain(line)) for line in block.lines)
            yield from _drawn("beside", block.hand, block.bar)
            if block.visit:
                yield "visit", "text", " ".join((block.visit.label, *block.visit.day))
        case Verdict():
            yield from (("verdict", "text", says) for says in block.says)
        case GripFields():
            yield from _grips(block)
        case Note():
            yield "note", "text", plain(block.words)
        case Since():
            yield "since", "text", plain(block.words)
        case Week():
            yield from _week(block, exercises)
        case HelpBox():
            yield "help", "head", block.heading
            yield "help", "item", plain(block.first)
            for group in block.groups:
                yield "help", "head", plain(group.heading)
                yield from _items("help", group.signs)
        case Points():
            section = named.get(block.heading, "day")
            yield from _headed(section, block)
            yield from _items(section, (*block.lead, *block.items))
            yield from _drawn("beside" if block.beside else section, block.beside, block.below)
        case Rows():
            section = named.get(block.heading, "who")
            yield from _headed(section, block)
            yield from ((section, "item", f"{label}: {plain(words)}") for label, words in block.rows)
        case TapeHow():
            yield from _tape(block)
        case Ticks():
            yield from _headed("gate", block)
            yield "gate", "head", block.you_heading if block.you else ""
            yield from _items("gate", block.you)
            yield "gate-clinic", "head", block.clinic_heading if block.clinic else ""
            yield from _items("gate-clinic", block.clinic)
            yield from _drawn("gate-clinic", block.bars)
            yield "gate-clinic", "text", plain(block.bars_words)
        case Ahead():
            yield from _headed("dates", block)
            yield from _drawn("dates", block.path)
            yield from (("dates", "cell", f"{name}: {plain(when)}") for name, when in block.rows)
            yield "dates", "text", plain(block.words)
        case Ask():
            yield from (("closing", "head", says) for says in (block.heading, block.more_heading))
            yield "closing", "help", f"{plain(block.more)} {block.address}".strip()


def _headed(section: str, block: Any) -> Iterator[Part]:
    yield section, "heading", block.heading
    yield section, "text", plain(block.aside)


def _items(section: str, items: tuple[Words, ...]) -> Iterator[Part]:
    return ((section, "item", plain(item)) for item in items)


def _drawn(section: str, *drawings: Drawing | None) -> Iterator[Part]:
    return ((section, "", drawing) for drawing in drawings if drawing)


def _grips(block: GripFields) -> Iterator[Part]:
    for field in block.fields:
        yield "grips", "head", field.heading
        yield "grips", "grip", plain(field.names)
        yield "grips", "when", plain(field.when)
        yield from _drawn("grip-pictures", *field.pictures)


def _week(block: Week, exercises: tuple[str, ...]) -> Iterator[Part]:
    """The name of an exercise is a heading, and what stands behind it is told by sentences of its own."""
    yield from _headed("week", block)
    for at, row in enumerate(block.rows):
        section = "written" if row.written or at >= len(exercises) else f"exercise-{exercises[at]}"
        name, rest = row.words[:1], row.words[1:]
        yield section, "head" if row.written else "heading", plain(name).strip().rstrip(".")
        yield section, "item", plain(rest).strip()
        yield section, "item", plain(row.cue)


def _tape(block: TapeHow) -> Iterator[Part]:
    section = f"tape-{block.name}"
    yield from _headed(section, block)
    yield from ((section, "item", plain(words)) for words in (block.cut, block.rule))
    yield section, "item", block.true_size
    yield from _drawn(section, block.strips, block.ruler, block.whole, *block.steps)
    yield section, "head", block.check_heading if block.checks else ""
    yield from _items(section, block.checks)
    yield "tape", "item", plain(block.others)


def list_marked_grips(leaf: Leaf, grips: Iterable[str]) -> dict[str, str]:
    """The mark of each grip on a leaf, by its name among `grips`; '' stands for every grip."""
    names = list(grips)
    fields = (f for block in leaf.front.blocks if isinstance(block, GripFields) for f in block.fields)
    return {name: field.mark for field in fields for name in _list_names(field, names) or [""]}


def _list_names(field: GripField, names: list[str]) -> list[str]:
    """The grips of a field: under pictures, or in words, which stand alone or before the condition of each."""
    if field.pictures:
        return [plain(drawing.caption) for drawing in field.pictures]
    said = plain(field.names or tuple(run for run in field.when if run.kind == "strong")).lower()
    return [name for name in names if name.lower() in said]
