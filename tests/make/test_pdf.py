"""People's handouts on paper: the PDF gate over the demo cases in every print size, and what the press promises."""

from __future__ import annotations

import dataclasses
import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest
from pdf_gate.document import Printed
from pdf_gate.gate import CHECKS, find_defects
from pdf_gate.samples import (
    PAPERS,
    PROJECT,
    SIZES,
    TODAY,
    Sample,
    cases,
    environment,
    general_samples,
    library,
    print_once,
    wanted_from,
)

from fingerpost.make import pdf
from fingerpost.make.handout_html import draw_handout, write_html
from fingerpost.model.case import Clinic
from fingerpost.plan.leaf.handout import plan_handout

pytestmark = pytest.mark.rest

# Every case in every size; the papers take turns, so that every size is printed on both.
CHOSEN = [
    Sample(f"{name} {PAPERS[(n + m) % 2]} {size}", PAPERS[(n + m) % 2], size, case)
    for n, (name, case) in enumerate(cases().items())
    for m, size in enumerate(SIZES)
]


def test_there_is_something_to_look_at() -> None:
    assert len(CHOSEN) == 12
    assert {(s.paper, s.print_size) for s in CHOSEN} == {(paper, size) for paper in PAPERS for size in SIZES}


@pytest.mark.parametrize("sample", CHOSEN, ids=lambda s: s.name)
def test_handouts_pass(sample: Sample) -> None:
    defects = find_defects(sample.print(), sample.wanted())
    assert not defects, "\n".join(str(d) for d in defects)


def test_nobody_is_named_in_hidden_data() -> None:
    """What was typed about a person and the clinic is on the paper, and neither in the file's data nor in its name.

    A leaf has the letterhead and the phone of the clinic, on the paper and not under it.
    """
    case = cases()["growth-plate-left-middle"]
    clinic = Clinic(name="Kanarinia Clinic", lines=("7 Ostrobothnia Road",), phone="01632 960417")
    named = dataclasses.replace(
        case, name="Zebedee Kanarinia", reference="Z. K. 4711", note="The mother of Kanarinia asked.", clinic=clinic
    )
    handout = plan_handout(library(), named, TODAY)
    content = print_once(write_html(environment(), handout))
    wanted = wanted_from(handout, private=("Zebedee", "Kanarinia", "4711", "Ostrobothnia", "960417"))
    assert not find_defects(content, wanted)
    paper = " ".join(w.text for words in Printed(content).words for w in words)
    for shown in (
        "Zebedee Kanarinia",
        "The mother of Kanarinia asked.",
        "Kanarinia Clinic",
        "7 Ostrobothnia Road",
        "01632 960417",
    ):
        assert shown in paper
    assert b"Kanarinia" not in content
    assert b"Ostrobothnia" not in content


def test_names_with_signs_of_other_languages_need_no_other_font() -> None:
    case = dataclasses.replace(cases()["growth-plate-left-middle"], name="Zoë Łukasiewicz-Ñandú Čapek Şahin Åse Őri")
    handout = plan_handout(library(), case, TODAY)
    printed = Printed(print_once(write_html(environment(), handout)))
    assert not list(CHECKS["fonts_allowed"](printed, wanted_from(handout)))


def test_same_input_gives_the_same_bytes() -> None:
    sample = CHOSEN[SIZES.index(24) + len(SIZES)]  # the shortest handout in the largest print
    html = write_html(environment(), sample.plan())
    assert html == write_html(environment(), sample.plan())
    assert pdf.print_pdf(html, PROJECT) == pdf.print_pdf(html, PROJECT) == sample.print()


def test_another_process_gives_the_same_bytes() -> None:
    """Also with another seed for hashes, another time zone and another language."""
    script = (
        "import hashlib; from test_pdf import CHOSEN, SIZES; "
        "print(hashlib.sha256(CHOSEN[len(SIZES)].print()).hexdigest())"
    )
    surroundings = os.environ | {
        "PYTHONPATH": os.pathsep.join(map(str, (PROJECT / "generator", PROJECT / "tests", Path(__file__).parent))),
        "PYTHONHASHSEED": "4711",
        "TZ": "Pacific/Auckland",
        "LC_ALL": "C",
    }
    told = subprocess.run(
        [sys.executable, "-c", script], cwd=PROJECT, env=surroundings, capture_output=True, text=True, check=True
    )
    assert told.stdout.strip() == hashlib.sha256(CHOSEN[len(SIZES)].print()).hexdigest()


def _page(body: str, language: str = " lang='en-GB'") -> str:
    return f"<!DOCTYPE html><html{language}><head><title>T</title></head><body><h1>Head</h1>{body}</body></html>"


@pytest.mark.parametrize(
    "html",
    [
        _page("<img alt='A picture from outside' src='http://example.org/a.png'>"),
        _page("<img alt='A picture that is not there' src='no-such-picture.png'>"),
        _page("<style>p { colour: red }</style><p>text</p>"),
        _page(
            "<style>@font-face { font-family: x; src: url(no-such-font.ttf) } p { font-family: x }</style><p>text</p>"
        ),
        _page("<p>text</p>", language=""),
    ],
    ids=["outside", "no-picture", "no-such-property", "no-font", "no-language"],
)
def test_what_the_engine_warns_about_is_not_printed(html: str) -> None:
    with pytest.raises(pdf.PressError):
        pdf.print_pdf(html, PROJECT)


def test_pictures_are_drawn_once_each() -> None:
    """Every picture of a handout has its own SVG, and no two share an id."""
    drawn = draw_handout(general_samples()[0].plan())
    assert drawn
    assert all(svg.startswith("<svg") and "<title>" in svg for svg in drawn.values())
    assert len(set(drawn.values())) == len(drawn)


def test_a_figure_stays_with_its_unit() -> None:
    """'50' at the end of a line and '%' on the next is misread; a count of minutes may break."""
    said = environment().from_string("{{ says | bound }}").render(says="50 % of 10 m, 5 minutes, 15 mm")
    assert said == "50\u00a0% of 10\u00a0m, 5 minutes, 15\u00a0mm"
