"""The whole collection, with where each thing was written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import islice
from typing import Any, Generic, TypeVar

from fingerpost.model.case import ClinicSettings
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.shared import Vocabularies
from fingerpost.problems import Place, Problem, write_path

T = TypeVar("T")
Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Document(Generic[T]):
    """A value read from a file, and the line of each part of it."""

    file: str
    value: T
    lines: Mapping[Path, int]
    keys: Mapping[Path, tuple[str, ...]]

    def place(self, *path: str | int) -> Place:
        """The place of a part; where the part itself was left out, the nearest part around it."""
        at: Path = path
        while at and at not in self.lines:
            at = at[:-1]
        return Place(self.file, self.lines.get(at, 0), write_path(path))

    def problem(self, path: Path, message: str, hint: str = "", rule: str = "") -> Problem:
        return Problem(self.place(*path), message, hint, rule)


@dataclass(frozen=True)
class Library:
    """Protocols, short entries and vocabularies as read.

    `shared_files` holds each vocabulary's documents: one, or one for each file of its folder, in the order in which
    they were read. `unread` names, by vocabulary (or "conditions"), the ids that stand in a file but could not be read
    ("*": a whole file), so that pointers to them are not called wrong.
    `content_hashes` and `overdue` (ids) are filled in by whoever knows the texts and the day.
    """

    protocols: tuple[Document[Protocol], ...]
    referrals: tuple[Document[Referral], ...]
    vocabularies: Vocabularies
    shared_files: Mapping[str, tuple[Document[Any], ...]]
    specimen: Document[Protocol] | None = None
    unread: Mapping[str, frozenset[str]] = field(default_factory=dict)
    clinic: ClinicSettings = field(default_factory=ClinicSettings)
    content_hashes: Mapping[str, str] = field(default_factory=dict)
    overdue: frozenset[str] = frozenset()

    @property
    def conditions(self) -> tuple[Protocol | Referral, ...]:
        """Protocols first, then short entries, each in file order."""
        return (*(d.value for d in self.protocols), *(d.value for d in self.referrals))

    def find_condition(self, wanted: str) -> Protocol | Referral | None:
        return next((c for c in self.conditions if c.id == wanted), None)

    def find_protocol(self, wanted: str) -> Protocol | None:
        return next((d.value for d in self.protocols if d.value.id == wanted), None)

    def read_everything(self, vocabulary: str) -> bool:
        """Whether every entry of a vocabulary could be read, so that counting it is fair."""
        return not self.unread.get(vocabulary)

    def name_shared(self, vocabulary: str) -> str:
        """Where a vocabulary stands, as the reader knows it: its file, or its folder where it has several."""
        files = [document.file for document in self.shared_files.get(vocabulary, ())]
        if len(files) > 1:
            return f"{files[0].rpartition('/')[0]}/"
        return files[0] if files else f"shared/{vocabulary}.yml"

    def locate(self, vocabulary: str, path: Path) -> tuple[Document[Any], Path] | None:
        """The file in which a part of a vocabulary stands, and the path there.

        `path` begins with the number of an entry among those of all files. Without a number, a folder is no one file.
        """
        documents = self.shared_files.get(vocabulary, ())
        if not path:
            return (documents[0], path) if len(documents) == 1 else None
        places = ((d, number) for d in documents for number, entry in enumerate(d.value) if entry is not None)
        found = next(islice(places, int(path[0]), None), None)
        return (found[0], (found[1], *path[1:])) if found else None
