"""Plan and drawings become one HTML file for a gym's screen: fonts, drawings and script are inside it."""

from __future__ import annotations

from base64 import b64encode
from pathlib import Path

from jinja2 import Environment

from fingerpost.draw.picture import draw
from fingerpost.make.drawn.qr import draw_code
from fingerpost.make.templates import render
from fingerpost.plan.pages.for_gyms import DISPLAY_ADDRESS
from fingerpost.plan.walls.display import Display, DisplayPage
from fingerpost.plan.walls.notices import CODE_MM
from fingerpost.problems import MakeError

ADDRESS = DISPLAY_ADDRESS
# The drawing is made small and shown large, so that its lines can be seen across a hall.
DRAWING_MM = 36.0
_FONTS = ((400, "AtkinsonHyperlegibleNext-Regular.woff2"), (700, "AtkinsonHyperlegibleNext-Bold.woff2"))


def _draw(page: DisplayPage, number: int) -> str:
    if page.drawing:
        return draw(page.drawing.picture, prefix=f"d{number}-", width_mm=DRAWING_MM)
    try:
        return draw_code(page.address, title=page.code_title, width_mm=CODE_MM) if page.address else ""
    except ValueError as error:
        raise MakeError(str(error)) from error


def write_display(environment: Environment, display: Display, folder: Path) -> str:
    """The whole display as HTML. `folder` is the project's. Raises MakeError for an address that makes no code."""
    fonts = [
        (weight, b64encode((folder / "site_overrides/fonts" / name).read_bytes()).decode()) for weight, name in _FONTS
    ]
    drawings = {page.id: _draw(page, number) for number, page in enumerate(display.pages)}
    return render(
        environment, "display/display.html", href=lambda target: target, drawings=drawings, display=display, fonts=fonts
    ).lstrip()
