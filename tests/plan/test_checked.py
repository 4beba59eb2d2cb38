"""Who stands behind a paper: a clinician with name, role and a real day; or nobody, and then every page says so."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any, get_args

import pytest
from pdf_gate.document import Printed
from pdf_gate.samples import Sample
from site_under_test import PROJECT, make_templates

from fingerpost.make import posters_html
from fingerpost.make.pdf import print_pdf
from fingerpost.model.case import Case, Checked, EnclosureName
from fingerpost.model.library import Library
from fingerpost.model.times import Day
from fingerpost.plan.base.outline import outline_handout
from fingerpost.plan.base.paper import Strip
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.case.check import find_case_findings
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.general import plan_general_handout
from fingerpost.plan.person.calendar import list_events
from fingerpost.plan.person.coach import plan_coach_sheet
from fingerpost.plan.walls.display import plan_display
from fingerpost.plan.walls.notices import plan_notices
from fingerpost.plan.walls.paper_key import plan_key
from fingerpost.run import cli

TODAY = date(2026, 11, 25)
SPECIMEN = "Specimen: not checked by a clinician, do not hand out"
SOMEBODY = Checked(name="Imogen Thackeray-Vale", role="hand therapist", date=Day("2026-11-23"), stage="easy-climbing")


@pytest.fixture
def pulley(cases: dict[str, Case]) -> Case:
    return cases["pulley-left-ring"]


def flat(text: str) -> str:
    return " ".join(text.split())


# ------------------------------------------------------------------ what a check must be


UNFIT = [
    ({"stage": "first-load"}, "stage", "stage 'first-load' was checked, and today's stage is 'easy-climbing'"),
    ({"date": Day("2026-09-20")}, "date", "20 September 2026 is not between 21 September 2026 and 25 November 2026"),
    ({"date": Day("2026-11-26")}, "date", "26 November 2026 is not between"),
    ({"date": Day("2026-11-31")}, "date", "the calendar has no day 2026-11-31"),
    ({"name": "\u5c71\u7530"}, "name", ""),
    ({"role": "\u533b"}, "role", ""),
]


@pytest.mark.parametrize(("change", "key", "says"), UNFIT, ids=lambda v: str(v)[:30])
def test_a_check_that_cannot_stand_behind_the_paper_is_refused(
    change: dict[str, Any], key: str, says: str, pulley: Case, library: Library
) -> None:
    case = replace(pulley, checked=replace(SOMEBODY, **change))
    ((path, message, hint),) = find_case_findings(case, library, TODAY)
    assert path == ("checked", key)
    assert says in message
    assert hint


def test_a_stage_that_moves_on_takes_its_check_along(pulley: Case, library: Library) -> None:
    """Who decided easy climbing has not decided what comes after it."""
    later = replace(pulley, stage="build")
    assert [path for path, _, _ in find_case_findings(later, library, TODAY)] == [("checked", "stage")]
    assert list(find_case_findings(replace(later, checked=None), library, TODAY)) == []


# ------------------------------------------------------------------ what the paper says


def pages_of(case: Case) -> list[str]:
    content = Sample("checked", case.paper, case.print_size, case).print()
    return [flat(" ".join(w.text for w in words)) for words in Printed(content).words]


@pytest.mark.rest
@pytest.mark.parametrize(("paper", "size"), [("A4", 12), ("Letter", 24)])
def test_what_nobody_checked_is_a_specimen_on_every_page(paper: Any, size: Any, pulley: Case) -> None:
    everything = get_args(EnclosureName)
    pages = pages_of(replace(pulley, checked=None, paper=paper, print_size=size, enclose=everything))
    assert len(pages) >= 2 + len(get_args(EnclosureName))
    for page in pages:
        # A side left blank for notes is headed so in the corner, and the specimen stands on the same line.
        assert page.removeprefix("My notes ").startswith(SPECIMEN), "it stands across the top"
        assert "Checked for you" not in page


@pytest.mark.rest
def test_what_somebody_checked_is_no_specimen_anywhere(cases: dict[str, Case]) -> None:
    for case in cases.values():
        for page in pages_of(case):
            assert "Specimen" not in page
            assert "do not hand out" not in page


@pytest.mark.parametrize("checked", [SOMEBODY, None], ids=["checked", "specimen"])
def test_every_sheet_of_a_person_says_who_checked_it(
    checked: Checked | None, cases: dict[str, Case], library: Library
) -> None:
    for case in cases.values():
        mine = replace(checked, stage=case.stage) if checked else None
        handout = plan_handout(library, replace(case, checked=mine, visits=(), enclose=get_args(EnclosureName)), TODAY)
        told = "Checked for you by Imogen Thackeray-Vale, hand therapist, on 23 November 2026." if checked else SPECIMEN
        assert (handout.head, handout.unchecked) == (("", False) if checked else (SPECIMEN, True))
        (leaf,) = handout.leaves
        front, back = (next(b for b in side.blocks if isinstance(b, Strip)) for side in (leaf.front, leaf.back))
        assert plain(front.right) == ("" if mine is None else told)
        assert (front.specimen, back.specimen) == (("", "") if mine else (SPECIMEN, SPECIMEN))
        for sheet in handout.sheets:
            assert told in [plain(line) for line in sheet.under_title]
        about = handout.sheets[-1].sections[-1]
        assert about.id == "about"
        assert told not in flat(repr(about)), "the title has it, and nothing stands twice on a sheet"


def test_no_day_but_the_written_one_is_told_as_the_day_of_the_check(pulley: Case, library: Library) -> None:
    for day in (date(2026, 11, 25), date(2026, 11, 30)):
        paper = flat(outline_handout(plan_handout(library, replace(pulley, review_date=None), day)))
        assert "hand therapist, on 23 November 2026." in paper
        assert "Set by your clinician" not in paper


def test_a_persons_paper_closes_with_its_own_words(cases: dict[str, Case], library: Library) -> None:
    """'General information' beside a clinic's number, kilograms and dates would be false."""
    for case in cases.values():
        handout = plan_handout(library, replace(case, enclose=get_args(EnclosureName)), TODAY)
        paper = flat(outline_handout(handout))
        assert "general information" not in paper.lower()
        assert "Not sure, or does something not fit you?" in plain(handout.leaves[0].back.foot)
        assert "Does something here not fit you, do you get worse, or are you not sure?" in paper
        assert "Draft text." in plan_handout(library, case, TODAY).foot
        assert "Its text is a draft" not in paper, "the foot tells it on every page"


def test_the_state_of_the_text_stands_at_the_foot_and_not_in_the_head(pulley: Case, library: Library) -> None:
    late = replace(library, overdue=frozenset({"pulley"}))
    assert "Draft text." in plan_handout(library, pulley, TODAY).foot
    assert "Draft text. Its review is overdue." in plan_handout(late, pulley, TODAY).foot
    assert "draft" not in plan_handout(late, pulley, TODAY).head.lower()
    assert "Draft text. Its review is overdue." in plan_coach_sheet(late, pulley, TODAY).foot


def test_every_general_paper_has_an_honest_line_of_its_own(library: Library) -> None:
    nobody = "General information, made for nobody in particular"
    for document in library.protocols:
        handout = plan_general_handout(library, document.value.id, "A4")
        assert handout.head == nobody
        assert all(nobody in plain(sheet.under_title[0]) for sheet in handout.sheets)
        assert "This is general information." in flat(outline_handout(handout))
        for side in (side for leaf in handout.leaves for side in (leaf.front, leaf.back)):
            strip = side.blocks[0]
            assert isinstance(strip, Strip)
            assert nobody in f"{plain(strip.left)} {plain(strip.right)}", "a leaf is handed on by itself"
    assert plan_key(Writer(library), "A4").head == nobody
    assert {notice.head for notice in plan_notices(library)} == {"For awareness only"}
    assert all("Draft text." in notice.version for notice in plan_notices(library))
    assert all(page.head[1] == "For awareness only" for page in plan_display(library).pages)


# ------------------------------------------------------------------ a coach, a calendar, the command line


def test_a_coach_reads_from_whom_the_plan_is(pulley: Case, library: Library) -> None:
    told = plain(plan_coach_sheet(library, pulley, TODAY).under_title[0])
    assert "This plan is from Imogen Thackeray-Vale, hand therapist, checked on 23 November 2026." in told
    surgeon = replace(pulley, checked=replace(SOMEBODY, role="hand surgeon"))
    assert "surgeon" not in plain(plan_coach_sheet(library, surgeon, TODAY).under_title[0])


@pytest.mark.rest
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_coach_sheet_that_nobody_checked_is_a_specimen_on_one_page(
    paper: Any, pulley: Case, library: Library
) -> None:
    for stage in ("settle", "easy-climbing"):
        case = replace(pulley, checked=None, paper=paper, stage=stage, began=())
        sheet = plan_coach_sheet(library, case, TODAY)
        assert sheet.head == SPECIMEN
        assert SPECIMEN in plain(sheet.under_title[0])
        pdf = Printed(
            print_pdf(posters_html.write_coach_sheet(make_templates(), sheet), PROJECT, posters_html.COACH_STYLE)
        )
        assert len(pdf.words) == 1


def test_a_calendar_that_nobody_checked_says_so_at_every_day(pulley: Case, library: Library) -> None:
    for event in list_events(library, replace(pulley, checked=None), TODAY):
        assert event.summary.startswith("Not checked by a clinician: ")
    assert not [e for e in list_events(library, pulley, TODAY) if "checked" in e.summary]


@pytest.mark.rest
def test_the_command_line_tells_that_it_printed_a_specimen(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = (PROJECT / "tests" / "golden" / "cases" / "pulley-left-ring.yml").read_text(encoding="utf-8")
    start, end = text.index("checked:"), text.index("began:")
    path = tmp_path / "case.yml"
    path.write_text(text[:start] + text[end:], encoding="utf-8")
    assert cli.main(["--out", str(tmp_path), "handout", str(path), "--today", "2026-11-25"]) == 0
    assert "not `checked` by a clinician, so every page says that it is a specimen" in capsys.readouterr().out


# ------------------------------------------------------------------ what it is for


def read_texts() -> dict[str, str]:
    """Every text of ours that somebody reads: protocols, wording, templates, guides."""
    places = [*(PROJECT / "protocols").rglob("*.yml"), *(PROJECT / "templates").rglob("*.*")]
    places += [*PROJECT.glob("*.md"), *(PROJECT / "protocols").glob("*.md"), PROJECT / "mkdocs.yml"]
    return {p.name: flat(p.read_text(encoding="utf-8")) for p in places if p.suffix in (".yml", ".md", ".html")}


def test_no_text_decides_what_only_the_law_of_a_place_decides() -> None:
    texts = read_texts()
    assert len(texts) > 30
    found = [name for name, text in texts.items() if "medical device" in text.lower()]
    assert found == []


def test_the_intended_purpose_is_the_same_wherever_it_stands(library: Library, pulley: Case) -> None:
    purpose = flat(Writer(library).say("about-purpose"))
    assert purpose in flat((PROJECT / "README.md").read_text(encoding="utf-8"))
    short = Writer(library).say("purpose-short")
    general = plan_general_handout(library, library.protocols[0].value.id, "A4")
    for handout in (plan_handout(library, replace(pulley, enclose=("about",)), TODAY), general):
        assert flat(short) in flat(outline_handout(handout))
    for said in (purpose, flat(short)):
        assert "which rules for medical products" in said
