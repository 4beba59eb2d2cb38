"""The tests can be found: each file says on top what it protects, and no folder holds more than can be looked over."""

from __future__ import annotations

import ast
import re
from collections import Counter
from pathlib import Path

TESTS = Path(__file__).parents[1]
FILES = sorted(TESTS.rglob("test_*.py"))
MOST_FILES = 15
LONG = 300
"""Lines of a file from which on its head lists its topics."""


def find_weak_head(text: str) -> str:
    """What the head of a test file lacks: a sentence, or, where the file is long, a list of topics."""
    head = ast.get_docstring(ast.parse(text)) or ""
    if not re.match(r"[^\n]{30,}[.:](\n|$)", head):
        return "no sentence in its first line that says what is protected"
    topics = re.findall(r"^- \S", head, re.MULTILINE)
    return "no list of topics" if text.count("\n") > LONG and len(topics) < 3 else ""


def test_each_test_file_says_what_it_protects() -> None:
    assert len(FILES) > 80
    weak = {path.relative_to(TESTS).as_posix(): find_weak_head(path.read_text("utf-8")) for path in FILES}
    assert {name: lacks for name, lacks in weak.items() if lacks} == {}


def test_a_weak_head_is_found() -> None:
    good = '"""A page is never printed over another: two at once."""\n'
    long = good.replace('"""\n', '\n\n- here\n- there\n- elsewhere\n"""\n') + "\n" * LONG
    assert find_weak_head(good) == find_weak_head(long) == ""
    assert find_weak_head("import pytest\n")
    assert find_weak_head('"""Tests of pages."""\n')
    assert find_weak_head(good + "\n" * LONG) == "no list of topics"


def test_no_folder_holds_more_files_than_can_be_looked_over() -> None:
    sizes = Counter(path.parent.relative_to(TESTS).as_posix() for path in FILES)
    assert {folder: count for folder, count in sizes.items() if count > MOST_FILES} == {}
