"""Read YAML into the model: every problem of every file in one pass, each with its line. The door of pydantic."""

from __future__ import annotations

import dataclasses
import json
import re
import typing
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import TypeAdapter, ValidationError

from fingerpost.model import library as lib
from fingerpost.model.audience import find_written, write_out
from fingerpost.model.case import Case
from fingerpost.model.grammar import key_of, strip_none
from fingerpost.model.library import Document, Library
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.shared import Vocabularies
from fingerpost.model.words import ALL_SHAPES, TO_FILL
from fingerpost.problems import ContentError, Place, Problem, suggest
from fingerpost.read import validate, yaml_events
from fingerpost.read.yaml_events import Unreadable

T = TypeVar("T")
Path_ = lib.Path

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


def _find_classes(kind: Any, seen: set[type]) -> set[type]:
    if dataclasses.is_dataclass(kind) and isinstance(kind, type) and kind not in seen:
        seen.add(kind)
        for hint in typing.get_type_hints(kind).values():
            _find_classes(hint, seen)
    for part in typing.get_args(kind):
        _find_classes(part, seen)
    return seen


@cache
def _adapter(kind: Any) -> TypeAdapter[Any]:
    for found in _find_classes(kind, set()):
        config = {"extra": "forbid", "alias_generator": key_of}
        found.__pydantic_config__ = config  # type: ignore[attr-defined]
    return TypeAdapter(kind)


def write_schema(kind: Any, title: str) -> str:
    """The JSON Schema of a model class as text, for editors. The same class gives the same bytes."""
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **_adapter(kind).json_schema(), "title": title}
    return json.dumps(schema, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def _fields_at(kind: Any, path: Path_) -> list[str]:
    """The keys that the model has at a path, for offering the nearest right one."""
    for step in path:
        kind = strip_none(kind)
        if isinstance(step, int):
            kind = (typing.get_args(kind) or (kind,))[0]
        else:
            if not dataclasses.is_dataclass(kind):
                return []
            kind = next((h for n, h in typing.get_type_hints(kind).items() if key_of(n) == step), None)
    kind = strip_none(kind)
    return [key_of(f.name) for f in dataclasses.fields(kind)] if dataclasses.is_dataclass(kind) else []


_KINDS: dict[str, type] = {
    "string_type": str,
    "int_type": int,
    "float_type": float,
    "bool_type": bool,
    "tuple_type": tuple,
    "none_required": type(None),
    "dataclass_type": dict,
}
_WORDING = {"finite_number": "must be a finite number"}


def _word(error: Mapping[str, Any], kind: Any) -> tuple[str, str]:
    """Say one finding of the shape checker in our own words: (message, hint)."""
    sort, value, loc = error["type"], error["input"], error["loc"]
    if sort == "missing":
        return validate.say_missing(loc[-1]), f"{SPECIMEN} shows what it is for." if kind is Protocol else ""
    if sort == "unexpected_keyword_argument":
        return validate.say_unknown(loc[-1]), suggest(str(loc[-1]), _fields_at(kind, loc[:-1]))
    if sort == "literal_error":
        right = re.findall(r"'([^']*)'|(\d+)", error["ctx"]["expected"])
        return validate.say_not_among([a or b for a, b in right], value)
    if sort == "string_pattern_mismatch":
        wanted = next(s for s in ALL_SHAPES if s.pattern == error["ctx"]["pattern"])
        return f"{wanted.must}, not {validate.quote(value)}", ""
    if sort == "string_too_long":
        return validate.say_too_long(error["ctx"]["max_length"]), ""
    if sort in _KINDS:
        return validate.say_wrong_kind(_KINDS[sort], value)
    return f"{_WORDING.get(sort, str(error['msg']))}, not {validate.quote(value)}", ""


def _shape(kind: Any, data: Any) -> tuple[Any, list[tuple[Path_, str, str]]]:
    """Check plain data against a model class. Returns (value or None, findings)."""
    try:
        return _adapter(kind).validate_json(json.dumps(write_out(kind, data)), strict=True), []
    except ValidationError as error:
        errors = (e for e in error.errors(include_url=False) if e["input"] != TO_FILL)
        return None, [(find_written(data, tuple(e["loc"])), *_word(e, kind)) for e in errors]


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
    value, found = _shape(kind, plain.data)
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
) -> tuple[tuple[Any, ...], Document[Any] | None, set[str], list[Problem]]:
    """Read a file of a vocabulary entry by entry, so that one bad entry does not hide the others.

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
        value, bad = _shape(kind, item)
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


def _list_parts(shared: Path, name: str) -> list[Path]:
    """The files of a vocabulary: `name.yml`, or every file of the folder `name`."""
    whole, parts = shared / f"{name}.yml", sorted((shared / name).glob("*.yml"))
    return parts if parts and not whole.exists() else [whole, *parts]


def _read_vocabulary(
    shared: Path, name: str, kind: Any, base: str
) -> tuple[tuple[Any, ...], tuple[Document[Any], ...], frozenset[str], list[Problem]]:
    """Read all files of a vocabulary as one list.

    Returns (entries, documents, ids of entries that could not be read, problems). The "ids" hold "*" for a whole file.
    """
    parts = _list_parts(shared, name)
    read = [_read_list(path, kind, f"{base}/{path.relative_to(shared).as_posix()}") for path in parts]
    problems = [problem for _, _, _, found in read for problem in found]
    if (folder := shared / name).is_dir():
        problems += _find_strays(folder, set(), f"{base}/{name}")
        if len(parts) > 1 and parts[0].parent == shared:
            message, hint = f"there is the folder {name}/ too", "Move its entries there, and take this file away."
            problems.append(Problem(Place(f"{base}/{name}.yml"), message, hint, "shape"))
    entries = tuple(entry for part, _, _, _ in read for entry in part)
    lost = {wanted for _, document, ids, _ in read for wanted in (ids if document else {"*"})}
    return entries, tuple(document for _, document, _, _ in read if document), frozenset(lost), problems


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
    shared: dict[str, tuple[Document[Any], ...]] = {}
    unread: dict[str, frozenset[str]] = {}
    for vocabulary in dataclasses.fields(Vocabularies):
        name = vocabulary.name
        kind = typing.get_args(typing.get_type_hints(Vocabularies)[name])[0]
        entries, documents, lost, found = _read_vocabulary(folder / "shared", name, kind, f"{base}/shared")
        vocabularies[name], unread[name] = entries, lost
        problems += found
        if documents:
            shared[name] = documents

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
        for part in ("refer", "shared", *(f"shared/{name}" for name in vocabularies))
        if (folder / part).is_symlink()
    ]
    problems += _find_strays(folder / "refer", set(), f"{base}/refer") if (folder / "refer").is_dir() else []
    problems += [
        Problem(Place(f"{base}/shared/{p.name}"), "no vocabulary has this name", suggest(p.stem, vocabularies), "shape")
        for p in sorted((folder / "shared").glob("*"))
        if p.stem not in vocabularies
    ]
    return Library(protocols, referrals, Vocabularies(**vocabularies), shared, specimen, unread), problems
