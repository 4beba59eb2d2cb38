"""Notices: posters for a gym. One message each, three things to look for, three things to do, read two metres away."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, radians, sqrt, tan
from typing import Literal

from fingerpost.model.library import Library
from fingerpost.model.protocol import Notice, Protocol
from fingerpost.model.words import Side
from fingerpost.plan.base.addresses import notice_address, short_address, words_of
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.checked import state_words
from fingerpost.plan.base.illustrate import EXAMPLE_HAND, EXAMPLE_SIDE, example_finger, hand_pictures
from fingerpost.plan.base.parts import pick
from fingerpost.plan.base.pictures import HandPicture, Spot
from fingerpost.plan.base.prose import Writer

NoticePaper = Literal["A4", "A3", "Letter", "Tabloid"]
# ISO 216; US Letter and Tabloid (11 × 17 inches). Millimetres.
NOTICE_PAPERS: dict[NoticePaper, tuple[float, float]] = {
    "A4": (210.0, 297.0),
    "A3": (297.0, 420.0),
    "Letter": (215.9, 279.4),
    "Tabloid": (279.4, 431.8),
}
ONE_LINE = 12
START = "start"
"""The id of the notice that is not about one injury."""

# How large letters must be. People read fluently when an x is at least 0.2 degrees high (Legge and Bigelow, 2011,
# recalled): at 2 m that is 2000 mm × tan 0.2° = 6.98 mm. An x of our type is 0.496 of its size (the font's own
# sxHeight), so the size is 6.98 / 0.496 = 14.08 mm = 39.9 pt. On A4 and Letter every line of the message is 40 pt or
# more; the larger papers are enlargements and read from farther away.
FLUENT_DEGREES = 0.2
X_HEIGHT = 0.496
READING_M = 2.0
_MM_PER_PT = 25.4 / 72
# The code's width with its quiet zone: 37 modules (version 3, up to 42 letters at level M) of 0.8 mm, so that a phone
# reads it from 30 cm (a code is read from about ten times its width).
CODE_MM = 30.0
DRAWING_MM = (72.0, 105.0)
"""How much room the hand has on A4: width and height."""


def letter_pt(metres: float) -> int:
    """The least size of letters, in whole points, that reads fluently from so far away."""
    x_mm = metres * 1000 * tan(radians(FLUENT_DEGREES))
    return ceil(x_mm / X_HEIGHT / _MM_PER_PT)


@dataclass(frozen=True, kw_only=True)
class NoticeSheet:
    """One poster on one paper. `size_mm` is the paper; `scale` enlarges all of it; `letter_pt` includes the scale.

    `address` is '' where nobody knows where the site stands: then `write_in` is a line to write it by hand.
    """

    file_stem: str
    title: str
    language: str
    paper: NoticePaper
    size_mm: tuple[float, float]
    scale: float
    letter_pt: float
    message: tuple[str, ...]
    look_heading: str
    look_for: tuple[tuple[str, ...], ...]
    do_heading: str
    do: tuple[str, ...]
    drawing: Drawing
    address: str
    address_words: str
    address_rem: float
    address_lead: str
    code_title: str
    write_in: str
    small: tuple[str, ...]
    head: str
    gym: str
    version: str


def _scale(paper: NoticePaper) -> float:
    """A3 is A4 enlarged, Tabloid is Letter enlarged until it is as wide."""
    return {"A4": 1.0, "A3": sqrt(2), "Letter": 1.0, "Tabloid": 279.4 / 215.9}[paper]


def notice_drawing(writer: Writer, protocol: Protocol | None) -> Drawing:
    """The hand with the spot that is hurt most often; without a protocol, with the spots that a hand can have."""
    if protocol is None:
        spots = (
            Spot(landmark="a2", finger="ring"),
            Spot(landmark="pip", finger="middle"),
            Spot(landmark="lumbrical", finger="little"),
            Spot(landmark="a4", finger="index"),
        )
        title = writer.say("picture-notice-start", hand=EXAMPLE_HAND)
        picture = HandPicture(title=title, hand=EXAMPLE_HAND, view="palm", spots=spots)
        return Drawing(name="where", picture=picture, caption=())
    place = pick(writer.library.vocabularies.anatomy, protocol.places[:1])
    side: Side | None = EXAMPLE_SIDE if protocol.needs_side else None
    marked = hand_pictures(writer, EXAMPLE_HAND, example_finger(protocol.fingers), place, side)[0]
    bare = tuple(replace(spot, label="") for spot in marked.spots)  # too small to read from where a notice is read
    return Drawing(name="where", picture=replace(marked, spots=bare, hand_name=""), caption=())


def start_notice(writer: Writer) -> Notice:
    """What the notice says that is not about one injury."""
    return Notice(
        message=writer.say("notice-start-message"),
        look_for=tuple(writer.say(f"notice-start-look-{n}") for n in (1, 2, 3)),
        do=tuple(writer.say(f"notice-start-do-{n}") for n in (1, 2, 3)),
    )


def _small(writer: Writer, protocol: Protocol | None) -> tuple[str, ...]:
    """What cannot wait, and for whom. The notice to start from tells its emergencies in large letters already."""
    now = (say_with_number(writer, "notice-help"),) if protocol else ()
    return (*now, writer.say("notice-same-day"), writer.say("notice-not-a-verdict"))


def say_look(writer: Writer, kind: str) -> str:
    """What stands over the things to look for. Those of the notice to start from are emergencies."""
    return say_with_number(writer, "notice-look-start") if kind == "start" else writer.say("notice-look-protocol")


def say_with_number(writer: Writer, phrase: str) -> str:
    """A phrase with the emergency number of this place, or its short form where nobody has filled that in."""
    number = writer.library.clinic.emergency_number
    return writer.say(f"{phrase}-number", number=number) if number else writer.say(phrase)


def _address_rem(words: str) -> float:
    """The size of the address, in letters of the message, at which it fits on one line, or on two if it must."""
    return round(min(0.62, max(0.36, 18.5 / max(1, len(words)))), 2)


def break_evenly(message: str) -> tuple[str, ...]:
    """A message on two lines, the longer as short as can be; a short one on one line."""
    words = message.split() if len(message) > ONE_LINE else [message]
    cuts = ((" ".join(words[:n]), " ".join(words[n:])) for n in range(1, len(words)))
    return min(cuts, key=lambda lines: (max(map(len, lines)), -len(lines[0])), default=(message,))


def _version(writer: Writer, protocol: Protocol | None) -> str:
    """Which text it is, and whether that is a draft."""
    version = writer.say("notice-version", version=protocol.status.version) if protocol else writer.say("site-name")
    return f"{version} {state_words(writer, protocol)}".strip()


def plan_notice(library: Library, protocol: Protocol | None, paper: NoticePaper) -> NoticeSheet | None:
    """One notice on one paper; None for a protocol without one. Without a protocol, the notice to start from."""
    writer = Writer(library)
    notice = protocol.notice if protocol else start_notice(writer)
    if notice is None:
        return None
    kind = "protocol" if protocol else "start"
    name = protocol.id if protocol else START
    base = library.clinic.site_address or ""
    address = base + short_address(protocol.id) if base and protocol else base
    return NoticeSheet(
        file_stem=notice_address(name, paper).removeprefix("notices/").removesuffix(".pdf"),
        title=writer.say("notice-title", message=notice.message),
        language="en-GB",
        paper=paper,
        size_mm=NOTICE_PAPERS[paper],
        scale=round(_scale(paper), 4),
        letter_pt=round(letter_pt(READING_M) * _scale(paper), 2),
        message=break_evenly(notice.message),
        look_heading=say_look(writer, kind),
        look_for=tuple(break_evenly(line) for line in notice.look_for),
        do_heading=writer.say(f"notice-do-{kind}"),
        do=notice.do,
        drawing=notice_drawing(writer, protocol),
        address=address,
        address_words=words_of(address),
        address_rem=_address_rem(words_of(address)),
        address_lead=writer.say(f"notice-read-{kind}"),
        code_title=writer.say("code-title", address=words_of(address)),
        write_in=writer.say("notice-write-in"),
        small=_small(writer, protocol),
        head=writer.say("notice-head"),
        gym=library.clinic.name or "",
        version=_version(writer, protocol),
    )


def plan_notices(library: Library, wanted: str | None = None) -> tuple[NoticeSheet, ...]:
    """Every notice on every paper, or the notices of one protocol, or those to start from (`START`)."""
    subjects: tuple[Protocol | None, ...] = (None, *(d.value for d in library.protocols))
    chosen = (s for s in subjects if wanted is None or wanted == (s.id if s else START))
    sheets = (plan_notice(library, subject, paper) for subject in chosen for paper in NOTICE_PAPERS)
    return tuple(sheet for sheet in sheets if sheet)
