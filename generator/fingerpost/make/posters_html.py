"""Notices, coach sheets and the paper key as print HTML. Nothing is opened here."""

from __future__ import annotations

from jinja2 import Environment

from fingerpost.draw.pens.svg import enlarge, read_size
from fingerpost.draw.picture import draw
from fingerpost.make.drawn.qr import draw_code
from fingerpost.make.templates import render
from fingerpost.plan.base.visible import list_drawings
from fingerpost.plan.person.coach import CoachSheet
from fingerpost.plan.walls.notices import CODE_MM, DRAWING_MM, NoticeSheet
from fingerpost.plan.walls.paper_key import Key
from fingerpost.problems import MakeError

NOTICE_STYLE, COACH_STYLE, KEY_STYLE = "notice.css", "coach.css", "key.css"
# Up to 84 letters (version 5 at level M, 45 modules with the quiet zone) of 0.5 mm.
KEY_CODE_MM = 22.5


def _fill(svg: str, within_mm: tuple[float, float]) -> str:
    """The same drawing as large as it fits."""
    width, height = read_size(svg)
    return enlarge(svg, min(within_mm[0] / width, within_mm[1] / height))


def _draw_notice(notice: NoticeSheet) -> dict[str, str]:
    """The hand and the code. The hand is drawn small and enlarged, so that its lines can be seen from afar."""
    svg = draw(notice.drawing.picture, prefix="d0-", width_mm=DRAWING_MM[0] / 2)
    drawings = {notice.drawing.name: _fill(svg, (DRAWING_MM[0] * notice.scale, DRAWING_MM[1] * notice.scale))}
    if notice.address:
        width_mm = CODE_MM * notice.scale
        drawings["code"] = draw_code(notice.address, title=notice.code_title, width_mm=width_mm)
    return drawings


def write_notice(environment: Environment, notice: NoticeSheet) -> str:
    """One poster. Raises MakeError when its address is no address of a page, or too long for a code."""
    try:
        drawings = _draw_notice(notice)
    except ValueError as error:
        raise MakeError(str(error)) from error
    return render(environment, "print/notice.html", href=lambda target: "", drawings=drawings, notice=notice)


def write_coach_sheet(environment: Environment, sheet: CoachSheet) -> str:
    """The one page for a coach."""
    drawings = {d.name: draw(d.picture, prefix="d0-", width_mm=d.width_mm, text_pt=10.0) for d in list_drawings(sheet)}
    return render(environment, "print/coach.html", href=lambda target: "", drawings=drawings, sheet=sheet)


def write_key(environment: Environment, key: Key) -> str:
    """The paper key, with a code for each page whose address is known. Raises MakeError when one is no address."""
    try:
        drawings = {
            page.id: draw_code(page.address, title=page.code_title, width_mm=KEY_CODE_MM)
            for page in key.pages
            if page.address
        }
    except ValueError as error:
        raise MakeError(str(error)) from error
    return render(environment, "print/key.html", href=lambda target: "", drawings=drawings, key=key)
