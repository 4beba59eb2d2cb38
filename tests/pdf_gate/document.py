"""A printed PDF as the checks see it: its objects, its tree of tags, its words and its ink."""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cached_property
from html import unescape
from typing import Any

import numpy as np
import pikepdf

from pdf_gate.content import Content, read_content

INK_DPI = 36  # enough to see where there is ink: a pixel is 2 points
_WORD = re.compile(r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)</word>', re.DOTALL)


@dataclass(frozen=True)
class Defect:
    """Something wrong. `page` counts from 1; 0 stands for the whole document."""

    check: str
    page: int
    message: str

    def __str__(self) -> str:
        return f"{self.check}: {f'page {self.page}: ' if self.page else ''}{self.message}"


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """What the document should be. `private` may stand on the paper but nowhere in the file's hidden data.

    `leaf_pages`: how many pages at the beginning are sides of leaves, which have margins of their own;
    `leaf_head`: what stands above each of these. `notes`: what stands above the lines of a back that would be blank.
    """

    paper: str
    print_size: int
    title: str
    language: str
    head: str
    foot: str
    page_words: tuple[str, str]
    file_stem: str
    words: dict[str, int] = field(default_factory=dict)
    private: tuple[str, ...] = ()
    leaf_pages: int = 0
    leaf_head: str = ""
    notes: str = ""


@dataclass(frozen=True)
class Word:
    """A word and its box in points, from the top left corner."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True)
class Leaf:
    """A piece of marked content in reading order. `path` holds the tags from the root down to it."""

    path: tuple[pikepdf.Dictionary, ...]
    page: int
    mcid: int


class Printed:
    """One PDF, opened once. Words and ink come from Poppler's tools, all else from the file itself."""

    def __init__(self, content: bytes) -> None:
        self.bytes = content
        self.pdf = pikepdf.open(io.BytesIO(content))

    @cached_property
    def metadata(self) -> pikepdf.models.PdfMetadata:
        """The metadata stream, to be read only: as a context it would be changed."""
        return self.pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False)

    @cached_property
    def numbers(self) -> dict[tuple[int, int], int]:
        """The page number of each page object."""
        return {page.obj.objgen: n for n, page in enumerate(self.pdf.pages, 1)}

    @cached_property
    def contents(self) -> list[Content]:
        """What each page's content stream does."""
        return [read_content(page) for page in self.pdf.pages]

    @cached_property
    def leaves(self) -> list[Leaf]:
        root = self.pdf.Root.get("/StructTreeRoot")
        return [] if root is None else list(self._walk(root, (), 0))

    def _walk(self, tag: Any, path: tuple[pikepdf.Dictionary, ...], page: int) -> Iterator[Leaf]:
        if "/Pg" in tag:
            page = self.numbers.get(tag["/Pg"].objgen, 0)
        here = (*path, tag) if "/S" in tag else path
        for kid in kids_of(tag):
            if isinstance(kid, int):
                yield Leaf(here, page, kid)
            elif kid.get("/Type") == "/MCR":
                yield Leaf(here, self.numbers.get(kid["/Pg"].objgen, page) if "/Pg" in kid else page, int(kid["/MCID"]))
            elif kid.get("/Type") != "/OBJR":
                yield from self._walk(kid, here, page)

    @cached_property
    def tags(self) -> list[tuple[pikepdf.Dictionary, tuple[str, ...]]]:
        """Every tag in reading order, with the names of the tags above it."""
        root = self.pdf.Root.get("/StructTreeRoot")
        return [] if root is None else list(_list_tags(root, ()))

    @cached_property
    def words(self) -> list[list[Word]]:
        """The words of each page, as Poppler reads them."""
        told = subprocess.run(["pdftotext", "-bbox", "-", "-"], input=self.bytes, capture_output=True, check=True)
        pages = told.stdout.decode("utf-8").split("<page ")[1:]
        return [
            [Word(unescape(text), *(float(n) for n in box)) for *box, text in _WORD.findall(page)] for page in pages
        ]

    @cached_property
    def ink(self) -> list[np.ndarray]:
        """Each page as an array of booleans, row by row: is there ink?"""
        command = ["pdftoppm", "-gray", "-r", str(INK_DPI), "-"]
        told = subprocess.run(command, input=self.bytes, capture_output=True, check=True).stdout
        pages, at = [], 0
        while at < len(told):
            head = re.compile(rb"P5\s(\d+)\s(\d+)\s255\s").match(told, at)
            assert head, "pdftoppm gave something else than grey pictures"
            width, height = int(head[1]), int(head[2])
            grey = np.frombuffer(told, np.uint8, width * height, head.end()).reshape(height, width)
            pages.append(grey < 200)
            at = head.end() + width * height
        return pages


def kids_of(tag: pikepdf.Dictionary) -> list[Any]:
    """The children of a tag, as a list."""
    kids = tag.get("/K")
    if kids is None:
        return []
    return list(kids) if isinstance(kids, pikepdf.Array) else [kids]


def name_of(tag: pikepdf.Dictionary) -> str:
    return str(tag.get("/S", "")).lstrip("/")


def _list_tags(tag: Any, above: tuple[str, ...]) -> Iterator[tuple[pikepdf.Dictionary, tuple[str, ...]]]:
    name = name_of(tag)
    if name:
        yield tag, above
    for kid in kids_of(tag):
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield from _list_tags(kid, (*above, name) if name else above)
