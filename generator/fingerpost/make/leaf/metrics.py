"""How wide text is in the fonts of the sheets, and where its lines break: the same sum for every print engine.

Advance widths in thousandths of the size, from the hmtx tables of Atkinson Hyperlegible Next and of our signs. Kerning
is left out, which makes a line a little wider than it prints; a test holds the table against the font files.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from fingerpost.draw.pens.svg import MM_PER_PT

_REGULAR: dict[int, str] = {
    160: "'", 210: ',.:;', 236: '\u2019\u2018', 237: '|', 240: '\xb7', 243: '`', 245: 'j', 252: 'i\xed\xec\xee',
    262: 'l', 266: '\xef', 280: ' \xa0', 286: '!', 299: '()', 301: '"', 314: 'f', 317: '[', 326: 't', 344: ']{}',
    349: 'r', 352: '\xb0', 362: '-', 372: '_', 387: '/\\', 392: 'I', 399: '\u201c\u201d', 407: '1', 438: '\u2022',
    449: 'y\xfd', 460: 'z', 461: 'v', 471: 's', 480: '?', 481: 'x', 485: 'c*\xe7', 492: 'k', 504: '\u2013', 510: '7',
    512: 'J', 525: 'a\xe1\xe0\xe2\xe4\xe5', 532: '\xd7', 538: 'e\xe9\xe8\xea\xeb', 540: 'u\xfa\xf9\xfb\xfc', 541: 'L',
    548: '2o\xf3\xf2\xf4\xf6\xf8', 550: 'hn\xf1', 552: 'F^', 553: '<>', 555: '~', 558: 'gT', 564: 'd', 566: 'bp',
    569: 'E\xc9', 574: 'q', 575: 'Y', 576: '3', 582: '\xdf', 588: '5', 592: 'PS$', 593: 'V', 595: '9', 598: '6',
    606: '+', 607: 'Z', 613: 'B', 614: '4R', 615: '8', 623: 'X', 626: 'A\xc0\xc4', 628: '=', 631: 'K', 645: 'C',
    648: '0', 651: '#', 669: 'D', 670: '\u2026', 684: 'w', 690: 'U\xdc', 693: 'N', 694: 'GH', 714: 'O\xd6', 724: 'Q',
    731: '&', 778: '@', 816: '\xbc', 820: '\xbd', 821: '\u2610', 824: 'M\u2014', 838: '\u25cb', 845: 'm', 856: 'W',
    866: '\xe6', 867: '\xbe', 919: '%', 924: '\u0153',
}  # fmt: skip
_BOLD: dict[int, str] = {
    210: "'", 254: '|', 259: 'j', 269: '\u2019\u2018', 271: ',', 272: '.:;', 288: '`', 294: '\xb7',
    300: 'i\xed\xec\xee', 303: '!', 312: ' \xa0', 314: '\xef', 318: 'l', 335: '()', 340: '[', 344: ']', 365: 'f',
    373: '-', 376: 'rt', 381: '{}', 390: '"', 394: '\xb0', 400: '_', 424: 'I', 438: '\u2022', 440: '1/\\',
    479: '\u201c\u201d', 485: '*', 501: '\u2013', 505: 'z', 508: 's', 510: 'c\xe7', 521: 'y\xfd', 530: 'v',
    536: '\xd7', 537: '7~', 539: 'x', 547: '?', 552: 'aL\xe1\xe0\xe2\xe4\xe5', 555: 'k', 561: 'J',
    563: 'e\xe9\xe8\xea\xeb', 566: 'F', 567: 'u\xfa\xf9\xfb\xfc', 569: '<>', 571: '9hn\xf1',
    576: 'o\xf3\xf2\xf4\xf6\xf8', 579: '2', 582: '^', 593: 'g', 595: '+', 596: 'bdp', 597: 'E\xc9', 599: 'q',
    600: '3', 607: '5T', 610: 'S$', 612: '=', 618: 'Z', 621: '\xdf', 624: '48', 626: '6', 629: 'P', 643: 'B',
    644: 'V', 650: 'RY', 658: 'C', 659: '0', 663: 'K', 678: 'A\xc0\xc4', 685: 'X', 686: 'U\xdc', 688: 'D', 701: 'H',
    717: 'N', 718: 'G', 725: '&', 740: 'w', 746: 'O\xd6', 756: 'Q', 765: '#', 780: '\u2026', 781: '@', 821: '\u2610',
    832: '\u2014', 838: '\u25cb', 846: '\xbc', 852: '\xbd', 858: 'M', 878: '\xe6', 882: 'm', 886: 'W', 921: '\xbe',
    936: '\u0153', 969: '%',
}  # fmt: skip
REGULAR_WIDTHS = {letter: width for width, letters in _REGULAR.items() for letter in letters}
BOLD_WIDTHS = {letter: width for width, letters in _BOLD.items() for letter in letters}
# A letter of another script: as wide as the widest, so that a line is never longer than it was reckoned.
_OTHER = 1000
_BREAKS = " \n"
Piece = tuple[str, bool]
"""A stretch of text, and whether it is bold."""
Weight = tuple[int, int]
"""The width of a word, and of the blank before it, in thousandths of the size."""


@lru_cache(maxsize=16384)
def _count(word: str, bold: bool) -> int:
    widths = BOLD_WIDTHS if bold else REGULAR_WIDTHS
    return sum(widths.get(letter, _OTHER) for letter in word)


def width_mm(text: str, size_pt: float, bold: bool = False) -> float:
    """The width in mm of one line at `size_pt` points."""
    return _count(text, bold) * size_pt * MM_PER_PT / 1000


def count_lines(pieces: Iterable[Piece], room_mm: float, size_pt: float) -> int:
    """How many lines text takes in a column: words are set as long as they fit. 0 for no text.

    A line breaks at a blank or behind a hyphen or slash, never at a no-break space. A word wider than the column takes
    as many lines as it fills.
    """
    return fill_lines(weigh(pieces), room_mm, size_pt)


def weigh(pieces: Iterable[Piece]) -> list[Weight]:
    """The words of a text by their widths, for `fill_lines`: the same in every column and at every size."""
    return [(sum(_count(part, bold) for part, bold in word), blank) for word, blank in _split(pieces)]


def fill_lines(words: Iterable[Weight], room_mm: float, size_pt: float) -> int:
    """The lines of `count_lines` for a text that was weighed before."""
    room = room_mm * 1000 / (size_pt * MM_PER_PT)
    lines, at = 0, 0.0
    for wide, blank in words:
        if lines and at + blank + wide <= room:
            at += blank + wide
            continue
        lines += max(1, -int(-wide // room))
        at = wide if wide <= room else wide % room
    return lines


def _split(pieces: Iterable[Piece]) -> Iterable[tuple[list[Piece], int]]:
    """Every unbreakable run of letters, each with the width of the blank before it."""
    word: list[Piece] = []
    blank = 0
    for text, bold in pieces:
        start = 0
        for at, letter in enumerate(text):
            if letter in _BREAKS:
                if text[start:at]:
                    word.append((text[start:at], bold))
                if word:
                    yield word, blank
                    word = []
                start, blank = at + 1, _count(" ", bold)
            elif letter in "-/" and at + 1 < len(text) and text[at + 1].isalpha() and at > start:
                word.append((text[start : at + 1], bold))
                yield word, blank
                word, start, blank = [], at + 1, 0
        if text[start:]:
            word.append((text[start:], bold))
    if word:
        yield word, blank


_MEASURE = re.compile(r"(?<=\d) (?=(?:mm|cm|m|kg|lb|N)\b|%)")


def bind(content: str) -> str:
    """Text in which no line breaks between a figure and its unit."""
    return _MEASURE.sub("\u00a0", content)
