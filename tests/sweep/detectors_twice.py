"""What one handout says twice, and what a reader of a follow-up does not need: reasons on its front."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import combinations
from typing import NamedTuple

from fingerpost.model.words import split_sentences
from sweep.leaves import BACK, FRONT, SIDES
from sweep.sayings import saying
from sweep.sheets import Line, Told

LEAST_ALIKE, LEAST_WITHIN = 3, 4
"""So many words that mean something are not said twice by chance: in two sentences alike, and as a part of a longer."""
LEAST_WORDS = 5
_MARK = re.compile(r"\s*\[[^\]]*\]")
_WORD = re.compile(r"[\w%-]+")
_SMALL = frozenset(
    [
        "a",
        "an",
        "and",
        "for",
        "in",
        "is",
        "it",
        "its",
        "of",
        "on",
        "or",
        "that",
        "the",
        "this",
        "to",
        "with",
        "you",
        "your",
    ]
)
_LABEL = re.compile(
    r"^(?:who|by when|emergency, now|the same day|within days|at the next chance|today): ", re.IGNORECASE
)
_UNTOLD = frozenset({"title", "under-title", "visit", "note", "sources", "words", "closing"})
"""Whose leaf it is, what the clinician wrote, and what explains."""
_SHOWN = frozenset({"alt", "drawn", "grip", "caption", "head", "heading"})

saying("a reason", r"\b(?:because|so that|therefore|which)\b|^so\b")
saying("a worse morning", r"\b(?:next morning|morning) is worse\b|\bworse on the next morning\b|\bworse morning\b")


class Said(NamedTuple):
    sentence: str
    line: Line
    words: frozenset[str]


@lru_cache(maxsize=200_000)
def _cut(text: str) -> tuple[tuple[str, frozenset[str]], ...]:
    """Each sentence of a text with its words that mean something."""
    bare = _LABEL.sub("", " ".join(_MARK.sub("", text).split()))
    found = []
    for sentence in split_sentences(bare):
        words = (word.lower().rstrip("s") for word in _WORD.findall(sentence))
        found.append((sentence, frozenset(word for word in words if word not in _SMALL)))
    return tuple(found)


def cut(lines: Iterable[Line]) -> Iterator[Said]:
    """The sentences of lines, but for whom to see: two signs may well lead to one doctor."""
    return (
        Said(sentence, line, words) for line in lines for sentence, words in _cut(line.text)[line.section == "who" :]
    )


def list_pairs_alike(said: Iterable[Said]) -> Iterator[tuple[Said, Said]]:
    """Two sentences with the same words, or one with all that the other says."""
    kept = [one for one in said if len(one.words) >= LEAST_ALIKE]
    for one, other in combinations(kept, 2):
        within = one.words <= other.words or other.words <= one.words
        if one.words == other.words or (within and min(len(one.words), len(other.words)) >= LEAST_WITHIN):
            yield one, other


def find_the_same_on_a_leaf(told: Told) -> Iterator[str]:
    """Nothing may stand twice on the two sides of a leaf, nor as a part of a longer sentence.

    What is done in one exercise is done in another, too: rows of the plan are not held against each other.
    """
    lines = (line for line in told.lines if line.sheet in (FRONT, BACK) and line.section not in _UNTOLD)
    said = cut(line for line in lines if line.kind not in _SHOWN)
    for one, other in list_pairs_alike(said):
        rows = one.line.section.startswith("exercise-") and other.line.section.startswith("exercise-")
        if not rows:
            yield f"{one.line.section}: {one.sentence} {other.line.section}: {other.sentence}"


def find_the_same_on_two_enclosures(told: Told) -> Iterator[str]:
    """A sentence must stand on one enclosure of a handout alone, and what a worse morning asks on one at most."""
    met: dict[str, Line] = {}
    for one in cut(line for line in told.lines if line.sheet > SIDES and line.section not in _UNTOLD):
        if one.line.kind not in _SHOWN and len(one.sentence.split()) >= LEAST_WORDS:
            first = met.setdefault(one.sentence, one.line)
            if first.sheet != one.line.sheet:
                yield f"{first.section}, {one.line.section}: {one.sentence}"
    mornings = {line.sheet for line, _ in told.says("a worse morning") if line.sheet > SIDES}
    if len(mornings) > 1:
        yield f"a worse morning on sheets {sorted(mornings)}"


def find_the_same_stop_in_two_exercises(told: Told) -> Iterator[str]:
    """When to stop must be said once for all exercises of a sheet, where they say it in the same words."""
    met: dict[str, str] = {}
    for one in cut(line for line in told.lines if line.sheet > SIDES and line.text.startswith("Stop if: ")):
        sentence = one.sentence.removeprefix("Stop if: ")
        if met.setdefault(sentence, one.line.section) != one.line.section:
            yield f"{met[sentence]}, {one.line.section}: {sentence}"


def find_reasons_on_a_follow_up(told: Told) -> Iterator[str]:
    """Whoever comes again must find on the front what to do, and no sentence that explains it."""
    if told.leaf and told.leaf.kind == "follow-up":
        said = told.says("a reason", but={"note"})
        yield from (s for line, s in said if line.sheet == FRONT and line.kind not in ("alt", "drawn"))
