"""Which signs the sheets and pages can show: those of the fonts that come with the project.

Why: for any other sign the PDF engine takes whatever font the machine has, or leaves a box. Then the same case prints
differently on two computers, and a sign that turns the direction of text makes a name read as another one.
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

# Code points of the embedded fonts, first to last, in hexadecimal. A test reads them from the font files.
SPANS = """
9-a 20-7e a0-ac ae-107 10a-113 116-11b 11e-123 126-127 12a-12b 12e-133 136-137 139-13e 141-148 150-155 158-15b 15e-165
16a-16b 16e-17e 192 218-21b 237 2c6-2c7 2c9 2d8-2dd 300-304 306-308 30a-30c 312 326-328 394 3a9 3b1-3b2 3b4 3b8 3bc 3c0
1e80-1e85 1e9e 1ef2-1ef3 2007 2009 2010-2011 2013-2014 2018-201a 201c-201e 2020-2022 2026 202f-2030 2032-2033 2039-203a
2044 20ac 20b9 2113 2122 212e 2190-2195 2197-2198 21ba-21bb 2202 220f 2211-2212 2215 2219-221a 221e 222b 223c-223d 2248
2260-2261 2264-2265 2295-2298 2300 25a0-25a1 25b2-25b3 25b6 25bc-25bd 25c0 25c6 25ca-25cc 25cf-25d1 2605-2606 260e
2610-2612 261e 266a 26a0 2702 2713 2717 29b8
"""


def list_spans() -> tuple[tuple[int, int], ...]:
    """The first and last code point of each span. The tab and the line break, in the first one, print as blanks."""
    pairs = (span.partition("-") for span in SPANS.split())
    return tuple((int(first, 16), int(last or first, 16)) for first, _, last in pairs)


_FOREIGN = re.compile("[^" + "".join(f"\\U{first:08x}-\\U{last:08x}" for first, last in list_spans()) + "]")


@lru_cache(maxsize=40_000)
def find_foreign(text: str) -> str:
    """The first sign of a text that none of our fonts has, or ''. A letter and its accent count as one sign."""
    found = _FOREIGN.search(unicodedata.normalize("NFC", text))
    return found.group() if found else ""


def say_foreign(sign: str) -> tuple[str, str]:
    """What to say of such a sign: (message, hint). One that cannot be seen is told by its number alone."""
    number = f"U+{ord(sign):04X}"
    shown = f"'{sign}' ({number})" if sign.isprintable() and not unicodedata.combining(sign) else number
    hint = "They have Latin letters and a few signs: write it with those."
    return f"the fonts of the sheets have no sign {shown}", hint
