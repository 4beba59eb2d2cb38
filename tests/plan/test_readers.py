"""Whatever an author can write reaches a reader, or stands in a table here with the reason why it does not.

Every field of the model is changed, one after the other, and everything that is planned is planned again. Nobody
misses a sentence that is written down and printed nowhere: it looks as if it had been said.

- every field of the model: seen in some plan, or listed as unseen with a reason
- every class of the model is looked at
- proof: a field that nobody prints, a sentence no longer printed, and a condition that nobody is told are found
"""

from __future__ import annotations

import dataclasses
import re
import typing
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache, partial
from itertools import zip_longest
from typing import Any, Literal, get_args

import pytest
from pdf_gate.samples import TODAY, cases, library

from fingerpost.model.audience import For, Said, Told, flat, is_told
from fingerpost.model.case import Case, EnclosureName
from fingerpost.model.grammar import hints_of, shape_of, strip_none
from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import Change, Protocol, Referral, Stage
from fingerpost.model.shared import Retired, Taping, Tolerated, Vocabularies
from fingerpost.model.times import Day
from fingerpost.model.words import (
    CODE_SHAPE,
    DATE_SHAPE,
    GRADE_SHAPE,
    LINE_SHAPE,
    SPAN_SHAPE,
    TEXT_SHAPE,
    VERSION_SHAPE,
    Shape,
    Text,
)
from fingerpost.plan.base.blocks import Page
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain as plain_words
from fingerpost.plan.base.visible import list_words
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.desk_form import plan_desk_form
from fingerpost.plan.pages.general import plan_general_handout, plan_referral_handout
from fingerpost.plan.pages.site import PARTS, plan_frame
from fingerpost.plan.person.calendar import list_events
from fingerpost.plan.person.coach import plan_coach_sheet
from fingerpost.plan.walls.display import plan_display
from fingerpost.plan.walls.notices import plan_notices
from fingerpost.plan.walls.paper_key import plan_key
from fingerpost.reckon.telling import order_questions

pytestmark = pytest.mark.rest

ROOTS = (Protocol, Referral, Vocabularies, Case)

# Fields that change nothing that anybody reads, with the reason.
UNSEEN = {
    "Anchor.event": "times count from its day, whichever event it was; it stays in the case",
    "Baseline.date": "a check keeps it from lying ahead; the newest test is not told from an older one",
    "ShownTest.showed": "kept with the visit; a leaf that told it would sound like a verdict",
    "ShownTest.test": "as what it showed",
    "Visit.tests": "as what they showed",
    "Visit.printed": "the hash stands in the foot of what was printed; here it is kept for whoever asks later",
    "Case.pace_reason": "kept with the case for whoever asks later; a check asks for it",
    "Checked.stage": "a check keeps it the stage of today, which the sheets name",
    "Exercise.no_picture": "for authors: why an exercise is not drawn; a rule asks for a picture or for this",
    "Fact.about": "for the author, who sorts by it; the sentence itself says what it is about",
    "Grade.places": "a check keeps a case from a grade that its place cannot have",
    "Grade.tear": "a rule keeps pain limits strict where something is torn; readers see the limits",
    "Retired.reason": "for those who keep the collection",
    "Retired.since": "for those who keep the collection",
    "SearchWords.conditions": "nobody reads what others type: it leads to pages, and a browser follows each",
    "SearchWords.means": "nobody reads what others type: the search looks for this in its place",
    "SearchWords.pages": "nobody reads what others type: it leads to pages, and a browser follows each",
    "SearchWords.typed": "nobody reads what others type: it leads to pages, and a browser follows each",
    "Source.year": "it stands in the full citation, which is printed",
    "StandardItem.fields": "a rule looks whether the model has them; readers see where to find what they hold",
    "Structure.plain": "the words of the trade are explained from terms.yml, on pages and sheets alike",
    "Test.warning_signs": "a rule holds what a test says of how soon to the urgency of these",
    "Tolerated.file": "for those who keep the collection",
    "Tolerated.path": "for those who keep the collection",
    "Tolerated.reason": "for those who keep the collection",
    "Tolerated.rule": "for those who keep the collection",
    "WarningSign.words": "a rule finds the texts that tell this sign by them, and holds these to its urgency",
}


@dataclass(frozen=True)
class World:
    """All that can be planned from."""

    library: Library
    cases: Mapping[str, Case]


@dataclass(frozen=True)
class Field:
    """One key of a class of the model."""

    kind: type
    name: str
    hint: Any

    def __str__(self) -> str:
        return f"{self.kind.__name__}.{self.name}"

    @property
    def is_text(self) -> bool:
        """Whether it holds words; what names a source is a pointer."""
        return shape_of(self.hint) in (TEXT_SHAPE, LINE_SHAPE) and self.name != "source"


# ---------------------------------------------------------------- what the model has


def list_kinds(roots: Iterable[Any]) -> list[type]:
    todo, found = list(roots), []
    while todo:
        one = todo.pop(0)
        todo += typing.get_args(one)
        if isinstance(one, type) and dataclasses.is_dataclass(one) and one not in found:
            found.append(one)
            todo += hints_of(one).values()
    return found


def list_fields(kinds: Iterable[type]) -> list[Field]:
    """Every key, but for ids, which others point at, and for the lists of vocabularies, whose entries have keys.

    The words of a piece are those of the text that it is a piece of: each such text is looked at by itself.
    """
    kept = (kind for kind in kinds if kind is not Vocabularies)
    fields = (Field(kind, name, hint) for kind in kept for name, hint in hints_of(kind).items())
    return [field for field in fields if field.name != "id" and (field.kind, field.name) != (Said, "says")]


# ---------------------------------------------------------------- what is planned


def _case_views(shelf: Library, case: Case) -> Iterator[Any]:
    yield replace(plan_handout(shelf, case, TODAY), file_stem="")
    yield list_events(shelf, case, TODAY)
    if case.share_with_coach:
        yield replace(plan_coach_sheet(shelf, case, TODAY), file_stem="")


def _sheets(shelf: Library) -> Iterator[Any]:
    """The general sheets; on the other paper they say the same."""
    yield from (plan_general_handout(shelf, d.value.id, "A4") for d in shelf.protocols)
    yield from (plan_referral_handout(shelf, d.value, "A4") for d in shelf.referrals)


def _around(shelf: Library) -> Iterator[Any]:
    yield from (plan_notices(shelf), plan_display(shelf), plan_desk_form(Writer(shelf)), plan_key(Writer(shelf), "A4"))
    yield plan_frame(shelf)


def _pages(part: Callable[[Library], Iterator[Page]], shelf: Library) -> Iterator[Any]:
    """What only search engines read does not count."""
    yield from (replace(page, linked_data="") for page in part(shelf))


Plan = Callable[[World], Iterator[Any]]


def list_plans(world: World) -> dict[str, Plan]:
    """All that is planned, by a name of each: of every case, and of the collection."""
    of_cases: dict[str, Plan] = {name: lambda w, n=name: _case_views(w.library, w.cases[n]) for name in world.cases}
    groups = (_sheets, _around, *(partial(_pages, part) for part in PARTS))
    return {**of_cases, **{f"group {n}": lambda w, g=group: g(w.library) for n, group in enumerate(groups)}}


class Plain:
    """A world as it is, and what is planned of it; each plan is made once, when it is asked for."""

    def __init__(self, world: World) -> None:
        self.world = world
        self.plans = list_plans(world)
        self.parts = list_parts(world)
        self._views: dict[str, list[Any]] = {}

    def view(self, name: str) -> list[Any]:
        if name not in self._views:
            self._views[name] = list(self.plans[name](self.world))
        return self._views[name]

    def shows(self, name: str, world: World) -> bool:
        """Whether another world reads otherwise in one plan. Of a case, as long as it is the same, all is the same."""
        same = name in world.cases and world.cases[name] is self.world.cases[name]
        if same and world.library is self.world.library:
            return False
        pairs = zip_longest(self.plans[name](world), self.view(name))
        return any(view != before for view, before in pairs)

    def is_seen(self, world: World, of_case: bool) -> bool:
        """Whether any page or sheet is another one now. Where the last change was seen, the next one may be as well."""
        for name in list(self.plans):
            if (name in world.cases or not of_case) and self.shows(name, world):
                self.plans = {name: self.plans[name], **self.plans}
                return True
        return False


@cache
def furnish_world() -> World:
    """The collection and the demo cases, with something in every list that is empty in them."""
    shelf = library()
    first, second, *rest = shelf.protocols
    entry, *entries = shelf.referrals
    note = Change(version="0.1.0", date=Day("2026-11-01"), what="It says more.", reason="A reader asked for it.")
    late = Said(for_=For(stage=(first.value.stages[-1].id,)), says="Who looks at it last?")
    signed = replace(
        second.value.status,
        state="approved",
        reviewed=Day("2026-11-02"),
        reviewer_role="Hand therapist",
        version="1.0.0",
    )
    changed = replace(
        shelf,
        protocols=(
            replace(first, value=replace(first.value, changes=(note,), questions=(*first.value.questions, late))),
            replace(second, value=replace(second.value, status=signed)),
            *rest,
        ),
        referrals=(replace(entry, value=replace(entry.value, changes=(note,))), *entries),
        vocabularies=replace(
            shelf.vocabularies,
            retired=(
                Retired(id="pulley-tear", now="pulley", since="2026-11-01", reason="One name is enough."),
                Retired(id="side-sprain", now="collateral-sprain", since="2026-11-01", reason="It was unclear."),
            ),
            exceptions=(Tolerated(rule="hard-texts", file="protocols/pulley.yml", path="summary", reason="It is so."),),
        ),
    )
    demo = cases()["pulley-left-ring"]
    hangs = tuple(replace(baseline, method="hang", kg=(10.0,)) for baseline in demo.baselines)
    hanging = replace(
        demo, name="Canary Wren", enclose=get_args(EnclosureName), baselines=hangs, tapings=(), finger_sizes=()
    )
    pounds = replace(
        hanging,
        units="lb",
        baselines=tuple(replace(test, kg=(), lb=(20.0 + at,)) for at, test in enumerate(hangs)),
        body_mass_kg=None,
        body_mass_lb=142.0,
        plate_kg=None,
        plate_lb=1.0,
    )
    # One stage was passed over, so that another one could have begun instead.
    other = replace(demo, began=(*demo.began[:2], demo.began[3]), enclose=("tape", "exercises"), paper="Letter")
    no_glue = replace(demo, tape_allergy=True, enclose=("tape", "diary"))
    first = replace(demo, began=(), stage="settle", baselines=(), tapings=(), checked=None)
    torn = replace(first, grade="IV")
    growing = replace(cases()["collateral-right-middle"], age_band="under-18", checked=None, visits=())
    more = {"first": first, "torn": torn, "no glue": no_glue, "growing joint": growing}
    came = replace(cases()["collateral-right-middle"], print_size=12)  # where all of it has room
    bare = {"bend_degrees": None, "round_mm": None}
    more["pain told"] = replace(came, visits=tuple(replace(v, lack_degrees=None, **bare) for v in came.visits[-2:]))
    more["lack told"] = replace(came, visits=tuple(replace(v, pain=None, **bare) for v in came.visits[-2:]))
    # Only the first few places are tried one by one: who hangs stands among them.
    return World(changed, {"other": other, "in pounds": pounds, "hanging": hanging, **cases(), **more})


def read_words(world: World) -> str:
    """All that can be read or heard on pages and sheets."""
    found = []
    for view in (view for plan in list_plans(world).values() for view in plan(world)):
        try:
            found += [plain_words(words) for words in list_words(view, heard=True)]
        except TypeError:
            found.append(repr(view))
    return "\n".join(found)


# ---------------------------------------------------------------- changing the world


@cache
def _can_hold(whole: type, kind: type) -> bool:
    return any(issubclass(kind, part) for part in list_kinds([whole]))


def change(value: Any, kind: type, alter: Callable[[Any], Any]) -> Any:
    """The same value with every part of a class altered, at any depth."""
    if isinstance(value, tuple):
        return tuple(change(item, kind, alter) for item in value)
    if not dataclasses.is_dataclass(value) or not _can_hold(type(value), kind):
        return value
    parts = {f.name: change(getattr(value, f.name), kind, alter) for f in dataclasses.fields(value)}
    changed = {name: part for name, part in parts.items() if part is not getattr(value, name)}
    new = replace(value, **changed) if changed else value
    return alter(new) if type(new) is kind else new


def change_world(world: World, kind: type, alter: Callable[[Any], Any]) -> World:
    """What holds nothing that has been altered stays the same object."""

    def documents(old: tuple[Document[Any], ...]) -> tuple[Document[Any], ...]:
        new = tuple(replace(d, value=change(d.value, kind, alter)) for d in old)
        return old if all(a.value is b.value for a, b in zip(old, new, strict=True)) else new

    shelf = world.library
    parts = {
        "protocols": documents(shelf.protocols),
        "referrals": documents(shelf.referrals),
        "vocabularies": change(shelf.vocabularies, kind, alter),
    }
    altered = {name: part for name, part in parts.items() if part is not getattr(shelf, name)}
    cases = {name: change(case, kind, alter) for name, case in world.cases.items()}
    return World(replace(shelf, **altered) if altered else shelf, cases)


def list_parts(world: World) -> dict[type, list[Any]]:
    """Every part of a world by its class, what lies within another one first."""
    found: dict[type, list[Any]] = defaultdict(list)

    def look(value: Any) -> None:
        if isinstance(value, tuple):
            for item in value:
                look(item)
        elif dataclasses.is_dataclass(value):
            for field in dataclasses.fields(value):
                look(getattr(value, field.name))
            found[type(value)].append(value)

    shelf = world.library
    look(tuple(document.value for document in (*shelf.protocols, *shelf.referrals)))
    look((shelf.vocabularies, *world.cases.values()))
    return found


def list_values(parts: dict[type, list[Any]], field: Field) -> list[Any]:
    """What a field holds, everywhere where it stands."""
    return list(dict.fromkeys(getattr(part, field.name) for part in parts[field.kind]))


# What else a text with a shape of its own can be. An id is taken from where the field stands elsewhere.
OF_SHAPE: dict[Shape, tuple[str, ...]] = {
    DATE_SHAPE: ("2026-09-14", "2026-11-20", "2026-12-20"),
    GRADE_SHAPE: ("I", "II", "III", "any"),
    SPAN_SHAPE: ("9 days", "9 weeks"),
    VERSION_SHAPE: ("0.9.9",),
    CODE_SHAPE: ("S63.7",),
}


def _holds_pieces(hint: Any) -> bool:
    """Whether a type is a text in pieces, or a list of texts that may be for some readers only."""
    return is_told(hint) or typing.get_args(hint)[:1] == (Said,)


def add_word(value: Any, word: str) -> Any:
    """A text with a word at its end, or a list of texts or of pieces with it at the end of each."""
    if isinstance(value, tuple):
        return tuple(add_word(item, word) for item in value)
    return replace(value, says=value.says + word) if isinstance(value, Said) else value and value + word


def list_others(value: Any, field: Field, pool: list[Any]) -> list[Any]:
    """Other values that a field could hold, the least strange first. `pool`: what it holds elsewhere."""
    inner = strip_none(field.hint)
    if _holds_pieces(inner):
        found = [add_word(value or (Said(says="Qzx."),), " qzx"), value[:-1] if value else ()]
    elif typing.get_origin(inner) is tuple:
        found = _list_other_lists(value, typing.get_args(inner)[0], pool)
    elif typing.get_origin(inner) is Literal:
        found = list(typing.get_args(inner))
    elif inner is bool:
        found = [not value]
    elif inner in (int, float):
        found = [(value or 0) + 1, max((value or 0) - 1, 0)]
    elif dataclasses.is_dataclass(inner):
        found = [*pool, *_list_other_parts(value)]
    elif field.name == "source":
        found = ["orth-2023", "lutter-2018 recalled", "common-practice"]
    elif shape_of(inner) in (TEXT_SHAPE, LINE_SHAPE):
        found = [f"{value} qzx" if value else "qzx"]
    else:
        shape = shape_of(inner) or TEXT_SHAPE
        found = [*map(shape.read, OF_SHAPE.get(shape, ())), *pool]
    optional = [None] if inner is not field.hint else []
    return [other for other in (*found, *optional) if other != value and (other is not None or optional)]


def _list_other_lists(value: tuple[Any, ...] | None, inner: Any, pool: list[Any]) -> list[Any]:
    value = value or ()
    more = [item for items in pool for item in items or () if item not in value]
    if typing.get_origin(inner) is Literal:
        more += [item for item in typing.get_args(inner) if item not in value]
    return [value[:-1], *((*value, item) for item in more[:1]), *((item,) for item in more[:2]), value[::-1], ()]


def _list_other_parts(value: Any) -> Iterator[Any]:
    """The same part with one key changed."""
    for name, hint in hints_of(type(value)).items() if value is not None else ():
        for other in list_others(getattr(value, name), Field(type(value), name, hint), [])[:1]:
            yield replace(value, **{name: other})


MOST_TRIES, MOST_PLACES = 3, 6
REFUSED = (KeyError, ValueError, StopIteration, IndexError, RuntimeError, TypeError, AttributeError)


def reaches_somebody(plain: Plain, field: Field) -> bool:
    """Whether a field can be changed so that some page or sheet changes: everywhere at once, or where that cannot be
    planned, and in cases, at one place after the other."""
    of_case = field.kind in list_kinds([Case])
    pool = list_values(plain.parts, field)
    for number in range(MOST_TRIES):
        refused = False
        for place in (None, *range(MOST_PLACES)):
            if place is not None and not refused and not of_case:
                break
            changed, count = _change_field(plain.world, field, pool, number, place)
            if count == 0:
                break
            try:
                if plain.is_seen(changed, of_case):
                    return True
            except REFUSED:
                refused = True
    return False


def reach_nobody(plain: Plain, fields: list[Field]) -> bool:
    """Whether all of these can be changed together, and still every page and sheet is the same. False: some may not."""
    for number in range(MOST_TRIES):
        changed = plain.world
        for field in fields:
            changed, _ = _change_field(changed, field, list_values(plain.parts, field), number, None)
        try:
            if plain.is_seen(changed, of_case=False):
                return False
        except REFUSED:
            return False
    return True


def _change_field(world: World, field: Field, pool: list[Any], number: int, place: int | None) -> tuple[World, int]:
    """The world with another value in a field: everywhere, or at one place. With how many were changed."""
    at, count = -1, 0

    def alter(part: Any) -> Any:
        nonlocal at, count
        others = list_others(getattr(part, field.name), field, pool)
        if number >= len(others):
            return part
        at += 1
        if place not in (None, at):
            return part
        count += 1
        return replace(part, **{field.name: others[number]})

    return change_world(world, field.kind, alter), count


# ---------------------------------------------------------------- every text at once


def plant(world: World, fields: list[Field]) -> World:
    """A word of its own at the end of every text of each field."""
    for number, field in enumerate(fields):

        def alter(part: Any, field: Field = field, word: str = f" qz{number}z") -> Any:
            return replace(part, **{field.name: add_word(getattr(part, field.name), word)})

        world = change_world(world, field.kind, alter)
    return world


def find_unseen(world: World, fields: list[Field]) -> set[str]:
    """The fields that nobody reads. Those of the table are tried together first: each alone takes all planning."""
    texts = [f for f in fields if f.is_text and f.kind.__name__ != "Phrase"]
    found = set(re.findall(r"qz(\d+)z", read_words(plant(world, texts))))
    there = {str(field) for number, field in enumerate(texts) if str(number) in found}
    left = [f for f in fields if str(f) not in there]
    plain, of_cases = Plain(world), list_kinds([Case])
    listed = [f for f in left if str(f) in UNSEEN and f.kind not in of_cases]
    if listed and reach_nobody(plain, listed):
        left = [f for f in left if f not in listed]
        return {*map(str, listed), *(str(f) for f in left if not reaches_somebody(plain, f))}
    return {str(f) for f in left if not reaches_somebody(plain, f)}


_ORDERED: dict[str, Any] = {}


@pytest.fixture(autouse=True)
def _remember_questions(monkeypatch: pytest.MonkeyPatch) -> None:
    """Which questions separate fastest follows from the table alone, and takes a third of the time of all planning."""

    def order_once(fits: Any, most: int) -> Any:
        key = f"{most} {fits}"
        if key not in _ORDERED:
            _ORDERED[key] = order_questions(fits, most)
        return _ORDERED[key]

    monkeypatch.setattr("fingerpost.plan.base.answers.order_questions", order_once)


@cache
def list_unseen() -> frozenset[str]:
    return frozenset(find_unseen(furnish_world(), list_fields(list_kinds(ROOTS))))


def test_every_field_reaches_a_reader_or_says_why_not() -> None:
    assert sorted(list_unseen() - set(UNSEEN)) == [], "nobody reads these: print them, or say here why not"


def test_what_is_said_to_be_unseen_is_unseen() -> None:
    assert sorted(set(UNSEEN) - list_unseen()) == [], "these are read by somebody: take them off the table"


def test_every_class_of_the_model_is_looked_at() -> None:
    """A class without a single example would pass whatever became of it."""
    parts = list_parts(furnish_world())
    empty = [str(f) for f in list_fields(list_kinds(ROOTS)) if not list_values(parts, f)]
    assert empty == []


def test_a_new_field_that_nobody_prints_is_found() -> None:
    new = dataclasses.make_dataclass(
        "NewStage", [("forgotten", Text | None, None)], bases=(Stage,), frozen=True, kw_only=True
    )
    stages = list_fields([Stage])[:2]

    def renew(part: Any) -> Any:
        return new(**{f.name: getattr(part, f.name) for f in dataclasses.fields(part)}, forgotten="Nobody reads this.")

    world = change_world(furnish_world(), Stage, renew)
    fields = [Field(new, "forgotten", Text | None), *(replace(field, kind=new) for field in stages)]
    assert find_unseen(world, fields) == {"NewStage.forgotten"}


def test_a_sentence_that_is_no_longer_printed_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """A bare text, a list of texts, and a text in pieces."""
    world = replace(furnish_world(), cases={})
    fields = [f for f in list_fields([Taping]) if f.name in ("evidence", "mistakes", "take_off")]
    assert [f.is_text for f in fields] == [True] * 3
    assert find_unseen(world, fields) == set()
    monkeypatch.setattr("fingerpost.plan.pages.shared_pages.taping_blocks", lambda *_, **__: ())
    assert find_unseen(world, fields) == {"Taping.evidence", "Taping.mistakes", "Taping.take_off"}


def test_a_condition_that_nobody_is_told_is_found(monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages that print every piece for everybody."""
    world = replace(furnish_world(), cases={})
    field = next(f for f in list_fields([Said]) if f.name == "for_")
    assert find_unseen(world, [field]) == set()
    for place in ("injury.about", "pages.site", "leaf.general"):
        monkeypatch.setattr(f"fingerpost.plan.{place}.narrow_library", lambda shelf, reader, about: shelf)
    monkeypatch.setattr("fingerpost.plan.leaf.general._by_reader", lambda writer, said: sum((w for _, w in said), ()))
    for place in ("leaf.general", "injury.act"):
        monkeypatch.setattr(f"fingerpost.plan.{place}.for_any_place", lambda said: said)
    monkeypatch.setattr(
        "fingerpost.plan.pages.way_in._order_and_steps",
        lambda writer, sign: ((), tuple(writer.words(piece.says) for piece in sign.do)),
    )
    monkeypatch.setattr("fingerpost.plan.machines.search._everybody", lambda told: (piece.says for piece in told))
    monkeypatch.setattr("fingerpost.plan.injury.know.split_answer", lambda told: (_read_flat(told), ()))
    monkeypatch.setattr("fingerpost.plan.injury.know.split_list", lambda items: ("", [(item,) for item in items]))
    monkeypatch.setattr(Writer, "_open", lambda self, piece, says: says)
    monkeypatch.setattr(Writer, "words", lambda self, written: self._mark_text(_read_flat(written)))
    assert find_unseen(world, [field]) == {"Said.for_"}


def _read_flat(written: str | Said | Told) -> str:
    """Text as written, whoever it is for."""
    if isinstance(written, str):
        return written
    return flat(written if isinstance(written, tuple) else (written,))
