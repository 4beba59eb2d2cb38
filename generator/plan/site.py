"""The whole site as data: pages in menu order, the general sheets, and where retired addresses lead."""

from __future__ import annotations

from collections.abc import Callable

from generator.model.library import Library
from generator.plan.blocks import Block, Bullets, Drawing, Page, Paragraph, Section, Site, Words, link, strong, text
from generator.plan.general import plan_general_handout
from generator.plan.illustrate import EXAMPLE_HAND
from generator.plan.parts import paragraph, warning_box
from generator.plan.pictures import HandPicture
from generator.plan.prose import Writer
from generator.plan.protocol_page import PAPERS, address_of, plan_protocol_page, plan_referral_page
from generator.plan.shared_pages import (
    plan_about,
    plan_exercises,
    plan_gates,
    plan_grips,
    plan_sources,
    plan_tapings,
    plan_tests,
    plan_warning_signs,
    plan_words,
)

_SHARED: tuple[Callable[[Writer], Page], ...] = (
    plan_warning_signs,
    plan_grips,
    plan_tapings,
    plan_exercises,
    plan_gates,
    plan_tests,
    plan_words,
    plan_sources,
    plan_about,
)

_LABELS = (
    "site-menu",
    "site-contents",
    "site-top",
    "site-foot",
    "missing-title",
    "missing-text",
    "missing-link",
)


def _places(writer: Writer) -> list[tuple[Words, tuple[Words, ...]]]:
    """Each place where it can be sore, with the injuries for which that place is usual."""
    rows = []
    for sign in writer.library.vocabularies.signs:
        if sign.kind != "place":
            continue
        fits = [c for c in writer.library.conditions if sign.id in c.signs.usual]
        if fits:
            rows.append((text(sign.says), tuple(link(c.plain_name, address_of(c.id)) for c in fits)))
    return rows


def _home_picture(writer: Writer) -> Drawing:
    picture = HandPicture(
        title=writer.say("picture-home"),
        hand=EXAMPLE_HAND,
        view="palm",
        hand_name=writer.say("hand-name", hand=EXAMPLE_HAND, view=writer.say("view-palm")),
    )
    return Drawing(name="hand", picture=picture, caption=text(writer.say("picture-home-caption")), width_mm=70)


def plan_home(writer: Writer) -> Page:
    """The home page starts from the hand: warning signs, then where it is sore."""
    urgent = [s.id for s in writer.library.vocabularies.warning_signs if s.urgency in ("emergency", "same-day")]
    lead: tuple[Block, ...] = (
        paragraph(writer, writer.say("home-lead"), lead=True),
        Paragraph(words=text(writer.say("home-not-a-verdict"))),
        warning_box(writer, urgent),
    )
    where = tuple(Bullets(items=links, title=place[0].text) for place, links in _places(writer))
    sections = [
        Section(id="under-18", heading=writer.say("heading-under-18"), blocks=(_under_18(writer),)),
        Section(id="where", heading=writer.say("heading-where"), blocks=(_home_picture(writer), *where)),
        Section(id="all", heading=writer.say("heading-all"), blocks=_all(writer)),
    ]
    return Page(
        address="",
        kind="home",
        title=writer.say("title-home"),
        description=writer.say("description-home"),
        badge=strong(writer.say("draft-badge-library")),
        lead=lead,
        sections=tuple(sections),
        menu=writer.say("menu-home"),
    )


def _under_18(writer: Writer) -> Paragraph:
    return Paragraph(
        words=(
            *text(writer.say("home-under-18") + " "),
            *link(writer.say("home-under-18-link"), address_of("growth-plate")),
        )
    )


def _all(writer: Writer) -> tuple[Block, ...]:
    def rows(conditions: tuple[Words, ...], title: str) -> Bullets:
        return Bullets(items=conditions, title=writer.say(title))

    protocols = tuple(
        (*link(d.value.plain_name, address_of(d.value.id)), *text(f" ({d.value.trade_name})"))
        for d in writer.library.protocols
    )
    referrals = tuple(
        (*link(d.value.plain_name, address_of(d.value.id)), *text(f" ({d.value.trade_name})"))
        for d in writer.library.referrals
    )
    return (rows(protocols, "list-protocols"), rows(referrals, "list-referrals"))


def plan_injuries(writer: Writer) -> Page:
    """The list of all injuries."""
    return Page(
        address="injuries/",
        kind="injuries",
        title=writer.say("title-injuries"),
        description=writer.say("description-injuries"),
        badge=strong(writer.say("draft-badge-library")),
        lead=(paragraph(writer, writer.say("intro-injuries"), lead=True),),
        sections=(Section(id="all", heading=writer.say("heading-all"), blocks=_all(writer)),),
        menu=writer.say("menu-injuries"),
    )


def plan_site(library: Library) -> Site:
    """Every page of the site. Each page numbers its own sources."""
    pages = [plan_home(Writer(library)), plan_injuries(Writer(library))]
    pages += [plan_protocol_page(Writer(library), d.value) for d in library.protocols]
    pages += [plan_referral_page(Writer(library), d.value) for d in library.referrals]
    pages += [make(Writer(library)) for make in _SHARED]
    writer = Writer(library)
    return Site(
        name=writer.say("site-name"),
        description=writer.say("description-home"),
        referral_menu=writer.say("list-referrals"),
        labels=tuple((name, writer.say(name)) for name in _LABELS),
        pages=tuple(pages),
        handouts=tuple(plan_general_handout(library, d.value, paper) for d in library.protocols for paper in PAPERS),
        redirects=tuple((address_of(r.id), address_of(r.now)) for r in library.vocabularies.retired),
    )
