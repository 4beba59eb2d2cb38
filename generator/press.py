"""Plan and drawings become print HTML and then PDF. The only importer of the PDF engine."""

from __future__ import annotations

import logging
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration
from weasyprint.urls import URLFetcher

from generator.draw.picture import draw
from generator.plan.blocks import Handout
from generator.plan.drawings import list_drawings
from generator.problems import MakeError
from generator.render import render

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


def draw_handout(handout: Handout) -> dict[str, str]:
    """The SVG of every picture of a handout, by name. Lettering grows with the print size."""
    text_pt = max(10.0, handout.print_size * 0.8)
    return {
        d.name: draw(d.picture, prefix=f"d{n}-", width_mm=d.width_mm, text_pt=text_pt)
        for n, d in enumerate(list_drawings(handout))
    }


def write_html(environment: Environment, handout: Handout) -> str:
    """The print HTML of a handout. Addresses of the site are printed as plain words."""
    return render(
        environment, "print/handout.html", href=lambda target: "", drawings=draw_handout(handout), handout=handout
    )


@cache
def _styles(folder: Path) -> tuple[Any, Any, Any]:
    """The print styles with their fonts, read once. Only files inside the project are opened."""
    fonts = FontConfiguration()
    fetcher = URLFetcher(allowed_protocols={"file", "data"})
    css = CSS(filename=str(folder / "templates" / "print" / "print.css"), font_config=fonts, url_fetcher=fetcher)
    return css, fonts, fetcher


def print_pdf(html: str, folder: Path) -> bytes:
    """A tagged PDF (PDF/UA-1) from print HTML. `folder` is the project's.

    Raises PressError when the engine warns about anything.
    """
    listener = _Listener()
    _LOG.addHandler(listener)
    try:
        css, fonts, fetcher = _styles(folder)
        document = HTML(string=html, base_url=folder.as_uri() + "/", url_fetcher=fetcher)
        pdf = document.write_pdf(stylesheets=[css], font_config=fonts, pdf_variant="pdf/ua-1")
    finally:
        _LOG.removeHandler(listener)
    if listener.heard:
        raise PressError("; ".join(dict.fromkeys(listener.heard)))
    return bytes(pdf)


def print_handout(environment: Environment, handout: Handout, folder: Path) -> bytes:
    return print_pdf(write_html(environment, handout), folder)


def read_templates(folder: Path) -> Mapping[str, str]:
    """Every template by its name under `folder`, e.g. 'print/handout.html'."""
    found = sorted(p for p in folder.rglob("*") if p.suffix in (".html", ".md"))
    return {p.relative_to(folder).as_posix(): p.read_text(encoding="utf-8") for p in found}
