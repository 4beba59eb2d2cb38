"""What spares the PDF engine work by leaning on its inside: drawings as stamps, and fewer rules of its own.

The engine reads and draws an SVG anew in each document, letter by letter, which was half of what a leaf took. Here a
drawing is what the engine takes for a picture of its own cache, its packed operators a form (ISO 32000-1, 8.10). This
knows the engine's picture protocol, how it sets a line, keeps fonts and looks up rules. So it works with the versions
in KNOWN alone; with any other, and for a drawing that has no translation, the engine gets the page as it is.
"""

from __future__ import annotations

import hashlib
import re
import zlib
from copy import copy
from dataclasses import dataclass, field
from functools import cache
from html import unescape
from math import inf
from typing import Any

from fingerpost.make.operators import LineOfText, Unknown, translate

KNOWN = "70."
"""What the version of an engine begins with whose inside is known here."""
KEPT_STAMPS, KEPT_LINES = 256, 1024
_PX_PER_MM = 96 / 25.4
_EM = 16.0
_SVG = re.compile(r"<svg xmlns.*?</svg>", re.DOTALL)
_ID = re.compile(r' id="[^"]*"')
_TITLE = re.compile(r"<title>(.*?)</title>", re.DOTALL)


def is_known() -> bool:
    """Whether the inside of the engine that is installed is known here."""
    from weasyprint import VERSION

    return bool(VERSION.startswith(KNOWN))


@cache
def page_class() -> type[Any]:
    """What reads a page: the engine's own class, without the rules that hold for every element and none of ours.

    Why: for notes at the foot, hidden things and other directions of writing the engine makes six more styles of each
    element. Of these rules only the one for the marks of list items is needed.
    """
    from weasyprint import HTML

    if not is_known():
        return HTML  # type: ignore[no-any-return]
    _shorten_styles()
    _shorten_lengths()
    _keep_shaped_lines()
    (engine_rules,) = HTML(string="<html lang='en'>")._ua_stylesheets()
    rules = copy(engine_rules)
    rules.matcher = copy(engine_rules.matcher)
    marks = [rule for rule in rules.matcher.other_selectors if rule[3] == "marker"]
    rules.matcher.other_selectors = []
    names = rules.matcher.lower_local_name_selectors
    rules.matcher.lower_local_name_selectors = {**names, "li": [*names["li"], *marks]}

    class SparedPage(HTML):  # type: ignore[misc]
        def _ua_stylesheets(self, forms: bool = False) -> list[Any]:
            return [rules]

    return SparedPage


def _shorten_styles() -> None:
    """A property that no rule sets is taken at once from its initial value or from above.

    Why: seventy of them are asked for in each of some hundred styles, and nine in ten are set by no rule.
    """
    from weasyprint import css
    from weasyprint.css.computed_values import PHYSICAL_FUNCTIONS
    from weasyprint.css.properties import INHERITED, INITIAL_NOT_COMPUTED, INITIAL_VALUES

    def is_plain(name: str) -> bool:
        return name not in ("page", "position", "float", "display") and not name.startswith("text_decoration_")

    fixed = INHERITED | INITIAL_NOT_COMPUTED
    initial = {name: value for name, value in INITIAL_VALUES.items() if name not in fixed and is_plain(name)}
    inherited = {name for name in INHERITED if is_plain(name) and name not in PHYSICAL_FUNCTIONS}
    logical = {say(block="ttb", inline=way) for say in PHYSICAL_FUNCTIONS.values() for way in ("ltr", "rtl")}
    style_class = css.ComputedStyle
    compute = style_class.__missing__

    def look_up(self: Any, name: str) -> Any:
        above = self.parent_style
        if name in self.cascaded or above is None or not logical.isdisjoint(self.cascaded):
            return compute(self, name)
        if name in initial:
            self[name] = initial[name]
        elif name in inherited:
            self[name] = above[name]
        else:
            return compute(self, name)
        return self[name]

    style_class.__missing__ = look_up


def _shorten_lengths() -> None:
    """A length in pixels is what it is: most are no share of another one, and no sum."""
    from weasyprint.css.properties import Dimension
    from weasyprint.layout import percent

    resolve = percent.resolve_one_percentage

    def take(box: Any, name: str, whole: Any) -> None:
        length = box.style[name]
        if type(length) is Dimension and length.unit == "px":
            setattr(box, name, length.value)
        else:
            resolve(box, name, whole)

    percent.resolve_one_percentage = take


def _keep_shaped_lines() -> None:
    """A line that was shaped to be laid out is not shaped again to be drawn, unless it is justified."""
    from weasyprint.text.line_break import Layout

    let_go, shape_again = Layout.deactivate, Layout.reactivate

    def keep(self: Any) -> None:
        if self.justification_spacing:
            let_go(self)

    def use(self: Any, style: Any) -> None:
        if self.justification_spacing:
            shape_again(self, style)

    Layout.deactivate, Layout.reactivate = keep, use


class _Style(dict[str, Any]):
    """The style of a line: what the engine takes for one is a mapping that also knows its fonts."""

    font_config: Any


@dataclass(frozen=True)
class _Box:
    """The part of a text box that is asked for when its line is drawn."""

    pango_layout: Any
    style: _Style

    @property
    def text(self) -> str:
        return str(self.pango_layout.text)


class _Letters:
    """The letters that a line takes of a font: their widths and what they say. For the rest it is the font."""

    def __init__(self, font: Any) -> None:
        self.font, self.widths, self.to_unicode = font, {}, {}  # type: ignore[var-annotated]

    def __getattr__(self, name: str) -> Any:
        return getattr(self.font, name)

    def get_unused_glyph_id(self, codepoint: int) -> int:
        raise Unknown(f"no font has {chr(codepoint)}")


@dataclass
class _Face:
    """A font as the engine knows it. `held`: what it belongs to, which must live as long."""

    pango_font: Any
    font: Any
    held: Any


class _Recorder:
    """Stands in for a page while a line is drawn, and notes what is shown."""

    def __init__(self, faces: dict[int, _Face], held: Any) -> None:
        from weasyprint.text.ffi import ffi

        self.ink_rect, self.logical_rect = ffi.new("PangoRectangle *"), ffi.new("PangoRectangle *")
        self.letters: dict[int, _Letters] = {}
        self.shows: list[tuple[str, str]] = []
        self._faces, self._held, self._name = faces, held, ""

    def add_font(self, pango_font: Any) -> tuple[_Letters, float]:
        from weasyprint.pdf.fonts import Font
        from weasyprint.text.fonts import get_pango_font_key

        key, description, size = get_pango_font_key(pango_font)
        if key not in self._faces:
            self._faces[key] = _Face(pango_font, Font(pango_font, description, size), self._held)
        return self.letters.setdefault(key, _Letters(self._faces[key].font)), size

    def set_font_size(self, name: str, _: float) -> None:
        self._name = name

    def show_text(self, shown: str) -> None:
        self.shows.append((self._name, shown))

    def set_text_matrix(self, *_: float) -> None:
        """Where a line stands is said in the drawing."""

    def set_text_rise(self, _: float) -> None:
        raise Unknown("a raised letter")


@dataclass(frozen=True)
class Stamp:
    """A drawing as the engine takes it for a picture: it asks for its size in px, and to be drawn."""

    name: str
    width: float
    height: float
    size: tuple[float, float]
    packed: bytes
    fonts: tuple[tuple[_Face, _Letters], ...]

    def get_intrinsic_size(self, _resolution: Any, _font_size: Any) -> tuple[float, float, float]:
        return self.width, self.height, self.width / self.height

    def draw(self, stream: Any, width: float, height: float, _style: Any) -> None:
        import pydyf

        for face, letters in self.fonts:
            font, _ = stream.add_font(face.pango_font)
            font.to_unicode |= letters.to_unicode
            font.widths |= letters.widths
        across, down = self.size
        if self.name not in (forms := stream._resources["XObject"]):
            told = {"Type": "/XObject", "Subtype": "/Form", "BBox": pydyf.Array((0, 0, across, down))}
            fonts = pydyf.Dictionary({"Font": None})  # the engine puts the fonts of the document here
            forms[self.name] = pydyf.Stream([self.packed], {**told, "Resources": fonts, "Filter": "/FlateDecode"})
        stream.transform(a=width / across, d=height / down)
        stream.draw_x_object(self.name)


@dataclass
class Stamps:
    """The drawings and lines that are kept, the ones used last, for the fonts of one style."""

    fonts: Any
    _stamps: dict[str, Stamp | None] = field(default_factory=dict)
    _lines: dict[tuple[str, bool, tuple[str, ...]], tuple[LineOfText, dict[int, _Letters]]] = field(
        default_factory=dict
    )
    _faces: dict[int, _Face] = field(default_factory=dict)

    def put_in(self, html: str) -> tuple[str, dict[str, Any]]:
        """A page with pictures in place of the SVG that is known here, and the pictures by their address."""
        if not is_known():
            return html, {}
        pictures: dict[str, Any] = {}

        def put(found: re.Match[str]) -> str:
            svg = _ID.sub("", found[0])
            name = "d" + hashlib.blake2b(svg.encode(), digest_size=12).hexdigest()
            if (stamp := self._take(name, svg)) is None:
                return found[0]
            pictures[f"stamp:{name}"] = stamp
            title = _TITLE.search(svg)
            return f'<img src="stamp:{name}" alt="{_quote(title[1]) if title else ""}">'

        return _SVG.sub(put, html), pictures

    def forget(self) -> None:
        """Let go of every drawing and line, with the words of a person that stand in them."""
        self._stamps.clear()
        self._lines.clear()

    def _take(self, name: str, svg: str) -> Stamp | None:
        if name in self._stamps:
            self._stamps[name] = self._stamps.pop(name)
        else:
            self._stamps[name] = self._make(name, svg)
            _keep_last(self._stamps, KEPT_STAMPS)
        return self._stamps[name]

    def _make(self, name: str, svg: str) -> Stamp | None:
        used: dict[int, _Letters] = {}

        def set_line(words: str, bold: bool, families: tuple[str, ...]) -> LineOfText:
            line, letters = self._set_line(words, bold, families)
            for key, some in letters.items():
                together = used.setdefault(key, _Letters(some.font))
                together.widths |= some.widths
                together.to_unicode |= some.to_unicode
            return line

        try:
            made = translate(svg, set_line)
        except Unknown:
            return None
        width, height = (side * _PX_PER_MM for side in made.paper_mm)
        fonts = tuple((self._faces[key], letters) for key, letters in used.items())
        return Stamp(name, width, height, made.size, zlib.compress(made.operators, 9), fonts)

    def _set_line(self, words: str, bold: bool, families: tuple[str, ...]) -> tuple[LineOfText, dict[int, _Letters]]:
        key = words, bold, families
        if key not in self._lines:
            self._lines[key] = self._shape(words, bold, families)
            _keep_last(self._lines, KEPT_LINES)
        return self._lines[key]

    def _shape(self, words: str, bold: bool, families: tuple[str, ...]) -> tuple[LineOfText, dict[int, _Letters]]:
        from weasyprint.css.properties import INITIAL_VALUES
        from weasyprint.draw.text import draw_first_line
        from weasyprint.matrix import Matrix
        from weasyprint.text.line_break import split_first_line

        style = _Style(INITIAL_VALUES)
        style.font_config = self.fonts
        style |= {"font_family": list(families), "font_weight": 700 if bold else 400, "font_size": _EM}
        layout, _, _, width, _, _ = split_first_line(words, style, None, inf, 0)
        layout.reactivate(style)
        recorder = _Recorder(self._faces, layout)
        draw_first_line(recorder, _Box(layout, style), "none", "none", Matrix())
        return LineOfText(width / _EM, tuple(recorder.shows)), recorder.letters


def _quote(title: str) -> str:
    return unescape(title).replace("&", "&amp;").replace('"', "&quot;").replace("<", "&lt;").replace(">", "&gt;")


def _keep_last(kept: dict[Any, Any], most: int) -> None:
    for oldest in list(kept)[: max(0, len(kept) - most)]:
        del kept[oldest]
