"""Is everything written as it should be? Three lists look: common slips, American spellings, and all known words."""

from __future__ import annotations

import ast
import dataclasses
import io
import re
import subprocess
import sys
import tokenize
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import codespell_lib
import yaml

from fingerpost.plan.base.blocks import Page
from fingerpost.plan.base.paper import Handout
from reading.score import find_unknown
from reading.texts import list_leaf_printed, list_printed

PROJECT = Path(__file__).resolve().parents[2]
EXCEPTIONS = Path(__file__).with_name("spelling.yml")
WORDS = Path(__file__).with_name("words.txt")
READ_BY_CODESPELL = (
    "README.md",
    "DEVELOPERS.md",
    "run",
    ".ci",
    "protocols",
    "templates",
    "generator",
    "tests",
    "site_overrides",
)
NO_TEXT = (
    "*.min.js,*.woff2,*.ttf,*.png,*.pyc,*/__pycache__/*,*/OFL-*,*/golden/addresses.txt,*/broken/wrong_kinds.txt,"
    "searches.yml,"
    "spelling.yml,test_spelling.py"
)
_AMERICAN = Path(codespell_lib.__file__).parent / "data" / "dictionary_en-GB_to_en-US.txt"
_ADDRESS_OR_CODE = re.compile(r"`[^`]*`|```.*?```|\S*[/@_]\S*", re.DOTALL)


@cache
def read_exceptions() -> dict[str, dict[str, str]]:
    found: dict[str, dict[str, str]] = yaml.safe_load(EXCEPTIONS.read_text(encoding="utf-8"))
    return found


def run_codespell(paths: list[str], allowed: list[str], folder: Path) -> list[str]:
    """What codespell calls a slip, a line each."""
    call = [sys.executable, "-m", "codespell_lib", "--builtin", "clear,rare", "--skip", NO_TEXT]
    call += ["--ignore-words-list", ",".join(allowed)] if allowed else []
    done = subprocess.run([*call, *paths], cwd=folder, capture_output=True, text=True, check=False)
    assert done.returncode in (0, 65), done.stderr
    return done.stdout.splitlines()


@cache
def read_american() -> dict[str, str]:
    """American spellings, each with the British one."""
    found = {}
    for line in _AMERICAN.read_text(encoding="utf-8").splitlines():
        british, _, american = line.partition("->")
        found.update({word.strip().lower(): british for word in american.split(",") if word.strip()})
    return {american: british for american, british in found.items() if american != british.lower()}


def find_american(text: str) -> set[str]:
    """The words of a text that are written the American way. Names of files and pieces of code are not looked at."""
    bare = _ADDRESS_OR_CODE.sub(" ", text)
    return {word for word in re.findall(r"[a-z]+", bare.lower()) if word in read_american()}


def list_comments(path: Path) -> Iterator[str]:
    """What is written for people in a Python file: its docstrings and comments."""
    source = path.read_text(encoding="utf-8")
    for token in tokenize.generate_tokens(io.StringIO(source).readline):
        if token.type == tokenize.COMMENT:
            yield token.string
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef):
            yield ast.get_docstring(node) or ""


def _leave_sources(part: Any) -> Any:
    """Sources are cited as they were published, in whatever spelling."""
    return dataclasses.replace(part, sections=tuple(s for s in part.sections if s.id != "sources"))


def list_page_texts(page: Page) -> Iterator[str]:
    """Every text of a page: sentences, headings, tables, captions, labels."""
    if page.kind != "sources":
        yield from list_printed(
            _leave_sources(dataclasses.replace(page, linked_data="", address="", kind="", under=""))
        )


def list_handout_texts(handout: Handout) -> Iterator[str]:
    for leaf in handout.leaves:
        yield from list_leaf_printed(leaf)
    for sheet in handout.sheets:
        yield from list_printed(_leave_sources(sheet))


@cache
def read_own_words() -> tuple[str, ...]:
    lines = WORDS.read_text(encoding="utf-8").splitlines()
    return tuple(line for line in lines if line and not line.startswith("#"))


def find_strange(texts: list[str]) -> set[str]:
    """Words that neither the dictionary nor one of our lists knows."""
    return find_unknown(texts) - set(read_own_words())
