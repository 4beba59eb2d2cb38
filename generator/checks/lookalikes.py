"""Look-alikes: what separates two conditions."""

from __future__ import annotations

from collections.abc import Iterator

from generator.checks.walk import find_condition, list_conditions, read_all
from generator.model.library import Library
from generator.problems import Problem
from generator.reckon.telling import Fit, find_inseparable, table_signs


def _table(library: Library) -> dict[str, dict[str, Fit]]:
    documents = list_conditions(library)
    return table_signs({document.value.id: document.value.signs for document in documents})


def find_conditions_like_themselves(library: Library) -> Iterator[Problem]:
    """A condition must not be its own look-alike."""
    for document in list_conditions(library):
        for number, look_alike in enumerate(document.value.look_alikes):
            if look_alike.id == document.value.id:
                yield document.problem(("look_alikes", number, "id"), f"'{look_alike.id}' is this condition itself")


def find_signs_that_do_not_separate(library: Library) -> Iterator[Problem]:
    """Each sign of a look-alike must stand in different lists of the two conditions."""
    fits = _table(library)
    for document in list_conditions(library):
        here = fits[document.value.id]
        for number, look_alike in enumerate(document.value.look_alikes):
            there = fits.get(look_alike.id)
            for at, sign in enumerate(look_alike.signs):
                if there is not None and (sign not in here or sign not in there or here[sign] == there[sign]):
                    lists = f"here it is {_say(here.get(sign))}, there {_say(there.get(sign))}"
                    message = f"'{sign}' does not separate this from '{look_alike.id}': {lists}"
                    hint = "Choose a sign that stands in different lists."
                    yield document.problem(("look_alikes", number, "signs", at), message, hint)


def _say(fit: Fit | None) -> str:
    return f"'{fit.replace('-', '_')}'" if fit else "not listed"


def find_look_alikes_without_a_clear_sign(library: Library) -> Iterator[Problem]:
    """One sign of a look-alike must be usual in one of the two conditions and not fit the other."""
    fits = _table(library)
    for document in list_conditions(library):
        here = fits[document.value.id]
        for number, look_alike in enumerate(document.value.look_alikes):
            there = fits.get(look_alike.id)
            clear = {"usual", "does-not-fit"}
            if there is not None and not any({here.get(s), there.get(s)} == clear for s in look_alike.signs):
                message = f"no sign here is usual in one of this and '{look_alike.id}' and does not fit the other"
                hint = "Add one; does_not_fit may have to grow."
                yield document.problem(("look_alikes", number, "signs"), message, hint)


def find_conditions_that_nothing_separates(library: Library) -> Iterator[Problem]:
    """Every two conditions must be told apart by a sign that does not fit one of them."""
    if not read_all(library):
        return
    for pair in find_inseparable(_table(library)):
        document = find_condition(library, pair.first)
        if document:
            message = f"nothing separates '{pair.first}' from '{pair.second}'"
            hint = "Add to does_not_fit what is usual or comes sometimes in the other."
            yield document.problem(("signs",), message, hint)


def find_tests_that_nobody_does(library: Library) -> Iterator[Problem]:
    """A test that separates two look-alikes must be among the tests of one of them."""
    for document in list_conditions(library):
        for number, look_alike in enumerate(document.value.look_alikes):
            other = find_condition(library, look_alike.id)
            tests = (*document.value.tests, *(other.value.tests if other else look_alike.tests))
            for at, test in enumerate(look_alike.tests):
                if test not in tests:
                    message = f"neither '{document.value.id}' nor '{look_alike.id}' has the test '{test}'"
                    path = ("look_alikes", number, "tests", at)
                    yield document.problem(path, message, "Add it to the tests of one of them.")
