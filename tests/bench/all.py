"""Every measurement, into the table of README.md: `./run bench`. A name or two as arguments measures only those."""

from __future__ import annotations

import os
import platform
import re
import sys
from datetime import date
from pathlib import Path

import desk
import handouts
import leaves
import sites
import starts
from measure import Told

README = Path(__file__).with_name("README.md")
_TABLE = re.compile(r"(?<=<!-- table -->\n).*(?=<!-- end of table -->)", re.DOTALL)


def write_table(lines: list[Told], day: date) -> str:
    machine = f"{os.cpu_count()} cores, {platform.system()}, Python {platform.python_version()}, {day:%-d %B %Y}"
    rows = "\n".join(line.write() for line in lines)
    return f"Machine: {machine}.\n\n| what | measured | aim | |\n|---|---|---|---|\n{rows}\n"


def main(wanted: list[str]) -> None:
    lines: list[Told] = []
    for measurement in (*starts.ALL, *leaves.ALL, *handouts.ALL, *sites.ALL, *desk.ALL):
        if wanted and measurement.__name__.removeprefix("tell_") not in wanted:
            continue
        told = measurement()
        for line in told if isinstance(told, list) else [told]:
            print(line.write(), flush=True)
            lines.append(line)
    if not wanted:
        text = README.read_text(encoding="utf-8")
        README.write_text(_TABLE.sub(lambda _: write_table(lines, date.today()), text), encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
