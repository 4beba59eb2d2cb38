"""The same content for machines: valid by its schemas, at addresses that stay, with nothing that diagnoses."""

from __future__ import annotations

import dataclasses
import json
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit
from xml.etree import ElementTree

import pytest
from bs4 import BeautifulSoup
from jsonschema import Draft202012Validator
from site_under_test import PROJECT, build, make_templates, small_site, stub_sheets, whole_library, whole_site

from fingerpost.make import website
from fingerpost.make.data_files import make_data_files, write_feed, write_sitemap
from fingerpost.model.case import ClinicSettings
from fingerpost.model.protocol import Change, Protocol
from fingerpost.model.shared import Retired
from fingerpost.model.times import Day
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.machines.data import plan_feed
from fingerpost.plan.machines.linked_data import write_linked_data
from fingerpost.plan.pages.site import plan_site
from fingerpost.read import validate
from fingerpost.run import site_build

LIBRARY = whole_library()
BASE = "https://example.org/fingers/"
PAGES = [page.address for page in whole_site().pages]
FILES = make_data_files(LIBRARY, PAGES)
DATA = ("index", "protocols", "referrals", "vocabularies")
ATOM = "{http://www.w3.org/2005/Atom}"

# What schema.org has for each type that is used, its parents' properties included (schema.org 29, read from the site's
# own lists as told in the standards page, section 8). Only what these pages need.
PROPERTIES = {
    "MedicalWebPage": {
        "name", "description", "inLanguage", "version", "datePublished", "creativeWorkStatus", "about", "lastReviewed",
        "url",
    },
    "MedicalCondition": {
        "name", "alternateName", "code", "associatedAnatomy", "signOrSymptom", "typicalTest", "naturalProgression",
    },
    "MedicalCode": {"codeValue", "codingSystem"},
    "AnatomicalStructure": {"name"},
    "MedicalSignOrSymptom": {"name"},
    "MedicalTest": {"name"},
}  # fmt: skip


def with_clinic(**settings: str) -> Any:
    return dataclasses.replace(LIBRARY, clinic=ClinicSettings(**settings))  # type: ignore[arg-type]


@pytest.mark.parametrize("name", DATA)
def test_every_file_is_valid_by_its_schema(name: str) -> None:
    schema, data = json.loads(FILES[f"data/schema/{name}.json"]), json.loads(FILES[f"data/{name}.json"])
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)
    assert [e.message for e in Draft202012Validator(schema).iter_errors(data)] == []


@pytest.mark.parametrize("name", DATA)
def test_a_schema_refuses_what_is_not_in_it(name: str) -> None:
    schema, data = json.loads(FILES[f"data/schema/{name}.json"]), json.loads(FILES[f"data/{name}.json"])
    spoilt = data[0] if isinstance(data, list) else data
    spoilt["invented"] = True
    assert not Draft202012Validator(schema).is_valid(data)


def test_the_index_lists_every_file_and_counts_right() -> None:
    index = json.loads(FILES["data/index.json"])
    assert {f["address"] for f in index["files"]} | {"data/index.json"} == {f"data/{name}.json" for name in DATA}
    assert all(f["schema"] in FILES for f in index["files"])
    counts = {f["address"]: f["entries"] for f in index["files"]}
    assert counts["data/protocols.json"] == len(json.loads(FILES["data/protocols.json"])) == 7
    assert counts["data/referrals.json"] == len(json.loads(FILES["data/referrals.json"])) == 13
    vocabularies = json.loads(FILES["data/vocabularies.json"])
    assert counts["data/vocabularies.json"] == sum(map(len, vocabularies.values())) > 500
    assert "not signed" in index["state"]


def test_the_data_are_what_the_protocols_say() -> None:
    for document, told in zip(LIBRARY.protocols, json.loads(FILES["data/protocols.json"]), strict=True):
        assert validate.read_value(Protocol, told) == (document.value, [])
    assert make_data_files(LIBRARY, PAGES) == FILES, "the same content gives the same bytes"


def walk(data: Any) -> Any:
    if isinstance(data, dict):
        if "@type" in data:
            yield data
        for value in data.values():
            yield from walk(value)
    elif isinstance(data, list):
        for value in data:
            yield from walk(value)


def test_linked_data_use_only_what_schema_org_has_and_do_not_diagnose() -> None:
    for condition in LIBRARY.conditions:
        text = write_linked_data(Writer(with_clinic(site_address=BASE)), condition, "A page.")
        assert "<" not in text
        data = json.loads(text)
        assert data["@context"] == "https://schema.org"
        assert (data["@type"], data["about"]["@type"]) == ("MedicalWebPage", "MedicalCondition")
        assert data["url"] == f"{BASE}injuries/{condition.id}/"
        for thing in walk(data):
            assert set(thing) - {"@type", "@context"} <= PROPERTIES[thing["@type"]], thing["@type"]
        assert "differentialDiagnosis" not in text
        assert data["creativeWorkStatus"] == "Draft"
        assert "lastReviewed" not in data
        assert len(data["about"]["code"]) == len(condition.codes)


def test_a_script_cannot_be_ended_from_a_protocol() -> None:
    protocol = dataclasses.replace(LIBRARY.protocols[0].value, plain_name="</script><b>")
    text = write_linked_data(Writer(LIBRARY), protocol, "<!--")
    assert "<" not in text
    assert json.loads(text)["name"] == "</script><b>"


def test_pages_of_injuries_carry_their_linked_data(built_site: Path) -> None:
    for page in whole_site().pages:
        soup = BeautifulSoup((built_site / page.address / "index.html").read_text(encoding="utf-8"), "html.parser")
        found = soup.select('script[type="application/ld+json"]')
        assert len(found) == (page.kind in ("protocol", "referral"))
        if found:
            assert json.loads(found[0].get_text())["name"] == page.title
        (feed,) = soup.select('link[type="application/atom+xml"]')
        assert str(feed["href"]).endswith("changes.xml")


# --- The feed


def read_feed(**settings: str) -> ElementTree.Element:
    return ElementTree.fromstring(write_feed(plan_feed(with_clinic(**settings))))


def test_the_feed_has_what_a_reader_needs() -> None:
    feed = read_feed(site_address=BASE)
    entries = feed.findall(f"{ATOM}entry")
    assert len(entries) == len(LIBRARY.conditions)
    for part in [feed, *entries]:
        for name in ("id", "title", "updated"):
            assert part.findtext(f"{ATOM}{name}")
        assert datetime.fromisoformat(str(part.findtext(f"{ATOM}updated"))).tzinfo
        assert str(part.findtext(f"{ATOM}id")).startswith("urn:uuid:")
    assert feed.findtext(f"{ATOM}author/{ATOM}name")
    assert len({e.findtext(f"{ATOM}id") for e in entries}) == len(entries)
    links = [str(link.get("href")) for link in feed.iter(f"{ATOM}link")]
    assert f"{BASE}changes.xml" in links
    assert all(link.startswith(BASE) for link in links)


def test_where_nobody_knows_the_address_links_count_from_the_feed() -> None:
    links = [str(link.get("href")) for link in read_feed().iter(f"{ATOM}link")]
    assert len(links) == len(LIBRARY.conditions)
    assert all(not urlsplit(link).netloc and link in PAGES for link in links)


def test_a_note_on_a_version_is_an_entry_of_its_own() -> None:
    document = LIBRARY.protocols[0]
    changes = (
        Change(
            version="0.2.0", date=Day("2027-02-01"), what="Half crimp later.", reason="A new study [common-practice]."
        ),
        Change(version="0.1.1", date=Day("2027-01-01"), what="Plainer words.", reason="Readers asked."),
    )
    status = dataclasses.replace(document.value.status, version="0.2.0")
    protocol = dataclasses.replace(document.value, changes=changes, status=status)
    library = dataclasses.replace(
        LIBRARY, protocols=(dataclasses.replace(document, value=protocol), *LIBRARY.protocols[1:])
    )
    feed = plan_feed(library)
    assert [e.day for e in feed.entries[:2]] == ["2027-02-01", "2027-01-01"]
    assert feed.updated == "2027-02-01"
    assert feed.entries[0].summary.startswith("Half crimp later. A new study")
    assert len(feed.entries) == len(LIBRARY.conditions) + 1
    assert feed.entries[0].id != feed.entries[1].id


# --- Addresses


def test_the_map_of_the_site_names_every_page_and_only_where_it_stands() -> None:
    assert "sitemap.xml" not in FILES
    files = make_data_files(with_clinic(site_address=BASE), PAGES)
    places = [
        e.text
        for e in ElementTree.fromstring(files["sitemap.xml"]).iter("{http://www.sitemaps.org/schemas/sitemap/0.9}loc")
    ]
    assert places == [BASE + address for address in PAGES]
    assert len(places) > 60


@pytest.mark.rest
def test_a_built_site_keeps_its_own_map(tmp_path: Path) -> None:
    site = small_site()
    files = {**stub_sheets(site), "sitemap.xml": write_sitemap(BASE, [p.address for p in site.pages])}
    website.build_site(partial(website.write_page, make_templates()), site, PROJECT, tmp_path / "site", files)
    assert f"<loc>{BASE}injuries/" in (tmp_path / "site" / "sitemap.xml").read_text(encoding="utf-8")
    assert not (build(tmp_path / "other", site) / "sitemap.xml").exists()


@pytest.mark.rest
def test_everything_at_a_retired_address_leads_on(tmp_path: Path) -> None:
    retired = (Retired(id="climbers-finger", now="pulley", since="1.0.0", reason="Renamed."),)
    library = dataclasses.replace(LIBRARY, vocabularies=dataclasses.replace(LIBRARY.vocabularies, retired=retired))
    site = plan_site(library)
    redirects = dict(site.redirects)
    for old in ("injuries/climbers-finger/", "i/climbers-finger/"):
        assert redirects[old] == "injuries/pulley/"
    assert redirects["for-coaches/climbers-finger/"] == "for-coaches/pulley/"
    assert redirects["i/pulley/"] == "injuries/pulley/"
    assert redirects["i/climbers-finger-4/"] == "injuries/pulley/#stages"
    addresses = site_build.list_addresses(library, site)
    for paper in ("a4", "letter"):
        assert f"sheets/climbers-finger-{paper}.pdf" in addresses
        assert f"notices/climbers-finger-{paper}.pdf" in addresses
    small = dataclasses.replace(small_site(), redirects=site.redirects)
    made = build(tmp_path / "site", small)
    page = BeautifulSoup((made / "i" / "climbers-finger" / "index.html").read_text(encoding="utf-8"), "html.parser")
    assert str(page.select_one("a")["href"]) == "../../injuries/pulley/index.html"  # type: ignore[index]
    assert "../../injuries/pulley/index.html" in str(page.select_one("meta[http-equiv]")["content"])  # type: ignore[index]
