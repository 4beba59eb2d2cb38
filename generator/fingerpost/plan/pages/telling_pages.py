"""Telling apart: a page for every two that name each other as look-alikes, one table of all, and all signs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from fingerpost.model.protocol import Condition, LookAlike, Protocol
from fingerpost.model.shared import Sign
from fingerpost.model.words import URGENCIES, URGENT
from fingerpost.plan.base.addresses import address_of, pair_address
from fingerpost.plan.base.answers import fits_of, list_pairs
from fingerpost.plan.base.blocks import Block, Bullets, Page, Paragraph, Section, Table
from fingerpost.plan.base.checked import library_badge
from fingerpost.plan.base.parts import mark_of, pick, seek_words, table
from fingerpost.plan.base.prose import Writer, capital
from fingerpost.plan.base.runs import Words, link, plain, strong, text
from fingerpost.reckon.telling import Separator, separate

_ENOUGH_ROWS = 4
_KINDS = ("onset", "place", "feeling", "timing", "look", "movement", "person")


def plan_apart_pages(writers: Iterable[tuple[Writer, Condition, Condition]]) -> list[Page]:
    """One page for each pair, each with its own writer."""
    return [_plan_pair(writer, one, other) for writer, one, other in writers]


def _alike(one: Condition, other: Condition) -> LookAlike:
    return next(alike for alike in one.look_alikes if alike.id == other.id)


def _separators(writer: Writer, one: Condition, other: Condition) -> tuple[Separator, ...]:
    return separate(fits_of(writer.library), one.id, other.id).separators


def _plan_pair(writer: Writer, one: Condition, other: Condition) -> Page:
    sections = [
        _section(writer, "apart-signs", _sign_table(writer, one, other), _shared_signs(writer, one, other)),
        _section(writer, "apart-tests", _tests(writer, one, other)),
        _section(writer, "apart-why", _why(writer, one, other)),
        _section(writer, "apart-grips", *_grips(writer, one, other)),
        _section(writer, "apart-next", _next(writer, one, other)),
        _section(writer, "sources", writer.source_list()),
    ]
    names = {"first": one.plain_name, "second": other.plain_name}
    return Page(
        address=pair_address(one.id, other.id),
        kind="apart-pair",
        title=writer.say("title-apart-pair", **names),
        description=writer.say("description-apart-pair", **names),
        badge=library_badge(writer),
        lead=(Paragraph(words=text(writer.say("intro-apart-pair")), lead=True), _warnings_first(writer)),
        sections=tuple(s for s in sections if s.blocks),
    )


def _warnings_first(writer: Writer) -> Paragraph:
    words = (*text(writer.say("apart-warnings") + " "), *link(writer.say("title-warning-signs"), "warning-signs/"))
    return Paragraph(words=words)


def _section(writer: Writer, id: str, *blocks: Block | None) -> Section:
    return Section(id=id, heading=writer.say(f"heading-{id}"), blocks=tuple(b for b in blocks if b))


def _fit(writer: Writer, condition: Condition, sign: str) -> Words:
    """How a sign fits, in a word; what fits stands out."""
    mark = fits_of(writer.library)[condition.id].get(sign, "not-known")
    word = writer.say(f"fit-{mark}")
    return strong(word) if mark == "usual" else text(word)


def _sign_table(writer: Writer, one: Condition, other: Condition) -> Table:
    """The signs that separate, the clearest first: how each fits the one and the other.

    Where few do, what only leans one way stands below them: usual in one, sometimes or not known in the other.
    """
    known = {s.id: s.says for s in writer.library.vocabularies.signs}
    found = _separators(writer, one, other)
    signs = [s.sign for s in found if s.strength != "hint"]
    if len(signs) < _ENOUGH_ROWS:
        signs += [*(s.sign for s in found if s.strength == "hint"), *_leaning(writer, one, other)]
    rows = [(text(known[sign]), _fit(writer, one, sign), _fit(writer, other, sign)) for sign in signs]
    head = (writer.say("head-sign"), one.plain_name, other.plain_name)
    return table(writer.say("caption-apart-signs"), head, rows)


def _leaning(writer: Writer, one: Condition, other: Condition) -> list[str]:
    """The signs that are usual in one and come sometimes in the other."""
    fits = fits_of(writer.library)
    signs = (s.id for s in writer.library.vocabularies.signs)
    return [s for s in signs if {fits[one.id].get(s), fits[other.id].get(s)} == {"usual", "sometimes"}]


def _shared_signs(writer: Writer, one: Condition, other: Condition) -> Bullets | None:
    """Why the two are mixed up: what is usual in both."""
    fits = fits_of(writer.library)
    signs = writer.library.vocabularies.signs
    both = [s.says for s in signs if {fits[one.id].get(s.id), fits[other.id].get(s.id)} == {"usual"}]
    return Bullets(items=tuple(text(says) for says in both), title=writer.say("apart-shared")) if both else None


def _tests(writer: Writer, one: Condition, other: Condition) -> Table | None:
    """The tests that separate, with what counts."""
    ids = dict.fromkeys((*_alike(one, other).tests, *_alike(other, one).tests))
    tests = pick(writer.library.vocabularies.tests, ids)
    if not tests:
        return None
    rows = [
        (link(t.name, f"tests/#{t.id}"), text(t.plain), writer.words(t.positive), writer.words(t.not_proof))
        for t in tests
    ]
    head = tuple(
        writer.say(f"head-{h}") for h in ("test", "apart-test-plain", "apart-test-positive", "apart-test-limits")
    )
    return table(writer.say("caption-apart-tests"), head, rows)


def _why(writer: Writer, one: Condition, other: Condition) -> Table:
    """Why it matters which of the two it is, and who sees it."""
    rows: list[tuple[Words, Words, Words]] = [
        (
            text(writer.say("apart-row-mixed-up")),
            writer.words(_alike(one, other).why_it_matters),
            writer.words(_alike(other, one).why_it_matters),
        ),
        (text(writer.say("apart-row-care")), _care(writer, one), _care(writer, other)),
        (text(writer.say("apart-row-who")), tell_who(writer, one), tell_who(writer, other)),
    ]
    return table(
        writer.say("caption-apart-why"), (writer.say("head-apart-what"), one.plain_name, other.plain_name), rows
    )


def _care(writer: Writer, condition: Condition) -> Words:
    if isinstance(condition, Protocol):
        return writer.words(condition.grip_rule)
    return text(writer.say("apart-no-programme"))


def tell_who(writer: Writer, condition: Condition) -> Words:
    """When to be seen for what is usual: the warning sign that its own signs are, or the first that is not urgent.

    The more urgent of the two. Other urgent signs stand first on every page; here they count only where all are urgent.
    """
    seeks = condition.see_somebody
    own = {w.id for w in writer.library.vocabularies.warning_signs if set(w.signs) & set(condition.signs.usual)}
    usual = [s for s in seeks if own & set(s.warning_signs)]
    calm = [s for s in seeks if s.urgency not in URGENT]
    first = min((*usual[:1], *calm[:1]), key=lambda s: URGENCIES.index(s.urgency), default=seeks[0])
    return seek_words(writer, first)


def _grips(writer: Writer, one: Condition, other: Condition) -> tuple[Block, ...]:
    """Between two injuries with a way back: which grips come back at another place in the order."""
    if not (isinstance(one, Protocol) and isinstance(other, Protocol)) or one.stop or other.stop:
        return ()
    rows = []
    for grip in writer.library.vocabularies.grips:
        first, second = (_returns(writer, c, grip.id) for c in (one, other))
        if plain(first) != plain(second):
            rows.append((text(grip.name), first, second))
    head = (writer.say("head-grip"), one.plain_name, other.plain_name)
    return (table(writer.say("caption-apart-grips"), head, rows),) if rows else ()


def _returns(writer: Writer, protocol: Protocol, grip: str) -> Words:
    """How a grip stands in each stage, said once for stages that follow each other."""
    known = {g.id: g for g in writer.library.vocabularies.grips}
    marks = [mark_of(known[grip], stage) for stage in protocol.stages]
    parts = []
    for number, mark in enumerate(marks, 1):
        if number == 1 or mark != marks[number - 2]:
            parts.append(writer.say("apart-from-stage", mark=writer.say(f"grip-{mark}").lower(), number=number))
    return text("; ".join(parts))


def _next(writer: Writer, one: Condition, other: Condition) -> Bullets:
    return Bullets(items=tuple(link(c.plain_name, address_of(c.id)) for c in (one, other)))


def plan_apart(writer: Writer) -> Page:
    """One table of all pairs: what speaks for which, and the tests."""
    rows = [_pair_row(writer, one, other) for one, other in list_pairs(writer.library)]
    head = tuple(writer.say(f"head-apart-{h}") for h in ("pair", "first", "second", "tests"))
    section = Section(
        id="all-pairs",
        heading=writer.say("heading-all-pairs"),
        blocks=(table(writer.say("caption-apart"), head, rows),),
    )
    return Page(
        address="apart/",
        kind="apart",
        title=writer.say("title-apart"),
        description=writer.say("description-apart"),
        badge=library_badge(writer),
        lead=(Paragraph(words=text(writer.say("intro-apart")), lead=True), _warnings_first(writer)),
        sections=(section,),
        menu=writer.say("menu-apart"),
    )


def _pair_row(writer: Writer, one: Condition, other: Condition) -> tuple[Words, ...]:
    name = writer.say("title-apart-pair", first=one.plain_name, second=other.plain_name)
    speaking = [_speaking(writer, one, other, condition.id) for condition in (one, other)]
    ids = dict.fromkeys((*_alike(one, other).tests, *_alike(other, one).tests))
    tests = "; ".join(t.name for t in pick(writer.library.vocabularies.tests, ids))
    return (link(name, pair_address(one.id, other.id)), *speaking, text(tests or writer.say("apart-no-test")))


def _speaking(writer: Writer, one: Condition, other: Condition, wanted: str) -> Words:
    """The three clearest signs that speak for one of the two."""
    known = {s.id: s.says for s in writer.library.vocabularies.signs}
    found = [s for s in _separators(writer, one, other) if s.speaks_for == wanted and s.strength != "hint"]
    return text("; ".join(known[s.sign] for s in found[:3]) or writer.say("apart-nothing-clear"))


def plan_signs(writer: Writer) -> Page:
    """Every sign against every page: usual, sometimes, does not fit, not known."""
    sections = []
    for kind in _KINDS:
        signs = [s for s in writer.library.vocabularies.signs if s.kind == kind]
        if signs:
            heading = writer.say(f"heading-signs-{kind}")
            sections.append(Section(id=kind, heading=heading, blocks=(_matrix(writer, signs),)))
    return Page(
        address="signs/",
        kind="signs",
        title=writer.say("title-signs"),
        description=writer.say("description-signs"),
        badge=library_badge(writer),
        lead=(Paragraph(words=text(writer.say("intro-signs")), lead=True), _warnings_first(writer)),
        sections=tuple(sections),
        menu=writer.say("menu-signs"),
    )


def _matrix(writer: Writer, signs: Sequence[Sign]) -> Table:
    fits = fits_of(writer.library)
    marks = ("usual", "sometimes", "does-not-fit", "not-known")
    rows = []
    for sign in signs:
        groups = (
            [c for c in writer.library.conditions if fits[c.id].get(sign.id, "not-known") == mark] for mark in marks
        )
        rows.append((text(sign.says), *(text("; ".join(c.plain_name for c in group) or "–") for group in groups)))
    head = (writer.say("head-sign"), *(capital(writer.say(f"fit-{mark}")) for mark in marks))
    return table(writer.say("caption-signs"), head, rows)
