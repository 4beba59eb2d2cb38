"""Look-alikes: what separates two conditions."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from fingerpost.checks.base.walk import KnownIds, index_conditions, list_conditions, name_condition, read_all
from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import LookAlike
from fingerpost.problems import Problem
from fingerpost.reckon.telling import Fit, find_inseparable, table_signs


def _table(library: Library, documents: Iterable[Document[Any]]) -> dict[str, dict[str, Fit]]:
    """The signs of each condition, by its name; without those that name an unknown sign, a finding of its own."""
    known = KnownIds(library)
    fits = table_signs({name_condition(document): document.value.signs for document in documents})
    return {name: signs for name, signs in fits.items() if all(known.has("signs", sign) for sign in signs)}


def _list_pairs(library: Library) -> Iterator[tuple[Document[Any], int, LookAlike, dict[str, Fit], dict[str, Fit]]]:
    """Every look-alike with the signs here and there: (file, number, look-alike, here, there)."""
    documents = list_conditions(library)
    fits = _table(library, documents)
    for document in documents:
        name = name_condition(document)
        for number, look_alike in enumerate(document.value.look_alikes):
            if name in fits and look_alike.id in fits and look_alike.id != name:
                yield document, number, look_alike, fits[name], fits[look_alike.id]


def find_conditions_like_themselves(library: Library) -> Iterator[Problem]:
    """A condition must not be its own look-alike."""
    for document in list_conditions(library):
        for number, look_alike in enumerate(document.value.look_alikes):
            if look_alike.id == name_condition(document):
                yield document.problem(("look_alikes", number, "id"), f"'{look_alike.id}' is this condition itself")


def find_signs_that_do_not_separate(library: Library) -> Iterator[Problem]:
    """Each sign of a look-alike must stand in different lists of the two conditions."""
    known = KnownIds(library)
    for document, number, look_alike, here, there in _list_pairs(library):
        for at, sign in enumerate(look_alike.signs):
            separates = sign in here and sign in there and here[sign] != there[sign]
            if not separates and known.has("signs", sign):
                lists = f"here it is {_say(here.get(sign))}, there {_say(there.get(sign))}"
                message = f"'{sign}' does not separate this from '{look_alike.id}': {lists}"
                hint = "Choose a sign that stands in different lists."
                yield document.problem(("look_alikes", number, "signs", at), message, hint)


def _say(fit: Fit | None) -> str:
    return f"'{fit.replace('-', '_')}'" if fit else "not listed"


def find_look_alikes_without_a_clear_sign(library: Library) -> Iterator[Problem]:
    """One sign of a look-alike must be usual in one of the two conditions and not fit the other."""
    for document, number, look_alike, here, there in _list_pairs(library):
        if not any({here.get(sign), there.get(sign)} == {"usual", "does-not-fit"} for sign in look_alike.signs):
            message = f"no sign here is usual in one of this and '{look_alike.id}' and does not fit the other"
            yield document.problem(("look_alikes", number, "signs"), message, "Add one; does_not_fit may have to grow.")


def find_conditions_that_nothing_separates(library: Library) -> Iterator[Problem]:
    """Every two conditions must be told apart by a sign that does not fit one of them."""
    if not read_all(library):
        return
    documents = index_conditions(library)
    fits = _table(library, documents.values())
    for first, second in find_inseparable(fits):
        message = f"nothing separates '{first}' from '{second}'"
        hint = "Add to does_not_fit what is usual or comes sometimes in the other."
        yield documents[first].problem(("signs",), message, hint)


def find_tests_that_nobody_does(library: Library) -> Iterator[Problem]:
    """A test that separates two look-alikes must be among the tests of one of them."""
    known = KnownIds(library)
    documents = index_conditions(library)
    for document in list_conditions(library):
        for number, look_alike in enumerate(document.value.look_alikes):
            other = documents.get(look_alike.id)
            tests = (*document.value.tests, *(other.value.tests if other else look_alike.tests))
            for at, test in enumerate(look_alike.tests):
                if test not in tests and known.has("tests", test):
                    message = f"neither this nor '{look_alike.id}' has the test '{test}'"
                    path = ("look_alikes", number, "tests", at)
                    yield document.problem(path, message, "Add it to the tests of one of them.")
