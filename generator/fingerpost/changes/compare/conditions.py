"""Everything that is otherwise in one protocol or short entry."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from fingerpost.changes.compare.audience import compare_items, compare_told, compare_uses
from fingerpost.changes.compare.cited import compare_source, new_source
from fingerpost.changes.compare.difference import Difference, Lean, name, place, weigh
from fingerpost.changes.compare.fields import (
    Way,
    compare_fields,
    compare_ids,
    compare_order,
    compare_parts,
    compare_value,
    guarding,
)
from fingerpost.changes.compare.pairs import pair_alike
from fingerpost.changes.compare.stages import compare_stages
from fingerpost.changes.compare.texts import compare_text, quote
from fingerpost.changes.compare.times import compare_span
from fingerpost.model.protocol import Protocol, Range, Referral, Seek, SignFit, Status
from fingerpost.model.words import URGENCIES

_CARERS = ("therapist", "doctor-and-therapist", "surgeon")
_LISTS = ("usual", "sometimes", "does_not_fit")
_SAID = {"usual": "usual", "sometimes": "sometimes", "does_not_fit": "does not fit", "": "not named"}


def _people(old: str, new: str) -> Iterator[Difference]:
    """A home programme for more people is less cautious."""
    yield Difference(lean=weigh(new == "both", old == "both"), what=f"it is about {new} now, was {old}")


def _stop(old: bool, new: bool) -> Iterator[Difference]:
    what = "all loading stops until a doctor clears it" if new else "loading no longer stops for a doctor"
    yield Difference(lean=weigh(old, new), what=what)


def _tear(old: bool, new: bool) -> Iterator[Difference]:
    what = "something has torn, so pain limits are strict" if new else "nothing has torn any more"
    yield Difference(lean=weigh(old, new), what=what)


def _status(old: Status, new: Status) -> Iterator[Difference]:
    for key in ("version", "written"):
        if getattr(old, key) != getattr(new, key):
            yield Difference(lean="follows", what=f"{key} {getattr(new, key)}, was {getattr(old, key)}", path=(key,))
    for key in ("reviewed", "next_review", "state", "reviewer_role", "funding"):
        yield from place(compare_value(getattr(old, key), getattr(new, key)), key.replace("_", " "), key)


def _signs(old: SignFit, new: SignFit) -> Iterator[Difference]:
    """A sign that no longer speaks against an injury lets more people think that they have it."""

    def spread(fit: SignFit) -> dict[str, str]:
        return {sign: at for at in _LISTS for sign in getattr(fit, at)}

    before, now = spread(old), spread(new)
    for sign in [*(s for s in before if s not in now), *now]:
        was, is_now = before.get(sign, ""), now.get(sign, "")
        if was != is_now:
            lean = weigh(was == "does_not_fit", is_now == "does_not_fit")
            path = (is_now,) if is_now else ()
            yield Difference(lean=lean, what=f"{sign}: {_SAID[is_now]}, was {_SAID[was]}", path=path)
    if before == now and old != new:
        yield Difference(lean="wording", what="the same signs in another order")


def _range(old: Range | None, new: Range | None) -> Iterator[Difference]:
    if old and new:
        backing = new_source([old.source], [new.source])
        yield from compare_span(old.least, new.least, "at the least", backing)
        yield from compare_span(old.most, new.most, "at the most", backing)
        yield from compare_source(old.source, new.source)
    else:
        given = new or old
        says = f"{given.least} to {given.most}" if given else ""
        what = f"{says} is given now" if new else f"{says} is not given any more"
        yield Difference(lean=weigh(old is not None, new is not None), what=what)


def _seek(old: tuple[Seek, ...], new: tuple[Seek, ...]) -> Iterator[Difference]:
    """When to see whom, paired by the words that say when."""
    before, now = {s.when: s for s in old}, {s.when: s for s in new}
    order = [s.when for s in new]
    ways = {"urgency": compare_order(URGENCIES[::-1])}
    for pair in pair_alike(list(before), order):
        if pair.old and pair.new:
            yield from place(compare_fields(before[pair.old], now[pair.new], ways), quote(pair.new), pair.number)
        elif pair.new:
            seek = now[pair.new]
            what = f"new: {quote(pair.new)} ({seek.urgency}, {seek.whom})"
            yield Difference(lean="more-cautious", what=what, path=(pair.number,))
        elif pair.old:
            yield Difference(lean="less-cautious", what=f"gone: {quote(pair.old)} ({before[pair.old].urgency})")
    if before == now and list(before) != order:
        yield Difference(lean="wording", what="the same in another order")


def _notes(old: tuple[Any, ...], new: tuple[Any, ...]) -> Iterator[Difference]:
    for number, note in enumerate(new):
        if note not in old:
            yield Difference(
                lean="follows", what=f"{note.version}: {quote(note.what)} {quote(note.reason)}", path=(number,)
            )
    for note in old:
        if note not in new:
            yield Difference(lean="to-judge", what=f"the note on {note.version} is gone or changed: {quote(note.what)}")


_ALIKE: dict[str, Way] = {"tests": compare_ids()}
_TIMES: dict[str, Way] = dict.fromkeys(("easy_climbing", "full_climbing", "taping_ends"), _range)
_GRADE: dict[str, Way] = {"treated_by": compare_order(_CARERS), "tear": _tear}
_WAYS: dict[str, Way] = {
    "also_called": compare_ids("wording", "wording"),
    "codes": compare_parts("icd10", None),
    "status": _status,
    "signs": _signs,
    "look_alikes": compare_parts("id", _ALIKE, "less-cautious", "more-cautious"),
    "warning_signs": compare_uses("sign", "less-cautious", "more-cautious"),
    "grades": compare_parts("id", _GRADE),
    "timelines": compare_parts("grade", _TIMES),
    "facts": compare_parts("id", None),
    "cautions": guarding(compare_items),
    "until_then": guarding(compare_items),
    "why_it_matters": guarding(compare_text),
    "if_nothing_is_done": compare_told,
    "see_somebody": _seek,
    "changes": _notes,
}
_PROGRAMME: dict[str, Way] = {**_WAYS, "people": _people, "stop": _stop}


def _compare_kind(new: Protocol | Referral) -> Difference:
    home = isinstance(new, Protocol)
    lean: Lean = "less-cautious" if home else "more-cautious"
    what = "it is a protocol with a home programme now" if home else "it is a short entry now, with no home programme"
    return Difference(lean=lean, what=what)


def compare_condition(
    old: Protocol | Referral, new: Protocol | Referral, is_loaded: Callable[[str], bool]
) -> Iterator[Difference]:
    """Everything that is otherwise, in the order of the file. `is_loaded`: whether an exercise loads the finger."""
    found: list[Difference] = [] if type(old) is type(new) else [_compare_kind(new)]
    if isinstance(old, Protocol) and isinstance(new, Protocol):
        stages: Way = lambda _, __: compare_stages(old, new, is_loaded)  # noqa: E731
        found += compare_fields(old, new, _PROGRAMME, {"stages": stages})
    else:
        found += compare_fields(old, new, _WAYS)
    return name(found, new.id)
