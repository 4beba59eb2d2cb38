"""Answers, telling-apart pages, the signs page and the paper key: what is said, and that it is said everywhere.

- answers: what each one says, urgency, how many are asked and in what order
- pages: telling two conditions apart, the matrix of signs, warning signs first
- the paper key: every end is reached and right, one accessible page, its codes lead to pages
- words: nothing says what somebody has or how likely it is
- clinic.yml: read beside the protocols, its slips, and how much of the collection is a draft
"""

from __future__ import annotations

import dataclasses
import re
import shutil
import subprocess
from collections.abc import Iterable, Iterator
from datetime import date
from functools import cache
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from pdf_gate.document import Printed, Wanted
from pdf_gate.gate import CHECKS
from pdf_gate.samples import environment
from way_in_oracle import PRESENTATIONS, settled

from fingerpost.checks.texts.reading import grade_text
from fingerpost.make import pdf, posters_html
from fingerpost.model.audience import flat
from fingerpost.model.case import ClinicSettings
from fingerpost.model.library import Library
from fingerpost.plan.base.answers import (
    explain_answers,
    fits_of,
    list_pairs,
    list_questions,
    list_separators,
    list_settled,
)
from fingerpost.plan.base.blocks import Answer, Finder, Flags, Folds, Page, Table
from fingerpost.plan.base.outline import outline_page
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.visible import list_words
from fingerpost.plan.pages.site import plan_site
from fingerpost.plan.pages.telling_pages import tell_who
from fingerpost.plan.walls.paper_key import Key, KeyEnd, outline_key, plan_key
from fingerpost.problems import ContentError
from fingerpost.read.library import read_library
from fingerpost.run import load

PROJECT = Path(__file__).resolve().parents[2]
OWN = ClinicSettings(name="Boulder Hall", emergency_number="112", site_address="https://boulderhall.example/fingers/")


@cache
def shipped() -> Library:
    library, problems = read_library(PROJECT / "protocols")
    assert not problems
    return library


@cache
def pages(own: bool = False) -> dict[str, Page]:
    library = dataclasses.replace(shipped(), clinic=OWN) if own else shipped()
    return {page.address: page for page in plan_site(library).pages}


@cache
def key(paper: str = "A4", own: bool = False) -> Key:
    library = dataclasses.replace(shipped(), clinic=OWN) if own else shipped()
    return plan_key(Writer(library), paper)  # type: ignore[arg-type]


@cache
def printed(paper: str, own: bool = True) -> bytes:
    return pdf.print_pdf(posters_html.write_key(environment(), key(paper, own)), PROJECT, posters_html.KEY_STYLE)


def move_sign(library: Library, protocol: str, sign: str, to: str) -> Library:
    """The library with one sign of one protocol moved to another list, as an author would do in YAML."""

    def moved(document):  # type: ignore[no-untyped-def]
        if document.value.id != protocol:
            return document
        lists = {
            name: tuple(s for s in getattr(document.value.signs, name) if s != sign)
            for name in ("usual", "sometimes", "does_not_fit")
        }
        lists[to] = (*lists[to], sign)
        signs = dataclasses.replace(document.value.signs, **lists)
        return dataclasses.replace(document, value=dataclasses.replace(document.value, signs=signs))

    return dataclasses.replace(library, protocols=tuple(map(moved, library.protocols)))


# ---------------------------------------------------------------- what each answer says


def test_every_yes_says_what_the_protocol_says() -> None:
    told, fits = explain_answers(shipped()), fits_of(shipped())
    words = {"usual": "fits", "sometimes": "sometimes", "does-not-fit": "against"}
    for page, marks in fits.items():
        assert {a: s for a, s in told[page].items() if not a.startswith("!")} == {s: words[m] for s, m in marks.items()}


def test_a_no_speaks_only_where_the_sign_is_usual_or_settles_age() -> None:
    told, fits = explain_answers(shipped()), fits_of(shipped())
    for page, says in told.items():
        denied = {a[1:]: s for a, s in says.items() if a.startswith("!") and a != "!warning"}
        if page == "growth-plate":
            assert denied.pop("growing") == "against"
        assert denied == {s: "missing" for s, m in fits[page].items() if m == "usual" and s != "growing"}


@pytest.mark.parametrize(
    ("page", "urgency"),
    [
        ("mallet-finger", "The same day"),
        ("tendon-avulsion", "The same day"),
        ("sheath-infection", "Emergency, now"),
        ("carpal-tunnel", "Within days"),
        ("trigger-finger", "At the next chance"),
    ],
)
def test_when_to_be_seen_is_told_for_what_is_usual_and_not_for_an_old_injury(page: str, urgency: str) -> None:
    """Beside a look-alike, a drooping tip that is new must not be told that it can wait."""
    condition = shipped().find_condition(page)
    assert condition is not None
    assert plain(tell_who(Writer(shipped()), condition)).startswith(urgency)


def test_none_of_the_warning_signs_leaves_what_also_comes_without_urgency() -> None:
    assert set(list_settled(shipped())) == settled(shipped())
    assert "numb-after-injury" in list_settled(shipped())
    assert "numb-without-injury" not in list_settled(shipped()), "a squeezed nerve can wait for days"
    told = explain_answers(shipped())
    assert "!warning" not in told["carpal-tunnel"]
    for page in ("sheath-infection", "fracture-dislocation", "tendon-avulsion", "mallet-finger"):
        assert told[page]["!warning"] == "missing"


def test_questions_are_few_known_and_not_asked_twice() -> None:
    signs = {s.id: s for s in shipped().vocabularies.signs}
    asked = list_questions(shipped())
    assert set(asked) == {"", *(s.id for s in signs.values() if s.spot)}
    for place, questions in asked.items():
        assert 3 <= len(questions) <= 6, place
        assert len(set(questions)) == len(questions)
        for sign in questions:
            assert signs[sign].kind != "onset"
            assert not signs[sign].spot
            assert sign not in (*list_settled(shipped()), "growing")


def test_pages_that_can_come_up_together_are_separated() -> None:
    fits, places = fits_of(shipped()), [s.id for s in shipped().vocabularies.signs if s.spot]
    found = list_separators(shipped())
    for one, other in combinations(fits, 2):
        together = any({fits[one].get(p), fits[other].get(p)} <= {"usual", "sometimes"} for p in places)
        if together:
            assert found[one, other], f"{one} and {other}"
            assert {page for _, page in found[one, other]} <= {one, other}


# ---------------------------------------------------------------- pages


def test_every_look_alike_has_its_page_and_stands_in_the_table() -> None:
    pairs = list_pairs(shipped())
    named = {frozenset((c.id, a.id)) for c in shipped().conditions for a in c.look_alikes}
    assert {frozenset((one.id, other.id)) for one, other in pairs} == named
    made = [p for p in pages().values() if p.kind == "apart-pair"]
    assert len(made) == len(pairs) > 30
    (table,) = pages()["apart/"].sections[0].blocks
    assert isinstance(table, Table)
    linked = {run.target for row in table.rows for run in row[0]}
    assert linked == {page.address for page in made}


def test_a_page_of_two_says_what_fits_which_and_why_it_matters() -> None:
    for one, other in list_pairs(shipped()):
        page = pages()[f"apart/{'-'.join(sorted((one.id, other.id)))}/"]
        parts = {s.id: s for s in page.sections}
        table = parts["apart-signs"].blocks[0]
        assert isinstance(table, Table)
        assert table.head[1:] == (one.plain_name, other.plain_name)
        assert len(table.rows) >= 3
        assert {plain(table.rows[0][1]), plain(table.rows[0][2])} == {"usual", "does not fit"}, "the clearest first"
        assert all(plain(row[1]) != plain(row[2]) for row in table.rows)
        why = parts["apart-why"].blocks[0]
        assert isinstance(why, Table)
        assert all(plain(cell) for row in why.rows for cell in row)


def test_signs_are_a_matrix_without_gaps() -> None:
    """Every sign against every page, each once: usual, sometimes, does not fit or not known."""
    names = sorted(c.plain_name for c in shipped().conditions)
    rows = [row for s in pages()["signs/"].sections for b in s.blocks if isinstance(b, Table) for row in b.rows]
    assert sorted(plain(row[0]) for row in rows) == sorted(s.says for s in shipped().vocabularies.signs)
    for row in rows:
        told = [name for cell in row[1:] for name in plain(cell).split("; ") if name != "–"]
        assert sorted(told) == names


def test_warning_signs_come_first_on_the_way_in_and_on_every_injury() -> None:
    home = pages()[""]
    assert [s.id for s in home.sections][:4] == ["warning", "where", "onset", "under-18"]
    flags = home.sections[0].blocks[0]
    assert isinstance(flags, Flags)
    urgent = [w for w in shipped().vocabularies.warning_signs if w.urgency in ("emergency", "same-day")]
    assert sum(len(group.flags) for group in flags.groups) == len(urgent)
    for page in pages().values():
        if page.kind == "protocol":
            shown = (block for s in page.sections if s.tier == "act" and not s.folded for block in s.blocks)
            (box,) = (block for block in shown if isinstance(block, Folds))
            assert box.level == "warning", page.address
            assert box.groups[0][0].startswith("Emergency. Call"), page.address
        if page.kind == "referral":
            assert isinstance(page.lead[0], Answer), page.address
            assert page.sections[0].id == "see-somebody", page.address


def test_the_clinic_fills_in_its_emergency_number() -> None:
    for own, number in ((False, "your local emergency number"), (True, "112")):
        for address in ("", "warning-signs/"):
            assert number in outline_page(pages(own)[address]), address
        assert f"Call {number} or go" in outline_key(key(own=own))
    assert "local emergency number" not in outline_page(pages(True)["warning-signs/"])


# ---------------------------------------------------------------- the paper key


def ends(made: Key) -> Iterator[KeyEnd]:
    for row in (made.age, *made.rows):
        yield from (end for end in (row.yes, row.no) if end.row is None)


def walk(made: Key, condition: str, library: Library) -> list[KeyEnd]:
    """Every end that somebody can reach whose finger shows what is typical and nothing that does not fit."""
    marks, rows = fits_of(library)[condition], {row.number: row for row in made.rows}
    reached, todo = [], [1]
    while todo:
        row = rows[todo.pop()]
        for end, wrong in ((row.yes, "does-not-fit"), (row.no, "usual")):
            if marks.get(row.sign) == wrong:
                continue
            if end.row:
                todo.append(end.row)
            else:
                reached.append(end)
    return reached


def test_every_protocol_is_reached_and_every_row_is_led_to() -> None:
    made = key()
    assert {p for end in ends(made) for p in end.pages} >= {d.value.id for d in shipped().protocols}
    assert [row.number for row in made.rows] == list(range(1, len(made.rows) + 1))
    led = [end.row for row in (made.age, *made.rows) for end in (row.yes, row.no) if end.row]
    assert sorted(led) == [row.number for row in made.rows]


@pytest.mark.parametrize("protocol", [d.value.id for d in shipped().protocols if d.value.people != "under-18"])
def test_every_end_is_right_for_a_typical_presentation(protocol: str) -> None:
    reached = walk(key(), protocol, shipped())
    assert reached
    assert all(protocol in end.pages for end in reached)


ANSWERED = [v for v in PRESENTATIONS if {"warning", "growing"} <= set(v["absent"])]


@pytest.mark.parametrize("vector", ANSWERED, ids=lambda v: v["tells"][:30])
def test_a_textbook_presentation_ends_at_its_page_or_at_a_clinician(vector: dict[str, list[str]]) -> None:
    """What was not told is tried both ways; what was told leads to the right end on one of them."""
    rows, todo, reached = {row.number: row for row in key().rows}, [1], []
    while todo:
        row = rows[todo.pop()]
        for end, refused in ((row.yes, vector["absent"]), (row.no, vector["there"])):
            if row.sign not in refused:
                todo += [end.row] if end.row else []
                reached += [] if end.row else [end]
    home = {d.value.id for d in shipped().protocols}
    assert any(vector["of"] in end.pages if vector["of"] in home else end.clinician for end in reached)


def test_age_is_asked_first_and_leads_to_growth_plates_and_a_doctor() -> None:
    assert key().age.yes.pages == ("growth-plate",)
    assert key().age.yes.clinician
    assert "Stop" in key().age.yes.says
    assert key().age.no.row == 1


def test_an_end_that_is_no_protocol_says_see_a_clinician() -> None:
    home = {d.value.id for d in shipped().protocols}
    for end in ends(key()):
        assert end.clinician is ("clinician" in end.says or "doctor" in end.says)
        assert bool(home & set(end.pages)) is bool(re.search(r"page [A-Z]", end.says))


def test_one_sign_changes_the_page_and_the_key_together() -> None:
    before, after = shipped(), move_sign(shipped(), "collateral-sprain", "side-of-joint", "does_not_fit")
    assert explain_answers(before)["collateral-sprain"]["side-of-joint"] == "fits"
    assert explain_answers(after)["collateral-sprain"]["side-of-joint"] == "against"

    def looked_up(library: Library) -> object:
        home = plan_site(library).pages[0]
        return next(b for s in home.sections for b in s.blocks if isinstance(b, Finder)).data["pages"]

    assert looked_up(before) != looked_up(after)
    assert outline_key(plan_key(Writer(before), "A4")) != outline_key(plan_key(Writer(after), "A4"))
    changed = walk(plan_key(Writer(after), "A4"), "collateral-sprain", after)
    assert all("collateral-sprain" in end.pages for end in changed)


@pytest.mark.rest
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_key_is_one_accessible_page(paper: str) -> None:
    wanted = Wanted(
        paper=paper,
        print_size=12,
        title=key().title,
        language="en-GB",
        head="",
        foot="",
        page_words=("", ""),
        file_stem="key",
    )
    document = Printed(printed(paper))
    assert len(document.pdf.pages) == 1
    # The key has margins of its own, no running lines, and letters of 10 points, to be read from close by.
    other_layout = {"in_text_block", "running_lines"}
    defects = [d for name, check in CHECKS.items() if name not in other_layout for d in check(document, wanted)]
    assert [str(d) for d in defects] == ["text_size: less than half of the text is 12 points or larger"]


@pytest.mark.rest
def test_the_codes_lead_to_the_pages(tmp_path: Path) -> None:
    picture = rasterise(printed("A4"), tmp_path)
    found = {code.text for code in zxingcpp.read_barcodes(picture)}
    assert found == {page.address for page in key(own=True).pages}
    assert all(a.startswith("https://boulderhall.example/fingers/i/") for a in found)
    assert not zxingcpp.read_barcodes(rasterise(printed("A4", own=False), tmp_path))


def rasterise(content: bytes, folder: Path) -> np.ndarray:
    """A printed page as a grey picture."""
    (folder / "key.pdf").write_bytes(content)
    command = ["pdftoppm", "-r", "200", "-gray", str(folder / "key.pdf"), str(folder / "key")]
    subprocess.run(command, check=True, capture_output=True)
    raw = (folder / "key-1.pgm").read_bytes()
    width, height = map(int, raw.split(b"\n")[1].split())
    return np.frombuffer(raw[-width * height :], dtype=np.uint8).reshape(height, width)


# ---------------------------------------------------------------- words


def told() -> Iterator[tuple[str, str]]:
    """(where, text) of everything that these pages and the key add."""
    for address, page in pages(True).items():
        if page.kind in ("home", "apart", "apart-pair", "signs"):
            for words in list_words(page, heard=True):
                yield address or "home", plain(words)
    for line in outline_key(key(own=True)).splitlines():
        yield "key", line


BANNED = re.compile(
    r"diagnos|your risk is|probab|likely|\bscore|predict|recommended for you|\byou have (?!a fever|fever|loosened)",
    re.IGNORECASE,
)


def test_nothing_says_what_somebody_has_or_how_likely_it_is() -> None:
    texts = list(told())
    assert len(texts) > 3000
    assert not [(where, text) for where, text in texts if BANNED.search(text)]


def test_the_new_words_are_easy_to_read() -> None:
    wording = {p.id: flat(p.says) for p in shipped().vocabularies.wording}
    ours = re.compile(r"(way|key|touch|apart)-.*|intro-(apart.*|signs)|(onset|asked)-help")
    own = [says for id, says in wording.items() if ours.fullmatch(id)]
    sentences = " ".join(s.strip() for s in own if s.strip().endswith("."))
    assert len(sentences.split()) > 150
    assert grade_text(sentences) <= 7
    questions = " ".join(s.question for s in shipped().vocabularies.signs)
    assert grade_text(questions) <= 7


# ---------------------------------------------------------------- clinic.yml


def test_clinic_settings_are_read_beside_the_protocols(tmp_path: Path) -> None:
    shutil.copytree(PROJECT / "protocols", tmp_path / "protocols")
    assert load.load_library(tmp_path / "protocols", date(2026, 11, 25), str).clinic == ClinicSettings()
    (tmp_path / "clinic.yml").write_text('emergency_number: "999"\nsite_address: https://wall.example/\n')
    assert load.load_library(tmp_path / "protocols", date(2026, 11, 25), str).clinic.emergency_number == "999"


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("emergency_number: 999", "must be text, not 999"),
        ("site_address: wall.example", "must be a web address"),
        ("site_address: https://wall.example/?who=me", "must be a web address"),
        ("phone: x", "no key is called 'phone' here"),
    ],
)
def test_a_slip_in_the_clinic_settings_is_a_message(line: str, message: str, tmp_path: Path) -> None:
    shutil.copytree(PROJECT / "protocols", tmp_path / "protocols")
    (tmp_path / "clinic.yml").write_text(line + "\n")
    with pytest.raises(ContentError) as stopped:
        load.load_library(tmp_path / "protocols", date(2026, 11, 25), str)
    (problem,) = stopped.value.problems
    assert message in problem.message
    assert problem.place.line == 1


def test_the_shipped_clinic_settings_are_empty() -> None:
    assert load.load_library(PROJECT / "protocols", date(2026, 11, 25), str).clinic == ClinicSettings()


def _sign(library: Library, ids: Iterable[str]) -> Library:
    """The library as if a clinician had signed some of its texts."""
    signed = set(ids)

    def look(document):  # type: ignore[no-untyped-def]
        if document.value.id not in signed:
            return document
        status = dataclasses.replace(document.value.status, state="approved")
        return dataclasses.replace(document, value=dataclasses.replace(document.value, status=status))

    return dataclasses.replace(
        library,
        protocols=tuple(map(look, library.protocols)),
        referrals=tuple(map(look, library.referrals)),
    )


def test_pages_of_the_whole_collection_say_how_much_of_it_is_a_draft() -> None:
    """A draft must never pass for a signed text, and a signed one must not be called a draft."""
    every = [condition.id for condition in shipped().conditions]
    for signed, says in (
        ([], "The protocols are not signed"),
        (every[:1], "Some of the protocols are not signed"),
        (every, ""),
    ):
        whole = _sign(shipped(), signed)
        site = {page.address: page for page in plan_site(whole).pages}
        for address in ("", "injuries/", "signs/", "apart/", "for-gyms/", "look-up/", "changed/"):
            badge = plain(site[address].badge)
            assert (says in badge) if says else badge == "", address
        assert says in plan_key(Writer(whole), "A4").foot
    overdue = dataclasses.replace(_sign(shipped(), every), overdue=frozenset(every[:1]))
    assert "due for a review" in plain({page.address: page for page in plan_site(overdue).pages}[""].badge)
