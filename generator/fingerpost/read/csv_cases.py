"""A table (CSV) as cases: one row, one case. What is wrong is told with the line and the title of the column."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from fingerpost.model.case import Case
from fingerpost.model.columns import Column, TableColumns
from fingerpost.model.grammar import choices_of, hints_of, is_class, item_of, strip_none
from fingerpost.model.library import Document
from fingerpost.model.library import Path as Steps
from fingerpost.problems import ContentError, Place, Problem, suggest, write_path
from fingerpost.read import validate
from fingerpost.read.library import read_document, read_text

SEPARATORS = ",;\t"
MAX_BYTES = 50_000_000
_STEP = re.compile(r"\.?([a-z_]+)|\[(\d+)\]")
_YES_NO = {"true": True, "yes": True, "false": False, "no": False}
_NUMBER = re.compile(r"-?\d+(?:[.,]\d+)?")
_DAYS = {
    "day.month.year": re.compile(r"(?P<d>\d{1,2})\.(?P<m>\d{1,2})\.(?P<y>\d{4})"),
    "day/month/year": re.compile(r"(?P<d>\d{1,2})/(?P<m>\d{1,2})/(?P<y>\d{4})"),
    "month/day/year": re.compile(r"(?P<m>\d{1,2})/(?P<d>\d{1,2})/(?P<y>\d{4})"),
}
HOW = "A file of columns (--columns) tells which title stands for which field; templates/project/columns.yml shows how."


@dataclass(frozen=True)
class Row:
    """One row as the plain data of a case. `titles` tells from which column each part came."""

    file: str
    line: int
    data: Mapping[str, Any]
    titles: Mapping[Steps, str]

    def read(self) -> tuple[Document[Case] | None, list[Problem]]:
        """The case of this row, or why there is none."""
        case, findings = validate.read_value(Case, dict(self.data))
        place = Place(self.file, self.line)
        if case is None:
            return None, [self.name_column(Problem(replace(place, path=write_path(p)), m, h)) for p, m, h in findings]
        return Document(self.file, case, {(): self.line}, {}), []

    def name_column(self, problem: Problem) -> Problem:
        """The same problem, at the column instead of the field."""
        names = {write_path(path): title for path, title in self.titles.items()}
        title = names.get(problem.place.path) or names.get(problem.place.path.rpartition("[")[0])
        return replace(problem, place=replace(problem.place, path=f"column '{title}'")) if title else problem


def _read_steps(field: str) -> Steps:
    """The steps of ``began[0].date``; none where it is not written like that."""
    found = list(_STEP.finditer(field))
    if "".join(f.group(0) for f in found) != field:
        return ()
    return tuple(f.group(1) or int(f.group(2)) for f in found)


@cache
def _find_type(steps: Steps) -> Any:
    """The type of a field of a case; None where it is not one that a cell can fill."""
    kind: Any = Case
    for step in steps:
        kind = strip_none(kind)
        kind = item_of(kind) if isinstance(step, int) else hints_of(kind).get(step)
        if kind is None:
            return None
    kind = strip_none(kind)
    return None if not steps or is_class(item_of(kind) or kind) else kind


def _to_value(kind: Any, text: str) -> Any:
    """A cell as the field wants it. What does not fit stays text, and is refused with the words of a case file."""
    if inner := item_of(kind):
        parts = re.split(r"[\s;]+" if inner is float else r"\s*;\s*", text)
        return [_to_value(inner, part) for part in parts if part]
    if kind is bool:
        return _YES_NO.get(text.lower(), text)
    if kind is float:
        return float(text.replace(",", ".")) if _NUMBER.fullmatch(text) else text
    if (choices := choices_of(kind)) and all(isinstance(choice, int) for choice in choices):
        return int(text) if text.isdigit() else text
    return text


def _read_cell(column: Column, text: str) -> Any:
    meaning = next((m.means for m in column.meanings if m.written == text), text)
    if found := column.days in _DAYS and _DAYS[column.days].fullmatch(meaning):
        meaning = f"{found['y']}-{int(found['m']):02}-{int(found['d']):02}"
    return _to_value(_find_type(_read_steps(column.field)), meaning)


def _put(data: dict[str, Any], steps: Steps, value: Any) -> None:
    at: Any = data
    for step in steps[:-1]:
        at = at.setdefault(step, {})
    at[steps[-1]] = value


def _close_up(data: Any, path: Steps, old: Steps, moved: dict[Steps, Steps]) -> Any:
    """Numbered entries as a list without gaps: an empty cell means that there is no such entry."""
    moved[old] = path
    if not isinstance(data, dict):
        return data
    if all(isinstance(key, int) for key in data):
        return [_close_up(data[key], (*path, n), (*old, key), moved) for n, key in enumerate(sorted(data))]
    return {key: _close_up(value, (*path, key), (*old, key), moved) for key, value in data.items()}


def _is_check(field: str) -> bool:
    return _read_steps(field)[:1] == ("checked",)


def _make_row(file: str, line: int, cells: Mapping[str, str], columns: TableColumns) -> Row:
    data: dict[str, Any] = {"began": {}}
    titles: dict[Steps, str] = {}
    for same in columns.always:
        steps = _read_steps(same.field)
        _put(data, steps, _to_value(_find_type(steps), same.value))
    for column in columns.columns:
        if text := cells[column.title].strip():
            steps = _read_steps(column.field)
            _put(data, steps, _read_cell(column, text))
            titles[steps] = column.title
    if "checked" not in {steps[0] for steps in titles} and any(_is_check(c.field) for c in columns.columns):
        data.pop("checked", None)  # a name that stands in every row has checked nobody
    written = {steps[1] for steps in titles if steps[0] == "visits" and len(steps) > 1}
    if "visits" in data:  # nor was a visit, of which the row says nothing
        data["visits"] = {at: visit for at, visit in data["visits"].items() if at in written}
    moved: dict[Steps, Steps] = {}
    closed = {key: _close_up(value, (key,), (key,), moved) for key, value in data.items()}
    closed["began"] = closed["began"] or []
    named = {moved.get(steps, steps): title for steps, title in titles.items()}
    empty = {_read_steps(c.field): c.title for c in columns.columns if _read_steps(c.field) not in titles}
    return Row(file, line, closed, {**empty, **named})


def _find_column_problems(columns: TableColumns, place: Place, titles: list[str]) -> Iterator[Problem]:
    for field in (*(c.field for c in columns.columns), *(a.field for a in columns.always)):
        if _find_type(_read_steps(field)) is None:
            hint = suggest(field, _list_fields()) or f"There are: {', '.join(_list_fields())}."
            yield Problem(place, f"a case has no field '{field}'", hint)
    for column in columns.columns:
        if column.title not in titles:
            hint = suggest(column.title, titles) or f"The titles are: {', '.join(titles)}."
            yield Problem(place, f"the table has no column '{column.title}'", hint)


def _list_fields() -> list[str]:
    """Every field that a cell can fill, with [0] for a first entry."""
    found: list[str] = []

    def walk(kind: Any, steps: Steps) -> None:
        for name, hint in hints_of(kind).items():
            inner, path = strip_none(hint), (*steps, name)
            if is_class(item := item_of(inner)):
                inner, path = item, (*path, 0)
            if is_class(inner):
                walk(inner, path)
            else:
                found.append(write_path(path))

    walk(Case, ())
    return found


def _read_rows(text: str, file: str) -> tuple[list[str], list[tuple[int, list[str]]]]:
    """The titles, and each row that is not empty with its line."""
    first = text.partition("\n")[0]
    separator = max(SEPARATORS, key=first.count)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    rows, line = [], 1
    try:
        for row in reader:
            if any(cell.strip() for cell in row):
                rows.append((line, row))
            line = reader.line_num + 1
    except csv.Error as error:
        hint = 'A cell with a separator or a quote in it stands in "quotes", and a quote in it is written twice.'
        raise ContentError([Problem(Place(file, line), f"this is not a table: {error}", hint)]) from error
    if not rows:
        raise ContentError(
            [Problem(Place(file), "the table is empty", "Its first line has the titles of the columns.")]
        )
    return [title.strip() for title in rows[0][1]], rows[1:]


def read_columns(path: Path, name: str) -> TableColumns:
    """Which column is what, from its file. Raises ContentError."""
    document, problems = read_document(path, TableColumns, name)
    if document is None:
        raise ContentError(problems)
    return document.value


def read_table(path: Path, name: str, columns: TableColumns | None, columns_name: str = "") -> list[Row]:
    """The rows of a table. Without `columns`, the titles are the fields. Raises ContentError."""
    titles, rows = _read_rows(read_text(path, name, MAX_BYTES), name)
    twice = sorted({title for title in titles if titles.count(title) > 1})
    problems = [Problem(Place(name, 1), f"two columns are called '{title}'", "Rename one.") for title in twice]
    plain = columns or TableColumns(columns=tuple(Column(title=title, field=title) for title in titles))
    found = list(_find_column_problems(plain, Place(columns_name or name, 0 if columns else 1), titles))
    problems += [replace(p, hint=f"{p.hint} {HOW}") for p in found] if columns is None else found
    for line, row in rows:
        if len(row) != len(titles):
            hint = "A row has as many cells as there are titles, empty ones too."
            problems.append(Problem(Place(name, line), f"{len(row)} cells, but {len(titles)} titles", hint))
    if problems:
        raise ContentError(problems)
    return [_make_row(name, line, dict(zip(titles, row, strict=True)), plain) for line, row in rows]
