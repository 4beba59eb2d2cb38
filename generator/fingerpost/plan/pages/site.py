"""The whole site as data: pages in menu order, the general sheets, and where retired addresses lead."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from fingerpost.model.library import Library
from fingerpost.model.protocol import Condition, Protocol, Referral
from fingerpost.model.words import PAPERS
from fingerpost.plan.base.addresses import address_of, coach_address, short_address
from fingerpost.plan.base.answers import list_pairs
from fingerpost.plan.base.audience import Reader, narrow_library
from fingerpost.plan.base.blocks import Block, Bullets, Page, Section
from fingerpost.plan.base.checked import library_badge
from fingerpost.plan.base.paper import Handout, Site
from fingerpost.plan.base.parts import paragraph
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, link, text
from fingerpost.plan.injury.page import plan_protocol_page
from fingerpost.plan.injury.refer import plan_referral_page
from fingerpost.plan.machines.data import plan_data_page
from fingerpost.plan.machines.linked_data import write_linked_data
from fingerpost.plan.machines.search import plan_search
from fingerpost.plan.pages.desk_form import plan_desk_page
from fingerpost.plan.pages.for_coaches import plan_coach_page, plan_for_coaches
from fingerpost.plan.pages.for_gyms import plan_for_gyms
from fingerpost.plan.pages.general import plan_general_handout, plan_referral_handout
from fingerpost.plan.pages.look_up import plan_changed, plan_look_up
from fingerpost.plan.pages.shared_pages import (
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
from fingerpost.plan.pages.standards import plan_standards
from fingerpost.plan.pages.telling_pages import plan_apart, plan_apart_pages, plan_signs
from fingerpost.plan.pages.way_in import plan_way_in
from fingerpost.plan.walls.paper_key import key_links

# In the order of the menu. What stands under another page is shown with it.
_TO_LOOK_UP: tuple[Callable[[Writer], Page], ...] = (
    plan_apart,
    plan_signs,
    plan_grips,
    plan_tapings,
    plan_exercises,
    plan_gates,
    plan_tests,
    plan_words,
)
_FOR_SOME: tuple[Callable[[Writer], Page], ...] = (plan_for_coaches, plan_for_gyms, plan_desk_page)
_ABOUT_US: tuple[Callable[[Writer], Page], ...] = (plan_sources, plan_standards, plan_changed, plan_data_page)

_LABELS = (
    "site-menu",
    "site-contents",
    "site-top",
    "site-foot",
    "missing-title",
    "missing-text",
    "missing-link",
    "search-name",
    "search-clear",
    "search-how",
    "search-one",
    "search-many",
    "search-none",
    "search-lost",
    "search-way-in",
    "search-way-in-link",
    "search-warning",
    "search-warning-link",
)


def plan_home(writer: Writer) -> Page:
    """The home page is the way in: warning signs, place, onset, age, questions, then the pages that fit."""
    paper = (paragraph(writer, writer.say("key-intro")), key_links(writer))
    sections = [*plan_way_in(writer), Section(id="paper", heading=writer.say("heading-paper"), blocks=paper)]
    sections.append(Section(id="all", heading=writer.say("heading-all"), blocks=_all(writer, trade_names=False)))
    sources = writer.source_list()
    if sources:
        sections.append(Section(id="sources", heading=writer.say("heading-sources"), blocks=(sources,)))
    return Page(
        address="",
        kind="home",
        title=writer.say("title-home"),
        description=writer.say("description-home"),
        badge=library_badge(writer),
        lead=(),
        sections=tuple(sections),
        menu=writer.say("menu-home"),
    )


def _all(writer: Writer, trade_names: bool) -> tuple[Block, ...]:
    """Links to all injuries. `trade_names`: each with its name among clinicians."""

    def name(condition: Condition) -> Words:
        told = text(f" ({condition.trade_name})") if trade_names else ()
        return (*link(condition.plain_name, address_of(condition.id)), *told)

    library = writer.library
    return (
        Bullets(items=tuple(name(d.value) for d in library.protocols), title=writer.say("list-protocols")),
        Bullets(items=tuple(name(d.value) for d in library.referrals), title=writer.say("list-referrals")),
    )


def plan_injuries(writer: Writer) -> Page:
    """The list of all injuries."""
    return Page(
        address="injuries/",
        kind="injuries",
        title=writer.say("title-injuries"),
        description=writer.say("description-injuries"),
        badge=library_badge(writer),
        lead=(paragraph(writer, writer.say("intro-injuries"), lead=True),),
        sections=(Section(id="all", heading=writer.say("heading-all"), blocks=_all(writer, trade_names=True)),),
        menu=writer.say("menu-injuries"),
    )


def plan_site(library: Library) -> Site:
    """Every page of the site. Each page numbers its own sources."""
    pages = tuple(page for part in PARTS for page in part(library))
    return replace(
        plan_frame(library),
        pages=pages,
        handouts=tuple(_handouts(_narrow(library))),
        search=plan_search(_narrow(library), pages),
    )


def plan_frame(library: Library) -> Site:
    """The site without a page or a sheet: what stands round them, and the addresses that lead to them."""
    writer = Writer(_narrow(library))
    return Site(
        name=writer.say("site-name"),
        description=writer.say("description-home"),
        referral_menu=writer.say("list-referrals"),
        labels=tuple((name, writer.say(name)) for name in _LABELS),
        pages=(),
        handouts=(),
        redirects=tuple(_redirects(writer.library)),
    )


def _narrow(library: Library) -> Library:
    """Whoever reads a page has no plan yet."""
    return narrow_library(library, Reader(planned=False), about="")


def _plan_first(library: Library) -> Iterator[Page]:
    library = _narrow(library)
    yield plan_home(Writer(library))
    yield plan_injuries(Writer(library))


def _plan_conditions(library: Library) -> Iterator[Page]:
    library = _narrow(library)
    yield from (_link(library, d.value, plan_protocol_page(library, d.value.id)) for d in library.protocols)
    yield from (_link(library, d.value, plan_referral_page(Writer(library), d.value)) for d in library.referrals)


def _handouts(library: Library) -> Iterator[Handout]:
    for paper in PAPERS:
        yield from (plan_general_handout(library, d.value.id, paper) for d in library.protocols)
        yield from (plan_referral_handout(library, d.value, paper) for d in library.referrals)


def _plan_shared(library: Library) -> Iterator[Page]:
    """The pages that are about no single injury, in the order of the menu."""
    library = _narrow(library)
    yield plan_warning_signs(Writer(library))
    to_look_up = [make(Writer(library)) for make in _TO_LOOK_UP]
    look_up = plan_look_up(Writer(library), to_look_up)
    yield look_up
    yield from (replace(page, under=look_up.address) for page in to_look_up)
    yield from (make(Writer(library)) for make in _FOR_SOME)
    about = plan_about(Writer(library))
    yield about
    yield from (replace(make(Writer(library)), under=about.address) for make in _ABOUT_US)


def _plan_coaches(library: Library) -> Iterator[Page]:
    library = _narrow(library)
    yield from (plan_coach_page(Writer(library), d.value) for d in library.protocols)


def _plan_apart(library: Library) -> Iterator[Page]:
    library = _narrow(library)
    yield from plan_apart_pages((Writer(library), one, other) for one, other in list_pairs(library))


PARTS: tuple[Callable[[Library], Iterator[Page]], ...] = (
    _plan_first,
    _plan_conditions,
    _plan_shared,
    _plan_coaches,
    _plan_apart,
)
"""Every page, part by part, in the order in which the site has them."""


def _link(library: Library, condition: Protocol | Referral, page: Page) -> Page:
    return replace(page, linked_data=write_linked_data(Writer(library), condition, page.description))


def _redirects(library: Library) -> Iterator[tuple[str, str]]:
    """(from, to): the short addresses of all injuries and their stages, and every address of a retired one.

    Stages may have been counted otherwise in a retired one, so those lead to the beginning of the way back.
    """
    for condition in library.conditions:
        yield short_address(condition.id), address_of(condition.id)
        for number in range(1, len(condition.stages) + 1 if isinstance(condition, Protocol) else 1):
            yield short_address(condition.id, number), f"{address_of(condition.id)}#stage-{number}"
    for retired in library.vocabularies.retired:
        if library.find_condition(retired.now) is None:
            continue  # an entry of a vocabulary has no page of its own
        yield address_of(retired.id), address_of(retired.now)
        yield short_address(retired.id), address_of(retired.now)
        if library.find_protocol(retired.now):
            for number in range(1, max(len(d.value.stages) for d in library.protocols) + 1):
                yield short_address(retired.id, number), f"{address_of(retired.now)}#stages"
            yield coach_address(retired.id), coach_address(retired.now)
