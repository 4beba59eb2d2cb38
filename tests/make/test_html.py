"""Every page and every sheet is HTML as the standard wants it, so that no browser has to guess what was meant."""

from __future__ import annotations

import io
import json
import tarfile
from pathlib import Path

import html_checker
import pytest
from html_checker import Fault, find_faults
from pdf_gate.samples import TODAY, cases, environment, library
from site_under_test import whole_site

from fingerpost.make.handout_html import write_html
from fingerpost.make.posters_html import write_coach_sheet, write_key, write_notice
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.person.coach import plan_coach_sheet
from fingerpost.plan.walls.notices import plan_notices
from fingerpost.plan.walls.paper_key import plan_key

pytestmark = pytest.mark.rest

# What stands as it is, as (words of the message, letters in its place, why).
EXPLAINED = (
    (
        "Attribute “autocomplete” is only allowed when the input type is",
        '<input class="md-toggle"',
        "The theme writes these two hidden boxes where no template of ours can. Browsers pass over the attribute.",
    ),
)


def find_unexplained(faults: list[Fault]) -> list[str]:
    known = [(says, part) for says, part, _ in EXPLAINED]
    return [str(f) for f in faults if not any(f.says.startswith(says) and part in f.part for says, part in known)]


def test_a_browser_need_not_guess_at_any_page(built_site: Path) -> None:
    assert len(list(built_site.rglob("*.html"))) > len(whole_site().pages)
    faults = find_faults(built_site)
    assert find_unexplained(faults) == []
    for says, part, _ in EXPLAINED:
        assert any(f.says.startswith(says) and part in f.part for f in faults), f"nothing needs this any more: {part}"


def test_the_print_engine_need_not_guess_at_any_sheet(tmp_path: Path) -> None:
    notices = plan_notices(library())
    assert notices
    made = {f"notice-{n}": write_notice(environment(), notice) for n, notice in enumerate(notices)}
    made["key"] = write_key(environment(), plan_key(Writer(library()), "A4"))
    for name, case in cases().items():
        made[f"handout-{name}"] = write_html(environment(), plan_handout(library(), case, TODAY))
        if case.share_with_coach:
            made[f"coach-{name}"] = write_coach_sheet(environment(), plan_coach_sheet(library(), case, TODAY))
    for handout in whole_site().handouts:
        made[f"general-{handout.file_stem}-{handout.paper}"] = write_html(environment(), handout)
    for name, text in made.items():
        (tmp_path / f"{name}.html").write_text(text, encoding="utf-8")
    assert [str(fault) for fault in find_faults(tmp_path)] == []


# --- Would it notice?

START = '<!DOCTYPE html><html lang="en"><head><meta charset="utf-8"><title>Fingers</title></head><body>'
BROKEN = {
    "twice": (f'{START}<p id="a">one</p><p id="a">two</p>', "Duplicate ID"),
    "unclosed": (f"{START}<section><p>one", "Unclosed element"),
    "misplaced": (f"{START}<ul><p>one</p></ul>", "not allowed as child of element “ul”"),
    "nameless": (f'{START}<img src="hand.png">', "must have an “alt” attribute"),
    "roles": (
        f'{START}<table role="table"><tr role="row"><td>1</td></tr></table>',
        "“role” attribute must not",
    ),
    "unneeded": (f'{START}<main role="main"><p>one</p></main>', "is unnecessary for element"),
    "untitled": ('<!DOCTYPE html><html lang="en"><head></head><body><p>one</p></body></html>', "“title”"),
}


@pytest.fixture(scope="module")
def broken(tmp_path_factory: pytest.TempPathFactory) -> list[Fault]:
    folder = tmp_path_factory.mktemp("broken")
    for name, (text, _) in BROKEN.items():
        (folder / f"{name}.html").write_text(text, encoding="utf-8")
    return find_faults(folder)


@pytest.mark.parametrize("name", BROKEN)
def test_a_fault_would_be_noticed(name: str, broken: list[Fault]) -> None:
    says = [fault.says for fault in broken if fault.file == f"{name}.html"]
    assert any(BROKEN[name][1] in line for line in says), says


def test_an_empty_folder_is_no_proof(tmp_path: Path) -> None:
    with pytest.raises(AssertionError, match="nothing to check"):
        find_faults(tmp_path)


def test_only_the_program_that_we_know_is_run() -> None:
    integrity = json.loads(html_checker.LOCK.read_text(encoding="utf-8"))["integrity"]
    package = io.BytesIO()
    with tarfile.open(fileobj=package, mode="w:gz") as file:
        member = tarfile.TarInfo(html_checker.JAR)
        member.size = 4
        file.addfile(member, io.BytesIO(b"evil"))
    with pytest.raises(AssertionError, match="another hash"):
        html_checker.unpack(package.getvalue(), integrity)
