"""The page for gyms: notices to print, the display, the paper key."""

from __future__ import annotations

from fingerpost.plan.base.addresses import notice_address
from fingerpost.plan.base.blocks import Block, Bullets, Page, Paragraph, Section, Table
from fingerpost.plan.base.checked import library_badge
from fingerpost.plan.base.parts import paragraph, table
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import link, text
from fingerpost.plan.walls.notices import NOTICE_PAPERS, START, start_notice
from fingerpost.plan.walls.paper_key import key_links

DISPLAY_ADDRESS = "display/index.html"


def _notice_table(writer: Writer) -> Table:
    """A row for each notice, a link for each paper."""
    protocols = [d.value for d in writer.library.protocols if d.value.notice]
    named = [(START, start_notice(writer).message), *((p.id, p.notice.message) for p in protocols if p.notice)]
    rows = [
        (text(message), *(link(paper, notice_address(id, paper)) for paper in NOTICE_PAPERS)) for id, message in named
    ]
    return table(writer.say("gyms-caption"), (writer.say("gyms-head"), *NOTICE_PAPERS), rows)


def plan_for_gyms(writer: Writer) -> Page:
    """What a gym can hang up, show and lay out."""
    display: tuple[Block, ...] = (
        paragraph(writer, writer.say("gyms-display")),
        Bullets(items=(link(writer.say("gyms-display-link"), DISPLAY_ADDRESS),)),
        Bullets(items=tuple(text(line) for line in writer.say("gyms-display-how").split("\n")), style="steps"),
    )
    sections = (
        Section(
            id="notices",
            heading=writer.say("gyms-heading-notices"),
            blocks=(paragraph(writer, writer.say("gyms-notices")), _notice_table(writer)),
        ),
        Section(id="display", heading=writer.say("gyms-heading-display"), blocks=display),
        Section(
            id="key",
            heading=writer.say("gyms-heading-key"),
            blocks=(paragraph(writer, writer.say("gyms-key")), key_links(writer)),
        ),
        Section(
            id="own", heading=writer.say("gyms-heading-own"), blocks=(Paragraph(words=text(writer.say("gyms-own"))),)
        ),
    )
    return Page(
        address="for-gyms/",
        kind="for-gyms",
        title=writer.say("title-for-gyms"),
        description=writer.say("description-for-gyms"),
        badge=library_badge(writer),
        lead=(paragraph(writer, writer.say("intro-for-gyms"), lead=True),),
        sections=sections,
        menu=writer.say("menu-for-gyms"),
    )
