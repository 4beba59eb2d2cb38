"""The one checker of shape: what it says of each kind of slip, and that files and a browser hear the same of it."""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal

import pytest

from fingerpost.model import words
from fingerpost.model.audience import For, Said, Told
from fingerpost.model.case import Case
from fingerpost.model.protocol import Protocol, TapeUse
from fingerpost.read import validate
from fingerpost.read.library import STILL_TO_FILL, read_case_text, read_plain
from fingerpost.read.merge_findings import gather

RECORDED = Path(__file__).parents[1] / "broken" / "wrong_kinds.txt"
JUNK: tuple[Any, ...] = (
    None, True, 0, 12, 12.0, 1.5, -3, "", " ", "yes", "off", "thumb", "index", "indx", "II", "2026-01-01", "2026-13-99",
    "25.11.2026", "a\n", "\n", "a\u2028b", "a\x85", "x" * 201, "x" * 4001, [], {}, ["a"], {"a": 1}, "<to fill>", 1e300,
    float("inf"), float("nan"), "é", "abc\tdef", 10**14, "٣٣٣٣-٠١-٠١", "10 days", "10 days\n", "-2 days", "12",
    {"says": "a"}, [{"says": "a", "for": {"finger": ["thumb"]}}], {"for": {"grade": ["V"]}, "says": 12},
)  # fmt: skip
# One of each kind of type that the model has.
KINDS: dict[str, Any] = {
    "text": words.Text,
    "line": words.Line,
    "id": words.Id,
    "date": words.IsoDate,
    "span": words.SpanText,
    "grade": words.GradeId,
    "version": words.Version,
    "whole number": int,
    "number": float,
    "yes or no": bool,
    "word": words.Finger,
    "number of a set": Literal[12, 14],
    "line or null": words.Line | None,
    "list of words": tuple[words.Finger, ...],
    "list of numbers": tuple[float, ...],
    "condition": For,
    "pieces": Told,
    "texts": tuple[Said, ...],
    "taping": TapeUse,
}


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
        for junk in JUNK[number % 13 :: 13]:
            yield replaced(data, path, junk)
        if path:
            yield without(data, path)
            if isinstance(path[-1], str):
                yield without(data, path, f"{path[-1]}x")


def record() -> str:
    """What is said of each piece of junk in the place of each kind of type."""
    lines = []
    for name, kind in KINDS.items():
        for junk in JUNK:
            _, found = validate.check(kind, junk)
            told = [f"{list(p) or ''} {m} ({h})" if h else f"{list(p) or ''} {m}" for p, m, h in found]
            lines.append(f"{name} <- {validate.quote(junk)}: {'; '.join(told) or 'fine'}")
    return "\n".join(" ".join(line.split()) for line in lines) + "\n"


def test_each_wrong_kind_gets_its_words() -> None:
    """A slip whose message changes, or that is no longer found, shows as a line that differs."""
    assert record().splitlines() == RECORDED.read_text("utf-8").splitlines()


@pytest.mark.parametrize("name", ["collateral-right-middle", "growth-plate-left-middle", "pulley-left-ring"])
def test_a_case_gets_the_same_findings_from_a_file_and_in_a_browser(name: str, project: Path) -> None:
    path = project / "tests" / "golden" / "cases" / f"{name}.yml"
    data = read_plain(path.read_text(encoding="utf-8"), path.name)
    count = 0
    for broken in [data, *break_it(data)]:
        written = json.dumps(broken).replace("Infinity", "1e999")
        if broken is None or "NaN" in written:  # YAML has no such number here
            continue
        value, told = validate.read_value(Case, broken)
        document, problems = read_case_text(written, "case.yml")
        said = {(p.message, p.hint) for p in problems if p.message != STILL_TO_FILL}
        assert said == {(message, hint) for _, message, hint in gather(told)}, broken
        assert (document is None) == bool(problems), broken
        assert value is None or not told, broken
        assert document is None or document.value == value
        count += bool(told)
    assert count > 150


def test_a_slip_is_told_where_it_is(project: Path) -> None:
    """Whatever stands wrong at a place is told at that place, or below it, and once."""
    path = project / "protocols" / "_example.yml"
    data = read_plain(path.read_text(encoding="utf-8"), path.name)
    assert validate.read_value(Protocol, data)[1] == []
    places = list(list_places(data))
    for number, place in enumerate(places[1::3]):
        value, found = validate.read_value(Protocol, replaced(data, place, JUNK[number % len(JUNK)]))
        told = [path for path, _, _ in found]
        assert len(set(told)) == len(told)
        assert all(path[: len(place)] == place or place[: len(path)] == path for path in told), (place, found)
        assert value is None or not found
