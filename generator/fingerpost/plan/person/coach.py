"""The coach sheet: one page about what training is fine, made from a case whose athlete wants to share that much.

It tells hand and finger and nothing else about the athlete: no name, no reference, no injury, no grade, no source whose
title would name the injury. Its file name holds no id of a protocol.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import Literal

from fingerpost.model.case import Case
from fingerpost.model.discreet import find_telltale
from fingerpost.model.library import Library
from fingerpost.model.protocol import Stage
from fingerpost.model.times import write_date
from fingerpost.model.words import Paper
from fingerpost.plan.base.blocks import Bullets, Drawing, Table
from fingerpost.plan.base.checked import checked_head, plan_is_from, state_words
from fingerpost.plan.base.illustrate import finger_name
from fingerpost.plan.base.parts import labelled
from fingerpost.plan.base.pictures import PathPicture, Signpost
from fingerpost.plan.base.prose import Writer, join_words
from fingerpost.plan.base.runs import Run, Words, plain, strong, text
from fingerpost.plan.case.situation import Situation, read_situation
from fingerpost.plan.person.coach_words import gate_name, grip_matrix, look_out, session_words, talk
from fingerpost.plan.person.sheet_parts import LEAST_PT
from fingerpost.plan.person.way_back import find_review, short_date
from fingerpost.reckon.windows import StageDays, list_ahead

PATH_MM: dict[Paper, float] = {"A4": 261.0, "Letter": 243.0}
# One page must hold it all: the more stages are still ahead, the smaller the letters (points). A coach reads it at a
# desk; a person with a large-print handout keeps that, and this sheet is not for them.
TEXT_PT = {1: 12.0, 2: 12.0, 3: 11.0, 4: 10.5}
FEW_STAGES = 3
# Gates that the sheet asks for in every stage: they are said once.
ALWAYS = ("next-morning-same", "pain-within-limit")


@dataclass(frozen=True, kw_only=True)
class CoachStage:
    """One stage from today on."""

    number: int
    name: str
    sessions: Words


@dataclass(frozen=True, kw_only=True)
class CoachSheet:
    """One page. Where training stops, `path` and `grips` are None and there are no stages.

    `limits`: what 'limit' means today. `gates`: a line for each stage to come; few
    lines stand beside the grips. `text_pt` is the size of letters.
    """

    file_stem: str
    title: str
    language: str
    paper: Paper
    text_pt: float
    head: str
    foot: str
    under_title: tuple[Words, ...]
    path: Drawing | None
    stages_heading: str
    stages: tuple[CoachStage, ...]
    grips: Table | None
    limits: Bullets | None
    gates: Bullets | None
    gates_beside: bool
    notes: tuple[Bullets, ...]


def coach_file_stem(case: Case) -> str:
    """A file name that tells nothing but what it is; it ends like the name of the same person's handout."""
    return f"coach_{hashlib.sha256(repr(case).encode()).hexdigest()[:10]}"


def _ahead(situation: Situation) -> tuple[tuple[int, Stage], ...]:
    """Today's stage and those after it, with their numbers."""
    at = situation.stages.index(situation.stage)
    return tuple(enumerate(situation.stages, 1))[at:]


def _few(situation: Situation) -> bool:
    """Whether so few stages are ahead that their usual days stand on the path, and gates beside the grips."""
    return len(_ahead(situation)) <= FEW_STAGES


def _days(situation: Situation, stage: Stage) -> StageDays | None:
    """When a stage ahead may begin, as the person's own leaf has it: never before their next visit."""
    ahead = list_ahead(situation.way, find_review(situation)) if situation.way else ()
    return next((days for _, id, days in ahead if id == stage.id), None)


def _window_words(writer: Writer, situation: Situation, stage: Stage) -> str:
    """From when to when a stage may begin; '' where there are no dates."""
    days = _days(situation, stage)
    if days is None:
        return ""
    if days.earliest == days.latest:
        return writer.say("coach-window-day", day=short_date(days.usual))
    earliest, usual, latest = _without_year(days.earliest), _without_year(days.usual), short_date(days.latest)
    if _few(situation):
        return writer.say("coach-window", earliest=earliest, latest=latest)
    return writer.say("coach-window-usual", earliest=earliest, usual=usual, latest=latest)


def _without_year(day: date) -> str:
    return short_date(day).rsplit(" ", 1)[0]


def _path(writer: Writer, situation: Situation) -> Drawing:
    """The path from today on, lying."""
    at = situation.stages.index(situation.stage)
    posts = []
    for number, stage in _ahead(situation):
        days = _days(situation, stage) if number > at + 1 and _few(situation) else None
        arms = (writer.say("coach-arm", day=short_date(days.usual)),) if days else ()
        standing: Literal["today", "ahead"] = "today" if number == at + 1 else "ahead"
        posts.append(Signpost(number=number, name=stage.name, arms=arms, gate="", standing=standing))
    title = writer.say("picture-path-coach", count=len(posts), number=at + 1, name=situation.stage.name)
    picture = PathPicture(title=title, posts=tuple(posts), here=writer.say("coach-here"), lying=True)
    return Drawing(name="path", picture=picture, caption=(), width_mm=PATH_MM[situation.case.paper])


def _conditions(writer: Writer, stage: Stage) -> Bullets | None:
    """What 'limit' means in today's stage."""
    names = {g.id: g.name for g in writer.library.vocabularies.grips}
    items = []
    for rule in stage.grips.limit:
        when = plain(writer.words(rule.when))
        says = writer.say("coach-limit-hidden") if find_telltale(when) else when
        items.append(labelled(join_words([names[g] for g in rule.grips]), text(says)))
    return Bullets(items=tuple(items), title=writer.say("coach-limit-title")) if items else None


def _gates(writer: Writer, situation: Situation, ahead: tuple[tuple[int, Stage], ...]) -> Bullets | None:
    """When each stage to come may begin, and what must be true first."""
    items = []
    for (_, before), (number, stage) in pairwise(ahead):
        names = dict.fromkeys(gate_name(writer, use.gate) for use in before.gate if use.gate not in ALWAYS)
        label = writer.say("coach-stage", number=number)
        window = _window_words(writer, situation, stage)
        first = writer.say("coach-first", gates="; ".join(names)) if names else writer.say("coach-first-only")
        items.append((*strong(f"{label} "), *text(f"{window} {first}".strip())))
    return Bullets(items=tuple(items), title=writer.say("coach-gates-title")) if items else None


def _under_title(writer: Writer, situation: Situation) -> tuple[Words, ...]:
    case = situation.case
    finger = writer.say("coach-finger", hand=case.hand, finger=finger_name(writer, case.finger))
    printed = writer.say("coach-printed", date=write_date(situation.today))
    lines = [(*strong(finger), Run(" "), *plan_is_from(writer, case), Run(f" {printed}"))]
    if situation.hold:
        return (*lines, strong(writer.say("coach-stop")), text(writer.say("coach-stop-instead")))
    number = situation.stages.index(situation.stage) + 1
    today = writer.say("coach-today", number=number, count=len(situation.stages), name=situation.stage.name)
    pain = (
        writer.say("coach-pain-none")
        if situation.stage.pain.most == 0
        else writer.say("coach-pain", most=situation.stage.pain.most)
    )
    return (*lines, text(f"{today} {pain}"))


def plan_coach_sheet(library: Library, case: Case, today: date) -> CoachSheet:
    """The sheet of a case that `find_case_findings` has nothing against and whose athlete shares it.

    Raises ValueError where `share_with_coach` is off.
    """
    if not case.share_with_coach:
        raise ValueError("share_with_coach is off")
    situation = read_situation(case, library, today)
    writer = Writer(situation.library)
    ahead = () if situation.hold else _ahead(situation)
    stages = tuple(
        CoachStage(number=number, name=stage.name, sessions=text(plain(session_words(writer, stage))))
        for number, stage in ahead
    )
    state = state_words(writer, situation.protocol)
    return CoachSheet(
        file_stem=coach_file_stem(case),
        title=writer.say("coach-title"),
        language="en-GB",
        paper=case.paper,
        text_pt=TEXT_PT.get(max(1, len(ahead)), LEAST_PT),
        head=checked_head(writer, case),
        foot=f"{writer.say('coach-foot', version=situation.protocol.status.version)} {state}".strip(),
        under_title=_under_title(writer, situation),
        path=_path(writer, situation) if ahead else None,
        stages_heading=writer.say("coach-stages"),
        stages=stages,
        grips=grip_matrix(writer, ahead) if ahead else None,
        limits=_conditions(writer, situation.stage) if ahead else None,
        gates=_gates(writer, situation, ahead),
        gates_beside=_few(situation),
        notes=(look_out(writer), talk(writer)),
    )
