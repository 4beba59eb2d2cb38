"""A collection of many protocols that differ, the same at each run: whole copies of the shipped ones, side by side.

Each copy has its own ids and names, and its look-alikes are those of the same copy; signs of their own tell the copies
apart. So `check` has nothing to find. Short entries come along: the look-alikes of a protocol must name it in return.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from measure import PROJECT

from fingerpost.read.library import read_plain
from fingerpost.rewrite.arrange import write_plain
from fingerpost.rewrite.canonical import find_kind

SHIPPED = PROJECT / "protocols"
BITS = 5
"""So many signs tell 32 copies apart: each copy has its own choice of them."""


def _letters(number: int) -> str:
    """aa, ab, … az, ba, …: figures would ask for a source."""
    return chr(ord("a") + number // 26) + chr(ord("a") + number % 26)


def _mark(data: dict[str, Any], copy: int) -> dict[str, Any]:
    """A condition with the signs of its copy."""
    signs = {key: list(value) for key, value in data["signs"].items()}
    for bit in range(BITS):
        signs.setdefault("usual" if copy >> bit & 1 else "does_not_fit", []).append(f"sign-{_letters(bit)}")
    return {**data, "signs": signs}


def _add_signs(path: Path) -> None:
    entries = read_plain(path.read_text(encoding="utf-8"), path.name)
    for bit in range(BITS):
        sign = {"says": f"Kind {_letters(bit)} of sign", "question": f"Is there a sign of kind {_letters(bit)}?"}
        entries.append({**entries[0], **sign, "id": f"sign-{_letters(bit)}"})
    path.write_text(write_plain(entries, find_kind("shared/signs.yml")), encoding="utf-8")


def _rename(data: dict[str, Any], known: set[str], told: str) -> dict[str, Any]:
    """One condition as it stands in a copy."""
    made = {**data, "id": f"{data['id']}-{told}", "plain_name": f"{data['plain_name']} of kind {told.upper()}"}
    for key, value in data.items():
        if key == "look_alikes":
            made[key] = [{**v, "id": f"{v['id']}-{told}"} if v["id"] in known else v for v in value]
    return made


def make_collection(folder: Path, count: int) -> None:
    """Write a collection of at least so many protocols, among them the shipped ones."""
    shutil.copytree(SHIPPED, folder)
    found = {p: read_plain(p.read_text(encoding="utf-8"), p.name) for p in sorted(SHIPPED.glob("*.yml"))}
    protocols = {p: data for p, data in found.items() if not p.name.startswith("_")}
    short = {p: read_plain(p.read_text(encoding="utf-8"), p.name) for p in sorted((SHIPPED / "refer").glob("*.yml"))}
    known = {data["id"] for data in (*protocols.values(), *short.values())}
    _add_signs(folder / "shared" / "signs.yml")
    for copy in range(-(-count // len(protocols))):
        for path, data in (protocols | short).items():
            place = path.relative_to(SHIPPED)
            made = _mark(_rename(data, known, _letters(copy)) if copy else data, copy)
            target = folder / place.with_name(f"{made['id']}.yml")
            target.write_text(write_plain(made, find_kind(place.as_posix())), encoding="utf-8")
