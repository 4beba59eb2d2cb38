"""What a clinician encloses with a leaf: how to tape and train, a diary, the grips in pictures, what is hurt."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import timedelta

from fingerpost.model.case import EnclosureName
from fingerpost.model.shared import Taping
from fingerpost.model.times import write_date
from fingerpost.plan.base.blocks import Beside, Block, Paragraph, Section, Words, strong, text
from fingerpost.plan.base.checked import checked_line, closing_words
from fingerpost.plan.base.illustrate import (
    diary_drawing,
    finger_name,
    grip_gallery,
    inside_drawing,
)
from fingerpost.plan.base.paper import Sheet
from fingerpost.plan.base.parts import (
    exercise_blocks,
    labelled,
    leaves_all,
    list_tapings,
    paragraph,
    tape_check,
    taping_card,
)
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.tape_pictures import lies_there, tape_drawing, tape_frames
from fingerpost.plan.case.situation import Situation, is_first_visit
from fingerpost.plan.person.sheet_parts import (
    TAPE_MM,
    closing_sections,
    diary,
    section,
)
from fingerpost.plan.person.strength import load_line, strength_blocks
from fingerpost.plan.person.tape_cuts import buddy_of, cut_block, strip_size
from fingerpost.plan.person.way_back import diary_date

DIARY_DAYS = 14
CHART_MM = 160.0


def _whose(writer: Writer, situation: Situation) -> tuple[Words, ...]:
    """Whose sheet it is and who checked it, on every sheet: loose sheets get mixed up."""
    case = situation.case
    who = f"{case.name} ({case.reference})" if case.name else case.reference
    whose = text(writer.say("line-person", who=who, date=write_date(situation.today)))
    line = checked_line(writer, case)
    return (whose, line) if case.checked else (line, whose)


def _title(writer: Writer, situation: Situation, id: str) -> str:
    return writer.say(
        f"title-sheet-{id}",
        name=situation.protocol.plain_name,
        hand=situation.case.hand,
        finger=finger_name(writer, situation.case.finger),
    )


def _taping(writer: Writer, situation: Situation, taping: Taping) -> Section:
    case = situation.case
    buddy = buddy_of(situation, taping)
    partner = buddy.partner if buddy else None
    frames = tape_frames(writer, taping, case.hand, case.finger, partner, strip_size(situation, taping))
    blocks: list[Block] = [paragraph(writer, taping.purpose)]
    if buddy:
        says = writer.say(
            f"buddy-{buddy.reason}",
            finger=finger_name(writer, buddy.finger),
            partner=finger_name(writer, buddy.partner),
        )
        blocks.append(Paragraph(words=strong(says)))
    cuts = cut_block(writer, situation, taping)
    blocks += [cuts] if cuts else []
    steps = (*taping_card(writer, taping), tape_check(writer, taping))
    if frames:
        blocks += [frames, *steps]
    elif not lies_there(taping, situation.place):
        blocks += steps
    else:
        picture = tape_drawing(writer, taping, case.hand, case.finger, partner, width_mm=TAPE_MM)
        blocks.append(Beside(drawing=picture, blocks=steps))
    return Section(id=f"tape-{taping.id}", heading=taping.name, level=3, blocks=tuple(blocks))


def chosen_tapings(writer: Writer, situation: Situation) -> tuple[Taping, ...]:
    """Those of the stage's tapings that the clinician chose; where nothing was chosen, all that need no choice."""
    fitting = list_tapings(writer, situation.stage)
    chosen = {*situation.case.tapings}
    if situation.case.tape_allergy:
        chosen |= {t.without_glue for t in writer.library.vocabularies.tapings if t.id in chosen and t.without_glue}
    if chosen:
        return tuple(t for t in fitting if t.id in chosen)
    asked = {use.taping for use in situation.stage.taping if use.by_choice}
    return tuple(t for t in fitting if t.id not in asked)


def _tape_sections(writer: Writer, situation: Situation) -> list[Section]:
    tapings = chosen_tapings(writer, situation)
    if not tapings:
        return []
    allergy = paragraph(writer, writer.say("tape-allergy")) if situation.case.tape_allergy else None
    return [section(writer, "tape", allergy), *(_taping(writer, situation, t) for t in tapings)]


def _exercise_sections(writer: Writer, situation: Situation) -> list[Section]:
    known = {e.id: e for e in writer.library.vocabularies.exercises}
    doses = situation.stage.exercises
    if not doses:
        return []
    parts = [section(writer, "exercises", paragraph(writer, writer.say("exercises-intro")))]
    for dose in doses:
        exercise = known[dose.exercise]
        mine = labelled(writer.say("label-your-load"), load_line(writer, situation, dose)) if exercise.loaded else ()
        parts.append(
            Section(
                id=f"exercise-{exercise.id}",
                heading=exercise.name,
                level=3,
                blocks=exercise_blocks(writer, exercise, dose, brief=True, mine=mine),
            )
        )
    return parts


def _diary_sheet(writer: Writer, situation: Situation, number: int) -> Sheet:
    days = [diary_date(situation.today + timedelta(days=n)) for n in range(DIARY_DAYS)]
    most = situation.stage.pain.most
    sections = (
        section(writer, "diary", diary(writer, days, charted=True, loaded=situation.stage.load is not None)),
        section(writer, "chart", diary_drawing(writer, tuple(d.split()[1] for d in days), most, CHART_MM)),
    )
    return Sheet(
        number=number,
        title=_title(writer, situation, "diary"),
        under_title=_whose(writer, situation),
        lead=(),
        beside=(),
        sections=sections,
    )


def _sheet(writer: Writer, situation: Situation, number: int, name: str, *sections: Section) -> Sheet | None:
    """A sheet of its own for what is enclosed; None where nothing stands on it."""
    kept = tuple(s for s in sections if s.blocks or s.level == 2)
    if not any(s.blocks for s in kept):
        return None
    return Sheet(
        number=number,
        title=_title(writer, situation, name),
        under_title=_whose(writer, situation),
        lead=(),
        beside=(),
        sections=kept,
    )


def _tape_sheet(writer: Writer, situation: Situation, number: int) -> Sheet | None:
    return _sheet(writer, situation, number, "tape", *_tape_sections(writer, situation))


def _exercise_sheet(writer: Writer, situation: Situation, number: int) -> Sheet | None:
    return _sheet(writer, situation, number, "exercises", *_exercise_sections(writer, situation))


def _grip_sheet(writer: Writer, situation: Situation, number: int) -> Sheet | None:
    """Every grip as a picture; none where all are left, because twelve of the same sign say no more than two words."""
    if leaves_all(situation.stage):
        return None
    gallery = grip_gallery(writer, situation.stage, writer.say("caption-grip-pictures"))
    why = Paragraph(words=labelled(writer.say("label-why"), writer.words(situation.protocol.grip_rule)))
    return _sheet(writer, situation, number, "grips", section(writer, "grip-pictures", gallery, why))


def _about_sheet(writer: Writer, situation: Situation, number: int) -> Sheet | None:
    """What is hurt, what was measured, the words, and where the figures are from."""
    case = situation.case
    inside = inside_drawing(writer, situation.protocol, situation.place, case.hand, case.finger, case.side)
    what = section(
        writer,
        "injury",
        paragraph(writer, situation.protocol.summary),
        inside,
        paragraph(writer, situation.grade.plain),
        paragraph(writer, situation.protocol.if_nothing_is_done),
    )
    strength = () if situation.hold else strength_blocks(writer, situation)
    sections = tuple(s for s in (what, section(writer, "strength", *strength)) if s.blocks)
    closing = closing_sections(writer, situation.protocol, sections, closing_words(writer, case), personal=True)
    return _sheet(writer, situation, number, "about", *sections, *closing)


_MAKERS: Mapping[EnclosureName, Callable[[Writer, Situation, int], Sheet | None]] = {
    "tape": _tape_sheet,
    "exercises": _exercise_sheet,
    "diary": _diary_sheet,
    "grips": _grip_sheet,
    "about": _about_sheet,
}


_WITH_A_STOP: tuple[EnclosureName, ...] = ("about",)


def list_enclosures(situation: Situation) -> tuple[EnclosureName, ...]:
    """What is enclosed: as chosen; else how to tape and train in a new stage, and at the first visit what is hurt.

    Whoever has to stop gets nothing to do, whatever was chosen: only what is hurt.
    """
    case = situation.case
    if case.enclose is not None:
        may = _WITH_A_STOP if situation.hold else tuple(_MAKERS)
        return tuple(name for name in may if name in case.enclose)
    if situation.hold:
        return ()
    begun = next((b.date for b in case.began if b.stage == case.stage), None)
    new = begun is None or begun.day >= situation.today
    first: tuple[EnclosureName, ...] = ("about",) if is_first_visit(case) and new else ()
    return ("tape", "exercises", *first) if new else ()


def plan_enclosures(writer: Writer, situation: Situation) -> tuple[Sheet, ...]:
    """The sheets that go with the leaf, each on paper of its own. What would be empty is left out."""
    sheets: list[Sheet] = []
    for name in list_enclosures(situation):
        if sheet := _MAKERS[name](writer, situation, len(sheets) + 1):
            sheets.append(sheet)
    return tuple(sheets)
