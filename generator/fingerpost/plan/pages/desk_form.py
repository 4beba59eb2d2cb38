"""The desk's form as data: what can be chosen for each injury, and every word that stands in it."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.model.audience import flat
from fingerpost.model.protocol import Grade, Protocol
from fingerpost.model.shared import Landmark, View
from fingerpost.model.words import FINGERS, PAPERS, Finger, People, Side
from fingerpost.plan.base.addresses import address_of
from fingerpost.plan.base.blocks import Bullets, Page, Paragraph, Section
from fingerpost.plan.base.checked import library_badge
from fingerpost.plan.base.illustrate import finger_name, side_name
from fingerpost.plan.base.parts import paragraph
from fingerpost.plan.base.prose import Writer, capital
from fingerpost.plan.base.runs import link, plain, text
from fingerpost.plan.case.check import stages_of

ADDRESS = "desk/"
PREFIX = "desk-"
SIDES: tuple[Side, ...] = ("radial", "ulnar")


@dataclass(frozen=True, kw_only=True)
class FormPlace:
    """A place that an injury can have; `landmark` says where it lies on a drawing."""

    id: str
    name: str
    landmark: Landmark


@dataclass(frozen=True, kw_only=True)
class FormGrade:
    """A grade with the stages that it goes through. `hint`: how it is told in plain words."""

    id: str
    name: str
    hint: str
    stages: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class FormInjury:
    """A protocol as the form offers it. `find`: every name it goes by, in small letters."""

    id: str
    name: str
    trade: str
    find: str
    people: People
    stop: bool
    view: View
    forearm: bool
    fingers: tuple[Finger, ...]
    places: tuple[FormPlace, ...]
    sides: tuple[Side, ...]
    grades: tuple[FormGrade, ...]
    stages: tuple[tuple[str, str], ...]


@dataclass(frozen=True, kw_only=True)
class FormReferral:
    """A short entry: it can be found, but somebody else has to see it."""

    name: str
    find: str
    address: str


@dataclass(frozen=True, kw_only=True)
class DeskForm:
    """`words`: each phrase by its name without the prefix. `sheets`: (name, address) of the general sheets."""

    title: str
    badge: str
    words: tuple[tuple[str, str], ...]
    injuries: tuple[FormInjury, ...]
    referrals: tuple[FormReferral, ...]
    fingers: tuple[tuple[Finger, str], ...]
    sides: tuple[tuple[Side, str], ...]
    views: tuple[tuple[View, str], ...]
    grips: tuple[tuple[str, str], ...]
    tests: tuple[tuple[str, str], ...]
    sheets: tuple[tuple[str, str], ...]


def _names(*names: str) -> str:
    return " | ".join(names).lower()


def _grade(writer: Writer, protocol: Protocol, grade: Grade) -> FormGrade:
    name = writer.say("desk-grade-any") if grade.id == "any" else writer.say("grade", grade=grade.id)
    stages = tuple(s.id for s in stages_of(protocol, grade.id))
    return FormGrade(id=grade.id, name=name, hint=grade.name, stages=stages)


def _injury(writer: Writer, protocol: Protocol) -> FormInjury:
    anatomy = {s.id: s for s in writer.library.vocabularies.anatomy}
    places = tuple(FormPlace(id=p, name=anatomy[p].name, landmark=anatomy[p].landmark) for p in protocol.places)
    return FormInjury(
        id=protocol.id,
        name=protocol.plain_name,
        trade=protocol.trade_name,
        find=_names(protocol.plain_name, protocol.trade_name, *protocol.also_called),
        people=protocol.people,
        stop=protocol.stop,
        view=anatomy[protocol.places[0]].view,
        forearm=any(p.landmark == "forearm" for p in places),
        fingers=protocol.fingers,
        places=places,
        sides=SIDES if protocol.needs_side else (),
        grades=tuple(_grade(writer, protocol, g) for g in protocol.grades),
        stages=tuple((s.id, s.name) for s in protocol.stages),
    )


def plan_desk_form(writer: Writer) -> DeskForm:
    """The form for a whole collection."""
    library = writer.library
    phrases = (p for p in library.vocabularies.wording if p.id.startswith(PREFIX))
    return DeskForm(
        title=writer.say("title-desk"),
        badge=plain(library_badge(writer)),
        words=tuple((p.id.removeprefix(PREFIX), flat(p.says)) for p in phrases),
        injuries=tuple(_injury(writer, d.value) for d in library.protocols),
        referrals=tuple(
            FormReferral(
                name=d.value.plain_name,
                find=_names(d.value.plain_name, d.value.trade_name, *d.value.also_called),
                address=address_of(d.value.id),
            )
            for d in library.referrals
        ),
        fingers=tuple((f, capital(finger_name(writer, f))) for f in FINGERS),
        sides=tuple((s, capital(side_name(writer, s))) for s in SIDES),
        views=(("palm", writer.say("view-palm")), ("back", writer.say("view-back"))),
        grips=tuple((g.id, g.name) for g in library.vocabularies.grips),
        tests=tuple((t.id, t.name) for t in library.vocabularies.tests),
        sheets=tuple((d.value.plain_name, f"sheets/{d.value.id}-{PAPERS[0].lower()}.pdf") for d in library.protocols),
    )


def plan_desk_page(writer: Writer) -> Page:
    """What stands in the place of the desk where it could not be made."""
    injuries = tuple(link(d.value.plain_name, address_of(d.value.id)) for d in writer.library.protocols)
    return Page(
        address=ADDRESS,
        kind="desk",
        title=writer.say("title-desk"),
        description=writer.say("description-desk"),
        badge=library_badge(writer),
        lead=(
            paragraph(writer, writer.say("desk-page-lead"), lead=True),
            Paragraph(words=text(writer.say("desk-page-absent"))),
        ),
        sections=(
            Section(
                id="instead",
                heading=writer.say("heading-desk-instead"),
                blocks=(paragraph(writer, writer.say("desk-page-instead")), Bullets(items=injuries)),
            ),
        ),
        menu=writer.say("menu-desk"),
    )
