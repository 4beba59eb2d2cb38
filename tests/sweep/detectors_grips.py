"""Grips and loads: nothing may ask for what the stage leaves."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from fingerpost.model.library import Library
from fingerpost.plan.base.pictures import GripPicture
from sweep.sayings import saying
from sweep.sheets import Told

saying("dose in a grip", r"\bgrip: [a-z]")
saying(
    "some climbing",
    r"\b(?:you|they) can (?:still )?(?:keep|go on)\b[^.]*\bclimb(?:ing)?\b|\bkeep (?:on )?climbing\b"
    r"|\bkeep some climbing\b|\bcan go on climbing\b|\bmay climb\b",
)
saying("climbs or pulls", r"\b(?:climb|hang|pull)(?:s|ed|ing)?\b")
saying("says no", r"\b(?:no|not|never|without|than|off|leave|instead|until|stop|before|after)\b")
saying("asks for a pull", r"\bpull(?:s|ing)?\b[^.]*\b(?:%|fingers)|\byou have climbed\b|\blight pull\b")
saying("asks for a share", r"\bat least \d+\s%|\bpulls \d+\s%")
saying("start and most", r"\bup to [\d.]+ (?:kg|lb)\b")
saying("stay below", r"\bstay below the [\d.]+ (?:kg|lb)\b")
saying("right angle", r"\bright angle\b|\b90°")

_SHARE = re.compile(r"(?:at least|pulls) (\d+)\s%")
_MASS = re.compile(r"([\d.]+) (?:kg|lb)\b")
RIGHT_ANGLE = 90
NEAR = 10
"""Degrees between a described and a measured bend that still are the same bend. Design choice."""


@lru_cache(maxsize=4)
def _grip_patterns(vocabulary: tuple[object, ...]) -> dict[str, re.Pattern[str]]:
    found = {}
    for grip in vocabulary:
        names = [grip.name.partition(" (")[0], *grip.also_called]  # type: ignore[attr-defined]
        words = "|".join(re.escape(n.lower()).replace(r"\-", "[- ]").replace(r"\ ", "[- ]") for n in names)
        found[grip.id] = re.compile(rf"\b(?:{words})s?\b", re.IGNORECASE)  # type: ignore[attr-defined]
    return found


def _patterns(library: Library) -> dict[str, re.Pattern[str]]:
    return _grip_patterns(library.vocabularies.grips)


def _is_exercise(section: str) -> bool:
    return section.startswith("exercise-")


def _left_in(told: Told, sentence: str) -> str:
    """The first grip in a sentence that the stage leaves, or ''."""
    patterns = _patterns(told.facts.library)
    return next((g for g in sorted(told.facts.left) if patterns[g].search(sentence)), "")


def find_doses_in_a_grip_left_out(told: Told) -> Iterator[str]:
    """A dose must not be in a grip that today's stage leaves."""
    for _, sentence in told.says("dose in a grip", fits=_is_exercise):
        if _left_in(told, sentence):
            yield sentence


def find_exercises_that_ask_for_a_grip_left_out(told: Told) -> Iterator[str]:
    """No step or name of an exercise may ask for a grip that is left; where every grip is, for any pull or climb."""
    if told.facts.hold:
        return
    no = set(told.said.get("says no", ()))
    loaded = {f"exercise-{e.id}" for e in told.facts.library.vocabularies.exercises if e.loaded or e.counts == "routes"}
    for line in told.lines:
        asks = line.section in loaded and line.kind in ("heading", "item") and not line.text.startswith("Aim:")
        if asks and (line.kind == "heading" or not _denied(line.text)) and (grip := _left_in(told, line.text)):
            yield f"{grip}: {line.text}"
    if told.facts.leaves_all:
        for line, sentence in told.says("climbs or pulls", fits=_is_exercise, kinds=("heading", "item")):
            if (line, sentence) not in no and not line.text.startswith(("Aim:", "Stop if:")):
                yield sentence


_NO = re.compile(
    r"\b(?:no|not|never|without|than|off|leave|instead|until|stop|before|after|turns it into)\b|^(?:How much|Stop if)",
    re.I,
)


def _denied(text: str) -> bool:
    return bool(_NO.search(text))


def find_gates_that_ask_for_a_grip_left_out(told: Told) -> Iterator[str]:
    """A gate must not ask for a pull or a climb that the stage forbids."""
    if told.facts.hold:
        return
    if told.facts.leaves_all:
        yield from (s for _, s in told.says("asks for a pull", only=("gate",)))
        return
    for line in told.section("gate"):
        if line.kind == "item" and (grip := _left_in(told, line.text)):
            yield f"{grip}: {line.text}"
        elif line.kind == "item" and "hand open" in line.text and "open-hand" in told.facts.left:
            yield f"open-hand: {line.text}"


def find_gates_above_the_load(told: Told) -> Iterator[str]:
    """A gate must not ask for a greater share than the most that the stage loads, unless a clinician tests it."""
    load = told.facts.stage.load
    if not told.facts.hold:
        for _, sentence in told.says("asks for a share", only=("gate",)):
            asked = int(_SHARE.findall(sentence)[0])
            if asked > (load.most if load else 0):
                yield f"{sentence} The stage loads up to {load.most if load else 0} %."


def find_climbing_told_where_every_grip_is_left(told: Told) -> Iterator[str]:
    """Whoever must leave every grip must not read that some climbing goes on."""
    if told.facts.hold or told.facts.leaves_all:
        yield from (s for _, s in told.says("some climbing", but={"help", "words", "sources", "if-nothing"}))


def find_a_load_above_its_own_ceiling(told: Told) -> Iterator[str]:
    """A load "up to" so much must not be above the load that the same line says to stay below."""
    for line, below in told.says("stay below"):
        most = [s for other, s in told.said.get("start and most", ()) if other is line]
        if most and float(_MASS.findall(most[0])[-1]) > float(_MASS.findall(below)[0]):
            yield line.text


def find_a_bend_that_is_not_the_grip_s(told: Told) -> Iterator[str]:
    """An exercise must not ask for a right angle in a grip whose measured bend is another."""
    bends = {g.id: g.angles.pip for g in told.facts.library.vocabularies.grips if g.angles}
    for line, sentence in told.says("right angle", fits=_is_exercise):
        bend = bends.get(told.trained_grip(line.section))
        if bend is not None and abs(bend - RIGHT_ANGLE) > NEAR and "less than a right angle" not in sentence:
            yield f"{sentence} The grip was measured at {bend}°."


def find_pictures_of_grips_against_the_list(told: Told) -> Iterator[str]:
    """The word under a picture of a grip must be the word of its field on the leaf, and that of the stage."""
    listed = told.marked
    for piece, picture in told.pictures(GripPicture):
        if piece.section == "grip-pictures" and picture.mark and listed.get(picture.name, picture.mark) != picture.mark:
            yield f"{picture.name}: {picture.mark} as a picture, {listed[picture.name]} on the leaf"
    grips, names = told.facts.stage.grips, {g.id: g.name for g in told.facts.library.vocabularies.grips}
    limit = [grip for rule in grips.limit for grip in rule.grips]
    for mark, ids in (("keep", grips.keep), ("limit", limit), ("leave", grips.leave)):
        yield from (
            f"{names[g]}: {listed[names[g]]}, the stage says {mark}" for g in ids if listed.get(names[g], mark) != mark
        )


def find_grips_kept_for_a_growing_finger(told: Told) -> Iterator[str]:
    """Whoever still grows must leave full crimp and single fingers; at a growth plate two fingers and cracks too."""
    facts = told.facts
    if facts.case.age_band != "under-18" or facts.hold:
        return
    kept = ["full-crimp", "one-finger-pocket"]
    if facts.place.kind == "growth-plate":
        kept += ["two-finger-pocket", "finger-crack"]
    names = {g.id: g.name for g in facts.library.vocabularies.grips}
    marked = told.marked
    yield from (f"{marked[names[g]]}: {names[g]}" for g in kept if marked.get(names[g], "leave") != "leave")
