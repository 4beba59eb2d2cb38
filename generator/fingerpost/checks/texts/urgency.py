"""How soon: a sign has one urgency, which stands in warning_signs.yml, and whatever tells the sign tells no other."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache

from fingerpost.checks.base.marks import take_out_marks
from fingerpost.checks.base.walk import (
    REMEMBERED,
    Part,
    Passage,
    Same,
    list_conditions,
    list_documents,
    list_entries,
    list_protocols,
    read_all,
    walk_parts,
    walk_prose,
)
from fingerpost.model.audience import flat
from fingerpost.model.library import Library
from fingerpost.model.protocol import Notice, Seek
from fingerpost.model.shared import Sign, Source, StandardItem, Term, Test, WarningSign
from fingerpost.model.words import URGENCIES, URGENT, Id, Urgency, split_sentences
from fingerpost.problems import Problem

# Who can help, and how soon, as sentences say it. A time without anybody to see ("stop climbing today") is none.
_WHO = r"(?:doctor|hospital|clinic(?:ian)?\b|surgeon|therapist|physio|department|X-ray|scan|help\b|seen\b)"
_SOON: dict[Urgency, str] = {
    "emergency": r"(?:\bnow\b|\bat once\b|\bimmediately\b|\bstraight away\b|\bright away\b)",
    "same-day": r"(?:\bsame day\b|\btoday\b|\btonight\b|\btomorrow\b)",
    "within-days": r"(?:\b(?:with)?in (?:[\w-]+ ){0,3}days\b|\bsame week\b|\bthis week\b)",
    "routine": r"(?:\bnext chance\b)",
}
_SAYS = {
    level: re.compile(rf"{_WHO}.*{soon}|{soon}.*{_WHO}", re.IGNORECASE | re.DOTALL) for level, soon in _SOON.items()
}
_EMERGENCY = re.compile(
    r"\bemergency (?:department|number|help|care)|\ban emergency\b|\bemergency, now\b", re.IGNORECASE
)
# Every sentence that says who should see somebody, and how soon, holds one of each, in whatever case.
_TRACES = (
    ("now", "once", "immediately", "away", "day", "tonight", "tomorrow", "week", "chance"),
    ("doctor", "hospital", "clinic", "surgeon", "therapist", "physio", "department", "x-ray", "scan", "help", "seen"),
)
# What says how soon by itself, and is held by rules of its own; and what only names or explains.
_APART = frozenset({WarningSign, Seek, Sign, Source, StandardItem, Term, Notice})

_HINT = "One sign has one urgency, which stands in shared/warning_signs.yml: say the same here."


@lru_cache(maxsize=20_000)
def list_levels(sentence: str, place: bool = False) -> frozenset[Urgency]:
    """How soon a sentence says that somebody should be seen. `place`: an emergency department alone says no time."""
    bare = take_out_marks(sentence)
    found = {level for level, pattern in _SAYS.items() if pattern.search(bare)}
    return frozenset(found | ({"emergency"} if not place and _EMERGENCY.search(bare) else set()))


def _fold(text: str) -> str | None:
    """A text in which traces of what a pattern matches in any case can be looked for, which takes far less time.

    None where a trace that is missing says nothing: patterns take two more letters for an i.
    """
    low = text.casefold()
    return None if "\u0131" in low or "\u0307" in low else low


def _may_say_when(text: str) -> bool:
    """Whether a text is worth looking for how soon it says: few are. A mark may stand in the middle of a word."""
    low = _fold(text)
    if low is None or low.count("[") != low.count(" ["):
        return True
    return "emergency" in low or all(any(map(low.__contains__, traces)) for traces in _TRACES)


@cache
def _begin(word: str) -> tuple[str, re.Pattern[str]]:
    """What a text holds in which a word begins, and the pattern that finds it."""
    return _fold(word) or "", re.compile(rf"\b{re.escape(word)}", re.IGNORECASE)


def list_meanings(library: Library, text: str) -> dict[str, set[Urgency]]:
    """The words of warning signs that stand in a text, each with the urgencies of the signs that it can mean."""
    flat, found = " ".join(text.split()), dict[str, set[Urgency]]()
    low = _fold(flat)
    for warning in library.vocabularies.warning_signs:
        for word in warning.words:
            trace, pattern = _begin(word)
            if (low is None or trace in low) and pattern.search(flat):
                found.setdefault(word, set()).add(warning.urgency)
    return found


def _index(library: Library) -> dict[Id, WarningSign]:
    return {warning.id: warning for warning in library.vocabularies.warning_signs}


def find_signs_with_two_urgencies(library: Library) -> Iterator[Problem]:
    """A sign must not be named by warning signs of different urgency."""
    first: dict[Id, WarningSign] = {}
    for part in list_entries(library, "warning_signs"):
        warning = part.value
        for number, sign in enumerate(warning.signs):
            other = first.setdefault(sign, warning)
            if other.urgency != warning.urgency:
                message = f"'{sign}' is '{warning.urgency}' here and '{other.urgency}' in '{other.id}'"
                hint = "Split the sign in signs.yml, so that an answer means one thing, or choose the more cautious."
                yield part.problem(("signs", number), message, hint)


def find_help_at_another_pace(library: Library) -> Iterator[Problem]:
    """What has to be seen must be as urgent as each warning sign that it names."""
    known = _index(library)
    for document in list_conditions(library):
        for number, seek in enumerate(document.value.see_somebody):
            for named in (known[id] for id in seek.warning_signs if id in known):
                if named.urgency != seek.urgency:
                    message = f"'{seek.urgency}' must be '{named.urgency}', as the warning sign '{named.id}' is"
                    hint = (
                        "The urgency of a sign stands in shared/warning_signs.yml. Where it differs, cut this in two."
                    )
                    yield document.problem(("see_somebody", number, "urgency"), message, hint)


def find_warnings_told_without_their_name(library: Library) -> Iterator[Problem]:
    """What has to be seen must name the warning sign that its words tell."""
    for document in list_conditions(library):
        for number, seek in enumerate(document.value.see_somebody):
            words = () if seek.warning_signs else list_meanings(library, seek.when)
            if words:
                message = f"'{next(iter(words))}' tells a warning sign that is not named here"
                hint = "Add its id under warning_signs, or use other words if it is none."
                yield document.problem(("see_somebody", number, "when"), message, hint)


def find_tests_that_hurry_without_a_name(library: Library) -> Iterator[Problem]:
    """A test that finds a warning sign and says how soon to be seen must name that sign."""
    for part in list_entries(library, "tests"):
        test = part.value
        soon = any(map(list_levels, split_sentences(test.positive)))
        words = () if test.warning_signs else list_meanings(library, test.positive)
        if soon and words:
            message = f"'{next(iter(words))}' tells a warning sign that is not named here"
            yield part.problem(("positive",), message, "Add its id under warning_signs.")


def find_usual_warnings_without_help(library: Library) -> Iterator[Problem]:
    """Each warning sign that is usual in a condition must be named under see_somebody, unless all there is urgent."""
    if not read_all(library):
        return
    for document in list_conditions(library):
        condition = document.value
        named = {id for seek in condition.see_somebody for id in seek.warning_signs}
        never_waits = all(seek.urgency in URGENT for seek in condition.see_somebody)
        for sign in condition.signs.usual:
            told = (w for w in library.vocabularies.warning_signs if sign in w.signs)
            warnings = [w.id for w in told if w.urgency in URGENT or not never_waits]
            if warnings and not named & set(warnings):
                message = f"'{sign}' is usual here, and nobody is named to see '{warnings[0]}'"
                hint = f"Add an entry with warning_signs: [{warnings[0]}]."
                yield document.problem(("see_somebody",), message, hint)


def find_emergencies_without_a_place(library: Library) -> Iterator[Problem]:
    """An emergency must name the emergency department or number, so that nobody waits for a doctor."""
    for part in list_entries(library, "warning_signs"):
        if part.value.urgency == "emergency" and not _EMERGENCY.search(flat(part.value.do)):
            yield part.problem(
                ("do",), "an emergency must say where to go", "Write: Go to an emergency department now."
            )
    for document in list_conditions(library):
        for number, seek in enumerate(document.value.see_somebody):
            if seek.urgency == "emergency" and not _EMERGENCY.search(seek.whom):
                hint = "Write: Emergency department."
                yield document.problem(("see_somebody", number, "whom"), "an emergency must say where to go", hint)


@lru_cache(maxsize=REMEMBERED)
def _remember_hurried(same: Same) -> tuple[Passage, ...]:
    """The texts of a file that may say how soon, and have no urgency of their own."""
    passages = (passage for passage in walk_prose(same.document) if passage.owner not in _APART)
    return tuple(passage for passage in passages if _may_say_when(passage.text))


def find_hurry_that_contradicts(library: Library) -> Iterator[Problem]:
    """What a text says of how soon must agree with its own urgency, or with the warning signs that it tells."""
    known = _index(library)
    for document in list_documents(library):
        for part in walk_parts(document):
            value = part.value
            if isinstance(value, WarningSign):
                yield from _compare(part, "do", {value.urgency})
            elif isinstance(value, Seek):
                yield from _compare(part, "when", {value.urgency})
                yield from _compare(part, "whom", {value.urgency}, place=True)
            elif isinstance(value, Test) and value.warning_signs:
                yield from _compare(part, "positive", {known[i].urgency for i in value.warning_signs if i in known})
        for passage in _remember_hurried(Same(document)):
            yield from _find_in_prose(library, passage)


def _compare(part: Part, field: str, allowed: set[Urgency], place: bool = False) -> Iterator[Problem]:
    """Sentences of one text that say another time than is allowed."""
    written = getattr(part.value, field)
    for sentence in split_sentences(flat(written) if isinstance(written, tuple) else written):
        for level in sorted(list_levels(sentence, place) - allowed):
            message = f"this says '{level}', and must be {_or(allowed)}: '{sentence}'"
            yield part.problem((field,), message, _HINT)


def _find_in_prose(library: Library, passage: Passage) -> Iterator[Problem]:
    """Sentences that tell a warning sign and how soon in one breath."""
    for sentence in split_sentences(passage.text):
        for level in sorted(list_levels(sentence)):
            for word, meant in list_meanings(library, sentence).items():
                if level not in meant:
                    message = f"'{word}' is {_or(meant)}, and this says '{level}': '{sentence}'"
                    yield passage.problem(message, _HINT)


def _or(levels: set[Urgency]) -> str:
    return " or ".join(f"'{level}'" for level in URGENCIES if level in levels)


def find_notices_that_say_no_time(library: Library) -> Iterator[Problem]:
    """A notice must say who sees the finger and how soon, no later than under see_somebody."""
    for document in list_protocols(library):
        protocol = document.value
        if protocol.notice is None:
            continue
        calm = next((s.urgency for s in protocol.see_somebody if s.urgency not in URGENT), "within-days")
        told = {level for line in protocol.notice.do for level in list_levels(line)}
        if not any(URGENCIES.index(level) <= URGENCIES.index(calm) for level in told):
            message = f"no line says who sees it and how soon; under see_somebody it is '{calm}'"
            yield document.problem(("notice", "do"), message, "Write for example: Doctor within days.")
