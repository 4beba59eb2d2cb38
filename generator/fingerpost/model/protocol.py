"""A protocol: everything that is said about one injury."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fingerpost.model.audience import EVERYBODY, For, MayBeBare, Said, Told
from fingerpost.model.shared import Look
from fingerpost.model.words import Finger, GradeId, IcdCode, Id, IsoDate, Line, People, SpanText, Text, Urgency, Version


@dataclass(frozen=True, kw_only=True)
class Code:
    """An ICD-10 (WHO) code and what it stands for here. The choice of code carries its mark in `fits`."""

    icd10: IcdCode
    title: Line
    fits: Text


@dataclass(frozen=True, kw_only=True)
class Status:
    """Who stands behind the text, and until when."""

    version: Version
    written: IsoDate
    reviewed: IsoDate | None
    next_review: IsoDate
    state: Literal["draft", "approved"]
    reviewer_role: Line | None
    funding: Line


@dataclass(frozen=True, kw_only=True)
class SignFit:
    """Which signs are usual, which come sometimes, and which make one think of something else."""

    usual: tuple[Id, ...]
    sometimes: tuple[Id, ...]
    does_not_fit: tuple[Id, ...]


@dataclass(frozen=True, kw_only=True)
class LookAlike:
    """Another condition that feels similar, and what separates it."""

    id: Id
    signs: tuple[Id, ...]
    tests: tuple[Id, ...] = ()
    why_it_matters: Text


@dataclass(frozen=True, kw_only=True)
class Grade:
    """How bad it is. `tear`: something has torn, so pain ceilings are strict; `torn_through`: at these places right
    through. `places`: only there, where named.

    `brief`: what the person has, for the one-sheet leaf; it offers nothing that the injured place cannot have.
    """

    id: GradeId
    name: Line
    plain: Text
    brief: Told
    recognised: Text
    imaging: Text
    treated_by: Literal["therapist", "doctor-and-therapist", "surgeon"]
    tear: bool
    torn_through: tuple[Id, ...] = ()
    places: tuple[Id, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Range:
    """A time from `least` to `most`, counted from the anchor, with where it is from."""

    least: SpanText
    most: SpanText
    source: Line


@dataclass(frozen=True, kw_only=True)
class Recovery:
    """How long people in a study really took, from the anchor, in whole weeks or months, rounded up.

    `who`: on average, or until the last of them was there. `until`: what was counted, which is seldom full climbing.
    """

    who: Literal["mean", "all"]
    until: Literal["old-level", "no-symptoms", "healed", "climbing"]
    after: SpanText
    source: Line


@dataclass(frozen=True, kw_only=True)
class Timeline:
    """Typical times of one grade, as published or as practised. `recovery`: what a study found, where there is one."""

    grade: GradeId
    easy_climbing: Range
    full_climbing: Range
    taping_ends: Range | None
    recovery: Recovery | None = None


@dataclass(frozen=True, kw_only=True)
class Window:
    """When a stage may begin for one grade, counted from the anchor.

    `maximal_test`: from when in this stage a clinician may let the hand pull as hard as it can.
    """

    grade: GradeId
    earliest: SpanText
    usual: SpanText
    latest: SpanText
    source: Line
    maximal_test: SpanText | None = None


@dataclass(frozen=True, kw_only=True)
class GripLimit:
    """Grips that are fine on a condition. `brief`: the condition for the leaf, to be followed on the wall."""

    grips: tuple[Id, ...]
    when: Told
    brief: Told


@dataclass(frozen=True, kw_only=True)
class GripRules:
    """Every grip of the vocabulary stands in exactly one of these."""

    keep: tuple[Id, ...]
    limit: tuple[GripLimit, ...]
    leave: tuple[Id, ...]


@dataclass(frozen=True, kw_only=True)
class Load:
    """Load as a share of the baseline in percent, from `least` to `most`."""

    least: int
    most: int
    source: Line


@dataclass(frozen=True, kw_only=True)
class Dose:
    """How much of an exercise. Exactly one of `repeats` and `hold_seconds` may be missing."""

    exercise: Id
    sets: int
    repeats: int | None = None
    hold_seconds: int | None = None
    rest_seconds: int = 0
    times_a_day: int = 1
    days_a_week: int = 7
    grip: Id | None = None
    source: Line
    for_: For = EVERYBODY


@dataclass(frozen=True, kw_only=True)
class TapeUse(MayBeBare):
    """A taping that a stage uses. `by_choice`: printed only where the clinician has chosen it for a person."""

    taping: Id
    by_choice: bool = False
    for_: For = EVERYBODY

    __bare__ = "taping"


@dataclass(frozen=True, kw_only=True)
class GateUse(MayBeBare):
    """A gate that a stage asks for."""

    gate: Id
    for_: For = EVERYBODY

    __bare__ = "gate"


@dataclass(frozen=True, kw_only=True)
class SignUse(MayBeBare):
    """A warning sign that a protocol names."""

    sign: Id
    for_: For = EVERYBODY

    __bare__ = "sign"


@dataclass(frozen=True, kw_only=True)
class PainLimit:
    """The most pain out of 10 that is acceptable during and until the next morning."""

    most: int
    source: Line


@dataclass(frozen=True, kw_only=True)
class Stage:
    """One part of the way back. `coach`: what a coach plans with, in words that do not tell what is hurt.

    `on_wall`: whether anything is climbed. For the leaf: `verdict` is one line, from "Today: " on; `brief` says how to
    climb, in a stage on the wall; `daily_brief` stands only where the stage limits daily life.
    """

    id: Id
    name: Line
    aim: Told
    milestone: Literal["none", "easy-climbing", "full-climbing"]
    skipped_by: tuple[GradeId, ...] = ()
    windows: tuple[Window, ...]
    daily_life: Told
    daily_brief: Told | None = None
    climbing: Told
    on_wall: bool
    verdict: Told
    brief: Told | None = None
    grips: GripRules
    load: Load | None
    pain: PainLimit
    taping: tuple[TapeUse, ...]
    exercises: tuple[Dose, ...]
    gate: tuple[GateUse, ...]
    coach: Told | None = None


@dataclass(frozen=True, kw_only=True)
class Fact:
    """One thing that a study found, as a sentence with its mark."""

    id: Id
    about: Literal["how-common", "outcome", "time", "load", "tape", "imaging", "test", "strength"]
    says: Text


@dataclass(frozen=True, kw_only=True)
class Seek:
    """When to see whom, and how soon. `warning_signs`: those that it tells, each as urgent as this."""

    when: Text
    whom: Line
    urgency: Urgency
    warning_signs: tuple[Id, ...] = ()
    for_: For = EVERYBODY


@dataclass(frozen=True, kw_only=True)
class Notice:
    """A poster in a gym: one message, three things to look for, three things to do, to be read two metres away."""

    message: Line
    look_for: tuple[Line, ...]
    do: tuple[Line, ...]


@dataclass(frozen=True, kw_only=True)
class Change:
    """A note on one version: what changed for readers, and why. The newest comes first."""

    version: Version
    date: IsoDate
    what: Text
    reason: Text


@dataclass(frozen=True, kw_only=True)
class Protocol:
    """All that is said about one injury, as its author wrote it. `brief`: what is hurt, for the leaf.

    For the top of its page: `now` is what somebody does whom nobody has seen yet, `seen_by` who sees it without a
    warning sign.
    """

    id: Id
    plain_name: Line
    trade_name: Line
    also_called: tuple[Line, ...]
    codes: tuple[Code, ...]
    tissue: tuple[Id, ...]
    places: tuple[Id, ...]
    fingers: tuple[Finger, ...]
    needs_side: bool
    people: People
    stop: bool
    status: Status
    summary: Told
    brief: Told
    now: tuple[Said, ...]
    seen_by: Told
    how_it_happens: Text
    onset: Text
    grip_rule: Told
    signs: SignFit
    tests: tuple[Id, ...]
    look_alikes: tuple[LookAlike, ...]
    warning_signs: tuple[SignUse, ...]
    grades: tuple[Grade, ...]
    timelines: tuple[Timeline, ...]
    stages: tuple[Stage, ...]
    facts: tuple[Fact, ...]
    goes_wrong: tuple[Said, ...]
    cautions: tuple[Said, ...]
    see_somebody: tuple[Seek, ...]
    if_nothing_is_done: Told
    other_ways: Text
    questions: tuple[Said, ...]
    notice: Notice | None = None
    changes: tuple[Change, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Referral:
    """A short entry: how it shows, why it matters, who should see it and how soon. No home programme.

    `looks`: the one of its signs that is drawn, where it is recognised by sight.
    For the leaf: `brief` is what it may be and why it must be seen, `verdict` one line from "Today: " on, and `tell`
    what to tell whoever sees it.
    """

    id: Id
    plain_name: Line
    trade_name: Line
    also_called: tuple[Line, ...]
    codes: tuple[Code, ...]
    tissue: tuple[Id, ...]
    people: People
    status: Status
    summary: Told
    brief: Told
    verdict: Told
    how_it_shows: Text
    looks: Look | None = None
    why_it_matters: Text
    until_then: tuple[Said, ...]
    tell: tuple[Said, ...]
    signs: SignFit
    tests: tuple[Id, ...]
    look_alikes: tuple[LookAlike, ...]
    see_somebody: tuple[Seek, ...]
    usual_care: Text
    questions: tuple[Said, ...]
    changes: tuple[Change, ...] = ()


Condition = Protocol | Referral
