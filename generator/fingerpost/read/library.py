"""Read YAML into the model: every problem of every file in one pass, each with its line."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypeVar

from fingerpost.model.case import Case
from fingerpost.model.grammar import hints_of, item_of
from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.shared import Vocabularies
from fingerpost.problems import ContentError, Place, Problem, suggest
from fingerpost.read import validate, yaml_events
from fingerpost.read.yaml_events import Unreadable

T = TypeVar("T")

SPECIMEN = yaml_events.SPECIMEN
STILL_TO_FILL = yaml_events.STILL_TO_FILL


def _read_text(path: Path, most: int = yaml_events.MAX_BYTES) -> str:
    try:
        if path.is_symlink():
            raise Unreadable(0, "links are not followed", "Put the file itself here.")
        if not path.is_file():
            raise Unreadable(0, "this is not a file" if path.exists() else "there is no such file")
        with path.open("rb") as file:
            return yaml_events.decode(file.read(most + 1), most)
    except OSError as error:
        raise Unreadable(0, f"cannot be read: {error.strerror}") from error


def _check(kind: Any, data: Any) -> tuple[Any, list[validate.Finding]]:
    """Plain data as a value of a model class. What a protocol lacks, the annotated specimen explains."""
    value, found = validate.read_value(kind, data)
    hint = f"{SPECIMEN} shows what it is for."
    lacking = kind is Protocol
    return value, [(p, m, hint if lacking and p and m == validate.say_missing(str(p[-1])) else h) for p, m, h in found]


def read_plain(text: str, name: str) -> Any:
    """The plain data of a YAML text, as the model gets it. Raises ContentError where it cannot be read."""
    try:
        plain = yaml_events.parse(text)
    except Unreadable as error:
        raise ContentError(yaml_events.refuse(name, error)) from error
    if twice := [p for p in yaml_events.problems_of(plain, name, ()) if p.message != STILL_TO_FILL]:
        raise ContentError(twice)
    return plain.data


def read_text(path: Path, name: str, most: int = yaml_events.MAX_BYTES) -> str:
    """The text of a file of at most so many bytes. Raises ContentError where it cannot be read."""
    try:
        return _read_text(path, most)
    except Unreadable as error:
        raise ContentError(yaml_events.refuse(name, error)) from error


def _read_value(text: str, kind: type[T], name: str, fast: bool) -> tuple[Document[T] | None, list[Problem]]:
    try:
        plain = yaml_events.parse(text, fast)
    except Unreadable as error:
        return None, yaml_events.refuse(name, error)
    value, found = _check(kind, plain.data)
    problems = list(yaml_events.problems_of(plain, name, found))
    return (None if problems else Document(name, value, plain.lines, plain.keys)), problems


def read_document(path: Path, kind: type[T], name: str) -> tuple[Document[T] | None, list[Problem]]:
    """Read one file as one value. `name` is how the file is called in messages."""
    try:
        return _read_value(_read_text(path), kind, name, fast=True)
    except Unreadable as error:
        return None, yaml_events.refuse(name, error)


def read_case_text(text: str, name: str) -> tuple[Document[Case] | None, list[Problem]]:
    """Read the text of one case, as a browser does. Its meaning is checked against the library in `plan`."""
    return _read_value(text, Case, name, fast=False)


def read_case(path: Path, name: str) -> tuple[Document[Case] | None, list[Problem]]:
    """Read the file of one case."""
    try:
        return read_case_text(_read_text(path), name)
    except Unreadable as error:
        return None, yaml_events.refuse(name, error)


def _read_list(
    path: Path, kind: Any, name: str
) -> tuple[tuple[Any, ...], Document[object] | None, set[str], list[Problem]]:
    """Read a vocabulary entry by entry, so that one bad entry does not hide the others.

    Returns (entries, document, ids of entries that could not be read, problems).
    """
    try:
        plain = yaml_events.parse(_read_text(path))
    except Unreadable as error:
        return (), None, set(), yaml_events.refuse(name, error)
    if not isinstance(plain.data, list):
        must = Unreadable(1, "must be a list of entries", "Begin each entry with '- '.")
        return (), None, set(), yaml_events.refuse(name, must)
    entries: list[Any] = []  # None where one cannot be read, so that each keeps its number
    unread, found = set(), []
    for number, item in enumerate(plain.data):
        value, bad = _check(kind, item)
        found += [((number, *p), m, h) for p, m, h in bad]
        if value is None:
            unread.add(str(item.get("id")) if isinstance(item, dict) else "")
        entries.append(value)
    problems = list(yaml_events.problems_of(plain, name, found))
    return (
        tuple(e for e in entries if e is not None),
        Document(name, tuple(entries), plain.lines, plain.keys),
        unread,
        problems,
    )


def _find_strays(folder: Path, known: set[str], base: str) -> Iterator[Problem]:
    for path in sorted(folder.iterdir()):
        if path.name.startswith((".", "schema")) or path.name in known or path.suffix == ".md":
            continue
        if path.suffix == ".yml" and path.is_file():
            continue
        hint = "Protocols end in .yml; remove what is none."
        yield Problem(Place(f"{base}/{path.name}"), "this file is not used", hint, "shape")


def read_library(folder: Path, base: str = "protocols") -> tuple[Library, list[Problem]]:
    """Read a whole collection. What cannot be read is left out, named in `unread`, and is a problem.

    `base` is how the folder is called in messages.
    """
    if not folder.is_dir():
        raise FileNotFoundError(folder)
    problems: list[Problem] = []
    vocabularies: dict[str, Any] = {}
    shared: dict[str, Document[object]] = {}
    unread: dict[str, frozenset[str]] = {}
    for name, hint in hints_of(Vocabularies).items():
        entries, document, lost, found = _read_list(
            folder / "shared" / f"{name}.yml", item_of(hint), f"{base}/shared/{name}.yml"
        )
        vocabularies[name] = entries
        problems += found
        unread[name] = frozenset(lost) if document else frozenset({"*"})
        if document:
            shared[name] = document

    def read_all(part: Path, kind: type[T], called: str) -> tuple[tuple[Document[T], ...], set[str]]:
        good, lost = [], set()
        for path in sorted(part.glob("*.yml")):
            if path.name.startswith("_"):
                continue
            document, found = read_document(path, kind, f"{called}/{path.name}")
            problems.extend(found)
            if document:
                good.append(document)
            else:
                lost.add(path.stem)
        return tuple(good), lost

    protocols, lost_protocols = read_all(folder, Protocol, base)
    referrals, lost_referrals = read_all(folder / "refer", Referral, f"{base}/refer")
    unread["conditions"] = frozenset(lost_protocols | lost_referrals)
    specimen, found = read_document(folder / SPECIMEN, Protocol, f"{base}/{SPECIMEN}")
    problems += found
    problems += _find_strays(folder, {"refer", "shared"}, base)
    problems += [
        Problem(Place(f"{base}/{part}"), "links are not followed", "Put the folder itself here.", "shape")
        for part in ("refer", "shared")
        if (folder / part).is_symlink()
    ]
    problems += _find_strays(folder / "refer", set(), f"{base}/refer") if (folder / "refer").is_dir() else []
    problems += [
        Problem(Place(f"{base}/shared/{p.name}"), "no vocabulary has this name", suggest(p.stem, vocabularies), "shape")
        for p in sorted((folder / "shared").glob("*"))
        if p.stem not in vocabularies
    ]
    return Library(protocols, referrals, Vocabularies(**vocabularies), shared, specimen, unread), problems
