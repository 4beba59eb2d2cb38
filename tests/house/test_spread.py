"""Tests are spread so that no process waits long for the last one: dear files first, each file in one piece."""

from __future__ import annotations

import json
from pathlib import Path
from types import SimpleNamespace

import pytest
import spread

TESTS = Path(__file__).parents[1]


def sort(*nodeids: str) -> list[str]:
    items = [SimpleNamespace(nodeid=nodeid) for nodeid in nodeids]
    spread.sort_by_cost(items)  # type: ignore[arg-type]
    return [item.nodeid for item in items]


def test_the_dearest_file_comes_first_and_stays_in_one_piece(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spread, "COSTS", tmp_path / "costs.json")
    spread.COSTS.write_text(json.dumps({"cheap.py": 1, "dear.py": 60, "test_keyboard.py": 70}))
    names = ("cheap.py::b", "new.py::x", "dear.py::b", "test_keyboard.py::b", "dear.py::a", "test_keyboard.py::a")
    left = [f"test_keyboard.py::{number}" for number in range(6)]
    ordered = sort(*names, *left)
    assert ordered[:2] == ["dear.py::b", "dear.py::a"], "the tests of a file keep their order"
    assert [name for name in ordered if "keyboard" not in name][2:] == ["new.py::x", "cheap.py::b"]
    assert ordered[2].startswith("test_keyboard.py"), "each of its tests costs 70 / 8"
    units = [spread.name_unit(name) for name in ordered]
    assert units[:2] == ["dear.py", "dear.py"]
    assert len({unit for unit in units if "keyboard" in unit}) == 8


def test_the_table_names_files_that_are_there() -> None:
    costs = json.loads(spread.COSTS.read_text(encoding="utf-8"))
    assert len(costs) > 40
    assert [file for file in costs if not (TESTS.parent / file).is_file()] == []
    assert sum(map(float, costs.values())) > 100


def test_what_a_file_cost_is_recorded(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(spread, "COSTS", tmp_path / "costs.json")
    recorder = spread.Recorder()
    for nodeid, seconds in (("b.py::x[1]", 1.26), ("a.py::y", 0.5), ("b.py::z", 2.0), ("none.py::q", 0.01)):
        recorder.pytest_runtest_logreport(SimpleNamespace(nodeid=nodeid, duration=seconds))  # type: ignore[arg-type]
    recorder.pytest_sessionfinish(SimpleNamespace(config=SimpleNamespace()))  # type: ignore[arg-type]
    assert json.loads(spread.COSTS.read_text()) == {"a.py": 0.5, "b.py": 3.3}
