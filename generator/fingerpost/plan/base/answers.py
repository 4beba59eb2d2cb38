"""What each answer says about each page: the one place where signs are held against pages.

The page's script and the paper key look it up; the script lays pages out by `LEVELS`. An answer is a sign that is
there (its id), a sign that is not there ("!" before its id), or WARNING: whether any of the urgent warning signs is
there.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import combinations
from typing import Literal

from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Referral
from fingerpost.model.words import URGENT, Id
from fingerpost.reckon.telling import SPEAKS, Fits, list_standings, order_questions, rule_out, separate, table_signs

Says = Literal["fits", "sometimes", "against", "missing"]
"""Usual there; comes sometimes there; does not fit there; usual there, but the answer is no."""

LEVELS: Mapping[Says, int] = {
    "fits": SPEAKS["usual"],
    "sometimes": SPEAKS["sometimes"],
    "against": SPEAKS["does-not-fit"],
    "missing": SPEAKS["does-not-fit"],
}
"""How far an answer speaks for a page: above 0 it fits, below 0 it is against. 0, for an answer that is not told."""

NO = "!"
WARNING = "warning"
_MOST_ASKED = 6
_FEWEST_TO_TELL_APART = 2
_MOST_SEPARATORS = 6


def fits_of(library: Library) -> Fits:
    """The signs of every page about an injury."""
    return table_signs({condition.id: condition.signs for condition in library.conditions})


def list_age_signs(library: Library) -> frozenset[Id]:
    """The signs that somebody is under 18."""
    warnings = library.vocabularies.warning_signs
    return frozenset(sign for w in warnings if w.for_.age == "under-18" for sign in w.signs)


def list_settled(library: Library) -> tuple[Id, ...]:
    """The signs that 'none of the urgent warning signs' answers: an urgent warning, and nothing milder too."""
    warnings = library.vocabularies.warning_signs
    mild = {sign for w in warnings if w.urgency not in URGENT for sign in w.signs}
    urgent = (sign for w in warnings if w.urgency in URGENT for sign in w.signs)
    return tuple(dict.fromkeys(sign for sign in urgent if sign not in mild))


def list_own_warnings(library: Library, condition: Protocol | Referral) -> tuple[Id, ...]:
    """The warning signs that are usual in a condition; where it has none, all that are urgent."""
    warnings = library.vocabularies.warning_signs
    own = tuple(w.id for w in warnings if set(w.signs) & set(condition.signs.usual))
    return own or tuple(w.id for w in warnings if w.urgency in URGENT)


def explain_answers(library: Library) -> dict[Id, dict[str, Says]]:
    """For each page, what each answer says about it. Answers that say nothing are left out."""
    fits, settled = fits_of(library), list_settled(library)
    told: dict[Id, dict[str, Says]] = {condition: {} for condition in fits}
    for sign in library.vocabularies.signs:
        for standing in list_standings(fits, {sign.id}, ()):
            if standing.against:
                told[standing.condition][sign.id] = "against"
            elif standing.fits:
                usual = fits[standing.condition][sign.id] == "usual"
                told[standing.condition][sign.id] = "fits" if usual else "sometimes"
        for standing in list_standings(fits, (), {sign.id}):
            if standing.missing:
                told[standing.condition][NO + sign.id] = "missing"
    for standing in list_standings(fits, (), settled):
        if standing.missing:
            told[standing.condition][NO + WARNING] = "missing"
    for condition in _only_young(library):
        told[condition].update((NO + sign, "against") for sign in sorted(list_age_signs(library)))
    return told


def _only_young(library: Library) -> Iterable[Id]:
    return (condition.id for condition in library.conditions if condition.people == "under-18")


def list_questions(library: Library) -> dict[Id, tuple[Id, ...]]:
    """The questions that separate fastest: for each place that can be touched, and ('') for no place at all.

    What a first answer settles is not asked again: warning signs, age, how it began.
    """
    fits = rule_out(fits_of(library), list_settled(library))
    adult = {c: marks for c, marks in fits.items() if c not in set(_only_young(library))}
    askable = _list_askable(library)

    def ask(conditions: Iterable[Id]) -> tuple[Id, ...]:
        table = {c: {s: m for s, m in adult[c].items() if s in askable} for c in adult if c in set(conditions)}
        return tuple(question.sign for question in order_questions(table, _MOST_ASKED))

    asked = {"": ask(adult)}
    for sign in library.vocabularies.signs:
        if sign.spot:
            asked[sign.id] = ask(_list_near(library, adult, sign.id))
    return asked


def _list_askable(library: Library) -> frozenset[Id]:
    known = {*list_settled(library), *list_age_signs(library)}
    signs = [s for s in library.vocabularies.signs if s.kind != "onset" and not s.spot]
    return frozenset(s.id for s in signs if s.id not in known)


def _list_near(library: Library, fits: Fits, place: Id) -> set[Id]:
    """The pages for which a place fits; where these are few, their look-alikes too."""
    near = {condition for condition in fits if fits[condition].get(place) in ("usual", "sometimes")}
    if len(near) >= _FEWEST_TO_TELL_APART:
        return near
    return near | {alike.id for c in library.conditions if c.id in near for alike in c.look_alikes}


def list_pairs(library: Library) -> tuple[tuple[Protocol | Referral, Protocol | Referral], ...]:
    """Every two pages that name each other as look-alikes, in the order of the library."""
    pairs = combinations(library.conditions, 2)
    return tuple((a, b) for a, b in pairs if _names(a, b) and _names(b, a))


def _names(one: Protocol | Referral, other: Protocol | Referral) -> bool:
    return any(alike.id == other.id for alike in one.look_alikes)


def list_separators(library: Library) -> dict[tuple[Id, Id], tuple[tuple[Id, Id], ...]]:
    """For every two pages that can come up together: (sign, the page that it speaks for), the clearest first.

    They name each other as look-alikes or can be sore in the same place. Hints are left out.
    """
    fits = fits_of(library)
    places = [sign.id for sign in library.vocabularies.signs if sign.spot]
    sore = {c: {p for p in places if fits[c].get(p) in ("usual", "sometimes")} for c in fits}
    pairs = {(one.id, other.id) for one, other in list_pairs(library)}
    found = {}
    for one, other in combinations(fits, 2):
        if not (sore[one] & sore[other] or (one, other) in pairs):
            continue
        kept = [(s.sign, s.speaks_for) for s in separate(fits, one, other).separators if s.strength != "hint"]
        found[one, other] = tuple(kept[:_MOST_SEPARATORS])
    return found
