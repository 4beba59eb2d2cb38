"""The house stays as it was built: one-way layers, one door for each heavy library, small files and functions."""

from __future__ import annotations

import ast
import statistics
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

GENERATOR = Path(__file__).resolve().parent.parent / "generator"
FILES = sorted(GENERATOR.rglob("*.py"))

# Lowest first. A module imports only from lower ranks; a package's own files are listed by SIBLINGS below.
RANKS = {
    "problems": 0,
    "options": 0,
    "disk": 0,
    "kept": 0.5,
    "model": 1,
    "revisions": 1,
    "shape": 2,
    "gather": 2.2,
    "tree": 2.4,
    "content": 3,
    "reckon": 3,
    "changes": 3,
    "rewrite": 4,
    "table": 4,
    "printed": 1,
    "checks": 4,
    "plan": 4,
    "specimen": 5,
    "draw": 5,
    "qr": 5,
    "render": 6,
    "sheets": 7,
    "posters": 7,
    "website": 8,
    "press": 8,
    "display": 8,
    "data_files": 8,
    "manual": 8,
    "upkeep": 8,
    "door": 8,
    "desk": 9,
    "output": 9,
    "loading": 9,
    "many": 9.2,
    "orders": 9.4,
    "cli": 10,
}
# Packages whose files build on each other; the topics of `reckon` stand alone, but for the one that holds formulas.
WITHIN = {"model", "changes", "rewrite", "checks", "plan", "draw", "desk"}
DOORS = {
    "yaml": {"tree"},
    "pydantic": {"content"},
    "ruamel": {"rewrite"},
    "weasyprint": {"press"},
    "mkdocs": {"website"},
    "jinja2": {"render", "sheets", "posters", "press", "website", "display", "door", "output"},
    "segno": {"qr"},
    "markupsafe": {"render"},
}
MIDDLE = {"problems", "model", "shape", "reckon", "changes", "plan", "draw", "render", "sheets", "door"}
MIDDLE_LIBRARIES = {"jinja2", "markupsafe"}
BANNED_IN_MIDDLE = {"os", "pathlib", "socket", "subprocess", "threading", "time", "tempfile", "shutil", "io", "urllib"}


def module_of(path: Path) -> str:
    return path.relative_to(GENERATOR).parts[0].removesuffix(".py")


def imports_of(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written out from the top"
            yield node.module or ""
            if node.module == "generator":
                yield from (f"generator.{alias.name}" for alias in node.names)
            if node.module == "generator.reckon":
                yield from (f"generator.reckon.{alias.name}" for alias in node.names)


def ours(path: Path) -> Iterator[str]:
    return (name.split(".", 1)[1] for name in imports_of(path) if name.startswith("generator."))


def test_the_guard_sees_the_whole_house() -> None:
    assert len(FILES) > 60
    assert {module_of(f) for f in FILES} - {"__init__"} == set(RANKS)


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.relative_to(GENERATOR).as_posix())
def test_a_module_imports_only_from_below(path: Path) -> None:
    module = module_of(path)
    if module == "__init__":
        return
    for name in ours(path):
        target = name.split(".")[0]
        if target == module:
            assert module in WITHIN or name == "reckon.why", f"{path.name} imports its sibling {name}"
        else:
            assert RANKS[target] < RANKS[module], f"{path.name} (rank {RANKS[module]}) imports {name}"


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.relative_to(GENERATOR).as_posix())
def test_each_heavy_library_has_one_door(path: Path) -> None:
    for name in imports_of(path):
        library = name.split(".")[0]
        if library in DOORS:
            assert module_of(path) in DOORS[library], f"{path.name} imports {library}"


def test_the_middle_imports_only_what_a_browser_has() -> None:
    middle = [f for f in FILES if module_of(f) in MIDDLE]
    assert len(middle) > 40
    for path in middle:
        for name in imports_of(path):
            top = name.split(".")[0]
            allowed = top in MIDDLE_LIBRARIES or top == "generator" or top in sys.stdlib_module_names
            assert allowed, f"{path.name} imports {name}"
            assert top not in BANNED_IN_MIDDLE, f"{path.name} imports {name}, which touches the machine"


def test_only_the_command_line_reads_the_clock_or_prints() -> None:
    for path in FILES:
        if module_of(path) == "cli":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                called = ast.unparse(node.func)
                assert called not in ("print", "exit", "sys.exit", "input"), f"{path.name} calls {called}"
                assert not called.endswith((".today", ".now", ".utcnow")), f"{path.name} reads the clock"


def test_files_are_small() -> None:
    sizes = {f: len(f.read_text(encoding="utf-8").splitlines()) for f in FILES if f.name != "__init__.py"}
    assert statistics.median(sizes.values()) <= 150
    assert not {f.name: n for f, n in sizes.items() if n > 400}


def test_functions_are_small() -> None:
    long = {}
    for path in FILES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef) and node.end_lineno and node.end_lineno - node.lineno >= 60:
                long[f"{path.name}:{node.name}"] = node.end_lineno - node.lineno + 1
    assert not long


def find_open_matches(tree: ast.AST) -> list[int]:
    """The lines of matches over classes that do not end by saying that nothing is left over."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Match) and any(isinstance(p, ast.MatchClass) for c in node.cases for p in ast.walk(c)):
            last = node.cases[-1]
            closed = isinstance(last.pattern, ast.MatchAs) and last.pattern.pattern is None and not last.guard
            if not closed or not ast.unparse(last.body[0]).startswith("assert_never("):
                found.append(node.lineno)
    return found


def test_a_match_over_classes_leaves_none_over() -> None:
    """Only then does the type checker name the places that a new kind of block or picture is missing from."""
    matches = {f: ast.parse(f.read_text(encoding="utf-8")) for f in FILES}
    assert sum(isinstance(node, ast.Match) for tree in matches.values() for node in ast.walk(tree)) >= 3
    assert {f.name: lines for f, tree in matches.items() if (lines := find_open_matches(tree))} == {}


def test_a_match_that_leaves_something_over_is_found() -> None:
    start = "match block:\n    case Box():\n        lay_out(block)\n"
    assert find_open_matches(ast.parse(start)) == [1]
    assert find_open_matches(ast.parse(start + "    case _:\n        pass\n")) == [1]
    assert find_open_matches(ast.parse(start + "    case _:\n        assert_never(block)\n")) == []


def test_packages_export_nothing_from_their_root() -> None:
    for path in FILES:
        if path.name == "__init__.py":
            tree = ast.parse(path.read_text(encoding="utf-8"))
            assert [type(n) for n in tree.body] == [ast.Expr], f"{path} holds more than its docstring"


def test_every_module_and_public_function_says_what_it_is() -> None:
    silent = [f.name for f in FILES if not ast.get_docstring(ast.parse(f.read_text(encoding="utf-8")))]
    assert not silent
