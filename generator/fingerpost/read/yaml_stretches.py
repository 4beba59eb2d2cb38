"""Where each part of a YAML text stands, for finding what its comments belong to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import yaml

from fingerpost.model.library import Path
from fingerpost.read.yaml_events import Unreadable


@dataclass(frozen=True)
class Stretch:
    """A key or an item, and from where to where it stands: lines and columns from 0, the end not included.

    `scalar`: a plain piece of text or number, so that a '#' inside it begins no comment.
    """

    path: Path
    line: int
    column: int
    value_line: int
    value_column: int
    end_line: int
    end_column: int
    scalar: bool


def _list_below(node: yaml.Node, path: Path, line: int, column: int) -> Iterator[Stretch]:
    start, end = node.start_mark, node.end_mark
    if path:
        scalar = isinstance(node, yaml.ScalarNode)
        yield Stretch(path, line, column, start.line, start.column, end.line, end.column, scalar)
    if isinstance(node, yaml.MappingNode):
        for key, value in node.value:
            at = key.start_mark
            yield from _list_below(value, (*path, key.value), at.line, at.column)
    elif isinstance(node, yaml.SequenceNode):
        for number, item in enumerate(node.value):
            # The dash stands before a block item, nothing before one in brackets.
            at = item.start_mark
            yield from _list_below(item, (*path, number), at.line, at.column - (0 if node.flow_style else 2))


def list_stretches(text: str) -> list[Stretch]:
    """Every key and item of a text with its place, in the order of the file. Raises Unreadable."""
    try:
        root = yaml.compose(text, Loader=yaml.SafeLoader)
    except yaml.YAMLError as error:
        raise Unreadable(0, "this is not YAML") from error
    return list(_list_below(root, (), 0, 0)) if root else []
