"""Checks by programs that others wrote. Each knows of mistakes that the others and we don't look for."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

import outloud
import page as page_validation
import pdfua

from pdf_gate.document import Defect, Printed, Wanted

Found = Iterator[Defect]

# What outloud guesses from how a page looks, and is meant to look so.
_MEANT = {
    "TBL-010",  # few cells for their headings: a table of one test, or the rest of one on the next page
    "TBL-012",  # many empty cells: a diary, to be filled in by hand
    "TBL-014",  # the sides of a box, taken together with the table above it
    "PAG-001",  # for whom a sheet is, under its heading: each sheet is handed out alone
}


def pdf_ua(printed: Printed, wanted: Wanted) -> Found:
    """An independent checker finds nothing against PDF/UA-1."""
    report = page_validation.validate_pdf_bytes(printed.bytes, profile=page_validation.ValidationProfile.PDF_UA_1)
    for failure in report.failures:
        yield Defect("pdf_ua", 0, str(failure))


def pdfua_agrees(printed: Printed, wanted: Wanted) -> Found:
    """A second checker of PDF/UA-1 finds nothing either."""
    with _kept(printed) as folder:
        for finding in pdfua.validate(f"{folder}/sheet.pdf").findings:
            yield Defect("pdfua_agrees", 0, f"{finding.rule_id}: {finding.message}")


def outloud_agrees(printed: Printed, wanted: Wanted) -> Found:
    """A checker that goes by what is heard finds nothing that is not meant."""
    with _kept(printed) as folder:
        result = outloud.check(f"{folder}/sheet.pdf", skip=_MEANT)
    if result.error:
        yield Defect("outloud_agrees", 0, result.error)
    for finding in result.sorted_findings():
        yield Defect("outloud_agrees", finding.page or 0, f"{finding.rule}: {finding.message}")


def _kept(printed: Printed) -> TemporaryDirectory[str]:
    """A folder with the sheet in a file, where a checker reads no other thing."""
    folder = TemporaryDirectory()
    Path(folder.name, "sheet.pdf").write_bytes(printed.bytes)
    return folder


ALL = (pdf_ua, pdfua_agrees, outloud_agrees)
