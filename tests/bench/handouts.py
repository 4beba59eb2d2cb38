"""One handout, and many: against the engine alone, against other programs, with more processes, over many cases."""

from __future__ import annotations

import html
import importlib
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

from bs4 import BeautifulSoup
from measure import (
    PROJECT,
    TODAY,
    Told,
    demo_case,
    engine_alone,
    library,
    make_html,
    print_one,
    tell_ratio,
    time_side_by_side,
    time_turns,
)
from playwright.sync_api import sync_playwright

from fingerpost.make.handout_html import draw_handout, forget_drawings
from fingerpost.plan.person.handout import plan_handout
from fingerpost.run import workers

CASES = 8
MANY = int(os.environ.get("FINGERPOST_BENCH_CASES", "100"))
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


def tell_browser() -> Told:
    """Chromium kept open, given the same HTML with the same styles and fonts inside."""
    from fingerpost.desk.bundle import write_print_css

    page = make_html().replace("</head>", f"<style>{write_print_css(PROJECT)}</style></head>")
    with sync_playwright() as playwright:
        found = shutil.which("chromium") or shutil.which("google-chrome")
        browser = playwright.chromium.launch(executable_path=found, chromium_sandbox=False, args=["--disable-gpu"])
        tab = browser.new_page()

        def print_there() -> None:
            tab.set_content(page)
            tab.pdf(prefer_css_page_size=True, tagged=True)

        ours, theirs = time_side_by_side(print_one, print_there)
        browser.close()
    return tell_ratio("a handout against a browser that stays open", ours, theirs, 0.9, ("handout", "browser"))


def _paragraphs() -> list[str]:
    soup = BeautifulSoup(make_html(), "html.parser")
    found = soup.find_all(["h1", "h2", "h3", "p", "li", "td", "th"])
    return [text for part in found if (text := part.get_text(" ", strip=True))]


def tell_typesetter() -> Told:
    """The same words set by typst without pictures, tables or boxes: about the least that setting them can cost."""
    what = "the same words alone in typst: the floor"
    try:
        typst: Any = importlib.import_module("typst")
    except ImportError:
        return Told(what, "not measured: typst is not installed here")
    text = "\n\n".join(re.sub(r"([\\#*_`$<>@\[\]=/+-])", r"\\\1", part) for part in _paragraphs())
    ours, theirs = time_side_by_side(print_one, lambda: typst.compile(text.encode()))
    return Told(what, f"handout {ours:.2f} s, words alone {theirs:.2f} s: {ours / theirs:.0f} times as long")


def tell_word_processor() -> Told:
    """A mail merge without its merge: finished documents of the same words, printed in one go."""
    what = "the same words alone, printed by a word processor (LibreOffice, four documents in one start)"
    program = shutil.which("soffice")
    if program is None:
        return Told(what, "not measured: it is not installed here")
    body = "".join(f"<p>{html.escape(part)}</p>" for part in _paragraphs())
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


def _orders(count: int) -> Iterator[workers.Order]:
    text = CASE.read_text(encoding="utf-8")
    for number in range(count):
        told = text.replace("2417", f"{2000 + number}").replace("64.5", f"{60 + number % 9}.5")
        yield workers.Order(f"case {number}", told)


def _run(jobs: int, count: int) -> float:
    """Seconds from the first finished case to the last, so that starting the processes does not count."""
    kit = workers.make_kit(library(), TODAY, "handout", False, b"")
    begun = 0.0
    came = workers.make_all(kit, _orders(count + 2 * jobs), lambda: workers.open_executor(jobs), jobs)
    for done, (_, made) in enumerate(came, 1):
        assert made.files, made
        begun = time.perf_counter() if done == 2 * jobs else begun
    return time.perf_counter() - begun


def tell_processes() -> Told:
    one, two = _run(1, CASES), _run(2, 2 * CASES) / 2
    gain = one / two
    told = f"{CASES} cases: one process {one:.1f} s, two processes {two:.1f} s: {gain:.2f} times as fast"
    return Told("two processes against one", told, "at least 1.80", gain >= 1.8)


# The highest that any process of the run has stood at. Linux tells it, and the run has a session of its own.
_MEMORY = """
import os, sys
from pathlib import Path
sys.path[:0] = {paths!r}
from handouts import MANY, _orders
from measure import TODAY, library
from fingerpost.run import workers
kit = many.make_kit(library(), TODAY, "handout", False, b"")
def read_highest():
    found = [0]
    for path in Path("/proc").glob("[0-9]*"):
        try:
            if os.getsid(int(path.name)) == os.getsid(0):
                lines = dict(line.split(":") for line in (path / "status").read_text().splitlines())
                found.append(int(lines["VmHWM"].split()[0]) / 1024)
        except (OSError, KeyError):
            pass
    return max(found)
if __name__ == "__main__":
    highest, quarter = 0, 0
    for done, _ in enumerate(many.make_all(kit, _orders(MANY), lambda: many.open_executor(1, MANY), 1), 1):
        if done % 5 == 0:
            highest = max(highest, read_highest())
        quarter = highest if done == MANY // 4 else quarter
    print(quarter, highest)
"""


def tell_memory() -> Told:
    """The most memory after a quarter of the cases, and after all."""
    code = _MEMORY.format(paths=[str(Path(__file__).parent), str(PROJECT)])
    call = [sys.executable, "-c", code]
    said = subprocess.run(call, capture_output=True, text=True, check=True, start_new_session=True).stdout
    early, late = map(float, said.split())
    told = f"one process, {MANY} cases: {early:.0f} MB after a quarter, {late:.0f} MB at the end: {late / early:.2f}"
    return Told("memory over many cases", told, "under 120 MB, and at most 1.05", late < 120 and late / early <= 1.05)


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
    tell_browser,
    tell_typesetter,
    tell_word_processor,
    tell_processes,
    tell_memory,
    tell_cold,
)
