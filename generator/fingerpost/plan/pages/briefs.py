"""The short texts of a condition as plain text: what its leaf says, for a clinician who reads the outline."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from fingerpost.model.protocol import Condition, Protocol, Referral, Stage
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain

Line = tuple[str, Any]
"""The key that holds a text, and the text; None where nothing is written."""


def outline_briefs(writer: Writer, condition: Condition) -> str:
    """Every short text of a condition and of the shared entries that it uses, a line each, behind its key."""
    lines = _list_protocol(writer, condition) if isinstance(condition, Protocol) else _list_referral(condition)
    written = (f"{key}: {plain(writer.words(text))}" if text else key for key, text in lines if text is not None)
    return "\n".join((f"=== LEAF {condition.id} === {condition.plain_name}", *written)) + "\n"


def _list_referral(referral: Referral) -> Iterator[Line]:
    yield "verdict", referral.verdict
    yield "brief", referral.brief
    yield from (("tell", item) for item in referral.tell)


def _list_protocol(writer: Writer, protocol: Protocol) -> Iterator[Line]:
    yield "brief", protocol.brief
    yield from ((f"grade {grade.id}, brief", grade.brief) for grade in protocol.grades)
    for number, stage in enumerate(protocol.stages, 1):
        yield f"--- stage {number}: {stage.name}, {'on' if stage.on_wall else 'off'} the wall", ""
        yield from _list_stage(stage)
    yield "--- used above", ""
    shelf = writer.library.vocabularies
    named = {use.gate for stage in protocol.stages for use in stage.gate}
    named |= {dose.exercise for stage in protocol.stages for dose in stage.exercises}
    named |= {use.taping for stage in protocol.stages for use in stage.taping}
    named |= {t.without_glue for t in shelf.tapings if t.id in named and t.without_glue}
    yield from ((f"gate {gate.id}", gate.brief) for gate in shelf.gates if gate.id in named)
    for exercise in shelf.exercises:
        if exercise.id in named:
            yield f"exercise {exercise.id}", exercise.brief or exercise.name
            yield "    cue", exercise.cue
    for taping in shelf.tapings:
        if taping.id in named:
            yield f"taping {taping.id}", taping.brief
            yield "    wear", taping.wear
            yield from (("    caption", step.brief) for step in taping.steps if step.brief)
    told = {use.sign for use in protocol.warning_signs}
    yield from ((f"warning sign {sign.id}", sign.short) for sign in shelf.warning_signs if sign.id in told)


def _list_stage(stage: Stage) -> Iterator[Line]:
    yield "verdict", stage.verdict
    yield "brief", stage.brief
    yield "daily_brief", stage.daily_brief
    yield from ((f"limit {', '.join(limit.grips)}", limit.brief) for limit in stage.grips.limit)
