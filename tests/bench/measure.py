"""How a measurement is made and told: the median of a few turns, a ratio of two things of one run, and its aim."""

from __future__ import annotations

import gc
import os
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

from bs4 import BeautifulSoup
from site_under_test import PROJECT, make_templates, whole_library

from fingerpost.make import pdf
from fingerpost.make.drawn.pictures import forget_drawings
from fingerpost.make.handout_html import write_html
from fingerpost.model.case import Case
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.read.library import read_case

TODAY = date(2026, 11, 25)
TURNS = 5


@dataclass(frozen=True)
class Told:
    """One line of the table. `met` is None where there is no aim, or nothing was measured."""

    what: str
    measured: str
    aim: str = ""
    met: bool | None = None

    def write(self) -> str:
        verdict = {None: "", True: "met", False: "**missed**"}[self.met]
        return f"| {self.what} | {self.measured} | {self.aim} | {verdict} |"


def tell_ratio(what: str, part: float, whole: float, most: float, names: tuple[str, str]) -> Told:
    """`part` may be at the most `most` times `whole`. Both in seconds."""
    ratio = part / whole
    told = f"{names[0]} {part:.2f} s, {names[1]} {whole:.2f} s: {ratio:.2f}"
    return Told(what, told, f"at most {most:.2f}", ratio <= most)


def time_turns(work: Callable[[], object], turns: int = TURNS) -> float:
    """Seconds on the clock, the median of several turns; a first one, to warm up, does not count."""
    work()
    found = []
    for _ in range(turns):
        gc.collect()
        start = time.perf_counter()
        work()
        found.append(time.perf_counter() - start)
    return statistics.median(found)


def time_side_by_side(*works: Callable[[], object], turns: int = TURNS) -> list[float]:
    """The same for several, taken in turn: what else the machine does then falls on all of them."""
    for work in works:
        work()
    found: list[list[float]] = [[] for _ in works]
    for _ in range(turns):
        for times, work in zip(found, works, strict=True):
            gc.collect()
            start = time.perf_counter()
            work()
            times.append(time.perf_counter() - start)
    return [statistics.median(times) for times in found]


def read_cpu() -> float:
    """CPU seconds of this process and of all that it started, from Linux's own count, which is kept in hundredths."""
    found: dict[int, tuple[int, float]] = {}
    for path in Path("/proc").glob("[0-9]*"):
        try:
            told = (path / "stat").read_text().rpartition(")")[2].split()
        except OSError:
            continue  # it has ended
        found[int(path.name)] = int(told[1]), sum(map(int, told[11:15])) / os.sysconf("SC_CLK_TCK")
    ended = os.times()
    total = time.process_time() + ended.children_user + ended.children_system
    ours = [os.getpid()]
    for parent in ours:
        ours += [pid for pid, (above, _) in found.items() if above == parent]
    return total + sum(found[pid][1] for pid in ours[1:])


def cpu_side_by_side(*works: Callable[[], object], turns: int = 7, times: int = 5) -> list[float]:
    """CPU seconds of each work, the median of several turns of so many `times`, taken in turn after two to warm up."""
    for work in (*works, *works):
        work()
    found: list[list[float]] = [[] for _ in works]
    for _ in range(turns):
        for seconds, work in zip(found, works, strict=True):
            gc.collect()
            start = read_cpu()
            for _ in range(times):
                work()
            seconds.append((read_cpu() - start) / times)
    return [statistics.median(seconds) for seconds in found]


def list_paragraphs(page: str) -> list[str]:
    """The words of a page of HTML, paragraph by paragraph."""
    found = BeautifulSoup(page, "html.parser").find_all(["h1", "h2", "h3", "p", "li", "td", "th"])
    return [text for part in found if (text := part.get_text(" ", strip=True))]


library = whole_library
environment = cache(make_templates)


@cache
def demo_case() -> Case:
    path = PROJECT / "tests" / "golden" / "cases" / "pulley-left-ring.yml"
    document, _ = read_case(path, path.name)
    assert document
    return document.value


def make_html() -> str:
    """The finished HTML of one handout, every drawing drawn anew."""
    forget_drawings()
    return write_html(environment(), plan_handout(library(), demo_case(), TODAY))


def print_one() -> bytes:
    return pdf.print_pdf(make_html(), PROJECT)


def engine_alone(page: str) -> bytes:
    """The same page as the engine prints it by itself: nothing kept, nothing spared, nothing mended."""
    css, fonts, fetcher = pdf._styles(PROJECT, "print.css")
    document = pdf.open_engine().HTML(string=page, base_url=PROJECT.as_uri() + "/", url_fetcher=fetcher)
    return bytes(document.write_pdf(stylesheets=[css], font_config=fonts, pdf_variant="pdf/ua-1"))
