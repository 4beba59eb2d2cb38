"""Gates: what may be asked of a finger before the next stage, and by whom."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.checks.base.walk import list_entries, list_protocols
from fingerpost.model.audience import flat
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol
from fingerpost.model.shared import Gate
from fingerpost.problems import Problem


def _list_gates(library: Library, protocol: Protocol) -> Iterator[tuple[int, int, Gate]]:
    """Every gate of a protocol: (number of the stage, place in its gate, the gate), as far as they exist."""
    known = {gate.id: gate for gate in library.vocabularies.gates}
    for number, stage in enumerate(protocol.stages):
        for at, use in enumerate(stage.gate):
            if use.gate in known:
                yield number, at, known[use.gate]


def find_gates_above_their_load(library: Library) -> Iterator[Problem]:
    """A gate must not ask for more load than its stage allows, nor a maximal test for more than the next one does."""
    for document in list_protocols(library):
        stages = document.value.stages
        for number, at, gate in _list_gates(library, document.value):
            if gate.pull == "none" and gate.strength is None:
                continue
            where = min(number + (gate.pull == "maximal"), len(stages) - 1)
            load, path = stages[where].load, ("stages", number, "gate", at)
            if load is None and gate.pull == "maximal":
                continue  # the stage after it names no load at all, which is a finding of its own
            if load is None:
                message = f"'{gate.id}' asks for a load, and the stage '{stages[where].id}' has none"
                yield document.problem(path, message, "Leave this gate out.")
            elif (gate.strength or 0) > load.most:
                message = f"'{gate.id}' asks for {gate.strength} %: it must not be above {load.most} %, "
                yield document.problem(path, message + f"the most of the stage '{stages[where].id}'")


def find_maximal_tests_at_the_wrong_time(library: Library) -> Iterator[Problem]:
    """A maximal pull must be asked only before full climbing, and each window of that stage must say from when."""
    for document in list_protocols(library):
        stages = document.value.stages
        maximal = {number: at for number, at, gate in _list_gates(library, document.value) if gate.pull == "maximal"}
        for number, stage in enumerate(stages):
            following = stages[number + 1].milestone if number + 1 < len(stages) else "none"
            if number in maximal and following != "full-climbing":
                message = (
                    f"'{stage.gate[maximal[number]].gate}' is a maximal pull: it must stand before full climbing only"
                )
                yield document.problem(("stages", number, "gate", maximal[number]), message)
            for at, window in enumerate(stage.windows):
                path = ("stages", number, "windows", at)
                if (number in maximal) != (window.maximal_test is not None) and library.read_everything("gates"):
                    given = "" if number in maximal else "not "
                    message = f"grade {window.grade} must {given}say here from when a maximal test may be done"
                    yield document.problem(path, message, "See `maximal_test` in the specimen.")
                elif window.maximal_test and window.maximal_test.rough_days < window.earliest.rough_days:
                    message = f"{window.maximal_test} must not be before the stage begins, {window.earliest}"
                    yield document.problem((*path, "maximal_test"), message)


def find_maximal_tests_without_a_clinician(library: Library) -> Iterator[Problem]:
    """A gate that asks for a maximal pull must be tested by the clinician, and name the share that is asked."""
    for part in list_entries(library, "gates"):
        if part.value.pull == "maximal" and part.value.who != "clinician":
            yield part.problem(("who",), "nobody must test the most that a hurt finger can pull but the clinician")
        if part.value.pull == "maximal" and part.value.strength is None:
            yield part.problem((), "a maximal pull must name the share of the healthy hand that is asked")
        if part.value.strength is not None and f"{part.value.strength} %" not in flat(part.value.says):
            message = f"readers must read here the share that is asked, {part.value.strength} %"
            yield part.problem(("says",), message, "The sentence and `strength` must say the same.")
