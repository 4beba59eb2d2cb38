"""Each command imports only what it needs: whoever asks for help or checks a file waits for no PDF engine.

Held by what Python has imported when the command ends, not by a clock; `tests/bench` tells how long it takes.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.rest

CASE = "tests/golden/cases/pulley-left-ring.yml"
READING = {"problems", "files", "model", "read", "reckon", "run", "checks", "yaml"}
PLANNING = READING | {"plan"}

# What may be imported: rooms of ours, and libraries. None of the heavy ones stands here by chance.
MAY: dict[str, set[str]] = {
    "--help": {"run"},
    "check --help": {"run"},
    "handout --help": {"run"},
    "check": READING | {"rewrite"},
    "fmt --check": READING - {"checks"} | {"rewrite"},
    f"check {CASE}": PLANNING | {"rewrite"},
    f"plan {CASE}": PLANNING,
    "outline pulley": PLANNING,
    "whence 00000000": PLANNING - {"checks"} | {"maintain", "changes"},
}
# What a library brings along under names of its own.
BROUGHT = {
    "yaml": {"cython_runtime"},
}
PROBE = """
import sys
before = set(sys.modules)
try:
    import {modules}
    sys.modules["fingerpost.run.cli"].main(sys.argv[1:])
finally:
    print("\\0".join(sorted(set(sys.modules) - before)), file=sys.stderr)
"""


def list_imported(command: str, tmp_path: Path, project: Path, *planted: str) -> set[str]:
    """Rooms of ours and libraries that are imported when a command has ended. `planted`: modules imported beside it."""
    code = PROBE.format(modules=", ".join(("fingerpost.run.cli", *planted)))
    call = [sys.executable, "-c", code, "--out", str(tmp_path / "out"), *command.split()]
    done = subprocess.run(call, capture_output=True, text=True, cwd=project, timeout=120, check=False)
    names = done.stderr.splitlines()[-1].split("\0")
    assert "Traceback" not in done.stderr
    assert "fingerpost.run.cli" in names
    ours = {name.split(".")[1] for name in names if name.startswith("fingerpost.")}
    others = {name.split(".")[0] for name in names} - sys.stdlib_module_names - {"fingerpost"}
    return ours | {name for name in others if not name.startswith("_")}


def find_needless(command: str, imported: set[str]) -> set[str]:
    allowed = MAY[command]
    return imported - allowed - {name for library in allowed for name in BROUGHT.get(library, ())}


@pytest.mark.parametrize("command", MAY)
def test_a_command_imports_only_what_it_needs(command: str, tmp_path: Path, project: Path) -> None:
    assert find_needless(command, list_imported(command, tmp_path, project)) == set()


def test_what_is_imported_needlessly_is_found(tmp_path: Path, project: Path) -> None:
    found = list_imported("--help", tmp_path, project, "jinja2", "fingerpost.draw.picture")
    assert {"jinja2", "draw"} <= find_needless("--help", found)
