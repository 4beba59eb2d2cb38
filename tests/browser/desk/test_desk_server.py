"""`fingerpost desk`: the built site on the loopback alone, and a PDF for its own page alone."""

from __future__ import annotations

import http.client
import json
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from desk_driver import (
    TODAY,
    load,
    new_context,
    wait_ready,
)
from playwright.sync_api import Browser, BrowserContext

from fingerpost.desk.server import MOST_BYTES, PDF, DeskServer
from fingerpost.desk.server import open_desk as open_server
from fingerpost.make.pdf import read_templates
from fingerpost.model.library import Library

CANARY = "Quillonia Brambleknot"


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    made = new_context(browser)
    yield made
    made.close()


@pytest.fixture(scope="module")
def served(library: Library, desk_site: Path, project: Path) -> Iterator[DeskServer]:
    server = open_server(library, read_templates(project / "templates"), project, desk_site, 0)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield server
    server.shutdown()
    server.server_close()


def post(server: DeskServer, body: str, **changed: str | None) -> tuple[int, bytes]:
    """A request such as the desk's page sends, with some headers changed or (None) left out."""
    headers: dict[str, str | None] = {
        "Host": server.names[0],
        "Origin": f"http://{server.names[0]}",
        "X-Fingerpost-Token": server.token,
        "Content-Type": "application/json",
        "Content-Length": str(len(body.encode())),
        **{name.replace("_", "-"): value for name, value in changed.items()},
    }
    connection = http.client.HTTPConnection("127.0.0.1", server.server_port, timeout=60)
    connection.putrequest("POST", PDF, skip_host=True, skip_accept_encoding=True)
    for name, value in headers.items():
        if value is not None:
            connection.putheader(name, value)
    connection.endheaders(body.encode())
    answer = connection.getresponse()
    return answer.status, answer.read()


def question(case: dict[str, Any]) -> str:
    return json.dumps({"today": TODAY, "case": case})


def test_the_loopback_desk_gives_a_tagged_pdf(
    served: DeskServer, context: BrowserContext, demo: dict[str, Any], tmp_path: Path
) -> None:
    page = context.new_page()
    page.goto(served.address)
    wait_ready(page)
    load(page, {**demo["growth-plate-left-middle"], "name": CANARY})
    with page.expect_download() as waiting:
        page.locator("#do-pdf").click()
    assert waiting.value.suggested_filename.startswith("growth-plate_v")
    waiting.value.save_as(tmp_path / "sheet.pdf")
    with pikepdf.open(tmp_path / "sheet.pdf") as pdf:
        assert bool(pdf.Root.MarkInfo.Marked)
        assert CANARY not in str(pdf.docinfo)


@pytest.mark.parametrize(
    ("changed", "status"),
    [
        ({"Host": "evil.example"}, 421),
        ({"Host": None}, 421),
        ({"Origin": "http://evil.example"}, 403),
        ({"Origin": None}, 403),
        ({"Origin": "null"}, 403),
        ({"X_Fingerpost_Token": "x"}, 403),
        ({"X_Fingerpost_Token": None}, 403),
        ({"Content_Type": "text/plain"}, 415),
        ({"Content_Length": None}, 411),
        ({"Content_Length": str(MOST_BYTES + 1)}, 413),
    ],
    ids=str,
)
def test_the_loopback_desk_answers_its_own_page_alone(
    served: DeskServer, small_case: dict[str, Any], changed: dict[str, str | None], status: int
) -> None:
    assert post(served, question({**small_case, "began": []}), **changed)[0] == status


@pytest.mark.parametrize(
    ("body", "status"),
    [("{", 400), ("[]", 400), ("[" * 100_000, 400), ("{}", 500), (question({}), 422), (question({"protocol": 1}), 422)],
    ids=["broken", "list", "deep", "empty", "no case", "no text"],
)
def test_the_loopback_desk_says_no_to_what_is_no_case(
    served: DeskServer, body: str, status: int, capfd: pytest.CaptureFixture[str]
) -> None:
    assert post(served, body)[0] == status
    assert capfd.readouterr() == ("", "")


def test_the_loopback_desk_serves_the_site_and_no_more(served: DeskServer) -> None:
    assert served.server_address[0] == "127.0.0.1"

    def get(path: str, host: str) -> tuple[int, dict[str, str], bytes]:
        connection = http.client.HTTPConnection("127.0.0.1", served.server_port, timeout=30)
        connection.request("GET", path, headers={"Host": host})
        answer = connection.getresponse()
        return answer.status, dict(answer.getheaders()), answer.read()

    status, headers, page = get("/desk/", served.names[0])
    assert status == 200
    assert served.token.encode() in page
    assert headers["Cache-Control"] == "no-store"
    assert not [name for name in headers if name.lower().startswith("access-control")]
    assert get("/index.html", served.names[1])[0] == 200
    assert served.token.encode() not in get("/index.html", served.names[0])[2]
    assert get("/desk/", "evil.example:80")[0] == 421
    assert get("/assets/", served.names[0])[0] == 404
    assert get("/../../etc/passwd", served.names[0])[0] == 404
