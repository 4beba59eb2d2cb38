"""Briefs: the short texts of the leaf and of the top of a page fit, and allow nothing that the long text forbids."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Mapping
from functools import lru_cache
from string import Formatter
from typing import Any, NamedTuple

from fingerpost.checks.base.marks import take_out_marks
from fingerpost.checks.base.walk import (
    REMEMBERED,
    Part,
    Same,
    list_conditions,
    list_documents,
    list_entries,
    list_protocols,
    walk_parts,
)
from fingerpost.model.audience import EVERYBODY, For, Said, Told, flat, may_mean
from fingerpost.model.grammar import fields_of, key_of
from fingerpost.model.library import Library, Path
from fingerpost.model.movement import MovementFrame
from fingerpost.model.protocol import Grade, GripLimit, Protocol, Referral, Stage
from fingerpost.model.shared import Exercise, Gate, TapeStep, Taping, WarningSign
from fingerpost.model.words import OFF_THE_WALL, TODAY, split_sentences
from fingerpost.problems import Problem

# Room in the rows of the leaf and below the pictures of a taping, at 12 points, and in the first screen of a phone:
# words, without marks.
MOST_WORDS: Mapping[tuple[type, str], int] = {
    (Protocol, "brief"): 45,
    (Protocol, "now"): 14,
    (Protocol, "seen_by"): 40,
    (Grade, "brief"): 25,
    (Stage, "brief"): 25,
    (Stage, "daily_brief"): 20,
    (GripLimit, "brief"): 22,
    (Gate, "brief"): 14,
    (Exercise, "cue"): 14,
    (TapeStep, "brief"): 14,
    (TapeStep, "says"): 26,
    (Taping, "wear"): 12,
    (WarningSign, "short"): 20,
    (Referral, "brief"): 45,
    (Referral, "tell"): 14,
}
# What stands on one line has a number of letters; a gap counts as it is written.
MOST_LETTERS: Mapping[tuple[type, str], int] = {
    (Stage, "verdict"): 57,
    (Referral, "verdict"): 57,
    (Taping, "brief"): 50,
    (Exercise, "brief"): 32,
    (MovementFrame, "caption"): 32,
}
_BRIEFS: Mapping[type, tuple[str, ...]] = {
    owner: tuple(field for kind, field in (*MOST_WORDS, *MOST_LETTERS) if kind is owner)
    for owner, _ in (*MOST_WORDS, *MOST_LETTERS)
}
_LISTS = frozenset({(Referral, "tell"), (Protocol, "now")})
FEWEST_TOLD, MOST_TOLD = 3, 5

_CLIMBS = re.compile(r"\bclimb|\broutes?\b|\bon the wall\b", re.IGNORECASE)
_HOLDS_BACK = re.compile(r"\b(?:no|not|never|without|leave|leaves|stays? out|stays? off|waits?)\b", re.IGNORECASE)
# What a condition may say, each with the words that say it again.
_CONDITIONS: Mapping[str, str] = {
    "feet": r"\bfeet\b|\bfoot\b",
    "floor": r"\bfloor\b|\bground\b",
    "warm": r"\bwarmed\b|\bwarm[- ]?up\b",
    "support": r"\bsupport\b|\btape|\bring\b|\bloops\b|\bsplint\b",
    "thumb": r"\bthumb",
    "slow": r"\bslow(?:ly)?\b",
    "jump": r"\bjump|\bleap",
    "board": r"\bboards?\b",
    "catch": r"\bcatch|\bsnatch|\bfast\b",
    "a day off": r"\bday off\b|\bdays off\b|\brest day|\bday of rest\b|\bdays? between\b",
    "twist": r"\btwist|\bturn",
    "sideways": r"\bsideways\b",
    "all four fingers": r"\ball (?:four )?fingers\b|\bfour fingers\b",
    "stays out": r"\bstays? out\b",
}
# What daily life may be limited in, each with the words that say it again.
_LIMITED: Mapping[str, str] = {
    "bags": r"\bbags?\b",
    "lids": r"\blids?\b",
    "handles": r"\bhandles?\b",
    "tools": r"\btools?\b",
    "jobs": r"\bjobs?\b",
    "lifting": r"\blift",
    "light things": r"\blight\b",
    "pulling": r"\bpull",
    "one finger": r"\bone[- ](?:or two )?fingers?\b|\bwhole hand\b",
    "twisting": r"\btwist|\bwring",
    "gripping": r"\bgrip",
    "stretching": r"\bstretch",
    "rubbing": r"\brub",
    "cracking": r"\bcrack",
    "own rings": r"\brings\b",
    "support": r"\bsupport\b|\bmoulded ring\b|\bloops\b",
    "splint": r"\bsplint\b",
    "nights": r"\bnights?\b",
    "therapist": r"\btherapist\b|\bdoctor\b",
    "clinician": r"\bclinician\b",
    "sports": r"\bsports?\b",
    "games": r"\bgames\b|\bjudo\b",
    "hanging": r"\bhang",
    "driving": r"\bdriv",
    "belaying": r"\bbelay",
    "pressing": r"\bpress",
}
_MEANT = {name: re.compile(words, re.IGNORECASE) for name, words in _LIMITED.items()}
_LIMITS = re.compile(
    r"\b(?:not|never|leave out|keep (?:away|off|your own rings off)|keep .{0,20}\bon\b|only|cut down|waits?|last"
    r"|wear|stays? on|rests in|light (?:things|tasks)|with the other hand|the first time|split)\b",
    re.IGNORECASE,
)
# What the limit of pain on every leaf says already, and what limits nothing.
_PAIN_LIMITS = re.compile(r"\b(?:no limits|off limits|needs no|seldom needed)\b", re.IGNORECASE)
_SAID = {name: re.compile(words, re.IGNORECASE) for name, words in _CONDITIONS.items()}
_OTHER_WORDS = {
    r"\bend segment": "fingertip, to its first line",
    r"\bsets? of\b": "times",
    r"\bbuddy": "fingers taped together",
}


class _Brief(NamedTuple):
    """A part with a short text, the field that holds it, and what any one reader is told there, with its place."""

    part: Part
    field: str
    written: tuple[tuple[Path, str], ...]


def list_tellings(told: Told) -> Iterator[tuple[Said, ...]]:
    """The pieces of a text that one reader is told, for each sort of reader that its conditions tell apart."""
    if all(piece.for_ is EVERYBODY for piece in told):
        yield told
        return
    named = {name: [getattr(piece.for_, name) for piece in told] for name in fields_of(For)}
    asked = {
        key: sorted({v for value in values for v in (value if isinstance(value, tuple) else (value,))}, key=str)
        for key, values in named.items()
    }
    keys = [key for key, values in asked.items() if any(value is not None for value in values)]
    for values in itertools.product(*((*asked[key], "") for key in keys)):
        reader = dict(zip(keys, values, strict=True))
        yield tuple(piece for piece in told if may_mean(piece.for_, **reader))


def _list_written(part: Part, field: str) -> Iterator[tuple[Path, str]]:
    """What stands in a short text for any one reader, or in each entry of a list of them, with its place."""
    value, key = getattr(part.value, field), key_of(field)
    if isinstance(value, str):
        yield (key,), value
    elif (type(part.value), field) in _LISTS:
        for number, item in enumerate(value):
            yield (key, number), item.says if isinstance(item, Said) else item
    elif value:
        yield from {flat(pieces): ((key,), flat(pieces)) for pieces in list_tellings(value)}.values()


@lru_cache(maxsize=REMEMBERED)
def _remember_briefs(same: Same) -> tuple[_Brief, ...]:
    parts = ((part, field) for part in walk_parts(same.document) for field in _BRIEFS.get(type(part.value), ()))
    return tuple(_Brief(part, field, tuple(_list_written(part, field))) for part, field in parts)


def _list_briefs(library: Library) -> Iterator[_Brief]:
    """Every short text, whether anything stands there or not."""
    for document in list_documents(library):
        yield from _remember_briefs(Same(document))


def _list_stages(library: Library) -> Iterator[Part]:
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            yield Part(document, ("stages", number), stage)


def count_words(text: str) -> int:
    return len(take_out_marks(text).replace(" .", ".").split())


def find_briefs_without_room(library: Library) -> Iterator[Problem]:
    """A short text must have no more words or letters than its row or picture has room for, whoever reads it."""
    for part, field, written in _list_briefs(library):
        most = MOST_WORDS.get((type(part.value), field)) or MOST_LETTERS[type(part.value), field]
        unit = "words" if (type(part.value), field) in MOST_WORDS else "letters"
        counts = [(count_words(text) if unit == "words" else len(text), path, text) for path, text in written]
        for path in dict.fromkeys(path for _, path, _ in counts):
            count, text = max((count, text) for count, at, text in counts if at == path)
            if count > most:
                message = f"there are {count} {unit} here for one reader; {most} are the most: '{text}'"
                yield part.problem(
                    path, message, "A leaf has one row for it; a step has three or four lines below its picture."
                )


def find_names_too_long_for_a_row(library: Library) -> Iterator[Problem]:
    """An exercise whose name is too long for a row of the leaf must have a shorter one as its brief."""
    most = MOST_LETTERS[Exercise, "brief"]
    for part in list_entries(library, "exercises"):
        if len(part.value.name) > most and not part.value.brief:
            yield part.problem(("name",), f"this name has {len(part.value.name)} letters", f"Add a `brief` of {most}.")


def find_verdicts_that_are_no_line(library: Library) -> Iterator[Problem]:
    """A verdict must be one line for each reader, and must begin with "Today: "."""
    for part, field, _ in _list_briefs(library):
        for pieces in list_tellings(part.value.verdict) if field == "verdict" else ():
            if len(pieces) > 1 or any(not piece.says.startswith(TODAY) or "\n" in piece.says for piece in pieces):
                message = f"'{flat(pieces)}' is no line that begins with '{TODAY.strip()}'"
                yield part.problem(("verdict",), message, "Each reader gets one piece of it.")
                break


def find_verdicts_against_their_stage(library: Library) -> Iterator[Problem]:
    """The verdict of a stage must say "no climbing" or "not on the wall" where the stage is off it, and only there."""
    for part in _list_stages(library):
        for piece in part.value.verdict:
            off = bool(OFF_THE_WALL.search(piece.says))
            climbs = _CLIMBS.search(OFF_THE_WALL.sub("", piece.says))
            if off is part.value.on_wall or (climbs and not part.value.on_wall):
                where = "on" if part.value.on_wall else "off"
                yield part.problem(("verdict",), f"this stage is {where} the wall, and '{piece.says}' says otherwise")
                break


def find_walls_that_are_none(library: Library) -> Iterator[Problem]:
    """A stage that counts routes, or comes as late as a milestone, must be on the wall; one on it must have a grip."""
    routes = {e.id for e in library.vocabularies.exercises if e.counts == "routes"}
    begun: set[int] = set()
    for part in _list_stages(library):
        stage = part.value
        climbs = stage.milestone != "none" or any(dose.exercise in routes for dose in stage.exercises)
        begun |= {id(part.document)} if climbs or stage.on_wall else set()
        if id(part.document) in begun and not stage.on_wall:
            yield part.problem(("on_wall",), "by now there is climbing, so this stage is on the wall", "Write true.")
        elif stage.on_wall and not stage.grips.keep and not stage.grips.limit:
            yield part.problem(("on_wall",), "this stage leaves every grip", "Write false, or keep or limit a grip.")


def find_stages_that_do_not_say_how(library: Library) -> Iterator[Problem]:
    """A stage on the wall must say in brief how to climb, and one off the wall must not."""
    for part in _list_stages(library):
        if part.value.on_wall is not bool(part.value.brief):
            message = "it says nothing in brief" if part.value.on_wall else "nobody climbs in this stage"
            yield part.problem(("brief",) if part.value.brief else (), message, "`brief` says how to climb.")


def find_briefs_of_grips_left_out(library: Library) -> Iterator[Problem]:
    """What a stage says in brief must not name a grip that it leaves, unless to hold somebody back from it."""
    names = {grip.id: grip.name.lower() for grip in library.vocabularies.grips}
    for part in _list_stages(library):
        stage = part.value
        told: list[tuple[Path, Told]] = [(("verdict",), stage.verdict), (("brief",), stage.brief or ())]
        told += [(("grips", "limit", n, "brief"), limit.brief) for n, limit in enumerate(stage.grips.limit)]
        for path, pieces in told:
            for grip in stage.grips.leave:
                if any(names.get(grip, "?") in sentence.lower() for sentence in _list_allowed(pieces)):
                    yield part.problem(path, f"this stage leaves '{grip}', which is named here", "Leave it out here.")


def _list_allowed(pieces: Told) -> Iterator[str]:
    """The sentences that hold nobody back."""
    yield from (s for piece in pieces for s in split_sentences(piece.says) if not _HOLDS_BACK.search(s))


def find_climbing_for_the_newly_hurt(library: Library) -> Iterator[Problem]:
    """What somebody does now whom nobody has seen must name no climbing and no grip, unless to hold back from it."""
    names = [grip.name.lower() for grip in library.vocabularies.grips]
    for document in list_protocols(library):
        for number, piece in enumerate(document.value.now):
            for sentence in _list_allowed((piece,)):
                if _CLIMBS.search(sentence) or any(name in sentence.lower() for name in names):
                    message = f"nobody has looked at the finger yet, and '{sentence}' lets it climb"
                    yield document.problem(("now", number), message, "Say what to leave, or take it out.")


def find_briefs_that_forget_a_condition(library: Library) -> Iterator[Problem]:
    """A brief must hold the conditions of the long text beside it: feet, floor, support, jumps, boards, a day off."""
    for part in _list_stages(library):
        stage = part.value
        pairs: list[tuple[Path, Told, Told | None]] = []
        pairs += [(("brief",), stage.climbing, stage.brief)] if stage.on_wall else []
        pairs += [(("grips", "limit", n, "brief"), x.when, x.brief) for n, x in enumerate(stage.grips.limit)]
        for path, long, brief in pairs:
            lost = [n for n, words in _SAID.items() if words.search(flat(long)) and not words.search(flat(brief or ()))]
            if lost and brief:
                yield part.problem(path, f"the long text says more: {', '.join(lost)}", "Say it here as well.")


def find_briefs_that_forget_a_limit(library: Library) -> Iterator[Problem]:
    """A stage must say in brief, to each reader, all that limits daily life: bags, lids, support, nights, sports."""
    for part in _list_stages(library):
        long, brief = part.value.daily_life, part.value.daily_brief or ()
        for pieces in list_tellings((*long, *brief)):
            told = flat(tuple(piece for piece in pieces if any(piece is one for one in brief)))
            limits = [s for piece in pieces if any(piece is one for one in long) for s in split_sentences(piece.says)]
            limits = [s for s in limits if _LIMITS.search(s) and not _PAIN_LIMITS.search(s)]
            lost = {n: s for s in limits for n, words in _MEANT.items() if words.search(s) and not words.search(told)}
            if lost:
                message = f"the leaf forgets the {', '.join(lost)}: '{next(iter(lost.values()))}'"
                at = ("daily_brief",) if part.value.daily_brief else ("daily_life",)
                yield part.problem(at, message, "`daily_brief` says in a line what daily life is limited in.")
                break


def find_grades_at_another_place(library: Library) -> Iterator[Problem]:
    """The brief of a grade must name a place by its letters only to somebody who is hurt there."""
    landmarks = {part.id: str(part.landmark) for part in library.vocabularies.anatomy}
    for document in list_protocols(library):
        marks = {landmarks[place] for place in document.value.places if place in landmarks}
        for number, grade in enumerate(document.value.grades):
            for piece in grade.brief if len(marks) > 1 else ():
                there = {landmarks.get(place, "") for place in piece.for_.place}
                named = {mark for mark in marks if re.search(rf"\b{mark.upper()}\b", piece.says)}
                if named and (len(named) > 1 or there != named):
                    message = f"'{flat((piece,))}' is told to somebody who is hurt elsewhere"
                    yield document.problem(("grades", number, "brief"), message, "Say it in a piece with `for: place`.")


def find_gaps_in_briefs(library: Library) -> Iterator[Problem]:
    """A short text must hold the gaps that the leaf fills, and no other: {most}, {weeks}, {finger}, {partner}."""
    for part, field, written in _list_briefs(library):
        may, must = _gaps_of(part.value, field)
        for path, text in written:
            try:
                gaps = {name for _, name, _, _ in Formatter().parse(text) if name is not None}
            except ValueError as error:
                yield part.problem(path, f"the curly brackets do not match: {error}")
                break
            if not must <= gaps <= may:
                known = ", ".join(f"{{{name}}}" for name in sorted(may)) or "none"
                needed = ", ".join(f"{{{name}}}" for name in sorted(must)) or "none"
                yield part.problem(path, f"'{text}' has other gaps", f"It may have {known}, and must have {needed}.")
                break


def _gaps_of(value: Any, field: str) -> tuple[set[str], set[str]]:
    """The gaps that a short text may have, and those that it must have."""
    if isinstance(value, Gate):
        stay = {"weeks"} if value.stay else set()
        return {"most", *stay}, stay
    if isinstance(value, Taping) and field == "brief":
        gaps = {"finger"} if value.neighbour == "none" else {"finger", "partner"}
        return gaps, gaps
    return set(), set()


def find_warnings_without_a_short_form(library: Library) -> Iterator[Problem]:
    """A warning sign that a protocol names must have a short form that stands by itself."""
    named = {use.sign for document in list_protocols(library) for use in document.value.warning_signs}
    for part in list_entries(library, "warning_signs"):
        if part.value.id in named and not part.value.short:
            yield part.problem((), "a leaf tells this sign, and it has no short form", "Add `short`.")


def find_too_little_to_tell(library: Library) -> Iterator[Problem]:
    """A short entry must name three to five things to tell whoever sees the hand; a protocol as many to do now."""
    for document in list_conditions(library):
        key = "now" if isinstance(document.value, Protocol) else "tell"
        told = getattr(document.value, key)
        if not FEWEST_TOLD <= len(told) <= MOST_TOLD:
            yield document.problem((key,), f"there must be {FEWEST_TOLD} to {MOST_TOLD} things here, not {len(told)}")


def find_words_that_no_leaf_uses(library: Library) -> Iterator[Problem]:
    """A short text must say fingertip, times, and fingers taped together, which readers understand."""
    for part, _, written in _list_briefs(library):
        for path, text in written:
            for words, better in _OTHER_WORDS.items():
                if found := re.search(words, text, re.IGNORECASE):
                    yield part.problem(path, f"readers do not know '{found.group()}'", f"Say: {better}.")
