"""The house stays as it was built: one-way floors, one door for each heavy library, small rooms, files and functions.

Each test holds one property over all files, and tells every offender.

- floors and rooms: imports go down, in no circle, each heavy library by its door, what also runs in a browser
- clock, environment, chance, printing: by their doors alone
- sizes and names: rooms, files, functions, classes
- matches that leave nothing over, and docstrings
"""

from __future__ import annotations

import ast
import statistics
import sys
from collections import Counter, defaultdict
from collections.abc import Iterator
from functools import cache
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

from fingerpost.maintain.rooms import FLOORS, INSIDE, Room, list_rooms, read_duty

PACKAGE = Path(__file__).resolve().parents[2] / "generator" / "fingerpost"
FILES = sorted(PACKAGE.rglob("*.py"))
MOST_FILES = 15

# Where each heavy library is imported: a room, or a module.
DOORS = {
    "yaml": ("read.yaml_events", "read.yaml_stretches"),
    "weasyprint": ("make.pdf", "make.shortcuts"),
    "mkdocs": ("make.mkdocs_site",),
    "jinja2": ("make", "desk.api", "run.site_build"),
    "segno": ("make.drawn.qr",),
    "markupsafe": ("make.templates",),
}
# What also runs in a browser, and what it may not have there.
MIDDLE = (
    *("problems", "model", "read.validate", "reckon", "changes", "plan", "draw"),
    *("make.templates", "make.drawn", "make.leaf", "make.handout_html", "desk.api"),
    *("rewrite.arrange", "rewrite.scalars"),
)
MIDDLE_LIBRARIES = {"jinja2", "markupsafe", "segno"}
BANNED_IN_MIDDLE = {
    *("os", "pathlib", "socket", "subprocess", "threading", "time", "tempfile", "shutil", "io", "urllib"),
    *("random", "secrets"),
}
# The door for a browser reads YAML where somebody opens a case, and imports that reader only then.
LATER_IN_MIDDLE = {("desk.api", "read.yaml_events")}

# The one module that reads the types of the model, and what reading them looks like.
GRAMMAR = "model.grammar"
TYPE_READERS = {
    *("get_type_hints", "get_args", "get_origin", "get_annotations", "fields", "is_dataclass"),
    *("__annotations__", "__dataclass_fields__", "__metadata__", "__origin__", "__args__"),
}

# Who turns a text into a time: the types that the reader of files gives such a text, and who is told today's date.
TIMES = ("model.times", "desk.api", "desk.server", "run.options")

# Who may ask the machine for what is otherwise at each run, and why.
CLOCK = {
    "run.cli": "today's date is read here and is an argument from here on",
    "run.serving": "twice a second it looks whether something has changed",
    "run.batch": "a person at a terminal hears how far it is, at most so often",
    "files.disk": "what a killed run left is swept after a day",
}
ENVIRONMENT = {"make.mkdocs_site": "mkdocs looks there for whether to print a warning"}
CHANCE = {"desk.server": "nobody must guess the token of the page that may print"}


def name_module(path: Path) -> str:
    """'plan.pages.site' for plan/pages/site.py, 'plan.pages' for plan/pages/__init__.py, '' for the outermost."""
    parts = path.relative_to(PACKAGE).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {name_module(path): path for path in FILES}
ROOMS = {room.name: room for room in list_rooms()}


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def find_room(module: str) -> Room | None:
    """The innermost room that a module stands in; None for one that stands in none."""
    while module and module not in ROOMS:
        module = module.rpartition(".")[0]
    return ROOMS.get(module)


def lies_in(module: str, places: tuple[str, ...]) -> bool:
    return any(module == place or module.startswith(f"{place}.") for place in places)


@cache
def imports_of(path: Path) -> tuple[str, ...]:
    """Everything that a file imports, also inside its functions; our own down to the module."""
    found = []
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written out from the top"
            origin = node.module or ""
            for alias in node.names:
                full = f"{origin}.{alias.name}"
                found.append(full if full.removeprefix("fingerpost.") in MODULES else origin)
    return tuple(dict.fromkeys(found))


def ours(path: Path) -> Iterator[str]:
    """The modules of ours that a file imports."""
    return (n.removeprefix("fingerpost.") for n in imports_of(path) if n.startswith("fingerpost."))


def find_upward(module: str, imported: str) -> bool:
    """Whether an import leaves its room for one that does not lie below it."""
    here, there = find_room(module), find_room(imported)
    return not here or not there or (here != there and not there.lies_below(here))


def test_every_module_stands_in_a_room_and_every_room_is_there() -> None:
    assert len(FILES) > 200
    assert [m for m in MODULES if m and not find_room(m)] == []
    assert [m for m, path in MODULES.items() if m and path.name == "__init__.py" and m not in ROOMS] == []
    assert [r for r in ROOMS if r not in MODULES] == []
    told = [name for floor in FLOORS for name in floor] + [f"{r}.{n}" for r in INSIDE for f in INSIDE[r] for n in f]
    assert sorted(told) == sorted(ROOMS)
    assert [room.name for room in ROOMS.values() if not read_duty(room).endswith(".")] == []


def test_a_room_imports_only_from_lower_floors() -> None:
    pairs = [(module, name) for module, path in MODULES.items() for name in ours(path)]
    assert len(pairs) > 1000
    assert [f"{module} imports {name}" for module, name in pairs if find_upward(module, name)] == []


def test_an_import_that_climbs_is_found() -> None:
    assert find_upward("plan.base.prose", "plan.pages.site")
    assert find_upward("plan.walls.notices", "plan.machines.data")
    assert find_upward("checks.texts.urgency", "checks.rules")
    assert find_upward("model.case", "read.library")
    assert find_upward("read.library", "reckon.loads")
    assert find_upward("plan.base.prose", "nowhere")
    assert not find_upward("plan.pages.site", "plan.base.prose")
    assert not find_upward("checks.rules", "checks.texts.urgency")
    assert not find_upward("draw.pens.svg", "plan.pages.site")
    assert not find_upward("read.library", "read.yaml_events")


def test_no_modules_import_each_other_in_a_circle() -> None:
    graph = {module: set(ours(path)) for module, path in MODULES.items()}
    try:
        TopologicalSorter(graph).prepare()
    except CycleError as error:
        raise AssertionError(f"a circle: {error.args[1]}") from None


def test_topics_of_arithmetic_stand_alone() -> None:
    """Only the one that holds formulas is for all of them."""
    pairs = [(m, name) for m in MODULES if m.startswith("reckon.") for name in ours(MODULES[m])]
    assert [p for p in pairs if p[1].startswith("reckon.") and p[1] != "reckon.why"] == []


def test_each_heavy_library_has_one_door() -> None:
    found = {(module, name.split(".")[0]) for module, path in MODULES.items() for name in imports_of(path)}
    assert set(DOORS) <= {library for _, library in found}
    assert [pair for pair in sorted(found) if pair[1] in DOORS and not lies_in(pair[0], DOORS[pair[1]])] == []


def test_the_middle_imports_only_what_a_browser_has() -> None:
    middle = {module: path for module, path in MODULES.items() if lies_in(module, MIDDLE)}
    assert len(middle) > 100
    offenders = []
    for module, path in middle.items():
        offenders += [(module, n) for n in ours(path) if not lies_in(n, MIDDLE) and (module, n) not in LATER_IN_MIDDLE]
        for name in imports_of(path):
            top = name.split(".")[0]
            known = top in MIDDLE_LIBRARIES or top == "fingerpost" or top in sys.stdlib_module_names
            offenders += [(module, name)] if not known or top in BANNED_IN_MIDDLE else []
    assert offenders == []
    early = {(m, name) for m in middle for name in ours_at_the_start(middle[m])}
    assert not early & LATER_IN_MIDDLE


def ours_at_the_start(path: Path) -> Iterator[str]:
    """The modules of ours that a file imports as soon as it is imported itself."""
    for node in tree_of(path).body:
        if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("fingerpost"):
            yield from (f"{node.module}.{alias.name}".removeprefix("fingerpost.") for alias in node.names)
            yield (node.module or "").removeprefix("fingerpost.")


def find_clock(tree: ast.AST) -> bool:
    """Whether code asks for the time; `options.today` does not, `day.today()` and `make(date.today)` do."""
    calls = [node.func for node in ast.walk(tree) if isinstance(node, ast.Call)]
    told = any(isinstance(f, ast.Attribute) and f.attr in ("today", "now", "utcnow") for f in calls)
    return told or _asks(tree, {"time"}, ("date.today", "datetime.today", "datetime.now", "datetime.utcnow"))


def find_environment(tree: ast.AST) -> bool:
    return _asks(tree, set(), ("environ", "environb", "getenv", "putenv"))


def find_chance(tree: ast.AST) -> bool:
    return _asks(tree, {"random", "secrets"}, ("urandom", "uuid1", "uuid4"))


def _asks(tree: ast.AST, modules: set[str], names: tuple[str, ...]) -> bool:
    """Whether code imports one of the modules, or something by one of the names, or speaks of it."""
    for node in ast.walk(tree):
        told: list[str] = []
        if isinstance(node, ast.Import):
            told = [alias.name.split(".")[0] for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            told = [(node.module or "").split(".")[0], *(alias.name for alias in node.names)]
        elif isinstance(node, ast.Attribute):
            told = [ast.unparse(node)]
        if modules & set(told) and not isinstance(node, ast.Attribute):
            return True
        if any(f".{text}".endswith(f".{name}") for text in told for name in names):
            return True
    return False


def test_only_these_modules_ask_for_what_is_otherwise_at_each_run() -> None:
    """The same input gives the same bytes: time, environment and chance come in by these doors alone."""
    for find, allowed in ((find_clock, CLOCK), (find_environment, ENVIRONMENT), (find_chance, CHANCE)):
        assert [m for m, path in MODULES.items() if find(tree_of(path))] == sorted(allowed), find.__name__
        assert all(allowed.values())


def test_a_look_at_the_clock_or_the_environment_is_found() -> None:
    assert find_clock(ast.parse("from time import monotonic"))
    assert find_clock(ast.parse("begun = field(default_factory=date.today)"))
    assert find_clock(ast.parse("datetime.datetime.now(UTC)"))
    assert find_environment(ast.parse("import os\nhome = os.environ['HOME']"))
    assert find_environment(ast.parse("from os import getenv\ngetenv('HOME')"))
    assert find_chance(ast.parse("import random as r"))
    assert find_chance(ast.parse("uuid.uuid4()"))
    plain = ast.parse("wanted.today\ntimes = retired.now\nfrom uuid import UUID\nfrom datetime import date")
    assert [find(plain) for find in (find_clock, find_environment, find_chance)] == [False] * 3


def find_type_reader(tree: ast.AST) -> list[str]:
    """By what code reads the types of classes: functions of the standard library, or what Python keeps in a class."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.ImportFrom) and node.module in ("typing", "dataclasses", "inspect"):
            found += [alias.name for alias in node.names]
        elif isinstance(node, ast.Attribute):
            of_library = ast.unparse(node.value) in ("typing", "dataclasses", "inspect")
            found += [node.attr] if of_library or node.attr.startswith("__") else []
        elif isinstance(node, ast.Constant):
            found += [str(node.value)] if str(node.value).startswith("__") else []
    return [name for name in found if name in TYPE_READERS]


def test_only_the_grammar_reads_types() -> None:
    """Two readers of the model's types would in time see two models: one checks what the other leaves out."""
    readers = {module: names for module, path in MODULES.items() if (names := find_type_reader(tree_of(path)))}
    assert {module: names for module, names in readers.items() if module != GRAMMAR} == {}
    assert readers[GRAMMAR]


def test_another_reader_of_types_is_found() -> None:
    for planted in (
        "import typing\nhints = typing.get_type_hints(kind)",
        "from typing import Any, get_args\nwords = get_args(Finger)",
        "import dataclasses\nnames = [f.name for f in dataclasses.fields(kind)]",
        "from dataclasses import dataclass, fields",
        "marks = getattr(hint, '__metadata__', ())",
        "keys = kind.__dataclass_fields__",
        "import inspect\nhints = inspect.get_annotations(kind)",
    ):
        assert find_type_reader(ast.parse(planted)), planted
    assert not find_type_reader(ast.parse("import dataclasses\nitem.fields\ndataclasses.replace(item)\nkind.__doc__"))


def find_time_reader(tree: ast.AST) -> bool:
    """Whether code turns a text into a day or a span."""
    names = [ast.unparse(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)]
    return any(name.split(".")[-1] in ("fromisoformat", "strptime", "read_span", "Day") for name in names)


def test_times_are_read_once() -> None:
    """What the model holds knows its days already; a second reader could take a written time for another one."""
    assert [m for m, path in MODULES.items() if find_time_reader(tree_of(path)) and m not in TIMES] == []


def test_a_second_reader_of_times_is_found() -> None:
    for planted in ("date.fromisoformat(case.anchor.date)", "times.read_span(window.usual)", "Day(case.review_date)"):
        assert find_time_reader(ast.parse(planted))
    assert not find_time_reader(ast.parse("case.anchor.date.day\nwindow.usual.rough_days\nSpan(3, 'days')"))


def test_only_the_command_line_prints_and_exits() -> None:
    calls = [
        (module, ast.unparse(node.func))
        for module, path in MODULES.items()
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Call)
    ]
    banned = ("print", "exit", "sys.exit", "input")
    assert [pair for pair in calls if pair[1] in banned and pair[0] != "run.cli"] == []


def test_no_two_classes_have_one_name() -> None:
    """A word that is looked for leads to one place."""
    places = defaultdict(list)
    for module, path in MODULES.items():
        for node in ast.walk(tree_of(path)):
            if isinstance(node, ast.ClassDef):
                places[node.name].append(module)
    assert {name: found for name, found in places.items() if len(found) > 1} == {}


def test_rooms_are_small() -> None:
    sizes = Counter(path.parent for path in FILES)
    assert {f.name: n for f, n in sizes.items() if n > MOST_FILES} == {}


def test_files_are_small() -> None:
    sizes = {m: len(f.read_text(encoding="utf-8").splitlines()) for m, f in MODULES.items() if f.name != "__init__.py"}
    assert statistics.median(sizes.values()) <= 150
    assert {m: n for m, n in sizes.items() if n > 400} == {}


def test_functions_are_small() -> None:
    sizes = {
        f"{module}:{node.name}": node.end_lineno - node.lineno + 1
        for module, path in MODULES.items()
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.FunctionDef) and node.end_lineno
    }
    assert {name: n for name, n in sizes.items() if n > 60} == {}


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
    assert sum(isinstance(node, ast.Match) for path in FILES for node in ast.walk(tree_of(path))) >= 3
    assert {m: lines for m, path in MODULES.items() if (lines := find_open_matches(tree_of(path)))} == {}


def test_a_match_that_leaves_something_over_is_found() -> None:
    start = "match block:\n    case Box():\n        lay_out(block)\n"
    assert find_open_matches(ast.parse(start)) == [1]
    assert find_open_matches(ast.parse(start + "    case _:\n        pass\n")) == [1]
    assert find_open_matches(ast.parse(start + "    case _:\n        assert_never(block)\n")) == []


def test_packages_hold_nothing_but_their_docstring() -> None:
    roots = {m: tree_of(path).body for m, path in MODULES.items() if path.name == "__init__.py"}
    assert [m for m, body in roots.items() if [type(n) for n in body] != [ast.Expr]] == []


def test_every_module_says_what_it_is() -> None:
    assert [m for m, path in MODULES.items() if not ast.get_docstring(tree_of(path))] == []
