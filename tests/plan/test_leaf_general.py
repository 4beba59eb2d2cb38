"""Leaves for nobody in particular: one for each grade, one for each injury seen elsewhere, and the way to the site."""

from __future__ import annotations

import dataclasses
from datetime import date
from typing import Any

import pytest
from site_under_test import make_templates, whole_library, whole_site
from sweep.detectors_twice import cut, list_pairs_alike
from sweep.leaves import list_parts
from sweep.sheets import Line

from fingerpost.make.drawn.qr import QUIET, draw_code, needed_mm
from fingerpost.make.handout_html import write_html
from fingerpost.make.leaf.art import Studio
from fingerpost.make.leaf.page import fit
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.words import PAPERS, Paper
from fingerpost.plan.base.paper import Ask, Handout, Leaf, Rows, Verdict
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.visible import list_words
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.general import plan_general_handout, plan_referral_handout
from fingerpost.read.library import read_case_text

TODAY = date(2026, 11, 25)
LIBRARY = whole_library()
SITE = "https://example.org/fingers/"
PROTOCOLS = [document.value for document in LIBRARY.protocols]
REFERRALS = [document.value for document in LIBRARY.referrals]
NAMES = [condition.id for condition in LIBRARY.conditions]


def with_site(address: str | None) -> Library:
    return dataclasses.replace(LIBRARY, clinic=dataclasses.replace(LIBRARY.clinic, site_address=address))


def plan_leaves(name: str, paper: Paper = "A4", library: Library = LIBRARY) -> Handout:
    condition = library.find_condition(name)
    if isinstance(condition, Referral):
        return plan_referral_handout(library, condition, paper)
    return plan_general_handout(library, name, paper)


def says(part: Any) -> str:
    return " ".join(" ".join(plain(words) for words in list_words(part)).split())


def blocks_of(leaf: Leaf, kind: type) -> list[Any]:
    return [block for side in (leaf.front, leaf.back) for block in side.blocks if isinstance(block, kind)]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", NAMES)
def test_every_leaf_is_one_sheet_of_paper(name: str, paper: Paper) -> None:
    """At 12 points, both sides, with nothing over the box at the foot and no side almost empty but the last."""
    for leaf in plan_leaves(name, paper).leaves:
        front, back = fit(leaf, paper, 12, Studio())
        assert min(front.spare_mm, back.spare_mm) >= 0
        assert front.spare_mm < front.settings.height_mm / 2


def test_each_grade_has_a_leaf_of_its_own() -> None:
    for protocol in PROTOCOLS:
        leaves = plan_leaves(protocol.id).leaves
        assert len(leaves) == len(protocol.grades)
        for grade, leaf in zip(protocol.grades, leaves, strict=True):
            assert (f"Grade {grade.id}: {grade.name}." in says(leaf.front)) is (grade.id != "any")


def stages_of(protocol: Protocol, grade: str) -> list[str]:
    return [stage.name for stage in protocol.stages if grade not in stage.skipped_by]


def test_a_leaf_tells_every_stage_and_what_comes_before_the_next() -> None:
    told = 0
    for protocol in PROTOCOLS:
        for grade, leaf in zip(protocol.grades, plan_leaves(protocol.id).leaves, strict=True):
            stopped = protocol.stop or grade.treated_by == "surgeon"
            (verdict,) = blocks_of(leaf, Verdict)
            assert verdict.halt is stopped
            if stopped:
                continue
            ticked, gates = blocks_of(leaf, Rows)
            assert (ticked.boxes, gates.boxes) == (True, False), "whoever treats marks the stage of the day"
            way, before = ticked.rows, gates.rows
            names = stages_of(protocol, grade.id)
            assert [label for label, _ in way] == [f"{n}. {name}" for n, name in enumerate(names, 1)]
            assert [label for label, _ in before] == [f"Before {n}" for n in range(2, len(names) + 1)]
            for _, words in way:
                told += 1
                assert "Today:" not in plain(words)
                assert any(run.kind == "mark" for run in words), "a usual time has its mark"
    assert told > 50


def test_nothing_for_everybody_stands_behind_what_is_for_some() -> None:
    """'Under 18: no full crimp. More climbs first.' would tell only the young to climb more first."""
    for protocol in PROTOCOLS:
        for leaf in plan_leaves(protocol.id).leaves:
            for block in blocks_of(leaf, Rows):
                for _, words in block.rows:
                    starts = [n for n, run in enumerate(words) if run.kind == "strong" and run.text in AGES]
                    assert all(n == 0 or words[n - 1].kind == "break" for n in starts)


AGES = ("Adults: ", "Under 18: ")


def test_a_leaf_that_knows_no_place_tells_nobody_theirs() -> None:
    for protocol in PROTOCOLS:
        for leaf in plan_leaves(protocol.id).leaves:
            text = says(leaf)
            assert "Yours is" not in text
            for piece in (*protocol.brief, *(p for grade in protocol.grades for p in grade.brief or ())):
                if piece.for_.place:
                    assert " ".join(piece.says.split()) not in text


def test_a_stage_that_something_is_meant_for_goes_by_its_number() -> None:
    questions = says(plan_leaves("pulley").leaves[0].back)
    told = says(plan_leaves("pulley").leaves[1].back)
    assert "In stage 1 (settle and protect): When may I take the splint" in told
    assert "splint or ring off" not in questions  # grade I wears none


def test_nothing_stands_twice_on_a_leaf_for_nobody_in_particular() -> None:
    """Rows for two readers, and what comes before two stages, may ask for the same."""
    found = []
    for name in NAMES:
        for leaf in plan_leaves(name).leaves:
            parts = list_parts(Writer(LIBRARY), leaf, ())
            texts = ((side, s, k, t) for side, (s, k, t) in parts if isinstance(t, str) and t)
            lines = [
                Line(side, section, k, t) for side, section, k, t in texts if k == "item" and section in _SAID_ONCE
            ]  # type: ignore[arg-type]
            for one, other in list_pairs_alike(cut(lines)):
                found.append(f"{name}: {one.sentence} / {other.sentence}")
    assert not found, "\n".join(sorted(set(found)))


_SAID_ONCE = ("verdict", "day", "until-seen", "help", "what", "lead", "if-nothing", "questions")


@pytest.mark.parametrize("referral", REFERRALS, ids=lambda referral: referral.id)
def test_whoever_is_sent_on_is_told_no_numbers_of_a_study(referral: Referral) -> None:
    """How often, how long and how many is for the page; here only what helps to get there."""
    (leaf,) = plan_leaves(referral.id).leaves
    assert " ".join(referral.usual_care.split())[:60] not in says(leaf)
    assert not any(run.kind == "mark" for words in list_words(leaf.back) for run in words)


@pytest.mark.parametrize("referral", REFERRALS, ids=lambda referral: referral.id)
def test_whoever_is_sent_on_reads_why_who_when_and_what_to_tell(referral: Referral) -> None:
    (leaf,) = plan_leaves(referral.id).leaves
    front = says(leaf.front)
    for seek in referral.see_somebody:
        assert seek.whom[1:] in front
    both = f"{front} {says(leaf.back)}"
    for told in (*referral.until_then, *referral.tell):
        assert " ".join(told.says.split())[:30] in both
    (ask,) = blocks_of(leaf, Ask)
    assert ask.lines >= 3
    assert front.count("____") >= 3  # name, date, and the number of the clinic


def test_a_box_does_not_tell_again_whom_the_rows_send_where() -> None:
    warnings = {warning.id: warning for warning in LIBRARY.vocabularies.warning_signs}
    for referral in REFERRALS:
        (leaf,) = plan_leaves(referral.id).leaves
        assert leaf.front.help is not None
        boxed = says(leaf.front.help)
        for seek in referral.see_somebody:
            for named in seek.warning_signs:
                assert str(warnings[named].short).strip().rstrip(".") not in boxed


def test_a_sign_that_says_no_stands_only_where_nobody_climbs() -> None:
    for referral in REFERRALS:
        (leaf,) = plan_leaves(referral.id).leaves
        (verdict,) = blocks_of(leaf, Verdict)
        assert verdict.halt is ("no climbing" in " ".join(verdict.says))


@pytest.mark.parametrize("name", NAMES)
def test_the_foot_says_that_the_text_is_a_draft(name: str) -> None:
    handout = plan_leaves(name)
    condition = LIBRARY.find_condition(name)
    assert condition is not None
    assert ("Draft" in handout.foot) is (condition.status.state == "draft")


@pytest.mark.parametrize("name", NAMES)
def test_a_leaf_leads_to_the_page_of_its_injury(name: str) -> None:
    moved = dict(whole_site().redirects)
    for leaf in plan_leaves(name, library=with_site(SITE)).leaves:
        (ask,) = blocks_of(leaf, Ask)
        assert ask.address == f"{SITE}i/{name}/"
        assert moved[ask.address.removeprefix(SITE)] == f"injuries/{name}/"


def test_without_an_address_of_the_site_a_leaf_says_whom_to_ask() -> None:
    handout = plan_leaves("mallet-finger", library=with_site(None))
    (ask,) = blocks_of(handout.leaves[0], Ask)
    assert ask.address == ""
    assert "Ask your clinic" in plain(ask.more)
    html = write_html(make_templates(), handout)
    assert 'class="address"' not in html


@pytest.mark.parametrize("name", ["mallet-finger", "collateral-sprain", "inflammatory-arthritis"])
def test_the_code_on_a_leaf_is_large_enough_to_read(name: str) -> None:
    """22 to 26 mm wide with its quiet zone, also for the longest address that a clinic may have."""
    for site in (SITE, f"https://{'a' * 51}/"):
        for leaf in plan_leaves(name, library=with_site(site)).leaves:
            back = fit(leaf, "Letter", 12, Studio())[1]
            (code,) = [part.at["code"] for part in back.parts if isinstance(part.block, Ask)]
            assert 22 <= code.width_mm <= 26
            (ask,) = blocks_of(leaf, Ask)
            assert code.width_mm >= needed_mm(ask.address)
            assert f"M{QUIET} {QUIET}h7" in draw_code(ask.address, title="x", width_mm=code.width_mm)


CASE = """
reference: case 1
age_band: adult
protocol: {protocol}
grade: {grade}
hand: left
finger: {finger}
place: {place}
stage: {stage}
anchor: {{event: injury, date: 2026-09-01}}
began: []
baselines: []
finger_sizes: []
"""


def read_leaf(library: Library, protocol: Protocol, grade: str, stage: str) -> Leaf:
    written = CASE.format(
        protocol=protocol.id, grade=grade, finger=protocol.fingers[0], place=protocol.places[0], stage=stage
    )
    case, problems = read_case_text(written + ("side: radial\n" if protocol.needs_side else ""), "case.yml")
    assert case is not None, problems
    return plan_handout(library, case.value, TODAY).leaves[0]


def test_the_code_of_a_stage_leads_to_that_stage_on_the_page() -> None:
    """A grade that skips a stage counts its own stages; the page counts all of them. No address tells a person."""
    library, moved, skipping = with_site(SITE), dict(whole_site().redirects), 0
    for protocol in (protocol for protocol in PROTOCOLS if not protocol.stop):
        (page,) = [page for page in whole_site().pages if page.address == f"injuries/{protocol.id}/"]
        headings = {section.id: section.heading for section in page.sections}
        for grade in (grade for grade in protocol.grades if grade.treated_by != "surgeon"):
            kept = [stage for stage in protocol.stages if grade.id not in stage.skipped_by]
            skipping += len(kept) < len(protocol.stages)
            for stage in kept:
                (ask,) = blocks_of(read_leaf(library, protocol, grade.id, stage.id), Ask)
                anchor = moved[ask.address.removeprefix(SITE)].partition("#")[2]
                assert headings[anchor].endswith(stage.name)
    assert skipping
