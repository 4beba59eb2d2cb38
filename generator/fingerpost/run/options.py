"""What can be typed on the command line: every command with its arguments."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import Literal

Sort = Literal["handout", "coach"]
"""What is printed of a case: its own sheets, or the page for its coach."""

Command = Callable[[argparse.Namespace], int]
Add = Callable[[str], argparse.ArgumentParser]


def _read_today(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is not a day like 2026-05-01") from None


def _read_jobs(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 512:
        raise argparse.ArgumentTypeError(f"'{text}' is not a number of processes from 1 to 512")
    return int(text)


def _add_many(command: argparse.ArgumentParser) -> None:
    """For a whole clinic's cases at once."""
    command.add_argument("--columns", type=Path, metavar="FILE.yml", help="which column of a table is which field")
    command.add_argument("--jobs", type=_read_jobs, help="how many processes; as many as fit when left out")
    command.add_argument("--resume", action="store_true", help="leave out what an earlier run has printed already")
    command.add_argument("--scheduler", metavar="ADDRESS", help="print on a dask cluster, e.g. tcp://10.0.0.5:8786")


def _add_cases(command: argparse.ArgumentParser, count: str, today: date) -> None:
    command.add_argument("cases", type=Path, nargs=count, metavar="CASE", help="a file, a folder, or a table (.csv)")
    command.add_argument("--today", type=_read_today, default=today, help="the day to print for")


def _add_content(add: Add, today: date) -> None:
    """Commands that look at the collection and make the site."""
    checking = add("check")
    _add_cases(checking, "*", today)
    checking.set_defaults(today=None)
    add("outline").add_argument("id", nargs="?", metavar="ID", help="one page; all when left out")
    add("build")
    add("serve").add_argument("--port", type=int, default=8000)
    add("notice").add_argument("id", nargs="?", default="all", metavar="ID", help="all when left out")
    add("desk").add_argument("--port", type=int, default=0, help="any free one when left out")
    add("drawings")
    add("demo")
    add("refresh")


def _add_people(add: Add, today: date) -> None:
    """Commands about one person's case."""
    printing = add("handout")
    _add_cases(printing, "+", today)
    printing.add_argument("--calendar", action="store_true", help="also a calendar file of the days ahead")
    coaching = add("coach")
    _add_cases(coaching, "+", today)
    _add_many(printing)
    _add_many(coaching)
    planning = add("plan")
    planning.add_argument("case", type=Path, metavar="CASE.yml")
    planning.add_argument("--today", type=_read_today, default=today, help="the day to plan for")
    planning.add_argument("--why", action="store_true", help="the formula behind each number")
    planning.add_argument("--json", action="store_true", help="for machines")


def _add_upkeep(add: Add) -> None:
    """The commands of a maintainer."""
    compare = add("changes")
    compare.add_argument("old", metavar="OLD", help="a revision, or a folder")
    compare.add_argument("new", nargs="?", metavar="NEW", help="the same; the files here when left out")
    compare.add_argument("--markdown", action="store_true", help="for a pull request")
    form = add("fmt")
    form.add_argument("files", type=Path, nargs="*", metavar="FILE", help="all protocols when left out")
    form.add_argument("--check", action="store_true", help="only say which are not")
    start = add("new")
    start.add_argument("kind", choices=("protocol", "case"))
    start.add_argument("id", nargs="?", default="new-case", metavar="ID", help="the name of the file")
    add("whence").add_argument("hash", metavar="HASH", type=str.lower)
    add("where").add_argument("words", nargs="+", metavar="WORDS", help="as they are printed, numbers too")


def make_parser(commands: Sequence[Command], project: Path, today: date) -> argparse.ArgumentParser:
    """A parser for all commands, each called like its function and told of by its docstring."""
    run = {command.__name__: command for command in commands}
    parser = argparse.ArgumentParser(
        prog="fingerpost", description="Protocols for sore fingers: a site and printed sheets."
    )
    parser.add_argument("--protocols", type=Path, default=project / "protocols", help="the folder of protocols")
    parser.add_argument("--out", type=Path, default=project / "build", help="where to put what is made")
    parts = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")

    def add(name: str) -> argparse.ArgumentParser:
        made = parts.add_parser(name, help=run[name].__doc__, description=run[name].__doc__)
        made.set_defaults(run=run[name])
        return made

    _add_content(add, today)
    _add_people(add, today)
    _add_upkeep(add)
    return parser
