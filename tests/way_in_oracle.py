"""How the way in lays pages out, said once more in plain Python and straight from the signs as written.

The page's script does it from the data that the generator writes. Two tellings that agree check each other.
"""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path
from typing import Any

import yaml

from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Referral

REFERENCE = Path(__file__).parent / "reference" / "presentations.yml"
PRESENTATIONS: list[dict[str, Any]] = yaml.safe_load(REFERENCE.read_text(encoding="utf-8"))
URGENT = ("emergency", "same-day")


def answers_of(yes: Collection[str], no: Collection[str]) -> list[str]:
    return [*yes, *(f"!{sign}" for sign in no)]


def settled(library: Library) -> set[str]:
    """The signs that 'none of the warning signs' rules out: urgent wherever they stand."""
    urgency: dict[str, set[str]] = {}
    for warning in library.vocabularies.warning_signs:
        for sign in warning.signs:
            urgency.setdefault(sign, set()).add(warning.urgency)
    return {sign for sign, found in urgency.items() if found <= set(URGENT)}


def misfits(library: Library, condition: Protocol | Referral, yes: set[str], no: set[str]) -> int:
    """How many answers speak against a page: what does not fit is there, or what is usual is not."""
    signs = condition.signs
    usual = set(signs.usual)
    found = len(yes & set(signs.does_not_fit)) + len(usual & (no - {"warning"}))
    if "warning" in no:
        found += bool(usual & settled(library))
    return found + (condition.people == "under-18" and "growing" in no and "growing" not in usual)


def level(condition: Protocol | Referral, sign: str) -> int:
    return 2 if sign in condition.signs.usual else 1 if sign in condition.signs.sometimes else 0


def lay_out(library: Library, yes: Collection[str], no: Collection[str]) -> dict[str, list[str]]:
    """The pages in front and near, in their order."""
    there, absent = set(yes), set(no)
    places = {sign.id for sign in library.vocabularies.signs if sign.spot} & there
    groups: dict[str, list[Protocol | Referral]] = {"front": [], "near": []}
    for condition in library.conditions:
        against = misfits(library, condition, there, absent)
        found = any(level(condition, sign) for sign in places or there)
        leads = condition.people == "under-18" and "growing" in there
        if leads or (found and not against):
            groups["front"].append(condition)
        elif found and against == 1 and any(level(condition, sign) == 2 for sign in there):
            groups["near"].append(condition)
    return {name: _order(group, there) for name, group in groups.items()}


def _order(group: list[Protocol | Referral], there: set[str]) -> list[str]:
    """The first that no other one beats, again and again; what concerns people under 18 leads."""
    left, ordered = list(group), []
    while left:
        chosen = next(c for c in left if not any(_beats(other, c, there) for other in left))
        left.remove(chosen)
        ordered.append(chosen)
    young = "growing" in there
    ordered.sort(key=lambda c: not (young and c.people == "under-18"))
    return [c.id for c in ordered]


def _beats(one: Protocol | Referral, other: Protocol | Referral, there: set[str]) -> bool:
    gaps = [level(one, sign) - level(other, sign) for sign in there]
    return min(gaps, default=0) >= 0 and max(gaps, default=0) > 0
