"""Words and questions: none that the sheets have answered, none that nobody reads."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import lru_cache

from fingerpost.model.shared import Term
from sweep.sayings import saying
from sweep.sheets import Told

saying("less pain rule", r"\bgo on with less\b|\brest a day or two\b|\brest, do less\b")
saying("asks", r"\b[Aa]sk\b")
saying("may stay out", r"\byou need no splint\b|\bif it does, you need no\b")
saying("a load", r"\bstart with [\d.]+ (?:kg|lb)\b")
saying("counted from", r"\bcounted from your\b")
saying("no splint", r"\bneeds? no splint\b|\bno splint\b|\bsplint is seldom needed\b")
saying("a ring told", r"\bwear the (?:moulded )?ring\b|\bmakes? a moulded ring\b|\brests in a splint\b")
saying("worse morning told", r"\bif it is worse\b|\bis worse the next morning\b|\bback the next morning\b")
saying("routes told", r"\b\d+ routes\b")
saying("tape told at all", r"\bno tape in this stage\b|\bdo not use tape\b")

Answered = Callable[[Told], bool]


def _says(*names: str) -> Answered:
    return lambda told: any(True for name in names for _ in told.says(name, but={"words", "sources", "questions"}))


def _shows(prefix: str) -> Answered:
    return lambda told: any(s.startswith(prefix) for s in told.sections)


def _either(*checks: Answered) -> Answered:
    return lambda told: any(check(told) for check in checks)


def _place_settled(told: Told) -> bool:
    """A clinician has named the place; where a doctor has yet to look, it may be another."""
    return told.facts.hold in ("", "surgeon")


def _side_known(told: Told) -> bool:
    return told.facts.case.side is not None


def _graded(told: Told) -> bool:
    return told.facts.grade.id != "any"


def _visit_set(told: Told) -> bool:
    return bool(told.facts.case.review_date)


def _cleared(told: Told) -> bool:
    return bool(told.facts.case.doctor_cleared)


QUESTIONS: tuple[tuple[str, Answered], ...] = (
    (r"\bwhich (?:pulley|tendon|joint) is it\b", _place_settled),
    (r"\bis it the muscle, the deep tendon\b", _place_settled),
    (r"\bwhich side is hurt\b", _side_known),
    (r"\bwhich meaning of grade\b|\bwhich grade is it\b|\bhow much of it has torn\b", _graded),
    (r"\bwhich date should i count from\b", _says("counted from")),
    (r"\bwhen do you want to see me again\b|\bwhen will you look at it again\b", _visit_set),
    (r"\bwhich finger should i tape\b", _says("buddy pair", "tape told at all")),
    (r"\bdo i need (?:any )?tape\b", _either(_shows("tape-"), _says("tape told at all"))),
    (r"\buntil when\?|\bfor how long in daily life and in sport\b", _says("tape until")),
    (r"\bwhich (?:grips|holds) (?:may|should) i (?:use|leave)\b", _shows("grips")),
    (r"\bdo i need a moulded ring\b", _either(_says("no splint", "a ring told"), _shows("tape-pulley-ring"))),
    (r"\bdo i need a splint\b", _either(_says("no splint"), _shows("tape-extension"))),
    (r"\bwhen may i take the splint off\b", _says("no splint")),
    (r"\bhow much (?:may|can) i climb this week\b", _says("routes told")),
    (r"\bon the morning after a session that was too much\b", _says("worse morning told")),
    (r"\bwho clears me\b", _cleared),
)
"""Questions, and when the sheets have answered them."""

ASKED: tuple[tuple[str, Answered], ...] = (
    (r"\bask (?:for|if you need) a splint\b", _shows("tape-extension-splint")),
    (r"\bask for one about\b|\bask for (?:a|your next) visit\b", _visit_set),
    (r"\bask (?:which|what) (?:date|day)\b", _says("counted from")),
    (r"\bask (?:which|what) grips\b", _shows("grips")),
    (r"\bask your clinician for (?:a soft strap|soft loops)\b", _shows("tape-loop")),
)
"""What a sentence sends the reader to ask for, and when it is printed already."""


@lru_cache(maxsize=20_000)
def _matching(kind: str, text: str) -> tuple[int, ...]:
    rules = QUESTIONS if kind == "questions" else ASKED
    return tuple(n for n, (pattern, _) in enumerate(rules) if re.search(pattern, text, re.IGNORECASE))


def find_questions_that_the_sheet_has_answered(told: Told) -> Iterator[str]:
    """A reader must not be sent to ask what their own sheets tell."""
    for line in told.section("questions"):
        if any(QUESTIONS[n][1](told) for n in _matching("questions", line.text)):
            yield line.text


def find_asking_for_what_is_printed(told: Told) -> Iterator[str]:
    """No sentence may say "ask for" something that the same set of sheets prints."""
    for _, sentence in told.says("asks", but={"questions", "sources", "words"}):
        if any(ASKED[n][1](told) for n in _matching("asked", sentence)):
            yield sentence
    for line, sentence in told.says("a load"):
        asked = [s for other, s in told.says("asks", only=(line.section,)) if "load" in s]
        yield from (f"{sentence} / {s}" for s in asked)


def find_words_that_nobody_reads(told: Told) -> Iterator[str]:
    """The word list must not explain a word that stands nowhere else on the sheets."""
    explained = [line.text.partition(":")[0] for line in told.section("words") if line.kind == "item"]
    if not explained:
        return
    whole = f" {' '.join(line.text for line in told.lines if line.section != 'words')} ".lower()
    names = _names(told.facts.library.vocabularies.terms)
    for term in explained:
        if not any(_stands_in(name, whole) for name in names.get(term, (term.lower(),))):
            yield term


@lru_cache(maxsize=4)
def _names(terms: tuple[Term, ...]) -> dict[str, tuple[str, ...]]:
    return {t.term: tuple(name.lower() for name in (t.term, *t.also_called)) for t in terms}


def _stands_in(name: str, whole: str) -> bool:
    """Whether a word or its plural stands in small letters between blanks or signs."""
    at = whole.find(name)
    while at >= 0:
        end = at + len(name)
        after = whole[end + 1] if whole[end] == "s" else whole[end]
        if not whole[at - 1].isalnum() and not after.isalnum():
            return True
        at = whole.find(name, at + 1)
    return False


def find_pain_rules_that_allow_less(told: Told) -> Iterator[str]:
    """Where no pain at all is allowed, or nothing is to be done, nobody may read to go on with less."""
    stage = told.facts.stage
    if stage.pain.most == 0 or (told.facts.leaves_all and not stage.exercises):
        yield from (f"{line.section}: {s}" for line, s in told.says("less pain rule", but={"words", "sources"}))
