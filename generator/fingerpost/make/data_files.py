"""The same content for machines: JSON with its schemas, the feed of changes, the map of the site."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict
from typing import Any
from xml.etree.ElementTree import Element, SubElement, indent, tostring

from fingerpost.model.audience import write_back
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.schema import write_schema
from fingerpost.model.shared import Vocabularies
from fingerpost.plan.machines.data import FEED, INDEX, SITEMAP, DataIndex, Feed, plan_feed, plan_index

_KINDS: tuple[tuple[str, str, Any], ...] = (
    ("index", "The index of the data", DataIndex),
    ("protocols", "All protocols", tuple[Protocol, ...]),
    ("referrals", "All short entries", tuple[Referral, ...]),
    ("vocabularies", "All shared vocabularies", Vocabularies),
)


def _json(data: Any) -> bytes:
    return (json.dumps(data, ensure_ascii=False, indent=1) + "\n").encode()


def _xml(root: Element) -> bytes:
    indent(root, " ")
    return bytes(tostring(root, encoding="utf-8", xml_declaration=True)) + b"\n"


def _child(parent: Element, name: str, content: str = "", **attributes: str) -> Element:
    made = SubElement(parent, name, attributes)
    made.text = content or None
    return made


def write_feed(feed: Feed) -> bytes:
    """An Atom feed (RFC 4287). Where nobody knows where the site stands, links count from the feed itself."""
    root = Element("feed", {"xmlns": "http://www.w3.org/2005/Atom", "xml:lang": "en-GB"})
    _child(root, "title", feed.title)
    _child(root, "id", feed.id)
    _child(root, "updated", f"{feed.updated}T00:00:00Z")
    _child(_child(root, "author"), "name", feed.author)
    if feed.base:
        _child(root, "link", rel="self", href=feed.base + FEED)
        _child(root, "link", rel="alternate", href=feed.base)
    for entry in feed.entries:
        made = _child(root, "entry")
        _child(made, "title", entry.title)
        _child(made, "id", entry.id)
        _child(made, "updated", f"{entry.day}T00:00:00Z")
        _child(made, "link", rel="alternate", href=feed.base + entry.address)
        _child(made, "summary", entry.summary)
    return _xml(root)


def write_sitemap(base: str, addresses: Iterable[str]) -> bytes:
    """Every page of the site, for search engines. `base` is where the site stands."""
    root = Element("urlset", {"xmlns": "http://www.sitemaps.org/schemas/sitemap/0.9"})
    for address in addresses:
        _child(_child(root, "url"), "loc", base + address)
    return _xml(root)


def make_data_files(library: Library, addresses: Iterable[str]) -> dict[str, bytes]:
    """Every file by its address. `addresses` are those of the site's pages; they are mapped where the site stands."""
    files = {
        INDEX: _json(asdict(plan_index(library))),
        "data/protocols.json": _json([write_back(d.value) for d in library.protocols]),
        "data/referrals.json": _json([write_back(d.value) for d in library.referrals]),
        "data/vocabularies.json": _json(write_back(library.vocabularies)),
        FEED: write_feed(plan_feed(library)),
    }
    for name, title, kind in _KINDS:
        files[f"data/schema/{name}.json"] = write_schema(kind, title).encode()
    if library.clinic.site_address:
        files[SITEMAP] = write_sitemap(library.clinic.site_address, addresses)
    return files
