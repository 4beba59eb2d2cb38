"""The paper key: one page of yes/no questions for a clinic's wall or a gym's desk, from the same arithmetic.

Warning signs and age come first. The questions ask only where and how it began, what it feels like and how it behaves:
what anybody can say at a desk. What can be seen or how a joint moves is left to a trained eye. An end names pages to
read or a clinician, never an injury that somebody has.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from fingerpost.model.protocol import Protocol
from fingerpost.model.words import PAPERS, URGENT, Id, Paper
from fingerpost.plan.base.addresses import key_address, short_address, words_of
from fingerpost.plan.base.answers import fits_of, list_age_signs, list_settled
from fingerpost.plan.base.blocks import Box, Bullets
from fingerpost.plan.base.checked import library_badge
from fingerpost.plan.base.parts import pick, short_sign
from fingerpost.plan.base.prose import Writer, join_words
from fingerpost.plan.base.runs import link, plain, strong
from fingerpost.reckon.telling import KeyStep, make_key, rule_out

_ASKED = ("onset", "place", "feeling", "timing")
_MOST_DEEP = 5
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, kw_only=True)
class KeyEnd:
    """Where an answer leads: to another row (`row`), or to pages and perhaps a clinician. `says` is finished text."""

    says: str
    row: int | None = None
    pages: tuple[Id, ...] = ()
    clinician: bool = False


@dataclass(frozen=True, kw_only=True)
class KeyRow:
    """One question. `sign` is what it asks about."""

    number: int
    sign: Id
    question: str
    yes: KeyEnd
    no: KeyEnd


@dataclass(frozen=True, kw_only=True)
class KeyPage:
    """A page that the key can end at: its letter, its name, its address ('' where nobody knows where the site stands).

    `address_words` is the last part of the address; what stands before it is said once for all pages.
    """

    id: Id
    letter: str
    name: str
    address: str
    address_words: str
    code_title: str


@dataclass(frozen=True, kw_only=True)
class Key:
    """The whole key on one paper. `warnings` holds a box per urgency; `age` is asked before the first row."""

    file_stem: str
    title: str
    language: str
    paper: Paper
    head: str
    gym: str
    lead: str
    warnings: tuple[Box, ...]
    age: KeyRow
    table_caption: str
    table_head: tuple[str, str, str, str]
    rows: tuple[KeyRow, ...]
    pages_heading: str
    pages_lead: str
    pages: tuple[KeyPage, ...]
    foot: str


def list_steps(writer: Writer) -> tuple[KeyStep, ...]:
    """The steps for an adult without any of the urgent warning signs."""
    library = writer.library
    asked = {s.id for s in library.vocabularies.signs if s.kind in _ASKED}
    gone = {*list_settled(library), *list_age_signs(library)}
    fits = rule_out(fits_of(library), gone)
    table = {c: {s: m for s, m in marks.items() if s in asked and s not in gone} for c, marks in fits.items()}
    home = {d.value.id for d in library.protocols}
    return make_key(table, _MOST_DEEP, enough=lambda left: not home & set(left))


def plan_key(writer: Writer, paper: Paper) -> Key:
    """The key on one paper."""
    pages = _pages(writer)
    letters = {page.id: page.letter for page in pages}
    return Key(
        file_stem=f"key-{paper.lower()}",
        title=writer.say("key-title"),
        language="en-GB",
        paper=paper,
        head=writer.say("general-head"),
        gym=writer.library.clinic.name or writer.say("site-name"),
        lead=writer.say("key-lead"),
        warnings=tuple(_urgent(writer, urgency) for urgency in URGENT),
        age=_age(writer, letters),
        table_caption=writer.say("key-caption"),
        table_head=(
            writer.say("key-head-number"),
            writer.say("key-head-question"),
            writer.say("answer-yes"),
            writer.say("answer-no"),
        ),
        rows=tuple(_row(writer, step, letters) for step in list_steps(writer)),
        pages_heading=writer.say("key-pages"),
        pages_lead=_pages_lead(writer),
        pages=pages,
        foot=f"{writer.say('key-foot')} {plain(library_badge(writer))}".strip(),
    )


def _urgent(writer: Writer, urgency: str) -> Box:
    """The warning signs of one urgency at a glance, under what to do."""
    signs = [s for s in writer.library.vocabularies.warning_signs if s.urgency == urgency]
    lines = (strong(writer.say(f"do-{urgency}")), *(writer.words(short_sign(s)) for s in signs))
    return Box(level="warning", title=writer.say("key-warnings"), lines=lines)


def _age(writer: Writer, letters: Mapping[Id, str]) -> KeyRow:
    """Under 18: growth plates before everything else."""
    sign = next(s for s in writer.library.vocabularies.signs if s.id in list_age_signs(writer.library))
    young = tuple(c.id for c in writer.library.conditions if c.people == "under-18" and c.id in letters)
    says = writer.say("key-young", pages=_list(letters, young))
    return KeyRow(
        number=0,
        sign=sign.id,
        question=sign.question,
        yes=KeyEnd(says=says, pages=young, clinician=True),
        no=KeyEnd(says=writer.say("key-go-on", row=1), row=1),
    )


def _row(writer: Writer, step: KeyStep, letters: Mapping[Id, str]) -> KeyRow:
    sign = pick(writer.library.vocabularies.signs, [step.sign])[0]
    return KeyRow(
        number=step.number,
        sign=sign.id,
        question=sign.question,
        yes=_end(writer, step.yes_step, step.yes_ends, letters),
        no=_end(writer, step.no_step, step.no_ends, letters),
    )


def _end(writer: Writer, row: int | None, ends: Sequence[Id], letters: Mapping[Id, str]) -> KeyEnd:
    if row is not None:
        return KeyEnd(says=writer.say("key-go-on", row=row), row=row)
    pages = tuple(page for page in ends if page in letters)
    clinician = len(pages) < len(ends)
    phrase = "key-see" if not pages else "key-read-or-see" if clinician else "key-read"
    return KeyEnd(says=writer.say(phrase, pages=_list(letters, pages)), pages=tuple(ends), clinician=clinician)


def _list(letters: Mapping[Id, str], pages: Sequence[Id]) -> str:
    return join_words([letters[page] for page in pages], "or")


def _pages(writer: Writer) -> tuple[KeyPage, ...]:
    """The injuries with a way back, each under a letter."""
    protocols = (document.value for document in writer.library.protocols)
    return tuple(_page(writer, letter, protocol) for letter, protocol in zip(_LETTERS, protocols, strict=False))


def _page(writer: Writer, letter: str, protocol: Protocol) -> KeyPage:
    site = writer.library.clinic.site_address
    address = f"{site}{short_address(protocol.id)}" if site else ""
    return KeyPage(
        id=protocol.id,
        letter=letter,
        name=protocol.plain_name,
        address=address,
        address_words=protocol.id,
        code_title=writer.say("code-title", address=words_of(address)) if address else "",
    )


def _pages_lead(writer: Writer) -> str:
    site = writer.library.clinic.site_address
    root = words_of(f"{site}i/") if site else "injuries"
    return writer.say("key-pages-lead", root=root)


def key_links(writer: Writer) -> Bullets:
    """Links to the key on each paper."""
    return Bullets(items=tuple(link(writer.say("key-link", paper=paper), key_address(paper)) for paper in PAPERS))


def outline_key(key: Key) -> str:
    """The key as plain text."""
    lines = [f"=== KEY {key.file_stem} === {key.title} ({key.paper})", f"head: {key.gym} | {key.head}", key.lead]
    lines += [f"[{box.level}] " + " | ".join(plain(line) for line in box.lines) for box in key.warnings]
    for row in (key.age, *key.rows):
        lines.append(f"{row.number}. {row.question} yes: {row.yes.says} / no: {row.no.says} ({row.sign})")
    lines += [key.pages_heading, key.pages_lead]
    lines += [f"{page.letter} {page.name} <{page.address or page.address_words}>" for page in key.pages]
    return "\n".join([*lines, key.foot]) + "\n"
