"""Both checkers of shape, the one with pydantic and the plain one, say the same of anything that is wrong."""

from __future__ import annotations

import copy
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from fingerpost.model.case import Case
from fingerpost.model.protocol import Protocol
from fingerpost.read import validate
from fingerpost.read.library import _shape, read_plain

JUNK: tuple[Any, ...] = (
    None, True, 0, 12, 12.0, 1.5, -3, "", " ", "yes", "thumb", "index", "II", "2026-01-01", "2026-13-99", "a\n", "\n",
    "a\u2028b", "a\x85", "x" * 201, "x" * 4001, [], {}, ["a"], {"a": 1}, "<to fill>", 1e300, "é", "abc\tdef", 10**14,
    "٣٣٣٣-٠١-٠١",
)  # fmt: skip


def list_places(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    yield path
    parts = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for step, value in parts:
        yield from list_places(value, (*path, step))


def replaced(data: Any, path: tuple[Any, ...], value: Any) -> Any:
    if not path:
        return value
    changed = copy.deepcopy(data)
    *around, last = path
    place = changed
    for step in around:
        place = place[step]
    place[last] = value
    return changed


def without(data: Any, path: tuple[Any, ...], instead: str = "") -> Any:
    """The data with a part left out, or under another name."""
    changed = replaced(data, path, None)
    *around, last = path
    place = changed
    for step in around:
        place = place[step]
    del place[last]
    if instead:
        place[instead] = 1
    return changed


def break_it(data: Any) -> Iterator[Any]:
    for number, path in enumerate(list_places(data)):
        for junk in JUNK[number % 3 :: 3]:
            yield replaced(data, path, junk)
        if path:
            yield without(data, path)
            if isinstance(path[-1], str):
                yield without(data, path, f"{path[-1]}x")


def said_of(found: list[Any]) -> list[str]:
    return sorted(map(str, found))


@pytest.mark.parametrize("name", ["collateral-right-middle", "growth-plate-left-middle", "pulley-left-ring"])
def test_a_case_gets_the_same_findings(name: str, project: Path) -> None:
    path = project / "tests" / "golden" / "cases" / f"{name}.yml"
    data = read_plain(path.read_text(encoding="utf-8"), path.name)
    count = 0
    for broken in [data, *break_it(data)]:
        value, found = _shape(Case, broken)
        plain, told = validate.read_value(Case, broken)
        assert (plain, said_of(told)) == (value, said_of(found)), broken
        count += bool(found)
    assert count > 150


def test_a_protocol_is_read_alike(project: Path) -> None:
    path = project / "protocols" / "pulley.yml"
    data = read_plain(path.read_text(encoding="utf-8"), path.name)
    assert validate.read_value(Protocol, data) == _shape(Protocol, data)
