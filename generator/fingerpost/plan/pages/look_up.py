"""The pages that lead on by a list: what can be looked up, and what changed, version by version."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from fingerpost.model.times import write_date
from fingerpost.plan.base.blocks import Bullets, Page, Section
from fingerpost.plan.base.checked import library_badge
from fingerpost.plan.base.parts import paragraph
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, link, text
from fingerpost.plan.machines.data import FEED, FeedEntry, plan_feed

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


def _entry(entry: FeedEntry) -> Words:
    return (*link(entry.title, entry.address), *text(f": {entry.summary}"))


def plan_changed(writer: Writer) -> Page:
    """Every version that is told of, by day; the same as the feed."""
    entries = plan_feed(writer.library).entries
    sections = [
        Section(id=f"day-{day}", heading=write_date(day.day), blocks=(Bullets(items=tuple(_entry(e) for e in told)),))
        for day, told in groupby(entries, key=lambda e: e.day)
    ]
    return Page(
        address="changed/",
        kind="changed",
        title=writer.say("title-changed"),
        description=writer.say("description-changed"),
        badge=library_badge(writer),
        lead=(
            paragraph(writer, writer.say("intro-changed"), lead=True),
            Bullets(items=(link(writer.say("data-feed"), FEED),)),
        ),
        sections=tuple(sections),
        menu=writer.say("menu-changed"),
    )
