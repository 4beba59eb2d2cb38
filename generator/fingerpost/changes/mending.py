"""An old collection that today's program cannot read whole: what is missing is taken from the new one, and said so."""

from __future__ import annotations

import dataclasses
from string import Formatter
from typing import Any

from fingerpost.model.audience import flat
from fingerpost.model.grammar import fields_of
from fingerpost.model.library import Document, Library
from fingerpost.model.shared import Phrase, Vocabularies

WHOLE = "*"


def _mend_vocabulary(old: tuple[Any, ...], new: tuple[Any, ...], unread: frozenset[str]) -> tuple[Any, ...]:
    """The old entries in their order, and those that could not be read as they are now, where they stand now."""
    if WHOLE in unread:
        return new
    mended = list(old)
    for number, entry in enumerate(new):
        known = {getattr(e, "id", ""): at for at, e in enumerate(mended)}
        if getattr(entry, "id", "") in unread - known.keys():
            above = [known[e.id] for e in new[:number] if e.id in known]
            mended.insert(above[-1] + 1 if above else 0, entry)
    return tuple(mended)


def _mend_documents(old: tuple[Any, ...], new: tuple[Any, ...], unread: frozenset[str]) -> tuple[Any, ...]:
    documents: list[Document[Any]] = [*old, *(d for d in new if d.value.id in unread)]
    return tuple(sorted(documents, key=lambda document: document.file))


def mend(old: Library, new: Library) -> tuple[Library, list[str]]:
    """(the old collection with today's version of what could not be read, one remark for each file).

    Why: when the model has changed in between, all else can still be compared.
    """
    conditions = old.unread.get("conditions", frozenset())
    names = [name for name in fields_of(Vocabularies) if old.unread.get(name)]
    parts = {
        name: _mend_vocabulary(getattr(old.vocabularies, name), getattr(new.vocabularies, name), old.unread[name])
        for name in names
    }
    mended = dataclasses.replace(
        old,
        protocols=_mend_documents(old.protocols, new.protocols, conditions),
        referrals=_mend_documents(old.referrals, new.referrals, conditions),
        vocabularies=dataclasses.replace(old.vocabularies, **parts),
    )
    documents: tuple[Document[Any], ...] = (*new.protocols, *new.referrals)
    known = [d.file for d in documents if d.value.id in conditions]
    files = known + [new.shared_files[name].file for name in names if name in new.shared_files]
    says = "today's program cannot read it whole as it was, so what changed there is told in part or not at all"
    return mended, [f"{file}: {says}" for file in files]


def _list_gaps(phrase: Phrase) -> frozenset[str]:
    return frozenset(name for _, name, _, _ in Formatter().parse(flat(phrase.says)) if name)


def with_younger_phrases(old: Library, new: Library) -> Library:
    """The old collection with the phrases that today's layout asks for, where they were missing or had other gaps."""
    now = {phrase.id: phrase for phrase in new.vocabularies.wording}
    before = {phrase.id: phrase for phrase in old.vocabularies.wording}
    fitting = {i: p for i, p in before.items() if i not in now or _list_gaps(now[i]) == _list_gaps(p)}
    vocabularies = dataclasses.replace(old.vocabularies, wording=tuple((now | fitting).values()))
    return dataclasses.replace(old, vocabularies=vocabularies)
