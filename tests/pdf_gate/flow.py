"""Checks of how the text runs over the pages."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from pdf_gate.document import INK_DPI, Defect, Leaf, Printed, Wanted, name_of
from pdf_gate.paper import BOTTOM_MM, LEFT_MM, MM, RIGHT_MM, SIZES_MM, TOP_MM

Found = Iterator[Defect]

LEAST_FULL = 1 / 3


def _sheet_starts(printed: Printed) -> set[int]:
    return {leaf.page for leaf in printed.leaves if any(name_of(tag) == "H1" for tag in leaf.path)}


def pages_filled(printed: Printed, wanted: Wanted) -> Found:
    """Every page is filled to a third at the least, but the last page of a sheet may be emptier."""
    starts = _sheet_starts(printed)
    top, foot = (round(mm * MM * INK_DPI / 72) for mm in (TOP_MM, BOTTOM_MM))
    for number, ink in enumerate(printed.ink, 1):
        body = ink[top:-foot]
        rows = body.any(axis=1).nonzero()[0]
        full = (rows[-1] + 1) / len(body) if len(rows) else 0.0
        last = number == len(printed.ink) or number + 1 in starts
        if full == 0 or (full < LEAST_FULL and not last):
            yield Defect("pages_filled", number, f"the page is {full:.0%} full")


def _line(leaf: Leaf, lines: dict[tuple[int, int], set[int]]) -> set[tuple[int, int]]:
    return {(leaf.page, y) for y in lines.get((leaf.page, leaf.mcid), ())}


def _lines(printed: Printed) -> dict[tuple[int, int], set[int]]:
    """At which heights each tagged piece has text, in points from the foot of its page."""
    found: dict[tuple[int, int], set[int]] = defaultdict(set)
    for number, content in enumerate(printed.contents, 1):
        for text in content.texts:
            if text.mcid is not None:
                found[number, text.mcid].add(round(text.y))
    return found


def no_single_lines(printed: Printed, wanted: Wanted) -> Found:
    """A paragraph or an item of a list that goes over a page has two lines at the least on either page."""
    lines = _lines(printed)
    blocks: dict[tuple[int, int], list[Leaf]] = defaultdict(list)
    for leaf in printed.leaves:
        block = next((t for t in reversed(leaf.path) if name_of(t) in ("P", "LBody", "Caption")), None)
        if block is not None:
            blocks[block.objgen].append(leaf)
    for leaves in blocks.values():
        pages: dict[int, set[int]] = defaultdict(set)
        for leaf in leaves:
            for page, y in _line(leaf, lines):
                pages[page].add(y)
        if len(pages) > 1:
            for page, heights in sorted(pages.items()):
                if len(heights) < 2:
                    yield Defect("no_single_lines", page, "one line of a paragraph stands alone")


def no_single_lines_in_boxes(printed: Printed, wanted: Wanted) -> Found:
    """A box or table that goes over a page has two lines of text at the least on either page."""
    width = SIZES_MM[wanted.paper][0] * MM
    for number, content in enumerate(printed.contents, 1):
        left = [e for e in content.edges if e.left < LEFT_MM * MM + 4]
        right = [e for e in content.edges if e.right > width - RIGHT_MM * MM - 4]
        frames = {(round(a.low), round(a.high)) for a in left for b in right if abs(a.high - b.high) < 9}
        frames = {(a.low, a.high) for a in left if a.kind == "border" for b in right if abs(a.high - b.high) < 9}
        for low, high in sorted(frames):
            heights = {round(t.y) for t in content.texts if low < t.y < high}
            if len(heights) < 2:
                yield Defect("no_single_lines_in_boxes", number, f"a box holds {len(heights)} lines")


def headings_kept(printed: Printed, wanted: Wanted) -> Found:
    """A heading stands on the same page as what follows it."""
    leaves = printed.leaves
    for leaf, follower in zip(leaves, leaves[1:], strict=False):
        if any(name_of(t) in ("H1", "H2", "H3") for t in leaf.path) and follower.page != leaf.page:
            yield Defect("headings_kept", leaf.page, "a heading stands alone at the foot of the page")


def rows_whole(printed: Printed, wanted: Wanted) -> Found:
    """No row of a table is torn in two."""
    pages: dict[tuple[int, int], set[int]] = defaultdict(set)
    for leaf in printed.leaves:
        for tag in leaf.path:
            if name_of(tag) == "TR":
                pages[tag.objgen].add(leaf.page)
    for found in pages.values():
        if len(found) > 1:
            yield Defect("rows_whole", min(found), "a row of a table is torn")
