"""Marks: how a text says where a figure is from, and which sentences hold a figure."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from fingerpost.checks.base.walk import REMEMBERED, Passage, Same, walk_texts
from fingerpost.model.audience import MARK
from fingerpost.model.library import Document

BRACKETS = re.compile(r"\[[^\]]*\]")

_NUMBER = (
    "half an|a quarter of an|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fifteen|twenty|thirty|forty"
    "|fifty|sixty|hundred|dozen"
)
_UNIT = "seconds?|minutes?|hours?|days?|nights?|weeks?|months?|years?"
_BETWEEN = rf"(?:[- ](?:or|to|and|a|half|whole|full|more|{_NUMBER}))*"
_SPELT = re.compile(
    rf"\b(?:{_NUMBER}){_BETWEEN}[- ](?:{_UNIT})\b"
    rf"|\b(?!one\b)(?:{_NUMBER})(?: \w+){{1,2}} (?:a|each|every|per) (?:{_UNIT})\b",
    re.IGNORECASE,
)
# What holds a digit and is a name: A2, S63.6, ICD-10, stage 3, under 18, 10.1055/s-0042.
_NAMES = re.compile(
    r"\b[A-Z]{1,3}\d+(?:\.\d+)?\b|\bICD-10\b|(?i:\bstages? \d(?:(?:, | and | or | to )\d)*\b|\bunder 18\b)"
    r"|\b10\.\d{4,}/\S+"
)
_DIGIT = re.compile(r"[0-9¼½¾]")


# The title of a code is the WHO's own, and some hold brackets. Places of exceptions hold numbers of list entries.
_BRACKETS_OF_THEIR_OWN = frozenset({"title", "path", "reason"})


@dataclass(frozen=True)
class Mark:
    """Where a figure is from: a source id, 'common-practice' or 'own'; and how far it was seen, if that is said."""

    name: str
    seen: str


def read_mark(text: str) -> Mark | None:
    """'lutter-2018 recalled' as a mark; None if it is none."""
    found = MARK.fullmatch(f"[{text}]")
    return Mark(found["name"], found["seen"] or "") if found else None


def _find_written(passage: Passage) -> Iterator[str]:
    if passage.field == "source":
        yield passage.text
    elif "[" in passage.text and passage.field not in _BRACKETS_OF_THEIR_OWN:
        yield from (" ".join(found.group()[1:-1].split()) for found in BRACKETS.finditer(passage.text))


@lru_cache(maxsize=REMEMBERED)
def _remember(same: Same) -> tuple[tuple[Passage, str], ...]:
    return tuple((passage, written) for passage in walk_texts(same.document) for written in _find_written(passage))


def list_written_marks(document: Document[Any]) -> tuple[tuple[Passage, str], ...]:
    """What stands in the square brackets of a file's texts, or under its keys `source`."""
    return _remember(Same(document))


def list_marks(document: Document[Any]) -> Iterator[tuple[Passage, Mark]]:
    """The marks of a file, those that can be read as marks."""
    for passage, written in list_written_marks(document):
        if mark := read_mark(written):
            yield passage, mark


@lru_cache(maxsize=20_000)
def take_out_marks(text: str) -> str:
    """The text without anything in square brackets."""
    return BRACKETS.sub("", text)


@lru_cache(maxsize=20_000)
def holds_a_figure(sentence: str) -> bool:
    """Whether a sentence holds a digit, or a number in words with a unit of time. Names such as A2 are no figures."""
    bare = _NAMES.sub("", take_out_marks(sentence))
    return bool(_DIGIT.search(bare) or _SPELT.search(bare))


def holds_a_mark(sentence: str) -> bool:
    """Whether a sentence says where it is from."""
    return any(read_mark(found.group()[1:-1]) for found in BRACKETS.finditer(sentence))
