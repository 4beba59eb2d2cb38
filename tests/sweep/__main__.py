"""Sweep over all cases: `PYTHONPATH=.:tests python -m sweep --report FILE`."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path

from sweep.run import read_shipped, timed, write_report


def main() -> int:
    parser = argparse.ArgumentParser(prog="sweep", description="Plan every case, and tell what no reader may see.")
    parser.add_argument("--report", type=Path, help="where to write what was found; to the screen when left out")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--pairs", action="store_true", help="only the rows that cover all pairs")
    asked = parser.parse_args()
    library = read_shipped()
    tally, seconds = timed(library, asked.processes, asked.pairs)
    report = write_report(library, tally, seconds)
    if asked.report:
        asked.report.write_text(report, encoding="utf-8")
        print(report.split("\n\n##")[0])
    else:
        print(report)
    return 1 if tally.cases else 0


if __name__ == "__main__":
    sys.exit(main())
