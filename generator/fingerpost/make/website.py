"""Plan and drawings become a folder of pages, whole or not at all."""

from __future__ import annotations

import errno
import html
import itertools
import os
import posixpath
import shutil
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

from jinja2 import Environment, TemplateError

from fingerpost.draw.pens.svg import read_size
from fingerpost.draw.picture import draw
from fingerpost.files.disk import exchange, find_leftovers, name_work, put_back
from fingerpost.files.standing import hash_places
from fingerpost.make import search_index
from fingerpost.make.drawn.on_screen import put_on_screen
from fingerpost.make.drawn.shorter import shorten_lines
from fingerpost.make.templates import render
from fingerpost.plan.base.addresses import picture_address
from fingerpost.plan.base.blocks import Drawing, Page
from fingerpost.plan.base.paper import Site
from fingerpost.plan.base.visible import list_drawings
from fingerpost.problems import MakeError

_REDIRECT = """<!DOCTYPE html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">
<title>This page has moved</title><meta name="description" content="This page has moved">
<meta http-equiv="refresh" content="0; url={to}"><link rel="canonical" href="{page}"></head>
<body><main><h1>This page has moved</h1><p><a href="{to}">Go to the new page</a></p></main></body></html>
"""

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
    """What stands on a page, as HTML without the frame round it."""
    drawings = {d.name: put_on_screen(_draw(d, f"d{n}-")) for n, d in enumerate(list_drawings(page))}
    shared = {d.name: (picture_address(d.name), *_count_tenths(drawings[d.name])) for d in page.stock}
    href = href_from(page.address)
    made = render(environment, "site/page.html", href=href, drawings=drawings, page=page, shared=shared)
    return made.lstrip().encode()


def draw_stock(site: Site) -> dict[str, bytes]:
    """The small pictures that several pages show, by address: each a file of its own, which a browser keeps."""
    stock = {d.name: d for page in site.pages for d in page.stock}
    return {picture_address(d.name): _draw(d, f"{d.name}-").encode() for d in stock.values()}


def _draw(drawing: Drawing, prefix: str) -> str:
    return shorten_lines(draw(drawing.picture, prefix=prefix, width_mm=drawing.width_mm))


def _count_tenths(svg: str) -> tuple[int, int]:
    """How wide and how high a drawing is, in tenths of a mm: whole numbers, as HTML wants them."""
    width, height = read_size(svg)
    return round(10 * width), round(10 * height)


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


def _write_redirect(old: str, now: str) -> bytes:
    """A page that leads from one address to another, also to a place on it; the page itself is what is to be found."""
    to = html.escape(href_from(old)(now))
    return _REDIRECT.format(to=to, page=to.partition("#")[0]).encode()


def _make_site(write: WritePage, site: Site, folder: Path, work: Path, files: Mapping[str, bytes]) -> None:
    from fingerpost.make.mkdocs_site import Content, run_mkdocs

    rest, contents = dict(files), {}
    for page in site.pages:
        own = rest.pop(f"{page.address}index.html", None)
        contents[page.address] = Content(own.decode(), f"{page.kind}.html") if own else Content(write(page).decode())
    rest |= draw_stock(site)
    rest |= {f"{old}index.html": _write_redirect(old, now) for old, now in site.redirects}
    rest[search_index.ADDRESS] = search_index.write_index(site.search, {page.address for page in site.pages})
    if heard := run_mkdocs(folder, work, site, contents, rest):
        raise WebsiteError("; ".join(heard))


def build_site(write: WritePage, site: Site, folder: Path, target: Path, files: Mapping[str, bytes]) -> bytes | None:
    """Build the site into `target`. `write` makes what stands on a page; `files` are added as they are, by address.

    A file at the address of a page stands in the place of what is planned, in a frame for its kind: site_overrides/.
    Everything is made beside the target and moved there at the end, so that a failure leaves an earlier site whole.
    Returns a digest of what was made, taken before another build can put its own in the place.
    Raises WebsiteError when a template is wrong or mkdocs warns about anything.
    """
    with _work_folder(target) as work:
        try:
            _make_site(write, site, folder, work, files)
        except TemplateError as error:
            where = f"{getattr(error, 'name', None) or 'a template'}:{getattr(error, 'lineno', '?')}"
            raise WebsiteError(f"{where}: {error.message}") from error
        except OSError as error:
            error.filename = error.filename2 or error.filename or os.fspath(target)  # the second is where a copy goes
            raise
        digest = hash_places(work / "site")
        _swap(work / "site", target, work)
        return digest
