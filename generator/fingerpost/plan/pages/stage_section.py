"""One stage on the page of a protocol, for anybody who reads about it."""

from __future__ import annotations

from fingerpost.model.protocol import Protocol, Stage
from fingerpost.plan.base.blocks import Bullets, Paragraph, Section, Table, link, text
from fingerpost.plan.base.parts import (
    audience_words,
    dose_words,
    empty_if_none,
    grip_list,
    labelled,
    load_words,
    paragraph,
    stage_facts,
    table,
    tape_uses,
    window_words,
)
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.person.gate_words import gate_bullets


def grade_name(writer: Writer, grade: str) -> str:
    return writer.say("grade-any") if grade == "any" else writer.say("grade", grade=grade)


def plan_stage(writer: Writer, protocol: Protocol, number: int) -> Section:
    """The stage with this number, from 1."""
    stage = protocol.stages[number - 1]
    last = number == len(protocol.stages)
    return Section(
        id=f"stage-{number}",
        heading=writer.say("heading-stage", number=number, name=stage.name),
        level=3,
        blocks=empty_if_none(
            paragraph(writer, stage.aim),
            _skipped(writer, stage),
            _window_table(writer, stage),
            grip_list(writer, stage, writer.say("caption-grips", stage=stage.name)),
            Bullets(items=(*stage_facts(writer, stage), labelled(writer.say("label-load"), load_words(writer, stage)))),
            _tapings(writer, stage),
            _doses(writer, stage),
            None if last else gate_bullets(writer, protocol, stage),
        ),
    )


def _skipped(writer: Writer, stage: Stage) -> Paragraph | None:
    if not stage.skipped_by:
        return None
    return Paragraph(words=text(writer.say("stage-skipped", grades=", ".join(stage.skipped_by))))


def _window_table(writer: Writer, stage: Stage) -> Table | None:
    if not stage.windows:
        return None
    head = tuple(writer.say(f"head-{h}") for h in ("grade", "earliest", "usual", "latest"))
    rows = [(text(grade_name(writer, w.grade)), *window_words(writer, w)) for w in stage.windows]
    return table(writer.say("caption-windows", stage=stage.name), head, rows)


def _doses(writer: Writer, stage: Stage) -> Bullets | None:
    if not stage.exercises:
        return None
    known = {e.id: e for e in writer.library.vocabularies.exercises}
    items = tuple(
        (
            *audience_words(writer, d.for_),
            *link(known[d.exercise].name, f"exercises/#{d.exercise}"),
            *text(": "),
            *dose_words(writer, d),
        )
        for d in stage.exercises
    )
    return Bullets(items=items, title=writer.say("exercises-title"))


def _tapings(writer: Writer, stage: Stage) -> Bullets | None:
    uses = tape_uses(writer, stage)
    if not uses:
        return None
    items = tuple((*link(t.name, f"tapings/#{t.id}"), *text(only)) for t, only in uses)
    return Bullets(items=items, title=writer.say("taping-title"))
