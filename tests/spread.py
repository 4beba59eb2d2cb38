"""How tests are spread over several processes: file by file, the ones that cost most first.

The tests of a file stay together, because they share what they make; of a file in SPREAD each stands alone. What the
files cost stands in costs.json (seconds on a quiet machine), which `--record-costs` writes anew.
"""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path

import pytest
from xdist.scheduler import LoadScopeScheduling

COSTS = Path(__file__).with_name("costs.json")
SPREAD = ("test_keyboard.py",)
UNKNOWN = 5.0
"""Seconds for a file that is not in the table yet."""


def file_of(nodeid: str) -> str:
    return nodeid.partition("::")[0]


def name_unit(nodeid: str) -> str:
    """What is given to a process in one piece: a file, or one test of it."""
    return nodeid if file_of(nodeid).endswith(SPREAD) else file_of(nodeid)


class Spread(LoadScopeScheduling):
    """Units of work in the order in which they were collected."""

    def _split_scope(self, nodeid: str) -> str:
        return name_unit(nodeid)


def sort_by_cost(items: list[pytest.Item]) -> None:
    """Put the units that cost most first; the tests of a unit keep their order."""
    costs: dict[str, float] = json.loads(COSTS.read_text(encoding="utf-8"))
    counts = Counter(file_of(item.nodeid) for item in items)

    def rank(item: pytest.Item) -> tuple[float, str]:
        file, unit = file_of(item.nodeid), name_unit(item.nodeid)
        return -costs.get(file, UNKNOWN) / (counts[file] if unit == item.nodeid else 1), unit

    items.sort(key=rank)


class Recorder:
    """Adds up what the tests of each file cost, and writes the table."""

    def __init__(self) -> None:
        self._seconds: Counter[str] = Counter()

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self._seconds[file_of(report.nodeid)] += report.duration

    def pytest_sessionfinish(self, session: pytest.Session) -> None:
        if not hasattr(session.config, "workerinput"):
            rounded = {file: round(seconds, 1) for file, seconds in sorted(self._seconds.items()) if seconds >= 0.05}
            COSTS.write_text(json.dumps(rounded, indent=2) + "\n", encoding="utf-8")
