"""How large the desk is and how fast: run `PYTHONPATH=.:tests:tests/browser .venv/bin/python tests/bench/desk.py`."""

from __future__ import annotations

import gzip
import shutil
import statistics
import tempfile
import time
from pathlib import Path

from desk_driver import fill, new_context, serve, wait_ready
from desk_under_test import build_desk_site, desk_files
from playwright.sync_api import Browser, BrowserContext, sync_playwright

from generator.content import read_plain

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


def tell_sizes() -> None:
    files = desk_files()
    for name, content in sorted(files.items()):
        if name.endswith(".bin") or name.startswith("desk/engine/"):
            print(f"  {name}: {len(content):,} bytes, {len(gzip.compress(content)):,} packed by a host")


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


def tell_starts(browser: Browser, address: str) -> None:
    for name, count in (("cold", 3), ("warm", 5)):
        context = new_context(browser)
        found = []
        for _ in range(count):
            if name == "cold":
                context.close()
                context = new_context(browser)
            found.append(time_start(context, address))
        middle = [statistics.median(column) for column in zip(*found, strict=True)]
        told = zip(("form after", "ready after", "first sheets after another"), middle, strict=True)
        print(f"  {name}: " + ", ".join(f"{what} {seconds:.2f} s" for what, seconds in told))
        context.close()


def tell_changes(browser: Browser, address: str) -> None:
    context = new_context(browser)
    page = context.new_page()
    page.goto(f"{address}/desk/index.html")
    wait_ready(page)
    fill(page, read_plain(CASE.read_text(encoding="utf-8"), CASE.name))
    times = page.evaluate(CHANGES)
    print(f"  a change of the note: {statistics.median(times):.0f} ms, at most {max(times):.0f} ms")
    context.close()


def main() -> None:
    with tempfile.TemporaryDirectory() as place, sync_playwright() as playwright:
        print("sizes")
        tell_sizes()
        site = build_desk_site(Path(place) / "site")
        path = shutil.which("chromium")
        browser = playwright.chromium.launch(executable_path=path, chromium_sandbox=False, args=["--disable-gpu"])
        for name, address in (("over http", ""), ("from a folder", site.as_uri())):
            with serve(site) as served:
                print(name)
                tell_starts(browser, address or served)
                tell_changes(browser, address or served)
        browser.close()


if __name__ == "__main__":
    main()
