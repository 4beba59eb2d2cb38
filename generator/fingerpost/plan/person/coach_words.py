"""What coaches are told, on their pages of the site and on the sheet of one athlete alike."""

from __future__ import annotations

from fingerpost.model.discreet import find_telltale
from fingerpost.model.protocol import Stage
from fingerpost.model.shared import Grip
from fingerpost.plan.base.blocks import Bullets, Table
from fingerpost.plan.base.parts import mark_of, pick, table
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Run, Words, text

LOOK_OUT = ("morning", "pain", "hiding", "pop", "help")
TALK = ("ask", "early", "secret", "decide", "plan")


def session_words(writer: Writer, stage: Stage) -> Words:
    """What a coach plans with in a stage."""
    return writer.words(stage.coach) if stage.coach else text(writer.say("coach-ask"))


def load_share(writer: Writer, stage: Stage) -> str:
    """The load of a stage as a share of what the healthy hand holds, or that there is none."""
    if stage.load is None:
        return writer.say("coach-no-load")
    return writer.say("coach-load", least=stage.load.least, most=stage.load.most).replace(" %", "\u00a0%")


def look_out(writer: Writer) -> Bullets:
    """What to look out for."""
    items = tuple(text(writer.say(f"coach-look-{name}")) for name in LOOK_OUT)
    return Bullets(items=items, title=writer.say("coach-look-title"))


def talk(writer: Writer) -> Bullets:
    """How to talk about it."""
    return Bullets(
        items=tuple(text(writer.say(f"coach-talk-{name}")) for name in TALK), title=writer.say("coach-talk-title")
    )


def gate_name(writer: Writer, gate: str) -> str:
    """The name of a gate, or, where it would tell what is hurt, that there is a check."""
    name: str = pick(writer.library.vocabularies.gates, [gate])[0].name
    return writer.say("coach-gate-hidden") if find_telltale(name) else name


def grip_matrix(writer: Writer, numbered: tuple[tuple[int, Stage], ...], load: bool = True) -> Table:
    """Every grip in every stage: keep, limit or leave, as a word with its sign. `load`: its share is the last row."""

    def cell(grip: Grip, stage: Stage) -> Words:
        mark = mark_of(grip, stage)
        return (Run(writer.say(f"coach-{mark}"), mark),)

    head = (writer.say("head-grip"), *(str(number) for number, _ in numbered))
    rows = [
        (text(grip.name), *(cell(grip, stage) for _, stage in numbered)) for grip in writer.library.vocabularies.grips
    ]
    if load:
        rows.append((text(writer.say("coach-load-row")), *(text(load_share(writer, stage)) for _, stage in numbered)))
    return table(writer.say("coach-caption-grips" if load else "coaches-caption-grips"), head, rows)
