"""Tolerated findings: each with its reason, and only for as long as it is a finding."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from fingerpost.checks.base.walk import list_entries, read_all
from fingerpost.model.library import Library
from fingerpost.problems import Problem, suggest

Key = tuple[str, str, str]
_HOME = "protocols/"


def name_file(library: Library, file: str) -> str:
    """A file as exceptions name it, protocols/…, however the folder is called in messages."""
    base = library.name_shared("exceptions").rpartition("shared/exceptions")[0]
    return _HOME + file.removeprefix(base or _HOME)


def keys_of(library: Library, problem: Problem) -> set[Key]:
    """What an exception may name so that it covers a finding.

    An entry of a vocabulary may be named by its id, as in [full-fist].says: its number in messages changes when others
    come before it.
    """
    file, path = name_file(library, problem.place.file), problem.place.path
    keys = {(problem.rule, file, path)}
    documents = (d for several in library.shared_files.values() for d in several if d.file == problem.place.file)
    entries = next((document.value for document in documents), ())
    if (entry := re.match(r"\[(\d+)\]", path)) and int(entry[1]) < len(entries):
        keys.add((problem.rule, file, f"[{getattr(entries[int(entry[1])], 'id', '')}]{path[entry.end() :]}"))
    return keys


def tolerate(library: Library, problems: Collection[Problem], never: Collection[str]) -> list[Problem]:
    """The findings that no exception covers. Findings of the rules in `never` always stay."""
    covered = {(t.rule, t.file, t.path) for t in library.vocabularies.exceptions if t.rule not in never}
    return [problem for problem in problems if not covered or not keys_of(library, problem) & covered]


def find_exceptions_to_nothing(
    library: Library, problems: Collection[Problem], rules: Collection[str], never: Collection[str]
) -> Iterator[Problem]:
    """A tolerated finding must still be a finding, of a rule that exists and is not about safety."""
    found = {key for problem in problems for key in keys_of(library, problem)}
    for part in list_entries(library, "exceptions"):
        entry = part.value
        if entry.rule not in rules:
            yield part.problem(("rule",), f"no rule is called '{entry.rule}'", suggest(entry.rule, rules))
        elif entry.rule in never:
            yield part.problem(("rule",), f"'{entry.rule}' is about safety and must not be tolerated")
        elif (entry.rule, entry.file, entry.path) not in found and read_all(library):
            message = f"this is no finding any more: {entry.file}: {entry.path}"
            yield part.problem((), message, "Take the exception out.")
