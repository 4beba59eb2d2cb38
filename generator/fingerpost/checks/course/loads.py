"""Loads and doses: how much of what."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from fingerpost.checks.base.walk import list_protocols
from fingerpost.model.library import Library
from fingerpost.model.protocol import Dose, Load
from fingerpost.problems import Problem

# What a dose may hold, from the least to the most. Wide bounds: they catch slips of a key, not odd programmes.
_BOUNDS = {
    "sets": (1, 10),
    "repeats": (1, 60),
    "hold_seconds": (1, 1200),
    "rest_seconds": (0, 900),
    "times_a_day": (1, 12),
    "days_a_week": (1, 7),
}

# A choice of ours: ten is a short round at each meal and one at each coffee, which a person with a job can still keep.
# A plan that nobody can keep is kept by chance, and the part that matters is as likely left out as any other.
_MOST_SESSIONS_A_DAY = 10


def find_impossible_loads(library: Library) -> Iterator[Problem]:
    """A load must lie between 1 and 100 % of the healthy hand, and least must not exceed most."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            load: Load | None = stage.load
            if load and not 1 <= load.least <= load.most <= 100:
                message = f"{load.least} to {load.most} % must lie between 1 and 100, the smaller one first"
                yield document.problem(("stages", number, "load"), message)


def find_loads_that_fall(library: Library) -> Iterator[Problem]:
    """A load must not fall from one loaded stage to the next."""
    for document in list_protocols(library):
        loaded = [(number, stage) for number, stage in enumerate(document.value.stages) if stage.load]
        for (_, before), (number, after) in pairwise(loaded):
            for end in ("least", "most"):
                first, second = getattr(before.load, end), getattr(after.load, end)
                if second < first:
                    message = f"{second} % must not be less than in the stage '{before.id}', {first} %"
                    yield document.problem(("stages", number, "load", end), message)


def find_loaded_exercises_without_a_load(library: Library) -> Iterator[Problem]:
    """A loaded exercise must stand only in a stage that says how much load."""
    loaded = {exercise.id for exercise in library.vocabularies.exercises if exercise.loaded}
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            for at, dose in enumerate(stage.exercises):
                if stage.load is None and dose.exercise in loaded:
                    message = f"'{dose.exercise}' is loaded, and the stage '{stage.id}' has no load"
                    hint = "Give the stage a load, or choose an exercise without one."
                    yield document.problem(("stages", number, "exercises", at, "exercise"), message, hint)


def find_loads_without_an_exercise(library: Library) -> Iterator[Problem]:
    """A stage that says how much load must have a loaded exercise."""
    loaded = {exercise.id for exercise in library.vocabularies.exercises if exercise.loaded}
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            used = any(dose.exercise in loaded for dose in stage.exercises)
            if stage.load and not used and not document.value.stop and library.read_everything("exercises"):
                message = f"the stage '{stage.id}' has a load, and no exercise to use it in"
                yield document.problem(("stages", number, "load"), message, "Write null, or add an exercise.")


def find_incomplete_doses(library: Library) -> Iterator[Problem]:
    """A dose must have repeats or a hold in seconds or both, and numbers that a person can do."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            for at, dose in enumerate(stage.exercises):
                path = ("stages", number, "exercises", at)
                if dose.repeats is None and dose.hold_seconds is None:
                    message = f"'{dose.exercise}' must have repeats, hold_seconds, or both"
                    yield document.problem(path, message)
                for key, value, least, most in _find_odd_numbers(dose):
                    yield document.problem((*path, key), f"{value} must lie between {least} and {most}")


def _find_odd_numbers(dose: Dose) -> Iterator[tuple[str, int, int, int]]:
    for key, (least, most) in _BOUNDS.items():
        value = getattr(dose, key)
        if value is not None and not least <= value <= most:
            yield key, value, least, most


def find_repeated_doses(library: Library) -> Iterator[Problem]:
    """An exercise must stand only once in a stage, unless the grip differs."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            seen: set[tuple[str, str | None]] = set()
            for at, dose in enumerate(stage.exercises):
                if (dose.exercise, dose.grip) in seen:
                    message = f"'{dose.exercise}' stands in the stage '{stage.id}' already"
                    yield document.problem(("stages", number, "exercises", at, "exercise"), message, "Keep one dose.")
                seen.add((dose.exercise, dose.grip))


def find_more_sessions_than_a_day_holds(library: Library) -> Iterator[Problem]:
    """A stage must not ask for more than 10 exercise sessions a day without a clinician."""
    led = {e.id for e in library.vocabularies.exercises if e.supervision == "always-with-clinician"}
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            asked = sum(dose.times_a_day for dose in stage.exercises if dose.exercise not in led)
            if asked > _MOST_SESSIONS_A_DAY:
                message = f"{asked} exercise sessions a day must not stand here: at most {_MOST_SESSIONS_A_DAY}"
                yield document.problem(("stages", number, "exercises"), message, "Keep those that matter most.")
