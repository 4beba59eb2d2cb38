"""The whole site, from the collection to the folder that a browser opens."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

from fingerpost.desk.engine import NoEngine
from fingerpost.desk.page import make_desk
from fingerpost.files.cache import Kept
from fingerpost.make import pdf, website
from fingerpost.make.templates import make_environment
from fingerpost.model.library import Library
from fingerpost.plan.pages.site import plan_site
from fingerpost.run import site_build

Say = Callable[[str], None]


def make_desk_files(
    library: Library, templates: Mapping[str, str], project: Path, kept: Kept, say: Say
) -> dict[str, bytes]:
    """The files of the desk; none where its engine cannot be brought, and then its page says so."""
    try:
        return make_desk(library, templates, project, kept)
    except NoEngine as error:
        say(f"the desk is left out: {error}")
        return {}


def build_all(
    library: Library, project: Path, out: Path, name: Callable[[Path], str], say: Say, tell: site_build.Tell
) -> None:
    """Build the site into the folder 'site' of `out`. `say` gets what is made, `tell` how far it is."""
    templates = pdf.read_templates(project / "templates")
    environment = make_environment(templates)
    site, kept, target = plan_site(library), Kept(out / ".kept"), out / "site"
    tell("desk")
    files = make_desk_files(library, templates, project, kept, say)
    files |= site_build.make_site_files(library, site, environment, project, kept, tell)
    tell("pages")
    website.build_site(site_build.write_kept_page(environment, project, kept), site, project, target, files)
    kept.sweep()
    sheets, notices = (sum(address.startswith(part) for address in files) for part in ("sheets/", "notices/"))
    say(f"{len(site.pages)} pages, {sheets} sets of sheets and {notices} notices are in {name(target)}")
