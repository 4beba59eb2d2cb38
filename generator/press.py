"""Plan and drawings become print HTML and then PDF. The only importer of the PDF engine."""

from __future__ import annotations

import hashlib
import logging
import os
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment
from weasyprint import CSS, HTML
from weasyprint import __version__ as weasyprint_version
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher

from generator.plan.blocks import Handout
from generator.problems import MakeError
from generator.sheets import write_html

_LOG = logging.getLogger("weasyprint")


class PressError(MakeError):
    """The PDF engine had something to say. Nothing was written."""


class _Listener(logging.Handler):
    """Keeps what the engine warns about.

    Why: a missing font, language or picture is only a warning to the engine, and a defect to a reader.
    """

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.heard: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.heard.append(record.getMessage())


@cache
def _styles(folder: Path, style: str) -> tuple[Any, Any, Any]:
    """One of the print styles with its fonts, read once. Only files inside the project are opened."""
    fonts = FontConfiguration()
    fetcher = URLFetcher(allowed_protocols={"file", "data"})
    css = CSS(filename=str(folder / "templates" / "print" / style), font_config=fonts, url_fetcher=fetcher)
    return css, fonts, fetcher


def print_pdf(html: str, folder: Path, style: str = "print.css") -> bytes:
    """A tagged PDF (PDF/UA-1) from print HTML. `folder` is the project's, `style` a file in its templates/print.

    Raises PressError when the engine warns about anything.
    """
    listener = _Listener()
    _LOG.addHandler(listener)
    try:
        css, fonts, fetcher = _styles(folder, style)
        document = HTML(string=html, base_url=folder.as_uri() + "/", url_fetcher=fetcher)
        pdf = document.write_pdf(stylesheets=[css], font_config=fonts, pdf_variant="pdf/ua-1")
    finally:
        _LOG.removeHandler(listener)
    if listener.heard:
        raise PressError("; ".join(dict.fromkeys(listener.heard)))
    return bytes(pdf)


@cache
def _key_of_styles(folder: Path, style: str) -> bytes:
    """What a printed page depends on beside its HTML: styles, fonts and the engine's version."""
    files = [folder / "templates" / "print" / style, *sorted((folder / "site_overrides" / "fonts").glob("*.ttf"))]
    digest = hashlib.sha256(weasyprint_version.encode())
    for file in files:
        digest.update(file.read_bytes())
    return digest.digest()


def print_kept(html: str, folder: Path, kept: Path, style: str = "print.css") -> bytes:
    """A PDF as from `print_pdf`, taken from `kept` where the same one was printed before.

    Only for sheets that are about nobody: a person's handout is never kept here.
    """
    name = hashlib.sha256(_key_of_styles(folder, style) + html.encode()).hexdigest()
    path = kept / f"{name}.pdf"
    if path.is_file():
        return path.read_bytes()
    pdf = print_pdf(html, folder, style)
    kept.mkdir(parents=True, exist_ok=True)
    made = path.with_suffix(f".{os.getpid()}")
    made.write_bytes(pdf)
    made.replace(path)
    return pdf


def print_general(environment: Environment, handout: Handout, folder: Path, kept: Path) -> bytes:
    """A general sheet, taken from `kept` where the same one was printed before."""
    return print_kept(write_html(environment, handout), folder, kept)


def print_handout(environment: Environment, handout: Handout, folder: Path) -> bytes:
    return print_pdf(write_html(environment, handout), folder)


def read_templates(folder: Path) -> Mapping[str, str]:
    """Every template by its name under `folder`, e.g. 'print/handout.html'; of the display also styles and script."""
    found = sorted(p for p in folder.rglob("*") if p.suffix in (".html", ".md") or p.parent.name == "display")
    return {p.relative_to(folder).as_posix(): p.read_text(encoding="utf-8") for p in found}
