"""What a page's content stream does: which text at which size, which lines, and what of it has no tag."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import pikepdf

Matrix = tuple[float, float, float, float, float, float]
_UNIT: Matrix = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
RUNNING = "running line"
_HEAD_AND_FOOT = ("/Header", "/Footer")
_LETTER = re.compile(r"<([0-9a-fA-F]+)>\s*<([0-9a-fA-F]+)>")
_SHOW = {"Tj", "TJ", "'", '"'}
_FOLLOWED = "q Q cm g rg k BMC BDC EMC BT Tm Tf m l W W* n Tj TJ ' \" S s f F f* B B* b b* sh Do"
_PAINT = {"S", "s", "f", "F", "f*", "B", "B*", "b", "b*", "sh", "Do"}


@dataclass(frozen=True)
class Text:
    """One piece of text: where it begins (points, from the bottom left), how big, what it says, in which tag.

    `running`: whether it is marked as a running line, a head or a foot.
    """

    x: float
    y: float
    size: float
    letters: int
    colour: tuple[float, ...]
    mcid: int | None
    upright: bool
    says: str
    running: bool


@dataclass(frozen=True)
class Edge:
    """A thin line of a table (`rule`) or of a box (`border`): x from `left` to `right`, y from `low` to `high`."""

    kind: str
    left: float
    right: float
    low: float
    high: float

    @property
    def upright(self) -> bool:
        return self.high - self.low > self.right - self.left


@dataclass
class Content:
    texts: list[Text] = field(default_factory=list)
    edges: list[Edge] = field(default_factory=list)
    loose: int = 0  # text and paint outside any marked content
    order: list[int] = field(default_factory=list)  # the numbers of marked pieces, as they are painted


@dataclass
class _State:
    matrix: Matrix = _UNIT
    colour: tuple[float, ...] = (0.0,)


def _times(first: Matrix, then: Matrix) -> Matrix:
    a, b, c, d, e, f = first
    g, h, i, j, k, m = then
    return (a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + m)


def _at(matrix: Matrix, x: float, y: float) -> tuple[float, float]:
    a, b, c, d, e, f = matrix
    return (a * x + c * y + e, b * x + d * y + f)


def _numbers(operands: Any) -> tuple[float, ...]:
    return tuple(float(n) for n in operands)


class _Reader:
    """Follows one content stream as a printer would, without drawing."""

    def __init__(self) -> None:
        self.found = Content()
        self.state = _State()
        self.saved: list[_State] = []
        self.marks: list[int | str] = []
        self.text_matrix: Matrix = _UNIT
        self.font_size = 0.0
        self.letters: dict[int, str] = {}
        self.path: list[tuple[float, float]] = []
        self.forms: list[int] = []

    def read(self, stream: Any, resources: Any) -> None:
        for operands, operator in pikepdf.parse_content_stream(stream, operators=_FOLLOWED):
            self._do(str(operator), operands, resources)

    def _do(self, name: str, operands: Any, resources: Any) -> None:
        match name:
            case "q":
                self.saved.append(_State(self.state.matrix, self.state.colour))
            case "Q":
                self.state = self.saved.pop() if self.saved else _State()
            case "cm":
                self.state.matrix = _times(_numbers(operands), self.state.matrix)  # type: ignore[arg-type]
            case "g" | "rg" | "k":
                self.state.colour = _numbers(operands)
            case "BMC":
                self.marks.append(str(operands[0]))
            case "BDC":
                self._mark(str(operands[0]), operands[1])
            case "EMC":
                self.marks.pop()
            case "BT":
                self.text_matrix = _UNIT
            case "Tm":
                self.text_matrix = _numbers(operands)  # type: ignore[assignment]
            case "Tf":
                self.font_size = float(operands[1])
                self.letters = read_letters(resources.get("/Font", {}).get(operands[0]))
            case "m" | "l":
                self.path.append(_at(self.state.matrix, *_numbers(operands)))
            case "W" | "W*":
                self._note_edge("border")
            case _ if name in _SHOW:
                self._show(operands[-1])
            case _ if name in _PAINT:
                self._paint(name, operands, resources)
            case "n":
                self.path = []

    def _mark(self, name: str, told: Any) -> None:
        if isinstance(told, pikepdf.Dictionary) and "/MCID" in told:
            self.marks.append(int(told["/MCID"]))
            self.found.order.append(int(told["/MCID"]))
        elif name == "/Artifact" and told.get("/Type") == "/Pagination" and told.get("/Subtype") in _HEAD_AND_FOOT:
            self.marks.append(RUNNING)
        else:
            self.marks.append(name)

    def _show(self, shown: Any) -> None:
        a, b, c, d, x, y = _times(self.text_matrix, self.state.matrix)
        mcid = next((m for m in reversed(self.marks) if isinstance(m, int)), None)
        strings = shown if isinstance(shown, pikepdf.Array) else [shown]
        codes = b"".join(bytes(s) for s in strings if isinstance(s, pikepdf.String))
        says = "".join(self.letters.get(int.from_bytes(codes[n : n + 2]), "") for n in range(0, len(codes), 2))
        size = self.font_size * abs(a * d - b * c) ** 0.5
        upright, running = abs(b) < 1e-6 and a > 0, RUNNING in self.marks
        self.found.texts.append(
            Text(x, y, size, len(codes) // 2, self.state.colour, mcid, upright, says, running),
        )
        self.found.loose += not self.marks

    def _paint(self, name: str, operands: Any, resources: Any) -> None:
        self.found.loose += not self.marks
        if name == "S":
            self._note_edge("rule")
        self.path = []
        if name == "Do":
            form = resources.get("/XObject", {}).get(operands[0])
            if form is not None and form.get("/Subtype") == "/Form":
                self.saved.append(_State(self.state.matrix, self.state.colour))
                if "/Matrix" in form:
                    self.state.matrix = _times(_numbers(form["/Matrix"]), self.state.matrix)  # type: ignore[arg-type]
                self.read(form, form.get("/Resources", resources))
                self.state = self.saved.pop()

    def _note_edge(self, kind: str) -> None:
        """Long and thin, and not part of a drawing: the side of a box or a line of a table."""
        if self.path and "/Artifact" in self.marks:
            xs, ys = [x for x, _ in self.path], [y for _, y in self.path]
            width, height = max(xs) - min(xs), max(ys) - min(ys)
            if min(width, height) < 9 < max(width, height):
                self.found.edges.append(Edge(kind, min(xs), max(xs), min(ys), max(ys)))


def read_letters(font: Any) -> dict[int, str]:
    """What each code of a font stands for. WeasyPrint writes one line a code."""
    if font is None or "/ToUnicode" not in font:
        return {}
    return _list_letters(bytes(font["/ToUnicode"].read_bytes()))


@lru_cache(maxsize=64)
def _list_letters(mapping: bytes) -> dict[int, str]:
    lines = b"".join(re.findall(rb"beginbfchar(.*?)endbfchar", mapping, re.DOTALL)).decode("latin-1")
    return {int(code, 16): bytes.fromhex(says).decode("utf-16-be") for code, says in _LETTER.findall(lines)}


def read_content(page: pikepdf.Page) -> Content:
    """Everything that the checks need to know of a page's content stream."""
    reader = _Reader()
    reader.read(page, page.obj.get("/Resources", {}))
    return reader.found
