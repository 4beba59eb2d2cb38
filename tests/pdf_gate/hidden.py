"""Checks of what a reader does not see: names in the file and in its hidden data."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pikepdf

from pdf_gate.document import Defect, Printed, Wanted, name_of

Found = Iterator[Defect]

_FILE_STEM = re.compile(r"[a-z0-9-]+(_v\d+\.\d+\.\d+_[0-9a-f]{10})?")
_INFO = {"/Title", "/Creator", "/Producer"}
_XMP = {"pdfuaid:part", "pdf:Producer", "dc:title", "xmp:CreatorTool"}


def title_same(printed: Printed, wanted: Wanted) -> Found:
    """U3, U20: the title in both places of the metadata is the handout's title."""
    info = str(printed.pdf.docinfo.get("/Title", ""))
    stream = ""
    if "/Metadata" in printed.pdf.Root:
        stream = str(printed.metadata.get("dc:title", ""))
    for where, title in (("the document information", info), ("the metadata", stream)):
        if title != wanted.title:
            yield Defect("title_same", 0, f"the title in {where} is '{title}', not '{wanted.title}'")


def metadata_only_ours(printed: Printed, wanted: Wanted) -> Found:
    """The metadata hold a title and the names of two programs: no author, no subject, no time."""
    extra = sorted(set(printed.pdf.docinfo.keys()) - _INFO)
    if "/Metadata" in printed.pdf.Root:
        extra += sorted(_short(key) for key in printed.metadata if _short(key) not in _XMP)
    for key in extra:
        yield Defect("metadata_only_ours", 0, f"the metadata have an entry {key}")


def _short(key: str) -> str:
    uri, _, name = key.lstrip("{").partition("}")
    prefixes = {
        "http://www.aiim.org/pdfua/ns/id/": "pdfuaid",
        "http://ns.adobe.com/pdf/1.3/": "pdf",
        "http://purl.org/dc/elements/1.1/": "dc",
        "http://ns.adobe.com/xap/1.0/": "xmp",
    }
    return f"{prefixes.get(uri, uri)}:{name}"


def nothing_attached(printed: Printed, wanted: Wanted) -> Found:
    """Nothing is attached, nothing runs, nothing happens on opening."""
    root = printed.pdf.Root
    for key in ("/OpenAction", "/AA", "/AF"):
        if key in root:
            yield Defect("nothing_attached", 0, f"the document has {key}")
    for key in ("/JavaScript", "/EmbeddedFiles"):
        if key in root.get("/Names", {}):
            yield Defect("nothing_attached", 0, f"the document has {key}")


def _list_hidden(printed: Printed) -> Iterator[tuple[str, str]]:
    """Every string that is in the file but not on the paper, with the place where it is."""
    for key, value in printed.pdf.docinfo.items():
        yield f"the document information ({key})", str(value)
    if "/Metadata" in printed.pdf.Root:
        yield "the metadata", printed.pdf.Root["/Metadata"].read_bytes().decode("utf-8", "replace")
    for title in _list_outline(printed.pdf.Root.get("/Outlines", {})):
        yield "the list of headings", title
    for tag, _ in printed.tags:
        for key in ("/Alt", "/ActualText", "/T", "/E", "/ID"):
            if key in tag:
                yield f"{key} of a {name_of(tag)}", str(tag[key])
    for page in printed.pdf.pages:
        for note in page.obj.get("/Annots", []):
            yield "a note", f"{note.get('/Contents', '')} {note.get('/A', {}).get('/URI', '')}"


def _list_outline(entry: Any) -> Iterator[str]:
    kid = entry.get("/First")
    while kid is not None:
        yield str(kid.get("/Title", ""))
        yield from _list_outline(kid)
        kid = kid.get("/Next")


def nobody_named(printed: Printed, wanted: Wanted) -> Found:
    """What a clinician typed about a person stands nowhere in the hidden data, nor in the file's name."""
    for word in wanted.private:
        for place, text in _list_hidden(printed):
            if word.casefold() in text.casefold():
                yield Defect("nobody_named", 0, f"'{word}' stands in {place}")
        if word.casefold() in wanted.file_stem.casefold():
            yield Defect("nobody_named", 0, f"'{word}' stands in the file's name")
    if not _FILE_STEM.fullmatch(wanted.file_stem):
        yield Defect("nobody_named", 0, f"the file's name '{wanted.file_stem}' is not made as it should be")


def headings_listed(printed: Printed, wanted: Wanted) -> Found:
    """A reader on a screen can jump: the list of headings is as long as the headings are many."""
    count = sum(bool(re.fullmatch(r"H[1-6]", name_of(tag))) for tag, _ in printed.tags)
    listed = len(list(_list_outline(printed.pdf.Root.get("/Outlines", pikepdf.Dictionary()))))
    if count != listed:
        yield Defect("headings_listed", 0, f"{listed} of {count} headings are in the list")
