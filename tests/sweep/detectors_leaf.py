"""The leaf: one load for each exercise, each gate with whoever tests it, every figure with its mark, and no more words
than two sides have room for."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import Any

from fingerpost.checks.base.marks import holds_a_figure
from fingerpost.model.audience import EVERYBODY, For, Said, may_mean
from fingerpost.model.grammar import is_record, parts_of
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol
from fingerpost.model.shared import Taping
from fingerpost.model.words import split_sentences
from fingerpost.plan.base.paper import (
    Ahead,
    GripField,
    GripFields,
    HelpBox,
    Leaf,
    Points,
    Rows,
    Side,
    TapeHow,
    Ticks,
    Verdict,
    Week,
)
from fingerpost.plan.base.runs import Run, Words, plain
from fingerpost.plan.base.visible import list_words
from sweep.leaves import BACK, FRONT
from sweep.sayings import saying
from sweep.sheets import Told

MOST_WORDS = 800
"""More words than these nobody reads on two sides, labels included. Design choice."""
_MASS = re.compile(r"\b\d+(?:\.\d+)?\s?(?:kg|lb)\b")
_RANGE = re.compile(r"\b\d+(?:\.\d+)? ?(?:–|-|to) ?\d+(?:\.\d+)?\s?(?:kg|lb)\b|\bup to [\d.]+\s?(?:kg|lb)\b")
_DAYS = re.compile(r"\b\d{1,2} (?:Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec)[a-z]*(?: \d{4})?\b")
_SET_BY_THE_CLINICIAN = re.compile(
    r"\b(?:[Pp]ain over|Over|stays at) \d+\b|\b0 to 10\b|\b10 \(worst\)|\bbelow 18\b|\bunder 18\b"
    r"|\bGoal: (?:(?:, )?(?:[\d.]+|____)\s?(?:kg|lb)(?: in [a-z -]+)?)+"
)
saying("off the wall", r"\bno climbing\b|\bnot on the wall\b|\bstop\b")
saying("on the wall", r"\bclimb|\broutes?\b|\bon the wall\b")


def find_more_than_one_load_in_a_row(told: Told) -> Iterator[str]:
    """A row of the plan must hold one load at the most, and no range of loads."""
    for block in told.leaf_blocks(Week):
        for row in block.rows:
            says = plain(row.words)
            if len(_MASS.findall(says)) > 1 or _RANGE.search(says):
                yield says


def _leaf_text(told: Told) -> str:
    """All that the leaf says, without marks and with plain blanks."""
    return _bare(" ".join(plain(words) for words in list_words(told.leaf)))


def find_limits_of_daily_life_that_the_leaf_forgets(told: Told) -> Iterator[str]:
    """What a stage limits daily life in must stand on the leaf, also where the stage is one to stop in."""
    facts = told.facts
    if told.leaf is None or (facts.hold and not facts.protocol.stop):
        return
    text = _leaf_text(told)
    for piece in facts.stage.daily_brief or ():
        for sentence in split_sentences(piece.says):
            if _bare(sentence).rstrip(" .") not in text:
                yield sentence


def find_tapings_that_the_leaf_forgets(told: Told) -> Iterator[str]:
    """A taping or splint in use must be shown or named on the leaf, and have a sheet where tape is enclosed."""
    facts = told.facts
    if facts.hold or told.leaf is None:
        return
    shown = {block.name for block in told.leaf_blocks(TapeHow)}
    text = _leaf_text(told)
    enclosed = any(sheet.name == "tape" for sheet in told.handout.sheets)
    for taping in _in_use(told):
        if taping.id not in shown and taping.name not in text:
            yield f"{taping.name} is not on the leaf"
        if enclosed and f"tape-{taping.id}" not in told.sections:
            yield f"{taping.name} has no sheet"


def _in_use(told: Told) -> Iterator[Taping]:
    """What the clinician chose of what fits, with what takes the place of glue; else all that needs no choice."""
    facts, chosen = told.facts, {*told.facts.case.tapings}
    if not chosen:
        yield from facts.fitting()
        return
    known = {t.id: t for t in facts.library.vocabularies.tapings}
    if facts.case.tape_allergy:
        chosen |= {known[id].without_glue or "" for id in chosen if id in known}
    yield from (known[use.taping] for use in facts.stage.taping if use.taping in chosen)


def find_gates_with_the_wrong_hand(told: Told) -> Iterator[str]:
    """What the clinic tests must not stand under "You tick", nor the reader's own ticks under the clinic."""
    if told.facts.hold:
        return
    begins = _begins(told.facts.library.vocabularies.gates)
    for block in told.leaf_blocks(Ticks):
        for items, person in ((block.you, True), (block.clinic, False)):
            for item in items:
                known = [who == "person" for pattern, who in begins if pattern.match(plain(item))]
                if known and person not in known:
                    yield f"{'You tick' if person else 'The clinic tests'}: {plain(item)}"


@lru_cache(maxsize=4)
def _begins(gates: tuple[Any, ...]) -> tuple[tuple[re.Pattern[str], str], ...]:
    """How the text of each gate begins, and whose it is."""
    found = []
    for gate in gates:
        for piece in gate.brief:
            first = " ".join(split_sentences(piece.says)[0].partition("[")[0].split())
            pattern = re.sub(r"\\\{\w+\\\}", r".+?", re.escape(first))
            found.append((re.compile(pattern), gate.who))
    return tuple(found)


def find_conditions_of_no_grip(told: Told) -> Iterator[str]:
    """Where grips have conditions that differ, each condition must begin with the names of its grips."""
    rules = told.facts.stage.grips.limit
    names = {g.id: g.name.lower() for g in told.facts.library.vocabularies.grips}
    for block in told.leaf_blocks(GripFields):
        for field in block.fields:
            says = plain(field.when).lower()
            if field.mark == "limit" and len(rules) > 1:
                heads = says.split(":")[:-1]
                named = [all(any(names[g] in head for head in heads) for g in rule.grips) for rule in rules]
                if len(heads) != len(rules) or not all(named):
                    yield plain(field.when)


def find_verdicts_against_the_stage(told: Told) -> Iterator[str]:
    """The line on top must say no climbing or not on the wall where the stage is off it or stops, and only there."""
    off = {s for _, s in told.says("off the wall", only=("verdict",))}
    climbs = {s for _, s in told.says("on the wall", only=("verdict",))} - off
    stays_off = bool(told.facts.hold) or not told.facts.stage.on_wall
    for block in told.leaf_blocks(Verdict):
        if block.halt is not bool(told.facts.hold) or (stays_off is not bool(off)) or (stays_off and climbs):
            yield f"{' '.join(block.says)} The stage is {'off' if stays_off else 'on'} the wall."


def find_briefs_of_somebody_else(told: Told) -> Iterator[str]:
    """No piece of a text that is meant for another grade, place, side, finger or age may stand on the leaf."""
    case = told.facts.case
    known = {
        "grade": case.grade,
        "place": case.place,
        "finger": case.finger,
        "side": case.side,
        "age": case.age_band,
        "cleared": case.doctor_cleared is not None,
        "allergy": case.tape_allergy,
    }
    lines = [line for line in told.lines if line.sheet in (FRONT, BACK) and line.kind not in ("alt", "drawn")]
    said = {sentence for line in lines for sentence in split_sentences(_bare(line.text))}
    meant: dict[str, bool] = {}
    for for_, sentence in _list_pieces(told.facts.protocol, told.facts.library):
        if sentence in said:
            meant[sentence] = meant.get(sentence, False) or may_mean(for_, **known)
    yield from (sentence for sentence, mine in meant.items() if not mine)


_MARKS = re.compile(r"\s*\[[^\]]*\]")


def _bare(text: str) -> str:
    return " ".join(_MARKS.sub("", text).replace("\u00a0", " ").split())


_PIECES: dict[str, tuple[tuple[For, str], ...]] = {}


def _list_pieces(protocol: Protocol, library: Library) -> tuple[tuple[For, str], ...]:
    """(for whom, sentence) of all that a protocol and the vocabularies say to some only, and of what says the same."""
    whole = library.find_protocol(protocol.id) or protocol
    key = f"{id(whole)}"
    if key not in _PIECES:
        words = library.vocabularies
        every = list(_walk((whole, words.exercises, words.tapings, words.gates)))
        some = {sentence for for_, sentence in every if for_ != EVERYBODY}
        _PIECES[key] = tuple((for_, sentence) for for_, sentence in every if sentence in some)
    return _PIECES[key]


def _walk(part: Any) -> Iterator[tuple[For, str]]:
    if isinstance(part, Said):
        yield from ((part.for_, sentence) for sentence in split_sentences(_bare(part.says)))
    elif isinstance(part, tuple):
        for item in part:
            yield from _walk(item)
    elif is_record(part):
        for _, below in parts_of(part):
            yield from _walk(below)


def find_figures_without_a_mark(told: Told) -> Iterator[str]:
    """A figure on the leaf must say where it is from, but for doses, loads, dates, numbers to call and pain limits."""
    kinds = (Points, Rows, HelpBox, GripFields, Ticks, Verdict)
    typed = [told.facts.case.clinic.phone, told.facts.case.clinic.name] if told.facts.case.clinic else []
    typed += [told.facts.case.clinic.emergency_number if told.facts.case.clinic else None, told.facts.case.note]
    for block in (b for kind in kinds for b in told.leaf_blocks(kind)):
        for words in list_words(block):
            yield from _unmarked(words, tuple(t for t in typed if t))


def _unmarked(words: Words, typed: tuple[str, ...]) -> Iterator[str]:
    says = "".join("§" if run.kind == "mark" else run.text for run in words).replace("\u00a0", " ")
    for own in typed:
        says = says.replace(own, "")
    for sentence in split_sentences(says):
        rest = _SET_BY_THE_CLINICIAN.sub("", _DAYS.sub("", sentence))
        if "§" not in sentence and holds_a_figure(rest) and not _TESTED.search(sentence):
            yield sentence


_WORD = re.compile(r"\S*[^\W\d_]\S*")
_TESTED = re.compile(r"\bmm edge, tested\b|^(?:goal )?[\d.]+ (?:kg|lb)$")
"""What both hands have pulled, and the goal that follows from it: `plan --why` shows the sum."""


def _as_printed(part: Any) -> Any:
    """A part of the leaf without what stands in for a picture: a grip has its name once, a stage ahead its day once."""
    if isinstance(part, GripField) and part.pictures:
        captions = (Run(f"{plain(drawing.caption)} ") for drawing in part.pictures)
        return replace(part, pictures=(), names=tuple(captions))
    if isinstance(part, Ahead):
        return replace(part, path=None)
    if isinstance(part, GripFields):
        return replace(part, fields=tuple(_as_printed(field) for field in part.fields))
    if isinstance(part, Side):
        return replace(part, blocks=tuple(_as_printed(block) for block in part.blocks))
    if isinstance(part, Leaf):
        return replace(part, front=_as_printed(part.front), back=_as_printed(part.back), inside_words="")
    return part


def find_more_words_than_two_sides_hold(told: Told) -> Iterator[str]:
    """A leaf must not have more words than anybody reads, with labels in pictures, without the clinician's note."""
    if told.leaf is None:
        return
    note = told.facts.case.note or ""
    count = sum(len(_WORD.findall(plain(words))) for words in list_words(_as_printed(told.leaf)))
    count -= len(_WORD.findall(note))
    if count > MOST_WORDS:
        yield f"{count // 20 * 20} words and more"
