"""Words and questions: none that the sheets have answered, none that nobody reads."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import lru_cache

from sweep.sayings import saying
from sweep.sheets import Told

saying("less pain rule", r"\bgo on with less\b|\brest a day or two\b")
saying("asks", r"\b[Aa]sk\b")
saying("may stay out", r"\byou need no splint\b|\bif it does, you need no\b")
saying("a load", r"\bstart with [\d.]+ kg\b")
saying("counted from", r"\bcounted from your\b")
saying("no splint", r"\bneeds? no splint\b|\bno splint\b|\bsplint is seldom needed\b")
saying(
    "a splint told",
    r"\brests in a splint\b|\bwear the moulded ring\b|\bmakes a (?:moulded ring|splint)\b|\bkeep the splint on\b",
)
saying("worse morning told", r"\bif it is worse\b|\bis worse the next morning\b|\bback the next morning\b")
saying("routes told", r"\b\d+ routes\b")
saying("cleared", r"\ba doctor cleared\b")
saying("tape told at all", r"\bno tape in this stage\b|\bdo not use tape\b")

Answered = Callable[[Told], bool]


def _says(*names: str) -> Answered:
    return lambda told: any(True for name in names for _ in told.says(name, but={"words", "sources", "questions"}))


def _shows(prefix: str) -> Answered:
    return lambda told: any(s.startswith(prefix) for s in told.sections)


def _grips_listed(told: Told) -> bool:
    return "grips" in told.sections


def _either(*checks: Answered) -> Answered:
    return lambda told: any(check(told) for check in checks)


def _always(told: Told) -> bool:
    return True


QUESTIONS: tuple[tuple[str, Answered], ...] = (
    (r"\bwhich (?:pulley|lumbrical|tendon|joint) is it\b", _always),
    (r"\bis it the (?:muscle|joint itself|sheath|growth plate)\b", _always),
    (r"\bwhich side is hurt\b", lambda told: told.facts.case.side is not None),
    (r"\bwhich meaning of grade\b|\bwhich grade is it\b|\bhow much of it has torn\b", lambda t: t.facts.grade.id != "any"),
    (r"\bwhich date should i count from\b", _says("counted from")),
    (r"\bwhen do you want to see me again\b|\bwhen will you look at it again\b", lambda t: bool(t.facts.case.review_date)),
    (r"\bwhich finger should i tape\b|\bto which finger should i tape\b", _says("buddy pair", "tape told at all")),
    (r"\bdo i need (?:any )?tape\b", _either(_shows("tape-"), _says("tape told at all"))),
    (r"\buntil when\?|\bfor how long in daily life and in sport\b", _says("tape until")),
    (r"\bwhich (?:grips|holds) (?:may|should) i (?:use|leave)\b|\bwhich grips may i\b", _grips_listed),
    (r"\bdo i need a (?:moulded ring|splint)\b", _either(_says("no splint", "a splint told"), _shows("tape-pulley-ring"), _shows("tape-extension"))),
    (r"\bwhen may i take the splint off\b", _says("no splint")),
    (r"\bhow much (?:may|can) i climb this week\b", _says("routes told")),
    (r"\bon the morning after a session that was too much\b", _says("worse morning told")),
    (r"\bwho clears me\b", lambda told: bool(told.facts.case.doctor_cleared)),
)  # fmt: skip
"""Questions, and when the sheets have answered them."""

ASKED: tuple[tuple[str, Answered], ...] = (
    (r"\bask (?:your clinician )?for your load\b", lambda told: False),
    (r"\bask for a splint\b", _shows("tape-extension-splint")),
    (r"\bask if you need a splint\b", _shows("tape-extension-splint")),
    (r"\bask how long to wear it\b", lambda told: False),
    (r"\bask (?:for|when) (?:a |your )?(?:next )?visit\b", lambda told: bool(told.facts.case.review_date)),
    (r"\bask (?:which|what) date\b", _says("counted from")),
    (r"\bask (?:which|what) grips\b", _grips_listed),
    (r"\bask (?:your clinician )?which neighbour\b", _says("buddy pair")),
    (r"\bask your clinician for a soft strap\b", _shows("tape-loop")),
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
    for line, sentence in told.says("asks", but={"questions", "sources", "words"}):
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
    whole = " ".join(line.text for line in told.lines if line.section != "words").lower()
    names = {t.term: (t.term, *t.also_called) for t in told.facts.library.vocabularies.terms}
    for term in explained:
        if not any(_term(name).search(whole) for name in names.get(term, (term,))):
            yield term


@lru_cache(maxsize=2000)
def _term(name: str) -> re.Pattern[str]:
    return re.compile(rf"(?<![a-z0-9]){re.escape(name.lower())}(?:s|es)?(?![a-z0-9])")


def find_pain_rules_that_allow_less(told: Told) -> Iterator[str]:
    """Where no pain at all is allowed, nobody may read to go on with less: any pain means stop, and the doctor."""
    if told.facts.stage.pain.most == 0:
        yield from (f"{line.section}: {s}" for line, s in told.says("less pain rule", but={"words", "sources"}))
