"""The whole site: against plain mkdocs, after one word was changed, and checks of many protocols."""

from __future__ import annotations

import hashlib
import json
import pickle
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import yaml
from collection import make_collection
from measure import PROJECT, Told, environment, library, tell_ratio, time_side_by_side

from fingerpost.make import website
from fingerpost.plan.pages.site import plan_site
from fingerpost.read.library import read_library
from fingerpost.read.yaml_events import parse_once


def run_timed(call: list[str]) -> float:
    """Seconds on the clock that a command takes, from its start to its end."""
    code = f"from fingerpost.run.cli import main; import sys; sys.exit(main({call!r}))"
    start = time.perf_counter()
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, cwd=PROJECT)
    assert done.returncode == 0, done.stdout + done.stderr
    return time.perf_counter() - start


def _build(protocols: Path, out: Path) -> float:
    return run_timed(["--protocols", str(protocols), "--out", str(out), "build"])


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


def tell_mkdocs() -> list[Told]:
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
        protocols = Path(place) / "protocols"
        shutil.copytree(PROJECT / "protocols", protocols)

        def build_again() -> None:
            (out / ".kept" / "site").unlink(missing_ok=True)
            _build(protocols, out)

        ours, same, theirs = time_side_by_side(build_again, lambda: _build(protocols, out), plain, turns=3)
    names = ("build", "mkdocs")
    return [
        tell_ratio("`build`, everything kept, against plain mkdocs", ours, theirs, 1.3, names),
        tell_ratio("`build` with nothing changed against plain mkdocs", same, theirs, 0.2, names),
    ]


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


def _run_check(protocols: Path, out: Path) -> float:
    return run_timed(["--protocols", str(protocols), "--out", str(out), "check"])


def tell_checks() -> list[Told]:
    """The whole command on 203 protocols with their 377 short entries, against what reading them costs at the least."""
    with tempfile.TemporaryDirectory() as place:
        protocols, out = Path(place) / "protocols", Path(place) / "out"
        make_collection(protocols, 200)
        paths = sorted(protocols.rglob("*.yml"))
        pickled = pickle.dumps(read_library(protocols)[0])
        parse_once.cache_clear()  # with much in memory, looking for garbage would make the others twice as slow

        def load_plainly() -> None:
            for path in paths:
                yaml.load(path.read_bytes(), Loader=yaml.CSafeLoader)

        def unpickle_and_hash() -> None:
            pickle.loads(pickled)
            for path in paths:
                hashlib.sha256(path.read_bytes())

        firsts, agains, changed, loads, unpickles = [], [], [], [], []
        for turn in range(3):
            loaded, unpickled = time_side_by_side(load_plainly, unpickle_and_hash, turns=1)
            loads.append(loaded)
            unpickles.append(unpickled)
            shutil.rmtree(out, ignore_errors=True)
            firsts.append(_run_check(protocols, out))
            agains.append(_run_check(protocols, out))
            path = protocols / "pulley.yml"
            path.write_text(f"# {turn}\n{path.read_text(encoding='utf-8')}", encoding="utf-8")
            changed.append(_run_check(protocols, out))
    all_times = (firsts, agains, changed, loads, unpickles)
    first, again, one, load, unpickle = map(statistics.median, all_times)
    what = "`check` of 203 protocols with 377 short entries"
    return [
        tell_ratio(f"{what}, nothing changed", again, unpickle, 2, ("check", "unpickling and hashing the same")),
        tell_ratio(f"{what}, the first time", first, load, 2, ("check", "libyaml's loader")),
        Told("the same after a change of one file", f"{one:.2f} s"),
    ]


ALL = (tell_rebuild, tell_mkdocs, tell_checks)
