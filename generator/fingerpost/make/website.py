"""Plan and drawings become a mkdocs site. The only importer of mkdocs."""

from __future__ import annotations

import errno
import html
import itertools
import json
import logging
import os
import posixpath
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from jinja2 import Environment, TemplateError

from fingerpost.draw.picture import draw
from fingerpost.files.disk import exchange, find_leftovers, name_work, put_back
from fingerpost.files.standing import hash_places
from fingerpost.make.templates import render
from fingerpost.plan.base.blocks import Page, Site
from fingerpost.plan.base.drawings import list_drawings
from fingerpost.plan.machines.data import SITEMAP
from fingerpost.problems import MakeError

_REDIRECT = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">
<title>This page has moved</title><meta name="description" content="This page has moved">
<meta http-equiv="refresh" content="0; url={to}"><link rel="canonical" href="{to}"></head>
<body><main><h1>This page has moved</h1><p><a href="{to}">Go to the new page</a></p></main></body></html>
"""

_NOT_NEEDED = (
    "sitemap.xml*",  # dated, and empty where nobody knows where the site will stand: ours comes with the files
    "**/*.map",
    "assets/images",
    "assets/javascripts/lunr",
    "assets/stylesheets",
    "fonts/*.ttf",
)
"""What mkdocs and its theme write, and no page asks for."""


WritePage = Callable[[Page], bytes]


class WebsiteError(MakeError):
    """The site could not be built. An earlier site is untouched."""


def href_from(address: str) -> Callable[[str], str]:
    """A function that turns a site address into a link from the page at `address` that also works from a folder.

    A target that starts with '#' is on the page itself.
    """

    def href(target: str) -> str:
        if target.startswith("#"):
            return target
        path, _, anchor = target.partition("#")
        file = f"{path}index.html" if path == "" or path.endswith("/") else path
        link = posixpath.relpath(file, address or ".")
        return f"{link}#{anchor}" if anchor else link

    return href


def write_page(environment: Environment, page: Page) -> bytes:
    """One page as Markdown with HTML blocks."""
    drawings = {
        d.name: draw(d.picture, prefix=f"d{n}-", width_mm=d.width_mm) for n, d in enumerate(list_drawings(page))
    }
    return (
        render(environment, "site/page.md", href=href_from(page.address), drawings=drawings, page=page)
        .lstrip()
        .encode()
    )


def _write_nav(site: Site) -> list[object]:
    """The menu: pages beside each other, each with the pages that stand under it.

    Under the list of injuries they stand in two groups.
    """
    shown = [page for page in site.pages if page.menu]
    entries = {page.address: {page.menu: f"{page.address}index.md"} for page in shown}
    below: dict[str, list[object]] = {page.address: [] for page in shown}
    for page in (p for p in shown if p.under):
        below[page.under].append(entries[page.address])
    groups = {kind: [entries[p.address] for p in shown if p.kind == kind] for kind in ("protocol", "referral")}
    injuries = next(page.address for page in shown if page.kind == "injuries")
    below[injuries] = [*groups["protocol"], {site.referral_menu: groups["referral"]}]
    top = [page for page in shown if not page.under and page.kind not in groups]
    return [
        {page.menu: [entries[page.address], *below[page.address]]} if below[page.address] else entries[page.address]
        for page in top
    ]


def _write_config(folder: Path, work: Path, site: Site) -> Path:
    """A mkdocs configuration over the project's own. JSON is YAML."""
    config = {
        "INHERIT": str(folder / "mkdocs.yml"),
        "site_name": site.name,
        "site_description": site.description,
        "docs_dir": str(work / "docs"),
        "site_dir": str(work / "site"),
        "theme": {"custom_dir": str(folder / "site_overrides")},
        "nav": _write_nav(site),
        "not_in_nav": "\n".join(f"/{page.address}index.md" for page in site.pages if not page.menu),
        "extra": {"labels": dict(site.labels)},
    }
    path = work / "mkdocs.yml"
    path.write_text(json.dumps(config, indent=1, ensure_ascii=False), encoding="utf-8")
    return path


class _SiteListener(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.heard: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.heard.append(record.getMessage())


def _run_mkdocs(config: Path) -> None:
    """Build strictly: a warning of mkdocs is an error here."""
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    from mkdocs.commands.build import build
    from mkdocs.config import load_config
    from mkdocs.exceptions import MkDocsException

    listener = _SiteListener()
    log = logging.getLogger("mkdocs")
    spread, log.propagate = log.propagate, False
    log.addHandler(listener)
    try:
        build(load_config(str(config), strict=True))
    except (MkDocsException, SystemExit) as error:
        raise WebsiteError("; ".join(listener.heard) or str(error)) from error
    finally:
        log.removeHandler(listener)
        log.propagate = spread
    if listener.heard:
        raise WebsiteError("; ".join(listener.heard))


@contextmanager
def _work_folder(beside: Path) -> Iterator[Path]:
    beside.parent.mkdir(parents=True, exist_ok=True)
    for left in find_leftovers(beside.parent, "site"):
        put_back(left, beside)
    work = Path(tempfile.mkdtemp(prefix=name_work("site"), dir=beside.parent))
    try:
        yield work
    finally:
        shutil.rmtree(work, ignore_errors=True)


def _drop_what_is_not_needed(made: Path) -> None:
    for pattern in _NOT_NEEDED:
        for path in list(made.glob(pattern)):
            shutil.rmtree(path) if path.is_dir() else path.unlink()


def _swap(made: Path, target: Path, work: Path) -> None:
    """Put a finished folder in the place of an earlier one, which goes away with the work folder.

    In one step, where the system can. Where it takes two, another build may put its own there between them. Then that
    one is the earlier one.
    """
    made.chmod(0o755)
    if target.is_dir() and exchange(made, target):
        return
    for turn in itertools.count():
        earlier = work / f"earlier-{turn}"
        with suppress(FileNotFoundError):
            target.rename(earlier)
        try:
            made.rename(target)
            return
        except OSError as error:
            if error.errno in (errno.ENOTEMPTY, errno.EEXIST):
                continue
            if earlier.exists():
                earlier.rename(target)
            raise


def _write(path: Path, content: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)


def _make_site(write: WritePage, site: Site, folder: Path, work: Path, files: Mapping[str, bytes]) -> Path:
    docs, made = work / "docs", work / "site"
    for page in site.pages:
        _write(docs / page.address / "index.md", write(page))
    for address, content in files.items():
        _write(docs / address, content)
    _run_mkdocs(_write_config(folder, work, site))
    for old, now in site.redirects:
        _write(made / old / "index.html", _REDIRECT.format(to=html.escape(href_from(old)(now))).encode())
    _drop_what_is_not_needed(made)
    if SITEMAP in files:
        _write(made / SITEMAP, files[SITEMAP])
    return made


def build_site(write: WritePage, site: Site, folder: Path, target: Path, files: Mapping[str, bytes]) -> bytes | None:
    """Build the site into `target`. `write` makes the Markdown of a page; `files` are added as they are, by address.

    Everything is made beside the target and moved there at the end, so that a failure leaves an earlier site whole.
    Returns a digest of what was made, taken before another build can put its own in the place.
    Raises WebsiteError when a template is wrong or mkdocs warns about anything.
    """
    with _work_folder(target) as work:
        try:
            made = _make_site(write, site, folder, work, files)
        except TemplateError as error:
            where = f"{getattr(error, 'name', None) or 'a template'}:{getattr(error, 'lineno', '?')}"
            raise WebsiteError(f"{where}: {error.message}") from error
        except OSError as error:
            error.filename = error.filename or os.fspath(target)
            raise
        digest = hash_places(made)
        _swap(made, target, work)
        return digest
