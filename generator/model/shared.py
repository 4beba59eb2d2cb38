"""The shared vocabularies: closed sets that protocols point into by id."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from generator.model.words import FieldName, Finger, Id, Line, People, Seen, Shown, Text, Urgency

StructureKind = Literal[
    "pulley", "sheath", "tendon", "muscle", "ligament", "joint", "bone", "growth-plate", "nerve", "skin"
]
Landmark = Literal[
    "mcp", "pip", "dip", "a1", "a2", "a3", "a4", "a5", "sheath", "pip-side", "dip-side", "mcp-side", "volar-plate",
    "central-slip", "growth-plate", "lumbrical", "palm-tendon", "forearm", "fingertip", "nail", "knuckle", "wrist",
    "hamate", "proximal", "middle",
]  # fmt: skip
Hold = Literal["edge", "pocket", "sloper", "pinch", "undercling", "finger-crack", "hand-crack", "jug"]
View = Literal["palm", "back"]
TouchSpot = Literal[
    "middle-segment", "joint-front", "base-segment", "base-crease", "mid-palm", "heel", "forearm", "end-joint",
    "joint-back", "knuckle", "joint-side", "joint-round",
]  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Structure:
    """A part of the finger or hand (anatomy.yml). `landmark` and `view` say where a drawing marks it."""

    id: Id
    name: Line
    plain: Text
    kind: StructureKind
    view: View
    landmark: Landmark


@dataclass(frozen=True, kw_only=True)
class JointAngles:
    """Typical joint angles of a grip in degrees, bending positive; `pip_spread` is one SD where measured."""

    mcp: int
    pip: int
    dip: int
    pip_spread: int = 0
    source: Line


@dataclass(frozen=True, kw_only=True)
class Grip:
    """A way of holding on (grips.yml). `fingers` take the load; `hold` and `thumb` say how it is drawn."""

    id: Id
    name: Line
    plain: Text
    also_called: tuple[Line, ...] = ()
    fingers: tuple[Finger, ...]
    neighbours: Literal["together", "free", "tucked"]
    hold: Hold
    thumb: Literal["over", "along"]
    angles: JointAngles | None = None


@dataclass(frozen=True, kw_only=True)
class Sign:
    """Something a person or clinician can notice (signs.yml). `spot`: where a place is touched on the drawn hand."""

    id: Id
    says: Line
    question: Line
    kind: Literal["onset", "place", "feeling", "look", "movement", "timing", "person"]
    spot: TouchSpot | None = None


@dataclass(frozen=True, kw_only=True)
class Test:
    """A hands-on test (tests.yml): how, what counts as positive, when not to.

    `warning_signs`: those that it can find; what `positive` says of how soon is theirs.
    """

    __test__ = False

    id: Id
    name: Line
    plain: Line
    who: Literal["anyone", "clinician"]
    how: tuple[Text, ...]
    positive: Text
    not_proof: Text
    not_when: Text
    warning_signs: tuple[Id, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Taping:
    """A way of taping (tapings.yml). `kind` is what a drawing and a length sum need to know."""

    id: Id
    name: Line
    kind: Literal["ring", "h-strip", "buddy", "splint"]
    level: Literal["a2", "a4", "pip", "dip", "proximal-and-middle"]
    neighbour: Literal["none", "injured-side", "stronger"]
    purpose: Text
    evidence: Text
    materials: tuple[Line, ...]
    steps: tuple[Text, ...]
    check_after: tuple[Text, ...]
    mistakes: tuple[Text, ...]
    take_off: Text


@dataclass(frozen=True, kw_only=True)
class Equipment:
    """A thing an exercise needs, and what will do instead."""

    thing: Line
    instead: Line


@dataclass(frozen=True, kw_only=True)
class Exercise:
    """One exercise so that it can be repeated (exercises.yml). `loaded`: its load is a share of the baseline.

    `counts`: what one repeat is. A dose of routes is sets x repeats of them, with the rest between.
    """

    id: Id
    name: Line
    aim: Text
    loaded: bool
    counts: Literal["repeats", "routes"] = "repeats"
    supervision: Literal["alone", "first-time-with-clinician", "always-with-clinician"]
    equipment: tuple[Equipment, ...] = ()
    start: Text
    steps: tuple[Text, ...]
    mistakes: tuple[Text, ...]
    stop_if: Text


@dataclass(frozen=True, kw_only=True)
class Gate:
    """What must be true before the next stage (gates.yml). The clinician and the person judge it, never the program."""

    id: Id
    name: Line
    says: Text
    how_to_check: Text


@dataclass(frozen=True, kw_only=True)
class WarningSign:
    """A sign that needs somebody else, and how soon (warning_signs.yml): the one place where its urgency stands.

    `short`: the sign at a glance, where there is little room; `signs`: each of them is this warning; `words`: by these
    other texts tell it, and must then say the same of how soon.
    """

    id: Id
    sign: Text
    short: Line | None = None
    why: Text
    do: Text
    urgency: Urgency
    people: People
    signs: tuple[Id, ...] = ()
    words: tuple[Line, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Source:
    """Where a figure comes from, and how far it was seen (sources.yml)."""

    id: Id
    short: Line
    full: Text
    kind: Literal[
        "guideline",
        "review",
        "trial",
        "cohort",
        "case-series",
        "laboratory",
        "schedule",
        "textbook",
        "public-body",
        "standard",
    ]
    year: int | None = None
    doi: Line | None = None
    seen: Seen


@dataclass(frozen=True, kw_only=True)
class Term:
    """A word of the trade in plain words (terms.yml). `plain` fits in brackets after the word."""

    id: Id
    term: Line
    plain: Line
    more: Text
    also_called: tuple[Line, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Phrase:
    """A sentence or label that readers see in more than one place (wording.yml). `{name}` marks a gap to fill."""

    id: Id
    says: Text


@dataclass(frozen=True, kw_only=True)
class StandardItem:
    """What a reporting standard asks for, and our answer (standards.yml): one of `shown`, `unmet` and `person`.

    `shown`: where readers meet it; `fields`: what of the model holds it; `lacks`: what of it is missing; `person`: why
    only a person can tell.
    """

    id: Id
    standard: Literal["TIDieR", "CERT", "PEMAT-P", "DISCERN", "CDC"]
    item: Line
    says: Line
    fields: tuple[FieldName, ...] = ()
    shown: tuple[Shown, ...] = ()
    lacks: Text | None = None
    unmet: Text | None = None
    person: Text | None = None


@dataclass(frozen=True, kw_only=True)
class Tolerated:
    """A finding that is accepted for a reason (exceptions.yml). It must still be a finding."""

    rule: Id
    file: Line
    path: Line
    reason: Text


@dataclass(frozen=True, kw_only=True)
class Retired:
    """An id that is no longer used, and where its readers go now (retired.yml)."""

    id: Id
    now: Id
    since: Line
    reason: Text


@dataclass(frozen=True, kw_only=True)
class Vocabularies:
    """All shared vocabularies, each in the order in which it was written."""

    anatomy: tuple[Structure, ...]
    grips: tuple[Grip, ...]
    signs: tuple[Sign, ...]
    tests: tuple[Test, ...]
    tapings: tuple[Taping, ...]
    exercises: tuple[Exercise, ...]
    gates: tuple[Gate, ...]
    warning_signs: tuple[WarningSign, ...]
    sources: tuple[Source, ...]
    terms: tuple[Term, ...]
    wording: tuple[Phrase, ...]
    standards: tuple[StandardItem, ...]
    exceptions: tuple[Tolerated, ...]
    retired: tuple[Retired, ...]
