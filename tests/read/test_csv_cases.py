"""A clinic's own table becomes cases: the same cases as from files, or a message with the line and the column."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from fingerpost.model.case import Checked
from fingerpost.model.library import Library
from fingerpost.model.times import Day
from fingerpost.plan.case.check import find_case_problems
from fingerpost.problems import ContentError
from fingerpost.read.csv_cases import Row, read_columns, read_table

TODAY = date(2026, 11, 25)
HEAD = (
    "Patient no.,Age,Injury,Grade,Side,Finger,Injured on,Stage,Checked on,Checked for stage,Since,First stage,"
    "Ring finger (mm),To the coach,Bill"
)
GOOD = "2417,A,pulley,II,L,ring,21.9.2026,settle,23.9.2026,settle,21.09.2026,settle,60.5,yes,12 EUR"


def write(folder: Path, *rows: str, head: str = HEAD, encoding: str = "utf-8", end: str = "\n") -> Path:
    path = folder / "table.csv"
    path.write_bytes(end.join((head, *rows, "")).encode(encoding))
    return path


def read(path: Path, project: Path) -> list[Row]:
    columns = project / "templates" / "project" / "columns.yml"
    return read_table(path, path.name, read_columns(columns, columns.name), columns.name)


def refusals(path: Path, project: Path) -> list[str]:
    with pytest.raises(ContentError) as caught:
        read(path, project)
    return [str(problem) for problem in caught.value.problems]


def test_a_row_is_the_case_that_it_tells_of(project: Path, tmp_path: Path, library: Library) -> None:
    (row,) = read(write(tmp_path, GOOD), project)
    document, problems = row.read()
    assert document is not None
    assert problems == list(find_case_problems(document, library, TODAY)) == []
    case = document.value
    assert (case.reference, case.age_band, case.hand, case.share_with_coach) == ("2417", "adult", "left", True)
    assert (case.anchor.event, case.anchor.date, case.began[0].date) == ("injury", "2026-09-21", "2026-09-21")
    assert case.checked == Checked(
        name="Imogen Thackeray-Vale", role="hand therapist", date=Day("2026-09-23"), stage="settle"
    )
    assert (case.finger_sizes[0].finger, case.finger_sizes[0].mm) == ("ring", 60.5)


def test_a_name_in_every_row_has_not_checked_the_row_without_a_day(project: Path, tmp_path: Path) -> None:
    (row,) = read(write(tmp_path, GOOD.replace("23.9.2026,settle", ",")), project)
    document, problems = row.read()
    assert problems == []
    assert document is not None
    assert document.value.checked is None


@pytest.mark.parametrize(("separator", "encoding", "end"), [(";", "utf-8-sig", "\r\n"), ("\t", "utf-8", "\n")])
def test_tables_come_as_other_programs_save_them(
    separator: str, encoding: str, end: str, project: Path, tmp_path: Path
) -> None:
    head, row = (text.replace(",", separator) for text in (HEAD, GOOD.replace("60.5", "60¦5")))
    path = write(tmp_path, row.replace("¦", ","), "", head=head, encoding=encoding, end=end)
    (found,) = read(path, project)
    document, _ = found.read()
    assert document is not None
    assert document.value.finger_sizes[0].mm == 60.5


def test_without_a_file_of_columns_the_titles_are_the_fields(tmp_path: Path) -> None:
    """RFC 4180: a cell in quotes may hold separators, line breaks, and quotes written twice."""
    head = (
        "reference,age_band,protocol,grade,hand,finger,place,anchor.event,anchor.date,stage,baselines[0].kg,note,"
        "clinic.name,clinic.lines,began[0].stage,began[0].date,began[1].stage,began[1].date,print_size"
    )
    row = (
        '1,adult,pulley,II,left,ring,a2-pulley,injury,2026-09-21,move,,"Rest, he said.\nThen ""slowly"".",'
        "Clinic,Old Lane; Thornmere,,,move,2026-10-01,14"
    )
    first, second = read_table(write(tmp_path, row, row, head=head), "t.csv", None)
    document, problems = first.read()
    assert problems == []
    assert document is not None
    assert document.value.note == 'Rest, he said.\nThen "slowly".'
    assert document.value.clinic is not None
    assert document.value.clinic.lines == ("Old Lane", "Thornmere")
    assert [b.stage for b in document.value.began] == ["move"]
    assert document.value.baselines == ()
    assert document.value.print_size == 14
    assert (first.line, second.line) == (2, 4)


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("ring", "thumb", "t.csv:3: column 'Finger': a thumb has other pulleys"),
        ("60.5", "about 60", "t.csv:3: column 'Ring finger (mm)': must be a number"),
        ("yes", "perhaps", "t.csv:3: column 'To the coach': must be true or false"),
        ("21.9.2026", "31.2.2026", "t.csv:3: column 'Injured on': the calendar has no day 2026-02-31"),
        ("21.9.2026", "9/21/2026", "t.csv:3: column 'Injured on': "),
        ("2417", "", "t.csv:3: column 'Patient no.': 'reference' is missing"),
        ("II,", "IX,", "t.csv:3: column 'Grade': "),
        ("23.9.2026", "", "t.csv:3: column 'Checked on': 'date' is missing"),
        ("settle,23", "move,23", "t.csv:3: column 'Checked for stage': stage 'settle' was checked"),
        (",pulley", ",puley", "t.csv:3: column 'Injury': no protocol is called 'puley'"),
    ],
)
def test_what_is_wrong_is_told_with_its_line_and_column(
    old: str, new: str, told: str, project: Path, tmp_path: Path, library: Library
) -> None:
    path = write(tmp_path, GOOD, GOOD.replace(old, new, 1)).rename(tmp_path / "t.csv")
    good, bad = read(path, project)
    assert good.read()[1] == []
    document, problems = bad.read()
    if document:
        problems = [bad.name_column(p) for p in find_case_problems(document, library, TODAY)]
    assert any(str(problem).startswith(told) for problem in problems), [str(p) for p in problems]


def test_a_table_that_is_none_is_refused(project: Path, tmp_path: Path) -> None:
    assert refusals(write(tmp_path, GOOD, head=HEAD.replace("Grade", "Grad")), project) == [
        "columns.yml: the table has no column 'Grade'\n    Did you mean 'Grad'?"
    ]
    assert "14 cells, but 15 titles" in refusals(write(tmp_path, GOOD.removesuffix(",12 EUR")), project)[0]
    assert (
        "two columns are called 'Age'" in refusals(write(tmp_path, GOOD, head=HEAD.replace("Bill", "Age")), project)[0]
    )
    assert refusals(write(tmp_path, '2417,"A"dult'), project)[0].startswith("table.csv:2: this is not a table")
    assert "empty" in refusals(write(tmp_path, head=""), project)[0]
    assert "UTF-8" in refusals(write(tmp_path, GOOD.replace("EUR", "€"), encoding="cp1252"), project)[0]
    with pytest.raises(ContentError, match="1 problem") as caught:
        read_table(write(tmp_path, "1", head="referense"), "t.csv", None)
    assert "Did you mean 'reference'?" in str(caught.value.problems[0])


def test_columns_of_fields_that_a_case_has_not_are_refused(project: Path, tmp_path: Path) -> None:
    wrong = tmp_path / "columns.yml"
    for field in ("ancor.date", "anchor", "began", "began[0]", "kg", "baselines.kg", "reference[0]", "began[x].date"):
        wrong.write_text(f"columns: [{{title: Age, field: '{field}'}}]\n", encoding="utf-8")
        with pytest.raises(ContentError) as caught:
            read_table(write(tmp_path, GOOD), "t.csv", read_columns(wrong, "columns.yml"), "columns.yml")
        assert f"a case has no field '{field}'" in str(caught.value.problems[0])
