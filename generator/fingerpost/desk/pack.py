"""Compile modules for the browser's Python. Runs inside that Python (Pyodide in Node), because only it can.

Byte code of another Python is of no use to it, and compiling in the page would cost a second at every start.
"""

from __future__ import annotations

import ast
import importlib.util
import io
import marshal
import zipfile
from collections.abc import Iterable, Iterator, Mapping
from types import CodeType

# Nothing imports these by name: Python looks them up when a text is read or written.
ENCODINGS = ("ascii", "cp437", "latin_1", "raw_unicode_escape", "unicode_escape", "utf_16", "utf_8", "utf_8_sig")

Sources = Mapping[str, bytes]
"""The text of each module by its path in a zip file, such as 'json/decoder.py'."""


def read_sources(zipped: bytes) -> dict[str, bytes]:
    """The modules of a zip file."""
    with zipfile.ZipFile(io.BytesIO(zipped)) as file:
        return {n: file.read(n) for n in sorted(file.namelist()) if n.endswith(".py")}


def name_module(path: str) -> str:
    """'json/decoder.py' is json.decoder, 'json/__init__.py' is json."""
    return path.removesuffix(".py").removesuffix("/__init__").replace("/", ".")


def list_imports(module: str, is_package: bool, source: bytes, deep: bool) -> Iterator[str]:
    """The modules that a module asks for when it is imported; with `deep`, also later, inside its functions."""
    for node in _walk(ast.parse(source), deep):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = module.split(".") if is_package else module.split(".")[:-1]
            base = base[: len(base) - node.level + 1] if node.level else []
            origin = ".".join([*base, *([node.module] if node.module else [])])
            yield origin
            yield from (f"{origin}.{alias.name}" for alias in node.names)


def _walk(node: ast.AST, deep: bool) -> Iterator[ast.AST]:
    yield node
    for child in ast.iter_child_nodes(node):
        later = isinstance(child, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda)
        if (deep or not later) and not _is_elsewhere(child):
            yield from _walk(child, deep)


def _is_elsewhere(node: ast.AST) -> bool:
    """Whether this is only for a module that is run as a program, or for another system than the browser."""
    return isinstance(node, ast.If) and ast.unparse(node.test) in (
        "__name__ == '__main__'",
        "sys.platform == 'win32'",
    )


def find_needed(library: Sources, asked: Iterable[str]) -> set[str]:
    """The paths in `library` of the modules asked for, and of all that these import as they are imported."""
    paths = {name_module(path): path for path in library}
    found: set[str] = set()
    waiting = list(asked)
    while waiting:
        name = waiting.pop()
        waiting += [name.rpartition(".")[0]] if "." in name else []
        path = paths.get(name)
        if path is None or path in found:
            continue
        found.add(path)
        waiting += list_imports(name, path.endswith("/__init__.py"), library[path], deep=False)
    return found


def compile_module(path: str, source: bytes) -> bytes:
    """The byte code of a module as a .pyc file that is taken as it is, whatever the time or the source.

    Without line numbers, which nobody sees, and without docstrings where nothing is made from them: the engine shows
    its own, and a dataclass without one makes one up, which takes time.
    """
    keeps_words = path.startswith(("fingerpost/", "pyodide/", "_pyodide/"))
    code = compile(source, path, "exec", dont_inherit=True, optimize=0 if keeps_words else 2)
    return importlib.util.MAGIC_NUMBER + (1).to_bytes(4, "little") + bytes(8) + marshal.dumps(_without_lines(code))


def _without_lines(code: CodeType) -> CodeType:
    inner = tuple(_without_lines(c) if isinstance(c, CodeType) else c for c in code.co_consts)
    return code.replace(co_consts=inner, co_linetable=b"")


def zip_modules(sources: Sources) -> bytes:
    """Compiled modules as a zip file. The same modules give the same bytes. Not packed: the whole is, later."""
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as file:
        for path in sorted(sources):
            entry = zipfile.ZipInfo(path.removesuffix(".py") + ".pyc")
            file.writestr(entry, compile_module(path, sources[path]))
    return target.getvalue()


def pack(standard: bytes, ours: bytes, started: Iterable[str]) -> tuple[bytes, bytes]:
    """The standard library, cut down to what is needed, and our modules, both compiled.

    `started`: the modules that the engine itself has imported by now.
    """
    library, mine = read_sources(standard), read_sources(ours)
    asked = {*started, *(f"encodings.{name}" for name in ENCODINGS)}
    for path, source in mine.items():
        asked |= set(list_imports(name_module(path), path.endswith("/__init__.py"), source, deep=True))
    needed = find_needed(library, asked)
    return zip_modules({p: library[p] for p in needed}), zip_modules(mine)
