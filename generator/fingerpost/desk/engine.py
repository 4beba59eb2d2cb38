"""The engine that runs Python in a browser (Pyodide): brought by npm once, held to a fixed hash, and kept."""

from __future__ import annotations

import base64
import hashlib
import io
import json
import shutil
import subprocess
import tarfile
import tempfile
from dataclasses import dataclass
from pathlib import Path

from fingerpost.problems import MakeError

LOCK = Path(__file__).with_name("engine.json")
FILES = (
    "pyodide.js",
    "pyodide.mjs",
    "pyodide.asm.mjs",
    "pyodide.asm.wasm",
    "pyodide-lock.json",
    "python_stdlib.zip",
)
WAIT_SECONDS = 300
_MODULE_ADDRESS = "import.meta.url"
_EXPORT = "export default _createPyodideModule;"


class NoEngine(MakeError):
    """The desk cannot be made on this machine. The rest of the site can."""


@dataclass(frozen=True)
class Engine:
    """Where the engine's files lie, and the hash of the package that they came in."""

    folder: Path
    integrity: str

    def read(self, name: str) -> bytes:
        return (self.folder / name).read_bytes()

    def as_script(self) -> bytes:
        """The engine's module as a script.

        Why: from a folder (file://) a browser runs scripts but no modules. The address of the module is only asked for
        in Node.
        """
        text = self.read("pyodide.asm.mjs").decode("utf-8")
        if text.count(_EXPORT) != 1 or _MODULE_ADDRESS not in text:
            raise NoEngine("the engine's module is not built as it was: see generator/fingerpost/desk/engine.py")
        return text.replace(_EXPORT, "").replace(_MODULE_ADDRESS, "document.baseURI").encode("utf-8")


def find_program(name: str) -> str:
    """Where a program lies. Raises NoEngine where there is none."""
    found = shutil.which(name)
    if found is None:
        raise NoEngine(f"there is no {name} on this machine")
    return found


def bring_engine(kept: Path) -> Engine:
    """The engine, from `kept` or from npm. Raises NoEngine where neither has it."""
    lock = json.loads(LOCK.read_text(encoding="utf-8"))
    folder = kept / f"{lock['package']}-{lock['version']}"
    if not all((folder / name).is_file() for name in FILES):
        package = _download(f"{lock['package']}@{lock['version']}")
        _unpack(package, lock["integrity"], folder)
    return Engine(folder, lock["integrity"])


def _download(package: str) -> bytes:
    npm = find_program("npm")
    with tempfile.TemporaryDirectory(prefix="fingerpost-") as place:
        call = [npm, "pack", package, "--ignore-scripts", "--silent", "--pack-destination", place]
        try:
            done = subprocess.run(call, cwd=place, capture_output=True, timeout=WAIT_SECONDS, check=False)
        except (OSError, subprocess.TimeoutExpired) as error:
            raise NoEngine(f"npm did not bring {package}: {type(error).__name__}") from error
        found = sorted(Path(place).glob("*.tgz"))
        if done.returncode or len(found) != 1:
            raise NoEngine(f"npm did not bring {package}")
        return found[0].read_bytes()


def _unpack(package: bytes, integrity: str, folder: Path) -> None:
    """The wanted files of a package whose hash is right. Nothing else in it is looked at."""
    if f"sha512-{base64.b64encode(hashlib.sha512(package).digest()).decode()}" != integrity:
        raise NoEngine("what npm brought has another hash than generator/fingerpost/desk/engine.json")
    folder.parent.mkdir(parents=True, exist_ok=True)
    made = Path(tempfile.mkdtemp(prefix=".engine-", dir=folder.parent))
    with tarfile.open(fileobj=io.BytesIO(package), mode="r:gz") as file:
        for name in FILES:
            member = file.extractfile(f"package/{name}")
            if member is None:
                raise NoEngine(f"what npm brought holds no {name}")
            (made / name).write_bytes(member.read())
    shutil.rmtree(folder, ignore_errors=True)
    made.rename(folder)
