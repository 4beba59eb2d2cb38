"""What a page is about in the words of schema.org (JSON-LD). Only properties that exist there, and no diagnosis."""

from __future__ import annotations

import json
from typing import Any

from fingerpost.model.protocol import Protocol, Referral
from fingerpost.plan.base.addresses import address_of
from fingerpost.plan.base.parts import pick
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import plain

Data = dict[str, Any]


def _named(kind: str, names: list[str]) -> list[Data]:
    return [{"@type": kind, "name": name} for name in names]


def _condition(writer: Writer, condition: Protocol | Referral) -> Data:
    """`differentialDiagnosis` is left out on purpose: these pages tell what separates, they do not diagnose."""
    vocabularies = writer.library.vocabularies
    signs = pick(vocabularies.signs, (*condition.signs.usual, *condition.signs.sometimes))
    codes = [{"@type": "MedicalCode", "codeValue": c.icd10, "codingSystem": "ICD-10"} for c in condition.codes]
    data: Data = {
        "@type": "MedicalCondition",
        "name": condition.plain_name,
        "alternateName": [condition.trade_name, *condition.also_called],
        "code": codes,
        "associatedAnatomy": _named(
            "AnatomicalStructure", [s.name for s in pick(vocabularies.anatomy, condition.tissue)]
        ),
        "signOrSymptom": _named("MedicalSignOrSymptom", [s.says for s in signs]),
        "typicalTest": _named("MedicalTest", [t.name for t in pick(vocabularies.tests, condition.tests)]),
    }
    if isinstance(condition, Protocol):
        data["naturalProgression"] = plain(writer.words(condition.if_nothing_is_done))
    return {key: value for key, value in data.items() if value}


def write_linked_data(writer: Writer, condition: Protocol | Referral, description: str) -> str:
    """The page of a condition as JSON-LD text that can stand inside a script element."""
    status, base = condition.status, writer.library.clinic.site_address or ""
    data: Data = {
        "@context": "https://schema.org",
        "@type": "MedicalWebPage",
        "name": condition.plain_name,
        "description": description,
        "inLanguage": "en-GB",
        "version": status.version,
        "datePublished": status.written,
        "creativeWorkStatus": "Draft" if status.state == "draft" else "Published",
        "about": _condition(writer, condition),
    }
    if status.reviewed:
        data["lastReviewed"] = status.reviewed
    if base:
        data["url"] = base + address_of(condition.id)
    return json.dumps(data, ensure_ascii=False).replace("<", "\\u003c")
