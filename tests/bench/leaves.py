"""A leaf: against a browser and its words alone in CPU time, with two processes, and over a thousand of them."""

from __future__ import annotations

import dataclasses
import importlib
import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from functools import cache
from itertools import count
from pathlib import Path
from typing import Any

from measure import (
    PROJECT,
    TODAY,
    Told,
    cpu_side_by_side,
    demo_case,
    environment,
    library,
    list_paragraphs,
)
from playwright.sync_api import sync_playwright

from fingerpost.make import pdf
from fingerpost.make.drawn.pictures import forget_drawings
from fingerpost.make.handout_html import write_html
from fingerpost.model.case import Case
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.run import workers

CASES = 24
MANY = int(os.environ.get("FINGERPOST_BENCH_LEAVES", "1000"))
CASE = PROJECT / "tests" / "golden" / "cases" / "pulley-left-ring.yml"


@cache
def _case() -> Case:
    """The demo case with nothing enclosed: one leaf, both sides of one sheet of paper."""
    return dataclasses.replace(demo_case(), enclose=())


def _write_leaf() -> str:
    plan = plan_handout(library(), _case(), TODAY)
    assert len(plan.leaves) == 1
    assert not plan.sheets
    return write_html(environment(), plan)


def _print_leaf() -> bytes:
    """All that a leaf takes once the program runs: planned, fitted, written and printed."""
    return pdf.print_pdf(_write_leaf(), PROJECT)


def _print_new() -> bytes:
    """The same with every picture drawn and translated anew."""
    forget_drawings()
    pdf._stamps(PROJECT, "print.css").forget()
    return _print_leaf()


def _tell_cpu(what: str, ours: float, theirs: float, names: tuple[str, str], most: float | None) -> Told:
    ratio = ours / theirs
    told = f"CPU: {names[0]} {ours:.3f} s, {names[1]} {theirs:.3f} s: {ratio:.2f}"
    return Told(what, told) if most is None else Told(what, told, f"at most {most:.2f}", ratio <= most)


def tell_browser() -> list[Told]:
    """Chromium kept open, given the same HTML with the same styles and fonts inside; it does not fit anything."""
    from fingerpost.desk.bundle import write_print_css

    page = _write_leaf().replace("</head>", f"<style>{write_print_css(PROJECT)}</style></head>")
    with sync_playwright() as playwright:
        found = shutil.which("chromium") or shutil.which("google-chrome")
        browser = playwright.chromium.launch(executable_path=found, chromium_sandbox=False, args=["--disable-gpu"])
        tab = browser.new_page()

        def print_there() -> None:
            tab.set_content(page)
            tab.pdf(prefer_css_page_size=True, tagged=True)

        ours, new, theirs = cpu_side_by_side(_print_leaf, _print_new, print_there)
        browser.close()
    names = ("leaf", "browser")
    return [
        _tell_cpu("a leaf, warm and with fitting, against a browser that stays open", ours, theirs, names, 1.25),
        _tell_cpu("the same with every picture drawn anew", new, theirs, names, None),
    ]


def tell_typesetter() -> Told:
    """The same words set by typst without pictures, tables or boxes: about the least that setting them can cost."""
    what = "the words of a leaf alone in typst: the floor"
    try:
        typst: Any = importlib.import_module("typst")
    except ImportError:
        return Told(what, "not measured: typst is not installed here", "at most 10.00")
    marks = re.compile(r"([\\#*_`$<>@\[\]=/+-])")
    parts = [marks.sub(r"\\\1", part) for part in list_paragraphs(_write_leaf())]
    number = count()

    def compile_words() -> None:
        """Each time with another number in each paragraph: typst remembers those that it has set before."""
        told = f" {next(number)}\n\n"
        typst.compile(told.join(parts).encode())

    ours, theirs = cpu_side_by_side(_print_leaf, compile_words)
    return _tell_cpu(what, ours, theirs, ("leaf", "words alone"), 10.0)


def list_orders(most: int) -> Iterator[workers.Order]:
    """So many cases, no two alike: another number, another mass, another day of the next visit, one leaf each."""
    text = CASE.read_text(encoding="utf-8").replace("share_with_coach: true", "share_with_coach: false\nenclose: []")
    for number in range(most):
        told = text.replace("2417", f"{2000 + number}").replace("64.5", f"{50 + number % 37}.5")
        told = told.replace("2026-12-02", f"2026-12-{1 + number % 5:02d}")
        yield workers.Order(f"case {number}", told)


def _time_leaf(jobs: int, most: int) -> float:
    """Seconds a leaf, from the first finished ones to the last, so that starting the processes does not count."""
    kit = workers.make_kit(library(), TODAY, "handout", False, b"")
    first = 3 * jobs * workers.AHEAD
    begun = 0.0
    came = workers.make_all(kit, list_orders(most + first), lambda: workers.open_executor(jobs), jobs)
    for done, (_, made) in enumerate(came, 1):
        assert made.files, made
        begun = time.perf_counter() if done == first else begun
    return (time.perf_counter() - begun) / most


def tell_processes() -> Told:
    """One process and two by turns, three times each, and the middle of three gains."""
    found = [(_time_leaf(1, CASES), _time_leaf(2, 2 * CASES)) for _ in range(3)]
    gain, one, two = sorted((one / two, one, two) for one, two in found)[1]
    load = os.getloadavg()[0]
    told = f"one process {one:.3f} s a leaf, two {two:.3f} s: {gain:.2f} times as fast (load {load:.1f})"
    return Told("leaves: two processes against one", told, "at least 1.80", gain >= 1.8)


# One process that prints them all. Linux tells what it holds. What is spread over a run is seen best by its middle.
_MEMORY = """
import sys
sys.path[:0] = {paths!r}
from statistics import median
from leaves import MANY, list_orders
from measure import TODAY, library
from fingerpost.run import workers
def read_resident():
    with open("/proc/self/status") as lines:
        return next(int(line.split()[1]) / 1024 for line in lines if line.startswith("VmRSS"))
kit = workers.make_kit(library(), TODAY, "handout", False, b"")
held = []
for order in list_orders(MANY):
    assert workers.make(kit, order).files
    held.append(read_resident())
few = max(1, MANY // 50)
print(median(held[MANY // 4 - few : MANY // 4]), median(held[-few:]))
"""


def tell_memory() -> Told:
    """What one process holds after a quarter of the leaves, and after all."""
    here = Path(__file__).parent
    call = [sys.executable, "-c", _MEMORY.format(paths=[str(here), str(here.parent), str(PROJECT)])]
    early, late = map(float, subprocess.run(call, capture_output=True, text=True, check=True).stdout.split())
    told = f"one process, {MANY} leaves: {early:.0f} MB after a quarter, {late:.0f} MB at the end: {late / early:.2f}"
    return Told("memory over many leaves", told, "at most 1.05", late / early <= 1.05)


ALL = (tell_browser, tell_typesetter, tell_processes, tell_memory)
