"""Hostile texts in every field of the collection and of a case: on paper they are letters, and nothing else."""

from __future__ import annotations

import dataclasses
import json
import shutil
import subprocess
from collections.abc import Iterator
from functools import lru_cache
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import icalendar
import pytest
from jinja2 import Environment
from pdf_gate import paper
from pdf_gate.document import Printed
from pdf_gate.samples import wanted_from

from fingerpost.make import data_files
from fingerpost.make.drawn import pictures
from fingerpost.make.handout_html import write_html
from fingerpost.make.pdf import print_pdf
from fingerpost.model import words
from fingerpost.model.audience import Said
from fingerpost.model.case import Case
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.shared import Vocabularies
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.general import plan_general_handout
from fingerpost.plan.person.calendar import write_calendar
from fingerpost.problems import ContentError, MakeError
from fingerpost.read.library import read_case
from fingerpost.run.load import load_case, load_library
from hostile import gate, world
from hostile.payloads import FAMILIES, find_marked, mark
from hostile.planting import list_free_fields

pytestmark = pytest.mark.rest

TURNS = range(len(FAMILIES))


@pytest.fixture(autouse=True, scope="module")
def _keep_drawings() -> Iterator[None]:
    """Templates change nothing in a drawing: one that was drawn for a sheet need not be for the same with a hole.

    The program keeps fewer, because a case more or less changes few of them.
    """
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(pictures, "_draw_once", lru_cache(maxsize=None)(pictures._draw_once.__wrapped__))
        yield


OF_PERSON = ("handout", "small leaf", "coach sheet")


def find_in(made: str, environment: Environment, turn: int, of_person: bool = False) -> list[str]:
    """The defects of one thing that is made of a hostile collection, or for a person with a hostile case."""
    pairs = []
    for hostile in (True, False):
        library, case = world.plant_library(hostile, turn), world.demo_case()
        payloads = library.payloads
        if of_person:
            case, payloads = world.plant_case(hostile, turn)
        used = world.full_library() if of_person else library.library
        pairs.append((world.MADE[made](used, case, environment), payloads))
    (html, payloads), (right, _) = pairs
    return gate.find_defects(html, right, payloads)


# Of the blocks of a handout and a coach sheet, each comes up in the general sheets too.
@pytest.mark.parametrize(
    ("made", "turn"), [(made, turn) for made in world.MADE for turn in TURNS if made not in OF_PERSON or turn == 0]
)
def test_a_hostile_collection_changes_nothing_but_letters(made: str, turn: int) -> None:
    assert find_in(made, world.sound(), turn) == []


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("made", OF_PERSON)
def test_a_hostile_case_changes_nothing_but_letters(made: str, turn: int) -> None:
    assert find_in(made, world.sound(), turn, of_person=True) == []


HOLES = {
    "text of a block": (
        "parts/blocks.html",
        "{{ run.text | bound }}",
        "{{ run.text | bound | safe }}",
        "general sheets",
    ),
    "cell of a table": ("parts/blocks.html", "{{ cell }}", "{{ cell | safe }}", "handout"),
    "attribute": ("parts/blocks.html", '"{{ block.caption }}"', '"{{ block.caption | safe }}"', "handout"),
    "running line": ("print/handout.html", "{{ handout.foot | css }}", '"{{ handout.foot | safe }}"', "general sheets"),
    "title": ("print/coach.html", "<title>{{ sheet.title }}", "<title>{{ sheet.title | safe }}", "coach sheet"),
    "coach's heading": ("print/coach.html", "{{ part.title }}", "{{ part.title | safe }}", "coach sheet"),
    "message": ("print/notice.html", "{{ line }}", "{{ line | safe }}", "notice"),
    "key": ("print/key.html", "{{ row.question }}", "{{ row.question | safe }}", "key"),
    "screen": ("display/display.html", "{{ line }}", "{{ line | safe }}", "display"),
    "leaf's heading": ("print/leaf.html", "<h2>{{ block.heading }}", "<h2>{{ block.heading | safe }}", "handout"),
    "leaf's verdict": ("print/leaf.html", "{{ block.says[0] }}", "{{ block.says[0] | safe }}", "small leaf"),
    "leaf's label": ("print/leaf.html", "{{ label }}</th>", "{{ label | safe }}</th>", "small referral leaf"),
    "large label": ("print/leaf_large.html", "{{ label }}</h3>", "{{ label | safe }}</h3>", "referral leaf"),
    "cut off": ("print/handout.html", "{{ sheet.title }}", "{{ sheet.title | truncate(60) }}", "general sheets"),
}


@pytest.mark.parametrize("hole", HOLES)
def test_a_hole_in_a_template_is_found(hole: str) -> None:
    name, old, new, where = HOLES[hole]
    assert any(find_in(where, world.spoil(name, old, new), turn) for turn in TURNS)


def test_a_hole_for_a_persons_words_is_found() -> None:
    environment = world.spoil("parts/blocks.html", "{{ run.text | bound }}", "{{ run.text | bound | safe }}")
    assert any(find_in("handout", environment, turn, of_person=True) for turn in TURNS)


def test_what_stands_on_no_page_stands_on_a_leaf() -> None:
    """Otherwise a field could be forgotten in both places, and nobody would read it."""
    planted, case = world.plant_library(True), world.demo_case()
    stages = [stage.id for d in planted.library.protocols if d.value.id == case.protocol for stage in d.value.stages]
    made = [("small general leaf", case), ("small referral leaf", case)]
    made += [("small leaf", dataclasses.replace(case, stage=stage, began=())) for stage in stages]
    shown = [gate.list_shown(world.MADE[name](planted.library, one, world.sound())) for name, one in made]
    assert world.ONLY_ON_LEAVES - {planted.fields[number] for numbers in shown for number in numbers} == set()


# ------------------------------------------------------------------ data


def walk_texts(data: Any) -> Iterator[str]:
    if isinstance(data, dict):
        for value in data.values():
            yield from walk_texts(value)
    elif isinstance(data, list):
        for value in data:
            yield from walk_texts(value)
    elif isinstance(data, str):
        yield data


def test_data_files_hold_the_words_as_they_were_written() -> None:
    planted = world.plant_library(True)
    files = data_files.make_data_files(planted.library, ("injuries/pulley/",))
    found = find_marked(" ".join(t for n, f in files.items() if n.endswith(".json") for t in walk_texts(json.loads(f))))
    fields = {planted.fields[number] for number in found}
    free = {field for kind in (Protocol, Referral, Vocabularies) for field in list_free_fields(kind)}
    assert {field for field in free - fields if not field.startswith("Tolerated.")} == set()
    for number, written in found.items():
        assert {gate.write_once(text) for text in written} == {gate.write_once(planted.payloads[number])}


def test_the_feed_keeps_its_shape() -> None:
    shapes = []
    for hostile in (True, False):
        files = data_files.make_data_files(world.plant_library(hostile).library, ("injuries/pulley/",))
        root = ElementTree.fromstring(files[data_files.FEED])
        shapes.append([(e.tag, sorted(e.attrib), e.attrib.get("href")) for e in root.iter()])
    assert shapes[0] == shapes[1]
    assert len(shapes[0]) > 20


BREAKING = "A\\, B; C\nBEGIN:VALARM\r\nATTACH:http://bad.invalid\x85\u2028DTSTART:20000101 " + "é" * 80


def test_a_calendar_has_the_same_entries_whatever_the_phrases_say() -> None:
    """Commas, semicolons, backslashes and line breaks in a text start no line of their own."""
    library, case = world.full_library(), world.demo_case()
    written = []
    for text in ("x", BREAKING):
        changed = world.plant_in_library(library, lambda field, old, t=text: f"{old} {t}" if "Phrase" in field else old)
        written.append(write_calendar(changed, case, world.TODAY))
    tame, hostile = (icalendar.Calendar.from_ical(text) for text in written)
    assert all(len(line.encode()) <= 75 for line in written[1].split("\r\n"))
    assert [sorted(event.keys()) for event in hostile.walk()] == [sorted(event.keys()) for event in tame.walk()]
    assert len(hostile.walk()) > 3
    for event in hostile.walk("VEVENT"):
        assert "BEGIN:VALARM" in event["SUMMARY"]
        assert not event.subcomponents


# ------------------------------------------------------------------ a case, from its file to the paper


def write_case(folder: Path, payload: str, *, visited: bool = False) -> tuple[Path, dict[int, str]]:
    """A case file with a payload in every text, and the field behind each number.

    `visited`: who checked it stands in the log of visits, which takes the place of `checked`.
    """
    fields: dict[int, str] = {}
    lines = world.CASE.read_text("utf-8").split("note:")[0].splitlines()
    text: list[str] = []
    checks = lines.index("checked:")
    if visited:
        lines[checks : checks + 5] = [
            "visits:", "  - date: 2026-11-23", "    stage: easy-climbing",
            "    checked:", "      name: X", "      role: Y",
        ]  # fmt: skip

    def plant(field: str) -> str:
        fields[len(fields)] = field
        return json.dumps(mark(len(fields) - 1, payload))

    for line in lines:
        key, _, _ = line.strip().removeprefix("- ").partition(":")
        if key in ("reference", "what", "name", "role"):  # before the note, only who checked it has a name
            who = "visits.checked" if visited else "checked"
            line = f"{line.split(':')[0]}: {plant(f'{who}.{key}' if key in ('name', 'role') else key)}"
        text.append(line)
    text += [f"name: {plant('name')}", f"note: {plant('note')}", f"pace_reason: {plant('pace_reason')}", "clinic:"]
    text += [f"  {key}: {plant(f'clinic.{key}')}" for key in ("name", "phone", "emergency_number")]
    text += ["  lines:", f"    - {plant('clinic.lines')}"]
    path = folder / "case.yml"
    path.write_text("\n".join(text) + "\n", "utf-8")
    return path, fields


# As long as one line of a case may be.
SHORT = (
    "\"'><svg/onload=hit(1)><img src=//bad.invalid onerror=hit(2)></p><script>hit(3)</script>",
    "</style><script>hit(4)</script>*{color:red} {{ 7*7 }} {% raise %} [Go](javascript:hit(5)) \\201C",
)


@pytest.mark.parametrize(("payload", "visited"), list(zip(SHORT, (False, True), strict=True)))
def test_a_persons_words_are_printed_as_they_were_typed(payload: str, visited: bool, tmp_path: Path) -> None:
    path, fields = write_case(tmp_path, payload, visited=visited)
    case = load_case(path, world.full_library(), world.TODAY, lambda p: p.name).value
    handout = world.run_on(plan_handout(world.full_library(), world.take_all(case), world.TODAY))
    pdf = print_pdf(write_html(world.sound(), handout), world.PROJECT)
    told = subprocess.run(["pdftotext", "-raw", "-", "-"], input=pdf, capture_output=True, check=True).stdout.decode()
    close = "".join(told.split())
    for number, field in fields.items():
        printed = field != "pace_reason"  # for those who keep the case
        assert ("".join(mark(number, payload).split()) in close) == printed, field
    assert b"bad.invalid" not in pdf
    assert b"/JavaScript" not in pdf
    assert b"/URI" not in pdf


def test_every_text_of_a_case_was_planted(tmp_path: Path) -> None:
    planted = {field for visited in (False, True) for field in write_case(tmp_path, "x", visited=visited)[1].values()}
    assert len(planted) == len(set(list_free_fields(Case))) == 13


def test_a_protocol_that_goes_on_and_on_is_printed_whole() -> None:
    """Thirty times as long as any is, on as many pages as it needs; or not at all, where two sides must do.

    Files of over 1 MB are not read at all.
    """
    library = world.full_library()
    sentences = tuple(Said(says=f"Sentence {number} of many that stand on this sheet.") for number in range(300))
    brief = (Said(says=" ".join(f"Line {number} of what is hurt." for number in range(300))),)
    documents = tuple(
        dataclasses.replace(d, value=dataclasses.replace(d.value, questions=sentences, brief=brief))
        for d in library.protocols
    )
    planned = plan_general_handout(dataclasses.replace(library, protocols=documents), "pulley", "A4")
    with pytest.raises(MakeError, match="the back of the leaf is too full by"):
        write_html(world.sound(), planned)
    handout = world.run_on(planned)
    printed = Printed(print_pdf(write_html(world.sound(), handout), world.PROJECT))
    assert len(printed.words) > 12
    said = " ".join(word.text for words in printed.words for word in words)
    assert all(f"Sentence {number} of" in said and f"Line {number} of" in said for number in range(300))
    assert not list(paper.printable(printed, wanted_from(handout)))


# ------------------------------------------------------------------ what is no free text


@pytest.mark.parametrize("payload", [*FAMILIES, "a\n", "a\r\nb", "../a", "a\0b", "İ"])
def test_ids_dates_and_addresses_take_no_payload(payload: str) -> None:
    closed = [s for s in words.ALL_SHAPES if s is not words.TEXT_SHAPE and s is not words.LINE_SHAPE]
    assert len(closed) == 10
    assert not [shape for shape in closed if shape.fits(payload)]


def test_a_payload_in_the_place_of_an_id_is_a_message_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "case.yml"
    path.write_text(world.CASE.read_text("utf-8").replace("place: a2-pulley", "place: <b>x</b>"), "utf-8")
    _, problems = read_case(path, "case.yml")
    assert [(p.place.line, p.place.path) for p in problems] == [(8, "place")]


def test_the_checks_refuse_markup_in_a_protocol(tmp_path: Path) -> None:
    folder = tmp_path / "protocols"
    shutil.copytree(world.PROJECT / "protocols", folder)
    path = folder / "_example.yml"
    text = path.read_text("utf-8").replace("Nothing has torn.", "Nothing has <b onclick=hit(1)>torn</b>.", 1)
    path.write_text(text, "utf-8")
    with pytest.raises(ContentError) as refused:
        load_library(folder, world.TODAY, lambda p: p.name)
    assert "must not stand in plain text" in str(refused.value.problems[0])
