"""Gates in words: what must be true before the next stage, who tells, and from when."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from fingerpost.model.protocol import GateUse, Protocol, Stage
from fingerpost.model.shared import Gate
from fingerpost.plan.base.blocks import Bullets, Split
from fingerpost.plan.base.parts import audience_words, pick
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Run, Words, link
from fingerpost.reckon.windows import GROWTH_STAGE_DAYS, list_spans, list_stays


def _by(writer: Writer, gate: Gate) -> str:
    """The name of a gate and who tells whether it is met: 'Full fist (you).'"""
    return f"{gate.name} ({writer.say(f'gate-by-{gate.who}')})."


def _say_grade(writer: Writer, grade: str, says: str) -> str:
    return says if grade == "any" else f"{writer.say('grade', grade=grade)}: {says[:1].lower()}{says[1:]}"


def _list_times(writer: Writer, protocol: Protocol, stage: Stage, gate: Gate) -> Iterator[str]:
    """From when a gate can be met at all, grade by grade, counted as the windows count."""
    if gate.stay and not stage.windows:
        yield writer.say("gate-stay-unknown", days=GROWTH_STAGE_DAYS)
    for window in stage.windows:
        if gate.pull == "maximal" and window.maximal_test:
            yield _say_grade(writer, window.grade, writer.say("gate-from", when=window.maximal_test))
        spans = list_spans(protocol.stages, window.grade)
        at = next(n for n, one in enumerate(spans) if one.stage == stage.id)
        if gate.stay and at < len(spans) - 1:
            yield _say_grade(writer, window.grade, writer.say("gate-stay", days=list_stays(spans)[at]))


def _after(writer: Writer, says: str) -> Words:
    """A sentence behind another one, with its marks; nothing where there is none."""
    return (Run(" "), *writer.words(says)) if says else ()


def _list_gates(writer: Writer, stage: Stage) -> Iterator[tuple[GateUse, Gate]]:
    for use in stage.gate:
        yield use, pick(writer.library.vocabularies.gates, [use.gate])[0]


def _gate_words(writer: Writer, protocol: Protocol, stage: Stage, use: GateUse, gate: Gate, name: str) -> Words:
    times = _after(writer, " ".join(_list_times(writer, protocol, stage, gate)))
    meant = (*audience_words(writer, use.for_), *audience_words(writer, gate.for_))
    return (*meant, *link(name, f"gates/#{gate.id}"), Run(" "), *writer.words(gate.says), *times)


def gate_bullets(writer: Writer, protocol: Protocol, stage: Stage) -> Bullets:
    """What must be true before the next stage, and who tells, for anybody who reads about it."""
    gates = _list_gates(writer, stage)
    items = tuple(_gate_words(writer, protocol, stage, use, gate, _by(writer, gate)) for use, gate in gates)
    return Bullets(items=items, title=writer.say("gate-title"))


def gate_halves(writer: Writer, protocol: Protocol, number: int) -> Split:
    """The same before the stage that follows on this number: what a reader ticks, and what only others tell."""
    stage = protocol.stages[number - 1]

    def half(heading: str, style: Literal["ticks", "points"], *tellers: str) -> Bullets:
        told = [(use, gate) for use, gate in _list_gates(writer, stage) if gate.who in tellers]
        items = tuple(_gate_words(writer, protocol, stage, use, gate, f"{gate.name}.") for use, gate in told)
        return Bullets(items=items, style=style, title=writer.say(heading))

    halves = (
        half("gate-you-tick", "ticks", "person"),
        half("gate-clinic-tests", "points", "clinician"),
        half("gate-doctor-says", "points", "doctor"),
    )
    title = writer.say("gate-before", number=number + 1)
    return Split(title=title, halves=tuple(one for one in halves if one.items))
