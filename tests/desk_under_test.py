"""What the tests of the desk build: its files, a small site around them, and the same engine in Node."""

from __future__ import annotations

import dataclasses
import fcntl
import gzip
import json
import shutil
import subprocess
from functools import cache, partial
from pathlib import Path
from typing import Any

from site_under_test import PROJECT, read_library, stub_sheets

from fingerpost.desk.page import make_desk
from fingerpost.files.cache import Kept
from fingerpost.make import pdf, website
from fingerpost.make.templates import make_environment
from fingerpost.plan.pages.site import plan_site

KEPT = Kept(PROJECT / "build" / ".kept")
NODE = Path(__file__).with_name("desk_in_node.mjs")
_PARTS = ("engine", "python", "ours", "kit")


@cache
def desk_files() -> dict[str, bytes]:
    """Every file of the desk. The engine and what was compiled stay in build/, as they do for a build."""
    assert shutil.which("npm"), "the desk needs npm and node: ./run test installs them or tells how"
    library, problems = read_library(PROJECT / "protocols")
    assert not problems
    KEPT.folder.mkdir(parents=True, exist_ok=True)
    with (KEPT.folder / ".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        return make_desk(library, pdf.read_templates(PROJECT / "templates"), PROJECT, KEPT)


def build_desk_site(target: Path) -> Path:
    """A small site with the desk: the home page, the lists and a page of each kind, all of them without their parts."""
    library, _ = read_library(PROJECT / "protocols")
    site = plan_site(library)
    wanted = ("home", "injuries", "protocol", "referral", "desk")
    kinds: set[str] = set()
    pages = []
    for page in site.pages:
        if page.kind in wanted and page.kind not in kinds:
            kinds.add(page.kind)
            bare = page if page.kind == "desk" else dataclasses.replace(page, lead=(), sections=())
            pages.append(bare)
    environment = make_environment(pdf.read_templates(PROJECT / "templates"))
    small = dataclasses.replace(site, pages=tuple(pages), handouts=())
    files = {**stub_sheets(small), **desk_files()}
    website.build_site(partial(website.write_page, environment), small, PROJECT, target, files)
    return target


def read_part(kind: str) -> bytes:
    """What the page loads under this name, unpacked."""
    files = desk_files()
    name = next(n for n in files if n.startswith(f"desk/parts/{kind}-") and n.endswith(".bin"))
    return gzip.decompress(files[name])


def start_node(questions: list[dict[str, Any]], place: Path) -> subprocess.Popen[str]:
    """The very files that a browser loads, run in Node beside this process."""
    for kind in _PARTS:
        (place / kind).write_bytes(read_part(kind))
    (place / "questions.json").write_text(json.dumps(questions), encoding="utf-8")
    engine = next(p for p in KEPT.folder.glob("pyodide-*") if p.is_dir())
    call = ["node", str(NODE), str(engine), str(place)]
    return subprocess.Popen(call, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE, text=True)


def read_answers(node: subprocess.Popen[str], place: Path) -> list[dict[str, Any]]:
    """What Node answered, once it is done, with the SHA-256 of the sheets in the place of the sheets."""
    _, said = node.communicate(timeout=300)
    assert node.returncode == 0, said[-2000:]
    answers: list[dict[str, Any]] = json.loads((place / "answers.json").read_text(encoding="utf-8"))
    return answers
