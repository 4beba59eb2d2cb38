"""What every part of an injury's page is made with: its writer, its sections, and sentences that stand for a whole."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fingerpost.model.audience import EVERYBODY, Said, Told
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.words import TODAY, AgeBand, GripMark, split_sentences
from fingerpost.plan.base.audience import Reader, narrow_library
from fingerpost.plan.base.blocks import Block, Section, Tier
from fingerpost.plan.base.parts import empty_if_none
from fingerpost.plan.base.prose import Writer, capital
from fingerpost.plan.base.runs import Words


def write_about(library: Library, id: str) -> tuple[Writer, Protocol]:
    """A writer for anybody who may have an injury, and its protocol as it is meant for them."""
    about = library.find_protocol(id)
    if about is None:
        raise KeyError(id)
    age: AgeBand | None = "under-18" if about.people == "under-18" else None
    narrowed = narrow_library(library, Reader(age=age, planned=False), id)
    writer, protocol = Writer(narrowed), narrowed.find_protocol(id) or about
    writer.tell_about(protocol.stages)
    return writer, protocol


def grade_name(writer: Writer, grade: str) -> str:
    return writer.say("grade-any") if grade == "any" else writer.say("grade", grade=grade)


def shown(writer: Writer, tier: Tier, id: str, *blocks: Block | None) -> Section:
    """A part that is read without opening anything."""
    return Section(id=id, heading=writer.say(f"heading-{id}"), blocks=empty_if_none(*blocks), tier=tier)


def folded(writer: Writer, tier: Tier, id: str, answer: Words, *blocks: Block | None) -> Section:
    """A part behind its heading, and behind the sentence that answers it."""
    return replace(shown(writer, tier, id, *blocks), folded=True, answer=answer)


def split_answer(told: str | Told) -> tuple[str, Told]:
    """The first sentence that is for everybody, which stands for the whole, and all that follows it.

    Nothing, and the whole, where the text begins with what is for some readers only.
    """
    pieces = (Said(says=told),) if isinstance(told, str) else told
    if not pieces or pieces[0].for_ != EVERYBODY:
        return "", pieces
    first, *more = split_sentences(" ".join(pieces[0].says.split()))
    rest = (replace(pieces[0], says=" ".join(more)),) if more else ()
    return first, (*rest, *pieces[1:])


def split_list(items: Sequence[Said]) -> tuple[str, tuple[Told, ...]]:
    """The same of a list: the first sentence of its first entry, and what is left of it, entry by entry."""
    first, rest = split_answer(tuple(items[:1]))
    return first, (*((rest,) if rest else ()), *((item,) for item in items[1:]))


def verdict_words(writer: Writer, verdict: Told) -> Words:
    """A verdict as a sentence on a page, which is no day's: for whoever looks ahead, too."""

    def say(piece: Said) -> Said:
        says = capital(piece.says.removeprefix(TODAY).strip())
        return replace(piece, says=says if says.endswith(".") else f"{says}.")

    return writer.words(tuple(say(piece) for piece in verdict))


def verdict_mark(stage: Stage) -> GripMark:
    return "keep" if stage.on_wall else "leave"
