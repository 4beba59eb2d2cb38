"""The way back on an injury's page: a step for each stage, which opens on all that the stage asks for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.shared import Exercise, Grip, Taping
from fingerpost.model.words import Finger, GripMark
from fingerpost.plan.base.blocks import (
    Bullets,
    Card,
    Cards,
    Drawing,
    GripBoard,
    GripPanel,
    Miniature,
    Paragraph,
    Section,
    Table,
)
from fingerpost.plan.base.illustrate import EXAMPLE_HAND, EXAMPLE_SIDE, example_finger, grip_drawing
from fingerpost.plan.base.parts import (
    audience_words,
    dose_words,
    empty_if_none,
    labelled,
    leaves_all,
    load_words,
    paragraph,
    pick,
    span_words,
    stage_facts,
    table,
    tape_uses,
    window_words,
)
from fingerpost.plan.base.pictures import GripPicture, HandPicture
from fingerpost.plan.base.prose import Writer, capital, join_words
from fingerpost.plan.base.runs import Words, link, text
from fingerpost.plan.base.step_pictures import Worn, exercise_drawing, tape_drawing
from fingerpost.plan.injury.about import grade_name, verdict_mark, verdict_words
from fingerpost.plan.person.gate_words import gate_halves
from fingerpost.reckon.neighbours import choose_buddy

GRIP_MM, EXERCISE_MM, TAPE_MM = 17.0, 26.0, 26.0


def plan_step(writer: Writer, protocol: Protocol, number: int) -> Section:
    """The stage with this number, from 1."""
    stage = protocol.stages[number - 1]
    last = number == len(protocol.stages)
    finger = example_finger(protocol.fingers)
    return Section(
        id=f"stage-{number}",
        heading=writer.say("heading-stage", number=number, name=stage.name),
        level=3,
        tier="way",
        folded=True,
        answer=verdict_words(writer, stage.verdict),
        mark=verdict_mark(stage),
        aside=_usual_times(writer, stage),
        blocks=empty_if_none(
            paragraph(writer, stage.aim),
            _skipped(writer, stage),
            _grips(writer, stage),
            Bullets(items=(*stage_facts(writer, stage), labelled(writer.say("label-load"), load_words(writer, stage)))),
            _exercises(writer, stage, finger),
            _tapings(writer, stage, finger),
            None if last else gate_halves(writer, protocol, number),
            _window_table(writer, stage),
        ),
    )


def list_stock(writer: Writer, protocol: Protocol) -> tuple[Drawing, ...]:
    """Every small picture of the steps, once."""
    finger = example_finger(protocol.fingers)
    found = (drawing for stage in protocol.stages for drawing in _list_drawings(writer, stage, finger))
    return tuple({drawing.name: drawing for drawing in found}.values())


def _list_drawings(writer: Writer, stage: Stage, finger: Finger) -> Iterator[Drawing]:
    shelf = writer.library.vocabularies
    for panel in _grips(writer, stage).panels:
        wanted = {miniature.of for miniature in panel.miniatures}
        yield from (drawing for grip in shelf.grips if (drawing := _small_grip(writer, grip)).name in wanted)
    exercises = pick(shelf.exercises, (dose.exercise for dose in stage.exercises))
    yield from filter(None, (_small_exercise(writer, exercise, finger) for exercise in exercises))
    yield from (_small_tape(writer, taping, finger) for taping, _ in tape_uses(writer, stage))


def _miniature(drawing: Drawing, words: Words = ()) -> Miniature:
    return Miniature(of=drawing.name, title=drawing.picture.title, words=words)


def _skipped(writer: Writer, stage: Stage) -> Paragraph | None:
    if not stage.skipped_by:
        return None
    return Paragraph(words=text(writer.say("stage-skipped", grades=", ".join(stage.skipped_by))))


def _usual_times(writer: Writer, stage: Stage) -> Words:
    """When the stage usually begins, grade by grade, with where that is from; nothing where there are no times."""
    if not stage.windows:
        return ()
    marks = [writer.mark(source) for source in dict.fromkeys(window.source for window in stage.windows)]
    if _begins_at_once(stage):
        return (*text(writer.say("stage-at-once")), *marks)
    times = []
    for number, window in enumerate(stage.windows):
        time = span_words(writer, window.usual)
        grade = window.grade if number else writer.say("grade-inline", grade=window.grade)
        times.append(time if window.grade == "any" else writer.say("stage-time", grade=grade, time=time))
    return (*text(writer.say("stage-usually", times=", ".join(times))), *marks)


def _begins_at_once(stage: Stage) -> bool:
    return all(span.startswith("0 ") for w in stage.windows for span in (w.earliest, w.usual, w.latest))


def _window_table(writer: Writer, stage: Stage) -> Table | None:
    if not stage.windows or _begins_at_once(stage):
        return None
    head = tuple(writer.say(f"head-{h}") for h in ("grade", "earliest", "usual", "latest"))
    rows = [(text(grade_name(writer, w.grade)), *window_words(writer, w)) for w in stage.windows]
    return table(writer.say("caption-windows", stage=stage.name), head, rows)


def _small_grip(writer: Writer, grip: Grip) -> Drawing:
    drawing = grip_drawing(writer, grip)
    assert isinstance(drawing.picture, GripPicture)
    return replace(drawing, picture=replace(drawing.picture, small=True), width_mm=GRIP_MM)


def _panel(writer: Writer, mark: GripMark, heading: str, ids: Iterable[str], when: Words = ()) -> GripPanel:
    grips: tuple[Grip, ...] = pick(writer.library.vocabularies.grips, ids)
    miniatures = tuple(_miniature(_small_grip(writer, grip), text(grip.name)) for grip in grips)
    return GripPanel(mark=mark, heading=writer.say(heading), miniatures=miniatures, when=when)


def _floor_panel(writer: Writer, ids: Iterable[str], when: Words) -> GripPanel:
    """What is pulled on the floor is not shown on a wall: the exercises below have its picture."""
    grips: tuple[Grip, ...] = pick(writer.library.vocabularies.grips, ids)
    names = capital(join_words([grip.name.lower() for grip in grips]))
    words = labelled(names, when)
    return GripPanel(mark="limit", heading=writer.say("may-only-floor"), miniatures=(), when=words)


def _grips(writer: Writer, stage: Stage) -> GripBoard:
    """Yes, only like this, no: every grip under one of them. Off the wall nothing is a yes."""
    caption = writer.say("caption-grips", stage=stage.name)
    if leaves_all(stage):
        nothing = GripPanel(mark="leave", heading=writer.say("may-no-grip-at-all"), miniatures=())
        return GripBoard(caption=caption, panels=(nothing,))
    panels = [_panel(writer, "keep", "may-yes", stage.grips.keep)] if stage.grips.keep else []
    for rule in stage.grips.limit:
        when = writer.words(rule.when)
        panels.append(
            _panel(writer, "limit", "may-only", rule.grips, when)
            if stage.on_wall
            else _floor_panel(writer, rule.grips, when)
        )
    if stage.grips.leave:
        panels.append(_panel(writer, "leave", "may-no" if stage.on_wall else "may-no-floor", stage.grips.leave))
    return GripBoard(caption=caption, panels=tuple(panels))


def _small_exercise(writer: Writer, exercise: Exercise, finger: Finger) -> Drawing | None:
    drawing = exercise_drawing(writer, exercise, EXAMPLE_HAND, finger)
    return replace(drawing, name=f"{drawing.name}-{finger}", width_mm=EXERCISE_MM) if drawing else None


def _exercises(writer: Writer, stage: Stage, finger: Finger) -> Cards | None:
    if not stage.exercises:
        return None
    known = {e.id: e for e in writer.library.vocabularies.exercises}
    cards = []
    for dose in stage.exercises:
        drawing = _small_exercise(writer, known[dose.exercise], finger)
        name = link(known[dose.exercise].name, f"exercises/#{dose.exercise}")
        words = (*audience_words(writer, dose.for_), *name, *text(": "), *dose_words(writer, dose))
        cards.append(Card(miniature=_miniature(drawing) if drawing else None, words=words))
    return Cards(title=writer.say("exercises-title"), cards=tuple(cards))


def _small_tape(writer: Writer, taping: Taping, finger: Finger) -> Drawing:
    buddy = choose_buddy(finger, taping.neighbour, EXAMPLE_SIDE)
    worn = Worn(taping=taping, hand=EXAMPLE_HAND, finger=finger, partner=buddy.partner if buddy else None)
    drawing = tape_drawing(writer, worn, width_mm=TAPE_MM)
    assert isinstance(drawing.picture, HandPicture)
    bare = replace(drawing.picture, hand_name="")  # too small to read; its title says it
    return replace(drawing, name=f"{drawing.name}-{finger}", picture=bare)


def _tapings(writer: Writer, stage: Stage, finger: Finger) -> Cards | None:
    uses = tape_uses(writer, stage)
    if not uses:
        return None
    cards = tuple(
        Card(
            miniature=_miniature(_small_tape(writer, t, finger)), words=(*link(t.name, f"tapings/#{t.id}"), *text(only))
        )
        for t, only in uses
    )
    return Cards(title=writer.say("taping-title"), cards=cards)
