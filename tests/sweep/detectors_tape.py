"""Tape: who must not read of it, and what must not be said of it twice."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fingerpost.model.words import FINGERS
from fingerpost.plan.base.paper import TapeHow
from fingerpost.plan.base.pictures import HandPicture, TapingPicture
from sweep.sayings import saying
from sweep.sheets import BACKGROUND, Line, Told

saying("tape", r"\b(?:un)?tap(?:e|es|ed|ing)\b|\bH-strips?\b|\bbudd(?:y|ies)\b")
saying(
    "tape forbidden",
    r"\b(?:do not|never) (?:use )?(?:any )?tape\b|\bno tape (?:in|for|at)\b|\bwithout tape\b|\breacts? to tape\b"
    r"|\bneeds? no tape\b|\bdoes not bear tape\b|\bno tape or other support\b|\bin place of tape\b",
)
saying(
    "tape not for all day",
    r"\b(?:tape|support) in daily life is no longer needed\b|\b(?:tape|support) can stay off in daily life\b"
    r"|\bsupport off in daily life\b",
)
saying("tape every day", r"\bon 7 days a week: \d")
saying(
    "tape off",
    r"\b(?:take|comes?|come|leave)\b[^.]*\boff\b[^.]*\btape\b|\btape\b[^.]*\b(?:comes?|come|is) off\b"
    r"|\btake (?:rings and tape|tape and rings|off tape)\b|\btape measure\b"
    r"|\b(?:with|and) tape off\b|\btape and rings off\b|\btape off now\b",
)
saying("tape until", r"\b(?:tape|support)\b[^.]*\buntil \d")
saying(
    "a hurt side",
    r"\bon its injured side\b|\bfind the injured side\b|\bbuddy tape on the injured side\b"
    r"|\bstops? the joint from opening on (?:that|the hurt) side\b|\bfinger, on the hurt side\b",
)
saying(
    "no finger on the hurt side",
    r"\b(?:no finger|only the thumb) on the hurt side\b|\bon the hurt side there is only the thumb\b"
    r"|\bdoes not close the hurt side\b",
)
saying("ring told", r"\bwear the (?:moulded )?ring\b|\bmakes? a moulded ring\b")
saying("buddy pair", r"\bjoin your (?:index|middle|ring|little) finger to your (?:index|middle|ring|little) finger\b")

PAIR = re.compile(r"\b(index|middle|ring|little) finger to (index|middle|ring|little) finger \((.*?)\)")
"""The heading of a taping of two fingers: which, to which, and which way that lies."""
_LEVELS = {
    "a2": {"base segment"},
    "a4": {"middle segment"},
    "pip": {"middle joint"},
    "dip": {"end joint"},
    "proximal-and-middle": {"base segment", "middle segment"},
}
_MORE_THAN_TEXT = {"title", "heading"}
# A box is called so for loops too, and a warning must reach whoever put tape on all the same.
_NAMES = ("Check after taping",)


def _told(told: Told, but: frozenset[str] = BACKGROUND | {"questions"}) -> Iterator[tuple[Line, str]]:
    """Sentences that tell somebody to tape, or that they are taped."""
    off = {pair for name in ("tape forbidden", "tape off") for pair in told.said.get(name, ())}
    for line, sentence in told.says("tape", but=but):
        if sentence in _NAMES or line.section == "about":
            continue
        if line.kind not in _MORE_THAN_TEXT and (line, sentence) not in off and not sentence.endswith("?"):
            yield line, sentence


def _tape_sections(told: Told) -> list[str]:
    return sorted(s for s in told.sections if s.startswith("tape-"))


def find_tape_told_to_somebody_allergic(told: Told) -> Iterator[str]:
    """Whoever reacts to tape must not read that they wear it, put it on, are taped or tape until some day."""
    if told.facts.case.tape_allergy:
        yield from (sentence for _, sentence in _told(told))
        yield from (f"[{s}]" for s in _tape_sections(told) if _sticks(told, s))


def _sticks(told: Told, section: str) -> bool:
    taping = next((t for t in told.facts.library.vocabularies.tapings if f"tape-{t.id}" == section), None)
    return taping is None or taping.is_cut


def find_tape_questions_of_somebody_allergic(told: Told) -> Iterator[str]:
    """Whoever reacts to tape must not be given questions about how to tape."""
    if told.facts.case.tape_allergy:
        yield from (s for _, s in told.says("tape", only=("questions",)))


def find_tape_told_where_nothing_is_taped(told: Told) -> Iterator[str]:
    """A stage without any taping for this place and grade must not speak as if the finger were taped."""
    facts = told.facts
    if facts.case.tape_allergy or facts.hold or facts.fitting():
        return
    at = facts.stages.index(facts.stage)
    later = any(facts.fitting(stage) for stage in facts.stages[at:])
    until = set(told.said.get("tape until", ()))
    for line, sentence in _told(told, but=BACKGROUND | {"questions", "help", "gate"}):
        about_today = line.section != "dates" and line.kind not in ("alt", "drawn")
        if about_today or (not later and (line, sentence) in until):
            yield sentence
    yield from (f"[{s}]" for s in _tape_sections(told))


def find_tape_told_and_forbidden(told: Told) -> Iterator[str]:
    """One set of sheets must not both show how to tape and say that there is no tape, or both daily and not daily."""
    sections = _tape_sections(told)
    if sections and not told.facts.case.tape_allergy:
        yield from (s for _, s in told.says("tape forbidden", but=BACKGROUND | {"help"}))
        if any(True for _ in told.says("tape every day")):
            yield from (s for _, s in told.says("tape not for all day"))


def find_two_tapings_on_one_segment(told: Told) -> Iterator[str]:
    """One person must not be shown two tapings for the same segment of the finger in one stage."""
    known = {f"tape-{t.id}": t for t in told.facts.library.vocabularies.tapings}
    shown = [known[s] for s in _tape_sections(told) if s in known]
    for at, one in enumerate(shown):
        for other in shown[at + 1 :]:
            if shared := _LEVELS[one.level] & _LEVELS[other.level]:
                yield f"{one.name} and {other.name}, both on the {', '.join(sorted(shared))}"


def find_a_hurt_side_without_a_finger(told: Told) -> Iterator[str]:
    """Where no finger stands on the hurt side, nothing may tell the reader to tape to that side."""
    if any(True for _ in told.says("no finger on the hurt side")):
        yield from (s for _, s in told.says("a hurt side", but=BACKGROUND))


def find_the_same_pair_right_and_wrong(told: Told) -> Iterator[str]:
    """The pair of fingers under the cross must not be the pair under the tick."""
    for _, picture in told.pictures(TapingPicture):
        wrong = any("wrong finger" in note.lower() for note in picture.notes)
        if picture.draws == "mistakes" and wrong and picture.partner and _wrong_partner(picture) == picture.partner:
            yield f"{picture.finger} to {picture.partner} under the cross: {picture.title}"


def _wrong_partner(picture: TapingPicture) -> str:
    """The finger that the struck-out frame shows: as the plan says, or the other neighbour, if there is one."""
    planned = getattr(picture, "wrong_partner", None)
    if planned:
        return str(planned)
    at = FINGERS.index(picture.finger)
    beside = [FINGERS[n] for n in (at - 1, at + 1) if 0 <= n < len(FINGERS)]
    return next((f for f in beside if f != picture.partner), str(picture.partner))


def find_a_pair_that_changes(told: Told) -> Iterator[str]:
    """The sentence about buddy tape and every frame of it must name the same two fingers."""
    for line, sentence in told.says("buddy pair"):
        names = [w for w in sentence.replace(",", " ").split() if w in FINGERS]
        pairs = {
            (p.finger, p.partner)
            for piece, p in told.pictures(TapingPicture)
            if piece.section == line.section and p.partner
        }
        if len(names) >= 2 and any(pair != (names[0], names[1]) for pair in pairs):
            yield f"{sentence} The pictures: {sorted(pairs)}"
    for block in told.leaf_blocks(TapeHow):
        for one, other, way in PAIR.findall(block.heading):
            picture = block.whole.picture if block.whole else None
            marks = picture.tapes if isinstance(picture, HandPicture) else ()
            thumb = "thumb" in way
            lies = FINGERS.index(other) < FINGERS.index(one)
            if thumb is not lies or any((mark.finger, mark.partner) != (one, other) for mark in marks):
                yield block.heading


def find_a_device_that_an_allergy_took_away(told: Told) -> Iterator[str]:
    """A tape allergy must not hide a moulded ring or splint that the rest of the sheets tell the reader to wear."""
    facts = told.facts
    if not facts.case.tape_allergy or facts.hold or "tape" not in told.sections:
        return
    for taping in facts.fitting():
        if facts.case.tapings and taping.id not in facts.case.tapings:
            continue  # the clinician chose another one
        if not taping.is_cut and f"tape-{taping.id}" not in told.sections:
            worn = [s for _, s in told.says("ring told")]
            yield f"{taping.name} is not shown. {' '.join(worn)}".strip()
