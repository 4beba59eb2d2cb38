"""Checks of how the text runs over the pages."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from itertools import pairwise

import pikepdf

from pdf_gate.document import INK_DPI, Defect, Leaf, Printed, Wanted, kids_of, name_of
from pdf_gate.paper import MM, SIZES_MM, margins

Found = Iterator[Defect]

LEAST_FULL = 1 / 3
_UNDER_LETTERS_PT = 10.0  # how far letters of the largest heading reach below their line
_LONG = 0.4  # of the width of the page: lines stand beside something else in small print
_WRITING_MM = 6.0


def find_sheet_starts(printed: Printed) -> set[int]:
    """The pages on which a sheet begins, with a heading of the first level."""
    return {leaf.page for leaf in printed.leaves if any(name_of(tag) == "H1" for tag in leaf.path)}


def pages_filled(printed: Printed, wanted: Wanted) -> Found:
    """Every page is filled to a third at the least, but the last page of a sheet may be emptier."""
    starts = find_sheet_starts(printed)
    for number, ink in enumerate(printed.ink, 1):
        top, foot = (round(mm * MM * INK_DPI / 72) for mm in margins(number, wanted)[::2])
        body = ink[top:-foot]
        rows = body.any(axis=1).nonzero()[0]
        full = (rows[-1] + 1) / len(body) if len(rows) else 0.0
        last = number == len(printed.ink) or number + 1 in starts
        if full == 0 or (full < LEAST_FULL and not last):
            yield Defect("pages_filled", number, f"the page is {full:.0%} full")


def _heights(printed: Printed, leaves: Iterable[Leaf]) -> set[int]:
    """The heights of the lines of text in some tagged pieces of one page, in points from its foot."""
    kept = {(leaf.page, leaf.mcid) for leaf in leaves}
    page = next(iter(kept))[0]
    return {round(t.y) for t in printed.contents[page - 1].texts if (page, t.mcid) in kept}


def _block(leaf: Leaf) -> pikepdf.Dictionary | None:
    """The paragraph or item that a piece belongs to."""
    return next((tag for tag in reversed(leaf.path) if name_of(tag) in ("P", "LBody")), None)


def _is_torn(printed: Printed, wanted: Wanted, page: int, before: Leaf, after: Leaf) -> bool:
    """Whether what follows on the next page goes on with the same paragraph or item.

    Either part has tags of its own. The rest of an item has no sign before it; the rest of a paragraph follows words
    that don't end a sentence.
    """
    one, other = _block(before), _block(after)
    if one is None or other is None or name_of(one) != name_of(other):
        return False
    if name_of(one) == "LBody" and _has_sign(before):
        return not _has_sign(after)
    top, _, bottom, _ = margins(page, wanted)
    foot = float(printed.pdf.pages[page - 1].obj.MediaBox[3]) - bottom * MM
    body = [w for w in printed.words[page - 1] if w.top > top * MM - 1 and w.bottom < foot]
    return bool(body) and body[-1].text[-1] not in ".:!?”)"


def _has_sign(leaf: Leaf) -> bool:
    item = next(tag for tag in reversed(leaf.path) if name_of(tag) == "LI")
    return any(name_of(kid) == "Lbl" for kid in kids_of(item))


def no_single_lines(printed: Printed, wanted: Wanted) -> Found:
    """A paragraph or an item of a list that goes over a page has two lines at the least on either page."""
    pages: dict[int, list[Leaf]] = defaultdict(list)
    for leaf in printed.leaves:
        pages[leaf.page].append(leaf)
    for page, leaves in sorted(pages.items()):
        after = pages.get(page + 1, [])
        if not after or not _is_torn(printed, wanted, page, leaves[-1], after[0]):
            continue
        for number, whole, edge in ((page, leaves, leaves[-1]), (page + 1, after, after[0])):
            block = _block(edge)
            own = [leaf for leaf in whole if _block(leaf) == block]
            if len(_heights(printed, own)) < 2:
                yield Defect("no_single_lines", number, "one line of a paragraph stands alone")


def no_single_lines_in_boxes(printed: Printed, wanted: Wanted) -> Found:
    """A box or table that goes over a page has two lines of text at the least on either page."""
    width = SIZES_MM[wanted.paper][0] * MM
    for number, content in enumerate(printed.contents, 1):
        sides = [e for e in content.edges if e.kind == "border" and e.upright]
        _, outer, _, inner = margins(number, wanted)
        left = [e for e in sides if e.left < inner * MM + 4]
        right = [e for e in sides if e.right > width - outer * MM - 4]
        frames = {(a.low, a.high) for a in left for b in right if abs(a.high - b.high) < 9}
        for low, high in sorted(frames):
            heights = {round(t.y) for t in content.texts if low < t.y < high}
            if len(heights) < 2:
                yield Defect("no_single_lines_in_boxes", number, f"a box holds {len(heights)} lines")


def headings_kept(printed: Printed, wanted: Wanted) -> Found:
    """A heading stands on the same page as what follows it: words, a drawing, or lines to write on."""
    for leaf, follower in pairwise(printed.leaves):
        if not any(name_of(t) in ("H1", "H2", "H3") for t in leaf.path) or follower.page == leaf.page:
            continue
        if not _has_lines_to_write_on(printed, wanted, leaf):
            yield Defect("headings_kept", leaf.page, "a heading stands alone at the foot of the page")


def _has_lines_to_write_on(printed: Printed, wanted: Wanted, heading: Leaf) -> bool:
    """Whether there are long level lines below a heading, down to the foot of the page, as far apart as writing.

    What else stands there is decoration: the heading is the last that is heard of its page.
    """
    page, ink = heading.page, printed.ink[heading.page - 1]
    height = float(printed.pdf.pages[page - 1].obj.MediaBox[3])
    _, right, foot, left = (mm * MM for mm in margins(page, wanted))
    low = height - min(_heights(printed, [heading])) + _UNDER_LETTERS_PT
    scale = INK_DPI / 72
    body = ink[round(low * scale) : round((height - foot) * scale), round(left * scale) : -round(right * scale)]
    rows = (body.mean(axis=1) >= _LONG).nonzero()[0]
    tops = [row for row in rows if row - 1 not in rows]
    return len(tops) > 1 and all(after - before >= _WRITING_MM * MM * scale for before, after in pairwise(tops))


def rows_whole(printed: Printed, wanted: Wanted) -> Found:
    """No row of a table is torn in two: the rest of a row has cells with words, but none at its head."""
    filled = {tag.objgen: leaf.page for leaf in printed.leaves for tag in leaf.path}
    for tag, _ in printed.tags:
        if name_of(tag) == "TR":
            cells = [filled.get(cell.objgen, 0) for cell in kids_of(tag)]
            if any(cells) and not cells[0]:
                yield Defect("rows_whole", max(cells), "a row of a table is torn")
