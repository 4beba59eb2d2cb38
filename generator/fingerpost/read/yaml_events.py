"""YAML text as plain data with the line of every part. The only importer of the YAML reader.

Texts are parsed as events, so that nothing is built from a tag, an alias or a duplicate key, and deep nesting costs
no stack. Nothing else is needed for it, so that a browser reads case files with the same code.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import yaml

from fingerpost.model import library as lib
from fingerpost.model.library import Document
from fingerpost.model.words import TO_FILL
from fingerpost.problems import Place, Problem, write_path
from fingerpost.read.merge_findings import gather
from fingerpost.read.validate import Finding

Path_ = lib.Path

MAX_BYTES = 1_000_000
MAX_DEPTH = 20
MAX_PARTS = 30_000
MAX_SLIPS = 1_000
REMEMBERED = 1_000
SPECIMEN = "_example.yml"
STILL_TO_FILL = "still to fill"
HOW_TO_FILL = "The comment above it says how to decide, here or in the annotated specimen."
_FAST = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_INT = re.compile(r"[-+]?[0-9]{1,15}")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]{1,3})?")
_HALF = re.compile("[\ud800-\udfff]")
_NULLS = {"", "~", "null", "Null", "NULL"}
_BOOLS = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}
_NO_TEXT = "~nNtTfF+-.0123456789"
"""What a scalar without quotes begins with if it is no text; or it is empty."""


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


def _read_plain(text: str) -> Any:
    """A scalar without quotes by the core schema of YAML 1.2: no dates, no yes and no, no octal surprises."""
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
    line: int = event.start_mark.line
    return line + 1


def _refuse_extras(event: Any) -> None:
    if event.anchor is not None:  # an alias has one too
        raise Unreadable(
            _line(event), "anchors (&) and aliases (*) are not used here", "Write the text out where it is needed."
        )
    if getattr(event, "tag", None):
        raise Unreadable(_line(event), f"the tag '{event.tag}' is not used here", "Leave it out.")


def _refuse_half_signs(event: Any) -> None:
    """An escape such as "\\ud83d" is half of a sign: it is no letter, and no file can hold it."""
    if half := _HALF.search(event.value):
        raise Unreadable(_line(event), f"'\\u{ord(half.group()):x}' is half a sign", "Write the sign itself.")


def _refuse_too_many(parts: int, slips: int, event: Any) -> None:
    """A file that goes on and on is not read to its end, and not answered with as many messages."""
    if parts > MAX_PARTS:
        raise Unreadable(_line(event), f"a file may have {MAX_PARTS:,} parts at the most", "Is this the right file?")
    if slips > MAX_SLIPS:
        raise Unreadable(_line(event), f"up to here there are {slips:,} slips", "Is this the right file?")


@dataclass(slots=True)
class _Open:
    """A container that is being filled, and in a mapping the key that waits for its value, with its line."""

    path: Path_
    container: Any
    is_mapping: bool
    key: str | None = None
    key_line: int = 0


class _Builder:
    """Builds plain data from events with a stack of open containers.

    `escaped`: whether the text holds a backslash, without which no scalar can hold half a sign.
    """

    def __init__(self, escaped: bool) -> None:
        self.tree = Tree()
        self._escaped = escaped
        self._stack: list[_Open] = []
        self._documents = 0
        self._takers: dict[type, Callable[[Any], None]] = {
            yaml.SequenceStartEvent: self._take_start,
            yaml.MappingStartEvent: self._take_start,
            yaml.SequenceEndEvent: self._take_end,
            yaml.MappingEndEvent: self._take_end,
            yaml.AliasEvent: _refuse_extras,
            yaml.DocumentStartEvent: self._take_document,
        }

    def build(self, events: Iterable[Any]) -> Tree:
        """Most of all events are scalars and most of those are whole when they come: they take the short way."""
        slips, stack, escaped = self.tree.problems, self._stack, self._escaped
        scalar, takers, attach = yaml.ScalarEvent, self._takers, self._attach
        for number, event in enumerate(events):
            if number > MAX_PARTS or len(slips) > MAX_SLIPS:
                _refuse_too_many(number, len(slips), event)
            if type(event) is not scalar:
                if taker := takers.get(type(event)):
                    taker(event)
                continue
            if event.anchor is not None or event.tag is not None:
                _refuse_extras(event)
            text: str = event.value
            if escaped:
                _refuse_half_signs(event)
            if stack and (top := stack[-1]).key is None and top.is_mapping:
                top.key, top.key_line = text, _line(event)
                continue
            quoted = event.style  # or folded: always text
            path = attach(_read_plain(text) if not quoted and text[:1] in _NO_TEXT else text, event)
            if text == TO_FILL:
                slips.append((_line(event), path, STILL_TO_FILL, HOW_TO_FILL))
        return self.tree

    def _take_document(self, event: Any) -> None:
        self._documents += 1
        if self._documents > 1:
            raise Unreadable(_line(event), "only one document may stand in a file", "Remove the line '---'.")

    def _take_start(self, event: Any) -> None:
        if event.anchor is not None or event.tag is not None:
            _refuse_extras(event)
        top = self._stack[-1] if self._stack else None
        if top and top.is_mapping and top.key is None:
            raise Unreadable(_line(event), "a key must be a plain word")
        if len(self._stack) >= MAX_DEPTH:
            raise Unreadable(_line(event), f"lists and mappings may be nested {MAX_DEPTH} deep at the most")
        is_mapping = isinstance(event, yaml.MappingStartEvent)
        container: Any = {} if is_mapping else []
        self._stack.append(_Open(self._attach(container, event), container, is_mapping))

    def _take_end(self, event: Any) -> None:
        closed = self._stack.pop()
        if closed.is_mapping:
            self.tree.keys[closed.path] = tuple(closed.container)

    def _attach(self, value: Any, event: Any) -> Path_:
        tree = self.tree
        if not self._stack:
            tree.data, tree.lines[()] = value, _line(event)
            return ()
        top = self._stack[-1]
        container, key = top.container, top.key
        if key is None:
            path: Path_ = (*top.path, len(container))
            container.append(value)
            tree.lines[path] = _line(event)
            return path
        top.key = None
        path = (*top.path, key)
        if key in container:
            first = f"First on line {tree.lines[path]}."
            tree.problems.append((top.key_line, path, f"the key '{key}' stands here twice", first))
        else:
            container[key], tree.lines[path] = value, top.key_line
        return path


def parse(text: str, fast: bool = True) -> Tree:
    """The plain data of a text. Raises Unreadable where it is not YAML, or not the kind of YAML that is read here.

    `fast`: with the compiled reader where there is one. What is wrong is always said by the other one, so that the
    words and the line are the same on every machine.
    """
    try:
        tree = _Builder("\\" in text).build(yaml.parse(text, Loader=_FAST if fast else yaml.SafeLoader))
    except yaml.YAMLError as error:
        if fast:
            return parse(text, fast=False)
        raise _word(text, error) from error
    if tree.data is None:
        raise Unreadable(0, "the file is empty", f"Begin from the annotated specimen, protocols/{SPECIMEN}.")
    return tree


@lru_cache(maxsize=REMEMBERED)
def parse_once(text: str) -> Tree:
    """The same for a text that is looked at again, as that of a protocol is. It must not be changed."""
    return parse(text)


def _word(text: str, error: yaml.YAMLError) -> Unreadable:
    if isinstance(error, yaml.MarkedYAMLError):
        if error.context == "while scanning a quoted scalar" and error.context_mark:
            # What was opened there swallows all lines below it: the end of the file is not where to look.
            hint = "A quotation mark opens here and does not close."
            return Unreadable(error.context_mark.line + 1, f"this is not YAML: {error.problem}", hint)
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
