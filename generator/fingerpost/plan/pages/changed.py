"""The page that tells readers what changed, version by version, the newest first."""

from __future__ import annotations

from itertools import groupby

from fingerpost.plan.base.blocks import Bullets, Page, Section, Words, link, text
from fingerpost.plan.base.checked import iso_words, library_badge
from fingerpost.plan.base.parts import paragraph
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.machines.data import FEED, FeedEntry, plan_feed


def _entry(entry: FeedEntry) -> Words:
    return (*link(entry.title, entry.address), *text(f": {entry.summary}"))


def plan_changed(writer: Writer) -> Page:
    """Every version that is told of, by day; the same as the feed."""
    entries = plan_feed(writer.library).entries
    sections = [
        Section(id=f"day-{day}", heading=iso_words(day), blocks=(Bullets(items=tuple(_entry(e) for e in told)),))
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
