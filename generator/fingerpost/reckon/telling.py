"""Which signs separate which conditions, and in what order to ask.

Everything rests on marks that an author gave: usual, sometimes, does not fit; unlisted says nothing. The results say
what fits and what does not, never how likely anything is, and never what somebody has. Warning signs come before any
of this: the pages that print it see to that.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import log2
from typing import Literal

from fingerpost.model.protocol import SignFit
from fingerpost.model.words import Id

Fit = Literal["usual", "sometimes", "does-not-fit"]
Fits = Mapping[Id, Mapping[Id, Fit]]
Strength = Literal["apart", "partly", "hint"]

# How often a sign is taken to be there, only for choosing an order of questions. A design choice: no counts are known,
# so they are round and wide, never shown, and every condition weighs the same.
_YES: Mapping[str, float] = {"usual": 0.8, "sometimes": 0.4, "unlisted": 0.2, "does-not-fit": 0.05}
_FEWEST_BITS = 0.01
_MOST_QUESTIONS = 8


@dataclass(frozen=True)
class Separator:
    """A sign that speaks for one of two conditions against the other.

    'apart': usual in one and does not fit the other; 'partly': sometimes in one and does not fit the other; 'hint':
    usual in one and unlisted in the other.
    """

    sign: Id
    speaks_for: Id
    strength: Strength


@dataclass(frozen=True)
class ToldApart:
    """Two conditions, in the order in which they were given, and what separates them, the strongest first."""

    first: Id
    second: Id
    separators: tuple[Separator, ...]


@dataclass(frozen=True)
class SignQuestion:
    """A sign to ask about, what it speaks for when it is there, and against."""

    sign: Id
    fits: tuple[Id, ...]
    sometimes: tuple[Id, ...]
    does_not_fit: tuple[Id, ...]


@dataclass(frozen=True)
class Standing:
    """What was answered about one condition's signs. `missing`: usual signs that are not there."""

    condition: Id
    fits: tuple[Id, ...]
    against: tuple[Id, ...]
    missing: tuple[Id, ...]


@dataclass(frozen=True)
class KeyStep:
    """One step of a paper key, numbered from 1. An answer leads to another step or ends at conditions to read about."""

    number: int
    sign: Id
    yes_step: int | None
    yes_ends: tuple[Id, ...]
    no_step: int | None
    no_ends: tuple[Id, ...]


def table_signs(conditions: Mapping[Id, SignFit]) -> dict[Id, dict[Id, Fit]]:
    """The marks of each condition's signs, as written."""
    return {
        condition: {
            **dict.fromkeys(signs.usual, "usual"),
            **dict.fromkeys(signs.sometimes, "sometimes"),
            **dict.fromkeys(signs.does_not_fit, "does-not-fit"),
        }
        for condition, signs in conditions.items()
    }


def separate(fits: Fits, first: Id, second: Id) -> ToldApart:
    """What separates two conditions, the strongest first, then in the order of the signs as written."""
    found: list[Separator] = []
    for one, other in ((first, second), (second, first)):
        for sign, fit in fits[one].items():
            if strength := _weigh(fit, fits[other].get(sign)):
                found.append(Separator(sign, one, strength))
    order: tuple[Strength, ...] = ("apart", "partly", "hint")
    return ToldApart(first, second, tuple(sorted(found, key=lambda separator: order.index(separator.strength))))


def _weigh(fit: Fit, other: Fit | None) -> Strength | None:
    if other == "does-not-fit":
        return {"usual": "apart", "sometimes": "partly"}.get(fit)  # type: ignore[return-value]
    return "hint" if fit == "usual" and other is None else None


SPEAKS: Mapping[Fit | None, int] = {"usual": 2, "sometimes": 1, None: 0, "does-not-fit": -1}
"""How far a sign that is there speaks for a condition, against others: only the order counts, never a sum."""


def speaks_for(fits: Fits, sign: Id, first: Id, second: Id) -> Id | None:
    """Which of two conditions a sign fits better; None where it fits both alike."""
    one, other = (SPEAKS[fits[condition].get(sign)] for condition in (first, second))
    return None if one == other else first if one > other else second


def find_inseparable(fits: Fits) -> tuple[tuple[Id, Id], ...]:
    """The pairs that nothing separates: no sign that can be seen in one of them does not fit the other."""
    seen = {name: {sign for sign, fit in signs.items() if fit != "does-not-fit"} for name, signs in fits.items()}
    against = {name: signs.keys() - seen[name] for name, signs in fits.items()}
    return tuple(
        (first, second)
        for first, second in combinations(fits, 2)
        if seen[first].isdisjoint(against[second]) and seen[second].isdisjoint(against[first])
    )


def order_questions(fits: Fits, most: int = 6) -> tuple[SignQuestion, ...]:
    """The questions that separate fastest, at most eight: each is the one that is expected to tell most after those
    before it. Ties go to the sign written first. Fewer where nothing more can be told."""
    signs, chosen = list_signs(fits), list[Id]()
    patterns = [dict.fromkeys(fits, 1 / len(fits))] if fits else []
    for _ in range(min(most, _MOST_QUESTIONS)):
        left = [sign for sign in signs if sign not in chosen]
        gain, at = max(
            ((round(_expect(fits, patterns, sign), 9), -at) for at, sign in enumerate(left)), default=(0.0, 0)
        )
        if gain < _FEWEST_BITS:
            break
        chosen.append(left[-at])
        patterns = [part for pattern in patterns for part in _split(fits, pattern, left[-at])]
    return tuple(describe_sign(fits, sign) for sign in chosen)


def list_signs(fits: Fits) -> tuple[Id, ...]:
    """Every sign that any condition mentions, in the order in which they are first written."""
    return tuple(dict.fromkeys(sign for marks in fits.values() for sign in marks))


def describe_sign(fits: Fits, sign: Id) -> SignQuestion:
    """What one sign says about every condition that lists it."""
    groups = {
        mark: tuple(c for c in fits if fits[c].get(sign) == mark) for mark in ("usual", "sometimes", "does-not-fit")
    }
    return SignQuestion(sign, groups["usual"], groups["sometimes"], groups["does-not-fit"])


def _split(fits: Fits, pattern: Mapping[Id, float], sign: Id) -> Iterator[dict[Id, float]]:
    """The weights of all conditions together with a yes to `sign`, then with a no."""
    yes = {condition: _YES[fits[condition].get(sign, "unlisted")] for condition in pattern}
    yield {condition: weight * yes[condition] for condition, weight in pattern.items()}
    yield {condition: weight * (1 - yes[condition]) for condition, weight in pattern.items()}


def _expect(fits: Fits, patterns: Sequence[Mapping[Id, float]], sign: Id) -> float:
    """How many bits an answer about `sign` is expected to tell, over all answers so far."""
    return sum(
        _spread(pattern.values()) - sum(_spread(part.values()) for part in _split(fits, pattern, sign))
        for pattern in patterns
    )


def _spread(weights: Collection[float]) -> float:
    """Entropy in bits, times the sum of the weights."""
    total = sum(weights)
    return -sum(weight * log2(weight / total) for weight in weights if weight > 0)


def rule_out(fits: Fits, not_there: Collection[Id]) -> dict[Id, Mapping[Id, Fit]]:
    """The conditions in which none of these signs is usual: what a 'no' to all of them leaves in a key."""
    return {
        condition: marks
        for condition, marks in fits.items()
        if not any(marks.get(sign) == "usual" for sign in not_there)
    }


def list_standings(fits: Fits, there: Collection[Id], not_there: Collection[Id]) -> tuple[Standing, ...]:
    """What fits and what does not, for every condition, in the order given: not a ranking."""
    return tuple(
        Standing(
            condition,
            tuple(sign for sign, mark in marks.items() if sign in there and mark != "does-not-fit"),
            tuple(sign for sign, mark in marks.items() if sign in there and mark == "does-not-fit"),
            tuple(sign for sign, mark in marks.items() if sign in not_there and mark == "usual"),
        )
        for condition, marks in fits.items()
    )


Enough = Callable[[Sequence[Id]], bool]


def make_key(fits: Fits, most_deep: int = 4, enough: Enough = lambda left: len(left) < 2) -> tuple[KeyStep, ...]:
    """A paper key: at each step ask what tells most about the conditions still in, until `enough` or nothing tells.

    'Yes' drops the conditions that the sign does not fit, 'no' those where it is usual. Because signs are only usual,
    an end names conditions to read about, and a condition may stand at several ends. `enough`: no further question is
    needed for these conditions.
    """
    steps: list[KeyStep] = []
    _grow(fits, tuple(fits), (), most_deep, steps, enough)
    return tuple(steps)


def _grow(
    fits: Fits, left: tuple[Id, ...], asked: tuple[Id, ...], deep: int, steps: list[KeyStep], enough: Enough
) -> int | None:
    """Add the steps for the conditions left; gives the number of the first, or None where the key ends."""
    best = _choose_splitter(fits, left, asked) if deep and len(left) > 1 and not enough(left) else None
    if best is None:
        return None
    number = len(steps) + 1
    yes = tuple(condition for condition in left if fits[condition].get(best) != "does-not-fit")
    no = tuple(condition for condition in left if fits[condition].get(best) != "usual")
    place = len(steps)
    steps.append(KeyStep(number, best, None, yes, None, no))
    yes_step = _grow(fits, yes, (*asked, best), deep - 1, steps, enough)
    no_step = _grow(fits, no, (*asked, best), deep - 1, steps, enough)
    steps[place] = KeyStep(number, best, yes_step, () if yes_step else yes, no_step, () if no_step else no)
    return number


def _choose_splitter(fits: Fits, left: tuple[Id, ...], asked: tuple[Id, ...]) -> Id | None:
    """The sign that tells most among those whose every answer drops a condition and keeps one."""
    part = {condition: fits[condition] for condition in left}
    weights = [dict.fromkeys(left, 1 / len(left))]
    best: tuple[float, Id | None] = (0.0, None)
    for sign in list_signs(part):
        marks = [part[condition].get(sign) for condition in left]
        useful = 0 < marks.count("does-not-fit") < len(left) and 0 < marks.count("usual") < len(left)
        gain = round(_expect(part, weights, sign), 9) if useful and sign not in asked else 0.0
        if gain > best[0]:
            best = (gain, sign)
    return best[1]
