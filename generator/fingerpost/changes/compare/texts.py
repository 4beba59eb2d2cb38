"""Two versions of a text: is it the same said otherwise, or does it say something else?"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from fingerpost.changes.compare.cited import list_marks, new_source
from fingerpost.changes.compare.difference import Difference, Lean
from fingerpost.changes.compare.pairs import is_reordered, pair_alike
from fingerpost.model.audience import MARK
from fingerpost.model.words import split_sentences

_WORD = re.compile(r"[\w'’]+(?:[.,]\d+)*")
_FIGURE = re.compile(
    r"\d.*|[a-z]\d+|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|half|once|twice|daily|weekly|both|none"
    r"|(?:second|minute|hour|day|night|week|month|year)s?"
)
# Words that carry caution or permission, and what is done with a hand: where one comes, goes or moves, a sentence may
# turn round.
_GUARD = frozenset(
    """
    no not never nobody nothing without cannot don't doesn't only until before after unless if first last stop leave
    avoid rest wait must may can should could see doctor surgeon therapist clinician emergency urgent same sooner later
    more less most least all any every some pain painless free allowed fine safe soon slowly lightly gently easy hard
    full open closed always again crimp drag pocket pockets sloper slopers pinch undercling crack cracks jug jugs hold
    holds hang hangs hanging climb climbing pull pulls pulling push load twist splint tape ring painkillers
    """.split()  # noqa: SIM905
)
LONGEST = 160


def flat(text: str) -> str:
    """A text as one line."""
    return " ".join(text.split())


def bare(text: str) -> str:
    """A text as one line without its marks."""
    return MARK.sub("", flat(text))


def _words(text: str) -> list[str]:
    return [word.lower().replace("’", "'") for word in _WORD.findall(bare(text))]


def _weight(text: str) -> list[str]:
    """The words of a text that may turn its meaning, in order: figures, words of caution or permission, deeds."""
    return [w for w in _words(text) if w in _GUARD or _FIGURE.fullmatch(w)]


def quote(text: str) -> str:
    """A text in quotes, its end left out where it is long."""
    line = flat(text)
    return f"“{line}”" if len(line) <= LONGEST else f"“{line[:LONGEST].rsplit(' ', 1)[0]} …”"


def _compare_sentence(old: str, new: str) -> Difference:
    """A sentence that changed: its lean is for a reviewer where a figure or a word of caution comes or goes."""
    lean: Lean = "wording" if _weight(old) == _weight(new) else "to-judge"
    if _words(old) == _words(new):
        lean = "wording" if list_marks(old) == list_marks(new) else "to-judge"
    return Difference(lean=lean, what=f"{quote(old)} is now {quote(new)}", source=_source(old, new))


def _source(old: str, new: str) -> str:
    return new_source(list_marks(old), list_marks(new))


def compare_text(old: str, new: str, guards: bool = False) -> Iterator[Difference]:
    """What changed, sentence by sentence. `guards`: each sentence holds somebody back, so one less is less care."""
    if flat(old) == flat(new):
        return
    before, now = split_sentences(old), split_sentences(new)
    for pair in pair_alike(before, now):
        if pair.old is not None and pair.new is not None:
            if pair.old != pair.new:
                yield _compare_sentence(pair.old, pair.new)
        elif pair.new is not None:
            added: Lean = "more-cautious" if guards else "to-judge" if _weight(pair.new) else "wording"
            yield Difference(lean=added, what=f"it now also says {quote(pair.new)}", source=_source("", pair.new))
        elif pair.old is not None:
            gone: Lean = "less-cautious" if guards else "to-judge" if _weight(pair.old) else "wording"
            yield Difference(lean=gone, what=f"it no longer says {quote(pair.old)}")
    if is_reordered(before, now):
        yield Difference(lean="wording", what="sentences stand in another order")


def compare_line(old: str | None, new: str | None) -> Iterator[Difference]:
    """A name, a label or another short text as a whole."""
    if old and new and flat(old) != flat(new):
        lean: Lean = "wording" if _weight(old) == _weight(new) else "to-judge"
        yield Difference(lean=lean, what=f"{quote(old)} is now {quote(new)}")
    elif old and not new:
        yield Difference(lean="to-judge", what=f"{quote(old)} is gone")
    elif new and not old:
        yield Difference(lean="to-judge", what=f"it is now {quote(new)}")


def compare_texts(old: Sequence[str], new: Sequence[str], guards: bool = False) -> Iterator[Difference]:
    """A list of texts without ids."""
    for pair in pair_alike([flat(t) for t in old], [flat(t) for t in new]):
        path = (pair.number,) if pair.number >= 0 else ()
        if pair.old is None and pair.new is not None:
            lean: Lean = "more-cautious" if guards else "to-judge" if _weight(pair.new) else "wording"
            what = f"new: {quote(pair.new)}"
            yield Difference(lean=lean, what=what, path=path, source=_source("", pair.new))
        elif pair.new is None and pair.old is not None:
            lean = "less-cautious" if guards else "to-judge" if _weight(pair.old) else "wording"
            yield Difference(lean=lean, what=f"gone: {quote(pair.old)}")
        elif pair.old and pair.new:
            for found in compare_text(pair.old, pair.new, guards):
                yield Difference(lean=found.lean, what=found.what, path=path, source=found.source)
    if is_reordered([flat(t) for t in old], [flat(t) for t in new]):
        yield Difference(lean="wording", what="the same in another order")
