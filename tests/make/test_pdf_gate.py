"""The PDF gate over the general sheets of every protocol, and proof that each of its checks can fail."""

from __future__ import annotations

import dataclasses
from functools import cache

import pytest
from pdf_gate import flow
from pdf_gate.breaking import HEADED, MUTATIONS, spoil
from pdf_gate.document import Printed, Wanted
from pdf_gate.gate import CHECKS, find_defects
from pdf_gate.samples import PAPERS, PROJECT, Sample, cases, environment, general_samples, print_once, wanted_from

from fingerpost.make.handout_html import write_html

pytestmark = pytest.mark.rest

# The paper changes from protocol to protocol, so that half of the sheets stand for all of them.
CHOSEN = [s for n, s in enumerate(general_samples()) if n % 4 in (0, 3)]


def test_there_is_something_to_look_at() -> None:
    names = {s.name.split(" ")[1] for s in CHOSEN}
    assert len(names) == 7
    assert {s.paper for s in CHOSEN} == set(PAPERS)
    assert len(cases()) == 3
    assert len(CHECKS) >= 30


@pytest.mark.parametrize("sample", CHOSEN, ids=lambda s: s.name)
def test_general_sheets_pass(sample: Sample) -> None:
    defects = find_defects(sample.print(), sample.wanted())
    assert not defects, "\n".join(str(d) for d in defects)


@cache
def _good() -> tuple[bytes, Wanted]:
    """A short handout with a bit of everything: figure, boxes, lists and a table. It passes every check."""
    handout = CHOSEN[0].plan()
    short = dataclasses.replace(handout, leaves=handout.leaves[:1], sheets=(handout.sheets[0], handout.sheets[-1]))
    return print_once(write_html(environment(), short)), wanted_from(short, private=("Zebedee Canary",))


@cache
def _headed() -> tuple[bytes, Wanted]:
    """Sheets without a leaf, with a head that runs over each of them. They pass every check."""
    handout = CHOSEN[0].plan()
    alone = dataclasses.replace(handout, leaves=(), sheets=handout.sheets[-1:])
    return print_once(write_html(environment(), alone)), wanted_from(alone)


def test_the_specimens_are_good() -> None:
    assert not find_defects(*_good())
    assert not find_defects(*_headed())


@pytest.mark.parametrize("name", MUTATIONS)
def test_the_gate_notices(name: str) -> None:
    """Each way to spoil a good PDF is noticed, by the check that is meant to."""
    content, wanted = _good()
    check = MUTATIONS[name][1]
    assert list(CHECKS[check](Printed(spoil(content, name)), wanted)), f"{check} does not notice"


@pytest.mark.parametrize("name", HEADED)
def test_the_gate_notices_under_a_running_head(name: str) -> None:
    content, wanted = _headed()
    check = HEADED[name][1]
    assert list(CHECKS[check](Printed(spoil(content, name)), wanted)), f"{check} does not notice"


def _careless(style: str, *parts: str) -> str:
    """A page whose first part is followed by a gap, so that what follows stands where the page ends."""
    head = f"<title>T</title><style>@page {{ size: A4 }} html {{ font-size: 12pt }} {style}</style>"
    return f"<!DOCTYPE html><html lang='en-GB'><head>{head}</head><body class='size-12'>{''.join(parts)}</body></html>"


def _gap(height_mm: int) -> str:
    return f"<h1>Head</h1><div style='height: {height_mm}mm'></div>"


_RUNNING_ON = (
    "one line that is long enough to run on into another line, and then into a third line of the next page, so "
)

# What can't be spoiled afterwards is printed wrongly: pages that a careless style would give.
_BAD_PAGES = {
    "no_single_lines": _careless("p { orphans: 1; widows: 1 }", _gap(243), f"<p>{2 * _RUNNING_ON}</p>"),
    "no_single_lines_in_boxes": _careless(
        ".b { border: 3pt solid; orphans: 1; widows: 1 }",
        _gap(240),
        "<div class='b'><p>one</p><p>two</p><p>three</p></div>",
    ),
    "headings_kept": _careless(
        "h2 { break-after: auto !important }", _gap(238), "<h2>Alone</h2><p style='break-before: page'>text</p>"
    ),
    "rows_whole": _careless(
        "tr { break-inside: auto !important }",
        _gap(225),
        f"<table><caption>How to read</caption><tr><th>One</th><td>{'a<br>' * 9}</td></tr></table>",
    ),
    "pages_filled": _careless("", "<h1>Head</h1><p>A few words.</p><p style='break-before: page'>text</p>"),
}


@pytest.mark.parametrize("check", _BAD_PAGES)
def test_the_gate_notices_bad_breaks(check: str) -> None:
    _, wanted = _good()
    assert list(CHECKS[check](Printed(print_once(_BAD_PAGES[check])), wanted)), f"{check} does not notice"


def test_every_check_is_proved() -> None:
    """No check without a specimen that it notices."""
    proved = {check for _, check in MUTATIONS.values()} | set(_BAD_PAGES)
    assert set(CHECKS) == proved


def test_sheets_are_told_apart() -> None:
    """The last page of a sheet may be emptier than the others, so the gate must see where a sheet begins."""
    content, _ = _good()
    starts = flow.find_sheet_starts(Printed(content))
    assert len(starts) == 3
    assert min(starts) == 1


@pytest.mark.parametrize(("apart_mm", "kept"), [(8, True), (3, False)])
def test_only_lines_that_can_be_written_on_keep_a_heading(apart_mm: int, kept: bool) -> None:
    """Two long lines close together are the edges of something empty."""
    line = f"<div style='border-bottom: 1pt solid; height: {apart_mm}mm'></div>"
    alone = f"<h2>Alone</h2>{line}{line}<p style='break-before: page'>text</p>"
    html = _careless("h2 { break-after: auto !important }", _gap(215), alone)
    assert (not list(CHECKS["headings_kept"](Printed(print_once(html)), _good()[1]))) is kept


def test_the_shipped_templates_are_the_ones_printed() -> None:
    assert "print/handout.html" in environment().list_templates()
    assert (PROJECT / "templates" / "print" / "print.css").is_file()
