"""Checks of the tags: our own walk over conditions U0-U21 of PDF/UA-1."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pikepdf

from pdf_gate.document import Defect, Printed, Wanted, kids_of, name_of

Found = Iterator[Defect]

_ALT_WORDS = 4
_LANGUAGE = re.compile(r"[a-z]{2,3}(-[A-Z][a-z]{3})?(-[A-Z]{2})?")
_KIDS = {
    "Table": {"Caption", "THead", "TBody", "TFoot", "TR"},
    "THead": {"TR"},
    "TBody": {"TR"},
    "TFoot": {"TR"},
    "TR": {"TH", "TD"},
    "L": {"Caption", "LI", "L"},
    "LI": {"Lbl", "LBody"},
}
_PARENTS = {
    "TR": {"Table", "THead", "TBody", "TFoot"},
    "TH": {"TR"},
    "TD": {"TR"},
    "LI": {"L"},
    "Lbl": {"LI"},
    "LBody": {"LI"},
}
# ISO 32000-1, 14.8.4: the standard tags.
_STANDARD = frozenset(
    {"Document", "Part", "Art", "Sect", "Div", "BlockQuote", "Caption", "TOC", "TOCI", "Index", "NonStruct", "Private"}
    | {"P", "H", "H1", "H2", "H3", "H4", "H5", "H6", "L", "LI", "Lbl", "LBody"}
    | {"Table", "TR", "TH", "TD", "THead", "TBody", "TFoot"}
    | {"Span", "Quote", "Note", "Reference", "BibEntry", "Code", "Link", "Annot", "Figure", "Formula", "Form"}
)


def marked(printed: Printed, wanted: Wanted) -> Found:
    """U0: the file is marked as tagged, has a tree of tags, and doesn't call the tags suspect."""
    info = printed.pdf.Root.get("/MarkInfo", {})
    if not bool(info.get("/Marked", False)):
        yield Defect("marked", 0, "MarkInfo doesn't say Marked")
    if bool(info.get("/Suspects", False)):
        yield Defect("marked", 0, "the tags are called suspect")
    if not printed.tags:
        yield Defect("marked", 0, "there is no tree of tags")


def identified(printed: Printed, wanted: Wanted) -> Found:
    """U1, U2, U21: the metadata name PDF/UA part 1, in a file of version 1.7."""
    if not printed.bytes.startswith(b"%PDF-1.7"):
        yield Defect("identified", 0, "the file is not of PDF version 1.7")
    if "/Metadata" not in printed.pdf.Root:
        yield Defect("identified", 0, "there is no metadata stream")
        return
    if str(printed.metadata.get("pdfuaid:part")) != "1":
        yield Defect("identified", 0, "the metadata don't name PDF/UA-1")


def title_shown(printed: Printed, wanted: Wanted) -> Found:
    """U4: readers are told to show the title and not the file name."""
    if not bool(printed.pdf.Root.get("/ViewerPreferences", {}).get("/DisplayDocTitle", False)):
        yield Defect("title_shown", 0, "DisplayDocTitle is not true")


def language(printed: Printed, wanted: Wanted) -> Found:
    """U5: the language is set, and it is the language of the text."""
    found = str(printed.pdf.Root.get("/Lang", ""))
    if not _LANGUAGE.fullmatch(found):
        yield Defect("language", 0, f"'{found}' is not the name of a language")
    elif found != wanted.language:
        yield Defect("language", 0, f"the language is {found}, not {wanted.language}")


def figures_described(printed: Printed, wanted: Wanted) -> Found:
    """U6: every figure has a description of some words."""
    for tag, _ in printed.tags:
        if name_of(tag) == "Figure":
            alt = str(tag.get("/Alt", "")).strip()
            if len(alt.split()) < _ALT_WORDS:
                yield Defect("figures_described", 0, f"a figure is described by '{alt}'")


def headings(printed: Printed, wanted: Wanted) -> Found:
    """U7, U8, U9: the first heading is H1, no level is left out, and none is empty."""
    level = 0
    for tag, _ in printed.tags:
        found = re.fullmatch(r"H(\d?)", name_of(tag))
        if not found:
            continue
        if not found[1]:
            yield Defect("headings", 0, "a heading has no level")
            continue
        if int(found[1]) > level + 1:
            yield Defect("headings", 0, f"a heading of level {found[1]} follows level {level}")
        level = int(found[1])
        if not kids_of(tag):
            yield Defect("headings", 0, "a heading is empty")
    if level == 0:
        yield Defect("headings", 0, "there are no headings")


def tables(printed: Printed, wanted: Wanted) -> Found:
    """U10: every table has heading cells, every other cell points at them, and all rows are equally long."""
    for tag, _ in printed.tags:
        if name_of(tag) != "Table":
            continue
        rows = [[name_of(cell) for cell in kids_of(row)] for row in _rows(tag)]
        if len({len(r) for r in rows}) != 1:
            yield Defect("tables", 0, "a table is empty or has rows of different lengths")
        if not any("TH" in row for row in rows):
            yield Defect("tables", 0, "a table has no heading cell")
        ids = {str(c.get("/ID")) for row in _rows(tag) for c in kids_of(row) if name_of(c) == "TH"}
        for row in _rows(tag):
            for cell in kids_of(row):
                if name_of(cell) == "TD" and not (_headers(cell) and set(_headers(cell)) <= ids):
                    yield Defect("tables", 0, "a cell does not point at its headings")


def _rows(table: pikepdf.Dictionary) -> Iterator[pikepdf.Dictionary]:
    for kid in kids_of(table):
        if name_of(kid) == "TR":
            yield kid
        elif name_of(kid) in ("THead", "TBody", "TFoot"):
            yield from (row for row in kids_of(kid) if name_of(row) == "TR")


def _headers(cell: pikepdf.Dictionary) -> list[str]:
    attributes = cell.get("/A", {})
    parts = attributes if isinstance(attributes, pikepdf.Array) else [attributes]
    return [str(h) for part in parts for h in part.get("/Headers", [])]


def nesting(printed: Printed, wanted: Wanted) -> Found:
    """U11, U19: lists and tables are nested as they must be, and every tag is one of the standard's."""
    for tag, above in printed.tags:
        name, parent = name_of(tag), above[-1] if above else ""
        if name not in _STANDARD:
            yield Defect("nesting", 0, f"there is no tag {name} in the standard")
        if name in _PARENTS and parent not in _PARENTS[name]:
            yield Defect("nesting", 0, f"{name} stands in {parent or 'nothing'}")
        if name in _KIDS:
            for kid in kids_of(tag):
                inner = name_of(kid) if isinstance(kid, pikepdf.Dictionary) else "bare content"
                if inner not in _KIDS[name]:
                    yield Defect("nesting", 0, f"{name} holds {inner}")
        if name in ("L", "LI", "Table", "TR") and not kids_of(tag):
            yield Defect("nesting", 0, f"{name} is empty")


def tab_order(printed: Printed, wanted: Wanted) -> Found:
    """U12: on every page, keys step through in the order of the tags."""
    for number, page in enumerate(printed.pdf.pages, 1):
        if page.obj.get("/Tabs") != "/S":
            yield Defect("tab_order", number, "Tabs is not S")


def links(printed: Printed, wanted: Wanted) -> Found:
    """U13, U18: every link tells where it goes; there are no forms."""
    if "/AcroForm" in printed.pdf.Root:
        yield Defect("links", 0, "there is a form")
    for number, page in enumerate(printed.pdf.pages, 1):
        for note in page.obj.get("/Annots", []):
            if note.get("/Subtype") != "/Link":
                yield Defect("links", number, f"there is a note of the kind {note.get('/Subtype')}")
            elif not str(note.get("/Contents", "")).strip() or "/StructParent" not in note:
                yield Defect("links", number, "a link has no words or no tag")


def open_to_readers(printed: Printed, wanted: Wanted) -> Found:
    """U16: nothing is locked: screen readers and printers may read the file."""
    if printed.pdf.is_encrypted:
        yield Defect("open_to_readers", 0, "the file is locked")


def all_tagged(printed: Printed, wanted: Wanted) -> Found:
    """U17: everything on the paper is tagged or marked as decoration, and every tagged piece is on its page."""
    for number, content in enumerate(printed.contents, 1):
        if content.loose:
            yield Defect("all_tagged", number, f"{content.loose} pieces are neither tagged nor decoration")
        known = {leaf.mcid for leaf in printed.leaves if leaf.page == number}
        shown = {text.mcid for text in content.texts if text.mcid is not None}
        if not known & shown:
            yield Defect("all_tagged", number, "the tree of tags knows nothing of this page")
