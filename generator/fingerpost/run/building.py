"""The whole site, from the collection to the folder that a browser opens."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from fingerpost.desk.engine import NoEngine
from fingerpost.desk.page import make_desk
from fingerpost.files.cache import Kept
from fingerpost.files.standing import FolderNote
from fingerpost.files.telling import Tell
from fingerpost.make import pdf, website
from fingerpost.make.templates import make_environment
from fingerpost.model.library import Library
from fingerpost.plan.pages.site import plan_site
from fingerpost.run import site_build


def make_desk_files(
    library: Library, templates: Mapping[str, str], project: Path, kept: Kept, say: Tell
) -> dict[str, bytes]:
    """The files of the desk; none where its engine cannot be brought, and then its page says so."""
    try:
        return make_desk(library, templates, project, kept)
    except NoEngine as error:
        say(f"the desk is left out: {error}")
        return {}


def build_all(
    library: Library, project: Path, target: Path, kept: Kept, note: FolderNote, say: Tell, tell: Tell
) -> str:
    """Build the site into `target`, and note it where nothing was left out. Returns how much it is.

    `say` gets what is missing, `tell` how far it is.
    """
    templates = pdf.read_templates(project / "templates")
    environment = make_environment(templates)
    site = plan_site(library)
    tell("desk")
    desk = make_desk_files(library, templates, project, kept, say)
    files = desk | site_build.make_site_files(library, site, environment, project, kept, tell)
    tell("pages")
    made = website.build_site(site_build.write_kept_page(environment, project, kept), site, project, target, files)
    kept.sweep()
    sheets, notices = (sum(address.startswith(part) for address in files) for part in ("sheets/", "notices/"))
    said = f"{len(site.pages)} pages, {sheets} sets of sheets and {notices} notices"
    note.write(made if desk else None, said)
    return said
