"""A truth stands in one place: of two copies one is mended, and then the sheets and the checks differ."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from fingerpost.checks.base import marks, walk
from fingerpost.model import grammar, shared
from fingerpost.model.words import split_sentences
from fingerpost.plan.base import prose
from fingerpost.plan.case import situation

GENERATOR = Path(__file__).resolve().parents[2] / "generator"
Sources = Mapping[str, ast.Module]

# Names that mean something else in each place, although they have the same value there.
ALIKE_BY_CHANCE = {
    "T": "a type variable belongs to the functions beside it",
    "EDGE": "the margin of a drawing is chosen by eye for each kind",
    "Area": "a shape on the hand: a name for its type, near the functions that use it",
    "TYPE_CHECKING": "what a type checker takes for true, without the time that importing typing takes",
    "MM_PER_PT": "a point is 25.4/72 mm by definition, and plan/ knows nothing of drawing",
}
# Values that are the same in two places, and mean something else there.
SAME_VALUE = {
    "tuple[complex, complex, complex, complex]": "shapes of drawings",
    "tuple[float, float, float, float]": "shapes of drawings",
    "tuple[complex, ...]": "shapes of drawings",
    "dict[str, Any]": "plain data",
    "Callable[[Path], str]": "names for a type",
}


def read_sources() -> dict[str, ast.Module]:
    files = sorted(GENERATOR.rglob("*.py"))
    return {f.relative_to(GENERATOR).as_posix(): ast.parse(f.read_text(encoding="utf-8")) for f in files}


def list_constants(tree: ast.Module) -> Iterator[tuple[str, ast.expr]]:
    """(name without a leading underscore, value) of what a module sets at its top."""
    for node in tree.body:
        if isinstance(node, ast.Assign) and len(node.targets) == 1 and isinstance(node.targets[0], ast.Name):
            yield node.targets[0].id.lstrip("_"), node.value
        elif isinstance(node, ast.AnnAssign) and node.value is not None and isinstance(node.target, ast.Name):
            yield node.target.id.lstrip("_"), node.value


def is_telling(value: ast.expr) -> bool:
    """Whether two of it are hardly alike by chance: a text of some length, or a list, set, table or type of several."""
    inner = [node for node in ast.walk(value) if isinstance(node, ast.Constant | ast.Name)]
    texts = [node.value for node in inner if isinstance(node, ast.Constant) and isinstance(node.value, str)]
    return len(inner) > 2 or any(len(text) > 6 for text in texts)


def find_doubles(sources: Sources) -> list[str]:
    """Constants that two modules set: under one name with one value, or a telling value under any name."""
    named, valued = defaultdict(list), defaultdict(list)
    for file, tree in sources.items():
        for name, value in list_constants(tree):
            written = ast.unparse(value)
            if name not in ALIKE_BY_CHANCE:
                named[(name, written)].append(file)
            if is_telling(value) and name not in ALIKE_BY_CHANCE and written not in SAME_VALUE:
                valued[written].append(f"{file}:{name}")
    found = [f"{name} in {', '.join(files)}" for (name, _), files in named.items() if len(set(files)) > 1]
    places = (names for names in valued.values() if len({name.split(":")[0] for name in names}) > 1)
    return found + [" and ".join(names) for names in places]


def find_double_choices(sources: Sources) -> list[str]:
    """Closed sets of words that two modules spell out."""
    places: dict[frozenset[str], set[str]] = defaultdict(set)
    for file, tree in sources.items():
        for node in ast.walk(tree):
            if isinstance(node, ast.Subscript) and ast.unparse(node.value) == "Literal":
                words = node.slice.elts if isinstance(node.slice, ast.Tuple) else [node.slice]
                if len(words) > 1:
                    places[frozenset(map(ast.unparse, words))].add(file)
    return [f"{sorted(words)} in {', '.join(sorted(files))}" for words, files in places.items() if len(files) > 1]


def find_double_functions(sources: Sources) -> list[str]:
    """Functions of two steps or more that two modules write alike."""
    places: dict[str, list[str]] = defaultdict(list)
    for file, tree in sources.items():
        for node in tree.body:
            if isinstance(node, ast.FunctionDef):
                body = node.body[1:] if ast.get_docstring(node) else node.body
                if len(body) > 1 or isinstance(body[0], ast.Try | ast.For | ast.While | ast.With):
                    places["\n".join(map(ast.unparse, body))].append(f"{file}:{node.name}")
    return [" and ".join(names) for names in places.values() if len(names) > 1]


def test_no_constant_is_set_twice() -> None:
    assert find_doubles(read_sources()) == []


def test_no_closed_set_of_words_is_spelt_out_twice() -> None:
    assert find_double_choices(read_sources()) == []


def test_no_function_is_written_twice() -> None:
    assert find_double_functions(read_sources()) == []


def test_what_is_alike_by_chance_still_is() -> None:
    """An exception that nothing needs any more would hide the next double of that name."""
    sources = read_sources()
    written = [
        [(name, ast.unparse(value)) for name, value in list_constants(tree)] for tree in sources.values()
    ]  # fmt: skip
    for name in ALIKE_BY_CHANCE:
        assert sum(any(n == name for n, _ in module) for module in written) > 1, name
    for value in SAME_VALUE:
        assert sum(any(v == value for _, v in module) for module in written) > 1, value


@pytest.mark.parametrize(
    ("first", "second", "finds"),
    [
        ('JOINT = frozenset({"joint", "bone"})', 'JOINT = frozenset({"joint", "bone"})', find_doubles),
        ('JOINT = frozenset({"joint", "bone"})', 'OTHER = frozenset({"joint", "bone"})', find_doubles),
        ("MOST_PAIN = 2", "_MOST_PAIN = 2", find_doubles),
        (r'MARK = re.compile("\\s*\\[x\\]")', r'_SIGN: Any = re.compile("\\s*\\[x\\]")', find_doubles),
        ('Kind = Literal["ring", "splint"]', 'def f(a: Literal["splint", "ring"]) -> None: ...', find_double_choices),
        ('def f(a):\n    "One."\n    b = a\n    return b', "def g(a):\n    b = a\n    return b", find_double_functions),
    ],
)  # fmt: skip
def test_a_second_truth_is_found(first: str, second: str, finds: object) -> None:
    assert callable(finds)
    assert finds({"one.py": ast.parse(first), "two.py": ast.parse(second)})
    assert not finds({"one.py": ast.parse(first), "two.py": ast.parse("")})


def test_the_rules_and_the_sheets_read_the_same_truth() -> None:
    """Who gets the stop sheet, what a mark is, where a sentence ends."""
    assert walk.JOINT_KINDS is situation.JOINT_KINDS is shared.JOINT_KINDS
    assert marks.MARK is prose.MARK
    assert walk.shape_of is grammar.shape_of


@pytest.mark.parametrize(
    ("text", "sentences"),
    [
        ("One is 2.5 mm\nwide. Is it? It is\n\nso [a-2018]. The end",
         ("One is 2.5 mm wide.", "Is it?", "It is so [a-2018].", "The end")),
        ("Wait 6 weeks. then 8 weeks [a-2018].", ("Wait 6 weeks.", "then 8 weeks [a-2018].")),
        ("Hold on, e.g. to a jug, i.e. a big hold. Rest.", ("Hold on, e.g. to a jug, i.e. a big hold.", "Rest.")),
        ("Tape, rest, etc. The end. Ask who vs. whom.", ("Tape, rest, etc.", "The end.", "Ask who vs. whom.")),
        ("It is a pica. so it is.", ("It is a pica.", "so it is.")),
        ("", ()),
    ],
)  # fmt: skip
def test_a_sentence_ends_where_its_figure_needs_a_mark(text: str, sentences: tuple[str, ...]) -> None:
    """A small letter after a stop begins a sentence of its own, so that no figure borrows the mark of the next one."""
    assert split_sentences(text) == sentences
