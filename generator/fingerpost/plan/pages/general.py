"""General sheets of a protocol: not for one person, so with times instead of dates and every stage on paper."""

from __future__ import annotations

from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.words import Paper
from fingerpost.plan.base.blocks import Bullets, Handout, Paragraph, Section, Sheet, Words, text
from fingerpost.plan.base.illustrate import example_spots
from fingerpost.plan.base.parts import (
    audience_words,
    dose_words,
    empty_if_none,
    grip_list,
    labelled,
    load_words,
    pain_words,
    paragraph,
    sign_names,
    stages_intro,
    summary,
    tape_uses,
)
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.pages.protocol_page import grade_name, timeline_table, write_about
from fingerpost.plan.person.gate_words import gate_bullets
from fingerpost.plan.person.sheet_parts import (
    HAND_MM,
    PATH_MM,
    closing_sections,
    diary,
    help_box,
    section,
    shell,
    soon_box,
)
from fingerpost.plan.person.way_back import general_path, general_windows

DIARY_ROWS = 14


def _for_nobody(writer: Writer) -> tuple[Words, ...]:
    """On every sheet, because loose sheets get into other hands: it is not made for whoever holds it."""
    return (text(writer.say("general-line")),)


def _first_sheet(writer: Writer, protocol: Protocol) -> Sheet:
    fit = protocol.signs
    signs = [
        Bullets(items=sign_names(writer, ids), title=writer.say(f"signs-{name}"))
        for name, ids in (("usual", fit.usual), ("sometimes", fit.sometimes))
        if ids
    ]
    return Sheet(
        number=1,
        title=writer.say("title-general-first", name=protocol.plain_name),
        under_title=_for_nobody(writer),
        lead=(summary(writer, protocol), paragraph(writer, protocol.grip_rule)),
        beside=example_spots(writer, protocol, HAND_MM),
        sections=(
            section(writer, "help", help_box(writer, protocol)),
            section(writer, "signs", *signs),
            section(writer, "soon", soon_box(writer, protocol)),
        ),
    )


def _stage(writer: Writer, protocol: Protocol, number: int, stage: Stage, last: bool) -> Section:
    known = {e.id: e.name for e in writer.library.vocabularies.exercises}
    facts = [
        labelled(writer.say("label-daily-life"), writer.words(stage.daily_life)),
        labelled(writer.say("label-climbing"), writer.words(stage.climbing)),
        labelled(writer.say("label-pain"), pain_words(writer, stage)),
    ]
    if stage.load:
        facts.append(labelled(writer.say("label-load"), load_words(writer, stage)))
    doses = tuple(
        (*audience_words(writer, d.for_), *text(f"{known[d.exercise]}: "), *dose_words(writer, d))
        for d in stage.exercises
    )
    tapings = tuple(text(t.name + only) for t, only in tape_uses(writer, stage))
    return Section(
        id=f"stage-{number}",
        heading=writer.say("heading-stage", number=number, name=stage.name),
        blocks=empty_if_none(
            paragraph(writer, stage.aim),
            grip_list(writer, stage, writer.say("caption-grips", stage=stage.name)),
            Bullets(items=tuple(facts)),
            Bullets(items=doses, title=writer.say("exercises-title")) if doses else None,
            Bullets(items=tapings, title=writer.say("taping-title")) if tapings else None,
            None if last else gate_bullets(writer, protocol, stage),
        ),
    )


def _stages_sheet(writer: Writer, protocol: Protocol) -> Sheet:
    stop = Paragraph(words=text(writer.say("stop-no-windows"))) if protocol.stop else None
    home = [g for g in protocol.grades if any(w.grade == g.id for s in protocol.stages for w in s.windows)]
    tables = [general_windows(writer, protocol, g.id, grade_name(writer, g.id)) for g in home]
    way = section(writer, "path", general_path(writer, protocol, PATH_MM), stop)
    times = section(writer, "times", *tables, timeline_table(writer, protocol)) if tables else None
    last = len(protocol.stages)
    stages = [_stage(writer, protocol, n, s, n == last) for n, s in enumerate(protocol.stages, 1)]
    return Sheet(
        number=2,
        title=writer.say("title-general-second", name=protocol.plain_name),
        under_title=_for_nobody(writer),
        lead=(stages_intro(writer, protocol), paragraph(writer, writer.say("general-how"))),
        beside=(),
        sections=tuple(s for s in (way, times, *stages) if s),
    )


def _last_sheet(writer: Writer, protocol: Protocol, so_far: tuple[Sheet, ...]) -> Sheet:
    days = section(writer, "diary", diary(writer, [""] * DIARY_ROWS))
    return Sheet(
        number=len(so_far) + 1,
        title=writer.say("title-general-third", name=protocol.plain_name),
        under_title=_for_nobody(writer),
        lead=(),
        beside=(),
        sections=(
            days,
            *closing_sections(writer, protocol, (*so_far, days), text(writer.say("disclaimer"))),
        ),
    )


def plan_general_handout(library: Library, id: str, paper: Paper) -> Handout:
    """The general sheets of a protocol, for printing from its page."""
    writer, protocol = write_about(library, id)
    first = (_first_sheet(writer, protocol), _stages_sheet(writer, protocol))
    sheets = (*first, _last_sheet(writer, protocol, first))
    return shell(writer, protocol, f"{protocol.id}-{paper.lower()}", paper, 12, (), sheets, writer.say("general-head"))
