"""The desk from this computer: the built site on the loopback alone, and a PDF with tags for the one who asks here.

Nothing about a person is written down, neither to a file nor to a log.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Callable, Mapping
from datetime import date
from functools import partial
from http import HTTPStatus
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Lock
from typing import Any

from fingerpost.desk.api import Door, read_asked_case
from fingerpost.make.leaf.page import TooFull
from fingerpost.make.pdf import forget_people, print_handout
from fingerpost.make.templates import make_environment
from fingerpost.model.library import Library
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.desk_form import ADDRESS

HOST = "127.0.0.1"
MOST_BYTES = 200_000
PAGE = f"/{ADDRESS}index.html"
PDF = f"/{ADDRESS}pdf"
_HEAD = b'<meta charset="utf-8">'

Press = Callable[[dict[str, Any]], tuple[str, bytes] | None]
"""A question with a case and a day in; the stem of a file name and a PDF out, or None for a case that is not right."""


class Refused(Exception):
    """A request that is not answered, with the reason as a status."""

    def __init__(self, status: HTTPStatus) -> None:
        super().__init__(status.phrase)
        self.status = status


class DeskServer(ThreadingHTTPServer):
    """The site in `folder`, with a token that only its own desk page is told."""

    daemon_threads = True

    def __init__(self, folder: Path, press: Press, port: int = 0) -> None:
        self.token = secrets.token_urlsafe(24)
        self.press = press
        self.turn = Lock()  # the PDF engine prints one at a time
        super().__init__((HOST, port), partial(_Handler, directory=str(folder)))

    def handle_error(self, *_: Any) -> None:
        """Say nothing here either: what went wrong may hold what was asked."""

    @property
    def names(self) -> tuple[str, str]:
        """What a browser may call this server. Another name means that somebody else's page leads here."""
        return (f"{HOST}:{self.server_port}", f"localhost:{self.server_port}")

    @property
    def address(self) -> str:
        return f"http://{HOST}:{self.server_port}{PAGE}"


def open_desk(library: Library, templates: Mapping[str, str], project: Path, site: Path, port: int) -> DeskServer:
    """The desk over a built site, with the sheets' own code behind its button."""
    door = Door(library, make_environment(templates))

    def print_asked(asked: dict[str, Any]) -> tuple[str, bytes] | None:
        case, findings, _ = read_asked_case(door, asked)
        if case is None or findings:
            return None
        planned = plan_handout(library, case, date.fromisoformat(asked["today"]))
        try:
            return planned.file_stem, print_handout(door.environment, planned, project)
        except TooFull:
            return None
        finally:
            forget_people(project)

    return DeskServer(site, print_asked, port)


class _Handler(SimpleHTTPRequestHandler):
    server: DeskServer
    server_version = "Fingerpost"
    sys_version = ""

    def log_message(self, *_: Any) -> None:
        """Say nothing: no line of a log is needed here."""

    def end_headers(self) -> None:
        self.send_header("Cache-Control", "no-store" if self.path.startswith(f"/{ADDRESS}") else "no-cache")
        self.send_header("X-Content-Type-Options", "nosniff")
        self.send_header("X-Frame-Options", "SAMEORIGIN")
        self.send_header("Referrer-Policy", "no-referrer")
        self.send_header("Cross-Origin-Resource-Policy", "same-origin")
        super().end_headers()

    def _try(self, answer: Callable[[], None]) -> None:
        try:
            if self.headers.get("Host") not in self.server.names:
                raise Refused(HTTPStatus.MISDIRECTED_REQUEST)
            answer()
        except Refused as refused:
            self.send_error(refused.status)

    def do_GET(self) -> None:
        """A file of the site; the desk's page with the token in it."""
        path = self.path.partition("?")[0]
        if path.rstrip("/") == f"/{ADDRESS}".rstrip("/"):
            self.path = path = PAGE
        self._try(self._answer_page if path == PAGE else super().do_GET)

    def do_HEAD(self) -> None:
        self._try(super().do_HEAD)

    def do_POST(self) -> None:
        self._try(self._answer_pdf)

    def list_directory(self, path: Any) -> None:
        """Show no folder."""
        self.send_error(HTTPStatus.NOT_FOUND)

    def _send(self, content: bytes, kind: str, *more: tuple[str, str]) -> None:
        self.send_response(HTTPStatus.OK)
        for name, value in (("Content-Type", kind), ("Content-Length", str(len(content))), *more):
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(content)

    def _answer_page(self) -> None:
        try:
            page = Path(self.translate_path(PAGE)).read_bytes()
        except OSError:
            raise Refused(HTTPStatus.NOT_FOUND) from None
        told = f'<meta name="fingerpost-token" content="{self.server.token}">'.encode()
        self._send(page.replace(_HEAD, _HEAD + told, 1), "text/html; charset=utf-8")

    def _read_question(self) -> dict[str, Any]:
        """The body of a request that can only come from our own page."""
        if self.path != PDF:
            raise Refused(HTTPStatus.NOT_FOUND)
        own = tuple(f"http://{name}" for name in self.server.names)
        if self.headers.get("Origin") not in own:
            raise Refused(HTTPStatus.FORBIDDEN)
        told = self.headers.get("X-Fingerpost-Token", "").encode("utf-8", "replace")
        if not secrets.compare_digest(told, self.server.token.encode()):
            raise Refused(HTTPStatus.FORBIDDEN)
        if self.headers.get("Content-Type") != "application/json":
            raise Refused(HTTPStatus.UNSUPPORTED_MEDIA_TYPE)
        size = self.headers.get("Content-Length", "")
        if not size.isdecimal():
            raise Refused(HTTPStatus.LENGTH_REQUIRED)
        if int(size) > MOST_BYTES:
            raise Refused(HTTPStatus.REQUEST_ENTITY_TOO_LARGE)
        try:
            asked = json.loads(self.rfile.read(int(size)))
        except (ValueError, RecursionError):
            raise Refused(HTTPStatus.BAD_REQUEST) from None
        if not isinstance(asked, dict):
            raise Refused(HTTPStatus.BAD_REQUEST)
        return asked

    def _answer_pdf(self) -> None:
        asked = self._read_question()
        try:
            with self.server.turn:
                made = self.server.press(asked)
        except Exception:
            raise Refused(HTTPStatus.INTERNAL_SERVER_ERROR) from None
        if made is None:
            raise Refused(HTTPStatus.UNPROCESSABLE_ENTITY)
        stem, pdf = made
        self._send(pdf, "application/pdf", ("X-File-Stem", stem))
