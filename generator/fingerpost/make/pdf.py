"""Plan and drawings become print HTML and then PDF. Only this and `shortcuts` import the PDF engine."""

from __future__ import annotations

import logging
import threading
from collections.abc import Mapping
from contextlib import redirect_stdout
from functools import cache
from importlib.metadata import version
from io import StringIO
from pathlib import Path
from typing import Any

from jinja2 import Environment

from fingerpost.files.cache import Kept, hash_files
from fingerpost.make import operators, shortcuts, tagging
from fingerpost.make.drawn.pictures import forget_drawings
from fingerpost.make.handout_html import write_html
from fingerpost.plan.base.paper import Handout
from fingerpost.problems import MakeError

_LOG = logging.getLogger("weasyprint")
_ONE_AT_A_TIME = threading.Lock()  # what the engine warns about is heard by all who listen in this process


class PressError(MakeError):
    """The PDF engine had something to say. Nothing was written."""


@cache
def open_engine() -> Any:
    """The PDF engine, brought only where something is printed. Raises MakeError where a library of it is missing."""
    with redirect_stdout(StringIO()):  # where a library is missing, the engine prints a page of its own
        try:
            import weasyprint.text.fonts
            import weasyprint.urls
        except OSError as error:
            raise MakeError(
                "the PDF engine needs the libraries Pango and HarfBuzz. Debian: apt-get install libpango-1.0-0 "
                "libpangoft2-1.0-0 libharfbuzz-subset0. Mac: brew install pango. Fedora: dnf install pango harfbuzz."
            ) from error
    return weasyprint


class _EngineListener(logging.Handler):
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
    engine = open_engine()
    fonts = engine.text.fonts.FontConfiguration()
    fetcher = engine.urls.URLFetcher(allowed_protocols={"file", "data"})
    css = engine.CSS(filename=str(folder / "templates" / "print" / style), font_config=fonts, url_fetcher=fetcher)
    return css, fonts, fetcher


@cache
def _stamps(folder: Path, style: str) -> shortcuts.Stamps:
    """The drawings that are kept for one of the print styles."""
    return shortcuts.Stamps(_styles(folder, style)[1])


def forget_people(folder: Path, style: str = "print.css") -> None:
    """Let go of what was printed for somebody: drawings hold words of a case."""
    _stamps(folder, style).forget()
    forget_drawings()


def forget_styles() -> None:
    """Read styles and fonts again the next time: somebody is working on them."""
    _styles.cache_clear()
    _stamps.cache_clear()
    _key_of_styles.cache_clear()


def print_pdf(html: str, folder: Path, style: str = "print.css") -> bytes:
    """A tagged PDF (PDF/UA-1) from print HTML. `folder` is the project's, `style` a file in its templates/print.

    Raises PressError when the engine warns about anything.
    """
    with _ONE_AT_A_TIME:
        return _print_pdf(html, folder, style)


def _print_pdf(html: str, folder: Path, style: str) -> bytes:
    listener = _EngineListener()
    _LOG.addHandler(listener)
    try:
        css, fonts, fetcher = _styles(folder, style)
        html, pictures = _stamps(folder, style).put_in(html)
        document = shortcuts.page_class()(string=html, base_url=folder.as_uri() + "/", url_fetcher=fetcher)
        pdf = document.write_pdf(
            stylesheets=[css],
            font_config=fonts,
            cache=pictures,
            pdf_variant="pdf/ua-1",
            finisher=tagging.make_finisher(html),
        )
    finally:
        _LOG.removeHandler(listener)
    if listener.heard:
        raise PressError("; ".join(dict.fromkeys(listener.heard)))
    return bytes(pdf)


@cache
def _key_of_styles(folder: Path, style: str) -> bytes:
    """What a printed page depends on beside its HTML: styles, fonts, the engine's version and our own hand."""
    files = [folder / "templates" / "print" / style, *(folder / "site_overrides" / "fonts").glob("*.ttf")]
    files += [Path(module.__file__ or "") for module in (operators, shortcuts, tagging)]
    return version("weasyprint").encode() + hash_files(files, folder)


def hash_press(folder: Path) -> bytes:
    """What every printed page depends on beside its HTML."""
    styles = sorted(path.name for path in (folder / "templates" / "print").glob("*.css"))
    return b"".join(_key_of_styles(folder, style) for style in styles)


def print_kept(html: str, folder: Path, kept: Kept, style: str = "print.css") -> bytes:
    """A PDF as from `print_pdf`, taken from `kept` where the same one was printed before.

    Only for sheets that are about nobody: a person's handout is never kept.
    """
    return kept.take("pdf", _key_of_styles(folder, style), html, make=lambda: print_pdf(html, folder, style))


def print_handout(environment: Environment, handout: Handout, folder: Path) -> bytes:
    return print_pdf(write_html(environment, handout), folder)


def read_templates(folder: Path) -> Mapping[str, str]:
    """Every template by its name under `folder`, e.g. 'print/handout.html'; of the display also styles and script."""
    found = sorted(p for p in folder.rglob("*") if p.suffix in (".html", ".md") or p.parent.name == "display")
    return {p.relative_to(folder).as_posix(): p.read_text(encoding="utf-8") for p in found}
