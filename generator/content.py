"""Read YAML into the model: every problem of every file in one pass, each with its line.

The only module that imports pydantic and yaml. Files are parsed as events, so that nothing is built
from a tag, an alias or a duplicate key, and deep nesting costs no stack.
"""

from __future__ import annotations

import dataclasses
import json
import re
import types
import typing
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

import yaml
from pydantic import TypeAdapter, ValidationError

from generator.model import library as lib
from generator.model.case import Case
from generator.model.library import Document, Library
from generator.model.protocol import Protocol, Referral
from generator.model.shared import Vocabularies
from generator.model.words import ALL_SHAPES, TO_FILL
from generator.problems import ContentError, Place, Problem, suggest, write_path

T = TypeVar("T")
Path_ = lib.Path

MAX_BYTES = 1_000_000
MAX_DEPTH = 20
SPECIMEN = "_example.yml"
STILL_TO_FILL = "still to fill"
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_INT = re.compile(r"[-+]?[0-9]{1,15}")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]{1,3})?")
_NULLS = {"", "~", "null", "Null", "NULL"}
_BOOLS = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}


class _Unreadable(Exception):
    """One file cannot be read any further."""

    def __init__(self, line: int, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.line, self.message, self.hint = line, message, hint


@dataclass
class _Tree:
    """Plain data from one file, with the line of every part and the written order of keys."""

    data: Any = None
    lines: dict[Path_, int] = field(default_factory=dict)
    keys: dict[Path_, tuple[str, ...]] = field(default_factory=dict)
    problems: list[tuple[int, Path_, str, str]] = field(default_factory=list)


def _read_scalar(event: Any) -> Any:
    """A scalar by the core schema of YAML 1.2: no dates, no yes and no, no octal surprises."""
    text: str = event.value
    if event.style not in (None, ""):  # quoted or folded: always text
        return text
    if text in _NULLS:
        return None
    if text in _BOOLS:
        return _BOOLS[text]
    if _INT.fullmatch(text):
        return int(text)
    if _FLOAT.fullmatch(text):
        return float(text)
    return text


def _line(event: Any) -> int:
    return int(event.start_mark.line) + 1


def _refuse_extras(event: Any) -> None:
    if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
        raise _Unreadable(
            _line(event), "anchors (&) and aliases (*) are not used here", "Write the text out where it is needed."
        )
    if getattr(event, "tag", None):
        raise _Unreadable(_line(event), f"the tag '{event.tag}' is not used here", "Leave it out.")


def _build(events: Iterator[Any]) -> _Tree:
    """Build plain data from events with a stack of open containers."""
    tree = _Tree()
    stack: list[tuple[Path_, Any, list[str]]] = []  # path, container, [pending key]
    documents = 0

    def attach(value: Any, event: Any) -> Path_:
        if not stack:
            tree.data = value
            tree.lines[()] = _line(event)
            return ()
        base, container, pending = stack[-1]
        if isinstance(container, list):
            path: Path_ = (*base, len(container))
            container.append(value)
            tree.lines[path] = _line(event)
        else:
            key = pending.pop()
            path = (*base, key)
            if key in container:
                first = f"First on line {tree.lines[path]}."
                tree.problems.append((tree.lines[(*base, "\0")], path, f"the key '{key}' stands here twice", first))
            else:
                container[key] = value
                tree.lines[path] = tree.lines[(*base, "\0")]
        return path

    for event in events:
        if isinstance(event, yaml.DocumentStartEvent):
            documents += 1
            if documents > 1:
                raise _Unreadable(_line(event), "only one document may stand in a file", "Remove the line '---'.")
        elif isinstance(event, (yaml.SequenceStartEvent, yaml.MappingStartEvent, yaml.ScalarEvent, yaml.AliasEvent)):
            _refuse_extras(event)
            wants_key = bool(stack) and isinstance(stack[-1][1], dict) and not stack[-1][2]
            if wants_key:
                if not isinstance(event, yaml.ScalarEvent):
                    raise _Unreadable(_line(event), "a key must be a plain word")
                stack[-1][2].append(event.value)
                tree.lines[(*stack[-1][0], "\0")] = _line(event)
            elif isinstance(event, yaml.ScalarEvent):
                path = attach(_read_scalar(event), event)
                if event.value == TO_FILL:
                    tree.problems.append((_line(event), path, STILL_TO_FILL, f"{SPECIMEN} says how to decide."))
            else:
                if len(stack) >= MAX_DEPTH:
                    raise _Unreadable(_line(event), f"lists and mappings may be nested {MAX_DEPTH} deep at the most")
                container: Any = [] if isinstance(event, yaml.SequenceStartEvent) else {}
                stack.append((attach(container, event), container, []))
        elif isinstance(event, (yaml.SequenceEndEvent, yaml.MappingEndEvent)):
            path, container, _ = stack.pop()
            if isinstance(container, dict):
                tree.keys[path] = tuple(container)
    return tree


def _parse(text: str) -> _Tree:
    try:
        tree = _build(iter(yaml.parse(text, Loader=_LOADER)))
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        raise _Unreadable(mark.line + 1 if mark else 0, f"this is not YAML: {error.problem}") from error
    except yaml.YAMLError as error:
        position = getattr(error, "position", None)
        line = text.count("\n", 0, position) + 1 if isinstance(position, int) else 0
        raise _Unreadable(
            line, "this file holds a sign that YAML does not allow", "Remove control characters."
        ) from error
    if tree.data is None:
        raise _Unreadable(0, "the file is empty", "Begin from the annotated specimen, protocols/_example.yml.")
    return tree


def _read_text(path: Path) -> str:
    if path.is_symlink():
        raise _Unreadable(0, "links are not followed", "Put the file itself here.")
    if not path.is_file():
        raise _Unreadable(0, "this is not a file" if path.exists() else "there is no such file")
    try:
        raw = path.read_bytes() if path.stat().st_size <= MAX_BYTES else None
    except OSError as error:
        raise _Unreadable(0, f"cannot be read: {error.strerror}") from error
    if raw is None:
        raise _Unreadable(0, f"the file is larger than {MAX_BYTES:,} bytes", "Is this the right file?")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise _Unreadable(line, "the file is not in UTF-8", "Save it again with the encoding UTF-8.") from error


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
        found.__pydantic_config__ = {"extra": "forbid"}  # type: ignore[attr-defined]
    return TypeAdapter(kind)


def write_schema(kind: Any, title: str) -> str:
    """The JSON Schema of a model class as text, for editors. The same class gives the same bytes."""
    schema = {"$schema": "https://json-schema.org/draft/2020-12/schema", **_adapter(kind).json_schema(), "title": title}
    return json.dumps(schema, indent=1, ensure_ascii=False, sort_keys=True) + "\n"


def _fields_at(kind: Any, path: Path_) -> list[str]:
    """The keys that the model has at a path, for offering the nearest right one."""
    for step in path:
        options = [a for a in (typing.get_args(kind) or (kind,)) if a is not type(None)]
        if isinstance(step, int) or (options and options != [kind] and isinstance(kind, types.UnionType)):
            kind = options[0] if options else kind
        if isinstance(step, str):
            if not dataclasses.is_dataclass(kind):
                return []
            kind = typing.get_type_hints(kind).get(step)
    if isinstance(kind, types.UnionType):
        kind = next(a for a in typing.get_args(kind) if a is not type(None))
    return [f.name for f in dataclasses.fields(kind)] if dataclasses.is_dataclass(kind) else []


_WORDING = {
    "string_type": "must be text",
    "int_type": "must be a whole number",
    "float_type": "must be a number",
    "bool_type": "must be true or false",
    "tuple_type": "must be a list",
    "none_required": "must be null",
    "dataclass_type": "must hold keys and values",
    "finite_number": "must be a finite number",
}
_THUMB = "a thumb has other pulleys, joints and grips than the fingers, and no protocol here covers it"


def _quote(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= 60 else text[:57] + "…"


def _word(error: Mapping[str, Any], kind: Any) -> tuple[str, str]:
    """Say one finding of the shape checker in our own words: (message, hint)."""
    sort, value, loc = error["type"], error["input"], error["loc"]
    if sort == "missing":
        return f"'{loc[-1]}' is missing", f"{SPECIMEN} shows what it is for." if kind is Protocol else ""
    if sort == "unexpected_keyword_argument":
        return f"no key is called '{loc[-1]}' here", suggest(str(loc[-1]), _fields_at(kind, loc[:-1]))
    if sort == "literal_error":
        if value == "thumb":
            return _THUMB, "Choose index, middle, ring or little."
        right = re.findall(r"'([^']*)'|(\d+)", error["ctx"]["expected"])
        names = [a or b for a, b in right]
        return f"must be one of {', '.join(names)}, not {_quote(value)}", suggest(str(value), names)
    if sort == "string_pattern_mismatch":
        shape = next(s for s in ALL_SHAPES if s.pattern == error["ctx"]["pattern"])
        return f"{shape.must}, not {_quote(value)}", ""
    if sort == "string_too_long":
        return f"may have {error['ctx']['max_length']} letters at the most", ""
    must = _WORDING.get(sort, str(error["msg"]))
    if sort == "bool_type" and value in ("yes", "no", "on", "off"):
        return f"{must}, not {_quote(value)}", f"Write {'true' if value in ('yes', 'on') else 'false'}."
    if sort == "string_type" and isinstance(value, (int, float)):
        return f"{must}, not {_quote(value)}", "Put it in quotes."
    return f"{must}, not {_quote(value)}", ""


def _shape(kind: Any, data: Any) -> tuple[Any, list[tuple[Path_, str, str]]]:
    """Check plain data against a model class. Returns (value or None, findings)."""
    try:
        return _adapter(kind).validate_json(json.dumps(data), strict=True), []
    except ValidationError as error:
        errors = (e for e in error.errors(include_url=False) if e["input"] != TO_FILL)
        return None, [(tuple(e["loc"]), *_word(e, kind)) for e in errors]


def _problems_of(tree: _Tree, file: str, found: Iterable[tuple[Path_, str, str]]) -> Iterator[Problem]:
    whole = Document(file, None, tree.lines, tree.keys)
    for path, message, hint in found:
        yield whole.problem(path, message, hint, "shape")
    for line, path, message, hint in tree.problems:
        yield Problem(Place(file, line, write_path(path)), message, hint, "shape")


def _refuse(name: str, error: _Unreadable) -> list[Problem]:
    return [Problem(Place(name, error.line), error.message, error.hint, "shape")]


def read_plain(text: str, name: str) -> Any:
    """The plain data of a YAML text, as the model gets it. Raises ContentError where it cannot be read."""
    try:
        tree = _parse(text)
    except _Unreadable as error:
        raise ContentError(_refuse(name, error)) from error
    if twice := [p for p in _problems_of(tree, name, ()) if p.message != STILL_TO_FILL]:
        raise ContentError(twice)
    return tree.data


def read_document(path: Path, kind: type[T], name: str) -> tuple[Document[T] | None, list[Problem]]:
    """Read one file as one value. `name` is how the file is called in messages."""
    try:
        tree = _parse(_read_text(path))
    except _Unreadable as error:
        return None, _refuse(name, error)
    value, found = _shape(kind, tree.data)
    problems = list(_problems_of(tree, name, found))
    return (None if problems else Document(name, value, tree.lines, tree.keys)), problems


def read_case(path: Path, name: str) -> tuple[Document[Case] | None, list[Problem]]:
    """Read one case. Its meaning is checked against the library in `plan`."""
    return read_document(path, Case, name)


def _read_list(
    path: Path, kind: Any, name: str
) -> tuple[tuple[Any, ...], Document[object] | None, set[str], list[Problem]]:
    """Read a vocabulary entry by entry, so that one bad entry does not hide the others.

    Returns (entries, document, ids of entries that could not be read, problems).
    """
    try:
        tree = _parse(_read_text(path))
    except _Unreadable as error:
        return (), None, set(), _refuse(name, error)
    if not isinstance(tree.data, list):
        must = _Unreadable(1, "must be a list of entries", "Begin each entry with '- '.")
        return (), None, set(), _refuse(name, must)
    entries, unread, found = [], set(), []
    for number, item in enumerate(tree.data):
        value, bad = _shape(kind, item)
        found += [((number, *p), m, h) for p, m, h in bad]
        if value is None:
            unread.add(str(item.get("id")) if isinstance(item, dict) else "")
        else:
            entries.append(value)
    problems = list(_problems_of(tree, name, found))
    return tuple(entries), Document(name, tuple(entries), tree.lines, tree.keys), unread, problems


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
    for vocabulary in dataclasses.fields(Vocabularies):
        name = vocabulary.name
        kind = typing.get_args(typing.get_type_hints(Vocabularies)[name])[0]
        entries, document, lost, found = _read_list(
            folder / "shared" / f"{name}.yml", kind, f"{base}/shared/{name}.yml"
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
    problems += _find_strays(folder / "refer", set(), f"{base}/refer") if (folder / "refer").is_dir() else []
    problems += [
        Problem(Place(f"{base}/shared/{p.name}"), "no vocabulary has this name", suggest(p.stem, vocabularies), "shape")
        for p in sorted((folder / "shared").glob("*"))
        if p.stem not in vocabularies
    ]
    return Library(protocols, referrals, Vocabularies(**vocabularies), shared, specimen, unread), problems
