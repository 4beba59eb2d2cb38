"""Display: full-screen pages for a gym's screen, one message each, that advance by themselves."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil

from fingerpost.model.library import Library
from fingerpost.model.protocol import Notice, Protocol
from fingerpost.plan.base.addresses import short_address, words_of
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.checked import state_words
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.walls.notices import break_evenly, notice_drawing, say_look, say_with_number, start_notice

# How long a page stands: somebody walks past, looks up, looks at the drawing, and reads slowly. A choice of ours.
LOOK_UP_SECONDS = 4
WORDS_A_SECOND = 1.5
LEAST_SECONDS = 8


@dataclass(frozen=True, kw_only=True)
class DisplayPage:
    """One message. `kind`: things to look for ('look') or to do ('do').

    Beside it stands a drawing or, on pages of things to do, the code of an address where the site has one. `head` and
    `foot` stand small at the edges, from left to right.
    """

    id: str
    kind: str
    message: tuple[str, ...]
    heading: str
    lines: tuple[str, ...]
    drawing: Drawing | None
    address: str
    address_words: str
    address_lead: str
    code_title: str
    seconds: int
    head: tuple[str, str]
    foot: tuple[str, str]


@dataclass(frozen=True, kw_only=True)
class Display:
    """All pages in the order in which they are shown."""

    title: str
    language: str
    pages: tuple[DisplayPage, ...]


def seconds_for(words: int) -> int:
    """How long a page with so many words stands, in whole seconds."""
    return max(LEAST_SECONDS, ceil(LOOK_UP_SECONDS + words / WORDS_A_SECOND))


@dataclass(frozen=True, kw_only=True)
class _Subject:
    """What two pages are about: a protocol with its notice, or the start."""

    protocol: Protocol | None
    notice: Notice
    number: int
    count: int


def _page(writer: Writer, subject: _Subject, kind: str) -> DisplayPage:
    protocol, notice = subject.protocol, subject.notice
    about = "protocol" if protocol else "start"
    looks = kind == "look"
    lines = notice.look_for if looks else notice.do
    heading = say_look(writer, about) if looks else writer.say(f"notice-do-{about}")
    base = "" if looks else writer.library.clinic.site_address or ""
    address = base + short_address(protocol.id) if base and protocol else base
    number = subject.number * 2 + (1 if looks else 2)
    where = writer.say("display-number", number=number, count=subject.count * 2)
    state = state_words(writer, protocol)
    return DisplayPage(
        id=f"{protocol.id if protocol else 'start'}-{kind}",
        kind=kind,
        message=break_evenly(notice.message),
        heading=heading,
        lines=lines,
        drawing=None if address else notice_drawing(writer, protocol),
        address=address,
        address_words=words_of(address),
        address_lead=writer.say(f"notice-read-{about}"),
        code_title=writer.say("code-title", address=words_of(address)),
        seconds=seconds_for(sum(len(part.split()) for part in (notice.message, heading, *lines))),
        head=(writer.library.clinic.name or writer.say("site-name"), writer.say("notice-head")),
        foot=(
            f"{say_with_number(writer, 'notice-help')} {writer.say('notice-same-day')}",
            f"{state} {where}".strip(),
        ),
    )


def _in_order(library: Library) -> list[tuple[Protocol, Notice]]:
    """The protocols that have a notice; those for people who still grow come first."""
    found = [(d.value, d.value.notice) for d in library.protocols if d.value.notice]
    return sorted(found, key=lambda pair: pair[0].people != "under-18")


def plan_display(library: Library) -> Display:
    """Where to start, then every protocol that has a notice: what to look for, then what to do."""
    writer = Writer(library)
    subjects: list[tuple[Protocol | None, Notice]] = [(None, start_notice(writer)), *_in_order(library)]
    pages = []
    for number, (protocol, notice) in enumerate(subjects):
        subject = _Subject(protocol=protocol, notice=notice, number=number, count=len(subjects))
        pages += [_page(writer, subject, kind) for kind in ("look", "do")]
    return Display(title=writer.say("display-title"), language="en-GB", pages=tuple(pages))
