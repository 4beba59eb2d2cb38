"""What readers see, as text: a change of content shows here, line by line, in review.

Refresh with `./run test tests/plan/test_golden.py --refresh-golden`, then read the difference before committing it.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.plan.base.outline import outline_handout, outline_page
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.pages.general import plan_general_handout
from fingerpost.plan.pages.site import plan_site
from fingerpost.plan.person.reasons import list_reasons

GOLDEN = Path(__file__).resolve().parents[1] / "golden"
TODAY = date(2026, 11, 25)
PROTOCOLS = [p.stem for p in sorted((GOLDEN.parent.parent / "protocols").glob("[!_]*.yml"))]
CASES = [p.stem for p in sorted((GOLDEN / "cases").glob("*.yml"))]


def compare(name: str, text: str, request: pytest.FixtureRequest) -> None:
    path = GOLDEN / name
    if request.config.getoption("--refresh-golden"):
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert path.is_file(), f"there is no {path.name} yet: refresh the golden files"
    assert path.read_text(encoding="utf-8") == text, "readers see something else: read the diff, then refresh"


def test_the_guard_sees_every_protocol_and_case() -> None:
    assert len(PROTOCOLS) == 7
    assert len(CASES) == 3


@pytest.mark.parametrize("protocol", PROTOCOLS)
def test_a_protocols_general_sheets_are_as_reviewed(
    protocol: str, library: Library, request: pytest.FixtureRequest
) -> None:
    compare(f"sheets/{protocol}.txt", outline_handout(plan_general_handout(library, protocol, "A4")), request)


def test_every_page_is_as_reviewed(library: Library, request: pytest.FixtureRequest) -> None:
    pages = plan_site(library).pages
    assert len(pages) > 25
    for page in pages:
        name = page.address.strip("/").replace("/", "-") or "home"
        compare(f"pages/{name}.txt", outline_page(page), request)


@pytest.mark.parametrize("case", CASES)
def test_a_persons_sheets_and_sums_are_as_reviewed(
    case: str, library: Library, cases: dict[str, Case], request: pytest.FixtureRequest
) -> None:
    outline = outline_handout(plan_handout(library, cases[case], TODAY))
    sums = "\n".join(str(reason) for reason in list_reasons(library, cases[case], TODAY))
    compare(f"handouts/{case}.txt", f"{outline}\n{sums}\n", request)
