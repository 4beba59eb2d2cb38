"""The shared vocabularies: closed sets that protocols point into by id."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fingerpost.model.audience import EVERYBODY, For, Said, Told
from fingerpost.model.movement import Movement
from fingerpost.model.words import FieldName, Finger, Id, Line, Seen, Shown, Text, Urgency

StructureKind = Literal[
    "pulley", "sheath", "tendon", "muscle", "ligament", "joint", "bone", "growth-plate", "nerve", "skin"
]
Landmark = Literal[
    "mcp", "pip", "dip", "a1", "a2", "a3", "a4", "a5", "sheath", "pip-side", "dip-side", "mcp-side", "volar-plate",
    "central-slip", "growth-plate", "lumbrical", "palm-tendon", "forearm", "fingertip", "nail", "knuckle", "wrist",
    "hamate", "proximal", "middle",
]  # fmt: skip
Inside = Literal[
    "a1", "a2", "a3", "a4", "a5", "sheath", "tendon", "surface-tendon", "mcp", "pip", "dip", "mcp-side", "pip-side",
    "dip-side", "volar-plate", "central-slip", "growth-plate", "lumbrical", "forearm",
]  # fmt: skip
Hold = Literal["edge", "pocket", "sloper", "pinch", "undercling", "finger-crack", "hand-crack", "jug"]
View = Literal["palm", "back"]
Look = Literal[
    "drooping-tip", "cannot-straighten-middle", "twisted-finger", "whole-finger-swelling", "spindle-swelling",
    "cord-in-palm", "bony-knobs", "cannot-bend-tip", "catching-or-locking",
]  # fmt: skip
"""A sign (signs.yml) that is recognised by sight, and drawn."""
TouchSpot = Literal[
    "middle-segment", "joint-front", "base-segment", "base-crease", "mid-palm", "heel", "forearm", "end-joint",
    "joint-back", "knuckle", "joint-side", "joint-round",
]  # fmt: skip
TapingKind = Literal["ring", "h-strip", "buddy", "soft", "splint"]
TapingLevel = Literal["a2", "a4", "pip", "dip", "proximal-and-middle"]
TapeScene = Literal[
    "wash", "cut", "slit", "rub", "test", "lay-end", "first-turn", "second-turn", "bridge", "near-tails", "bend-joint",
    "far-tails", "hurt-side", "stronger", "sore-web", "gauze", "near-pair", "far-pair", "bare-joints", "bend-both",
    "open-ring", "close-ring", "sleeve", "into-splint", "near-strap", "far-strap", "free-joints", "raise-hand",
    "slide-on", "over-joint", "turn-pad", "lock-ring",
]  # fmt: skip
"""What is drawn of one step of a taping."""
BuddyRule = Literal["none", "injured-side", "stronger"]
Neighbours = Literal["together", "free", "tucked"]
ThumbPlace = Literal["over", "along"]
LookUp = Literal[
    "start", "injuries", "warning-signs", "look-up", "apart", "signs", "grips", "tapings", "exercises", "gates",
    "tests", "words", "for-coaches", "for-gyms", "desk", "about", "sources",
]  # fmt: skip
"""A page of the site that is about no single injury: the first part of its address, and the home page as `start`."""

JOINT_KINDS: frozenset[StructureKind] = frozenset({"joint", "ligament", "growth-plate", "bone"})
"""Parts of a joint. In somebody who still grows, pain in one of them means stop until a doctor has cleared it."""


@dataclass(frozen=True, kw_only=True)
class Structure:
    """A part of the finger or hand (anatomy.yml). `landmark` and `view` say where a drawing marks it.

    `inside`: which part of the drawings of what lies under the skin it is. Without it there is no such drawing of it.
    """

    id: Id
    name: Line
    plain: Text
    kind: StructureKind
    view: View
    landmark: Landmark
    inside: Inside | None = None


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
    """A way of holding on (grips.yml). `fingers` take the load; `hold` and `thumb` say how it is drawn.

    `adults_only`: left in every stage while a finger still grows.
    """

    id: Id
    name: Line
    plain: Text
    also_called: tuple[Line, ...] = ()
    fingers: tuple[Finger, ...]
    neighbours: Neighbours
    hold: Hold
    thumb: ThumbPlace
    angles: JointAngles | None = None
    adults_only: bool = False


@dataclass(frozen=True, kw_only=True)
class Sign:
    """Something a person or clinician can notice (signs.yml). `spot`: where a place is touched on the drawn hand.

    `choice`: the same in a few words, as an answer to "How did it begin?".
    """

    id: Id
    says: Line
    choice: Line | None = None
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
class TapeStep:
    """One step of a taping, which is one picture: its number is that of the step, its caption what the step says.

    `brief`: what stands below the small picture on the leaf; only the steps that a leaf shows have it.
    """

    draws: TapeScene
    says: Told
    brief: Line | None = None


@dataclass(frozen=True, kw_only=True)
class Taping:
    """A way of taping (tapings.yml). `kind` is what a drawing and a length sum need to know. Nothing is cut of two:
    `soft`, of cloth with a hook fastening, and `splint`, which is stiff and made by a therapist.

    `without_glue`: the entry that takes its place on a skin that does not bear tape; only what has no glue has none.
    For the leaf: `brief` is a heading with the gaps {finger} and {partner}, and `wear` says when it is worn.
    """

    id: Id
    name: Line
    brief: Line
    kind: TapingKind
    level: TapingLevel
    neighbour: BuddyRule
    without_glue: Id | None = None
    purpose: Told
    evidence: Text
    materials: tuple[Line, ...]
    steps: tuple[TapeStep, ...]
    check_after: tuple[Said, ...]
    mistakes: tuple[Said, ...]
    wear: Told
    take_off: Told

    @property
    def is_cut(self) -> bool:
        """Whether it is made of strips that are cut from a roll."""
        return self.kind not in ("soft", "splint")


@dataclass(frozen=True, kw_only=True)
class Equipment:
    """A thing an exercise needs, and what will do instead."""

    thing: Line
    instead: Line
    for_: For = EVERYBODY


@dataclass(frozen=True, kw_only=True)
class Exercise:
    """One exercise so that it can be repeated (exercises.yml). `loaded`: its load is a share of the baseline.

    `counts`: what one repeat is. A dose of routes is sets x repeats of them, with the rest between.
    For a row of the leaf: `brief` is a shorter name, and `cue` what name and dose do not say. `picture`: how it is
    drawn; `no_picture` says why it is not.
    """

    id: Id
    name: Line
    brief: Line | None = None
    aim: Told
    loaded: bool
    counts: Literal["repeats", "routes"] = "repeats"
    supervision: Literal["alone", "first-time-with-clinician", "always-with-clinician"]
    for_: For = EVERYBODY
    equipment: tuple[Equipment, ...] = ()
    start: Told
    steps: tuple[Said, ...]
    cue: Told | None = None
    mistakes: tuple[Said, ...]
    stop_if: Told
    picture: Movement | None = None
    no_picture: Line | None = None


@dataclass(frozen=True, kw_only=True)
class Gate:
    """What must be true before the next stage (gates.yml). The clinician and the person judge it, never the program.

    `who` tells whether it is met. `pull`: what must be pulled for it: nothing, the loads of the stage, or as much as
    the hand can. `strength`: the share of the healthy hand's best pull that is asked, in percent. `stay`: it asks for
    the shortest time of the stage, which the windows give. `brief`: the gate for the leaf, with the gaps {most} for the
    pain limit of the stage and {weeks} for its shortest time.
    """

    id: Id
    name: Line
    who: Literal["person", "clinician", "doctor"]
    pull: Literal["none", "stage", "maximal"] = "none"
    strength: int | None = None
    stay: bool = False
    for_: For = EVERYBODY
    says: Told
    brief: Told
    how_to_check: Text


@dataclass(frozen=True, kw_only=True)
class WarningSign:
    """A sign that needs somebody else, and how soon (warning_signs.yml): the one place where its urgency stands.

    `short`: the sign at a glance, where there is little room; `choice`: in a few words, among all the others on the
    home page; `signs`: each of them is this warning; `words`: by these other texts tell it, and must then say the same
    of how soon.
    """

    id: Id
    sign: Text
    short: Line | None = None
    choice: Line | None = None
    why: Text
    do: Told
    urgency: Urgency
    for_: For = EVERYBODY
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
    """A sentence or label that readers see in more than one place (wording/). `{name}` marks a gap to fill."""

    id: Id
    says: Told


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
class SearchWords:
    """What people type into the search of the site (search_words.yml). Nobody reads it: it only finds.

    `typed`: their words, each entry of the list one word or several. Either they stand for words that the texts use
    (`means`), or they lead to pages: of injuries (`conditions`), and of others (`pages`).
    """

    id: Id
    typed: tuple[Line, ...]
    means: Line | None = None
    conditions: tuple[Id, ...] = ()
    pages: tuple[LookUp, ...] = ()


FOR_UPKEEP = frozenset({"search_words", "exceptions", "retired"})
"""The vocabularies that nobody reads on a page or sheet: they may be empty, and nothing that they say is printed."""


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
    search_words: tuple[SearchWords, ...]
    exceptions: tuple[Tolerated, ...]
    retired: tuple[Retired, ...]
