"""The coach sheet: one page, what is fine in each stage, and nothing that the athlete has not agreed to tell."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Iterator
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from pdf_gate import hearing, lettering, opinions, paper, tagging
from pdf_gate.document import Printed, Wanted
from site_under_test import PROJECT, make_templates, whole_library

from fingerpost.checks.texts.reading import grade_text
from fingerpost.make import posters_html
from fingerpost.make.pdf import print_pdf
from fingerpost.model.audience import flat
from fingerpost.model.case import Anchor, Case, Checked, Clinic, ImportantDate
from fingerpost.model.discreet import find_telltale
from fingerpost.model.protocol import Protocol
from fingerpost.model.times import Day
from fingerpost.model.words import Paper
from fingerpost.plan.base.paper import Ahead
from fingerpost.plan.base.parts import mark_of
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.case.check import find_case_findings, stages_of
from fingerpost.plan.case.situation import read_situation
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.for_coaches import plan_coach_page, plan_for_coaches
from fingerpost.plan.person.coach import CoachSheet, plan_coach_sheet
from fingerpost.plan.person.coach_words import LOOK_OUT, TALK
from fingerpost.plan.person.way_back import find_review
from fingerpost.read.library import read_case
from fingerpost.reckon.windows import list_ahead
from fingerpost.run import cli

pytestmark = pytest.mark.rest

LIBRARY = whole_library()
CASES = PROJECT / "tests" / "golden" / "cases"
TODAY = date(2026, 11, 25)
CANARY = "Zanzibarov"


def read(name: str) -> Case:
    document, problems = read_case(CASES / f"{name}.yml", name)
    assert document
    assert not problems
    return document.value


BASE = read("pulley-left-ring")


def case_of(protocol: Protocol, grade: str, stage: str, **changed: Any) -> Case:
    """A case in some stage of some protocol, with a canary in every text that a clinician types."""
    return dataclasses.replace(
        BASE,
        **{
            "reference": CANARY,
            "name": CANARY,
            "note": CANARY,
            "pace_reason": CANARY,
            "clinic": Clinic(name=CANARY, lines=(CANARY,), phone=CANARY),
            "important_dates": (ImportantDate(what=CANARY, date=Day("2027-03-01")),),
            "protocol": protocol.id,
            "grade": grade,
            "place": protocol.places[0],
            "side": "radial" if protocol.needs_side else None,
            "stage": stage,
            "checked": Checked(name="Imogen Thackeray-Vale", role="hand surgeon", date=Day("2026-11-24"), stage=stage),
            "anchor": Anchor(event="injury", date=Day("2026-11-20")),
            "began": (),
            "tapings": (),
            "baselines": (),
            "age_band": "under-18" if protocol.people == "under-18" else "adult",
            "doctor_cleared": Day("2026-11-21") if protocol.stop else None,
            **changed,
        },
    )


def all_cases() -> Iterator[Case]:
    for document in LIBRARY.protocols:
        for grade in document.value.grades:
            for stage in stages_of(document.value, grade.id):
                yield case_of(document.value, grade.id, stage.id)


def list_texts(part: Any) -> Iterator[str]:
    """Every text of a plan, those inside pictures too."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, tuple):
        for item in part:
            yield from list_texts(item)
    elif dataclasses.is_dataclass(part):
        for field in dataclasses.fields(part):
            yield from list_texts(getattr(part, field.name))


def print_sheet(sheet: CoachSheet) -> Printed:
    html = posters_html.write_coach_sheet(make_templates(), sheet)
    return Printed(print_pdf(html, PROJECT, posters_html.COACH_STYLE))


@cache
def names_that_tell() -> tuple[str, ...]:
    """Names of injuries, of tissue, of grades and of sources, as whole words."""
    names = {s.short for s in LIBRARY.vocabularies.sources} | {s.id for s in LIBRARY.vocabularies.sources}
    for condition in LIBRARY.conditions:
        names |= {
            condition.plain_name,
            condition.trade_name,
            *condition.also_called,
            *(c.icd10 for c in condition.codes),
        }
    for document in LIBRARY.protocols:
        names |= {f"grade {g.id}" for g in document.value.grades} | {g.name for g in document.value.grades}
    names |= {s.name for s in LIBRARY.vocabularies.anatomy}
    return tuple(sorted(n.lower() for n in names if len(n) > 3))


def test_the_cases_are_all_that_there_can_be() -> None:
    cases = list(all_cases())
    assert len(cases) > 70
    assert all(list(find_case_findings(case, LIBRARY, TODAY)) == [] for case in cases)


@pytest.mark.parametrize("protocol", [d.value for d in LIBRARY.protocols], ids=lambda p: p.id)
def test_no_sheet_tells_who_it_is_or_what_is_hurt(protocol: Protocol) -> None:
    cases = [case for case in all_cases() if case.protocol == protocol.id]
    assert len(cases) >= 5
    for case in cases:
        sheet = plan_coach_sheet(LIBRARY, case, TODAY)
        texts = [text for text in list_texts(sheet) if text != sheet.paper]
        whole = " ".join(texts).lower()
        assert CANARY.lower() not in whole
        assert [n for n in names_that_tell() if re.search(rf"\b{re.escape(n)}\b", whole)] == []
        assert protocol.id not in whole.replace("_", " ").split()
        told = [find_telltale(text) for text in texts if find_telltale(text)]
        assert set(told) == {"Painkillers"}  # what to look out for, the same for everybody
        assert re.fullmatch(r"coach_[0-9a-f]{10}", sheet.file_stem)


def test_the_words_for_coaches_are_easy_and_tell_nothing() -> None:
    writer = Writer(LIBRARY)
    said = [writer.say(f"coach-look-{n}") for n in LOOK_OUT] + [writer.say(f"coach-talk-{n}") for n in TALK]
    written = [s.coach for d in LIBRARY.protocols for s in d.value.stages]
    assert all(written)
    assert grade_text(" ".join(said)) <= 6
    assert grade_text(" ".join(flat(w or ()) for w in written)) <= 6
    pages = [plan_for_coaches(Writer(LIBRARY)), *(plan_coach_page(Writer(LIBRARY), d.value) for d in LIBRARY.protocols)]
    assert len({p.address for p in pages}) == 8


@pytest.mark.parametrize("protocol", [d.value for d in LIBRARY.protocols], ids=lambda p: p.id)
def test_every_grip_stands_as_in_the_protocol(protocol: Protocol) -> None:
    grade = protocol.grades[0].id
    for number, stage in enumerate(stages_of(protocol, grade)):
        sheet = plan_coach_sheet(LIBRARY, case_of(protocol, grade, stage.id), TODAY)
        ahead = stages_of(protocol, grade)[number:]
        assert [s.name for s in sheet.stages] == [s.name for s in ahead]
        assert [s.number for s in sheet.stages] == list(range(number + 1, number + 1 + len(ahead)))
        assert sheet.grips
        for grip, row in zip(LIBRARY.vocabularies.grips, sheet.grips.rows, strict=False):
            assert plain(row[0]) == grip.name
            assert [cell[0].kind for cell in row[1:]] == [mark_of(grip, s) for s in ahead]
        loads = [plain(cell) for cell in sheet.grips.rows[-1][1:]]
        assert loads == [f"{s.load.least}–{s.load.most}\u00a0%" if s.load else "none" for s in ahead]
        # Every gate counts: those that are the same in all stages are said once, in the title and under the heading.
        gates = " ".join(plain(item) for item in sheet.gates.items) if sheet.gates else ""
        assert gates.count("Stage ") == len(ahead) - 1


# Every protocol from its first stage, where most is on the page; the longest also with fewer stages left.
CROWDED = [
    ("collateral-sprain", "II", 0, "A4"),
    ("collateral-sprain", "II", 0, "Letter"),
    ("collateral-sprain", "II", 2, "Letter"),
    ("collateral-sprain", "II", 3, "A4"),
    ("flexor-strain", "I", 0, "Letter"),
    ("growth-plate", "any", 0, "A4"),
    ("joint-irritation", "any", 0, "Letter"),
    ("lumbrical-strain", "III", 0, "A4"),
    ("pulley", "III", 0, "Letter"),
    ("pulley", "III", 1, "A4"),
    ("sheath-irritation", "any", 0, "A4"),
]


@pytest.mark.parametrize(("protocol", "grade", "at", "paper_name"), CROWDED)
def test_a_sheet_is_one_page_that_a_machine_has_nothing_against(
    protocol: str, grade: str, at: int, paper_name: Paper
) -> None:
    found = LIBRARY.find_protocol(protocol)
    assert found
    stage = stages_of(found, grade)[at].id
    sheet = plan_coach_sheet(LIBRARY, case_of(found, grade, stage, paper=paper_name), TODAY)
    pdf = print_sheet(sheet)
    assert len(pdf.pdf.pages) == 1
    width, height = paper.SIZES_MM[paper_name]
    box = [float(n) for n in pdf.pdf.pages[0].obj["/MediaBox"]]
    assert box == pytest.approx([0, 0, height * paper.MM, width * paper.MM], abs=0.01)
    wanted = Wanted(
        paper=paper_name, print_size=10, title=sheet.title, language=sheet.language, head=sheet.head, foot=sheet.foot,
        page_words=("", ""), file_stem=sheet.file_stem,
    )  # fmt: skip
    checks = (*opinions.ALL, tagging.headings, tagging.tables, tagging.all_tagged, lettering.fonts_allowed)
    checks = (*checks, lettering.text_size, lettering.text_level, lettering.ink_of_words, *hearing.ALL)
    assert [str(defect) for check in checks for defect in check(pdf, wanted)] == []
    assert [f"{a.text}/{b.text}" for a, b in paper._overlaps(pdf.words[0])] == []
    said = " ".join(w.text for w in pdf.words[0])
    assert sheet.head in said
    assert sheet.foot in said
    assert CANARY.encode() not in pdf.bytes


@pytest.mark.parametrize("changed", [{"age_band": "under-18"}, {"doctor_cleared": None, "age_band": "under-18"}])
def test_a_hold_leaves_nothing_to_train_with(changed: dict[str, Any]) -> None:
    found = LIBRARY.find_protocol("growth-plate" if "doctor_cleared" in changed else "collateral-sprain")
    assert found
    case = case_of(found, found.grades[0].id, found.stages[0].id, **changed)
    assert read_situation(case, LIBRARY, TODAY).hold
    sheet = plan_coach_sheet(LIBRARY, case, TODAY)
    assert (sheet.path, sheet.grips, sheet.stages, sheet.gates, sheet.limits) == (None, None, (), None, None)
    said = " ".join(plain(line) for line in sheet.under_title)
    assert "No climbing, no hanging and no finger training" in said
    assert len(print_sheet(sheet).pdf.pages) == 1


def test_windows_on_the_sheet_are_those_of_the_handout() -> None:
    situation = read_situation(BASE, LIBRARY, TODAY)
    sheet = plan_coach_sheet(LIBRARY, BASE, TODAY)
    assert situation.way
    review = find_review(situation)
    assert review
    ahead = list(list_ahead(situation.way, review))
    (told,) = [b for b in plan_handout(LIBRARY, BASE, TODAY).leaves[0].back.blocks if isinstance(b, Ahead)]
    assert len(ahead) == len(told.rows) == 2
    assert sheet.gates
    for (_, _, days), (_, when), item in zip(ahead, told.rows, sheet.gates.items, strict=True):
        assert review.day <= days.earliest, "no stage is promised before the visit"
        assert f"{days.usual.day} {days.usual:%b}" in plain(when)
        for day in (days.earliest, days.latest):
            assert f"{day.day} {day:%b}" in plain(item)


def test_what_is_not_shared_is_not_made(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    private = dataclasses.replace(BASE, share_with_coach=False)
    with pytest.raises(ValueError, match="share_with_coach"):
        plan_coach_sheet(LIBRARY, private, TODAY)
    path = CASES / "collateral-right-middle.yml"
    assert not read(path.stem).share_with_coach
    assert cli.main(["--out", str(tmp_path), "coach", str(path), "--today", "2026-11-25"]) == 0
    assert "no coach sheet, because share_with_coach is not true in this case" in capsys.readouterr().out
    assert not (tmp_path / "handouts").exists()


def test_a_shared_case_makes_a_sheet_that_is_private_to_its_owner(tmp_path: Path) -> None:
    path = CASES / "pulley-left-ring.yml"
    assert cli.main(["--out", str(tmp_path), "coach", str(path), "--today", "2026-11-25"]) == 0
    (made,) = (tmp_path / "handouts").iterdir()
    assert made.name.startswith("coach_")
    assert made.stat().st_mode & 0o777 == 0o600
    assert (tmp_path / "handouts").stat().st_mode & 0o777 == 0o700
