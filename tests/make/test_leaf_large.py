"""The leaf in large print, as it comes out of the press: how many sides it takes, what is torn, what lies outside."""

from __future__ import annotations

import dataclasses
import io
import re
import subprocess
from collections.abc import Iterator
from functools import cache

import pikepdf
import pytest
from pdf_gate.gate import find_defects
from pdf_gate.samples import PROJECT, TODAY, cases, environment, library, print_once, wanted_from

from fingerpost.make.handout_html import write_html
from fingerpost.make.leaf.art import Studio
from fingerpost.make.leaf.flow import Flow, split_load
from fingerpost.make.leaf.layout import CIRCLE_EM, NARROW_DAY_MM, Laid, Setter
from fingerpost.make.leaf.page import fit
from fingerpost.make.leaf.settings import OTHER_MM, PUNCHED_MM, SIZES_MM, mm
from fingerpost.model.case import Case
from fingerpost.model.times import Day
from fingerpost.model.words import Paper, PrintSize
from fingerpost.plan.base.paper import GripField, GripFields, HelpBox, Strip, TapeHow, Week
from fingerpost.plan.base.pictures import StripPicture
from fingerpost.plan.base.runs import plain
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.general import plan_general_handout, plan_referral_handout

pytestmark = pytest.mark.rest

MOST_SIDES: dict[PrintSize, int] = {14: 4, 18: 5, 24: 8}
FULLEST, STOPPED, BUDDY = "pulley-left-ring", "growth-plate-left-middle", "collateral-right-middle"


def first_visit(case: Case) -> Case:
    """The same person on the day of the injury, before anybody has checked anything."""
    return dataclasses.replace(
        case, stage="settle", began=(), visits=(), baselines=(), tapings=(), checked=None, review_date=None, note=None,
    )  # fmt: skip


@cache
def kinds() -> dict[str, Case]:
    """The demo cases, and of each kind of leaf one more."""
    pulley, buddy = cases()[FULLEST], cases()[BUDDY]
    return {
        **cases(),
        "first visit": first_visit(pulley),
        "first visit, taped": first_visit(buddy),
        "stop, for a surgeon": first_visit(dataclasses.replace(pulley, grade="IV")),
        "cleared by a doctor": dataclasses.replace(cases()[STOPPED], stage="settle", doctor_cleared=Day("2026-11-20")),
        "without a clinic": dataclasses.replace(pulley, clinic=None, checked=None),
    }


@cache
def print_leaf(name: str, paper: Paper, size: PrintSize) -> bytes:
    case = dataclasses.replace(kinds()[name], paper=paper, print_size=size, enclose=())
    return print_once(write_html(environment(), plan_handout(library(), case, TODAY)))


def list_words(pdf: bytes) -> Iterator[tuple[int, str, float, float]]:
    """(page, word, left edge, right edge) of every word, in mm."""
    told = subprocess.run(["pdftotext", "-bbox", "-", "-"], input=pdf, capture_output=True, check=True).stdout.decode()
    for number, page in enumerate(told.split("<page ")[1:], 1):
        for left, right, word in re.findall(r'<word xMin="([\d.]+)".*? xMax="([\d.]+)".*?>(.*?)</word>', page):
            yield number, word, float(left) * 25.4 / 72, float(right) * 25.4 / 72


def list_pages(pdf: bytes) -> list[str]:
    told = subprocess.run(["pdftotext", "-layout", "-", "-"], input=pdf, capture_output=True, check=True).stdout
    return told.decode().split("\f")[:-1]


def lay(name: str, size: PrintSize) -> tuple[Laid, ...]:
    """The parts of a leaf in their order."""
    case = dataclasses.replace(kinds()[name], print_size=size, enclose=())
    leaf = plan_handout(library(), case, TODAY).leaves[0]
    front, back = fit(leaf, "A4", size, Studio())
    return (*front.parts, *((front.help,) if front.help else ()), *back.parts)


def find_part(parts: tuple[Laid, ...], kind: type) -> Laid:
    return next(part for part in parts if isinstance(part.block, kind))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("size", [14, 18, 24])
@pytest.mark.parametrize("name", list(kinds()))
def test_a_leaf_in_large_print_stays_short(name: str, size: PrintSize, paper: Paper) -> None:
    """A pile of paper is not read: the letters are larger, the number of sides has a limit."""
    with pikepdf.open(io.BytesIO(print_leaf(name, paper, size))) as pdf:
        assert len(pdf.pages) <= MOST_SIDES[size]


@pytest.mark.parametrize(("paper", "size"), [("Letter", 18), ("A4", 24)])
@pytest.mark.parametrize("name", [name for name in kinds() if name not in cases()])
def test_each_kind_passes_the_gate_in_large_print(name: str, paper: Paper, size: PrintSize) -> None:
    """What the demo cases do not show: no page that is nearly white, nothing untold, nothing over anything else."""
    case = dataclasses.replace(kinds()[name], paper=paper, print_size=size, enclose=())
    wanted = wanted_from(plan_handout(library(), case, TODAY))
    defects = find_defects(print_leaf(name, paper, size), wanted)
    assert not defects, "\n".join(str(defect) for defect in defects)


@pytest.mark.parametrize("size", [14, 18, 24])
@pytest.mark.parametrize("name", list(kinds()))
def test_no_word_lies_in_the_margin(name: str, size: PrintSize) -> None:
    """The punched edge is at the left of odd sides and at the right of even ones; holes go through no word."""
    wide = SIZES_MM["A4"][0]
    for page, word, left, right in list_words(print_leaf(name, "A4", size)):
        before, after = (PUNCHED_MM, OTHER_MM) if page % 2 else (OTHER_MM, PUNCHED_MM)
        assert before - 0.3 <= left < right <= wide - after + 0.3, (page, word)


@pytest.mark.parametrize("name", list(kinds()))
def test_the_warning_signs_are_not_torn_where_a_page_holds_them(name: str) -> None:
    """Whoever needs help finds all reasons in one frame: in 18 points every box has room on a page."""
    signs = [part for part in lay(name, 18) if part.kind == "helpbox"]
    assert [sign.at["whole"] for sign in signs] == [True]
    pages = list_pages(print_leaf(name, "A4", 18))
    assert isinstance(signs[0].block, HelpBox)
    words = [plain(sign) for group in signs[0].block.groups for sign in group.signs]
    begins = [" ".join(says.split()[:4]) for says in ("Stop and get help if", *words)]
    holding = [{n for n, page in enumerate(pages) if says in " ".join(page.split())} for says in begins]
    assert set.intersection(*holding), list(zip(begins, holding, strict=True))


@pytest.mark.parametrize("size", [18, 24])
def test_a_load_stands_in_large_figures_with_its_unit(size: PrintSize) -> None:
    """The figure that must not be misread: the whole load, and nothing else but its comma, is set larger."""
    week = find_part(lay(FULLEST, size), Week)
    loads = [plain(load) for _, load, _ in week.at["done"] if load]
    assert loads
    assert all(re.fullmatch(r"[\d.]+ kg,?", says) for says in loads)
    html = write_html(
        environment(),
        plan_handout(library(), dataclasses.replace(kinds()[FULLEST], print_size=size, enclose=()), TODAY),
    )
    found = re.findall(r'class="load"><strong>([^<]+)</strong>', html)
    assert found == [says.replace(" ", "\u00a0") for says in loads]


@pytest.mark.parametrize("size", [18, 24])
def test_what_is_done_stands_in_words_where_a_grid_has_no_room(size: PrintSize) -> None:
    """Nothing asks to tick a grid that is not there. Each exercise tells on which days; pain has a box a day."""
    block = find_part(lay(FULLEST, size), Week).block
    assert isinstance(block, Week)
    says = " ".join("\n".join(list_pages(print_leaf(FULLEST, "A4", size))).replace("\u00a0", " ").split())
    assert block.first_head not in says
    done = [row for row in block.rows if not row.written]
    assert done
    for row in done:
        often = next(run.text for run in reversed(row.words) if run.kind == "strong")
        assert often.strip() in says, plain(row.words)
    html = write_html(
        environment(),
        plan_handout(library(), dataclasses.replace(kinds()[FULLEST], print_size=size, enclose=()), TODAY),
    )
    tables = re.findall(r'<table class="to-write".*?</table>', html, re.DOTALL)
    assert [table.count("<td></td>") for table in tables] == [len(block.days)] * sum(row.written for row in block.rows)


def test_a_row_without_a_load_keeps_all_its_words() -> None:
    week = find_part(lay(FULLEST, 12), Week).block
    assert isinstance(week, Week)
    for row in week.rows:
        assert sum(split_load(row.words), ()) == row.words


@pytest.mark.parametrize("size", [14, 18, 24])
def test_strips_are_as_long_as_at_twelve_points(size: PrintSize) -> None:
    """Tape is laid on the drawing and cut: larger print does not make a longer strip."""
    for name in (FULLEST, BUDDY):
        drawn = find_part(lay(name, size), TapeHow)
        assert isinstance(drawn.block, TapeHow)
        assert drawn.block.strips
        assert isinstance(drawn.block.strips.picture, StripPicture)
        lengths = [length for length, _ in drawn.block.strips.picture.strips]
        assert drawn.at["strips"].width_mm >= max(lengths)
        assert drawn.at["strips"].width_mm <= SIZES_MM["A4"][0] - PUNCHED_MM - OTHER_MM
        assert f'width="{drawn.at["strips"].width_mm:g}mm"' in drawn.at["strips"].svg


@pytest.mark.parametrize("size", [18, 24])
def test_every_grip_is_told_in_words(size: PrintSize) -> None:
    """Where no picture is drawn, no grip is lost: each stands under its sign by name."""
    fields = find_part(lay(FULLEST, size), GripFields)
    for told in fields.at["fields"]:
        one: GripField = told["field"]
        said = plain(told["words"]).lower()
        assert not told["pictures"]
        assert all(plain(drawing.caption).lower() in said for drawing in one.pictures)


def test_what_nobody_has_checked_says_so_on_every_page() -> None:
    pages = list_pages(print_leaf("first visit", "A4", 24))
    assert len(pages) > 2
    assert all("not checked by a clinician" in " ".join(page.split()) for page in pages)


def test_whose_sheet_it_is_stands_once() -> None:
    """The strip of the back would stand in the middle of a page."""
    assert sum(isinstance(part.block, Strip) for part in lay(FULLEST, 18)) == 1


@pytest.mark.parametrize("size", [12, 14])
def test_two_circles_stand_beside_each_other_in_every_day(size: PrintSize) -> None:
    """One below the other they made a row higher than reckoned, and what came below ran into the warning signs."""
    styles = (PROJECT / "templates" / "print" / "print.css").read_text(encoding="utf-8")
    found = re.findall(r"\.side \.week(?:\.long)? \.circle \{[^}]*width: ([\d.]+)em", styles)
    assert tuple(map(float, found)) == CIRCLE_EM
    lines = mm(0.75 / 2 + 2 / 2)  # half of either line beside a day, one of them thick
    days = (*Setter.days_mm, NARROW_DAY_MM) if size == 12 else Flow.days_mm
    for wide, ems in zip(days, (*CIRCLE_EM, CIRCLE_EM[1]), strict=False):
        assert 2 * mm(size * ems) <= wide - lines


# The leaves for nobody in particular that once had lines over each other, or a page with little on it.
TOLD_TO_ANYBODY: list[tuple[str, Paper, PrintSize]] = [
    ("flexor-strain", "Letter", 24),
    ("pulley", "A4", 18),
    ("hook-of-hamate", "Letter", 24),
    ("trigger-finger", "A4", 24),
    ("fracture-dislocation", "A4", 24),
]


@pytest.mark.parametrize(("id", "paper", "size"), TOLD_TO_ANYBODY)
def test_a_leaf_for_anybody_passes_the_gate_in_large_print(id: str, paper: Paper, size: PrintSize) -> None:
    """Whoever needs large letters gets the leaf of an injury, or of "see somebody first", as whole as others do."""
    referral = next((d.value for d in library().referrals if d.value.id == id), None)
    if referral:
        handout = plan_referral_handout(library(), referral, paper, size)
    else:
        handout = plan_general_handout(library(), id, paper, size)
    handout = dataclasses.replace(handout, leaves=handout.leaves[-1:], sheets=())
    pdf = print_once(write_html(environment(), handout))
    assert not find_defects(pdf, wanted_from(handout))
    with pikepdf.open(io.BytesIO(pdf)) as printed:
        assert len(printed.pages) <= MOST_SIDES[size]
