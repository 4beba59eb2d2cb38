"""The whole site: against plain mkdocs, after one word was changed, and checks of many protocols."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from measure import PROJECT, Told, environment, library, tell_ratio, time_side_by_side, time_turns

from fingerpost.checks.rules import find_problems
from fingerpost.files.cache import Kept
from fingerpost.maintain import upkeep
from fingerpost.make import website
from fingerpost.plan.pages.site import plan_site
from fingerpost.read.library import read_library


def _build(protocols: Path, out: Path) -> float:
    call = ["--protocols", str(protocols), "--out", str(out), "build"]
    code = f"from fingerpost.run.cli import main; import sys; sys.exit(main({call!r}))"
    start = time.perf_counter()
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=PROJECT)
    assert done.returncode == 0, done.stdout + done.stderr
    return time.perf_counter() - start


def _change_a_word(protocols: Path, number: int) -> None:
    """One word of what a stage is for. It stands on the protocol's page and on its sheets."""
    path = protocols / "pulley.yml"
    text = path.read_text(encoding="utf-8")
    words = ("swelling", "puffiness", "redness", "pain")
    assert text.count(f"Let the {words[number]} calm") == 1
    path.write_text(
        text.replace(f"Let the {words[number]} calm", f"Let the {words[number + 1]} calm"), encoding="utf-8"
    )


def tell_rebuild() -> list[Told]:
    """From nothing; with nothing changed; after one word of one protocol."""
    with tempfile.TemporaryDirectory() as place:
        protocols, out = Path(place) / "protocols", Path(place) / "out"
        shutil.copytree(PROJECT / "protocols", protocols)
        shutil.copytree(
            PROJECT / "build" / ".kept", out / ".kept", ignore=lambda _, names: [n for n in names if len(n) == 64]
        )
        full = _build(protocols, out)
        same = sorted(_build(protocols, out) for _ in range(3))[1]
        words = []
        for number in range(3):
            _change_a_word(protocols, number)
            words.append(_build(protocols, out))
    word = sorted(words)[1]
    names = ("after one word", "all of it")
    return [
        tell_ratio("`build` after one word of a protocol against all of it", word, full, 0.25, names),
        Told("`build` with nothing changed against all of it", f"{same:.1f} s, {full:.1f} s: {same / full:.2f}"),
    ]


def tell_mkdocs() -> Told:
    """Pages alone: all that we do against mkdocs with the same pages, laid out before, as the text of its Markdown."""
    with tempfile.TemporaryDirectory() as place:
        work = Path(place)
        site = plan_site(library())
        for page in site.pages:
            path = work / "docs" / page.address / "index.md"
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(f"# {page.title}\n\n{website.write_page(environment(), page).decode()}", encoding="utf-8")
        (work / "mkdocs.yml").write_text(_config(work), encoding="utf-8")
        call = [sys.executable, "-m", "mkdocs", "build", "--quiet", "-f", str(work / "mkdocs.yml")]

        def plain() -> None:
            subprocess.run(call, check=True, capture_output=True)

        out = work / "out"
        shutil.copytree(PROJECT / "build" / ".kept", out / ".kept")
        ours, theirs = time_side_by_side(lambda: _build(PROJECT / "protocols", out), plain, turns=3)
    return tell_ratio("`build`, everything kept, against plain mkdocs", ours, theirs, 1.3, ("build", "mkdocs"))


def _config(work: Path) -> str:
    config = {
        "INHERIT": str(PROJECT / "mkdocs.yml"),
        "docs_dir": str(work / "docs"),
        "site_dir": str(work / "site"),
        "theme": {"custom_dir": str(PROJECT / "site_overrides")},
        "hooks": [],
        "extra": {"labels": dict(plan_site(library()).labels)},
    }
    return json.dumps(config)  # JSON is YAML


def _copies(folder: Path, count: int) -> None:
    """A collection of so many protocols: copies under other names."""
    shutil.copytree(PROJECT / "protocols", folder)
    source = (folder / "pulley.yml").read_text(encoding="utf-8")
    there = len([p for p in folder.glob("*.yml") if not p.name.startswith("_")])
    for number in range(count - there):
        (folder / f"copy-{number}.yml").write_text(
            source.replace("id: pulley", f"id: copy-{number}", 1), encoding="utf-8"
        )


def tell_checks() -> list[Told]:
    """All that the command does. Copies of a protocol are no clean collection, so their findings are made too."""
    found: list[tuple[float, float]] = []
    for count in (20, 200):
        with tempfile.TemporaryDirectory() as place:
            _copies(Path(place) / "protocols", count)
            kept = Kept(Path(place) / "kept")

            def check(folder: Path = Path(place) / "protocols", kept: Kept = kept) -> None:
                find_problems(read_library(folder)[0])
                list(upkeep.find_unformatted_content(folder, str, kept))

            start = time.perf_counter()
            check()
            found.append((time.perf_counter() - start, time_turns(check, 3)))
    (first, few), (first_of_all, lots) = found
    told = f"20 protocols {few:.2f} s, 200 protocols {lots:.2f} s: {lots / few:.1f} times as long"
    once = f"20 protocols {first:.2f} s, 200 protocols {first_of_all:.2f} s"
    return [
        Told("`check` of 20 and of 200 protocols", told, "at most 10.0, and under 1 s", lots / few <= 10 and lots < 1),
        Told("the same for the first time", once),
    ]


ALL = (tell_rebuild, tell_mkdocs, tell_checks)
