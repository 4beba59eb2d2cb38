"""The pages for coaches: about sore fingers at large, and for each protocol what training is fine in each stage."""

from __future__ import annotations

from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.words import URGENT
from fingerpost.plan.base.addresses import address_of, coach_address
from fingerpost.plan.base.blocks import Block, Box, Bullets, Page, Paragraph, Section, Table
from fingerpost.plan.base.checked import draft_badge
from fingerpost.plan.base.parts import empty_if_none, grip_list, paragraph, stages_intro, table, warning_box
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, link, strong, text
from fingerpost.plan.injury.act import timeline_table
from fingerpost.plan.person.coach_words import grip_matrix, load_share, look_out, session_words, talk
from fingerpost.plan.person.gate_words import gate_bullets
from fingerpost.plan.person.sheet_parts import named_signs


def _sections(writer: Writer, *parts: tuple[str, tuple[Block, ...]]) -> tuple[Section, ...]:
    return tuple(Section(id=id, heading=writer.say(f"coaches-heading-{id}"), blocks=blocks) for id, blocks in parts)


def plan_for_coaches(writer: Writer) -> Page:
    """What every coach should know, and the way to each protocol's page."""
    pages = tuple(link(d.value.plain_name, coach_address(d.value.id)) for d in writer.library.protocols)
    sections = _sections(
        writer,
        ("first", (paragraph(writer, writer.say("coaches-first")),)),
        ("under-18", (_under_18(writer),)),
        ("look", (look_out(writer),)),
        ("talk", (talk(writer),)),
        ("sheet", (paragraph(writer, writer.say("coaches-sheet")),)),
        ("pages", (Bullets(items=pages),)),
    )
    return Page(
        address="for-coaches/",
        kind="for-coaches",
        title=writer.say("title-for-coaches"),
        description=writer.say("description-for-coaches"),
        badge=strong(writer.say("draft-badge-library")),
        lead=(paragraph(writer, writer.say("intro-for-coaches"), lead=True),),
        sections=sections,
        menu=writer.say("menu-for-coaches"),
    )


def _under_18(writer: Writer) -> Paragraph:
    growing = [d.value for d in writer.library.protocols if d.value.stop]
    more: Words = link(f" {growing[0].plain_name}.", address_of(growing[0].id)) if growing else ()
    return Paragraph(words=(*text(writer.say("coaches-under-18")), *more))


def _glance(writer: Writer, protocol: Protocol) -> Table:
    rows = []
    for number, stage in enumerate(protocol.stages, 1):
        load = text(load_share(writer, stage))
        if stage.load:
            load = writer.marked(load_share(writer, stage), stage.load.source)
        pain = writer.marked(str(stage.pain.most), stage.pain.source)
        name = link(writer.say("stage-number", number=number, name=stage.name), f"#stage-{number}")
        rows.append((name, session_words(writer, stage), load, pain))
    head = (writer.say("head-stage"), *(writer.say(f"coaches-head-{name}") for name in ("sessions", "load", "pain")))
    return table(writer.say("coaches-caption-glance"), head, rows)


def _stage(writer: Writer, protocol: Protocol, number: int, stage: Stage, last: bool) -> Section:
    return Section(
        id=f"stage-{number}",
        heading=writer.say("heading-stage", number=number, name=stage.name),
        level=3,
        blocks=empty_if_none(
            Paragraph(words=session_words(writer, stage)),
            grip_list(writer, stage, writer.say("caption-grips", stage=stage.name)),
            None if last else gate_bullets(writer, protocol, stage),
        ),
    )


def plan_coach_page(writer: Writer, protocol: Protocol) -> Page:
    """What training is fine when somebody has this, stage by stage. The athlete's own sheet counts more."""
    stop = Box(
        level="warning",
        title=writer.say("coaches-stop-title"),
        lines=(text(writer.say("coaches-stop")),),
        bulleted=False,
    )
    lead = empty_if_none(
        paragraph(writer, writer.say("coaches-lead"), lead=True),
        stop if protocol.stop else None,
        Bullets(items=(link(writer.say("coaches-to-page", name=protocol.plain_name), address_of(protocol.id)),)),
    )
    numbered = tuple(enumerate(protocol.stages, 1))
    timelines = timeline_table(writer, protocol)
    sections = _sections(
        writer,
        ("glance", (_glance(writer, protocol),)),
        ("grips", (paragraph(writer, protocol.grip_rule), grip_matrix(writer, numbered, load=False))),
        *((("times", (timelines,)),) if timelines else ()),
        ("stages", (stages_intro(writer, protocol),)),
    )
    stages = tuple(_stage(writer, protocol, n, s, n == len(protocol.stages)) for n, s in numbered)
    closing = _sections(
        writer,
        ("look", (look_out(writer), warning_box(writer, named_signs(protocol), URGENT))),
        ("talk", (talk(writer),)),
    )
    sources = writer.source_list()
    last = Section(id="sources", heading=writer.say("heading-sources"), blocks=empty_if_none(sources))
    return Page(
        address=coach_address(protocol.id),
        kind="coach",
        title=writer.say("title-coach", name=protocol.plain_name),
        description=writer.say("description-coach", name=protocol.plain_name),
        badge=draft_badge(writer, protocol),
        lead=lead,
        sections=(*sections, *stages, *closing, last),
    )
