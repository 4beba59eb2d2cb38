"""Drives the desk's form as a person does: by its labels, its boxes and its buttons."""

from __future__ import annotations

import functools
import json
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Page, expect

TODAY = "2026-11-25"
READY_MS = 90_000
PLAIN = (
    "reference",
    "name",
    "note",
    "doctor_cleared",
    "review_date",
    *(f"{m}_{u}" for m in ("body_mass", "plate") for u in ("kg", "lb")),
)
PICKED = ("hand", "finger", "place", "side", "grade", "age_band", "size", "paper", "print_size")
LETTERHEAD = ("name", "phone", "emergency_number")


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: Any) -> None:
        pass


@contextmanager
def serve(folder: Path) -> Iterator[str]:
    """The folder over plain HTTP, as any static host would; gives its address."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(_Quiet, directory=str(folder)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}"
    server.shutdown()
    server.server_close()


@contextmanager
def listen() -> Iterator[tuple[str, list[str]]]:
    """Another origin, and all that reaches it."""
    heard: list[str] = []

    class Ear(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            heard.append(self.path)
            self.send_response(200)
            self.send_header("Access-Control-Allow-Origin", "*")
            self.end_headers()

        do_POST = do_OPTIONS = do_HEAD = do_GET

        def log_message(self, *_: Any) -> None:
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Ear)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_port}", heard
    server.shutdown()
    server.server_close()


def new_context(browser: Browser, **more: Any) -> BrowserContext:
    """A browser on the day of the demo cases."""
    context = browser.new_context(**{"viewport": {"width": 1280, "height": 900}, "accept_downloads": True, **more})
    context.clock.set_fixed_time(f"{TODAY}T10:00:00")
    return context


def open_desk(context: BrowserContext, address: str) -> Page:
    """The desk, once the sheets can be made."""
    page = context.new_page()
    page.goto(f"{address}/desk/index.html")
    wait_ready(page)
    return page


def wait_ready(page: Page) -> None:
    page.wait_for_load_state("load")
    for _ in range(READY_MS // 100):
        if page.evaluate("desk.main.ready()"):
            return
        page.wait_for_timeout(100)
    raise AssertionError(f"the desk did not get ready: {page.locator('#desk-state').inner_text()}")


def pick(page: Page, path: str, value: str) -> None:
    """Touch one of several choices, unless it is the only one and so not asked for."""
    box = page.locator(f'[data-choices="{path}"] .choice:has(input[value="{value}"])')
    if box.is_visible():
        box.click()


def put(page: Page, path: str, value: Any) -> None:
    """Fill in a field, opening the part in which it lies."""
    field = page.locator(f'[data-path="{path}"]').first
    unfold(page, path)
    field.fill(str(value))


def unfold(page: Page, path: str) -> None:
    fold = page.locator(f'details.fold:not([open]):has([data-field="{path}"]) > summary')
    if fold.count():
        fold.first.click()


def fill(page: Page, case: dict[str, Any]) -> None:
    """The whole of a case, from the injury to the letterhead."""
    pick(page, "protocol", case["protocol"])
    *earlier, visit = case.get("visits", [{}])
    if earlier:  # nobody types them: they come with a file
        page.evaluate("visits => desk.visits.keep(visits)", earlier)
    for path in ("units", "hand", "finger", "place", "side", "grade", "age_band", "size", "paper", "print_size"):
        if path in case:
            unfold(page, path)
            pick(page, path, str(case[path]))
    for path in PLAIN:
        if path in case:
            put(page, path, case[path])
    pick(page, "anchor.event", case["anchor"]["event"])
    put(page, "anchor.date", case["anchor"]["date"])
    pick(page, "stage", case["stage"])
    for began in case.get("began", []):
        page.locator(f'[data-began="{began["stage"]}"]').fill(began["date"])
    for key, value in case.get("checked", {}).items():
        if key != "stage":  # it follows the stage that is chosen
            put(page, f"checked.{key}", value)
    _fill_visit(page, visit)
    _fill_more(page, case)


def _fill_visit(page: Page, visit: dict[str, Any]) -> None:
    """The newest visit: who checked it on which day, and what was measured."""
    if checked := visit.get("checked"):
        for key, value in {**checked, "date": visit["date"]}.items():
            put(page, f"checked.{key}", value)
    for key in ("bend_degrees", "lack_degrees", "round_mm", "pain"):
        if key in visit:
            put(page, f"visit.{key}", visit[key])
    add_rows(page, "tests", visit.get("tests", []))


def load(page: Page, case: dict[str, Any]) -> None:
    """A case at once, as opening its file does: for tests that are about something else than filling in."""
    page.evaluate("told => { desk.fields.write(told); desk.main.changed(); desk.main.settled(); }", case)


def choose_enclosures(page: Page, names: list[str]) -> None:
    """One's own choice of what goes with the leaf."""
    unfold(page, "enclose")
    page.locator('.choice:has(input[value="own"])').click()
    for box in page.locator('[data-path="enclose"]').all():
        box.set_checked(box.get_attribute("value") in names)


def _fill_more(page: Page, case: dict[str, Any]) -> None:
    for entry in case.get("finger_sizes", []):
        unfold(page, "finger_sizes")
        page.locator(f'[data-size="{entry["finger"]}"]').fill(str(entry["mm"]))
    if "enclose" in case:
        choose_enclosures(page, case["enclose"])
    for path in ("tape_allergy", "share_with_coach"):
        if case.get(path):
            unfold(page, path)
            page.locator(f'[data-path="{path}"]').check()
    add_rows(page, "important_dates", case.get("important_dates", []))
    add_rows(page, "baselines", case.get("baselines", []))
    if clinic := case.get("clinic"):
        for key in LETTERHEAD:
            if key in clinic:
                put(page, f"clinic.{key}", clinic[key])
        put(page, "clinic.lines", "\n".join(clinic.get("lines", [])))
    settle(page)
    for taping in case.get("tapings", []):
        unfold(page, "tapings")
        page.locator(f'[data-path="tapings"][value="{taping}"]').check()
    settle(page)


def add_rows(page: Page, name: str, rows: list[dict[str, Any]]) -> None:
    for row in rows:
        made = page.locator(f"[data-list={name}] [data-row]").last
        fold = page.locator(f"details.fold:not([open]):has([data-list={name}]) > summary")
        if fold.count():
            fold.click()  # the first row is there already
            made.wait_for()
        else:
            page.locator(f"[data-add={name}]").click()
        for key, value in row.items():
            field = made.locator(f'[data-key="{key}"]')
            if field.evaluate("e => e.tagName") == "SELECT":
                field.select_option(str(value))
            else:
                field.fill(" ".join(map(str, value)) if isinstance(value, list) else str(value))


def settle(page: Page) -> None:
    """Wait until the last change has been answered."""
    page.evaluate("desk.main.settled()")


def read_form(page: Page) -> dict[str, Any]:
    """What the form holds, with the keys of a case file."""
    return dict(json.loads(page.evaluate("JSON.stringify(desk.fields.read())")))


def state(page: Page) -> str:
    return page.locator("#desk-state").inner_text()


def problems(page: Page) -> list[str]:
    """The messages beside the fields, in the order of the form."""
    return page.locator(".field-problem").all_text_contents()


def clear(page: Page) -> None:
    page.locator("#do-clear").click()
    page.locator("#do-clear-yes").click()
    expect(page.locator("#desk-state")).to_have_text("Everything is cleared.")


def sheet_text(page: Page) -> str:
    """All words of the sheets as they stand in the frame."""
    return str(page.evaluate("document.getElementById('desk-frame').contentDocument.body.textContent"))
