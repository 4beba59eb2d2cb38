"""Two collections compared: what changed in each condition and shared entry, and which way the whole leans."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from fingerpost.changes.compare.conditions import compare_condition
from fingerpost.changes.compare.difference import Difference, Lean, weigh_all
from fingerpost.changes.compare.pairs import pair_by
from fingerpost.changes.compare.shared import compare_vocabularies
from fingerpost.changes.renames import CONDITIONS, Renames, find_renames, follow_library
from fingerpost.model.grammar import fields_of
from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import Condition, Protocol
from fingerpost.model.shared import Vocabularies


@dataclass(frozen=True, kw_only=True)
class Subject:
    """A condition or a shared entry with what is otherwise in it. `file` is where it stands now, or stood."""

    about: str
    title: str
    file: str
    differences: tuple[Difference, ...]

    @property
    def lean(self) -> Lean | None:
        return weigh_all(d.lean for d in self.differences)


@dataclass(frozen=True)
class Comparison:
    """All that is otherwise, in file order, with both collections; `old` with today's ids."""

    old: Library
    new: Library
    renames: Renames
    subjects: tuple[Subject, ...]

    @property
    def differences(self) -> tuple[Difference, ...]:
        return tuple(d for s in self.subjects for d in s.differences)

    @property
    def lean(self) -> Lean | None:
        return weigh_all(d.lean for d in self.differences)


def _list_documents(library: Library) -> tuple[Document[Any], ...]:
    return (*library.protocols, *library.referrals)


def _came(condition: Condition) -> Difference:
    kind = "protocol" if isinstance(condition, Protocol) else "short entry"
    return Difference(lean="to-judge", what=f"new {kind}: {condition.plain_name}", about=condition.id)


def _went(condition: Condition, library: Library) -> Difference:
    now = next((r.now for r in library.vocabularies.retired if r.id == condition.id), "")
    if now:
        what = f"gone; its readers are led to {now}"
        return Difference(lean="to-judge", what=what, about=condition.id)
    return Difference(lean="less-cautious", what="gone, and nothing leads its readers on", about=condition.id)


def _compare_conditions(old: Library, new: Library, renames: Renames) -> Iterator[Subject]:
    loaded = {e.id for library in (old, new) for e in library.vocabularies.exercises if e.loaded}
    former = {now: was for (sort, was), now in renames.items() if sort == CONDITIONS}
    for pair in pair_by(lambda document: document.value.id, _list_documents(old), _list_documents(new)):
        document = pair.new or pair.old
        assert document is not None
        found: list[Difference] = []
        if pair.old and pair.new:
            found += compare_condition(pair.old.value, pair.new.value, loaded.__contains__)
            if was := former.get(pair.new.value.id):
                what = f"its id is {pair.new.value.id} now, was {was}"
                found.insert(0, Difference(lean="wording", what=what, about=pair.new.value.id))
        else:
            found.append(_came(document.value) if pair.new else _went(document.value, new))
        if found:
            yield _subject(document.value.id, document.value.plain_name, document.file, found)


def _subject(about: str, title: str, file: str, found: list[Difference]) -> Subject:
    return Subject(about=about, title=title, file=file, differences=tuple(found))


def _compare_shared(old: Library, new: Library) -> Iterator[Subject]:
    by_subject: dict[str, list[Difference]] = {}
    for difference in compare_vocabularies(old.vocabularies, new.vocabularies):
        by_subject.setdefault(difference.about, []).append(difference)
    for about, found in by_subject.items():
        vocabulary = about.split("/")[0]
        document = new.shared_files.get(vocabulary) or old.shared_files.get(vocabulary)
        assert vocabulary in fields_of(Vocabularies)
        yield _subject(about, about, document.file if document else vocabulary, found)


def compare_libraries(old: Library, new: Library) -> Comparison:
    """Compare two collections as meaning. Ids that were retired in between are followed."""
    renames = find_renames(old, new)
    before = follow_library(old, renames)
    subjects = (*_compare_conditions(before, new, renames), *_compare_shared(before, new))
    return Comparison(before, new, renames, subjects)
