"""Sayings: patterns that detectors look for. Each text is looked at once, however many cases print it."""

from __future__ import annotations

import re
from functools import lru_cache

from fingerpost.model.words import split_sentences

SAYINGS: dict[str, re.Pattern[str]] = {}


def saying(name: str, pattern: str, *, exact: bool = False) -> str:
    """Register a pattern under a name; `exact`: capital letters count."""
    assert name not in SAYINGS, name
    SAYINGS[name] = re.compile(pattern, 0 if exact else re.IGNORECASE)
    return name


@lru_cache(maxsize=200_000)
def find_sayings(text: str) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The sentences of a text that hold a saying, with the names of all that they hold."""
    found = []
    for sentence in split_sentences(text):
        names = tuple(name for name, pattern in SAYINGS.items() if pattern.search(sentence))
        if names:
            found.append((sentence, names))
    return tuple(found)
