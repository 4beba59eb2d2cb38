"""Break the shipped collection in one place, as an author might, and ask what the rules say."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from fingerpost.checks.rules import find_problems
from fingerpost.model.library import Document, Library
from fingerpost.problems import Problem
from fingerpost.read.library import read_library

PROTOCOLS = Path(__file__).parents[2] / "protocols"


def edit(text: str, old: str, new: str, after: str = "") -> str:
    """Replace the first `old` behind `after`. Both must be there: a specimen that breaks nothing shows nothing."""
    start = text.find(after)
    assert start >= 0, f"not there: {after!r}"
    at = text.find(old, start + len(after))
    assert at >= 0, f"not there: {old!r}"
    return text[:at] + new + text[at + len(old) :]


def read_alone(file: str, text: str, folder: Path) -> tuple[Library, list[Problem]]:
    """Read one file of a collection that holds nothing else, and what is wrong with the shape of this file."""
    path = folder / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    read, problems = read_library(folder)
    path.unlink()
    return read, [problem for problem in problems if problem.place.file == f"protocols/{file}"]


def _swap(documents: tuple[Document[Any], ...], new: tuple[Document[Any], ...], name: str) -> tuple[Document[Any], ...]:
    kept = [d for d in documents if d.file != name]
    return tuple(sorted([*kept, *new], key=lambda d: d.file))


def swap_in(library: Library, file: str, read: Library) -> Library:
    """The collection with one file changed for the one that was read alone: the same as reading all of it again."""
    name, stem = f"protocols/{file}", Path(file).stem
    if file.startswith("shared/"):
        vocabulary = Path(file).with_suffix("").parts[1]
        documents = _swap(library.shared_files[vocabulary], read.shared_files.get(vocabulary, ()), name)
        entries = tuple(entry for document in documents for entry in document.value if entry is not None)
        words = dataclasses.replace(library.vocabularies, **{vocabulary: entries})
        shared = {key: found for key, found in {**library.shared_files, vocabulary: documents}.items() if found}
        unread = {**library.unread, vocabulary: read.unread[vocabulary]}
        return dataclasses.replace(library, vocabularies=words, shared_files=shared, unread=unread)
    if file == "_example.yml":
        return dataclasses.replace(library, specimen=read.specimen)
    lost = library.unread["conditions"] - {stem} | read.unread["conditions"]
    return dataclasses.replace(
        library,
        protocols=_swap(library.protocols, read.protocols, name),
        referrals=_swap(library.referrals, read.referrals, name),
        unread={**library.unread, "conditions": lost},
    )


def break_library(library: Library, edits: Iterable[dict[str, str]], folder: Path) -> tuple[Library, list[Problem]]:
    """The collection once the edits are made, and all that is wrong with it: shape and rules, in file order."""
    texts: dict[str, str] = {}
    for e in edits:
        text = texts.get(e["file"]) or (PROTOCOLS / e.get("copy_of", e["file"])).read_text("utf-8")
        texts[e["file"]] = e["whole"] if "whole" in e else edit(text, e["old"], e["new"], e.get("after", ""))
    found: list[Problem] = []
    for file, text in texts.items():
        read, problems = read_alone(file, text, folder)
        library = swap_in(library, file, read)
        found += problems
    return library, sorted({*found, *find_problems(library)})


def shorten(problem: Problem, library: Library) -> str:
    """File, place and rule. An entry of a vocabulary is called by its id, which stays when others come before it."""
    place = problem.place
    entry = re.match(r"\[(\d+)\]", place.path)
    documents = [document for several in library.shared_files.values() for document in several]
    entries = next((document.value for document in documents if document.file == place.file), ())
    name = getattr(entries[int(entry.group(1))], "id", "") if entry else ""
    path = f"[{name}]{place.path[entry.end() :]}" if entry and name else place.path
    return f"{place.file} {path or '-'} {problem.rule}"
