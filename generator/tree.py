"""YAML text as plain data with the line of every part. The only importer of the YAML reader.

Texts are parsed as events, so that nothing is built from a tag, an alias or a duplicate key, and deep nesting costs
no stack. Nothing else is needed for it, so that a browser reads case files with the same code.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from generator.gather import Finding, gather
from generator.model import library as lib
from generator.model.library import Document
from generator.model.words import TO_FILL
from generator.problems import Place, Problem, write_path

Path_ = lib.Path

MAX_BYTES = 1_000_000
MAX_DEPTH = 20
MAX_PARTS = 30_000
MAX_SLIPS = 1_000
SPECIMEN = "_example.yml"
STILL_TO_FILL = "still to fill"
HOW_TO_FILL = "The comment above it says how to decide, here or in the annotated specimen."
_FAST = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_INT = re.compile(r"[-+]?[0-9]{1,15}")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]{1,3})?")
_HALF = re.compile("[\ud800-\udfff]")
_NULLS = {"", "~", "null", "Null", "NULL"}
_BOOLS = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}


class Unreadable(Exception):
    """One file cannot be read any further."""

    def __init__(self, line: int, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.line, self.message, self.hint = line, message, hint


@dataclass
class Tree:
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
        raise Unreadable(
            _line(event), "anchors (&) and aliases (*) are not used here", "Write the text out where it is needed."
        )
    if getattr(event, "tag", None):
        raise Unreadable(_line(event), f"the tag '{event.tag}' is not used here", "Leave it out.")


def _refuse_half_signs(event: Any) -> None:
    """An escape such as "\\ud83d" is half of a sign: it is no letter, and no file can hold it."""
    if isinstance(event, yaml.ScalarEvent) and (half := _HALF.search(event.value)):
        raise Unreadable(_line(event), f"'\\u{ord(half.group()):x}' is half a sign", "Write the sign itself.")


def _refuse_too_many(parts: int, slips: int, event: Any) -> None:
    """A file that goes on and on is not read to its end, and not answered with as many messages."""
    if parts > MAX_PARTS:
        raise Unreadable(_line(event), f"a file may have {MAX_PARTS:,} parts at the most", "Is this the right file?")
    if slips > MAX_SLIPS:
        raise Unreadable(_line(event), f"up to here there are {slips:,} slips", "Is this the right file?")


def _build(events: Iterator[Any]) -> Tree:
    """Build plain data from events with a stack of open containers."""
    tree = Tree()
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

    for number, event in enumerate(events):
        _refuse_too_many(number, len(tree.problems), event)
        if isinstance(event, yaml.DocumentStartEvent):
            documents += 1
            if documents > 1:
                raise Unreadable(_line(event), "only one document may stand in a file", "Remove the line '---'.")
        elif isinstance(event, (yaml.SequenceStartEvent, yaml.MappingStartEvent, yaml.ScalarEvent, yaml.AliasEvent)):
            _refuse_extras(event)
            _refuse_half_signs(event)
            wants_key = bool(stack) and isinstance(stack[-1][1], dict) and not stack[-1][2]
            if wants_key:
                if not isinstance(event, yaml.ScalarEvent):
                    raise Unreadable(_line(event), "a key must be a plain word")
                stack[-1][2].append(event.value)
                tree.lines[(*stack[-1][0], "\0")] = _line(event)
            elif isinstance(event, yaml.ScalarEvent):
                path = attach(_read_scalar(event), event)
                if event.value == TO_FILL:
                    tree.problems.append((_line(event), path, STILL_TO_FILL, HOW_TO_FILL))
            else:
                if len(stack) >= MAX_DEPTH:
                    raise Unreadable(_line(event), f"lists and mappings may be nested {MAX_DEPTH} deep at the most")
                container: Any = [] if isinstance(event, yaml.SequenceStartEvent) else {}
                stack.append((attach(container, event), container, []))
        elif isinstance(event, (yaml.SequenceEndEvent, yaml.MappingEndEvent)):
            path, container, _ = stack.pop()
            if isinstance(container, dict):
                tree.keys[path] = tuple(container)
    return tree


def parse(text: str, fast: bool = True) -> Tree:
    """The plain data of a text. Raises Unreadable where it is not YAML, or not the kind of YAML that is read here.

    `fast`: with the compiled reader where there is one. What is wrong is always said by the other one, so that the
    words and the line are the same on every machine.
    """
    try:
        tree = _build(iter(yaml.parse(text, Loader=_FAST if fast else yaml.SafeLoader)))
    except yaml.YAMLError as error:
        if fast:
            return parse(text, fast=False)
        raise _word(text, error) from error
    if tree.data is None:
        raise Unreadable(0, "the file is empty", f"Begin from the annotated specimen, protocols/{SPECIMEN}.")
    return tree


def _word(text: str, error: yaml.YAMLError) -> Unreadable:
    if isinstance(error, yaml.MarkedYAMLError):
        mark = error.problem_mark or error.context_mark
        return Unreadable(mark.line + 1 if mark else 0, f"this is not YAML: {error.problem}")
    position = getattr(error, "position", None)
    line = text.count("\n", 0, position) + 1 if isinstance(position, int) else 0
    return Unreadable(line, "this file holds a sign that YAML does not allow", "Remove control characters.")


def decode(raw: bytes, most: int = MAX_BYTES) -> str:
    """The text of a file. Raises Unreadable where it is too large or not in UTF-8."""
    if len(raw) > most:
        raise Unreadable(0, f"the file is larger than {most:,} bytes", "Is this the right file?")
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw[: error.start].count(b"\n") + 1
        raise Unreadable(line, "the file is not in UTF-8", "Save it again with the encoding UTF-8.") from error


def _run_together(tree: Tree) -> set[Path_]:
    """The mappings in which several different keys stand twice: two entries without a line between them."""
    twice: dict[Path_, set[str | int]] = {}
    for _, path, message, _ in tree.problems:
        if message != STILL_TO_FILL:
            twice.setdefault(path[:-1], set()).add(path[-1])
    return {path for path, keys in twice.items() if len(keys) > 1}


def problems_of(tree: Tree, file: str, found: Iterable[Finding]) -> Iterator[Problem]:
    """Findings with their lines, and what the reader itself found.

    Where two entries have run together, the first key that stands twice is said, and what follows from it is not.
    """
    whole = Document(file, None, tree.lines, tree.keys)
    mixed = _run_together(tree)
    for path, message, hint in gather(f for f in found if not any(f[0][: len(m)] == m for m in mixed)):
        yield whole.problem(path, message, hint, "shape")
    for line, path, message, hint in tree.problems:
        if message == STILL_TO_FILL or path[:-1] not in mixed:
            yield Problem(Place(file, line, write_path(path)), message, hint, "shape")
    for base in sorted(mixed, key=str):
        line, path, message, hint = next(p for p in tree.problems if p[1][:-1] == base and p[2] != STILL_TO_FILL)
        yield Problem(Place(file, line, write_path(path)), message, f"{hint} A line above it may be lost.", "shape")


def refuse(name: str, error: Unreadable) -> list[Problem]:
    """The one problem of a file that cannot be read any further."""
    return [Problem(Place(name, error.line), error.message, error.hint, "shape")]
