"""The person: no grade, place, side, finger or age that is not theirs, and nothing open that the case has answered."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fingerpost.plan.base.pictures import StrengthPicture, TapingPicture
from sweep.detectors_tape import PAIR
from sweep.sayings import saying
from sweep.sheets import BACKGROUND, Told

_LIST = r"(?:I{1,3}|IV)\b(?:(?:,| and| or) (?:I{1,3}|IV)\b)*"
saying("a grade", rf"\b[Gg]rades? {_LIST}", exact=True)
saying("a pulley", r"\bA[1-5]\b", exact=True)
saying("thumb side", r"\bthumb side\b|\bon the side of the thumb\b|\bradial(?:ly)?\b|\bnearer to the thumb\b")
saying("little finger side", r"\blittle[- ]finger side\b|\bulnar(?:ly)?\b")
saying(
    "named fingers",
    r"\b(?:index|middle|ring|little)\b(?:(?:,| and| or) (?:the )?(?:index|middle|ring|little)\b)* fingers?\b(?! joint)"
    r"|\bmiddle, ring and little\b",
)
saying(
    "for the young",
    r"\bunder 18\b|\bunder the age of 18\b|\bstill grow"
    r"|\bgrowth spurt\b|\byour parents\b|\bschool sports\b"
    r"|\byoung (?:athletes?|climbers?)\b|\bfinished growing\b|\bgrowth has ended\b|\bgrowth plate\b",
)
saying(
    "for adults",
    r"\bno clinician is needed\b|\bwithout a clinician\b|\boutdoors\b|\balone at the wall\b|\byour job\b"
    r"|\bwhile driving\b",
)
saying("not under 18", r"\bnot\b[^.]*\bunder (?:the age of )?18\b|\bwhile you (?:still )?grow\b")
saying("full crimp", r"\bfull crimp")
saying("the muscle", r"\b(?:the|small|palm) muscle\b")
saying("load it", r"\bload the muscle\b|\bstart with [\d.]+ (?:kg|lb)\b|\bgrip: half crimp\b")
saying("a surgeon's word", r"\bhand surgeon\b")
saying("other joint", r"\bfor the (?:middle|end) joint\b")
saying(
    "if torn",
    r"\bif (?:any )?(?:strands|it) (?:have|has|is|are) torn\b"
    r"|\bafter a mild injury and longer after a worse one\b",
)
saying("if the end joint", r"\bif it is the (?:end|middle) joint\b")
saying("if the bone still grows", r"\bif you are (?:still growing|under 18)\b")
saying("if the cause was", r"\bif there is no finger on that side\b|\bon the thumb side, take\b")

_GRADES = re.compile(r"\b(?:I{1,3}|IV)\b")
_PULLEY = re.compile(r"\bA[1-5]\b")
_FOR_FINGER = re.compile(r"\bfor the (index|middle|ring|little) finger\b", re.IGNORECASE)
_INSTEAD = re.compile(r"\buse the (?:thumb and )?(?:index|middle|ring|little) finger\b", re.IGNORECASE)
_FINGER = re.compile(r"\b(index|middle|ring|little)\b")
_NAMED = re.compile(
    r"\b(?:index|middle|ring|little)\b(?:(?:,| and| or) (?:the )?(?:index|middle|ring|little)\b)* fingers?\b(?! joint)"
    r"|\bmiddle, ring and little\b",
    re.IGNORECASE,
)
_JOINTS = {"pip": "middle joint", "dip": "end joint"}


def find_grades_of_somebody_else(told: Told) -> Iterator[str]:
    """No text outside the list of words may name a grade that is not the person's."""
    own = told.facts.grade.id
    for _, sentence in told.says("a grade", but=BACKGROUND):
        if any(g != own for g in _GRADES.findall(sentence)):
            yield sentence


def find_places_of_somebody_else(told: Told) -> Iterator[str]:
    """Outside general explanation no pulley may be named but the hurt one."""
    own = told.facts.place.name[:2]
    for line, sentence in told.says("a pulley", but=BACKGROUND | {"questions", "under-title", "beside"}):
        # Labels of what lies round the hurt part: `find_another_place_in_a_picture` holds that part against the case.
        label = line.section == "what" and line.kind == "drawn"
        if line.kind != "alt" and not label and (others := [p for p in _PULLEY.findall(sentence) if p != own]):
            yield f"{', '.join(others)}: {sentence}"


def find_the_other_side(told: Told) -> Iterator[str]:
    """Where the hurt side is known, no text outside general explanation may speak of the other side."""
    side = told.facts.case.side
    if side:
        other = "little finger side" if side == "radial" else "thumb side"
        found = told.says(other, but=BACKGROUND | {"beside", "who"})
        # Which way the finger lies that is taped on: `find_a_pair_that_changes` holds it against the hand.
        yield from (s for line, s in found if line.kind not in ("alt", "drawn") and not PAIR.search(s))


def find_fingers_of_somebody_else(told: Told) -> Iterator[str]:
    """What a person shall do must not be about other fingers than theirs, nor tell them to use the sore one instead."""
    own = told.facts.case.finger
    known = {own} | {p.partner for _, p in told.pictures(TapingPicture) if p.partner}
    but = BACKGROUND | {"grips", "grip-pictures", "beside", "who", "help", "questions"}
    for line, sentence in told.says("named fingers", but=but):
        if line.kind in ("alt", "drawn"):
            continue
        named = set(_FINGER.findall(" ".join(_NAMED.findall(sentence)).lower()))
        for_whom = _FOR_FINGER.search(sentence)
        if _INSTEAD.search(sentence):
            wrong = own in named
        elif for_whom:
            wrong = for_whom[1] != own
        else:
            wrong = own not in named and bool(named - known)
        if wrong:
            yield sentence


def find_words_for_the_young(told: Told) -> Iterator[str]:
    """An adult must not read what is only for people who still grow."""
    if told.facts.case.age_band == "adult":
        found = told.says("for the young", but=BACKGROUND)
        yield from (s for line, s in found if line.kind != "alt")


def find_words_for_adults(told: Told) -> Iterator[str]:
    """Somebody under 18 must not read that nobody need be there, or that they may go outdoors."""
    if told.facts.case.age_band == "under-18":
        yield from (s for _, s in told.says("for adults", but=BACKGROUND))


def find_what_is_forbidden_under_18(told: Told) -> Iterator[str]:
    """Somebody under 18 must not be given an exercise whose own text forbids it under 18, nor a pull in full crimp."""
    if told.facts.case.age_band == "under-18" and not told.facts.hold:
        for line, sentence in told.says("not under 18", fits=lambda section: section.startswith("exercise-")):
            yield f"[{line.section}] {sentence}"
        for line, sentence in told.says("full crimp", kinds=("heading",)):
            if line.section.startswith("exercise-"):
                yield sentence


def find_muscle_words_for_a_tendon(told: Told) -> Iterator[str]:
    """Whoever has hurt a tendon must not read of the muscle as the hurt part."""
    if told.facts.place.kind == "tendon":
        yield from (s for _, s in told.says("the muscle", only=("day", "grips", "under-title")))


def find_a_torn_tendon_loaded_without_a_surgeon(told: Told) -> Iterator[str]:
    """Whoever has torn a part of a tendon must not be loaded by sheets that never name a hand surgeon."""
    facts = told.facts
    loads = list(told.says("load it"))
    torn = facts.place.kind == "tendon" and facts.grade.tear and not facts.hold
    if torn and loads and not any(True for _ in told.says("a surgeon's word", but=BACKGROUND)):
        yield loads[0][1]


def find_exercises_for_another_joint(told: Told) -> Iterator[str]:
    """Whoever has one sore joint must not be given an exercise that is named after another."""
    own = _JOINTS.get(told.facts.place.landmark)
    if own and told.facts.place.kind == "joint" and not told.facts.protocol.needs_side:
        for line, sentence in told.says("other joint", kinds=("heading",)):
            if line.section.startswith("exercise-") and own not in sentence.lower():
                yield f"{sentence} (sore: {own})"


def find_conditions_that_the_case_has_answered(told: Told) -> Iterator[str]:
    """No text may say "if" about the grade, the place, the side or the age that the case has settled."""
    for name in ("if torn", "if the end joint", "if the cause was", "if the bone still grows"):
        if name == "if the cause was" and told.facts.case.side is None:
            continue
        if name == "if torn" and told.facts.grade.id == "any":
            continue
        for _line, sentence in told.says(name, but=BACKGROUND | {"help", "who"}):
            yield sentence


def find_another_hand(told: Told) -> Iterator[str]:
    """Every picture must show the person's own hand, by its words and as it is drawn."""
    other = "left" if told.facts.case.hand == "right" else "right"
    for piece in told.pieces:
        picture = getattr(piece.block, "picture", None)
        if picture is None or piece.section == "grip-pictures":
            continue
        drawn = getattr(picture, "hand", told.facts.case.hand)
        if isinstance(picture, StrengthPicture):
            continue  # it compares both hands, and names each
        if drawn != told.facts.case.hand or re.search(rf"\b{other} hand\b", picture.title):
            yield picture.title
