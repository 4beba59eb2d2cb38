"""The map from reporting standards to our fields and parts: read, and held against the model and the plan."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from typing import Any

from pdf_gate.samples import library

from fingerpost.model import case, protocol, shared
from fingerpost.plan.base.blocks import Page
from fingerpost.plan.base.paper import Handout, Leaf, LeafBlock

IDS = {
    "TIDieR": [f"T{n}" for n in range(1, 13)],
    "CERT": [f"C{n}" for n in (*range(1, 7), "7a", "7b", *range(8, 14), "14a", "14b", 15, "16a", "16b")],
    "PEMAT-P": [str(n) for n in (*range(1, 13), *range(15, 27))],
    "DISCERN": [str(n) for n in range(1, 17)],
    "CDC": [str(n) for n in range(1, 21)],
}
_KEYS = {"says", "fields", "shown", "lacks", "unmet", "person"}


@cache
def read_map() -> dict[str, dict[str, dict[str, Any]]]:
    """Each standard's items by their number, with the keys that were written."""
    found: dict[str, dict[str, dict[str, Any]]] = {}
    for item in library().vocabularies.standards:
        written = {key: getattr(item, key) for key in sorted(_KEYS) if getattr(item, key)}
        found.setdefault(item.standard, {})[item.item] = written
    return found


@cache
def list_fields() -> frozenset[str]:
    """Every field of the model, as Class.field."""
    classes = [thing for module in (case, protocol, shared) for thing in vars(module).values() if is_dataclass(thing)]
    return frozenset(f"{c.__name__}.{f.name}" for c in classes for f in fields(c) if isinstance(c, type))


def list_blocks(leaf: Leaf) -> Iterator[LeafBlock]:
    for side in (leaf.front, leaf.back):
        yield from (*side.blocks, *((side.help,) if side.help else ()))


def list_places(pages: list[Page], programmes: list[Handout], general: list[Handout]) -> set[str]:
    """Every place that a reader is sure to meet: on all protocols' pages, leaves, general sheets, and on the sheets of
    `programmes` with all that can be enclosed, each sheet by its name and by its parts."""
    injuries = [p for p in pages if p.kind == "protocol"]
    sections = {
        "page": [{s.id for s in p.sections} for p in injuries],
        "leaf": [{type(b).__name__.lower() for leaf in h.leaves for b in list_blocks(leaf)} for h in programmes],
        "handout": [{n for s in h.sheets for n in (s.name, *(x.id for x in s.sections))} for h in programmes],
        "general": [{s.id for sheet in h.sheets for s in sheet.sections} for h in general],
    }
    found = {f"{kind} #{id}" for kind, sets in sections.items() for id in set.intersection(*sets)}
    found |= {f"site {p.address}" for p in pages}
    return found | ({"foot"} if all(h.foot for h in (*programmes, *general)) else set())


def find_faults(places: set[str]) -> Iterator[str]:
    """What is wrong with the map: an item without an answer, or an answer that isn't so."""
    for standard, items in read_map().items():
        for id, item in items.items():
            name = f"{standard} {id}"
            if set(item) - _KEYS or not item.get("says"):
                yield f"{name}: has a key too many, or does not say what it is"
            answers = [key for key in ("shown", "unmet", "person") if key in item]
            if len(answers) != 1 or ("fields" in item and "shown" not in item):
                yield f"{name}: must be either shown somewhere, or unmet, or for a person"
            for key in ("unmet", "person", "lacks"):
                if key in item and len(str(item[key]).split()) < 5:
                    yield f"{name}: gives no reason"
            yield from (f"{name}: the model has no field {f}" for f in item.get("fields", ()) if f not in list_fields())
            yield from (f"{name}: readers do not meet '{p}'" for p in item.get("shown", ()) if p not in places)
