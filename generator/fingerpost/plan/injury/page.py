"""The site's page of one injury with a way back: what to do now, the way stage by stage, good to know, background."""

from __future__ import annotations

from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol
from fingerpost.plan.base.addresses import address_of
from fingerpost.plan.base.blocks import Page, Section
from fingerpost.plan.base.checked import draft_badge
from fingerpost.plan.base.illustrate import example_insides, example_spots
from fingerpost.plan.base.parts import bullets, paragraph, stages_intro
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.injury import know
from fingerpost.plan.injury.about import folded, shown, write_about
from fingerpost.plan.injury.act import get_help, how_long, lead, now, until_then, who, your_stage
from fingerpost.plan.injury.grip_loads import load_blocks
from fingerpost.plan.injury.steps import list_stock, plan_step

HAND_MM = 75.0


def _loads(writer: Writer, protocol: Protocol) -> tuple[Section, ...]:
    """What each grip asks of the pulleys, on the page of an injury to a pulley that the sums cover."""
    if not {"a2-pulley", "a4-pulley"} & set(protocol.places):
        return ()
    return (folded(writer, "background", "loads", (), *load_blocks(writer)),)


def _know(writer: Writer, protocol: Protocol) -> tuple[Section, ...]:
    other_ways = paragraph(writer, protocol.other_ways)
    happens = (example_insides(writer, protocol), paragraph(writer, protocol.how_it_happens))
    return (
        *know.does_it_fit(writer, protocol),
        know.look_alikes(writer, protocol),
        know.grades(writer, protocol),
        know.text_fold(writer, "how", protocol.onset, *happens),
        know.text_fold(writer, "grip-rule", protocol.grip_rule),
        know.tests(writer, protocol),
        know.list_fold(writer, "cautions", protocol.cautions),
        know.list_fold(writer, "goes-wrong", protocol.goes_wrong),
        know.text_fold(writer, "if-nothing", protocol.if_nothing_is_done, after=(other_ways,)),
        know.list_fold(writer, "questions", protocol.questions),
        know.to_print(writer, protocol),
    )


def _background(writer: Writer, protocol: Protocol) -> tuple[Section, ...]:
    return (
        folded(writer, "background", "see-somebody", (), know.see_somebody(writer, protocol)),
        *_loads(writer, protocol),
        folded(writer, "background", "facts", (), bullets(writer, (fact.says for fact in protocol.facts))),
        *know.closing(writer, protocol),
    )


def plan_protocol_page(library: Library, id: str) -> Page:
    """Everything that the site says about one injury, in the order in which somebody needs it who is hurt."""
    writer, protocol = write_about(library, id)
    # In the order of the page, so that a reader meets the first source first.
    top = lead(writer, protocol)
    sections = (
        now(writer, protocol),
        who(writer, protocol),
        *how_long(writer, protocol),
        until_then(writer, protocol),
        your_stage(writer, protocol),
        get_help(writer, protocol),
        shown(writer, "way", "stages", stages_intro(writer, protocol)),
        *(plan_step(writer, protocol, number) for number in range(1, len(protocol.stages) + 1)),
        *_know(writer, protocol),
        *_background(writer, protocol),
    )
    return Page(
        address=address_of(protocol.id),
        kind="protocol",
        title=protocol.plain_name,
        description=writer.say("description-protocol", name=protocol.plain_name),
        badge=draft_badge(writer, protocol),
        lead=top,
        beside=example_spots(writer, protocol, HAND_MM),
        sections=sections,
        stock=list_stock(writer, protocol),
        menu=protocol.plain_name,
    )
