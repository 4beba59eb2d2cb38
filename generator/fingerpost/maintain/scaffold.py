"""New files from the annotated specimens: what an author has to decide stands open, and the check names it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

from fingerpost.model.case import Case
from fingerpost.model.grammar import defaults_of, fields_of
from fingerpost.model.protocol import Protocol
from fingerpost.model.words import ID_SHAPE, KEPT_BY_WINDOWS, TO_FILL
from fingerpost.problems import ContentError, Place, Problem
from fingerpost.read.library import SPECIMEN, read_library, read_plain
from fingerpost.read.texts import read_as_it_is
from fingerpost.rewrite.canonical import rewrite_as

Name = Callable[[Path], str]

# Keys that stay as the specimen has them, at any depth: the frame that most protocols share.
_FRAME = frozenset({"milestone", "load", "taping_ends"})
_STAGE = frozenset({"id", "name"})


def open_up(value: Any) -> Any:
    """The same shape with everything to fill in. Lists keep one entry; what is empty or null stays so."""
    if isinstance(value, dict):
        return {key: part if key in _FRAME else open_up(part) for key, part in value.items()}
    if isinstance(value, list):
        return [open_up(value[0])] if value else []
    return None if value is None else TO_FILL


def _open_grips(grips: dict[str, Any]) -> dict[str, Any]:
    """Grips of a stage: all of them left out until the author says which are fine."""
    limited = [grip for limit in grips["limit"] for grip in limit["grips"]]
    every = [*grips["leave"], *limited, *grips["keep"]]
    return {"keep": open_up(grips["keep"]), "limit": open_up(grips["limit"]), "leave": every}


def _open_stage(stage: dict[str, Any]) -> dict[str, Any]:
    made: dict[str, Any] = open_up(stage)
    made |= {key: stage[key] for key in _STAGE}
    made["grips"] = _open_grips(stage["grips"])
    made["windows"] = [{**open_up(window), "grade": window["grade"]} for window in stage["windows"]]
    return made


def open_protocol(specimen: dict[str, Any], wanted: str, today: date) -> dict[str, Any]:
    """A protocol whose frame stands: stages, one grade, a draft written today. Everything else is to fill in."""
    made: dict[str, Any] = open_up(specimen)
    made["id"] = wanted
    made["status"] = {
        "version": "0.1.0",
        "written": today.isoformat(),
        "reviewed": None,
        "next_review": _a_year_later(today).isoformat(),
        "state": "draft",
        "reviewer_role": None,
        "funding": TO_FILL,
    }
    made["grades"] = [{**open_up(grade), "id": grade["id"]} for grade in specimen["grades"]]
    made["timelines"] = [{**open_up(line), "grade": line["grade"]} for line in specimen["timelines"]]
    made["stages"] = [_open_stage(stage) for stage in specimen["stages"]]
    return made


def _a_year_later(day: date) -> date:
    return day.replace(year=day.year + 1, day=28 if (day.month, day.day) == (2, 29) else day.day)


def open_case(specimen: dict[str, Any]) -> dict[str, Any]:
    """A case with the keys that every case needs."""
    needed = set(fields_of(Case)) - set(defaults_of(Case))
    return {key: open_up(value) for key, value in specimen.items() if key in needed}


def _write(text: str, kind: type, name: str, head: str, change: Callable[[dict[str, Any]], dict[str, Any]]) -> str:
    specimen = read_plain(text, name)
    if not isinstance(specimen, dict):
        raise ContentError([Problem(Place(name), "the specimen must hold keys and values")])
    made = rewrite_as(text, change(specimen), kind, name)
    _, blank, rest = made.partition("\n\n")
    return head + "\n" + (rest if blank else made)


PROTOCOL_HEAD = """\
# yaml-language-server: $schema=schema/protocol.json
# A new protocol. `./run check` names everything that still says <to fill>; protocols/README.md says how to begin.
# Above each key stands how to decide. Take these comments out when you are done.
"""
CASE_HEAD = """\
# A new case, with the keys that every case needs. `./run check FILE` names everything that still says <to fill>.
# templates/project/case.yml has every other key: test results, finger sizes, dates that matter, the letterhead.
"""


def write_protocol(specimen: str, name: str, wanted: str, today: date) -> str:
    """A new protocol from the text of the annotated specimen. `name` is how the specimen is called in messages."""
    return _write(specimen, Protocol, name, PROTOCOL_HEAD, lambda data: open_protocol(data, wanted, today))


def write_case(specimen: str, name: str) -> str:
    """A new case from the text of the annotated specimen of a case."""
    return _write(specimen, Case, name, CASE_HEAD, open_case)


def _refuse(place: str, message: str, hint: str = "") -> ContentError:
    return ContentError([Problem(Place(place), message, hint)])


def plan_new(kind: str, wanted: str, protocols: Path, project: Path, today: date, name: Name) -> tuple[Path, str]:
    """(path, text) of a new protocol or case. Raises ContentError for an id that is none, is taken or was given up."""
    if not ID_SHAPE.fits(wanted):
        raise _refuse(wanted, ID_SHAPE.must)
    if wanted in KEPT_BY_WINDOWS:
        raise _refuse(wanted, "no file can be called this on Windows", "Choose another.")
    if kind == "case":
        path, specimen = project / "cases" / f"{wanted}.yml", project / "templates" / "project" / "case.yml"
    else:
        path, specimen = protocols / f"{wanted}.yml", protocols / SPECIMEN
        retired = read_library(protocols)[0].vocabularies.retired
        if any(entry.id == wanted for entry in retired):
            raise _refuse(wanted, "this id was given up, and its address leads to another page", "Choose another.")
    for taken in (path, *([protocols / "refer" / path.name] if kind != "case" else [])):
        if taken.exists():
            raise _refuse(name(taken), "there is such a file already", "Nothing was written.")
    text = read_as_it_is(specimen)
    if kind == "case":
        return path, write_case(text, name(specimen))
    return path, write_protocol(text, name(specimen), wanted, today)
