"""General sheets of a protocol: not for one person, so with times instead of dates and every stage on paper."""

from __future__ import annotations

from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol
from fingerpost.model.words import Paper
from fingerpost.plan.base.blocks import Bullets, Handout, Paragraph, Sheet, Words, text
from fingerpost.plan.base.illustrate import example_spots
from fingerpost.plan.base.parts import (
    paragraph,
    sign_names,
    stages_intro,
    summary,
)
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.pages.protocol_page import timeline_table, write_about
from fingerpost.plan.pages.stage_section import grade_name, plan_stage
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


def _stages_sheet(writer: Writer, protocol: Protocol) -> Sheet:
    stop = Paragraph(words=text(writer.say("stop-no-windows"))) if protocol.stop else None
    home = [g for g in protocol.grades if any(w.grade == g.id for s in protocol.stages for w in s.windows)]
    tables = [general_windows(writer, protocol, g.id, grade_name(writer, g.id)) for g in home]
    way = section(writer, "path", general_path(writer, protocol, PATH_MM), stop)
    times = section(writer, "times", *tables, timeline_table(writer, protocol)) if tables else None
    stages = [plan_stage(writer, protocol, n, on_paper=True) for n in range(1, len(protocol.stages) + 1)]
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
