"""A small collection of its own, and git histories of it: shipped content may change, and these tests may not."""

from __future__ import annotations

import copy
import json
import pickle
import shutil
import subprocess
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from fingerpost.read.library import read_plain
from fingerpost.rewrite.arrange import write_plain
from fingerpost.rewrite.canonical import find_kind

PROJECT = Path(__file__).resolve().parent.parent
IDENTITY = ("-c", "user.name=Test", "-c", "user.email=test@example.org", "-c", "commit.gpgsign=false")
Files = dict[str, Any]
Edit = Callable[[Files], None]
FOREARM = "forearm.yml"
WINDOWS = {
    "settle": (("0 days", "0 days", "0 days"), ("0 days", "0 days", "0 days")),
    "move": (("7 days", "10 days", "14 days"), ("10 days", "14 days", "3 weeks")),
    "easy-climbing": (("2 weeks", "3 weeks", "4 weeks"), ("4 weeks", "5 weeks", "6 weeks")),
    "full-climbing": (("6 weeks", "2 months", "3 months"), ("2 months", "3 months", "4 months")),
}


def stage(files: Files, wanted: str, file: str = FOREARM) -> Any:
    """A stage of a protocol, to be changed in place."""
    return next(s for s in files[file]["stages"] if s["id"] == wanted)


def entry(files: Files, vocabulary: str, wanted: str) -> Any:
    """An entry of a vocabulary, to be changed in place."""
    return next(e for e in files[f"shared/{vocabulary}.yml"] if e["id"] == wanted)


def _make_protocol(specimen: dict[str, Any]) -> dict[str, Any]:
    """The annotated specimen with two grades, weeks in place of days, tape, a load and a loaded exercise."""
    made = copy.deepcopy(specimen)
    made |= {"id": "forearm", "plain_name": "Sore forearm", "people": "adult"}
    made["status"] |= {"written": "2026-11-01", "next_review": "2027-11-01"}
    made["grades"] = [
        {**made["grades"][0], "id": "I", "name": "Mild"},
        {**made["grades"][0], "id": "II", "name": "Worse", "treated_by": "doctor-and-therapist", "tear": True},
    ]
    made["timelines"] = [{**made["timelines"][0], "grade": grade} for grade in ("I", "II")]
    for part in made["stages"]:
        part["windows"] = [
            {"grade": grade, "earliest": days[0], "usual": days[1], "latest": days[2], "source": "common-practice"}
            for grade, days in zip(("I", "II"), WINDOWS[part["id"]], strict=True)
        ]
    move = next(s for s in made["stages"] if s["id"] == "move")
    move["daily_life"] = [move["daily_life"], {"for": {"grade": ["II"]}, "says": "Wear a splint at night."}]
    easy = next(s for s in made["stages"] if s["id"] == "easy-climbing")
    easy["load"] = {"least": 20, "most": 60, "source": "own"}
    easy["taping"] = [{"taping": "h-strip", "for": {"grade": ["II"]}}]
    pull = {"exercise": "four-finger-pull", "sets": 3, "hold_seconds": 10, "rest_seconds": 60, "days_a_week": 2}
    easy["exercises"].append({**pull, "source": "common-practice"})
    return made


def make_files() -> Files:
    """Every file of the collection as plain data, by its place: the shipped vocabularies, and one protocol."""
    files = copy_files({name: data for name, (_, data) in _read_shipped().items()})
    files["shared/exceptions.yml"] = []
    files["shared/retired.yml"] = []
    files[FOREARM] = _make_protocol(files["_example.yml"])
    return files


@cache
def _read_shipped() -> dict[str, tuple[str, Any]]:
    """(text, plain data) of each shipped file that the collection takes over."""
    shipped = {}
    for path in sorted((PROJECT / "protocols").rglob("*.yml")):
        name = path.relative_to(PROJECT / "protocols").as_posix()
        if name.startswith(("shared/", "_")) or name == "refer/volar-plate.yml":
            text = path.read_text("utf-8")
            shipped[name] = (text, read_plain(text, name))
    return shipped


@cache
def _write(name: str, written: str) -> str:
    """A file's text from its data as JSON."""
    return write_plain(json.loads(written), find_kind(name))


def copy_files(files: Files) -> Files:
    """A deep copy. Why: there is no faster way."""
    made: Files = pickle.loads(pickle.dumps(files))
    return made


def write_text(name: str, data: Any) -> str:
    """A file as text; what is text already, or shipped as it is, stays so. Why: writing takes long."""
    shipped, known = _read_shipped().get(name, ("", None))
    if data == known:
        return shipped
    return data if isinstance(data, str) else _write(name, json.dumps(data))


def write_files(folder: Path, files: Files) -> None:
    """Write a collection, and nothing else, into a folder."""
    shutil.rmtree(folder, ignore_errors=True)
    for name, data in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(write_text(name, data), "utf-8", newline="")


def git(folder: Path, *arguments: str) -> str:
    done = subprocess.run(["git", "-C", str(folder), *IDENTITY, *arguments], capture_output=True, text=True, check=True)
    return done.stdout.strip()


def commit(folder: Path, message: str) -> str:
    """Commit everything as it is. Returns the commit."""
    git(folder, "add", "-A")
    git(folder, "commit", "-q", "--allow-empty", "-m", message)
    return git(folder, "rev-parse", "HEAD")


def start_history(folder: Path, files: Files) -> str:
    """A repository with the collection in protocols/, in one commit on `main`. Returns the commit."""
    folder.mkdir(parents=True, exist_ok=True)
    git(folder, "init", "-q", "-b", "main")
    (folder / "README.md").write_text("A repository of protocols.\n")
    write_files(folder / "protocols", files)
    return commit(folder, "Begin")


def add_branches(folder: Path, branches: Mapping[str, Files]) -> None:
    """Branches off `main`, each with one commit that holds a collection; all in one run of git, which is fast."""
    stream = []
    for branch, files in branches.items():
        stream.append(f"commit refs/heads/{branch}\ncommitter Test <test@example.org> 1764547200 +0000\n")
        stream.append(f"data {len(branch.encode())}\n{branch}\nfrom refs/heads/main\nD protocols\n")
        for name, data in files.items():
            text = write_text(name, data)
            stream.append(f"M 100644 inline protocols/{name}\ndata {len(text.encode())}\n{text}\n")
    command = ["git", "-C", str(folder), "fast-import", "--quiet"]
    subprocess.run(command, input="".join(stream).encode(), check=True)
