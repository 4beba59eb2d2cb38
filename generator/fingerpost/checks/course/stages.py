"""Stages: windows, milestones and gates."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

from fingerpost.checks.base.walk import find_first_odd_grade, list_protocols, must_stop
from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import Protocol, Stage, Window
from fingerpost.problems import Problem
from fingerpost.reckon.windows import PACES

MILESTONES = ("easy-climbing", "full-climbing")


def list_home_grades(protocol: Protocol) -> tuple[str, ...]:
    """The grades that no surgeon treats, the mildest first."""
    return tuple(grade.id for grade in protocol.grades if grade.treated_by != "surgeon")


def list_windows(protocol: Protocol, grade: str) -> Iterator[tuple[int, int, Stage, Window]]:
    """The windows of a grade, stage by stage: (number of the stage, number of the window, both)."""
    for number, stage in enumerate(protocol.stages):
        for at, window in enumerate(stage.windows):
            if window.grade == grade and grade not in stage.skipped_by:
                yield number, at, stage, window


def _is_odd(protocol: Protocol, windows: Sequence[str]) -> bool:
    """Whether the grades of windows, or those of the protocol, are a finding of their own already."""
    strange = set(windows) - {grade.id for grade in protocol.grades}
    return bool(strange) or len(windows) != len(set(windows)) or find_first_odd_grade(protocol) is not None


def find_missing_windows(library: Library) -> Iterator[Problem]:
    """Every grade that no surgeon treats must have a window in every stage that it does not skip."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            there = [window.grade for window in stage.windows]
            if must_stop(library, document.value) or _is_odd(document.value, there):
                continue
            for grade in list_home_grades(document.value):
                if grade not in there and grade not in stage.skipped_by:
                    message = f"grade {grade} must have a window in the stage '{stage.id}'"
                    yield document.problem(("stages", number, "windows"), message, "Or name it under skipped_by.")


def find_windows_of_skipped_stages(library: Library) -> Iterator[Problem]:
    """A grade that skips a stage must have no window in it."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            for at, window in enumerate(stage.windows):
                if window.grade in stage.skipped_by:
                    message = f"grade {window.grade} skips the stage '{stage.id}'"
                    yield document.problem(("stages", number, "windows", at, "grade"), message, "Take the window out.")


def find_windows_out_of_order(library: Library) -> Iterator[Problem]:
    """In a window earliest must not be after usual, and usual must not be after latest."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            for at, window in enumerate(stage.windows):
                for sooner, later in pairwise(PACES):
                    first, second = getattr(window, sooner), getattr(window, later)
                    if first.rough_days > second.rough_days:
                        message = f"{first} must not be after {later}, {second}"
                        yield document.problem(("stages", number, "windows", at, sooner), message)


def find_windows_that_fall_back(library: Library) -> Iterator[Problem]:
    """From stage to stage no day of a grade's windows must fall back."""
    for document in list_protocols(library):
        for grade in dict.fromkeys(grade.id for grade in document.value.grades):
            for before, after in pairwise(list_windows(document.value, grade)):
                for pace in PACES:
                    first, second = getattr(before[3], pace), getattr(after[3], pace)
                    if second.rough_days < first.rough_days:
                        message = f"{second} must not be before that of the stage '{before[2].id}', {first}"
                        yield document.problem(("stages", after[0], "windows", after[1], pace), message)


def find_worse_grades_that_are_faster(library: Library) -> Iterator[Problem]:
    """In a stage no day of a worse grade's window must come before that of a milder grade."""
    for document in list_protocols(library):
        order = [grade.id for grade in document.value.grades]
        for number, stage in enumerate(document.value.stages):
            known = [(at, w) for at, w in enumerate(stage.windows) if w.grade in order]
            known.sort(key=lambda found: order.index(found[1].grade))
            for (_, milder), (at, worse) in pairwise(known):
                for pace in PACES:
                    first, second = getattr(milder, pace), getattr(worse, pace)
                    if second.rough_days < first.rough_days:
                        message = f"{second} must not be before grade {milder.grade}, {first}"
                        yield document.problem(("stages", number, "windows", at, pace), message)


def find_ways_back_that_begin_late(library: Library) -> Iterator[Problem]:
    """The first stage of a grade must begin on day 0, so that each day belongs to a stage."""
    for document in list_protocols(library):
        for grade in dict.fromkeys(grade.id for grade in document.value.grades):
            for number, at, stage, window in list_windows(document.value, grade):
                if window.earliest.rough_days:
                    message = f"'{stage.id}' is the first stage of grade {grade} and must begin on day 0"
                    path = ("stages", number, "windows", at, "earliest")
                    yield document.problem(path, message, "Write 0 days, or give the grade a stage before it.")
                break


def find_misplaced_milestones(library: Library) -> Iterator[Problem]:
    """Easy climbing and full climbing must each be the milestone of exactly one stage, in this order."""
    for document in list_protocols(library):
        found = [(n, stage.milestone) for n, stage in enumerate(document.value.stages) if stage.milestone != "none"]
        for milestone in MILESTONES:
            places = [number for number, name in found if name == milestone]
            if not places:
                yield document.problem(("stages",), f"one stage must have the milestone '{milestone}'")
            for number in places[1:]:
                path = ("stages", number, "milestone")
                yield document.problem(path, f"'{milestone}' must be the milestone of one stage only")
        if [name for _, name in found] == [*reversed(MILESTONES)]:
            path = ("stages", found[0][0], "milestone")
            yield document.problem(path, "full climbing must not come before easy climbing")


def find_skipped_milestones(library: Library) -> Iterator[Problem]:
    """A grade must not skip a stage that is a milestone."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            for at, grade in enumerate(stage.skipped_by):
                if stage.milestone != "none" and grade in list_home_grades(document.value):
                    message = f"grade {grade} must not skip '{stage.milestone}'"
                    yield document.problem(("stages", number, "skipped_by", at), message)


def _list_milestones(document: Document[Any]) -> Iterator[tuple[tuple[str | int, ...], Window, str]]:
    """The windows of milestones: (path, window, key of the timeline)."""
    for number, stage in enumerate(document.value.stages):
        if stage.milestone != "none":
            for at, window in enumerate(stage.windows):
                yield ("stages", number, "windows", at), window, stage.milestone.replace("-", "_")


def find_milestones_before_their_time(library: Library) -> Iterator[Problem]:
    """A milestone must not begin before the shortest typical time of its grade."""
    for document in list_protocols(library):
        timelines = {timeline.grade: timeline for timeline in document.value.timelines}
        for path, window, key in _list_milestones(document):
            timeline = timelines.get(window.grade)
            least = getattr(timeline, key).least if timeline else window.earliest
            if window.earliest.rough_days < least.rough_days:
                message = f"{window.earliest} must not be before the typical time of grade {window.grade}, {least}"
                yield document.problem((*path, "earliest"), message, "Compare with timelines.")


def find_timelines_out_of_order(library: Library) -> Iterator[Problem]:
    """In a timeline least must not exceed most, and full climbing must not come before easy climbing."""
    for document in list_protocols(library):
        for number, timeline in enumerate(document.value.timelines):
            ranges = {key: getattr(timeline, key) for key in ("easy_climbing", "full_climbing", "taping_ends")}
            for key, span in ranges.items():
                if span and span.least.rough_days > span.most.rough_days:
                    message = f"{span.least} must not be more than {span.most}"
                    yield document.problem(("timelines", number, key, "least"), message)
            for end in ("least", "most"):
                easy, full = (getattr(ranges[key], end) for key in ("easy_climbing", "full_climbing"))
                if full.rough_days < easy.rough_days:
                    message = f"{full} must not be before easy climbing, {easy}"
                    yield document.problem(("timelines", number, "full_climbing", end), message)


def find_missing_gates(library: Library) -> Iterator[Problem]:
    """Every stage but the last must have a gate to the next stage, and the last must have none."""
    for document in list_protocols(library):
        last = len(document.value.stages) - 1
        for number, stage in enumerate(document.value.stages):
            if number < last and not stage.gate:
                message = f"the stage '{stage.id}' must have a gate to the next stage"
                yield document.problem(("stages", number, "gate"), message, "Say what must be true before it.")
            elif number == last and stage.gate:
                message = "no stage comes after this one, so it must have no gate"
                yield document.problem(("stages", number, "gate"), message, "Write [].")
