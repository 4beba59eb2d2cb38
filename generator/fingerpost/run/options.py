"""What can be typed on the command line: every command with its arguments."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Sequence

TYPE_CHECKING = False
if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path

Command = Callable[[argparse.Namespace], int]
Fill = Callable[[argparse.ArgumentParser], object]


def _to_path(text: str) -> Path:
    from pathlib import Path  # only now: `--help` reads no path

    return Path(text)


def _read_today(text: str) -> date:
    from datetime import date

    try:
        return date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f"'{text}' is not a day like 2026-05-01") from None


def _read_jobs(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= 512:
        raise argparse.ArgumentTypeError(f"'{text}' is not a number of processes from 1 to 512")
    return int(text)


def _add_cases(command: argparse.ArgumentParser, count: str) -> None:
    told = "a file, a folder, or a table (.csv)"
    command.add_argument("cases", type=_to_path, nargs=count, metavar="CASE", help=told)
    command.add_argument("--today", type=_read_today, help="the day to print for")


def _fill_check(command: argparse.ArgumentParser) -> None:
    _add_cases(command, "*")


def _fill_coach(command: argparse.ArgumentParser) -> None:
    """For a whole clinic's cases at once."""
    _add_cases(command, "+")
    told = "which column of a table is which field"
    command.add_argument("--columns", type=_to_path, metavar="FILE.yml", help=told)
    command.add_argument("--jobs", type=_read_jobs, help="how many processes; as many as fit when left out")
    command.add_argument("--resume", action="store_true", help="leave out what an earlier run has printed already")
    command.add_argument("--scheduler", metavar="ADDRESS", help="print on a dask cluster, e.g. tcp://10.0.0.5:8786")


def _fill_handout(command: argparse.ArgumentParser) -> None:
    _fill_coach(command)
    command.add_argument("--log", action="store_true", help="write the visit that is printed into each case file")
    command.add_argument("--calendar", action="store_true", help="also a calendar file of the days ahead")


def _fill_plan(command: argparse.ArgumentParser) -> None:
    command.add_argument("case", type=_to_path, metavar="CASE.yml")
    command.add_argument("--today", type=_read_today, help="the day to plan for")
    command.add_argument("--why", action="store_true", help="the formula behind each number")
    command.add_argument("--json", action="store_true", help="for machines")


def _fill_changes(command: argparse.ArgumentParser) -> None:
    command.add_argument("old", metavar="OLD", help="a revision, or a folder")
    command.add_argument("new", nargs="?", metavar="NEW", help="the same; the files here when left out")
    command.add_argument("--markdown", action="store_true", help="for a pull request")


def _fill_fmt(command: argparse.ArgumentParser) -> None:
    command.add_argument("files", type=_to_path, nargs="*", metavar="FILE", help="all protocols when left out")
    command.add_argument("--check", action="store_true", help="only say which are not")


def _fill_new(command: argparse.ArgumentParser) -> None:
    command.add_argument("kind", choices=("protocol", "case"))
    command.add_argument("id", nargs="?", default="new-case", metavar="ID", help="the name of the file")


def _fill_build(command: argparse.ArgumentParser) -> None:
    command.add_argument("--fresh", action="store_true", help="make everything anew, whatever was made before")


def _fill_leaf(command: argparse.ArgumentParser) -> None:
    from fingerpost.model.grammar import choices_of
    from fingerpost.model.words import Paper, PrintSize

    command.add_argument("id", metavar="ID", help="an injury, or an entry 'see somebody first'")
    command.add_argument("--paper", choices=choices_of(Paper), default="A4", help="A4 when left out")
    told = "of the letters, in points: 12 when left out"
    command.add_argument("--print-size", type=int, choices=choices_of(PrintSize), default=12, help=told)


FILL: dict[str, Fill] = {
    "check": _fill_check,
    "outline": lambda c: c.add_argument("id", nargs="?", metavar="ID", help="one page; all when left out"),
    "build": _fill_build,
    "serve": lambda c: c.add_argument("--port", type=int, default=8000),
    "desk": lambda c: c.add_argument("--port", type=int, default=0, help="any free one when left out"),
    "notice": lambda c: c.add_argument("id", nargs="?", default="all", metavar="ID", help="all when left out"),
    "leaf": _fill_leaf,
    "handout": _fill_handout,
    "coach": _fill_coach,
    "plan": _fill_plan,
    "changes": _fill_changes,
    "fmt": _fill_fmt,
    "new": _fill_new,
    "whence": lambda c: c.add_argument("hash", metavar="HASH", type=str.lower),
    "where": lambda c: c.add_argument("words", nargs="+", metavar="WORDS", help="as they are printed, numbers too"),
}
"""The arguments of a command, where it has any."""


def _make_parser(commands: Sequence[Command], arguments: Sequence[str]) -> argparse.ArgumentParser:
    """A parser for all commands, each called like its function and told of by its docstring.

    Only those that stand among the arguments get arguments of their own: the others are not asked for.
    """
    parser = argparse.ArgumentParser(
        prog="fingerpost", description="Protocols for sore fingers: a site and printed sheets."
    )
    parser.add_argument("--protocols", type=_to_path, help="the folder of protocols")
    parser.add_argument("--out", type=_to_path, help="where to put what is made")
    parts = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for command in commands:
        name, told = command.__name__, command.__doc__
        if name not in arguments:
            parts.add_parser(name, help=told, prog=name, add_help=False)
            continue
        made = parts.add_parser(name, help=told, description=told)
        made.set_defaults(run=command)
        if name in FILL:
            FILL[name](made)
    return parser


def read_arguments(
    commands: Sequence[Command], today: Callable[[], date], arguments: Sequence[str]
) -> argparse.Namespace:
    """What was asked for, with the project's own folders and today's date where none are named.

    Except in `check`, which looks for what is overdue only where a day is named.
    """
    options = _make_parser(commands, arguments).parse_args(arguments)
    from fingerpost.run.project import PROJECT  # not before: `--help` ends above

    options.protocols = options.protocols or PROJECT / "protocols"
    options.out = options.out or PROJECT / "build"
    if "today" in options and options.command != "check":
        options.today = options.today or today()
    return options
