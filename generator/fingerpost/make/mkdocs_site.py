"""The plan of the site as mkdocs asks for it: its pages, their parts and the menu. The only importer of mkdocs.

Nothing here is Markdown. mkdocs lets its plugins say which files there are and what a page holds; the one below says
what was planned and laid out, and the theme sets its frame round it.
"""

from __future__ import annotations

import html
import logging
import os
import posixpath
import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import unquote

from mkdocs.commands.build import build
from mkdocs.config import load_config
from mkdocs.config.defaults import MkDocsConfig
from mkdocs.exceptions import MkDocsException
from mkdocs.plugins import BasePlugin
from mkdocs.structure.files import File, Files, InclusionLevel
from mkdocs.structure.pages import Page as Framed
from mkdocs.structure.toc import AnchorLink, TableOfContents

from fingerpost.plan.base.blocks import Page
from fingerpost.plan.base.paper import Site

_LOG = logging.getLogger("mkdocs.fingerpost")
_ID, _HREF = re.compile(r'\sid="([^"]+)"'), re.compile(r'\shref="([^"]*)"')
_ELSEWHERE = re.compile("[a-z]+:")
TOP = "top"
"""The anchor of the heading of every page, as templates/site/page.html writes it."""


@dataclass(frozen=True)
class Content:
    """What stands on a page, as HTML. `frame`: the template for it in site_overrides/, '' for that of all pages."""

    html: str
    frame: str = ""


def _source(page: Page) -> str:
    """What mkdocs takes for the file that a page is made from."""
    return f"{page.address}index.md"


def _write_nav(site: Site) -> list[Any]:
    """The menu: pages beside each other, each with the pages that stand under it.

    Under the list of injuries they stand in two groups.
    """
    shown = [page for page in site.pages if page.menu]
    entries = {page.address: {page.menu: _source(page)} for page in shown}
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


def _list_parts(page: Page) -> TableOfContents:
    """What is on a page, as the theme shows it beside the page: the title, under it the sections, each with its own."""
    parts = [AnchorLink(html.escape(page.title), TOP, 1)]
    for section in page.sections:
        above = parts[0].children if section.level == 2 else parts[0].children[-1].children
        above.append(AnchorLink(html.escape(section.heading), section.id, section.level))
    return TableOfContents(parts)


class _Plan(BasePlugin):  # type: ignore[type-arg,no-untyped-call]
    """What mkdocs hears from the plan while it builds."""

    def __init__(self, site: Site, contents: Mapping[str, Content], files: Mapping[str, bytes]) -> None:
        self.pages = {_source(page): page for page in site.pages}
        self.contents, self.files = contents, files

    def on_files(self, files: Files, *, config: MkDocsConfig) -> Files:
        for source, page in self.pages.items():
            shown = InclusionLevel.INCLUDED if page.menu else InclusionLevel.NOT_IN_NAV
            files.append(File.generated(config, source, content="", inclusion=shown))
        for address, content in self.files.items():
            files.append(File.generated(config, address, content=content, inclusion=InclusionLevel.INCLUDED))
        return files

    def on_page_content(self, _: str, *, page: Framed, config: MkDocsConfig, files: Files) -> str:
        planned = self.pages[page.file.src_uri]
        content = self.contents[planned.address]
        page.meta = {
            "title": planned.title,
            "description": planned.description,
            "linked_data": planned.linked_data,
            "template": content.frame or "main.html",
            "in_tiers": planned.in_tiers,
        }
        page.toc = _list_parts(planned)
        self._follow_links(page, content.html, files, config.validation.links.not_found)
        return content.html

    def _follow_links(self, page: Framed, content: str, files: Files, level: int) -> None:
        """Say which links lead nowhere, and let mkdocs look for the anchors, as it does for Markdown."""
        page.present_anchor_ids = {html.unescape(found) for found in _ID.findall(content)}
        page.links_to_anchors = {}
        here = posixpath.dirname(page.file.dest_uri)
        for link in dict.fromkeys(html.unescape(found) for found in _HREF.findall(content)):
            if _ELSEWHERE.match(link):
                continue
            path, _, anchor = link.partition("#")
            target = posixpath.normpath(posixpath.join(here, unquote(path))) if path else page.file.dest_uri
            source = target.removesuffix("html") + "md"
            file = files.get_file_from_path(source) or files.get_file_from_path(target)
            if not file or file.inclusion is InclusionLevel.EXCLUDED:
                _LOG.log(level, "%s: the link '%s' leads nowhere", page.file.src_uri, link)
            elif anchor:
                page.links_to_anchors.setdefault(file, {})[unquote(anchor)] = link


class _Listener(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.heard: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.heard.append(record.getMessage())


def run_mkdocs(
    project: Path, work: Path, site: Site, contents: Mapping[str, Content], files: Mapping[str, bytes]
) -> list[str]:
    """Build `site` in the folder `work`, strictly; what went wrong, in the words of mkdocs.

    `contents` has what stands on each page, by its address; `files` are added as they are.
    """
    os.environ["NO_MKDOCS_2_WARNING"] = "1"
    (work / "docs").mkdir()
    listener = _Listener()
    log = logging.getLogger("mkdocs")
    spread, log.propagate = log.propagate, False
    log.addHandler(listener)
    try:
        config = load_config(
            str(project / "mkdocs.yml"),
            strict=True,
            site_name=site.name,
            site_description=site.description,
            docs_dir=str(work / "docs"),
            site_dir=str(work / "site"),
            nav=_write_nav(site),
        )
        config.extra["labels"] = dict(site.labels)
        config.plugins["fingerpost"] = _Plan(site, contents, files)
        build(config)
    except (MkDocsException, SystemExit) as error:
        return listener.heard or [str(error)]
    finally:
        log.removeHandler(listener)
        log.propagate = spread
    return listener.heard
