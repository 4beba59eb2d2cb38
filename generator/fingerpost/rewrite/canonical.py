"""Write a file anew in canonical form: the same meaning always looks the same, so that a diff shows what changed."""

from __future__ import annotations

import io
import json
from collections.abc import Callable, Iterable, Iterator
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml import __version__ as ruamel_version
from ruamel.yaml.error import YAMLError
from ruamel.yaml.nodes import MappingNode, Node, SequenceNode
from ruamel.yaml.resolver import VersionedResolver

from fingerpost.model.case import Case
from fingerpost.model.grammar import hints_of
from fingerpost.model.library import Path
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.shared import Vocabularies
from fingerpost.problems import ContentError, Place, Problem
from fingerpost.read.library import read_plain
from fingerpost.rewrite.arrange import STEP, WIDTH, arrange
from fingerpost.rewrite.comments import Stretch, find_notes, first_difference, put_notes

RULE = "canonical-form"
WRITER = f"ruamel.yaml {ruamel_version}"


def find_kind(name: str) -> Any:
    """The model class of a file, from its place below the folder of protocols; a case where it has none."""
    folder, _, stem = name.removesuffix(".yml").rpartition("/")
    if folder == "shared":
        return hints_of(Vocabularies).get(stem)
    return {"": Protocol, "refer": Referral}.get(folder, Case)


class _Resolver(VersionedResolver):
    """Dates are text here, as they are to the reader of files."""

    def resolve(self, kind: Any, value: Any, implicit: Any) -> Any:
        tag = super().resolve(kind, value, implicit)
        return type(tag)(suffix="tag:yaml.org,2002:str") if str(tag).endswith(":timestamp") else tag


def _make_writer() -> YAML:
    writer = YAML()
    writer.Resolver = _Resolver
    writer.width = 100_000
    writer.indent(mapping=STEP, sequence=2 * STEP, offset=STEP)
    writer.representer.add_representer(
        type(None), lambda representer, _: representer.represent_scalar("tag:yaml.org,2002:null", "null")
    )
    return writer


def write_plain(data: Any, kind: Any) -> str:
    """Plain data as canonical YAML without comments."""
    out = io.StringIO()
    if isinstance(data, list) and data:
        arranged = arrange(data, kind, WIDTH, 0)
        _make_writer().dump(arranged, out)
        return "\n".join(line.removeprefix(" " * STEP) for line in out.getvalue().split("\n"))
    _make_writer().dump(arrange(data, kind, 0, 0), out)
    return out.getvalue()


def _same(one: Any, other: Any) -> bool:
    """Whether plain data is the same, true and 1 being different."""
    return json.dumps(one, sort_keys=True) == json.dumps(other, sort_keys=True)


def _list_parts(node: Node, path: Path, line: int, column: int) -> Iterator[Stretch]:
    """Every key and item of a document with its place, in the order of the file."""
    start, end = node.start_mark, node.end_mark
    scalar = not isinstance(node, (MappingNode, SequenceNode))
    if path:
        yield Stretch(path, line, column, start.line, start.column, end.line, end.column, scalar)
    if isinstance(node, MappingNode):
        for key, value in node.value:
            at = key.start_mark
            yield from _list_parts(value, (*path, key.value), at.line, at.column)
    elif isinstance(node, SequenceNode):
        for number, item in enumerate(node.value):
            # The dash stands before a block item, nothing before one in brackets.
            at = item.start_mark
            yield from _list_parts(item, (*path, number), at.line, at.column - (0 if node.flow_style else STEP))


def list_parts(text: str) -> list[Stretch]:
    """Every key and item of a YAML text with its place. Raises YAMLError where it cannot be read."""
    root = YAML().compose(text)
    return list(_list_parts(root, (), 0, 0)) if root else []


def _refuse(name: str) -> ContentError:
    message = "this file cannot be written in canonical form without changing what it says"
    return ContentError([Problem(Place(name), message, "It is left as it was.", RULE)])


def _hold(made: str, data: Any, name: str) -> None:
    """Refuse a text that does not say exactly what it should. Raises ContentError."""
    try:
        same = _same(read_plain(made, name), data)
    except ContentError:
        same = False
    if not same:
        raise _refuse(name)


def rewrite_as(text: str, data: Any, kind: Any, name: str) -> str:
    """Canonical YAML of plain data, with the comments of a text that has the same parts. See `rewrite`."""
    body = write_plain(data, kind)
    _hold(body, data, name)
    try:
        made = put_notes(find_notes(list_parts(text), text), list_parts(body), body)
    except YAMLError:  # what this library cannot read though the reader of files can
        raise _refuse(name) from None
    _hold(made, data, name)
    return made


def rewrite(text: str, kind: Any, name: str) -> str:
    """The same file in canonical form. `name` is how the file is called in messages.

    Raises ContentError where the file cannot be read, or where it would not mean the same afterwards.
    """
    clean = text.removeprefix("\ufeff").replace("\r\n", "\n")
    return rewrite_as(clean, read_plain(clean, name), kind, name)


def find_first(text: str, kind: Any, name: str) -> int:
    """The first line (from 1) that is not as canonical form has it; 0 where all are.

    Raises ContentError where the file cannot be read.
    Why: looking for comments takes long, and it is not needed. But for them, a canonical file is what its data gives.
    """
    return first_difference(text, write_plain(read_plain(text.removeprefix("\ufeff"), name), kind))


FindFirst = Callable[[str, Any, str], int]


def find_unformatted(files: Iterable[tuple[str, str, Any]], find: FindFirst = find_first) -> Iterator[Problem]:
    """A file must be in canonical form.

    Each file is (name for messages, text, kind); what cannot be read is passed over. `find`: what does the work of
    `find_first`, or remembers that it is done.
    """
    for name, text, kind in files:
        try:
            line = find(text, kind, name)
        except ContentError:
            continue
        if line:
            hint = f"This writes it so, and changes nothing that it says: ./run fmt {name}"
            yield Problem(Place(name, line), "the file must be in canonical form from here on", hint, RULE)
