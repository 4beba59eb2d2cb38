"""Every file that is made, by its address on the site or its name on disk, as bytes. The command line writes them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from functools import partial
from pathlib import Path

from jinja2 import Environment
from jinja2 import __version__ as jinja2_version

from fingerpost.draw.contact import contact_sheet, list_versions
from fingerpost.files.cache import Kept, hash_files
from fingerpost.files.telling import Tell
from fingerpost.make import display_html, pdf, posters_html, website
from fingerpost.make.data_files import make_data_files
from fingerpost.make.drawn.on_screen import DARK, list_colours
from fingerpost.make.handout_html import write_html
from fingerpost.model.case import Case
from fingerpost.model.library import Library
from fingerpost.model.words import PAPERS
from fingerpost.plan.base.addresses import key_address, notice_address, sheet_address
from fingerpost.plan.base.blocks import Page
from fingerpost.plan.base.paper import Handout, Site
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.leaf.handout import plan_handout
from fingerpost.plan.person.calendar import write_calendar
from fingerpost.plan.person.coach import plan_coach_sheet
from fingerpost.plan.walls.display import plan_display
from fingerpost.plan.walls.notices import NOTICE_PAPERS, NoticeSheet, plan_notices
from fingerpost.plan.walls.paper_key import plan_key

Files = dict[str, bytes]
UNCHECKED = "not `checked` by a clinician, so every page says that it is a specimen"
NOT_SHARED = "no coach sheet, because share_with_coach is not true in this case"


def _write_notice(environment: Environment, notice: NoticeSheet) -> bytes:
    return posters_html.write_notice(environment, notice).encode()


def make_notices(
    library: Library, environment: Environment, folder: Path, kept: Kept, wanted: str | None, tell: Tell
) -> Files:
    """The posters by their address on the site: all, or those of one protocol, or those to start from."""
    notices = plan_notices(library, wanted)
    files, code = {}, hash_code(folder)
    for number, notice in enumerate(notices, 1):
        tell(f"notices {number} of {len(notices)}")
        html = kept.take("notice", code, repr(notice), make=partial(_write_notice, environment, notice))
        files[f"notices/{notice.file_stem}.pdf"] = pdf.print_kept(
            html.decode(), folder, kept, posters_html.NOTICE_STYLE
        )
    return files


def hash_code(folder: Path) -> bytes:
    """All that makes a page or a sheet out of a plan: our code, the templates, and the libraries behind them."""
    sources = [*(folder / "generator").rglob("*.py"), *(folder / "templates").rglob("*.*")]
    return f"{jinja2_version} ".encode() + hash_files(sources, folder)


def _print_general(environment: Environment, handout: Handout, folder: Path, kept: Kept, code: bytes) -> bytes:
    html = kept.take("sheets", code, repr(handout), make=lambda: write_html(environment, handout).encode())
    return pdf.print_kept(html.decode(), folder, kept)


def write_kept_page(environment: Environment, folder: Path, kept: Kept) -> website.WritePage:
    """What writes the pages of the site, each only where its plan or our code has changed."""
    code = hash_code(folder)

    def write(page: Page) -> bytes:
        return kept.take("page", code, repr(page), make=lambda: website.write_page(environment, page))

    return write


def list_addresses(library: Library, site: Site) -> tuple[str, ...]:
    """The addresses of all that `make_site_files` makes: people, posters and programs may point at them."""
    made = (
        *(f"sheets/{handout.file_stem}.pdf" for handout in site.handouts),
        *(key_address(paper) for paper in PAPERS),
        *(f"notices/{notice.file_stem}.pdf" for notice in plan_notices(library)),
        display_html.ADDRESS,
        *make_data_files(library, ()),
    )
    return (*made, *(old for old, _ in _keep_retired(library, dict.fromkeys(made, b""))))


def make_site_files(
    library: Library, site: Site, environment: Environment, folder: Path, kept: Kept, tell: Tell
) -> Files:
    """Everything of the site that is not a page: sheets, the key, notices, the display, data.

    `kept` has what was made before; `tell` hears how far it is.
    """
    files: Files = {}
    code = hash_code(folder)
    for number, handout in enumerate(site.handouts, 1):
        tell(f"sheets {number} of {len(site.handouts)}")
        files[f"sheets/{handout.file_stem}.pdf"] = _print_general(environment, handout, folder, kept, code)
    for paper in PAPERS:
        html = posters_html.write_key(environment, plan_key(Writer(library), paper))
        files[key_address(paper)] = pdf.print_kept(html, folder, kept, posters_html.KEY_STYLE)
    files |= make_notices(library, environment, folder, kept, None, tell)
    files[display_html.ADDRESS] = display_html.write_display(environment, plan_display(library), folder).encode()
    files |= make_data_files(library, [page.address for page in site.pages])
    return files | dict(_keep_retired(library, files))


def _keep_retired(library: Library, files: Mapping[str, bytes]) -> Iterator[tuple[str, bytes]]:
    """The sheets and notices of a retired protocol are those of the one that took its place: a PDF cannot redirect."""
    for retired in library.vocabularies.retired:
        pairs = [(sheet_address(retired.id, p), sheet_address(retired.now, p)) for p in PAPERS]
        pairs += [(notice_address(retired.id, p), notice_address(retired.now, p)) for p in NOTICE_PAPERS]
        yield from ((old, files[now]) for old, now in pairs if now in files)


def make_coach_sheet(library: Library, environment: Environment, case: Case, today: date, folder: Path) -> Files:
    """The coach sheet of a case by its file name; nothing where the athlete does not share it."""
    if not case.share_with_coach:
        return {}
    sheet = plan_coach_sheet(library, case, today)
    html = posters_html.write_coach_sheet(environment, sheet)
    return {f"{sheet.file_stem}.pdf": pdf.print_pdf(html, folder, posters_html.COACH_STYLE)}


def make_case_files(
    library: Library, environment: Environment, case: Case, today: date, folder: Path, calendar: bool
) -> Files:
    """The handout of a case, the coach sheet if it is shared, and the calendar if it is asked for and has any days."""
    plan = plan_handout(library, case, today)
    files = {f"{plan.file_stem}.pdf": pdf.print_handout(environment, plan, folder)}
    files |= make_coach_sheet(library, environment, case, today, folder)
    days = write_calendar(library, case, today) if calendar else ""
    return files | ({f"{plan.file_stem}.ics": days.encode()} if days else {})


def make_contact_sheets(library: Library, folder: Path) -> Files:
    """Every kind of drawing in each version of the contact sheet, as HTML and as PDF, by file name."""
    style = (folder / "site_overrides" / "assets" / "frame.css").read_text("utf-8")
    files: Files = {}
    for version in list_versions(list_colours(style, DARK)):
        html = contact_sheet(library, version)
        files[f"drawings-{version.name}.html"] = html.encode()
        files[f"drawings-{version.name}.pdf"] = pdf.print_pdf(html, folder, "contact.css")
    return files
