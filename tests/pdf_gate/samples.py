"""What the gate looks at: the demo cases in every paper and print size, and the general sheets of every protocol."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

from jinja2 import Environment
from reading.texts import list_leaf_sure, list_printed

from fingerpost.make import pdf
from fingerpost.make.handout_html import write_html
from fingerpost.make.leaf.flow import PICTURED_PT
from fingerpost.make.templates import make_environment
from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.plan.base.paper import Handout
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.general import plan_general_handout
from fingerpost.read.library import read_case, read_library
from pdf_gate.document import Printed, Wanted
from pdf_gate.paper import count_words

PROJECT = Path(__file__).resolve().parents[2]
CASES = PROJECT / "tests" / "golden" / "cases"
TODAY = date(2026, 11, 25)
PAPERS = ("A4", "Letter")
SIZES = (12, 14, 18, 24)


@cache
def library() -> Library:
    found, problems = read_library(PROJECT / "protocols")
    assert not problems, [str(p) for p in problems]
    return found


@cache
def environment() -> Environment:
    return make_environment(pdf.read_templates(PROJECT / "templates"))


@cache
def cases() -> dict[str, Case]:
    """The demo cases by the name of their file."""
    found = {}
    for path in sorted(CASES.glob("*.yml")):
        document, problems = read_case(path, path.name)
        assert document, [str(p) for p in problems]
        found[path.stem] = document.value
    return found


@dataclass(frozen=True)
class Sample:
    """One handout to print: a demo case, or the general sheets of a protocol when `case` is None."""

    name: str
    paper: str
    print_size: int
    case: Case | None = None
    private: tuple[str, ...] = ()

    def plan(self) -> Handout:
        if self.case is None:
            return plan_general_handout(library(), self.name.split(" ")[1], self.paper)  # type: ignore[arg-type]
        case = dataclasses.replace(self.case, paper=self.paper, print_size=self.print_size)  # type: ignore[arg-type]
        return plan_handout(library(), case, TODAY)

    def print(self) -> bytes:
        return print_once(write_html(environment(), self.plan()))

    def wanted(self) -> Wanted:
        return wanted_from(self.plan(), self.private)


@cache
def print_once(html: str) -> bytes:
    return pdf.print_pdf(html, PROJECT)


def wanted_from(handout: Handout, private: tuple[str, ...] = ()) -> Wanted:
    """What a handout's PDF should be, by its plan."""
    return Wanted(
        paper=handout.paper,
        print_size=handout.print_size,
        title=handout.title,
        language=handout.language,
        head=handout.head,
        foot=handout.foot,
        page_words=handout.page_words,
        file_stem=handout.file_stem,
        words=count_words((*list_printed(handout.sheets), *_list_leaves_sure(handout))),
        private=private,
        notes=handout.notes,
        leaf_pages=count_leaf_pages(handout),
        leaf_head=handout.head if handout.unchecked and handout.print_size > 12 else "",
    )


def _list_leaves_sure(handout: Handout) -> Iterator[str]:
    for leaf in handout.leaves:
        yield from list_leaf_sure(leaf, gridded=handout.print_size <= PICTURED_PT)


def count_leaf_pages(handout: Handout) -> int:
    """How many pages the leaves take: two each, or in large print as many as their HTML alone takes."""
    if handout.print_size == 12:
        return 2 * len(handout.leaves)
    alone = dataclasses.replace(handout, sheets=())
    return len(Printed(print_once(write_html(environment(), alone))).words)


def general_samples() -> list[Sample]:
    return [Sample(f"general {d.value.id} {paper}", paper, 12) for d in library().protocols for paper in PAPERS]
