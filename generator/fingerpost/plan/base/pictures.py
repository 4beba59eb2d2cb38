"""Pictures as data: what a drawing shows. `draw` turns each into SVG and decides nothing.

Every picture has a `title` that says what a sighted reader learns from it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fingerpost.model.movement import MovementSign, Pose, SceneName
from fingerpost.model.shared import (
    Hold,
    Inside,
    Landmark,
    Look,
    Neighbours,
    TapeScene,
    TapingKind,
    TapingLevel,
    ThumbPlace,
    TouchSpot,
    View,
)
from fingerpost.model.words import FINGERS, Finger, GripMark, Hand, Side
from fingerpost.plan.base.runs import Handle, Spoken, Visible

_BESIDE_STRIP, _BESIDE_SLIT_STRIP = 0.39, 1.34
"""Room beside a strip for scissors, in mm for each point of the letters; where it is slit, also for its width."""


@dataclass(frozen=True, kw_only=True)
class Spot:
    """Something marked on a hand. `side`: of landmarks that have one; `label` stands beside a leader line."""

    landmark: Landmark
    finger: Finger
    side: Side | None = None
    label: Visible = ""


@dataclass(frozen=True, kw_only=True)
class TapeMark:
    """Tape lying on a hand. `partner` only for buddy taping; `letters` name its pieces from the palm to the tip."""

    kind: TapingKind
    level: TapingLevel
    finger: Finger
    partner: Finger | None = None
    letters: tuple[Visible, ...] = ()


@dataclass(frozen=True, kw_only=True)
class HandPicture:
    """One hand, palm or back. `finger_names` stand above the tips, `hand_name` below the wrist.

    `ring`: a ring round each spot, so that it is seen where the hand is printed small.
    """

    title: Spoken
    hand: Hand
    view: View
    spots: tuple[Spot, ...] = ()
    tapes: tuple[TapeMark, ...] = ()
    finger_names: tuple[tuple[Finger, Visible], ...] = ()
    hand_name: Visible = ""
    ring: bool = False


@dataclass(frozen=True, kw_only=True)
class GripPicture:
    """A hand on a hold, from the thumb's side.

    Angles in degrees, bending positive: of the index, on a pocket of the fingers in it. Depth of an edge or pocket in
    mm. `neighbours` of a pocket: open, or tucked into the palm. `thumb`: locked over the index, or off. `mark`,
    `word`: may it be used. `small`: 11 to 21 mm wide, without words, all equally high. Small fingers say which hold.
    """

    title: Spoken
    mcp: int
    pip: int
    dip: int
    depth_mm: int
    mark: GripMark | None = None
    word: Visible = ""
    hold: Hold = "edge"
    fingers: tuple[Finger, ...] = FINGERS
    neighbours: Neighbours = "together"
    thumb: ThumbPlace = "along"
    hand: Hand = "left"
    name: Visible = ""
    small: bool = False


InsideKind = Literal["finger-side", "joint-front", "palm-tendons", "forearm"]
InsidePart = Literal[
    "bone", "tendon", "a1", "a2", "a3", "a4", "a5", "sheath", "ligament", "other-ligament", "volar-plate",
    "central-slip", "growth-plate", "lumbrical", "palm-tendon", "thumb-side", "little-finger-side", "bowstring",
    "joint", "surface-tendon", "muscle",
]  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class InsidePicture:
    """What lies under the skin of one finger, simplified, and what is hurt.

    `labels`: pairs of a part and its words; `hurt_label` stands beside the hurt part. `seen_from`: of a joint from the
    front or the back, so that its sides lie as on the picture of the hand. `mcp`, `pip`, `dip`: bends of the
    finger from the side, degrees. `torn`: a hurt pulley is gone and the tendon stands off; `tucked`: the other fingers
    are bent into the palm and pull their tendons the other way (palm).
    """

    title: Spoken
    kind: InsideKind
    hurt: Inside
    side: Side | None = None
    labels: tuple[tuple[InsidePart, Visible], ...] = ()
    hurt_label: Visible = ""
    finger: Finger
    hand: Hand
    seen_from: View = "palm"
    mcp: int = 5
    pip: int = 35
    dip: int = 15
    torn: bool = False
    tucked: bool = False


Mistake = Literal["over-joint", "too-tight", "too-low", "cut-bridge", "wrong-finger", "strap-on-joint", "pad-on-back"]
SIDE_SCENES: frozenset[TapeScene] = frozenset((
    "lay-end", "test", "bend-joint", "far-tails", "bend-both", "into-splint", "near-strap", "far-strap", "free-joints",
    "raise-hand",
))  # fmt: skip
"""The steps of a taping that are seen from the side."""
BACK_SCENES: frozenset[TapeScene] = frozenset(("second-turn", "close-ring", "lock-ring"))
"""Those that are seen from the back. All others show the palm side, and the thumb where there are more fingers than
one, or beside them a small hand that has it."""


@dataclass(frozen=True, kw_only=True)
class TapingPicture:
    """One step of a taping, the check at its end, or its usual mistakes.

    `strips`: length and width in mm of each strip as it is cut for this person, and its letter, '' where all are alike.
    `hurt`: what a step marks that goes by the place that is hurt. `notes`: short words in it: under each of the
    `mistakes`, beside the signs of the check (colour, warmth, feeling, off), or at the joint that is held and those
    that stay free. `wrong_partner`: the finger that is struck out. `small`: 26 to 30 mm wide, without words.
    """

    title: Spoken
    kind: TapingKind
    level: TapingLevel
    hand: Hand
    finger: Finger
    partner: Finger | None
    draws: Literal[TapeScene, "check", "mistakes"]
    strips: tuple[tuple[int, int, Visible], ...] = ()
    hurt: Spot | None = None
    notes: tuple[Visible, ...] = ()
    mistakes: tuple[Mistake, ...] = ()
    wrong_partner: Finger | None = None
    small: bool = False


@dataclass(frozen=True, kw_only=True)
class ExercisePicture:
    """One frame of an exercise, at the same scale as its other frames. `frame` counts from 1.

    `poses`: of all frames, or of the grip, or none where the scene has its own. `numbers`: of the steps that it shows.
    The hand is seen from the thumb's side; `finger`: which it is about, where not all do the same. `times`: how often;
    `clock`: what it shows is held, and `held` says for how long. `small`: 12 to 16 mm wide, without words.
    """

    title: Spoken
    scene: SceneName | None = None
    poses: tuple[Pose, ...] = ()
    frame: int
    hand: Hand = "right"
    finger: Finger | None = None
    numbers: tuple[int, ...] = ()
    times: Visible = ""
    clock: bool = False
    held: Visible = ""
    caption: Visible = ""
    small: bool = False


@dataclass(frozen=True, kw_only=True)
class MovementSignPicture:
    """One sign of the pictures of exercises; `says`: what it means."""

    title: Spoken
    sign: MovementSign
    says: Visible


Standing = Literal["past", "today", "ahead", "none"]


@dataclass(frozen=True, kw_only=True)
class Signpost:
    """One stage on the way back. `arms` are the lines on its arms; `gate` are the lines before the next post."""

    number: int
    name: Visible
    arms: tuple[Visible, ...]
    gate: Visible
    standing: Standing


@dataclass(frozen=True, kw_only=True)
class Flag:
    """A date that matters, standing after the signpost with the number `after` (0: before the first)."""

    after: int
    what: Visible
    date: Visible


@dataclass(frozen=True, kw_only=True)
class PathPicture:
    """The way back: a path with a signpost per stage."""

    title: Spoken
    posts: tuple[Signpost, ...]
    flags: tuple[Flag, ...] = ()
    here: Visible = ""
    lying: bool = False


TrialKind = Literal[
    "point-pressure", "crimp-against-open", "bowstring-check", "resisted-bending", "deep-flexor-alone",
    "surface-flexor-alone", "side-stress", "lumbrical-stress", "joint-squeeze", "end-of-range", "passive-straightening",
    "middle-joint-bent-press", "tip-hold", "table-top", "fist-lines", "full-fist-full-straight", "little-finger-pull",
    "infection-look", "press-and-refill", "night-tingling-check", "back-of-joint-press", "knuckle-watch",
]  # fmt: skip
"""The hands-on tests of tests.yml that can be drawn, by their ids."""
TrialLabel = Literal["pain", "push", "move", "slide"]


@dataclass(frozen=True, kw_only=True)
class TrialPicture:
    """A hands-on test: who holds what, which way it is pushed or moves, where pain counts.

    `labels`: words for the place where pain counts (or what to look at), and for each kind of arrow, written where the
    drawing has one.
    """

    title: Spoken
    kind: TrialKind
    hand: Hand = "right"
    finger: Finger = "ring"
    side: Side | None = None
    labels: tuple[tuple[TrialLabel, Visible], ...] = ()


@dataclass(frozen=True, kw_only=True)
class DiaryPicture:
    """A chart for a pen: pain 0 to 10 over days, and how stiff it is, 0 to 2. `known`: (day from 0, sign 0-1, pain).

    `days` under the columns, `signs` for during and next morning; `limit`: above it do less, `limit_word` at its line.
    """

    title: Spoken
    days: tuple[Visible, ...]
    signs: tuple[Visible, Visible]
    limit: int
    limit_word: Visible
    pain_word: Visible
    stiff_word: Visible
    known: tuple[tuple[int, int, int], ...] = ()


@dataclass(frozen=True, kw_only=True)
class LoadRow:
    """One grip in the load chart: `loads` has typical, least and most for each pulley, 1 as in a half crimp."""

    name: Visible
    grip: GripPicture
    loads: tuple[tuple[float, float, float], ...]


@dataclass(frozen=True, kw_only=True)
class LoadPicture:
    """How much grips load pulleys, a bar each. `levels`: what the axis is marked with, the lowest first."""

    title: Spoken
    pulleys: tuple[Visible, ...]
    rows: tuple[LoadRow, ...]
    levels: tuple[tuple[float, Visible], ...]


@dataclass(frozen=True, kw_only=True)
class TouchArea:
    """A place on a drawing that can be touched: the sign that it stands for, where it lies, what it is called.

    `label`: a word written on it.
    """

    sign: Handle
    spot: TouchSpot
    name: Spoken
    label: Visible = ""


TouchView = Literal["palm", "back", "side", "forearm"]


@dataclass(frozen=True, kw_only=True)
class TouchPicture:
    """A drawing to touch where it is sore: the palm, the back, one joint from the side, or the forearm."""

    title: Spoken
    view: TouchView
    areas: tuple[TouchArea, ...]


@dataclass(frozen=True, kw_only=True)
class StagesPicture:
    """The stages as a row of boards: those behind with a tick, today's as a pointing hand, those ahead bare.

    `count` 2 to 8; `today` counts from 1, and `word` stands beside it on its board.
    """

    title: Spoken
    count: int
    today: int
    word: Visible


@dataclass(frozen=True, kw_only=True)
class StripPicture:
    """Strips of tape at true size, to lay the tape on and cut: the longest drawn, shorter ones marked on it.

    `strips`: length in mm and the letter of each, '' for none. `bridge_mm`: the uncut middle of a strip that is slit
    from both ends, and `bridge_word` what is said of it.
    """

    title: Spoken
    strips: tuple[tuple[int, Visible], ...]
    width_mm: int
    bridge_mm: int | None = None
    bridge_word: Visible = ""

    def needed_mm(self, text_pt: float = 10.0) -> float:
        """How wide the drawing is: no room may be narrower, because it is never scaled."""
        beside = _BESIDE_SLIT_STRIP if self.bridge_mm else _BESIDE_STRIP
        return round(max(length for length, _ in self.strips) + beside * text_pt, 1)


@dataclass(frozen=True, kw_only=True)
class RulerPicture:
    """A line at true size with a tick every 10 mm: does the paper tell the truth?"""

    title: Spoken
    length_mm: int

    def needed_mm(self, text_pt: float = 10.0) -> float:
        """How wide the drawing is: no room may be narrower, because it is never scaled."""
        return round(max(self.length_mm, 2.5 * text_pt) + 1.0, 1)


@dataclass(frozen=True, kw_only=True)
class StrengthPicture:
    """How much each hand pulls, as bars: its name, how much, and that in words. `goal`: the line to reach."""

    title: Spoken
    rows: tuple[tuple[Visible, float, Visible], ...]
    goal: float | None = None
    goal_said: Visible = ""


@dataclass(frozen=True, kw_only=True)
class LookPicture:
    """What is recognised by sight, beside a healthy finger; words stand below the two."""

    title: Spoken
    look: Look
    healthy: Visible = ""
    sore: Visible = ""


@dataclass(frozen=True, kw_only=True)
class SignPicture:
    """Yes, only like this, no: the sign alone, 5 to 7 mm. `on_band`: for a ground of the ink."""

    title: Spoken
    mark: GripMark
    on_band: bool = False


Picture = (
    HandPicture | GripPicture | InsidePicture | TapingPicture | ExercisePicture | MovementSignPicture | PathPicture
    | TrialPicture | DiaryPicture | LoadPicture | TouchPicture | StagesPicture | StripPicture | RulerPicture
    | StrengthPicture | LookPicture | SignPicture
)  # fmt: skip
