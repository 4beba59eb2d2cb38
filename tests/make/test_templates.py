"""Nothing of the plan is passed over in silence: each kind of block, run and picture is laid out or refused."""

from __future__ import annotations

import re
import typing
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import pytest
from pdf_gate.samples import environment

from fingerpost.draw.picture import draw
from fingerpost.make.templates import render
from fingerpost.plan.base.blocks import Block, FlagGroup, Flags, Page, Paragraph, RedFlag, Section, Step
from fingerpost.plan.base.outline import outline_page
from fingerpost.plan.base.runs import Run, text

TEMPLATES = Path(__file__).resolve().parents[2] / "templates"


@dataclass(frozen=True)
class Riddle:
    """A block, a step and a picture that nobody has heard of."""

    title: str = "unheard of"


def lay_out(block: Any) -> str:
    """A block as a page shows it."""
    section = Section(id="part", heading="Part", blocks=(block,))
    page = Page(
        address="p/", kind="page", title="Page", description="", badge=(), lead=(), sections=(section,)
    )  # fmt: skip
    return render(environment(), "site/page.html", href=lambda target: target, drawings={}, page=page)


def test_a_block_that_no_template_knows_stops_the_build() -> None:
    assert "In words." in lay_out(Paragraph(words=text("In words.")))
    with pytest.raises(TypeError, match="no template lays out Riddle"):
        lay_out(Riddle())


def test_a_block_that_no_template_knows_stops_a_step_of_the_way_in() -> None:
    template = environment().from_string(
        '{% import "parts/way_in.html" as w with context %}{{ w.step(part, href, {}) }}'
    )
    with pytest.raises(TypeError, match="no template lays out Riddle"):
        template.render(part=Riddle(), href=str)


def test_a_run_of_a_kind_that_no_template_knows_stops_the_build() -> None:
    run = replace(Run("?"), kind="riddle")  # type: ignore[arg-type]
    with pytest.raises(TypeError, match="no template lays out Run"):
        lay_out(Paragraph(words=(run,)))


def test_every_kind_of_block_and_run_has_a_template() -> None:
    """The names in the templates are the names of the classes: one that is misspelt lays nothing out."""
    blocks = (TEMPLATES / "parts" / "blocks.html").read_text(encoding="utf-8")
    steps = (TEMPLATES / "parts" / "way_in.html").read_text(encoding="utf-8")
    names = {kind.__name__.lower() for kind in typing.get_args(Block)}
    assert set(re.findall(r'of_kind\("(\w+)"\)', blocks)) == names
    assert set(re.findall(r'of_kind\("(\w+)"\)', steps)) == {kind.__name__.lower() for kind in typing.get_args(Step)}
    for kind in typing.get_args(typing.get_type_hints(Run)["kind"]):
        assert "Word" in lay_out(Paragraph(words=(Run("Word"), Run("", kind), Run("", kind, "target"))))


@pytest.mark.parametrize("number", ["112", ""])
def test_a_red_flag_dials_a_number_that_is_known(number: str) -> None:
    flag = RedFlag(
        id="flag-a", urgent=True, choice="Blue", order=text("Go."), call="Or call 112", number=number,
        steps=(text("Take rings off."),), sign=text("It is blue."), why=text("Blood."),
    )  # fmt: skip
    group = FlagGroup(id="flag-emergency", title="Go", flags=(flag,), folded=False)
    laid = lay_out(Flags(back="Not true", label_why="Why", groups=(group,)))
    assert ('<a href="tel:112">Or call 112</a>' in laid) is bool(number)
    assert "Or call 112" in laid
    assert '<a href="#flag-emergency">Not true</a>' in laid


def test_a_block_that_the_outline_does_not_know_is_no_empty_line() -> None:
    page = Page(address="p/", kind="page", title="", description="", badge=(), lead=(Riddle(),), sections=())  # type: ignore[arg-type]
    with pytest.raises(AssertionError, match="Riddle"):
        outline_page(page)


def test_a_picture_that_nobody_draws_stops_the_build() -> None:
    with pytest.raises(AssertionError, match="Riddle"):
        draw(Riddle(), prefix="r")  # type: ignore[arg-type]
