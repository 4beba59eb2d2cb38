"""Every phrase of the wording is said somewhere, every phrase that is said exists, and its gaps are filled."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

from for_each import for_each

from fingerpost.maintain.said_by import list_namings, list_sources
from fingerpost.model.audience import flat
from fingerpost.model.library import Library

PROJECT = Path(__file__).parents[2]
GENERATOR = PROJECT / "generator"
NODES = [
    (path, node)
    for path in sorted(GENERATOR.rglob("*.py"))
    for node in ast.walk(ast.parse(path.read_text("utf-8")))
    if isinstance(node, ast.Call | ast.Constant)
]


def list_calls() -> Iterator[tuple[str, ast.Call]]:
    """Every call of a method `say`, with where it stands."""
    for path, node in NODES:
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute) and node.func.attr == "say":
            yield f"{path.name}:{node.lineno}", node


def write_pattern(text: ast.JoinedStr) -> str:
    """An f-string such as f"finger-{finger}" as a pattern."""
    return "".join(re.escape(str(v.value)) if isinstance(v, ast.Constant) else "[a-z0-9-]+" for v in text.values)


def list_named() -> Iterator[ast.expr]:
    """What the calls name as the phrase to say; with 'this if so else that', both."""
    for _, call in list_calls():
        named = call.args[0]
        yield from (named.body, named.orelse) if isinstance(named, ast.IfExp) else (named,)


# What the writer fills in by itself.
ALWAYS_FILLED = {"emergency_number"}
CALLS = list(list_calls())
SAID = {(where, call.args[0].value): call for where, call in CALLS if isinstance(call.args[0], ast.Constant)}
# A pattern without a letter of its own, as f"{heading}-{urgency}", would fit every phrase.
PATTERNS = {
    p
    for part in list_named()
    if isinstance(part, ast.JoinedStr)
    if re.search("^[a-z]|[a-z]$", p := write_pattern(part))
}
TEXTS = {node.value for _, node in NODES if isinstance(node, ast.Constant)}


# The desk gets its words as a table, without this prefix; its form and scripts name them.
DESK = "desk-"
DESK_FILES = [*PROJECT.glob("templates/desk/*.html"), *PROJECT.glob("site_overrides/assets/desk/*.js")]
DESK_NAMES = {n for path in DESK_FILES for n in re.findall(r"[\"'`]([a-z0-9-]+)(?=[\"'`$])", path.read_text("utf-8"))}


def is_said(phrase: str) -> bool:
    """Whether a phrase is named as a whole, or fits an f-string that is said; on the desk, begins like one."""
    if phrase in TEXTS or re.fullmatch("|".join(PATTERNS), phrase):
        return True
    name = phrase.removeprefix(DESK)
    begins = (begin for begin in DESK_NAMES if begin.endswith("-"))
    return name != phrase and (name in DESK_NAMES or any(name.startswith(begin) for begin in begins))


def gaps_of(phrase: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(phrase) if name}


def test_there_is_something_to_look_at(library: Library) -> None:
    assert len(SAID) > 120
    assert len(PATTERNS) > 15
    assert len(DESK_FILES) > 5
    assert len(DESK_NAMES) > 100
    assert len(library.vocabularies.wording) > 300


def test_every_phrase_is_said(library: Library) -> None:
    assert [phrase.id for phrase in library.vocabularies.wording if not is_said(phrase.id)] == []


def test_every_pattern_finds_a_phrase(library: Library) -> None:
    ids = [phrase.id for phrase in library.vocabularies.wording]
    assert [pattern for pattern in sorted(PATTERNS) if not any(re.fullmatch(pattern, i) for i in ids)] == []


@for_each("where, phrase", sorted(SAID))
def test_a_phrase_that_is_said_exists_and_its_gaps_are_filled(where: str, phrase: str, library: Library) -> None:
    says = next((flat(p.says) for p in library.vocabularies.wording if p.id == phrase), None)
    assert says is not None, f"{where} says '{phrase}', which the wording has not"
    keywords = {keyword.arg for keyword in SAID[(where, phrase)].keywords}
    assert None in keywords or gaps_of(says) - ALWAYS_FILLED == keywords, f"{where}: the gaps of '{phrase}'"


# Which modules may name what stands in a file: those that make what its readers read.
HOMES = {
    "calendar": "plan/person/calendar",
    "coach": "plan/person/coach|plan/base/checked",
    "common": "plan/",
    "leaf": "plan/leaf/|plan/base/(prose|illustrate)|plan/person/(enclosures|sheet_parts)|plan/pages/general",
    "desk": "templates/desk/|assets/desk/|fingerpost/desk/|plan/pages/desk_form",
    "page": "plan/(pages|injury)/|plan/leaf/general|plan/machines/|plan/person/coach_words|plan/walls/paper_key",
    "pictures": "plan/base/(illustrate|step_pictures)|plan/pages/desk_form",
    "sheet": "plan/person/|plan/pages/general|plan/base/(checked|illustrate)",
    "wall": "plan/walls/",
}
WORDING = sorted((PROJECT / "protocols" / "shared" / "wording").glob("*.yml"))


def test_a_phrase_stands_in_the_file_of_those_who_read_it(library: Library) -> None:
    """Whoever edits the words of one reader must not have to look, or to ask, in the file of another."""
    namings = list_namings(list_sources(PROJECT))
    astray = [
        (document.file, phrase.id)
        for document in library.shared_files["wording"]
        for phrase in document.value
        if not any(re.search(HOMES[Path(document.file).stem.split("_")[0]], at) for at in namings.find(phrase.id))
    ]
    assert astray == []


@for_each("path", WORDING)
def test_a_file_of_phrases_is_short_and_says_who_reads_it(path: Path) -> None:
    lines = path.read_text("utf-8").splitlines()
    assert len(lines) <= 400
    assert re.match(r"# What .*(read|reads|meet|stands) ", lines[1])
    assert lines[lines.index("") - 1].endswith(".")
