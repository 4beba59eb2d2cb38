"""The calendar file: right by the letter of RFC 5545, read back by another reader, and about nobody."""

from __future__ import annotations

import dataclasses
import json
import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import icalendar
import pytest
from site_under_test import PROJECT, whole_library

from fingerpost.model.audience import Said
from fingerpost.model.case import Began, Case, Clinic, ImportantDate
from fingerpost.model.times import Day
from fingerpost.plan.case.situation import read_situation
from fingerpost.plan.person.calendar import list_events, write_calendar
from fingerpost.plan.person.way_back import find_review
from fingerpost.read.library import read_case
from fingerpost.reckon.windows import list_ahead
from fingerpost.run import cli

LIBRARY = whole_library()
PATH = PROJECT / "tests" / "golden" / "cases" / "pulley-left-ring.yml"
TODAY = date(2026, 11, 25)
CANARY = "Zanzibarov"


@pytest.fixture(scope="module")
def case() -> Case:
    document, _ = read_case(PATH, PATH.name)
    assert document
    return document.value


def parse(text: str) -> list[icalendar.Event]:
    calendar = icalendar.Calendar.from_ical(text)
    assert str(calendar["version"]) == "2.0"
    assert str(calendar["prodid"])
    return calendar.walk("VEVENT")


def test_another_reader_reads_what_was_planned(case: Case) -> None:
    planned = list_events(LIBRARY, case, TODAY)
    read = parse(write_calendar(LIBRARY, case, TODAY))
    assert len(planned) == len(read) == 4
    for plan, event in zip(planned, read, strict=True):
        assert event.decoded("dtstart") == plan.first
        assert event.decoded("dtend") == plan.last + timedelta(days=1), "the end of a whole day is the next day"
        assert str(event["summary"]) == plan.summary
        assert str(event["description"]) == plan.description
        assert event.decoded("dtstamp") == datetime(2026, 11, 25, tzinfo=UTC)
        assert str(event["transp"]) == "TRANSPARENT"
        assert not event.errors


def test_the_days_are_the_windows_the_visit_and_the_end_of_taping(case: Case) -> None:
    situation = read_situation(case, LIBRARY, TODAY)
    assert situation.way
    assert situation.taping_end
    events = {e.what: (e.first, e.last) for e in list_events(LIBRARY, case, TODAY)}
    visit = case.review_date.day if case.review_date else TODAY
    for _, stage, days in list_ahead(situation.way, find_review(situation)):
        assert events.pop(stage) == (days.earliest, days.latest)
        assert visit <= days.earliest <= days.usual <= days.latest, "no stage begins before the visit that sets it"
    assert events.pop("tape") == (situation.taping_end.day,) * 2
    assert events.pop("review") == (date.fromisoformat(str(case.review_date)),) * 2
    assert not events


def test_lines_end_and_fold_as_the_standard_says(case: Case) -> None:
    text = write_calendar(LIBRARY, case, TODAY)
    assert text.endswith("END:VCALENDAR\r\n")
    assert "\n" not in text.replace("\r\n", "")
    lines = text.split("\r\n")
    assert max(len(line.encode()) for line in lines) <= 75
    assert any(line.startswith(" ") for line in lines), "no line was long enough to try the folding"
    whole = text.replace("\r\n ", "")
    assert re.search(r"DTSTART;VALUE=DATE:\d{8}\r\n", whole)
    assert "TZID" not in text


@pytest.mark.parametrize("sign", ["é", "指", "🧗"])
def test_folding_never_splits_a_sign(sign: str, case: Case) -> None:
    long = [
        dataclasses.replace(p, says=(Said(says=sign * 90 + ", a; b\\c"),)) if p.id == "calendar-more" else p
        for p in LIBRARY.vocabularies.wording
    ]
    odd = dataclasses.replace(LIBRARY, vocabularies=dataclasses.replace(LIBRARY.vocabularies, wording=tuple(long)))
    text = write_calendar(odd, case, TODAY)
    assert max(len(line.encode()) for line in text.split("\r\n")) <= 75
    assert sign * 90 + ", a; b\\c" in {str(e["description"]) for e in parse(text)}


def test_nothing_tells_who_it_is_or_what_is_hurt(case: Case) -> None:
    private = dataclasses.replace(
        case,
        reference=CANARY,
        name=CANARY,
        note=CANARY,
        clinic=Clinic(name=CANARY),
        important_dates=(ImportantDate(what=CANARY, date=Day("2027-02-03")),),
    )
    text = write_calendar(LIBRARY, private, TODAY).replace("\r\n ", "")
    assert CANARY not in text
    for word in ("pulley", "ring", "left", "finger", "grade", "@", "Thornmere"):
        assert word not in re.sub(r"^(PRODID|UID):.*$", "", text, flags=re.MULTILINE).lower().replace("during", "")
    ids = [str(e["uid"]) for e in parse(text)]
    assert len(ids) == len(set(ids))
    assert all(re.fullmatch(r"[0-9a-f]{32}", i) for i in ids)


def test_an_event_keeps_its_name_when_its_days_move(case: Case) -> None:
    """So that a calendar takes a new file as a change of the old one."""
    later = dataclasses.replace(case, began=(*case.began[:-1], Began(stage="easy-climbing", date=Day("2026-11-23"))))
    before, after = (parse(write_calendar(LIBRARY, c, TODAY)) for c in (case, later))
    assert sorted(str(e["uid"]) for e in before) == sorted(str(e["uid"]) for e in after)  # their order goes by day
    assert [e.decoded("dtstart") for e in before] != [e.decoded("dtstart") for e in after]
    other = dataclasses.replace(case, reference="another person")
    assert {str(e["uid"]) for e in parse(write_calendar(LIBRARY, other, TODAY))}.isdisjoint(
        str(e["uid"]) for e in before
    )


def test_a_case_without_days_makes_no_file(case: Case) -> None:
    path = PATH.with_name("growth-plate-left-middle.yml")
    document, _ = read_case(path, path.name)
    assert document
    held = dataclasses.replace(document.value, review_date=None)
    assert write_calendar(LIBRARY, held, TODAY) == ""


@pytest.mark.rest
def test_the_command_writes_it_only_when_asked(tmp_path: Path) -> None:
    least = PATH.with_name("growth-plate-left-middle.yml")
    arguments = ["--out", str(tmp_path), "handout", str(least), "--today", "2026-11-25"]
    assert cli.main(arguments) == 0
    assert [p.suffix for p in (tmp_path / "handouts").iterdir()].count(".ics") == 0
    assert cli.main([*arguments, "--calendar"]) == 0
    (made,) = (tmp_path / "handouts").glob("*.ics")
    assert made.stat().st_mode & 0o777 == 0o600
    assert made.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")
    assert len(parse(made.read_text(encoding="utf-8"))) == 1  # the visit
    assert json.dumps(made.name).isascii()
