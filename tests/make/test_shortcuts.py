"""What leans on the inside of the PDF engine shows what the engine shows by itself, and falls back where it can't."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from functools import cache
from pathlib import Path

import pymupdf
import pytest
import weasyprint
from pdf_gate.samples import PROJECT, TODAY, cases, environment, general_samples, library
from PIL import Image, ImageChops

from fingerpost.draw.pens import svg
from fingerpost.make import pdf, shortcuts
from fingerpost.make.handout_html import write_html
from fingerpost.model.case import ImportantDate
from fingerpost.model.times import Day
from fingerpost.plan.leaf.handout import plan_handout

pytestmark = pytest.mark.rest

_DPI = 100
LINES_DIFFER, WORDS_DIFFER = 0.0001, 0.0015
"""So great a share of dots may be otherwise: lines at their edges, words where they are set closer."""
_SVG = re.compile(r"<svg xmlns.*?</svg>", re.DOTALL)
_WORDS = re.compile(r"<text.*?</text>", re.DOTALL)
# What prints a page as the engine does by itself: no version of it is known.
_PLAIN = """
import sys
from pathlib import Path
from fingerpost.make import pdf, shortcuts
shortcuts.KNOWN = "no such version"
print = pdf.print_pdf(Path(sys.argv[1]).read_text(encoding="utf-8"), Path(sys.argv[2]))
Path(sys.argv[3]).write_bytes(print)
"""


@cache
def _handouts() -> str:
    """One page of HTML with most that is printed: a leaf with all its enclosures, and a general leaf."""
    return write_html(environment(), plan_handout(library(), cases()["pulley-left-ring"], TODAY))


def _print_plain(html: str, folder: Path) -> bytes:
    page, printed = folder / "page.html", folder / "page.pdf"
    page.write_text(html, encoding="utf-8")
    surroundings = os.environ | {"PYTHONPATH": str(PROJECT / "generator")}
    call = [sys.executable, "-c", _PLAIN, str(page), str(PROJECT), str(printed)]
    subprocess.run(call, check=True, env=surroundings)
    return printed.read_bytes()


def _draw(content: bytes) -> list[Image.Image]:
    with pymupdf.open(stream=content) as document:
        drawn = [page.get_pixmap(dpi=_DPI, colorspace="gray") for page in document]
        return [Image.frombytes("L", (page.width, page.height), page.samples) for page in drawn]


def _differ(one: Image.Image, other: Image.Image) -> float:
    """The share of dots that are clearly otherwise."""
    assert one.size == other.size
    return sum(ImageChops.difference(one, other).histogram()[96:]) / (one.width * one.height)


def _gallery(drawings: list[str]) -> str:
    """A page for each drawing, with nothing else on it."""
    pages = "".join(f"<div style='break-after: page'>{drawing}</div>" for drawing in drawings)
    head = "<title>T</title><style>@page { size: 220mm 300mm; margin: 5mm } svg, img { display: block }</style>"
    return f"<!DOCTYPE html><html lang='en-GB'><head>{head}</head><body>{pages}</body></html>"


@cache
def _drawings() -> list[str]:
    pages = [_handouts(), *(write_html(environment(), sample.plan()) for sample in general_samples()[::6])]
    return sorted({re.sub(r' id="[^"]*"', "", drawing) for page in pages for drawing in _SVG.findall(page)})


def test_stamps_look_like_the_drawings(tmp_path: Path) -> None:
    """Words may stand closer than the engine sets them letter by letter; all else is the same to a dot's edge."""
    drawings = _drawings()
    assert len(drawings) > 20
    stamped, pictures = shortcuts.Stamps(pdf._styles(PROJECT, "print.css")[1]).put_in(_gallery(drawings))
    assert "<svg" not in stamped
    assert len(pictures) == len(drawings)
    for words in (True, False):
        page = _gallery(drawings if words else [_WORDS.sub("", drawing) for drawing in drawings])
        ours, plain = _draw(pdf.print_pdf(page, PROJECT)), _draw(_print_plain(page, tmp_path))
        assert len(ours) == len(plain) >= len(drawings)
        most = WORDS_DIFFER if words else LINES_DIFFER
        assert not [n for n, (one, other) in enumerate(zip(ours, plain, strict=True)) if _differ(one, other) > most]


def test_a_drawing_that_lacks_a_line_is_seen_to_be_another() -> None:
    drawing = max(_drawings(), key=len)
    longest = max(re.findall("<path[^>]*/>", drawing), key=len)
    page = pdf.print_pdf(_gallery([drawing, drawing.replace(longest, "")]), PROJECT)
    whole, lacking, *_ = _draw(page)
    assert _differ(whole, lacking) > 5 * LINES_DIFFER


def test_a_handout_looks_as_the_engine_prints_it(tmp_path: Path) -> None:
    page = _handouts()
    ours, plain = pdf.print_pdf(page, PROJECT), _print_plain(page, tmp_path)
    assert max(_differ(one, other) for one, other in zip(_draw(ours), _draw(plain), strict=True)) < 0.002
    lined = _WORDS.sub("", page)
    with (
        pymupdf.open(stream=pdf.print_pdf(lined, PROJECT)) as one,
        pymupdf.open(stream=_print_plain(lined, tmp_path)) as other,
    ):
        assert [page.get_text("words", sort=True) for page in one] == [
            page.get_text("words", sort=True) for page in other
        ]


def test_a_drawing_that_is_not_known_stays_as_it_is() -> None:
    odd = svg.document("A circle", 9, 9, ["<circle r='3'/>"])
    assert shortcuts.Stamps(None).put_in(f"<p>{odd}</p>") == (f"<p>{odd}</p>", {})


def test_an_engine_that_is_not_known_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(weasyprint, "VERSION", "71.0")
    drawing = _drawings()[0]
    assert shortcuts.Stamps(None).put_in(drawing) == (drawing, {})
    assert shortcuts.page_class.__wrapped__() is weasyprint.HTML


def test_the_rules_left_out_are_none_of_ours() -> None:
    """No page says what is hidden, or which way it is written, and none has notes at its foot."""
    page = _SVG.sub("", _handouts())
    assert not re.search(r"<[a-z]+[^>]* (hidden|dir|rules|frame)\b", page)
    styles = "".join(path.read_text(encoding="utf-8") for path in (PROJECT / "templates" / "print").glob("*.css"))
    assert not re.search(r"footnote|::note|(inline|block)-(start|end|size)", styles)


def test_what_is_kept_has_an_end_and_can_be_forgotten() -> None:
    stamps = shortcuts.Stamps(pdf._styles(PROJECT, "print.css")[1])
    drawing = next(drawing for drawing in _drawings() if "<text" in drawing)
    for n in range(shortcuts.KEPT_STAMPS + 9):
        stamps.put_in(drawing.replace("<title>", f"<title>{n} "))
    assert len(stamps._stamps) == shortcuts.KEPT_STAMPS
    assert stamps._lines
    stamps.forget()
    assert not stamps._stamps
    assert not stamps._lines


def test_what_was_printed_for_somebody_is_let_go() -> None:
    """The desk's own server prints one person after the other: words in drawings must not stay in its memory."""
    case = cases()["pulley-left-ring"]
    dated = replace(case, important_dates=(ImportantDate(what="Kanarinia crag", date=Day("2027-02-03")),))
    pdf.print_handout(environment(), plan_handout(library(), dated, TODAY), PROJECT)
    kept = pdf._stamps(PROJECT, "print.css")
    assert any("Kanarinia" in words for words, _, _ in kept._lines)
    pdf.forget_people(PROJECT)
    assert (kept._lines, kept._stamps) == ({}, {})
