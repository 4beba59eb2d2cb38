"""What follows from a case: names, holds, windows, neighbours. Sums and look-ups only; a clinician chose the rest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta

from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.model.protocol import Grade, Protocol, Stage, Timeline
from fingerpost.model.shared import JOINT_KINDS, Structure
from fingerpost.plan.base.audience import Reader, narrow_library, tell
from fingerpost.plan.case.check import stages_of
from fingerpost.reckon.taping_end import TapingEnd, find_taping_end
from fingerpost.reckon.visits import find_last, list_begun, list_earlier
from fingerpost.reckon.windows import (
    Begun,
    StageWindow,
    WayBack,
    choose_review,
    list_ahead,
    list_spans,
    reckon_way_back,
)


@dataclass(frozen=True, kw_only=True)
class Situation:
    """A case, its protocol, and what follows from both.

    `library` and `protocol` hold only what is meant for this person.
    `hold` is why no home programme is printed: '' (printed), 'under-18', 'stop' or 'surgeon'. `way` is None where
    the protocol has no windows or a hold stands. A hold cannot be lifted from a case; only a doctor's clearing,
    recorded in the case, lifts 'under-18' and 'stop'. `before`: how it was at the last visit, without its dates ahead.
    """

    case: Case
    library: Library
    protocol: Protocol
    grade: Grade
    stage: Stage
    place: Structure
    stages: tuple[Stage, ...]
    today: date
    hold: str
    way: WayBack | None
    taping_end: TapingEnd | None
    before: Situation | None = None


def find_hold(case: Case, protocol: Protocol, grade: Grade, kinds: set[str]) -> str:
    """Why this person gets no home programme, or ''.

    `kinds`: the kinds of tissue that the protocol and the place are about.
    """
    if grade.treated_by == "surgeon":
        return "surgeon"
    if case.doctor_cleared:
        return ""
    if protocol.stop:
        return "stop"
    if case.age_band == "under-18" and (protocol.people == "adult" or kinds & JOINT_KINDS):
        return "under-18"
    return ""


def _reckon_way(case: Case, protocol: Protocol, today: date) -> WayBack | None:
    spans = list_spans(protocol.stages, case.grade)
    if not spans:
        return None
    stages = [entry.stage for entry in spans]
    begun = [Begun(told.stage, told.date.day) for _, told in list_begun(case, stages, today)]
    return reckon_way_back(case.anchor.date.day, today, spans, case.stage, begun)


def is_first_visit(case: Case, today: date) -> bool:
    """Whether this is the first time that this person is seen here, as far as a case tells.

    It is where no visit came before this one and no stage but today's has a written day: whoever comes on day 5 or in
    week 9 for the first time is not late, because nobody has set a pace yet.
    """
    return not list_earlier(case, today) and not any(begun.stage != case.stage for begun in case.began)


def is_beginning(situation: Situation) -> bool:
    """Whether somebody is seen for the first time, and begins with the first stage."""
    return is_first_visit(situation.case, situation.today) and situation.stages.index(situation.stage) == 0


def find_timeline(protocol: Protocol, grade: str) -> Timeline | None:
    return next((t for t in protocol.timelines if t.grade == grade), None)


def _reckon_taping(protocol: Protocol, case: Case, way: WayBack | None) -> TapingEnd | None:
    timeline = find_timeline(protocol, case.grade)
    if way is None or timeline is None or timeline.taping_ends is None:
        return None
    full = next((s.id for s in protocol.stages if s.milestone == "full-climbing"), None)
    window = way.find(full) if full else None
    written = case.review_date.day if case.review_date else None
    ahead = {stage: days.usual for _, stage, days in list_ahead(way, choose_review(way, written))}
    spans = timeline.taping_ends.least, timeline.full_climbing.least
    return find_taping_end(way.anchor, *spans, _begin_full(way, window, ahead) if window else None)


def _begin_full(way: WayBack, window: StageWindow, ahead: Mapping[str, date]) -> date:
    """The day on which full climbing began, or usually will: where today's stage has no date, its delay counts."""
    late = way.delay_days if window.standing == "today" else 0
    return window.began or ahead.get(window.stage, window.days.usual + timedelta(days=late))


def _narrow(case: Case, library: Library, today: date) -> tuple[Library, Protocol]:
    """What is meant for the person of a case. What is worn is known only when it is known which tapings are theirs."""
    protocol = library.find_protocol(case.protocol)
    if protocol is None:
        raise ValueError(f"no protocol is called '{case.protocol}'")
    reader = read_reader(case, today)
    stage = next(s for s in protocol.stages if s.id == case.stage)
    worn = bool(tell(stage.taping, reader))
    narrowed = narrow_library(library, replace(reader, support=worn), case.protocol)
    return narrowed, narrowed.find_protocol(case.protocol) or protocol


def read_reader(case: Case, today: date) -> Reader:
    """What a case tells of whoever reads its sheets."""
    return Reader(
        grade=case.grade,
        place=case.place,
        stage=case.stage,
        finger=case.finger,
        side=case.side or "",
        age=case.age_band,
        cleared=case.doctor_cleared is not None,
        allergy=case.tape_allergy,
        first_visit=is_first_visit(case, today),
        planned=True,
    )


def read_situation(case: Case, library: Library, today: date) -> Situation:
    """Work out a case that `find_case_findings` has nothing against. Raises ValueError or StopIteration otherwise."""
    whole = library
    library, protocol = _narrow(case, library, today)
    anatomy = {s.id: s for s in library.vocabularies.anatomy}
    grade = next(g for g in protocol.grades if g.id == case.grade)
    kinds = {anatomy[i].kind for i in (*protocol.tissue, case.place)}
    hold = find_hold(case, protocol, grade, {str(k) for k in kinds})
    way = None if hold else _reckon_way(case, protocol, today)
    return Situation(
        case=case,
        library=library,
        protocol=protocol,
        grade=grade,
        stage=next(s for s in protocol.stages if s.id == case.stage),
        place=anatomy[case.place],
        stages=stages_of(protocol, case.grade),
        today=today,
        hold=hold,
        way=way,
        taping_end=_reckon_taping(protocol, case, way),
        before=_look_back(case, whole, today),
    )


def _look_back(case: Case, library: Library, today: date) -> Situation | None:
    """The last visit: its stage in the protocol as it is now, and what was known of the person then."""
    last = find_last(case, today)
    if last is None:
        return None
    day = last.date.day
    cleared = case.doctor_cleared if case.doctor_cleared and case.doctor_cleared.day <= day else None
    tests = tuple(test for test in case.baselines if test.date.day <= day)
    then = replace(case, stage=last.stage, doctor_cleared=cleared, baselines=tests, began=(), visits=(), checked=None)
    return replace(read_situation(then, library, day), way=None, taping_end=None)
