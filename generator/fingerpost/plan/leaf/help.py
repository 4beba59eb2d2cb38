"""What makes a reader stop, and whom to call: the same box at the foot of the front of every leaf."""

from __future__ import annotations

from collections.abc import Iterable

from fingerpost.model.case import Clinic
from fingerpost.model.shared import WarningSign
from fingerpost.model.words import URGENCIES, Id, Urgency
from fingerpost.plan.base.paper import HelpBox, HelpGroup
from fingerpost.plan.base.parts import pick, short_sign
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import BLANK, Run, Words, strong, text
from fingerpost.plan.case.situation import Situation

SHOWN: tuple[Urgency, ...] = URGENCIES[:3]


def phone(writer: Writer, clinic: Clinic | None) -> Words:
    """The clinic and its number, or a line to write it on."""
    if clinic and clinic.phone:
        return (*text(f"{clinic.name}, "), *strong(clinic.phone.replace(" ", "\u00a0")))
    return (*text(f"{writer.say('leaf-your-clinic')}, "), BLANK)


def _number(writer: Writer, clinic: Clinic | None) -> Words:
    number = clinic.emergency_number if clinic and clinic.emergency_number else writer.library.clinic.emergency_number
    return strong(number) if number else (BLANK, *text(f" {writer.say('leaf-emergency-number')}"))


def _first(writer: Writer, situation: Situation) -> Words:
    """Pain over the limit, and the number to ask at."""
    if situation.hold:
        says = writer.say("leaf-help-hold")
    elif situation.stage.pain.most == 0:
        says = writer.say("leaf-help-none")
    else:
        asks = situation.stage.exercises or situation.stage.on_wall
        name = "leaf-help-pain" if asks else "leaf-help-pain-still"
        says = writer.say(name, most=situation.stage.pain.most)
    ask = writer.say("leaf-help-phone-hold" if situation.hold else "leaf-help-phone")
    return (*strong(says), *text(f" {ask} "), *phone(writer, situation.case.clinic), Run("."))


def help_box(writer: Writer, situation: Situation) -> HelpBox:
    """Pain over the limit, then the warning signs by how soon; for who is to be seen anyway, only those of today."""
    named = (use.sign for use in situation.protocol.warning_signs)
    shown = SHOWN[:2] if situation.hold else SHOWN
    return sign_box(writer, named, _first(writer, situation), situation.case.clinic, shown)


def general_help(writer: Writer, named: Iterable[Id], urgencies: Iterable[Urgency] = SHOWN) -> HelpBox:
    """The same for whoever reads it: with room for the clinic's number."""
    first = (*strong(writer.say("leaf-help-general")), Run(" "), *phone(writer, None), Run("."))
    return sign_box(writer, named, first, None, urgencies)


def sign_box(
    writer: Writer, named: Iterable[Id], first: Words, clinic: Clinic | None, urgencies: Iterable[Urgency]
) -> HelpBox:
    """Warning signs in short under what to do, the most urgent first, behind the words that come before all of them."""
    signs: tuple[WarningSign, ...] = pick(writer.library.vocabularies.warning_signs, named)
    groups = []
    for urgency in urgencies:
        found = tuple(writer.words(short_sign(sign)) for sign in signs if sign.urgency == urgency)
        heading = strong(writer.say(f"leaf-help-{urgency}"))
        if urgency == "emergency":
            before, _, after = writer.say("leaf-help-emergency").partition("{number}")
            heading = (*strong(before), *_number(writer, clinic), *strong(after))
        groups += [HelpGroup(heading=heading, signs=found)] if found else []
    return HelpBox(heading=writer.say("leaf-help"), first=first, groups=tuple(groups))
