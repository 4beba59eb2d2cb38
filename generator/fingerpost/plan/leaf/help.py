"""What makes a reader stop, and whom to call: the same box at the foot of the front of every leaf."""

from __future__ import annotations

from collections.abc import Iterable

from fingerpost.model.shared import WarningSign
from fingerpost.model.words import URGENCIES, Urgency
from fingerpost.plan.base.blocks import Run, Words, strong, text
from fingerpost.plan.base.paper import HelpBox, HelpGroup
from fingerpost.plan.base.parts import pick, short_sign
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.case.situation import Situation

SHOWN: tuple[Urgency, ...] = URGENCIES[:3]


def phone(writer: Writer, situation: Situation) -> Words:
    """The clinic and its number, or a line to write it on."""
    clinic = situation.case.clinic
    if clinic and clinic.phone:
        return (*text(f"{clinic.name}, "), *strong(clinic.phone.replace(" ", "\u00a0")))
    return (*text(f"{writer.say('leaf-your-clinic')}, "), Run("____", "blank"))


def _number(writer: Writer, situation: Situation) -> Words:
    clinic = situation.case.clinic
    number = clinic.emergency_number if clinic and clinic.emergency_number else writer.library.clinic.emergency_number
    return strong(number) if number else (Run("____", "blank"), *text(f" {writer.say('leaf-emergency-number')}"))


def _first(writer: Writer, situation: Situation) -> Words:
    """Pain over the limit, and the number to ask at."""
    if situation.hold:
        says = writer.say("leaf-help-hold")
    elif situation.stage.pain.most == 0:
        says = writer.say("leaf-help-none")
    else:
        says = writer.say("leaf-help-pain", most=situation.stage.pain.most)
    ask = writer.say("leaf-help-phone-hold" if situation.hold else "leaf-help-phone")
    return (*strong(says), *text(f" {ask} "), *phone(writer, situation), Run("."))


def _group(writer: Writer, heading: Words, signs: Iterable[WarningSign]) -> HelpGroup:
    return HelpGroup(heading=heading, signs=tuple(writer.words(short_sign(sign)) for sign in signs))


def list_signs(writer: Writer, situation: Situation) -> tuple[WarningSign, ...]:
    """The warning signs of the protocol that are for this person."""
    return pick(writer.library.vocabularies.warning_signs, (use.sign for use in situation.protocol.warning_signs))


def help_box(writer: Writer, situation: Situation, urgencies: Iterable[Urgency] = SHOWN) -> HelpBox:
    """Pain over the limit, then the warning signs by how soon: none but the first two for who is to be seen anyway."""
    signs = list_signs(writer, situation)
    groups = []
    for urgency in urgencies:
        found = [sign for sign in signs if sign.urgency == urgency]
        if not found:
            continue
        heading = strong(writer.say(f"leaf-help-{urgency}"))
        if urgency == "emergency":
            before, _, after = writer.say("leaf-help-emergency").partition("{number}")
            heading = (*strong(before), *_number(writer, situation), *strong(after))
        groups.append(_group(writer, heading, found))
    return HelpBox(heading=writer.say("leaf-help"), first=_first(writer, situation), groups=tuple(groups))
