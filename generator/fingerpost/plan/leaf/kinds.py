"""Which leaf a case gets, and what stands on its two sides, always in one order."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.model.protocol import Seek
from fingerpost.model.words import URGENT
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.illustrate import hand_pictures, inside_drawing
from fingerpost.plan.base.paper import Headline, Leaf, LeafBlock, Points, Rows, Side
from fingerpost.plan.base.parts import pain_words
from fingerpost.plan.base.prose import Writer, capital
from fingerpost.plan.base.runs import BLANK, Words, strong, text
from fingerpost.plan.case.situation import Situation, is_beginning, is_first_visit
from fingerpost.plan.leaf.ahead import ahead, ticks
from fingerpost.plan.leaf.closing import ask, foot
from fingerpost.plan.leaf.front import back_strip, front_strip, grip_fields, headline, note, verdict
from fingerpost.plan.leaf.help import help_box
from fingerpost.plan.leaf.since import since
from fingerpost.plan.leaf.tape import tape_how
from fingerpost.plan.leaf.week import daily, week
from fingerpost.plan.leaf.words import words_here
from fingerpost.plan.person.way_back import find_review
from fingerpost.reckon.windows import ReviewDay

LARGE_HAND_MM, INSIDE_MM = 46.0, 74.0
LARGEST_BESIDE_PT = 12


def _beside(writer: Writer, situation: Situation) -> Drawing | None:
    """The hand with its place named, to stand beside text. In large print nothing stands there: the headline has it."""
    case = situation.case
    if case.print_size > LARGEST_BESIDE_PT:
        return None
    hand = hand_pictures(writer, case.hand, case.finger, [situation.place], case.side)[0]
    return Drawing(name="leaf-hand", picture=hand, caption=(), width_mm=LARGE_HAND_MM)


def _headline(writer: Writer, situation: Situation, review: ReviewDay | None, *, large_hand: bool) -> Headline:
    """The headline, with a small hand unless a large one stands further down."""
    head = headline(writer, situation, review)
    return replace(head, hand=None) if large_hand and _beside(writer, situation) else head


def _about(writer: Writer, situation: Situation) -> Points:
    """What is hurt: in a few lines, on the hand and under the skin."""
    case = situation.case
    lead = [writer.words(situation.protocol.brief)]
    grade = situation.grade
    if grade.id != "any" and grade.brief:
        lead.append((*strong(f"{writer.say('grade', grade=grade.id)}: "), *writer.words(grade.brief)))
    inside = inside_drawing(
        writer, situation.protocol, situation.place, case.hand, case.finger, case.side, INSIDE_MM, grade
    )
    return Points(
        heading=writer.say("leaf-about"),
        lead=tuple(lead),
        beside=_beside(writer, situation),
        below=replace(inside, name="leaf-inside", caption=()) if inside else None,
    )


def _climbing(writer: Writer, situation: Situation) -> Words:
    """How to climb in this stage, in short where the stage has it so."""
    stage = situation.stage
    return (*strong(f"{writer.say('label-climbing')}: "), *writer.words(stage.brief or stage.climbing))


def _until_visit(writer: Writer, situation: Situation) -> Points:
    stage = situation.stage
    items = list(daily(writer, situation))
    if not stage.exercises:
        items.append(_climbing(writer, situation))
        items.append((*strong(f"{writer.say('label-pain')}: "), *pain_words(writer, stage)))
    return Points(heading=writer.say("leaf-until-visit"), items=tuple(items))


def _stage_number(situation: Situation) -> int | None:
    """Which stage of the page is today's. The page also counts stages that this grade skips."""
    return None if situation.hold else situation.protocol.stages.index(situation.stage) + 1


def _questions(writer: Writer, situation: Situation) -> Points:
    items = tuple(writer.words(question) for question in situation.protocol.questions)
    return Points(heading=writer.say("leaf-questions"), items=items, columns=2)


def _daily_words(writer: Writer, situation: Situation) -> tuple[Words, ...]:
    """One line where the stage limits daily life."""
    brief = situation.stage.daily_brief
    return ((*strong(f"{writer.say('label-daily-life')}: "), *writer.words(brief)),) if brief else ()


def _daily_lines(writer: Writer, situation: Situation) -> tuple[LeafBlock, ...]:
    """What the stage limits in daily life, and how to climb where no row of the plan tells it."""
    stage = situation.stage
    items = [*_daily_words(writer, situation)]
    known = {e.id: e for e in writer.library.vocabularies.exercises}
    if stage.on_wall and not any(known[dose.exercise].counts == "routes" for dose in stage.exercises):
        items.append(_climbing(writer, situation))
    return (Points(heading="", items=tuple(items)),) if items else ()


def _home(writer: Writer, situation: Situation) -> tuple[tuple[LeafBlock, ...], tuple[LeafBlock, ...]]:
    review = find_review(situation)
    first = is_beginning(situation)
    top: tuple[LeafBlock, ...] = (
        front_strip(writer, situation),
        _headline(writer, situation, review, large_hand=first),
        verdict(writer, situation),
        *since(writer, situation),
        grip_fields(writer, situation),
        *note(writer, situation),
    )
    plan = week(writer, situation, review)
    if first:
        front = (*top, _until_visit(writer, situation), *plan, _about(writer, situation))
        asked: tuple[LeafBlock, ...] = (_questions(writer, situation),)
    else:
        front = (*top, *(_daily_lines(writer, situation) if plan else (_until_visit(writer, situation),)), *plan)
        asked = ()
    back = (
        back_strip(writer, situation),
        *tape_how(writer, situation, on_front=first or not plan),
        *ticks(writer, situation),
        *ahead(writer, situation, review),
        *asked,
        ask(writer, situation.protocol.id, _stage_number(situation)),
    )
    return front, back


def _split_seek(situation: Situation) -> tuple[tuple[Seek, ...], tuple[Seek, ...]]:
    """(whom to see now, whom later), without what is a matter of hours: the box at the foot tells that.

    What can wait for the next chance is for care at home, which whoever stops does not have.
    """
    seeks = situation.protocol.see_somebody
    waiting = tuple(replace(seek, whom=capital(seek.whom)) for seek in seeks if seek.urgency not in URGENT)
    return waiting[:1], tuple(seek for seek in waiting[1:] if seek.urgency != "routine")


def _see(writer: Writer, situation: Situation) -> Rows:
    """Who must see the finger, by when, and who says when climbing begins again."""
    rows: list[tuple[str, Words]] = []
    for seek in _split_seek(situation)[0]:
        rows.append((writer.say("leaf-who"), (*strong(f"{seek.whom}. "), *writer.words(seek.when))))
        soon = strong(f"{writer.say(f'urgency-{seek.urgency}')}. ")
        rows.append((writer.say("leaf-by-when"), (*soon, *text(writer.say("leaf-booked")))))
    clears = (*text(f"{writer.say('leaf-name')} "), BLANK, *text(f" {writer.say('leaf-date')} "), BLANK)
    return Rows(heading=writer.say("leaf-see"), rows=(*rows, (writer.say("leaf-who-clears"), clears)))


def _stop(writer: Writer, situation: Situation) -> tuple[tuple[LeafBlock, ...], tuple[LeafBlock, ...]]:
    """Instead of a plan: stop, who must see it, what to leave until then."""
    lines = [line for line in writer.say(f"hold-{situation.hold}-until-then").split("\n") if line.strip()]
    daily_line = _daily_words(writer, situation) if situation.hold == "stop" else ()  # its stages are made for this
    front: tuple[LeafBlock, ...] = (
        front_strip(writer, situation),
        _headline(writer, situation, None, large_hand=True),
        verdict(writer, situation),
        *note(writer, situation),
        _see(writer, situation),
        Points(
            heading=writer.say("leaf-until-then"),
            items=(*(writer.words(line) for line in lines), *daily_line),
            beside=_beside(writer, situation),
        ),
    )
    lead = [writer.words(situation.protocol.brief)]
    if situation.hold == "surgeon" and situation.grade.brief:
        lead.append(
            (*strong(f"{writer.say('grade', grade=situation.grade.id)}: "), *writer.words(situation.grade.brief))
        )
    later = _split_seek(situation)[1]
    whom: dict[tuple[str, str], list[str]] = {}
    for seek in later:
        whom.setdefault((seek.urgency, seek.whom), []).append(seek.when)
    rows = tuple(
        (writer.say(f"urgency-{urgency}"), (*strong(f"{who}. "), *writer.words(" ".join(when))))
        for (urgency, who), when in whom.items()
    )
    told: tuple[LeafBlock, ...] = (
        back_strip(writer, situation),
        Points(heading=writer.say("leaf-why"), lead=tuple(lead)),
        Points(heading=writer.say("sheet-if-nothing"), lead=(writer.words(situation.protocol.if_nothing_is_done),)),
        *((Rows(heading=writer.say("leaf-later"), rows=rows),) if rows else ()),
        _questions(writer, situation),
    )
    back = (
        *told,
        *words_here(writer, front, help_box(writer, situation), told),
        ask(writer, situation.protocol.id, _stage_number(situation)),
    )
    return front, back


def plan_leaf(writer: Writer, situation: Situation) -> Leaf:
    """The leaf of one person."""
    front, back = _stop(writer, situation) if situation.hold else _home(writer, situation)
    first = is_first_visit(situation.case, situation.today)
    help_ = help_box(writer, situation)
    return Leaf(
        kind="stop" if situation.hold else "first-visit" if first else "follow-up",
        front=Side(blocks=front, help=help_, foot=foot(writer, (front, help_))),
        back=Side(blocks=back, foot=foot(writer, back, writer.say("leaf-unfit"))),
        inside_words=writer.say("leaf-under-skin"),
    )
