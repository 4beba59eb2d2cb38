"""What a clinician encloses with a leaf: how to tape and train, a diary, the grips in pictures, what is hurt."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from itertools import combinations, pairwise

from fingerpost.model.audience import flat
from fingerpost.model.case import EnclosureName
from fingerpost.model.shared import Exercise, Taping
from fingerpost.model.times import write_date
from fingerpost.model.words import split_sentences
from fingerpost.plan.base.blocks import Beside, Block, Bullets, Gallery, Paragraph, Section
from fingerpost.plan.base.checked import checked_line
from fingerpost.plan.base.illustrate import (
    diary_drawing,
    finger_name,
    grip_gallery,
    inside_drawing,
)
from fingerpost.plan.base.paper import Sheet
from fingerpost.plan.base.parts import (
    bullets,
    exercise_blocks,
    labelled,
    leaves_all,
    list_tapings,
    paragraph,
    tape_check,
    tape_materials,
)
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, plain, strong, text
from fingerpost.plan.base.step_pictures import exercise_gallery, lies_there, mistakes_drawing, movement_key, tape_steps
from fingerpost.plan.base.visible import list_marks, list_words
from fingerpost.plan.case.situation import Situation, is_beginning, is_first_visit
from fingerpost.plan.person.sheet_parts import (
    closing_sections,
    diary,
    section,
)
from fingerpost.plan.person.strength import load_line, strength_blocks
from fingerpost.plan.person.tape_cuts import buddy_of, cut_block, put_on
from fingerpost.plan.person.way_back import diary_date
from fingerpost.reckon.visits import find_check, find_current, list_begun

DIARY_DAYS = 14
CHART_MM = 176.0
IN_A_COLUMN = 3
LETTERS_A_LINE, LINES_A_ROW, LINES_A_SIDE = 40, 13, 92
LINES_A_KEY, LINES_A_KEY_ROW, SIGNS_A_ROW = 2, 4, 4
"""What the key of signs takes of both columns below it, and each of its rows."""


def _whose(writer: Writer, situation: Situation) -> tuple[Words, ...]:
    """Whose sheet it is and who checked it, on every sheet: loose sheets get mixed up."""
    case = situation.case
    who = f"{case.name} ({case.reference})" if case.name else case.reference
    whose = text(writer.say("line-person", who=who, date=write_date(situation.today)))
    line = checked_line(writer, case)
    return (whose, line) if find_check(case) else (line, whose)


def _sheet(
    writer: Writer,
    situation: Situation,
    name: EnclosureName,
    sections: Iterable[Section],
    lead: Iterable[Block] = (),
    /,
    **gaps: str,
) -> Sheet:
    """A sheet of its own for what is enclosed, without what would be empty."""
    return Sheet(
        number=1,
        name=name,
        title=writer.say(f"title-sheet-{name}", **gaps),
        under_title=_whose(writer, situation),
        lead=tuple(lead),
        sections=tuple(s for s in sections if s.blocks),
    )


def _tape_sheet(writer: Writer, situation: Situation, taping: Taping) -> Sheet:
    """One taping on one side: what to cut, each step as a picture with its words, the check, the mistakes."""
    case, worn = situation.case, put_on(situation, taping)
    lead: list[Block] = [paragraph(writer, writer.say("tape-allergy"))] if case.tape_allergy else []
    lead.append(paragraph(writer, taping.purpose))
    if buddy := buddy_of(situation, taping):
        says = writer.say(
            f"buddy-{buddy.reason}",
            finger=finger_name(writer, buddy.finger),
            partner=finger_name(writer, buddy.partner),
        )
        lead.append(Paragraph(words=strong(says)))
    steps: Block
    drawn = lies_there(taping, situation.place)
    if drawn:
        steps = replace(tape_steps(writer, worn), caption="")
        wrong: Block = mistakes_drawing(writer, worn)
    else:
        steps = bullets(writer, [step.says for step in taping.steps], steps=True)
        wrong = bullets(writer, taping.mistakes, title=writer.say("tape-mistakes-title"))
    lead.append(tape_materials(writer, taping))
    cut = cut_block(writer, situation, taping, drawn=drawn)
    lead += [cut] if cut else []
    box = tape_check(writer, taping)
    *checks, off = box.lines
    sections = (
        section(writer, "tape-steps", steps, hand=case.hand),
        Section(id="tape-check", heading=box.title, blocks=(Bullets(items=tuple(checks)), Paragraph(words=off), wrong)),
    )
    return _sheet(writer, situation, "tape", sections, lead, taping=taping.name)


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


def _tape_sheets(writer: Writer, situation: Situation) -> tuple[Sheet, ...]:
    return tuple(_tape_sheet(writer, situation, taping) for taping in chosen_tapings(writer, situation))


def _stops_of_all(exercises: Iterable[Exercise]) -> tuple[str, ...]:
    """When to stop, as far as several exercises of a sheet say it in the same words: it is said once, above them."""
    every = Counter(sentence for exercise in exercises for sentence in split_sentences(flat(exercise.stop_if)))
    return tuple(sentence for sentence, times in every.items() if times > 1)


def _exercise_sheets(writer: Writer, situation: Situation) -> tuple[Sheet, ...]:
    known = {e.id: e for e in writer.library.vocabularies.exercises}
    parts = []
    stops = _stops_of_all(known[dose.exercise] for dose in situation.stage.exercises)
    # What has no picture comes last: its side may be the emptier one.
    for dose in sorted(situation.stage.exercises, key=lambda dose: known[dose.exercise].picture is None):
        exercise = known[dose.exercise]
        mine = labelled(writer.say("label-your-load"), load_line(writer, situation, dose)) if exercise.loaded else ()
        shown = exercise_gallery(writer, exercise, situation.case.hand, situation.case.finger, dose)
        blocks = exercise_blocks(writer, exercise, dose, shown, brief=True, mine=mine, told=stops)
        parts.append(Section(id=f"exercise-{exercise.id}", heading=exercise.name, blocks=blocks))
    if not parts:
        return ()
    hand = Paragraph(words=text(writer.say("exercise-frames", hand=situation.case.hand)))
    stop = Paragraph(words=labelled(writer.say("label-stop-any-if"), writer.words(" ".join(stops))))
    key = movement_key(writer, (known[dose.exercise] for dose in situation.stage.exercises))
    lead = (hand, *((key,) if key else ()), *((stop,) if stops else ()))
    sheet = _sheet(writer, situation, "exercises", parts, lead)
    first, *others = (_count_lines(part) for part in parts)
    above = LINES_A_KEY + LINES_A_KEY_ROW * -(-len(key.drawings) // SIGNS_A_ROW) if key else 0
    return (replace(sheet, turns=tuple(parts[at].id for at in _turn([first + above, *others]))),)


def _count_lines(section: Section) -> int:
    """How many lines of a column a section takes, about: its heading as two, rows of pictures, and each text with its
    broken words."""
    shown = [block for block in section.blocks if isinstance(block, Gallery)]
    said = [words for block in section.blocks if block not in shown for words in list_words(block)]
    rows = sum(-(-len(gallery.drawings) // IN_A_COLUMN) for gallery in shown)
    return 2 + LINES_A_ROW * rows + sum(1 + len(plain(words)) // LETTERS_A_LINE for words in said)


def _turn(heights: Sequence[int]) -> tuple[int, ...]:
    """Where a new side begins: sides are as few as can be, as full as each other, and break nothing apart."""
    sides = -(-sum(heights) // LINES_A_SIDE)
    parted = combinations(range(1, len(heights)), min(sides, len(heights)) - 1)

    def fullest(at: tuple[int, ...]) -> int:
        return max(sum(heights[a:b]) for a, b in pairwise((0, *at, len(heights))))

    return min(parted, key=fullest)


def _diary_sheets(writer: Writer, situation: Situation) -> tuple[Sheet, ...]:
    """What is written down each day, and under it the chart of the same days."""
    days = [diary_date(situation.today + timedelta(days=n)) for n in range(DIARY_DAYS)]
    chart = diary_drawing(writer, tuple(d.rsplit(" ", 1)[0] for d in days), situation.stage.pain.most, CHART_MM)
    loaded = situation.stage.load is not None
    rows = diary(writer, days, charted=True, loaded=loaded, units=situation.case.units)
    return (_sheet(writer, situation, "diary", (section(writer, "chart", chart),), (rows,)),)


def _grip_sheets(writer: Writer, situation: Situation) -> tuple[Sheet, ...]:
    """Every grip as a picture; none where all are left, because twelve of the same sign say no more than two words."""
    if leaves_all(situation.stage):
        return ()
    caption, case = writer.say("caption-grip-pictures"), situation.case
    gallery = grip_gallery(writer, situation.stage, caption, case.hand, case.finger)
    why = Paragraph(words=labelled(writer.say("label-why"), writer.words(situation.protocol.grip_rule)))
    return (_sheet(writer, situation, "grips", (), (gallery, why)),)


def _about_sheets(writer: Writer, situation: Situation) -> tuple[Sheet, ...]:
    """What is hurt, what was measured, the words, and where the figures are from.

    What else comes of it and the questions stand on the leaf of whoever stops, and the questions on a first one, too.
    """
    case, protocol = situation.case, situation.protocol
    comes = () if situation.hold else (protocol.if_nothing_is_done,)
    says = tuple(paragraph(writer, t) for t in (protocol.summary, situation.grade.plain, *comes))
    inside = inside_drawing(writer, protocol, situation.place, case.hand, case.finger, case.side, grade=situation.grade)
    what = section(writer, "injury", *([Beside(drawing=inside, blocks=says)] if inside else says))
    strength = section(writer, "strength", *(() if situation.hold else strength_blocks(writer, situation)))
    asked = bool(situation.hold) or is_beginning(situation)
    unfit = text(writer.say("closing-unfit"))
    closing = closing_sections(writer, protocol, (what, strength), unfit, personal=True, asked=asked)
    return (_sheet(writer, situation, "about", (what, strength, *closing), name=protocol.plain_name),)


_MAKERS: Mapping[EnclosureName, Callable[[Writer, Situation], tuple[Sheet, ...]]] = {
    "tape": _tape_sheets,
    "exercises": _exercise_sheets,
    "diary": _diary_sheets,
    "grips": _grip_sheets,
    "about": _about_sheets,
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
    stages = [stage.id for stage in situation.stages]
    told = list_begun(case, stages, situation.today)
    begun = next((b.date.day for _, b in told if b.stage == case.stage), None)
    printed = find_current(case, situation.today)
    new = begun is None or begun >= (printed.date.day if printed else situation.today)
    first: tuple[EnclosureName, ...] = ("about",) if is_first_visit(case, situation.today) and new else ()
    return ("tape", "exercises", *first) if new else ()


def plan_enclosures(writer: Writer, situation: Situation) -> tuple[Sheet, ...]:
    """The sheets that go with the leaf, each on paper of its own. What would be empty is left out.

    Marks are explained on the sheet about the injury, and without it on each sheet that has any.
    """
    names = list_enclosures(situation)
    sheets = [sheet for name in names for sheet in _MAKERS[name](writer, situation)]
    if "about" not in names:
        sheets = [replace(sheet, foot=writer.explain_marks(list_marks(sheet))) for sheet in sheets]
    return tuple(replace(sheet, number=number) for number, sheet in enumerate(sheets, 1))
