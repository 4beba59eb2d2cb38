"""No rule raises on anything that can be read: ids that do not exist, empty lists, impossible dates and angles."""

from __future__ import annotations

import dataclasses
import typing
from collections.abc import Iterator
from typing import Any

import pytest
from for_each import for_each

from fingerpost.checks.base.walk import plan_walk
from fingerpost.checks.rules import RULES, find_problems, name_rule
from fingerpost.model.audience import Said
from fingerpost.model.library import Document, Library
from fingerpost.model.words import DATE_SHAPE, GRADE_SHAPE, ID_SHAPE, SPAN_SHAPE, VERSION_SHAPE, Shape

ODD: dict[Shape, str] = {
    ID_SHAPE: "no-such-thing",
    DATE_SHAPE: "0000-99-99",
    GRADE_SHAPE: "IV",
    SPAN_SHAPE: "9999 months",
    VERSION_SHAPE: "9999.0.0",
}


def spoil(value: Any) -> Iterator[Any]:
    """The same value with one text, number or list in it made odd, in turn."""
    if isinstance(value, tuple):
        yield ()
        for number, item in enumerate(value[:1] if dataclasses.is_dataclass(value and value[0]) else ()):
            for odd in spoil(item):
                yield (*value[:number], odd, *value[number + 1 :])
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        shapes = {field: shape for field, _, shape, _ in plan_walk(type(value)).texts}
        for name, hint in typing.get_type_hints(type(value)).items():
            written = getattr(value, name)
            shape = shapes.get(name)
            strange = shape.read(ODD.get(shape, "?")) if shape else ""
            if isinstance(written, str):
                options = [strange] if shape else [o for o in typing.get_args(hint) if o != written]
            else:
                options = [spoil_texts(written, strange)] if shape and isinstance(written, tuple) else []
                options += spoil(written)
            for odd in options:
                yield dataclasses.replace(value, **{name: odd})
    elif isinstance(value, bool):
        yield not value
    elif isinstance(value, int):
        yield -1000


def spoil_texts(written: tuple[Any, ...], odd: str) -> tuple[Any, ...]:
    return tuple(dataclasses.replace(w, says=odd) if isinstance(w, Said) else odd for w in written)


@pytest.mark.parametrize("wanted", ["growth-plate", "example", "dupuytren"])
def test_odd_conditions(wanted: str, library: Library) -> None:
    """Each is spoilt beside the vocabularies alone. The specimen is taken for a pulley injury, with its own rule."""
    documents: list[Document[Any]] = [*library.protocols, *library.referrals]
    documents += [library.specimen] if library.specimen else []
    document = next(d for d in documents if d.value.id == wanted)
    alone = dataclasses.replace(library, protocols=(), referrals=(), specimen=None, shared_files={})
    value = document.value
    if wanted == "example":
        value = dataclasses.replace(value, tissue=("a2-pulley", "a4-pulley"))
    where = "referrals" if wanted == "dupuytren" else "specimen" if wanted == "example" else "protocols"
    tried = 0
    for odd in spoil(value):
        changed = dataclasses.replace(document, value=odd)
        find_problems(dataclasses.replace(alone, **{where: changed if where == "specimen" else (changed,)}))
        tried += 1
    assert tried > 40


def test_odd_vocabularies(library: Library) -> None:
    """The first entry of each vocabulary is spoilt; rules that look at the files of others see only this one."""
    tried = 0
    for name, documents in library.shared_files.items():
        entries = getattr(library.vocabularies, name)
        for odd in spoil(entries[:1]):
            words = dataclasses.replace(library.vocabularies, **{name: (*odd, *entries[1:])})
            files = {name: (dataclasses.replace(documents[0], value=odd),)}
            few = dataclasses.replace(library, protocols=library.protocols[:1], referrals=(), vocabularies=words)
            find_problems(dataclasses.replace(few, shared_files=files))
            tried += 1
    assert tried > 60


def test_an_empty_collection(library: Library) -> None:
    nothing = {field.name: () for field in dataclasses.fields(library.vocabularies)}
    empty = Library((), (), dataclasses.replace(library.vocabularies, **nothing), {})
    assert find_problems(empty) == []


@for_each("rule", {name_rule(rule): rule for rule in RULES})
def test_a_rule_stands_alone(rule: Any, library: Library) -> None:
    """A rule does not lean on another one that runs before it, and finds nothing in the shipped collection."""
    assert list(rule(library)) == []
