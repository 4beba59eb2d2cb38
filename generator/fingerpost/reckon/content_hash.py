"""The content hash in the foot of a sheet: it tells which text was printed, and `whence` finds that text again."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping

LENGTH = 8
# Vocabularies that say nothing on any sheet, each one file or a folder.
_NOT_PRINTED = ("shared/exceptions", "shared/retired", "shared/standards")


def list_printed_files(names: Mapping[str, str], protocol: str) -> Iterator[str]:
    """The files that a protocol's sheets are made from: its own, and every shared one that is printed."""
    own = f"{protocol}.yml"
    yield from (n for n in sorted(names) if n == own or (n.startswith("shared/") and not n.startswith(_NOT_PRINTED)))


def hash_content(texts: Mapping[str, str], protocol: str) -> str:
    """The first eight hexadecimal digits of a SHA-256 over the files behind a protocol's sheets.

    `texts`: the text of each file by its place below the folder of protocols, as 'pulley.yml' or 'shared/gates.yml'.
    How lines end, and a mark at the start of the file, do not count: version control may change them.
    Raises KeyError where the protocol has no file.
    """
    texts[f"{protocol}.yml"]
    whole = hashlib.sha256()
    for name in list_printed_files(texts, protocol):
        plain = texts[name].removeprefix("\ufeff").replace("\r\n", "\n")
        whole.update(f"{name}\0{len(plain)}\0{plain}".encode())
    return whole.hexdigest()[:LENGTH]


def hash_all(texts: Mapping[str, str]) -> dict[str, str]:
    """The content hash of each protocol, by its id. The specimen, which is never printed, has none."""
    own = (name.removesuffix(".yml") for name in sorted(texts) if "/" not in name and name.endswith(".yml"))
    return {protocol: hash_content(texts, protocol) for protocol in own if not protocol.startswith("_")}
