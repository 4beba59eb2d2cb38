"""Each rule finds what an author might do wrong, and nothing else is said about it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from breaking import break_library, shorten
from for_each import for_each

from fingerpost.checks.rules import find_problems, list_rules
from fingerpost.model.library import Library

FOLDER = Path(__file__).parent / "specimens"
SPECIMENS: list[dict[str, Any]] = [s for path in sorted(FOLDER.glob("*.yml")) for s in yaml.safe_load(path.read_text())]


def name(specimen: dict[str, Any]) -> str:
    return f"{specimen['rule']}-{specimen['edits'][0]['file']}"


def test_every_rule_has_a_specimen() -> None:
    rules = [rule for rule, _ in list_rules()]
    assert len(rules) > 80
    assert {specimen["rule"] for specimen in SPECIMENS} == set(rules)


def test_nothing_is_wrong_before(library: Library) -> None:
    assert find_problems(library) == []


@pytest.mark.parametrize("specimen", SPECIMENS, ids=name)
def test_a_specimen_gets_exactly_its_complaints(specimen: dict[str, Any], library: Library, tmp_path: Path) -> None:
    broken, found = break_library(library, specimen["edits"], tmp_path)
    assert [shorten(problem, broken) for problem in found] == specimen["expected"]
    assert specimen["rule"] in [problem.rule for problem in found]


@for_each("specimen", SPECIMENS)
def test_a_specimen_expects_its_own_rule(specimen: dict[str, Any]) -> None:
    assert any(line.endswith(f" {specimen['rule']}") for line in specimen["expected"])


TOLERATED = """\
- rule: talk-about-the-patient
  file: protocols/_example.yml
  path: summary
  reason: A specimen of a tolerated finding.
"""
SPOKEN = {"file": "_example.yml", "old": "Nothing has torn.", "new": "The patient has torn nothing."}


def test_a_tolerated_finding_is_none(library: Library, tmp_path: Path) -> None:
    exception = {"file": "shared/exceptions.yml", "old": "[]", "new": TOLERATED}
    assert [p.rule for p in break_library(library, [SPOKEN], tmp_path)[1]] == ["talk-about-the-patient"]
    assert break_library(library, [SPOKEN, exception], tmp_path)[1] == []


def test_an_entry_of_a_vocabulary_is_tolerated_by_its_id(library: Library, tmp_path: Path) -> None:
    called = {"file": "shared/exercises.yml", "old": "Close the hand to a full fist.", "new": "Close the hand!"}
    written = TOLERATED.replace("talk-about-the-patient", "exclamation-marks").replace("_example", "shared/exercises")
    written = written.replace("summary", "'[tendon-glides].steps[3]'")
    exception = {"file": "shared/exceptions.yml", "old": "[]", "new": written}
    assert [p.rule for p in break_library(library, [called], tmp_path)[1]] == ["exclamation-marks"]
    assert break_library(library, [called, exception], tmp_path)[1] == []


def test_a_message_names_line_place_and_the_nearest_right_answer(library: Library, tmp_path: Path) -> None:
    slip = {"file": "_example.yml", "old": "gate: [daily-life-painless, full-fist]", "new": "gate: [full-fits]"}
    lines = (Path(__file__).parents[2] / "protocols" / "_example.yml").read_text().splitlines()
    line = 1 + next(n for n, text in enumerate(lines) if slip["old"] in text)
    assert [str(problem) for problem in break_library(library, [slip], tmp_path)[1]] == [
        f"protocols/_example.yml:{line}: stages[1].gate[0]: no gate is called 'full-fits'\n"
        "    Did you mean 'full-fist'? Those that there are stand in protocols/shared/gates.yml."
    ]
