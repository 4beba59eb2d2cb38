"""Find what printed a sentence: the phrases and texts that could have said the words that somebody read.

A phrase has gaps, and a text has marks: on paper both hold words that stand in no file. So words are laid over what is
written piece by piece, and a gap may stand for some of them. Signs between words, case and spaces do not count.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from fingerpost.checks.base.walk import Passage, list_documents, walk_prose
from fingerpost.files.telling import Name
from fingerpost.maintain.said_by import Namings, list_namings, list_sources
from fingerpost.model.audience import MARK
from fingerpost.model.library import Library
from fingerpost.model.shared import FOR_UPKEEP, Phrase
from fingerpost.model.words import split_sentences
from fingerpost.problems import ContentError, Place, Problem, write_path
from fingerpost.read.library import read_library

GAP = "{}"
_GAP = re.compile(rf"\{{\w+\}}|{MARK.pattern}")
_PIECE = re.compile(r"\{\}|\d+|[^\W\d_]+")
_UNSEEN = re.compile("[\u00ad\u200b-\u200d\u2060\ufeff]")
# How many words may stand in one gap, how many of a text must be met before a part of it counts, and how many are told.
_WIDEST, _ENOUGH, _MOST = 12, 4, 10


def list_words(text: str) -> list[str]:
    """The words and numbers of a text, without case, quotes, soft hyphens and other signs."""
    return [piece for piece in _PIECE.findall(_UNSEEN.sub("", text).casefold()) if piece != GAP]


def list_pieces(written: str) -> list[str]:
    """The words of a text as written, with GAP in the place of each gap and each mark."""
    return _PIECE.findall(_UNSEEN.sub("", _GAP.sub(f" {GAP} ", written)).casefold())


def lay_over(pieces: Sequence[str], words: Sequence[str]) -> tuple[int, ...]:
    """Which of the words a text says itself where both fit best: pieces that follow each other, gaps filled."""
    best: tuple[int, ...] = ()
    ends: dict[int, tuple[int, ...]] = {}  # where the piece before has ended -> the words met on the way
    for piece in pieces:
        now: dict[int, tuple[int, ...]] = {}
        if piece == GAP:
            for end, met in ends.items():
                for wider in range(end, min(end + _WIDEST, len(words)) + 1):
                    now[wider] = max(now.get(wider, ()), met, key=len)
        else:
            for at in (at for at, word in enumerate(words) if word == piece):
                now[at + 1] = (*ends.get(at, ()), at)
        best = max(best, *now.values(), key=len) if now else best
        ends = now
    return best


@dataclass(frozen=True)
class Saying:
    """A text that could have said some of the words: the numbers of those, and of how many words it has itself."""

    passage: Passage
    met: tuple[int, ...]
    of: int

    @property
    def entry(self) -> str:
        """The id of the entry that the text belongs to; '' in a protocol."""
        number = self.passage.path[0]
        return str(getattr(self.passage.document.value[number], "id", "")) if isinstance(number, int) else ""

    def counts(self, words: Sequence[str]) -> bool:
        """Whether this is more than a few words that many texts have in common."""
        numberless = [n for n, word in enumerate(words) if not word.isdigit()]  # numbers are what gaps mostly hold
        if len(self.met) == self.of:
            return self.of > 1 or self.met[0] == numberless[0]
        return len(self.met) >= min(len(numberless), _ENOUGH)


def find_sayings(library: Library, words: Sequence[str]) -> list[Saying]:
    """What could have said the words, what says the most of them first; what says only a part of that is left out."""
    known, numberless, found = set(words), {word for word in words if not word.isdigit()}, []
    for document in list_documents(library, FOR_UPKEEP):
        for passage in walk_prose(document) if document is not library.specimen else ():
            pieces = list_pieces(passage.text)
            own = sum(piece != GAP for piece in pieces)
            shared = known.intersection(pieces)
            if shared & numberless and len(shared) >= min(len({*pieces} - {GAP}), len(numberless), _ENOUGH):
                found.append(Saying(passage, lay_over(pieces, words), own))
    found = [saying for saying in found if saying.met and saying.counts(words)]
    found.sort(key=lambda saying: (-len(saying.met), saying.of, saying.passage.document.place(*saying.passage.path)))
    return [s for s in found if not any(set(s.met) < set(other.met) for other in found)]


def _say(saying: Saying, words: Sequence[str], namings: Namings) -> Iterator[str]:
    passage = saying.passage
    place = passage.document.place(*passage.path)
    is_phrase, below = passage.owner is Phrase, write_path(passage.path[1:])
    called = saying.entry if is_phrase else f"[{saying.entry}].{below}" if saying.entry else place.path
    yield f"{place.file}:{place.line}: {called}"
    sentences = split_sentences(" ".join(passage.text.split()))
    yield f"    {max(sentences, key=lambda s: len(lay_over(list_pieces(s), words)))}"
    if is_phrase and (users := namings.find(saying.entry)):
        yield f"    said by {', '.join(users[:4])}{' and others' if len(users) > 4 else ''}"


def say_where(text: str, folder: Path, project: Path, name: Name) -> str:
    """What could have said a text, in lines for a person. Raises ContentError where nothing could.

    A collection with problems is searched as far as it can be read.
    """
    words = list_words(text)
    if not words:
        raise ContentError([Problem(Place(text), "there is no word to look for", "Give some that were printed.")])
    library, problems = read_library(folder, name(folder))
    found = find_sayings(library, words)
    if not found:
        hint = (
            "Give fewer words, of one sentence, as they are printed. What is not here is in templates/ or generator/."
        )
        nothing = Problem(Place(name(folder)), "no phrase and no text could have said these words", hint)
        raise ContentError([*problems, nothing])
    namings = list_namings(list_sources(project))
    lines = [line for saying in found[:_MOST] for line in _say(saying, words, namings)]
    more = len(found) - _MOST
    return "\n".join([*lines, f"and {more} more; more words find fewer"] if more > 0 else lines)
