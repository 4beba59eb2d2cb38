"""Reading: short sentences and common words, so that a worried climber of twelve can follow."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from fingerpost.checks.base.marks import take_out_marks
from fingerpost.checks.base.walk import walk_sentences_about_hands
from fingerpost.model.library import Library
from fingerpost.model.words import split_sentences
from fingerpost.problems import Problem

MOST_WORDS = 24
HARDEST_GRADE = 8.0
# A shorter text says too little for a grade.
FEWEST_WORDS = 20
_WORD = re.compile(r"[A-Za-z0-9'’-]+")
_VOWELS = re.compile(r"[aeiouy]+")


@lru_cache(maxsize=20_000)
def count_syllables(word: str) -> int:
    """About how many syllables a word has, from its groups of vowels."""
    plain = re.sub(r"[^a-z]", "", word.lower())
    groups = len(_VOWELS.findall(plain))
    silent = (plain.endswith("e") and not plain.endswith("le")) or re.search(r"[^aeiouydt]e[ds]$", plain)
    return max(groups - (1 if silent and groups > 1 else 0), 1)


@lru_cache(maxsize=20_000)
def grade_text(text: str) -> float:
    """The school grade by Flesch and Kincaid, 1975: 0.39 words a sentence + 11.8 syllables a word - 15.59."""
    sentences = [found for s in split_sentences(take_out_marks(text)) if (found := _WORD.findall(s))]
    words = [word for sentence in sentences for word in sentence]
    if not words:
        return 0.0
    syllables = sum(map(count_syllables, words))
    return round(0.39 * len(words) / len(sentences) + 11.8 * syllables / len(words) - 15.59, 2)


@lru_cache(maxsize=20_000)
def list_long_sentences(text: str) -> tuple[list[str], ...]:
    """The words of each sentence of a text that is too long."""
    sentences = (sentence.split() for sentence in split_sentences(take_out_marks(text)))
    return tuple(words for words in sentences if len(words) > MOST_WORDS)


def find_long_sentences(library: Library) -> Iterator[Problem]:
    """A sentence must have 24 words at the most."""
    for leaf in walk_sentences_about_hands(library):
        for words in list_long_sentences(leaf.text):
            message = f"a sentence of {len(words)} words must be cut: '{' '.join(words[:6])} …'"
            yield leaf.problem(message, f"{MOST_WORDS} words are the most.")


def find_hard_texts(library: Library) -> Iterator[Problem]:
    """A text of 20 words or more must be readable at school grade 8 or below."""
    for leaf in walk_sentences_about_hands(library):
        grade = grade_text(leaf.text) if len(leaf.text.split()) >= FEWEST_WORDS else 0.0
        if grade > HARDEST_GRADE:
            message = f"this reads at school grade {grade:.1f}; it must be {HARDEST_GRADE:.0f} or below"
            yield leaf.problem(message, "Cut sentences in two and choose common words.")
