"""What the desk's page loads: the engine, our own code compiled for it, the collection, the styles with their fonts."""

from __future__ import annotations

import base64
import gzip
import hashlib
import importlib.util
import io
import re
import subprocess
import tempfile
import zipfile
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from fingerpost.desk import pack
from fingerpost.desk.engine import WAIT_SECONDS, Engine, NoEngine, bring_engine, find_program
from fingerpost.files.cache import Kept

HERE = Path(__file__).parent
ROOT_MODULES = ("fingerpost.desk.api", "fingerpost.read.yaml_events")
LIBRARIES = ("jinja2", "markupsafe", "segno", "yaml")
_URL = re.compile(r'url\("([^"]+\.(?:ttf|woff2))"\)')


@dataclass(frozen=True)
class Parcel:
    """One thing that the page loads, always packed: what a host does is not known, and a folder has no host.

    `name` tells its content apart from an earlier one.
    """

    kind: str
    name: str
    packed: bytes


def pack_part(kind: str, content: bytes, kept: Kept) -> Parcel:
    name = f"{kind}-{hashlib.sha256(content).hexdigest()[:10]}"
    return Parcel(kind, name, kept.take("packed", content, make=lambda: gzip.compress(content, 9, mtime=0)))


def list_own_sources(project: Path, kept: Kept) -> dict[str, bytes]:
    """Our modules that the door needs, by their path below `generator/`, from where a browser imports them."""
    folder = project / "generator"
    found = {p.relative_to(folder).as_posix(): p.read_bytes() for p in sorted(folder.rglob("*.py"))}
    told = (part for pair in found.items() for part in pair)
    needed = kept.take("needed", *told, make=lambda: "\n".join(_find_needed(found)).encode()).decode().split("\n")
    return {path: found[path] for path in needed}


def _find_needed(found: Mapping[str, bytes]) -> list[str]:
    """The paths of the modules that the door imports, and of those that they import."""
    paths = {pack.name_module(path): path for path in found}
    needed: set[str] = set()
    waiting = list(ROOT_MODULES)
    while waiting:
        name = waiting.pop()
        waiting += [name.rpartition(".")[0]] if "." in name else []
        path = paths.get(name)
        if path and path not in needed:
            needed.add(path)
            waiting += pack.list_imports(name, path.endswith("/__init__.py"), found[path], deep=True)
    return sorted(needed)


def list_library_sources() -> Iterator[tuple[str, bytes]]:
    """The modules of the libraries that the door needs: only what is plain Python, as in the browser."""
    for library in LIBRARIES:
        spec = importlib.util.find_spec(library)
        if spec is None or spec.origin is None:
            raise NoEngine(f"{library} is not installed")
        folder = Path(spec.origin).parent
        for path in sorted(folder.glob("*.py")):
            yield f"{library}/{path.name}", path.read_bytes()


def _zip(sources: Mapping[str, bytes]) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_STORED) as file:
        for path in sorted(sources):
            file.writestr(zipfile.ZipInfo(path), sources[path])
    return target.getvalue()


def compile_sources(engine: Engine, sources: Mapping[str, bytes], kept: Kept) -> tuple[bytes, bytes]:
    """The standard library and our modules, compiled."""
    ours, packer, script = _zip(sources), HERE / "pack.py", HERE / "compile.mjs"

    def make() -> bytes:
        return _zip(dict(zip(("standard", "ours"), _compile(engine, packer, script, ours), strict=True)))

    made = kept.take("compiled", engine.integrity, packer.read_bytes(), script.read_bytes(), ours, make=make)
    with zipfile.ZipFile(io.BytesIO(made)) as file:
        return file.read("standard"), file.read("ours")


def _compile(engine: Engine, packer: Path, script: Path, ours: bytes) -> tuple[bytes, bytes]:
    node = find_program("node")
    with tempfile.TemporaryDirectory(prefix="fingerpost-") as place:
        given, standard, mine = (Path(place) / name for name in ("given.zip", "standard.zip", "ours.zip"))
        given.write_bytes(ours)
        call = [node, str(script), str(engine.folder), str(packer), str(given), str(standard), str(mine)]
        try:
            done = subprocess.run(call, capture_output=True, timeout=WAIT_SECONDS, check=False)
        except (OSError, subprocess.TimeoutExpired) as error:
            raise NoEngine(f"node could not compile the desk: {type(error).__name__}") from error
        if done.returncode:
            told = done.stderr.decode("utf-8", "replace").strip().splitlines()
            raise NoEngine(f"node could not compile the desk: {told[-1] if told else done.returncode}")
        return standard.read_bytes(), mine.read_bytes()


def write_print_css(project: Path) -> str:
    """The print styles with their fonts inside, and how sheets lie on a screen."""
    path = project / "templates" / "print" / "print.css"
    screen = project / "templates" / "desk" / "screen.css"

    def inline(found: re.Match[str]) -> str:
        font = (path.parent / found.group(1)).resolve()
        smaller = font.with_suffix(".woff2")
        kind = "woff2" if smaller.is_file() else font.suffix[1:]
        content = base64.b64encode((smaller if smaller.is_file() else font).read_bytes()).decode()
        return f'url("data:font/{kind};base64,{content}")'

    return _URL.sub(inline, path.read_text(encoding="utf-8")) + screen.read_text(encoding="utf-8")


def make_parts(project: Path, kit: str, kept: Kept) -> tuple[Engine, tuple[Parcel, ...]]:
    """The engine and everything else that the page loads. Raises NoEngine where it cannot be made."""
    engine = bring_engine(kept.folder)
    sources = {**list_own_sources(project, kept), **dict(list_library_sources())}
    standard, ours = compile_sources(engine, sources, kept)
    contents = {
        "engine": engine.read("pyodide.asm.wasm"),
        "python": standard,
        "ours": ours,
        "kit": kit.encode("utf-8"),
        "styles": write_print_css(project).encode("utf-8"),
    }
    return engine, tuple(pack_part(kind, content, kept) for kind, content in contents.items())
