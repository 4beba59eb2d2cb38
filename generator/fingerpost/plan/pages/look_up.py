"""The page that lists what can be looked up, and the pages that stand under another one in the menu."""

from __future__ import annotations

from collections.abc import Iterable

from fingerpost.plan.base.blocks import Bullets, Page, Section, link, text
from fingerpost.plan.base.checked import library_badge
from fingerpost.plan.base.parts import paragraph
from fingerpost.plan.base.prose import Writer

ADDRESS = "look-up/"


def plan_look_up(writer: Writer, pages: Iterable[Page]) -> Page:
    """A list of pages, each with what it is for."""
    items = tuple((*link(page.title, page.address), *text(f": {page.description}")) for page in pages)
    return Page(
        address=ADDRESS,
        kind="look-up",
        title=writer.say("title-look-up"),
        description=writer.say("description-look-up"),
        badge=library_badge(writer),
        lead=(paragraph(writer, writer.say("intro-look-up"), lead=True),),
        sections=(Section(id="pages", heading=writer.say("heading-look-up"), blocks=(Bullets(items=items),)),),
        menu=writer.say("menu-look-up"),
    )
