"""A case as everything that is told about it: lines of text, each with where it stands and what kind of text it is."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import date
from typing import Any, Literal, NamedTuple

from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.model.protocol import Grade, Protocol, Stage
from fingerpost.model.shared import Structure, Taping
from fingerpost.plan.base.blocks import Beside, Block, Box, Bullets, Diary, Drawing, Gallery, Paragraph, Section, Table
from fingerpost.plan.base.paper import Handout, Leaf, Sheet
from fingerpost.plan.base.parts import list_tapings
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.case.situation import read_situation
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.person.calendar import Event, list_events, write_calendar
from fingerpost.plan.person.coach import CoachSheet, plan_coach_sheet
from fingerpost.plan.person.doubts import find_case_doubts
from sweep.cases import TODAY
from sweep.enclosed import find_subject, list_blocks
from sweep.leaves import SIDES, list_marked_grips, list_parts
from sweep.sayings import find_sayings

Kind = Literal["title", "heading", "text", "item", "head", "cell", "help", "grip", "when", "caption", "alt", "drawn"]
BACKGROUND = frozenset({"lead", "words", "sources", "about", "injury"})
"""General explanation, meant for anybody with this injury."""
_SEEN = frozenset(
    {
        "label",
        "labels",
        "hurt_label",
        "hand_name",
        "finger_names",
        "caption",
        "notes",
        "word",
        "name",
        "names",
        "arms",
        "gate",
        "what",
        "date",
        "here",
        "days",
        "signs",
        "limit_word",
        "pain_word",
        "posts",
        "flags",
        "spots",
    }
)
"""Fields of pictures whose words are drawn."""


class Line(NamedTuple):
    """One text. `sheet` 0 is the frame round all sheets, 1 and 2 are the sides of the leaf, then come the enclosures.

    `section` is its id, or title, under-title, lead, beside.
    """

    sheet: int
    section: str
    kind: Kind
    text: str


class Piece(NamedTuple):
    """One block, with where it stands."""

    sheet: int
    section: str
    block: Any


@dataclass(frozen=True)
class Facts:
    """What is true of a person, whatever the sheets say."""

    case: Case
    library: Library
    protocol: Protocol
    grade: Grade
    stage: Stage
    stages: tuple[Stage, ...]
    place: Structure
    hold: str

    @property
    def leaves_all(self) -> bool:
        return not self.stage.grips.keep and not self.stage.grips.limit

    @property
    def tapings(self) -> Mapping[str, str]:
        """The id of each taping by its name, which is the title of the sheet about it."""
        return {t.name: t.id for t in self.library.vocabularies.tapings}

    @property
    def left(self) -> frozenset[str]:
        """The ids of grips that today's stage leaves."""
        return frozenset(self.stage.grips.leave)

    def fitting(self, stage: Stage | None = None) -> tuple[Taping, ...]:
        """The tapings of a stage (today's) that are for this person, but for those that need a choice."""
        today = stage or self.stage
        kept = replace(today, taping=tuple(use for use in today.taping if not use.by_choice))
        return list_tapings(Writer(self.library), kept)


@dataclass(frozen=True)
class Told:
    """All that is told about one case. Made by `tell`; a specimen changes one part with `with_parts`."""

    facts: Facts
    handout: Handout
    coach: CoachSheet | None
    events: tuple[Event, ...]
    calendar: str
    doubts: tuple[tuple[str, str], ...]
    pieces: tuple[Piece, ...]
    lines: tuple[Line, ...]
    coach_lines: tuple[Line, ...]
    sections: frozenset[str]
    said: Mapping[str, tuple[tuple[Line, str], ...]]

    def says(
        self,
        name: str,
        only: Collection[str] = (),
        but: Collection[str] = (),
        kinds: Collection[str] = (),
        fits: Callable[[str], bool] = lambda section: True,
    ) -> Iterator[tuple[Line, str]]:
        """The sentences of the handout with a saying, each with its line: in some sections, of some kinds."""
        for line, sentence in self.said.get(name, ()):
            here = line.section
            if (not only or here in only) and here not in but and (not kinds or line.kind in kinds) and fits(here):
                yield line, sentence

    def section(self, id: str) -> tuple[Line, ...]:
        return tuple(line for line in self.lines if line.section == id)

    @property
    def leaf(self) -> Leaf | None:
        """The leaf of the person; none where a specimen has taken it away."""
        return next(iter(self.handout.leaves), None)

    def leaf_blocks(self, kind: type) -> Iterator[Any]:
        """The parts of the leaf of a kind, front before back."""
        if self.leaf:
            every = (*self.leaf.front.blocks, self.leaf.front.help, *self.leaf.back.blocks)
            yield from (block for block in every if isinstance(block, kind))

    @property
    def marked(self) -> dict[str, str]:
        """The mark of each grip by its name: on the leaf, or in a list of grips."""
        names = [grip.name for grip in self.facts.library.vocabularies.grips]
        found = list_marked_grips(self.leaf, names) if self.leaf else {}
        if "" in found:
            found = dict.fromkeys(names, found[""])
        return found

    def trained_grip(self, section: str) -> str:
        """The id of the grip that the dose in the section of an exercise is printed with, or ''."""
        doses = [line.text for line in self.section(section) if ". " in line.text and "rip: " in line.text]
        said = doses[0].partition("rip: ")[2].partition(".")[0] if doses else ""
        return next((g.id for g in self.facts.library.vocabularies.grips if g.name.lower() == said.lower()), "")

    def blocks(self, kind: type) -> Iterator[tuple[Piece, Any]]:
        return ((piece, piece.block) for piece in self.pieces if isinstance(piece.block, kind))

    def pictures(self, kind: type) -> Iterator[tuple[Piece, Any]]:
        """The pictures of a kind, each with where it stands."""
        for piece, drawing in self.blocks(Drawing):
            if isinstance(drawing.picture, kind):
                yield piece, drawing.picture


def tell(library: Library, case: Case, today: date = TODAY) -> Told:
    """Plan everything about a case that `find_case_findings` has nothing against."""
    situation = read_situation(case, library, today)
    facts = Facts(
        case,
        library,
        situation.protocol,
        situation.grade,
        situation.stage,
        situation.stages,
        situation.place,
        situation.hold,
    )
    doubts = tuple(
        (".".join(map(str, path)), f"{says} {hint}") for path, says, hint in find_case_doubts(case, library, today)
    )
    coach = plan_coach_sheet(library, case, today) if case.share_with_coach else None
    events = list_events(library, case, today)
    return put_together(
        facts, plan_handout(library, case, today), coach, events, write_calendar(library, case, today), doubts
    )


def put_together(
    facts: Facts,
    handout: Handout,
    coach: CoachSheet | None,
    events: tuple[Event, ...],
    calendar: str,
    doubts: tuple[tuple[str, str], ...],
) -> Told:
    pieces = (*_leaf_pieces(facts, handout), *_list_pieces(facts, handout))
    lines = (*_frame(handout), *_leaf_lines(facts, handout), *_list_lines(facts, handout))
    said: dict[str, list[tuple[Line, str]]] = {}
    for line in lines:
        for sentence, names in find_sayings(line.text):
            for name in names:
                said.setdefault(name, []).append((line, sentence))
    index = {name: tuple(found) for name, found in said.items()}
    coach_lines = tuple(_list_coach_lines(coach)) if coach else ()
    sections = frozenset(line.section for line in lines)
    return Told(facts, handout, coach, events, calendar, doubts, pieces, lines, coach_lines, sections, index)


def with_parts(told: Told, **changed: Any) -> Told:
    """The same with other parts: facts, handout, coach, events, calendar or doubts."""
    names = ("facts", "handout", "coach", "events", "calendar", "doubts")
    return put_together(**({name: getattr(told, name) for name in names} | changed))


def with_case(told: Told, **changed: Any) -> Told:
    """The same sheets in the hands of somebody else."""
    return with_parts(told, facts=replace(told.facts, case=replace(told.facts.case, **changed)))


# ------------------------------------------------------------------ blocks and lines


def _frame(handout: Handout) -> Iterator[Line]:
    for words in (handout.title, handout.head, handout.foot, handout.notes):
        if words:
            yield Line(0, "frame", "title", words)


def _leaf_parts(facts: Facts, handout: Handout) -> Iterator[tuple[int, str, str, Any]]:
    exercises = tuple(dose.exercise for dose in facts.stage.exercises)
    for leaf in handout.leaves:
        for side, (section, kind, part) in list_parts(Writer(facts.library), leaf, exercises):
            yield side, section, kind, part


def _leaf_pieces(facts: Facts, handout: Handout) -> Iterator[Piece]:
    for side, section, _, part in _leaf_parts(facts, handout):
        if isinstance(part, Drawing):
            yield Piece(side, section, part)


def _leaf_lines(facts: Facts, handout: Handout) -> Iterator[Line]:
    for side, section, kind, part in _leaf_parts(facts, handout):
        if isinstance(part, Drawing):
            yield from _lines_of(side, section, (part,))
        elif part:
            yield Line(side, section, kind, part)  # type: ignore[arg-type]


def _list_pieces(facts: Facts, handout: Handout) -> Iterator[Piece]:
    for sheet in handout.sheets:
        for section, block in list_blocks(facts.tapings, sheet):
            yield from _spread(sheet.number + SIDES, section, block)


def _spread(sheet: int, section: str, block: Block) -> Iterator[Piece]:
    """A block, and those inside it."""
    if isinstance(block, Beside):
        for part in (block.drawing, *block.blocks):
            yield Piece(sheet, section, part)
        return
    yield Piece(sheet, section, block)
    if isinstance(block, Gallery):
        for drawing in block.drawings:
            yield Piece(sheet, section, drawing)


def _list_lines(facts: Facts, handout: Handout) -> Iterator[Line]:
    for sheet in handout.sheets:
        number = sheet.number + SIDES
        yield Line(number, "title", "title", sheet.title)
        for words in sheet.under_title:
            yield Line(number, "under-title", "text", plain(words))
        for section in sheet.sections:
            yield Line(number, find_subject(facts.tapings, sheet, section.id), "heading", section.heading)
        for about, block in list_blocks(facts.tapings, sheet):
            yield from _lines_of(number, about, (block,))


def _lines_of(sheet: int, section: str, blocks: tuple[Block, ...]) -> Iterator[Line]:
    for block in blocks:
        for kind, words in _texts(block):
            if words:
                yield Line(sheet, section, kind, words)


def _texts(block: Any) -> Iterator[tuple[Kind, str]]:
    match block:
        case Paragraph():
            yield "text", plain(block.words)
        case Bullets():
            yield "head", block.title
            yield from (("item", plain(item)) for item in block.items)
        case Table():
            yield "caption", block.caption
            yield from (("head", head) for head in block.head)
            yield from (("cell", plain(cell)) for row in block.rows for cell in row)
        case Box():
            yield "head", block.title
            yield from (("item", plain(line)) for line in block.lines)
            for title, lines in block.groups:
                yield "head", title
                yield from (("item", plain(line)) for line in lines)
        case Drawing():
            yield "alt", block.picture.title
            yield from (("drawn", words) for words in _drawn(block.picture))
            yield "caption", plain(block.caption)
        case Diary():
            yield "caption", block.caption
            yield "help", plain(block.help)
            yield from (("head", head) for head in block.head)
            yield from (("cell", first) for first in block.first_column)
        case Beside():
            yield from _texts(block.drawing)
            for part in block.blocks:
                yield from _texts(part)
        case Gallery():
            yield "caption", block.caption
            for drawing in block.drawings:
                if block.steps:  # what is done, in words
                    yield "item", plain(drawing.caption)
                yield from _texts(replace(drawing, caption=()) if block.steps else drawing)
        case _:
            yield from (("text", words) for words in _strings(block))


def _drawn(picture: Any) -> Iterator[str]:
    """The words in a picture that a reader sees."""
    for field in fields(picture):
        if field.name in _SEEN:
            value = getattr(picture, field.name)
            yield from _pairs(value) if field.name in ("labels", "finger_names") else _strings(value)


def _pairs(pairs: Any) -> Iterator[str]:
    return (words for _, words in pairs)


def _strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for item in value:
            yield from _strings(item)
    elif is_dataclass(value):
        for field in fields(value):
            if field.name in _SEEN or field.name in ("text", "words", "items", "title"):
                yield from _strings(getattr(value, field.name))


def _list_coach_lines(coach: CoachSheet) -> Iterator[Line]:
    for words in (coach.title, coach.head, coach.foot, coach.stages_heading):
        yield Line(1, "frame", "title", words)
    for under in coach.under_title:
        yield Line(1, "under-title", "text", plain(under))
    for stage in coach.stages:
        yield Line(1, "stages", "item", f"{stage.number}. {stage.name}. {plain(stage.sessions)}")
    parts: tuple[tuple[str, Any], ...] = (
        ("path", coach.path),
        ("grips", coach.grips),
        ("limits", coach.limits),
        ("gates", coach.gates),
        ("notes", coach.notes),
    )
    for name, part in parts:
        for block in part if isinstance(part, tuple) else (part,) if part else ():
            yield from (Line(1, name, kind, words) for kind, words in _texts(block) if words)


def find_section(handout: Handout, id: str) -> tuple[Sheet, Section] | None:
    """A section with its sheet, by its id."""
    return next(((sheet, s) for sheet in handout.sheets for s in sheet.sections if s.id == id), None)
