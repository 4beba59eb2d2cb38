"""The desk's page and its files, by their address on the site."""

from __future__ import annotations

import base64
import json
from collections.abc import Mapping
from dataclasses import asdict
from importlib.metadata import distribution
from pathlib import Path
from typing import Any

from fingerpost.desk.api import write_kit
from fingerpost.desk.bundle import LIBRARIES, Parcel, make_parts
from fingerpost.desk.engine import Engine
from fingerpost.draw.hands.desk_hand import DeskView, draw_desk_hand, find_touch_point
from fingerpost.files.cache import Kept
from fingerpost.make.drawn.on_screen import put_on_screen
from fingerpost.make.templates import make_environment, render
from fingerpost.model.library import Library
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.pages.desk_form import ADDRESS, DeskForm, FormInjury, plan_desk_form

TEMPLATE = "desk/form.html"
LICENCES = f"{ADDRESS}licences.txt"
_DISTRIBUTIONS = dict(zip(LIBRARIES, ("jinja2", "markupsafe", "segno", "pyyaml"), strict=True))


def _view(injury: FormInjury) -> DeskView:
    return "forearm" if injury.forearm else injury.view


def list_spots(injury: FormInjury) -> list[dict[str, Any]]:
    """What can be touched on the hand for an injury: each place of each finger. One spot for a place of all fingers."""
    spots: dict[tuple[float, float], dict[str, Any]] = {}
    for place in injury.places:
        for finger in injury.fingers:
            for side in injury.sides or (None,):
                at = find_touch_point(_view(injury), place.landmark, finger, side)
                shared = (at.x, at.y) in spots
                told = {"place": place.id, "finger": None if shared else finger, "side": side, "x": at.x, "y": at.y}
                spots[at.x, at.y] = told
    return list(spots.values())


def write_data(form: DeskForm, parts: tuple[Parcel, ...]) -> dict[str, Any]:
    """What the page's scripts need to know."""
    injuries = {
        i.id: {
            "id": i.id,
            "name": i.name,
            "people": i.people,
            "stop": i.stop,
            "drawing": _view(i),
            "view": dict(form.views)[i.view],
            "fingers": i.fingers,
            "places": [[p.id, p.name] for p in i.places],
            "sides": i.sides,
            "grades": [asdict(g) for g in i.grades],
            "stages": dict(i.stages),
            "spots": list_spots(i),
        }
        for i in form.injuries
    }
    loaded = {p.kind: {"name": p.name, "size": len(p.packed)} for p in parts}
    return {"words": dict(form.words), "injuries": injuries, "parts": loaded}


def write_page(library: Library, templates: Mapping[str, str], parts: tuple[Parcel, ...]) -> str:
    """What stands on the page, as HTML for the frame site_overrides/desk.html."""
    writer = Writer(library)
    form = plan_desk_form(writer)
    views: tuple[DeskView, ...] = ("palm", "back", "forearm")
    return render(
        make_environment(templates),
        TEMPLATE,
        href=lambda target: f"../{target}" + ("index.html" if target.endswith("/") else ""),
        drawings={v: put_on_screen(draw_desk_hand(v, writer.say("desk-touch"))) for v in views},
        form=form,
        data=write_data(form, parts),
        licences=LICENCES.removeprefix(ADDRESS),
    )


def write_licences(engine: Engine) -> str:
    """What the desk's files are made of, and under which licences: the engine, Python, and the libraries."""
    texts = [
        (Path(__file__).with_name("licences") / name).read_text("utf-8")
        for name in ("engine.txt", "mpl.txt", "python.txt")
    ]
    texts[0] = texts[0].replace("{integrity}", engine.integrity)
    for library, name in _DISTRIBUTIONS.items():
        found = distribution(name)
        files = [f for f in found.files or () if f.name.upper().startswith(("LICENSE", "LICENCE", "COPYING"))]
        texts.append(f"{library} {found.version}\n\n" + "\n".join(f.read_text("utf-8") for f in files))
    line = f"\n{'-' * 100}\n\n"
    return line.join(text.strip() + "\n" for text in texts)


def write_script(part: Parcel) -> bytes:
    """A part as a script, for a page that was opened from a folder: there a browser lets a page read nothing else."""
    content = base64.b64encode(part.packed).decode()
    return f'desk.given({json.dumps(part.kind)}, "{content}");\n'.encode()


def make_desk(library: Library, templates: Mapping[str, str], project: Path, kept: Kept) -> dict[str, bytes]:
    """Every file of the desk by its address. Raises NoEngine where it cannot be made here.

    `kept` has the engine, and what was compiled and packed before.
    """
    engine, parts = make_parts(project, write_kit(library, templates), kept)
    files = {
        f"{ADDRESS}index.html": write_page(library, templates, parts).encode("utf-8"),
        f"{ADDRESS}engine/pyodide.js": engine.read("pyodide.js"),
        f"{ADDRESS}engine/pyodide.asm.js": engine.as_script(),
        LICENCES: write_licences(engine).encode("utf-8"),
    }
    for part in parts:
        if part.kind == "engine":
            files[f"{ADDRESS}parts/{part.name}.wasm"] = engine.read("pyodide.asm.wasm")
        files[f"{ADDRESS}parts/{part.name}.bin"] = part.packed
        files[f"{ADDRESS}parts/{part.name}.js"] = write_script(part)
    return files
