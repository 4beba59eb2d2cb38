"""The whole of `check` for a collection, kept as long as nothing has changed that it depends on.

Only what is about nobody: a run with cases is never kept.
"""

from __future__ import annotations

import gc
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import NamedTuple

from fingerpost.files.cache import Kept
from fingerpost.problems import ContentError, count_problems
from fingerpost.run.inputs import find_clinic, hash_inputs
from fingerpost.run.project import NameOf

TYPE_CHECKING = False
if TYPE_CHECKING:
    from fingerpost.model.library import Library
    from fingerpost.problems import Problem

Load = Callable[[], "Library"]


class Asked(NamedTuple):
    """What is to be checked. `today`: also for reviews that are overdue then. `name`: what a path is called."""

    folder: Path
    cases: tuple[Path, ...]
    today: date | None
    name: NameOf


def _look_at_cases(asked: Asked, library: Library, day: date) -> tuple[list[str], list[Problem]]:
    """(doubts as they are said, problems) of the cases."""
    from fingerpost.plan.person.doubts import find_doubtful_places, say_doubt
    from fingerpost.run.load import load_case

    said: list[str] = []
    found: list[Problem] = []
    for path in asked.cases:
        try:
            document = load_case(path, library, day, asked.name)
        except ContentError as error:
            found += error.problems
        else:
            said += [say_doubt(doubt) for doubt in find_doubtful_places(document, library, day)]
    return said, found


def _look(asked: Asked, kept: Path, load: Load, day: Callable[[], date]) -> tuple[int, str]:
    from fingerpost.reckon.overdue import find_overdue
    from fingerpost.rewrite.files import find_unformatted_content

    said: list[str] = []
    gc.disable()  # nothing that is read is let go again before the end, and looking for that takes a fifth of the time
    try:
        library = load()
        said, found = _look_at_cases(asked, library, asked.today or day()) if asked.cases else ([], [])
        found += find_unformatted_content(asked.folder, asked.name, Kept(kept / "checked"))
        found += find_overdue(library, asked.today) if asked.today else ()
        if found:
            raise ContentError(found)
    except ContentError as error:
        return 1, "\n".join([*said, *map(str, error.problems), count_problems(error.problems)])
    finally:
        gc.freeze()  # nor does the end look for it
        gc.enable()
    good = f"{len(library.protocols)} protocols, {len(library.referrals)} short entries: no problems"
    return 0, "\n".join([*said, good])


def check_all(asked: Asked, kept: Path, load: Load, day: Callable[[], date]) -> tuple[int, str]:
    """(exit status, what is said). `load` reads the collection and applies the rules, `day` tells today's date."""
    names = (asked.name(asked.folder), asked.name(find_clinic(asked.folder)), str(asked.today or ""))
    origin = None if asked.cases else hash_inputs(asked.folder, options=names)
    if origin is None:
        return _look(asked, kept, load, day)

    def look() -> bytes:
        return "{}\n{}".format(*_look(asked, kept, load, day)).encode("utf-8", "surrogatepass")

    results = Kept(kept / "found")
    status, _, said = results.take("check", origin, make=look).decode("utf-8", "surrogatepass").partition("\n")
    results.sweep()
    return int(status), said
