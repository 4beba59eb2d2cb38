"""The same content for machines: which files there are, the feed of changes, the page that lists them all."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from uuid import UUID

from fingerpost.model.grammar import parts_of
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.times import Day
from fingerpost.plan.base.addresses import address_of
from fingerpost.plan.base.blocks import Bullets, Page, Section
from fingerpost.plan.base.checked import library_badge
from fingerpost.plan.base.parts import paragraph
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, link, plain, text

FORMAT = 2
"""Raised when a file changes in a way that breaks its readers. New keys do not."""
INDEX = "data/index.json"
FEED = "changes.xml"
SITEMAP = "sitemap.xml"


@dataclass(frozen=True, kw_only=True)
class DataFile:
    """A file of data. `schema` is the address of its JSON Schema; addresses count from the site's root."""

    address: str
    schema: str
    about: str
    entries: int


@dataclass(frozen=True, kw_only=True)
class DataIndex:
    """What there is. `state`: what readers must know before they use it."""

    name: str
    format: int
    language: str
    state: str
    files: tuple[DataFile, ...]


@dataclass(frozen=True, kw_only=True)
class FeedEntry:
    """One version of one page. `address` counts from the site's root."""

    id: str
    title: str
    day: Day
    summary: str
    address: str


@dataclass(frozen=True, kw_only=True)
class Feed:
    """All versions that are told of, the newest first. `base` is where the site stands, '' where nobody knows."""

    id: str
    title: str
    author: str
    base: str
    updated: str
    entries: tuple[FeedEntry, ...]


def _file(writer: Writer, name: str, entries: int) -> DataFile:
    return DataFile(
        address=f"data/{name}.json",
        schema=f"data/schema/{name}.json",
        about=writer.say(f"data-about-{name}"),
        entries=entries,
    )


def plan_index(library: Library) -> DataIndex:
    """The index of the data."""
    writer = Writer(library)
    vocabularies = sum(len(entries) for _, entries in parts_of(library.vocabularies))
    return DataIndex(
        name=writer.say("site-name"),
        format=FORMAT,
        language="en-GB",
        state=plain(library_badge(writer)),
        files=(
            _file(writer, "protocols", len(library.protocols)),
            _file(writer, "referrals", len(library.referrals)),
            _file(writer, "vocabularies", vocabularies),
        ),
    )


def _uuid(told: str) -> str:
    """A name that is the same for the same thing, and tells nothing about the machine."""
    return UUID(hashlib.sha256(told.encode()).hexdigest()[:32], version=5).urn


def _entries(writer: Writer, condition: Protocol | Referral) -> tuple[FeedEntry, ...]:
    """What its author noted about versions; without a note, that this version is there."""
    status, name = condition.status, condition.plain_name
    noted = [(c.version, c.date, plain(writer.words(f"{c.what} {c.reason}"))) for c in condition.changes]
    if status.version not in [version for version, _, _ in noted]:
        noted.append((status.version, status.reviewed or status.written, writer.say("feed-no-note")))
    return tuple(
        FeedEntry(
            id=_uuid(f"{condition.id} {version}"),
            title=writer.say("feed-entry", name=name, version=version),
            day=day,
            summary=summary,
            address=address_of(condition.id),
        )
        for version, day, summary in noted
    )


def plan_feed(library: Library) -> Feed:
    """Every version that is told of, the newest first."""
    writer = Writer(library)
    entries = [entry for condition in library.conditions for entry in _entries(writer, condition)]
    entries.sort(key=lambda entry: entry.day, reverse=True)
    base = library.clinic.site_address or ""
    return Feed(
        id=_uuid(f"feed {base}"),
        title=writer.say("feed-title"),
        author=library.clinic.name or writer.say("site-name"),
        base=base,
        updated=entries[0].day if entries else "1970-01-01",
        entries=tuple(entries),
    )


def plan_data_page(writer: Writer) -> Page:
    """The page that lists the files for machines."""
    index = plan_index(writer.library)
    files: tuple[Words, ...] = tuple(
        (
            *link(f.address.rsplit("/", 1)[-1], f.address),
            *text(f": {f.about} "),
            *link(writer.say("data-schema", name=f.address.rsplit("/", 1)[-1]), f.schema),
        )
        for f in index.files
    )
    more = (link(writer.say("data-index"), INDEX), link(writer.say("data-feed"), FEED))
    sections = (
        Section(id="files", heading=writer.say("data-heading-files"), blocks=(Bullets(items=(*files, *more)),)),
        Section(
            id="terms", heading=writer.say("data-heading-terms"), blocks=(paragraph(writer, writer.say("data-terms")),)
        ),
    )
    return Page(
        address="data/",
        kind="data",
        title=writer.say("title-data"),
        description=writer.say("description-data"),
        badge=library_badge(writer),
        lead=(paragraph(writer, writer.say("intro-data"), lead=True),),
        sections=sections,
        menu=writer.say("menu-data"),
    )
