"""One person's handout: the sheets that a clinician prints from a case."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta

from fingerpost.model.case import Case, SheetName
from fingerpost.model.library import Library
from fingerpost.model.shared import Taping
from fingerpost.model.times import write_date
from fingerpost.plan.base.blocks import (
    Beside,
    Block,
    Bullets,
    Drawing,
    Handout,
    Paragraph,
    Run,
    Section,
    Sheet,
    Words,
    strong,
    text,
)
from fingerpost.plan.base.checked import checked_head, checked_line, closing_words
from fingerpost.plan.base.illustrate import (
    diary_drawing,
    finger_name,
    grip_gallery,
    inside_drawing,
    place_name,
    spot_drawings,
)
from fingerpost.plan.base.parts import (
    bullets,
    exercise_blocks,
    grip_list,
    labelled,
    leaves_all,
    list_tapings,
    paragraph,
    seek_words,
    stage_facts,
    tape_check,
    taping_card,
    warning_box,
)
from fingerpost.plan.base.prose import Writer, capital
from fingerpost.plan.base.tape_pictures import lies_there, tape_drawing, tape_frames
from fingerpost.plan.case.situation import Situation, read_situation
from fingerpost.plan.person.gate_words import next_gate
from fingerpost.plan.person.sheet_parts import (
    HAND_MM,
    PATH_MM,
    TAPE_MM,
    closing_sections,
    diary,
    help_box,
    named_signs,
    section,
    shell,
)
from fingerpost.plan.person.strength import load_line, strength_blocks
from fingerpost.plan.person.tape_cuts import buddy_of, cut_block, strip_size
from fingerpost.plan.person.way_back import dates_box, diary_date, personal_path, window_table

DIARY_DAYS = 14
CHART_MM = 160.0


def name_file(case: Case, version: str) -> str:
    """A file name that tells the protocol and nothing about the person.

    The ending tells two cases apart: the first ten hexadecimal digits of a SHA-256 of the case.
    """
    return f"{case.protocol}_v{version}_{hashlib.sha256(repr(case).encode()).hexdigest()[:10]}"


def _whose(writer: Writer, situation: Situation) -> tuple[Words, ...]:
    """Whose sheet it is and who checked it, on every sheet: loose sheets get mixed up."""
    case = situation.case
    who = f"{case.name} ({case.reference})" if case.name else case.reference
    whose = text(writer.say("line-person", who=who, date=write_date(situation.today)))
    line = checked_line(writer, case)
    return (whose, line) if case.checked else (line, whose)


def _person_lines(writer: Writer, situation: Situation) -> tuple[Words, ...]:
    case = situation.case
    place = place_name(writer, situation.place, case.side)
    what = place if case.grade == "any" else f"{place}, {writer.say('grade-inline', grade=case.grade)}"
    lines = [
        *_whose(writer, situation),
        text(writer.say("line-injury", what=capital(what))),
    ]
    if not situation.hold:
        number = situation.stages.index(situation.stage) + 1
        lines.append(
            text(
                writer.say(
                    "line-stage",
                    number=number,
                    count=len(situation.stages),
                    name=situation.stage.name,
                )
            )
        )
    if case.doctor_cleared:
        lines.append(text(writer.say("line-cleared", date=write_date(date.fromisoformat(case.doctor_cleared)))))
    return tuple(lines)


def _where(writer: Writer, situation: Situation) -> tuple[Drawing, ...]:
    case = situation.case
    caption = writer.say("your-hand-caption", hand=case.hand, finger=finger_name(writer, case.finger))
    return spot_drawings(writer, case.hand, case.finger, [situation.place], case.side, caption, width_mm=HAND_MM)


def _inside(writer: Writer, situation: Situation) -> tuple[Drawing, ...]:
    """The part that is hurt, under the skin; nothing where there is no drawing of it."""
    case = situation.case
    drawing = inside_drawing(writer, situation.protocol, situation.place, case.hand, case.finger, case.side)
    return (drawing,) if drawing else ()


def _title(writer: Writer, situation: Situation, id: str) -> str:
    return writer.say(
        f"title-{id}",
        name=situation.protocol.plain_name,
        hand=situation.case.hand,
        finger=finger_name(writer, situation.case.finger),
    )


def _first_sheet(writer: Writer, situation: Situation) -> Sheet:
    stage, protocol = situation.stage, situation.protocol
    says_why = Paragraph(words=labelled(writer.say("label-why"), writer.words(protocol.grip_rule)))
    why = None if leaves_all(stage) else says_why  # which grip comes back when is for a stage that has some
    sections = [
        section(writer, "grips", grip_list(writer, stage, writer.say("caption-your-grips")), why),
        section(writer, "day", *_day_blocks(writer, situation)),
        section(writer, "help", help_box(writer, protocol, personal=True), _phone(writer, situation)),
    ]
    if not leaves_all(stage):  # twelve pictures of what to leave say no more than two words
        gallery = grip_gallery(writer, stage, writer.say("caption-grip-pictures"))
        sections.append(section(writer, "grip-pictures", gallery))
    return Sheet(
        number=1,
        title=_title(writer, situation, "first"),
        under_title=_person_lines(writer, situation),
        lead=(paragraph(writer, protocol.summary), *_inside(writer, situation)),
        beside=_where(writer, situation),
        sections=tuple(sections),
    )


def _phone(writer: Writer, situation: Situation) -> Paragraph:
    """The clinic's number, or a line to write it on."""
    clinic = situation.case.clinic
    number = strong(f" {clinic.phone}") if clinic and clinic.phone else (Run(" ____", "blank"),)
    return Paragraph(words=(*text(writer.say("clinic-phone")), *number))


def _day_blocks(writer: Writer, situation: Situation) -> tuple[Block, ...]:
    stage = situation.stage
    items = [
        labelled(writer.say("label-aim"), writer.words(stage.aim)),
        *stage_facts(writer, stage),
    ]
    if situation.case.note:
        items.append(labelled(writer.say("label-note"), text(" ".join(situation.case.note.split()))))
    return (Bullets(items=tuple(items)),)


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
        return [section(writer, "tape", paragraph(writer, writer.say("no-tape-now")))]
    allergy = paragraph(writer, writer.say("tape-allergy")) if situation.case.tape_allergy else None
    return [section(writer, "tape", allergy), *(_taping(writer, situation, t) for t in tapings)]


def _exercise_sections(writer: Writer, situation: Situation) -> list[Section]:
    known = {e.id: e for e in writer.library.vocabularies.exercises}
    doses = situation.stage.exercises
    if not doses:
        return [section(writer, "exercises", paragraph(writer, writer.say("no-exercises-now")))]
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


def _tape_and_exercises_sheet(writer: Writer, situation: Situation, number: int) -> Sheet:
    sections = (*_tape_sections(writer, situation), *_exercise_sections(writer, situation))
    return Sheet(
        number=number,
        title=_title(writer, situation, "second"),
        under_title=_whose(writer, situation),
        lead=(),
        beside=(),
        sections=sections,
    )


def _way_back_sheet(writer: Writer, situation: Situation, number: int) -> Sheet:
    lead: tuple[Block, ...] = (paragraph(writer, writer.say("stages-intro-stop")),)
    if situation.way:
        lead = personal_path(writer, situation, situation.way, PATH_MM)
        sections = [
            section(writer, "gate", *next_gate(writer, situation)),
            section(
                writer,
                "dates",
                window_table(writer, situation, situation.way),
                dates_box(writer, situation, situation.way),
            ),
        ]
    else:
        sections = [
            section(writer, "dates", paragraph(writer, writer.say("stop-no-windows"))),
            section(writer, "gate", *next_gate(writer, situation)),
        ]
    sections.append(section(writer, "strength", *strength_blocks(writer, situation)))
    return Sheet(
        number=number,
        title=_title(writer, situation, "third"),
        under_title=_whose(writer, situation),
        lead=lead,
        beside=(),
        sections=tuple(s for s in sections if s.blocks),
    )


def _diary_sheet(writer: Writer, situation: Situation, number: int) -> Sheet:
    days = [diary_date(situation.today + timedelta(days=n)) for n in range(DIARY_DAYS)]
    most = situation.stage.pain.most
    sections = (
        section(writer, "diary", diary(writer, days, charted=True, loaded=situation.stage.load is not None)),
        section(writer, "chart", diary_drawing(writer, tuple(d.split()[1] for d in days), most, CHART_MM)),
    )
    return Sheet(
        number=number,
        title=_title(writer, situation, "fourth"),
        under_title=_whose(writer, situation),
        lead=(),
        beside=(),
        sections=sections,
    )


_MAKERS: Mapping[SheetName, Callable[[Writer, Situation, int], Sheet]] = {
    "tape-and-exercises": _tape_and_exercises_sheet,
    "way-back": _way_back_sheet,
    "diary": _diary_sheet,
}


def _home_sheets(writer: Writer, situation: Situation) -> tuple[Sheet, ...]:
    """The first sheet and those that are not left out. What closes a handout stands on the last, whichever it is."""
    sheets = [_first_sheet(writer, situation)]
    for name, make in _MAKERS.items():
        if name not in situation.case.leave_out:
            sheets.append(make(writer, situation, len(sheets) + 1))
    closing = closing_sections(writer, situation.protocol, sheets, closing_words(writer, situation.case), personal=True)
    return (*sheets[:-1], replace(sheets[-1], sections=(*sheets[-1].sections, *closing)))


def _stop_sheet(writer: Writer, situation: Situation) -> Sheet:
    """Instead of a home programme: stop, who should see it, what to watch."""
    protocol, hold = situation.protocol, situation.hold
    seek = Bullets(items=tuple(seek_words(writer, s) for s in protocol.see_somebody))
    leave = bullets(writer, [line for line in writer.say(f"hold-{hold}-until-then").split("\n") if line.strip()])
    sections = [
        section(writer, "until-seen", leave),
        section(writer, "who", seek),
        section(writer, "help", warning_box(writer, named_signs(protocol))),
    ]
    sections.append(section(writer, "if-nothing", paragraph(writer, protocol.if_nothing_is_done)))
    if situation.case.note:
        sections.append(section(writer, "note", Paragraph(words=text(" ".join(situation.case.note.split())))))
    sheet_lead = (
        Paragraph(words=strong(writer.say(f"hold-{hold}"))),
        paragraph(writer, protocol.summary),
        paragraph(writer, situation.grade.plain) if hold == "surgeon" else None,
    )
    sheet = Sheet(
        number=1,
        title=_title(writer, situation, "stop"),
        under_title=_person_lines(writer, situation),
        lead=tuple(b for b in sheet_lead if b),
        beside=_where(writer, situation),
        sections=tuple(sections),
    )
    return replace(
        sheet,
        sections=(
            *sections,
            *closing_sections(writer, protocol, (sheet,), closing_words(writer, situation.case), personal=True),
        ),
    )


def _letterhead(case: Case, writer: Writer) -> tuple[str, ...]:
    if case.clinic is None:
        return ()
    phone = (writer.say("phone", number=case.clinic.phone),) if case.clinic.phone else ()
    return (case.clinic.name, *case.clinic.lines, *phone)


def plan_handout(library: Library, case: Case, today: date) -> Handout:
    """The sheets for a case that `find_case_findings` has nothing against."""
    situation = read_situation(case, library, today)
    writer = Writer(situation.library, case.clinic.emergency_number if case.clinic else None)
    sheets = (_stop_sheet(writer, situation),) if situation.hold else _home_sheets(writer, situation)
    return shell(
        writer,
        situation.protocol,
        name_file(case, situation.protocol.status.version),
        case.paper,
        case.print_size,
        _letterhead(case, writer),
        sheets,
        checked_head(writer, case),
        unchecked=case.checked is None,
    )
