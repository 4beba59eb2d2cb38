"""Stop sheets and clearance: who must stop reads of nothing else, who is cleared does not read of stopping."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from fingerpost.plan.base.blocks import Box
from fingerpost.plan.base.paper import HelpBox
from fingerpost.plan.base.runs import plain
from sweep.sayings import saying
from sweep.sheets import BACKGROUND, Told

saying(
    "stop words",
    r"\bstop climbing, and see a doctor\b|\ba doctor (?:has to|must) (?:look at|see)\b|\bhave a doctor look at it\b"
    r"|\bnothing is allowed until a doctor\b|\bthere is no home programme\b|\bbefore you load it again\b"
    r"|\buntil a (?:doctor|hand surgeon) says\b",
)
saying("this finger", r"\b(?:climb|hang|train|load)\b[^.]*\bthis finger\b")
saying("a stage", r"\bstage \d of \d\b|\bbefore the next stage\b|\bthe earliest usual day\b")
saying(
    "a plan",
    r"\bhow much:|\byour load:|\bstart with [\d.]+ (?:kg|lb)\b|\bcounted from your\b|\bthis stage began\b"
    r"|\bchoose \d+ days?\b|\bhung on it\b|\bgoal: \d|\byour plan until\b",
)

_HOME = re.compile(
    r"^(?:exercises|exercise-.*|tape|tape-.*|gate|gate-clinic|week|written|dates|strength|diary|chart|grips|grip-pictures|day)$"
)

_TOPICS: dict[str, str] = {
    "crooked or turned": r"\bcrooked\b|\bcross(?:es)? (?:another finger )?in a fist",
    "blue, cold or numb": r"\b(?:blue|icy)\b",
    "tingling": r"\btingle",
    "red and hot": r"\bred(?:ness)?\b[^.]*\bhot\b|\bhot\b[^.]*\bred\b|\bred streaks\b",
    "whole finger swollen": r"\bwhole finger is swollen\b",
    "will not bend by itself": r"\bcannot bend or straighten\b|\bwill not bend\b|\bcannot bend the tip\b",
    "locked or put back": r"\bput (?:it )?back\b|\bwas out of place\b",
    "a pop or a bowstring": r"\bpop\b[^.]*\b(?:lifts|swell|swollen|weak)|\blifts (?:off|away)\b",
    "sore joint under 18": r"\bunder 18\b[^.]*\bjoint\b",
    "several joints": r"\bseveral joints\b",
    "at rest or at night": r"\bat rest or at night\b",
    "no better": r"\bno (?:better|clear gain|gain at all) after (?:2|two) weeks\b",
    "bite or wound": r"\b(?:wound|cut)\b[^.]*\bbite\b|\bbite\b[^.]*\bwound\b",
    "crushed": r"\btight and (?:very )?swollen\b",
}
_COMPILED = {topic: re.compile(pattern, re.IGNORECASE) for topic, pattern in _TOPICS.items()}
_SOON = (
    ("emergency", re.compile(r"^\s*emergency|go to an emergency department now", re.IGNORECASE)),
    ("same day", re.compile(r"^\s*the same day|see a doctor the same day|see a doctor today", re.IGNORECASE)),
    ("within days", re.compile(r"^\s*within days|within days:", re.IGNORECASE)),
    ("next chance", re.compile(r"^\s*at the next chance", re.IGNORECASE)),
)


def find_a_home_programme_on_a_stop_sheet(told: Told) -> Iterator[str]:
    """A sheet that says stop must not show a stage, a load, a date, tape or an exercise."""
    if told.facts.hold or "until-seen" in told.sections:
        yield from (f"[{s}]" for s in sorted(told.sections) if _HOME.match(s))
        for name in ("a stage", "a plan"):
            yield from (s for _, s in told.says(name, but={"words", "sources", "about"}))


def find_stop_words_on_a_home_sheet(told: Told) -> Iterator[str]:
    """Whoever has a stage to work at must not read that a doctor must see the finger first."""
    if not told.facts.hold and "until-seen" not in told.sections:
        yield from (
            f"{line.section}: {s}" for line, s in told.says("stop words", but={"help", "words", "sources", "about"})
        )


def find_one_finger_where_the_hand_rests(told: Told) -> Iterator[str]:
    """A sheet that says stop must rest the whole hand, not one finger of it."""
    if told.facts.hold:
        yield from (s for _, s in told.says("this finger", but=BACKGROUND | {"help", "who", "questions"}))


def find_a_hold_that_the_desk_hides(told: Told) -> Iterator[str]:
    """Where a stage was chosen and a stop sheet comes out all the same, the desk must say why."""
    facts = told.facts
    beyond = facts.stages.index(facts.stage) > 0
    if (
        facts.hold
        and beyond
        and not any(re.search(r"stop|doctor|surgeon|hold|clear", text, re.I) for _, text in told.doubts)
    ):
        yield f"stage {facts.stage.name} chosen, a stop sheet printed ({facts.hold}), and nothing said"


@lru_cache(maxsize=5000)
def _topics_of(text: str) -> tuple[str, ...]:
    return tuple(topic for topic, pattern in _COMPILED.items() if pattern.search(text))


@lru_cache(maxsize=5000)
def _soon_of(text: str) -> str:
    return next((soon for soon, pattern in _SOON if pattern.search(text)), "")


def find_two_urgencies_for_one_sign(told: Told) -> Iterator[str]:
    """One set of sheets must not call one sign an emergency here and something for another day there."""
    found: dict[str, dict[str, str]] = {}
    for soon, text in _list_urgent(told):
        for topic in _topics_of(text):
            found.setdefault(topic, {}).setdefault(soon, text)
    for topic, texts in found.items():
        if len(texts) > 1:
            yield f"{topic}: " + " / ".join(f"{soon}: {text}" for soon, text in texts.items())


def _list_urgent(told: Told) -> Iterator[tuple[str, str]]:
    """(how soon, sign) of every line that says how soon."""
    for line in told.lines:
        if line.section in ("who", "help") and line.kind == "item" and (soon := _soon_of(line.text)):
            yield soon, line.text
    for block in told.leaf_blocks(HelpBox):
        for group in block.groups:
            yield from ((_soon_of(plain(group.heading)), plain(sign)) for sign in group.signs)
    for piece, box in told.blocks(Box):
        if piece.section == "help":
            for title, lines in box.groups:
                if soon := _soon_of(title):
                    yield from ((soon, "".join(run.text for run in line)) for line in lines)
