"""How wide text is, and where to break it. Widths are estimates: nothing here reads a font file."""

from __future__ import annotations

from functools import lru_cache

from fingerpost.draw.pens.svg import MM_PER_PT

LINE = 1.22
"""Distance of two base lines, as a share of the size."""
RISE, DROP = 0.74, 0.24
"""How far letters reach above and below the base line, as a share of the size."""
_SAFETY = 1.04
"""Room for a fallback font that runs a little wider."""
_BOLD = 1.06
_OTHER = 0.62

# Advance widths of Atkinson Hyperlegible Next Regular, in hundredths of the size, from its hmtx table.
_GROUPS: dict[int, str] = {
    16: "'", 21: ",.:", 24: "ij`·\u2019|", 26: "l", 29: " I!", 31: "()f\"", 34: "t[]{}r", 38: "-/\\_°", 41: "1",
    46: "vyzs?", 48: "ckx*", 51: "7J\u2013", 53: "eaLu\u00d7", 56: "hngodbpqFEY26><^TZ", 60: "390584+=$CBAKRSPVX~",
    65: "0#DG", 69: "HNUOQw&", 78: "@m", 84: "MW%",
}  # fmt: skip
_WIDTHS = {letter: width / 100 for width, letters in _GROUPS.items() for letter in letters}


@lru_cache(maxsize=8192)
def count_ems(text: str) -> float:
    """Estimated width of one line as a share of the size. Kept, because a layout asks for the same words many times."""
    return sum(_WIDTHS.get(letter, _OTHER if ord(letter) < 0x2E80 else 1.0) for letter in text)


def width_of(text: str, size: float, bold: bool = False) -> float:
    """Estimated width in mm of one line at `size` points."""
    return count_ems(text) * size * MM_PER_PT * _SAFETY * (_BOLD if bold else 1.0)


def wrap(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """Lines no wider than `width` mm. A word that is wider by itself is broken with a hyphen."""
    lines: list[str] = []
    for word in text.split():
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and width_of(joined, size, bold) <= width:
            lines[-1] = joined
        else:
            lines += _broken(word, width, size, bold)
    return lines


def _broken(word: str, width: float, size: float, bold: bool) -> list[str]:
    pieces: list[str] = []
    while width_of(word, size, bold) > width and len(word) > 2:
        keep = 1
        while keep < len(word) - 1 and width_of(word[: keep + 1] + "-", size, bold) <= width:
            keep += 1
        pieces.append(word[:keep] + ("" if word[keep - 1] in "-/" else "-"))
        word = word[keep:]
    return [*pieces, word]


def block_height(count: int, size: float) -> float:
    """Height in mm of `count` lines, from the top of the first letters to the bottom of the last."""
    return ((count - 1) * LINE + RISE + DROP) * size * MM_PER_PT if count else 0.0


def base_lines(top: float, count: int, size: float) -> list[float]:
    """Heights (mm, down) of the base lines of a block whose upper edge is at `top`."""
    return [top + (RISE + LINE * k) * size * MM_PER_PT for k in range(count)]
