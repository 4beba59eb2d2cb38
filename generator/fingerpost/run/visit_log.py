"""Writing the visit that was printed into the file of its case: whole or not at all, with the comments kept."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path

from fingerpost.files.disk import write_whole
from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.model.library import Path as Steps
from fingerpost.model.times import write_date
from fingerpost.plan.case.file import to_plain
from fingerpost.problems import ContentError, Place, Problem
from fingerpost.read.library import read_case_text, read_plain, read_text
from fingerpost.reckon.visits import log_visit
from fingerpost.rewrite.canonical import rewrite_as
from fingerpost.run.project import NameOf


def _move(path: Steps) -> Steps:
    """Where a part of `checked` stands in the log: its comments go with it."""
    if path[:1] != ("checked",):
        return path
    return ("visits", 0, *path[1:]) if path[1:] in (("date",), ("stage",)) else ("visits", 0, *path)


def _stay(path: Steps) -> Steps:
    return path


def add_visit(text: str, library: Library, today: date, name: str) -> tuple[str, date]:
    """(the text of a case with the visit in its log that was printed, the day of that visit).

    Only for a case that was printed. Raises ContentError where it cannot be written without changing what it says.
    """
    clean = text.removeprefix("\ufeff").replace("\r\n", "\n")
    document, problems = read_case_text(clean, name)
    if document is None:
        raise ContentError(problems)
    logged = log_visit(document.value, today, library.content_hashes.get(document.value.protocol))
    data = dict(read_plain(clean, name))
    stood_alone = data.pop("checked", None) is not None
    kept = list(data.get("visits") or ())[: len(logged.visits) - 1]
    data["visits"] = [*kept, *to_plain(logged.visits[len(kept) :])]
    return rewrite_as(clean, data, Case, name, _move if stood_alone else _stay), logged.visits[-1].date.day


def write_visit(path: Path, printed: str, library: Library, today: date, name: NameOf) -> str:
    """Write the visit into the file of a case and say so. `printed`: the text of the file that was printed.

    Raises ContentError where the file was written in the meantime, or would not mean the same afterwards.
    """
    if read_text(path, name(path)) != printed:
        message = "somebody else wrote this file in the meantime, and the visit is not in it"
        raise ContentError([Problem(Place(name(path)), message, "Print it again.")])
    made, day = add_visit(printed, library, today, name(path))
    if made != printed:
        write_whole(path, made.encode(), path.stat().st_mode & 0o777)
    return f"{name(path)}: the visit of {write_date(day)} is in its log"


def open_log(paths: Sequence[Path], library: Library, today: date, name: NameOf) -> Callable[[Path, str], str]:
    """What writes the visit of a printed case into its file: see `write_visit`. Raises ContentError for a table."""
    if found := [path for path in paths if path.suffix.lower() == ".csv"]:
        hint = "Name case files, or leave --log out."
        raise ContentError(Problem(Place(name(path)), "a table keeps no log of visits", hint) for path in found)
    return lambda path, printed: write_visit(path, printed, library, today, name)
