"""How large the desk is and how fast."""

from __future__ import annotations

import gzip
import shutil
import statistics
import tempfile
import time
from pathlib import Path

from desk_driver import fill, new_context, serve, wait_ready
from desk_under_test import build_desk_site, desk_files
from measure import Told
from playwright.sync_api import Browser, BrowserContext, sync_playwright

from fingerpost.read.library import read_plain

PROJECT = Path(__file__).resolve().parents[2]
CASE = PROJECT / "tests" / "golden" / "cases" / "pulley-left-ring.yml"
CHANGES = """() => {
    const times = [], note = document.querySelector("[data-path=note]");
    for (let n = 0; n < 20; n++) {
        const start = performance.now();
        note.value = `Rest ${n}`;
        desk.main.changed(); desk.main.settled();
        document.getElementById("desk-frame").contentDocument.body.getBoundingClientRect();
        times.push(performance.now() - start);
    }
    return times;
}"""


def tell_sizes() -> Told:
    """What the page's own files weigh over the wire, in the way that a host without packing gives them."""
    files = desk_files()
    wire = sum(len(content) for name, content in files.items() if name.endswith(".bin"))
    wire += sum(len(gzip.compress(content)) for name, content in files.items() if name.startswith("desk/engine/"))
    megabytes = wire / 1e6
    return Told("the desk over the wire, the first time", f"{megabytes:.1f} MB", "at most 6 MB", megabytes <= 6)


def time_start(context: BrowserContext, address: str) -> tuple[float, float, float]:
    """Seconds until the form can be used, until the sheets can be made, and for the first sheets after that."""
    page = context.new_page()
    begun = time.perf_counter()
    page.goto(f"{address}/desk/index.html", wait_until="domcontentloaded")
    form = time.perf_counter() - begun
    wait_ready(page)
    ready = time.perf_counter() - begun
    data = read_plain(CASE.read_text(encoding="utf-8"), CASE.name)
    page.evaluate("data => desk.fields.write(data)", data)
    begun = time.perf_counter()
    page.evaluate("() => { desk.main.changed(); desk.main.settled(); }")
    page.locator("#do-print:enabled").wait_for()
    first = time.perf_counter() - begun
    page.close()
    return form, ready, first


def time_starts(browser: Browser, address: str) -> list[float]:
    """The medians of `time_start` in a browser that has the page kept."""
    context = new_context(browser)
    found = [time_start(context, address) for _ in range(6)][1:]
    context.close()
    return [statistics.median(column) for column in zip(*found, strict=True)]


def time_changes(browser: Browser, address: str) -> float:
    context = new_context(browser)
    page = context.new_page()
    page.goto(f"{address}/desk/index.html")
    wait_ready(page)
    fill(page, read_plain(CASE.read_text(encoding="utf-8"), CASE.name))
    times = page.evaluate(CHANGES)
    context.close()
    return statistics.median(times) / 1000


def tell_desk() -> list[Told]:
    """From a host and from a folder."""
    told = []
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        site = build_desk_site(Path(place) / "site")
        path = shutil.which("chromium") or shutil.which("google-chrome")
        browser = playwright.chromium.launch(executable_path=path, chromium_sandbox=False, args=["--disable-gpu"])
        with serve(site) as served:
            for where, address in (("over http", served), ("from a folder", site.as_uri())):
                form, ready, first = time_starts(browser, address)
                change = time_changes(browser, address)
                text = f"form {form:.2f} s, ready {ready:.2f} s, then the first sheets {first:.2f} s"
                told.append(Told(f"the desk {where}, warm", text, "first sheets after 1.5 s", ready + first <= 1.5))
                text = f"{change * 1000:.0f} ms"
                told.append(Told(f"a change at the desk {where}", text, "under 300 ms", change < 0.3))
        browser.close()
    return told


ALL = (tell_sizes, tell_desk)
