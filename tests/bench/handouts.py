"""A handout: what drawing it takes, the PDF engine alone, a word processor, and the command from nothing."""

from __future__ import annotations

import html
import shutil
import subprocess
import sys
import tempfile
from functools import partial
from pathlib import Path

from measure import (
    PROJECT,
    TODAY,
    Told,
    demo_case,
    engine_alone,
    library,
    list_paragraphs,
    make_html,
    print_one,
    tell_ratio,
    time_side_by_side,
    time_turns,
)

from fingerpost.make.drawn.pictures import forget_drawings
from fingerpost.make.handout_html import draw_handout
from fingerpost.plan.leaf.handout import plan_handout

CASE = PROJECT / "tests" / "golden" / "cases" / "pulley-left-ring.yml"


def tell_drawing() -> Told:
    """The share of drawing in a handout."""
    plan = plan_handout(library(), demo_case(), TODAY)

    def draw() -> None:
        forget_drawings()
        draw_handout(plan)

    part, whole = time_side_by_side(draw, print_one)
    return tell_ratio("drawing, as a share of one handout", part, whole, 0.15, ("drawing", "handout"))


def tell_engine() -> Told:
    page = make_html()
    ours, alone = time_side_by_side(print_one, partial(engine_alone, page))
    return tell_ratio("a handout, warm, against the PDF engine alone", ours, alone, 1.10, ("handout", "engine"))


def tell_word_processor() -> Told:
    """A mail merge without its merge: finished documents of the same words, printed in one go."""
    what = "the same words alone, printed by a word processor (LibreOffice, four documents in one start)"
    program = shutil.which("soffice")
    if program is None:
        return Told(what, "not measured: it is not installed here")
    body = "".join(f"<p>{html.escape(part)}</p>" for part in list_paragraphs(make_html()))
    with tempfile.TemporaryDirectory() as place:
        names = [Path(place) / f"letter-{number}.html" for number in range(4)]
        for name in names:
            name.write_text(f"<html><meta charset=utf-8><body>{body}</body></html>", encoding="utf-8")
        call = [
            program,
            f"-env:UserInstallation=file://{place}/home",
            "--headless",
            "--convert-to",
            "pdf:writer_web_pdf_Export",
        ]
        call += ["--outdir", place, *map(str, names)]
        theirs = time_turns(lambda: subprocess.run(call, capture_output=True, check=True), 3) / len(names)
    ours = time_turns(print_one)
    return Told(what, f"handout {ours:.2f} s, word processor {theirs:.2f} s: {ours / theirs:.2f}")


def tell_cold() -> Told:
    """The command for one case from nothing, and where the time goes."""
    python = [sys.executable, "-c"]

    def run(code: str) -> float:
        return time_turns(lambda: subprocess.run([*python, code], check=True, capture_output=True, cwd=PROJECT), 3)

    start = run("pass")
    imports = run("import fingerpost.run.cli, fingerpost.run.load, fingerpost.run.workers, fingerpost.run.batch")
    with tempfile.TemporaryDirectory() as place:
        call = ["--out", place, "handout", str(CASE), "--today", TODAY.isoformat()]
        whole = run(f"from fingerpost.run.cli import main; main({call!r})")
    warm = time_turns(print_one, 3)
    told = (
        f"{whole:.1f} s: Python {start:.2f}, libraries {imports - start:.1f}, sheets {warm:.1f}, "
        f"reading, checking, fonts, the coach sheet and writing {whole - imports - warm:.1f}"
    )
    return Told("`handout` for one case, cold", told)


ALL = (
    tell_drawing,
    tell_engine,
    tell_word_processor,
    tell_cold,
)
