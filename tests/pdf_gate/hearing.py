"""Checks of what is heard: all of the text and nothing else, word by word, in the order in which it is painted."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from itertools import groupby, takewhile

import pikepdf

from pdf_gate.document import Defect, Leaf, Printed, Wanted, kids_of, name_of

Found = Iterator[Defect]

_INLINE = {"Span", "Link", "NonStruct"}
_FIRST_WORDS = 4
_ALIKE = 3
_FOOT_LINES = 5  # in the largest print, with the number of the page


def nothing_unheard(printed: Printed, wanted: Wanted) -> Found:
    """ISO 14289-1, 7.1 and 7.8: what is marked is in the tree of tags, and all other text is a running head or foot."""
    known = {(leaf.page, leaf.mcid) for leaf in printed.leaves}
    for number, content in enumerate(printed.contents, 1):
        orphans = [mcid for mcid in content.order if (number, mcid) not in known]
        if orphans:
            yield Defect("nothing_unheard", number, f"{len(orphans)} marked pieces are in no tag")
        for text in content.texts:
            if text.mcid is None and not text.running:
                yield Defect("nothing_unheard", number, f"'{text.says}' is decoration, but no running line")


def running_lines_heard(printed: Printed, wanted: Wanted) -> Found:
    """What runs at the head of each page is heard once, before all headings, and what runs at the foot at the end.

    They say what may stand nowhere else: that a sheet is a draft, or unchecked, and of which version.
    """
    blocks = list(_read_blocks(printed))
    first = takewhile(lambda block: not re.fullmatch(r"H\d", name_of(_block(block[0]))), blocks)
    for running, heard in ((wanted.head, first), (wanted.foot, blocks[-_FOOT_LINES:])):
        said = " ".join(" ".join(text for _, text in heard).split())
        if running not in said:
            yield Defect("running_lines_heard", 0, f"where '{running}' must be heard is '{said}'")


def headings_scoped(printed: Printed, wanted: Wanted) -> Found:
    """ISO 14289-1, 7.5: every heading cell of a table says whether it heads a column or a row."""
    for tag, above in printed.tags:
        if name_of(tag) == "TH":
            right = "/Column" if "THead" in above else "/Row"
            if (scope := tag.get("/A", {}).get("/Scope")) != right:
                yield Defect("headings_scoped", 0, f"the scope of a heading cell is {scope}, not {right}")


def nothing_empty(printed: Printed, wanted: Wanted) -> Found:
    """No paragraph and no caption is announced that says nothing."""
    for tag, _ in printed.tags:
        if name_of(tag) in ("P", "Caption") and not kids_of(tag):
            yield Defect("nothing_empty", 0, f"a {name_of(tag)} is empty")


def words_told_apart(printed: Printed, wanted: Wanted) -> Found:
    """ISO 32000-1, 14.8.2.5: between two words is a blank, also where a line ends, so that each is heard."""
    seen = {word for words in printed.words for w in words for word in _split(w.text)}
    for leaf, text in _read_blocks(printed):
        for word in _split(text):
            if word not in seen and word not in wanted.words:
                yield Defect("words_told_apart", leaf.page, f"'{word}' is heard, and is no word on the paper")
    heard = Counter(word for _, text in _read_blocks(printed) for word in _split(text))
    for word, count in wanted.words.items():
        if heard[word] < count:
            yield Defect("words_told_apart", 0, f"'{word}' is heard {heard[word]} times, not {count}")


def painted_in_order(printed: Printed, wanted: Wanted) -> Found:
    """On every page, pieces are painted in the order of the tags: it is what readers without tags go by."""
    for number, content in enumerate(printed.contents, 1):
        told = [leaf.mcid for leaf in printed.leaves if leaf.page == number]
        if told != [mcid for mcid in content.order if mcid in set(told)]:
            yield Defect("painted_in_order", number, "pieces are painted in another order than they are tagged in")


def alts_differ(printed: Printed, wanted: Wanted) -> Found:
    """Descriptions of figures on one page begin with what differs, so that nobody has to hear them to the end."""
    pages: dict[int, dict[tuple[int, int], str]] = defaultdict(dict)
    for leaf in printed.leaves:
        if name_of(tag := leaf.path[-1]) == "Figure":
            pages[leaf.page][tag.objgen] = " ".join(str(tag.get("/Alt", "")).split()[:_FIRST_WORDS])
    for page, alts in pages.items():
        for words, count in Counter(alts.values()).items():
            if count >= _ALIKE:
                yield Defect("alts_differ", page, f"{count} figures begin with '{words}'")


def figures_boxed(printed: Printed, wanted: Wanted) -> Found:
    """The box of a figure lies where the figure is: the letters in it begin inside."""
    for leaf in printed.leaves:
        if name_of(tag := leaf.path[-1]) == "Figure":
            left, low, right, high = (float(n) for n in tag["/A"]["/BBox"])
            for text in printed.contents[leaf.page - 1].texts:
                if text.mcid == leaf.mcid and not (left - 1 <= text.x <= right + 1 and low - 1 <= text.y <= high + 1):
                    yield Defect("figures_boxed", leaf.page, f"'{text.says}' is outside the box of its figure")


ALL = (
    nothing_unheard,
    running_lines_heard,
    headings_scoped,
    nothing_empty,
    words_told_apart,
    painted_in_order,
    alts_differ,
    figures_boxed,
)


def _split(text: str) -> list[str]:
    return re.findall(r"\w+", text)


def _block(leaf: Leaf) -> pikepdf.Dictionary:
    """The paragraph, item or cell that a piece belongs to."""
    return next(tag for tag in reversed(leaf.path) if name_of(tag) not in _INLINE)


def _read_blocks(printed: Printed) -> Iterator[tuple[Leaf, str]]:
    """What each block says to those who listen, with its first piece, in the order of the tags. Figures have alts."""
    says: dict[tuple[int, int], str] = defaultdict(str)
    for number, content in enumerate(printed.contents, 1):
        for text in content.texts:
            if text.mcid is not None:
                says[number, text.mcid] += text.says
    for _, leaves in groupby(printed.leaves, key=lambda leaf: _block(leaf).objgen):
        first, *rest = leaves
        if name_of(_block(first)) != "Figure":
            yield first, "".join(says[leaf.page, leaf.mcid] for leaf in (first, *rest))
