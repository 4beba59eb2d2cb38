"""What anybody prints from the site: a leaf for each grade, and what goes with it. For no one, so without dates."""

from __future__ import annotations

from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.words import Paper, PrintSize
from fingerpost.plan.base.blocks import Bullets
from fingerpost.plan.base.illustrate import example_spots
from fingerpost.plan.base.paper import Handout, Sheet
from fingerpost.plan.base.parts import paragraph, sign_names, summary
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, text
from fingerpost.plan.injury.about import write_about
from fingerpost.plan.leaf.general import plan_general_leaves, plan_referral_leaf
from fingerpost.plan.leaf.words import explain_together
from fingerpost.plan.person.sheet_parts import HAND_MM, closing_sections, diary, section, shell, soon_box

DIARY_ROWS = 14


def _for_nobody(writer: Writer) -> tuple[Words, ...]:
    """On every sheet, because loose sheets get into other hands: it is not made for whoever holds it."""
    return (text(writer.say("general-line")),)


def _about_sheet(writer: Writer, protocol: Protocol) -> Sheet:
    fit = protocol.signs
    signs = [
        Bullets(items=sign_names(writer, ids), title=writer.say(f"signs-{name}"))
        for name, ids in (("usual", fit.usual), ("sometimes", fit.sometimes))
        if ids
    ]
    sheet = Sheet(
        number=1,
        name="about",
        title=writer.say("title-sheet-about", name=protocol.plain_name),
        under_title=_for_nobody(writer),
        lead=(summary(writer, protocol), paragraph(writer, protocol.grip_rule)),
        beside=example_spots(writer, protocol, HAND_MM),
        sections=(section(writer, "signs", *signs), section(writer, "soon", soon_box(writer, protocol))),
    )
    closing = closing_sections(writer, protocol, (sheet,), text(writer.say("disclaimer")))
    return Sheet(
        number=sheet.number,
        name=sheet.name,
        title=sheet.title,
        under_title=sheet.under_title,
        lead=sheet.lead,
        beside=sheet.beside,
        sections=(*sheet.sections, *closing),
    )


def _diary_sheet(writer: Writer) -> Sheet:
    return Sheet(
        number=2,
        name="diary",
        title=writer.say("title-sheet-diary"),
        under_title=_for_nobody(writer),
        sections=(section(writer, "diary", diary(writer, [""] * DIARY_ROWS)),),
    )


def _name_file(id: str, paper: Paper, print_size: PrintSize) -> str:
    """Addresses of the site are those without a size: it has the usual one alone."""
    return f"{id}-{paper.lower()}" if print_size == 12 else f"{id}-{paper.lower()}-{print_size}"


def plan_general_handout(library: Library, id: str, paper: Paper, print_size: PrintSize = 12) -> Handout:
    """The leaves of a protocol, a grade each, with what is known about the injury and a diary."""
    writer, protocol = write_about(library, id)
    about = _about_sheet(writer, protocol)
    sheets: tuple[Sheet, ...] = (about,) if protocol.stop else (about, _diary_sheet(writer))
    leaves = plan_general_leaves(Writer(library), protocol)
    sheets = explain_together(writer, leaves, sheets)
    stem = _name_file(protocol.id, paper, print_size)
    return shell(writer, protocol, stem, paper, print_size, sheets, writer.say("general-head"), leaves=leaves)


def plan_referral_handout(library: Library, referral: Referral, paper: Paper, print_size: PrintSize = 12) -> Handout:
    """The leaf of an injury that somebody else must see."""
    writer = Writer(library)
    leaves = (plan_referral_leaf(writer, referral),)
    stem = _name_file(referral.id, paper, print_size)
    return shell(writer, referral, stem, paper, print_size, (), writer.say("general-head"), leaves=leaves)
