"""What a page or sheet with hostile texts must share with its harmless twin: everything but the letters."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from hostile import reading
from hostile.payloads import find_marked, find_numbers


def find_defects(hostile: str, harmless: str, payloads: Mapping[int, str]) -> list[str]:
    """Everything that hostile texts have changed in some HTML, beside what it says."""
    return list(_find(reading.parse(hostile), reading.parse(harmless), payloads))


def _find(hostile: reading.Element, harmless: reading.Element, payloads: Mapping[int, str]) -> Iterator[str]:
    parts, right = list(reading.list_parts(hostile)), list(reading.list_parts(harmless))
    if parts != right:
        at = next((n for n, pair in enumerate(zip(parts, right, strict=False)) if pair[0] != pair[1]), 0)
        yield f"elements differ: {parts[at]} where {right[at]} should be"
    yield from (f"in a drawing: {drawn}" for drawn in reading.list_drawn(hostile) - reading.list_drawn(harmless))
    yield from (f"leads or loads: {link}" for link in reading.list_links(hostile) - reading.list_links(harmless))
    if reading.list_styles(hostile) != reading.list_styles(harmless):
        yield "a style rule differs"
    yield from _find_garbled(hostile, payloads)


def write_once(text: str) -> str:
    """Letters of one size, and curly brackets written once: some phrases have gaps and write others twice."""
    return re.sub(r"([{}])\1+", r"\1", text.casefold())


def _find_garbled(hostile: reading.Element, payloads: Mapping[int, str]) -> Iterator[str]:
    """Payloads that do not come out as they were written."""
    text = reading.read_everything(hostile)
    found = find_marked(text)
    for number, written in found.items():
        for shown in written:
            if write_once(shown) != write_once(payloads[number]):
                yield f"text {number} reads: {shown}"
    yield from (f"text {number} is cut" for number in find_numbers(text) - set(found))


def list_shown(html: str) -> set[int]:
    """The numbers of the payloads that a reader can see, also those in drawings."""
    root = reading.parse(html)
    return find_numbers(f"{reading.read_everything(root)} {reading.read_drawn(root)}")
