"""A run of cases from beginning to end: which they are, what is written, what is said, and how it came out."""

from __future__ import annotations

import os
import time
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, field
from pathlib import Path

from fingerpost.files.disk import make_private, write_whole
from fingerpost.files.telling import Tell
from fingerpost.plan.person.doubts import say_doubt
from fingerpost.problems import ContentError, Place, Problem
from fingerpost.read.csv_cases import read_columns, read_table
from fingerpost.read.library import read_text
from fingerpost.run.project import NameOf
from fingerpost.run.resume import Printed
from fingerpost.run.workers import Kit, Made, Order, key_of, make_all

Log = Callable[[Path, str], str]
"""Writes the visit of a printed case into its file, whose text it is given, and tells what it did."""

_NO_CASES = "Cases are files that end in .yml; a folder is searched, with the folders in it."


def list_orders(paths: Sequence[Path], columns: Path | None, name: NameOf) -> list[Path | Order]:
    """Every case that is named: files, those in folders, the rows of tables. Files are opened later, one by one.

    Raises ContentError where a table cannot be read, or a folder holds no case.
    """
    if columns and not any(path.suffix.lower() == ".csv" for path in paths):
        hint = "Name the table beside it, or leave --columns out."
        raise ContentError([Problem(Place(name(columns)), "columns belong to a table (.csv), and none is named", hint)])
    known = read_columns(columns, name(columns)) if columns else None
    found: list[Path | Order] = []
    for path in paths:
        if os.path.isdir(path) and not os.path.islink(path):  # which take any name, however odd
            inside = sorted(p for p in path.rglob("*.yml") if not p.name.startswith("."))
            if not inside:
                raise ContentError([Problem(Place(name(path)), "there is no case in this folder", _NO_CASES)])
            found += inside
        elif path.suffix.lower() == ".csv":
            rows = read_table(path, name(path), known, name(columns) if columns else "")
            found += [Order(f"{row.file}:{row.line}", row) for row in rows]
        else:
            found.append(path)
    return found


def _open(found: Path | Order, name: NameOf) -> Order:
    if isinstance(found, Order):
        return found
    try:
        return Order(name(found), read_text(found, name(found)))
    except ContentError as error:
        return Order(name(found), error.problems)


def write_duration(seconds: float) -> str:
    """A time to wait, in the largest unit that says something."""
    for size, unit in ((3600, "hour"), (60, "minute"), (1, "second")):
        if seconds >= 1.5 * size or size == 1:
            count = max(1, round(seconds / size))
            return f"{count} {unit}{'s' if count > 1 else ''}"
    return ""


@dataclass
class Progress:
    """How far a run is, and how it came out."""

    total: int
    printed: int = 0
    there: int = 0
    refused: dict[str, tuple[Problem, ...]] = field(default_factory=dict)
    failed: dict[str, str] = field(default_factory=dict)
    unlogged: list[Problem] = field(default_factory=list)
    _begun: float = field(default_factory=time.monotonic)
    _told: float = 0.0

    @property
    def done(self) -> int:
        return self.printed + self.there + len(self.refused) + len(self.failed)

    def say_progress(self) -> str:
        """Where it is, how fast, and how long it will take; '' while that was said a moment ago."""
        now = time.monotonic()
        if now - self._told < 2 or self.done == self.total:
            return ""
        self._told = now
        worked = self.done - self.there
        rate = worked / max(now - self._begun, 0.001)
        left = f", {rate:.1f} a second, {write_duration((self.total - self.done) / rate)} left" if worked else ""
        return f"{self.done:,} of {self.total:,}{left}"

    def write_summary(self) -> list[str]:
        """A table of how it came out; nothing for a single case."""
        if self.total == 1:
            return []
        reasons = Counter(problem.message for found in self.refused.values() for problem in found[:1])
        rows = [("printed", self.printed, ""), ("printed before", self.there, "")]
        rows.append(("refused", len(self.refused), "; ".join(f"{n} × {m}" for m, n in reasons.most_common(3))))
        reasons = Counter(self.failed.values())
        rows.append(("failed", len(self.failed), "; ".join(f"{n} × {m}" for m, n in reasons.most_common(3))))
        return [f"{what:<15}{count:>6,}  {why}".rstrip() for what, count, why in rows if count]


def print_all(
    kit: Kit,
    found: Sequence[Path | Order],
    opener: Callable[[], Executor],
    workers: int,
    folder: Path,
    resume: bool,
    name: NameOf,
    say: Tell,
    tell: Tell,
    log: Log | None = None,
) -> Progress:
    """Print every case into `folder`. `say` gets what is made, `tell` how far it is."""
    run, printed = Progress(len(found)), Printed(folder, used=len(found) > 1)

    files: dict[str, Path] = {}

    def take() -> Iterator[Order]:
        for one in found:
            order = _open(one, name)
            if isinstance(one, Path):
                files[order.name] = one
            if resume and printed.find(key_of(kit, order)) is not None:
                run.there += 1
            else:
                yield order

    for order, made in make_all(kit, take(), opener, workers):
        _settle(run, kit, order, made, printed, name, say)
        if log and made.files and order.name in files:
            _log(run, log, files[order.name], str(order.source), say)
        if progress := run.say_progress():
            tell(progress)
    for line in run.write_summary():
        say(line)
    return run


def _log(run: Progress, log: Log, path: Path, printed: str, say: Tell) -> None:
    try:
        say(log(path, printed))
    except ContentError as error:
        run.unlogged += error.problems


def _settle(run: Progress, kit: Kit, order: Order, made: Made, printed: Printed, name: NameOf, say: Tell) -> None:
    if made.problems:
        run.refused[order.name] = made.problems
    elif made.failed:
        run.failed[order.name] = made.failed
    else:
        run.printed += 1
        for file, content in made.files.items():
            make_private(printed.folder)
            write_whole(printed.folder / file, content, 0o600)
            say(f"{order.name}: {name(printed.folder / file)}")
        if made.files:
            printed.add(key_of(kit, order), tuple(made.files))
        for doubt in made.doubts:
            say(say_doubt(doubt))
        if made.note:
            say(f"{order.name}: {made.note}")
