"""Checks of the paper: its size, its margins, and that all words are on it, once and apart."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator

import numpy as np

from pdf_gate.document import INK_DPI, Defect, Printed, Wanted, Word, name_of

Found = Iterator[Defect]

MM = 72 / 25.4
SIZES_MM = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}  # ISO 216; US Letter
# What handout.html and print.css give: the margins hold nothing but one line at the top and one at the foot. All is
# printed on both sides and punched at one edge: the holes lie left on fronts and right on backs. They reach 15 mm into
# the paper (ISO 838), and printers don't reach the last millimetres.
OUTER_MM, INNER_MM = 13.0, 18.0
EDGE_MM, PUNCHED_MM = 8.0, 18.0
LEAF_TOP_MM, LEAF_HEADED_MM = 9.0, 17.0
LEAF_BOTTOM_MM = {12: 13.0, 14: 16.0, 18: 20.0, 24: 22.0}
TOP_MM, HEADED_MM = 9.0, 15.0
NOTES_TOP_MM = 22.0
BOTTOM_MM = {12: 13.0, 14: 13.0, 18: 24.0, 24: 24.0}


def _mirror(number: int, outer: float, inner: float) -> tuple[float, float]:
    """(right, left) of a front or a back."""
    return (outer, inner) if number % 2 else (inner, outer)


def is_of_leaf(number: int, wanted: Wanted) -> bool:
    return number <= wanted.leaf_pages


def is_for_notes(printed: Printed, number: int, wanted: Wanted) -> bool:
    """Whether a page has lines to write on: nothing is heard on it but the heading that stands over them."""
    heard = {leaf.mcid for leaf in printed.leaves if leaf.page == number and name_of(leaf.path[1]) == "H2"}
    shown = [text for text in printed.contents[number - 1].texts if text.mcid is not None]
    return {text.mcid for text in shown} == heard and "".join(text.says for text in shown).strip() == wanted.notes


def margins(number: int, wanted: Wanted) -> tuple[float, float, float, float]:
    """Top, right, bottom and left margin of a page, mm."""
    right, left = _mirror(number, OUTER_MM, INNER_MM)
    if is_of_leaf(number, wanted):
        return (LEAF_HEADED_MM if wanted.leaf_head else LEAF_TOP_MM), right, LEAF_BOTTOM_MM[wanted.print_size], left
    return (HEADED_MM if wanted.head else TOP_MM), right, BOTTOM_MM[wanted.print_size], left


def _reach(number: int) -> tuple[float, float, float, float]:
    """How far from each edge no ink may stand, mm: printers don't reach, or holes are punched."""
    right, left = _mirror(number, EDGE_MM, PUNCHED_MM)
    return EDGE_MM, right, EDGE_MM, left


_PIXEL = 72 / INK_DPI


def page_box(printed: Printed, wanted: Wanted) -> Found:
    """Every page has exactly the size of the paper, to a hundredth of a point, and stands upright."""
    right = [side * MM for side in SIZES_MM[wanted.paper]]
    for number, page in enumerate(printed.pdf.pages, 1):
        for key in ("/MediaBox", "/CropBox", "/TrimBox", "/BleedBox"):
            box = [float(n) for n in page.obj.get(key, [0, 0, *right])]
            if any(abs(a - b) > 0.01 for a, b in zip(box, [0, 0, *right], strict=True)):
                yield Defect("page_box", number, f"{key} is {box}, not {wanted.paper}")
        if int(page.obj.get("/Rotate", 0)) or float(page.obj.get("/UserUnit", 1)) != 1:
            yield Defect("page_box", number, "the page is turned or stretched")


def printable(printed: Printed, wanted: Wanted) -> Found:
    """No ink where printers don't reach, and none where holes are punched."""
    for number, ink in enumerate(printed.ink, 1):
        for side, outside in _outside(ink, _reach(number)):
            if outside.any():
                yield Defect("printable", number, f"there is ink too near the {side} edge")


def in_text_block(printed: Printed, wanted: Wanted) -> Found:
    """Between the line at the top and the one at the foot, words and drawings keep to the text block's width."""
    for number, ink in enumerate(printed.ink, 1):
        above, right, below, left = margins(number, wanted)
        top, foot = round(above * MM / _PIXEL), round(below * MM / _PIXEL)
        for side, outside in _outside(ink[top:-foot], (0, right, 0, left)):
            if outside.any():
                yield Defect("in_text_block", number, f"something sticks out on the {side}")
    width = SIZES_MM[wanted.paper][0] * MM
    for number, words in enumerate(printed.words, 1):
        _, right, _, left = margins(number, wanted)
        for word in words:
            if word.left < left * MM - 1 or word.right > width - right * MM + 1:
                yield Defect("in_text_block", number, f"the word '{word.text}' sticks out")


def _outside(ink: np.ndarray, margins_mm: tuple[float, float, float, float]) -> Iterator[tuple[str, np.ndarray]]:
    """The four strips of a page that must be empty, less a pixel for rounding."""
    top, right, bottom, left = (max(0, int(mm * MM / _PIXEL) - 1) for mm in margins_mm)
    yield "upper", ink[:top]
    yield "right", ink[:, ink.shape[1] - right :]
    yield "lower", ink[ink.shape[0] - bottom :]
    yield "left", ink[:, :left]


def running_lines(printed: Printed, wanted: Wanted) -> Found:
    """Every page says at its foot what it is, its version and its number of how many; at its top, if it is a draft."""
    height = SIZES_MM[wanted.paper][1] * MM
    count = len(printed.words)
    for number, words in enumerate(printed.words, 1):
        page, of = wanted.page_words
        top, _, bottom, _ = margins(number, wanted)
        above = wanted.leaf_head if is_of_leaf(number, wanted) else wanted.head
        if is_for_notes(printed, number, wanted):
            top, above = NOTES_TOP_MM, f"{above} {wanted.notes}".strip()
        head = [w for w in words if w.bottom < top * MM + 1]
        foot = [w for w in words if w.top > height - bottom * MM - 1]
        for place, right, found in (
            ("top", above, head),
            ("foot", f"{wanted.foot} {page} {number} {of} {count}", foot),
        ):
            if (says := " ".join(w.text for w in found)) != right:
                yield Defect("running_lines", number, f"the {place} says '{says}', not '{right}'")


def words_apart(printed: Printed, wanted: Wanted) -> Found:
    """No word is printed over another word or over a line of a table: nothing is clipped or runs out of its cell."""
    height = SIZES_MM[wanted.paper][1] * MM
    for number, (words, content) in enumerate(zip(printed.words, printed.contents, strict=True), 1):
        for one, other in _overlaps(words):
            yield Defect("words_apart", number, f"'{one.text}' and '{other.text}' are printed over each other")
        for word in words:
            room = (word.bottom - word.top) * 0.2
            low, high = height - word.bottom + room, height - word.top - room
            for edge in content.edges:
                if edge.low < high and edge.high > low and edge.left < word.right - 1 and edge.right > word.left + 1:
                    yield Defect("words_apart", number, f"'{word.text}' runs over a line")


def _overlaps(words: list[Word]) -> Iterator[tuple[Word, Word]]:
    """Pairs of words whose letters touch; the room above and below letters doesn't count."""
    if len(words) < 2:
        return
    box = np.array([(w.left, w.top, w.right, w.bottom) for w in words])
    room = (box[:, 3] - box[:, 1]) * 0.2
    left, top, right, bottom = box[:, 0] + 0.5, box[:, 1] + room, box[:, 2] - 0.5, box[:, 3] - room
    apart = (left[:, None] >= right[None]) | (left[None] >= right[:, None])
    apart |= (top[:, None] >= bottom[None]) | (top[None] >= bottom[:, None])
    for one, other in np.argwhere(~apart):
        if one < other and right[one] > left[one] and right[other] > left[other]:
            yield words[one], words[other]


def count_words(texts: Iterable[str]) -> dict[str, int]:
    """How often each word stands in some texts. A word with a hyphen counts as two: it may be broken there."""
    return Counter(word for text in texts for word in re.findall(r"\w+", text))


def nothing_lost(printed: Printed, wanted: Wanted) -> Found:
    """Every word of the plan stands on the paper, as often as in the plan."""
    found = count_words(w.text for words in printed.words for w in words)
    for word, count in wanted.words.items():
        if found.get(word, 0) < count:
            yield Defect("nothing_lost", 0, f"'{word}' stands on the paper {found.get(word, 0)} times, not {count}")
