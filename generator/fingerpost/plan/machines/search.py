"""What the search of the site knows: each page with its names, what people type for it, and what it says."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from fingerpost.model.audience import EVERYBODY, Told
from fingerpost.model.library import Library
from fingerpost.model.protocol import Condition, Referral
from fingerpost.model.words import split_sentences
from fingerpost.plan.base.addresses import address_of
from fingerpost.plan.base.blocks import Page
from fingerpost.plan.base.paper import Findable, Search
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.visible import list_words

LONGEST = 150
"""How many letters of what a page says first a result shows, in whole sentences."""

# What a reader has comes first, then what helps with any injury, then what keeps the collection. A page that tells two
# apart has the names of both, and one for coaches that of its injury: they must not stand before the injury itself.
_RANKS = {
    **dict.fromkeys(("protocol", "referral"), 3),
    **dict.fromkeys(("sources", "about"), 1),
    **dict.fromkeys(("standards", "changed", "data"), 0),
    **dict.fromkeys(("apart-pair", "coach"), -2),
}
_OTHER_RANK = 2
# Found by their names alone: they say again what stands elsewhere, or are nothing to read.
_NAMES_ALONE = frozenset({"apart-pair", "coach", "standards", "changed", "data", "desk"})
# Pages whose parts are things of their own, each looked for by its name.
_OF_PARTS = frozenset({"grips", "tapings", "exercises", "gates", "tests", "words"})
_NO_THING = frozenset({"sources", "table", "loads", "spared", "measure"})


def plan_search(library: Library, pages: Iterable[Page]) -> Search:
    """The index of the search over `pages`, in their order."""
    conditions = {address_of(condition.id): condition for condition in library.conditions}
    listed = library.vocabularies.search_words
    return Search(
        pages=tuple(_plan_page(library, page, conditions.get(page.address)) for page in pages),
        same=tuple((typed, entry.means) for entry in listed if entry.means for typed in entry.typed),
    )


def _plan_page(library: Library, page: Page, condition: Condition | None) -> Findable:
    whole = page.kind not in _NAMES_ALONE
    says = _say_first(library, condition) if condition else page.description
    text = " ".join(plain(words) for words in list_words((page.lead, page.sections))) if whole else ""
    called = tuple(dict.fromkeys((condition.trade_name, *condition.also_called))) if condition else ()
    return Findable(
        address=page.address,
        title=page.title,
        called=called,
        says=says,
        typed=tuple(_list_typed(library, page, condition)),
        parts=tuple((s.heading, s.id) for s in page.sections if s.id not in _NO_THING) if _has_parts(page) else (),
        opening=" ".join((page.description, *(_everybody(condition.summary) if condition else ()))),
        text=text,
        rank=_RANKS.get(page.kind, _OTHER_RANK),
    )


def _has_parts(page: Page) -> bool:
    return page.kind in _OF_PARTS


def _list_typed(library: Library, page: Page, condition: Condition | None) -> Iterator[str]:
    own = page.address.rstrip("/") or "start"
    for entry in library.vocabularies.search_words:
        if own in entry.pages or (condition and condition.id in entry.conditions):
            yield from entry.typed


def _everybody(told: Told) -> Iterator[str]:
    """The pieces that are for every reader."""
    return (" ".join(piece.says.split()) for piece in told if piece.for_ == EVERYBODY)


def _say_first(library: Library, condition: Condition) -> str:
    """Whole sentences of what a condition is; before them, in a short entry, what to do today."""
    writer = Writer(library)
    verdict = _everybody(condition.verdict) if isinstance(condition, Referral) else ()
    first = [f"{says.rstrip('.')}." for says in verdict]
    told = " ".join(_everybody(condition.summary))
    for sentence in split_sentences("".join(run.text for run in writer.words(told) if run.kind != "mark")):
        if first and len(" ".join((*first, sentence))) > LONGEST:
            break
        first.append(sentence)
    return " ".join(first)
