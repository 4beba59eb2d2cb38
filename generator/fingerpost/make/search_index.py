"""The index of the search as a script, which a page may load from a folder too: a word, and the pages that hold it."""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Collection, Iterable
from typing import Any

from fingerpost.plan.base.paper import Findable, Search

ADDRESS = "search/index.js"
_WORD = re.compile("[a-z0-9]+")


def list_words(text: str) -> list[str]:
    """The words of a text in small letters, without accents and apostrophes, as ranking.js splits what is typed."""
    bare = "".join(c for c in unicodedata.normalize("NFKD", text.lower()) if not unicodedata.combining(c))
    return _WORD.findall(bare.replace("'", "").replace("’", ""))


def _turn_round(texts: Iterable[str]) -> dict[str, str]:
    """Each word with the numbers of the texts that hold it, counted on from the one before: '3 1' is 3 and 4."""
    found: dict[str, list[int]] = {}
    for number, text in enumerate(texts):
        for word in sorted(set(list_words(text))):
            found.setdefault(word, []).append(number)
    return {w: " ".join(str(b - a) for a, b in zip([0, *at], at, strict=False)) for w, at in sorted(found.items())}


def _write_page(page: Findable) -> list[Any]:
    parts = [list(part) for part in page.parts]
    return [page.address, page.rank, page.title, list(page.called), page.says, list(page.typed), parts]


def write_index(search: Search, addresses: Collection[str]) -> bytes:
    """The index of those pages that stand at one of `addresses`. The same search gives the same bytes."""
    pages = [page for page in search.pages if page.address in addresses]
    index = {
        "pages": [_write_page(page) for page in pages],
        "opening": _turn_round(page.opening for page in pages),
        "text": _turn_round(page.text for page in pages),
        "same": [list(pair) for pair in search.same],
    }
    return f"var searchIndex = {json.dumps(index, separators=(',', ':'))};\n".encode()
