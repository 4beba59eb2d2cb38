"""Everything that is otherwise in the shared vocabularies."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator
from typing import Any

from fingerpost.changes.compare.audience import compare_items, compare_reach, compare_told, say_for
from fingerpost.changes.compare.difference import Difference, Lean, name, weigh
from fingerpost.changes.compare.fields import Way, compare_fields, compare_ids, compare_order, compare_parts, guarding
from fingerpost.changes.compare.pairs import is_reordered, pair_by
from fingerpost.changes.compare.texts import compare_text
from fingerpost.model.audience import For, flat
from fingerpost.model.grammar import parts_of
from fingerpost.model.shared import Vocabularies
from fingerpost.model.words import URGENCIES

_SEEN = ("recalled", "secondary", "abstract", "full")
_HELP = ("alone", "first-time-with-clinician", "always-with-clinician")


def _seen(old: str, new: str) -> Iterator[Difference]:
    far = "further" if _SEEN.index(new) > _SEEN.index(old) else "less far"
    yield Difference(lean="to-judge", what=f"read {far} now: {new}, was {old}")


def _meant(old: For, new: For) -> Iterator[Difference]:
    """A warning or a taping for fewer people is less cautious."""
    yield Difference(lean=weigh(*compare_reach(old, new)), what=f"it is for {say_for(new)} now, was for {say_for(old)}")


def _asked_of(old: For, new: For) -> Iterator[Difference]:
    """An exercise for more people is less cautious."""
    fewer, more = compare_reach(old, new)
    yield Difference(lean=weigh(more, fewer), what=f"it is for {say_for(new)} now, was for {say_for(old)}")


_WAYS: dict[str, dict[str, Way]] = {
    "sources": {"seen": _seen},
    "warning_signs": {"urgency": compare_order(URGENCIES[::-1]), "for_": _meant, "do": guarding(compare_told)},
    "exercises": {
        "supervision": compare_order(_HELP),
        "for_": _asked_of,
        "stop_if": guarding(compare_told),
        "equipment": compare_parts("thing", None),
    },
    "tests": {"not_when": guarding(compare_text), "not_proof": guarding(compare_text)},
    "tapings": {"check_after": guarding(compare_items), "take_off": guarding(compare_told)},
    "terms": {"also_called": compare_ids("wording", "wording")},
    "grips": {"also_called": compare_ids("wording", "wording")},
    "search_words": dict.fromkeys(("typed", "conditions", "pages"), compare_ids("wording", "wording")),
}
# What it means that an entry is gone, and that one is new, where that is not for a reviewer to judge.
_COMES: dict[str, tuple[Lean, Lean]] = {
    "warning_signs": ("less-cautious", "more-cautious"),
    "terms": ("wording", "wording"),
    "wording": ("wording", "wording"),
    "search_words": ("wording", "wording"),
}
# What is looked up by its id and never listed: in which order it stands, and in which file, is nothing to a reader.
_LOOKED_UP = frozenset({"wording"})


def _key(vocabulary: str) -> Callable[[Any], Any]:
    """What tells the entries of a vocabulary apart. Only accepted findings have no id."""
    return (lambda e: (e.rule, e.file, e.path)) if vocabulary == "exceptions" else (lambda e: e.id)


def name_entry(vocabulary: str, entry: Any) -> str:
    """'gates/full-fist'; an accepted finding is named by its rule."""
    return f"{vocabulary}/{getattr(entry, 'id', '') or entry.rule}"


def compare_vocabulary(vocabulary: str, old: tuple[Any, ...], new: tuple[Any, ...]) -> Iterator[Difference]:
    """Every entry that is new, gone or otherwise."""
    gone, added = _COMES.get(vocabulary, ("to-judge", "to-judge"))
    key = _key(vocabulary)
    for pair in pair_by(key, old, new):
        found: list[Difference]
        if pair.old and pair.new:
            found = list(compare_fields(pair.old, pair.new, _WAYS.get(vocabulary)))
            found = [dataclasses.replace(d, path=(pair.number, *d.path)) for d in found]
        elif pair.new:
            found = [Difference(lean=added, what=f"new: {_title(pair.new)}", path=(pair.number,))]
        else:
            found = [Difference(lean=gone, what=f"gone: {_title(pair.old)}")]
        yield from name(found, name_entry(vocabulary, pair.new or pair.old))
    if vocabulary not in _LOOKED_UP and is_reordered([key(e) for e in old], [key(e) for e in new]):
        yield Difference(lean="wording", what="the same entries in another order", about=vocabulary)


def _title(entry: Any) -> str:
    """What an entry is called, in its own words."""
    for key in ("name", "short", "term", "says", "sign", "reason"):
        if words := getattr(entry, key, ""):
            return flat(words) if isinstance(words, tuple) else " ".join(words.split())
    return str(entry.id)


def compare_vocabularies(old: Vocabularies, new: Vocabularies) -> Iterator[Difference]:
    """All vocabularies, in the order of the model. Retired ids are told where they are followed."""
    for vocabulary, now in parts_of(new):
        if vocabulary != "retired":
            yield from compare_vocabulary(vocabulary, getattr(old, vocabulary), now)
