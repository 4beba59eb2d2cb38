"""The content hash in the foot of a sheet: it tells which text was printed, and `whence` finds that text again."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping

LENGTH = 8
# Vocabularies that say nothing on any sheet, each one file or a folder.
_NOT_PRINTED = ("shared/exceptions", "shared/retired", "shared/search_words", "shared/standards")


def _list_printed_files(names: Iterable[str], protocol: str) -> Iterator[str]:
    """The files that a protocol's sheets are made from: its own, and every shared one that is printed."""
    own = f"{protocol}.yml"
    yield from (n for n in sorted(names) if n == own or (n.startswith("shared/") and not n.startswith(_NOT_PRINTED)))


def _tell(name: str, text: str) -> bytes:
    """What counts of a file: not how lines end, nor a mark at its start, because version control may change them."""
    plain = text.removeprefix("\ufeff").replace("\r\n", "\n")
    return f"{name}\0{len(plain)}\0{plain}".encode()


def _hash(told: Mapping[str, bytes], protocol: str) -> str:
    whole = b"".join(told[name] for name in _list_printed_files(told, protocol))
    return hashlib.sha256(whole).hexdigest()[:LENGTH]


def hash_content(texts: Mapping[str, str], protocol: str) -> str:
    """The first eight hexadecimal digits of a SHA-256 over the files behind a protocol's sheets.

    `texts`: the text of each file by its place below the folder of protocols, as 'pulley.yml' or 'shared/gates.yml'.
    Raises KeyError where the protocol has no file.
    """
    texts[f"{protocol}.yml"]
    return _hash({name: _tell(name, texts[name]) for name in _list_printed_files(texts, protocol)}, protocol)


def hash_all(texts: Mapping[str, str]) -> dict[str, str]:
    """The content hash of each protocol, by its id. The specimen, which is never printed, has none."""
    own = [name for name in sorted(texts) if "/" not in name and name.endswith(".yml") and not name.startswith("_")]
    told = {name: _tell(name, text) for name, text in texts.items() if name in own or name.startswith("shared/")}
    return {name.removesuffix(".yml"): _hash(told, name.removesuffix(".yml")) for name in own}
