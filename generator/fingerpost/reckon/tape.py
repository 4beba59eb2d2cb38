"""Tape: what size a finger is, how long each strip must be cut, and how much of a roll goes in a week.

All lengths are millimetres. Size letters and proportions between fingers are ours (recalled, low confidence): a
measured finger is always better, and every result says which it was. Turns, overlap and padding are design choices.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import asin, ceil, pi, sqrt
from typing import Literal

from fingerpost.model.case import FingerSize, SizeLetter
from fingerpost.model.shared import TapingKind, TapingLevel
from fingerpost.model.words import FINGERS, Finger
from fingerpost.reckon.why import DESIGN_CHOICE, Fault, Why

Segment = Literal["proximal", "pip", "middle", "dip"]
Variant = Literal["straight", "crossing"]
Origin = Literal["measured", "from-another-finger", "size-letter"]

# Circumference round the middle finger's PIP joint, mm; the other fingers beside it; other places beside the PIP.
SIZES_MM: Mapping[SizeLetter, float] = {"S": 50.0, "M": 57.0, "L": 64.0}
FINGER_FACTORS: Mapping[Finger, float] = {"index": 0.98, "middle": 1.0, "ring": 0.95, "little": 0.83}
LEVEL_FACTORS: Mapping[Segment, float] = {"proximal": 0.97, "pip": 1.0, "middle": 0.87, "dip": 0.86}
SEGMENTS: Mapping[TapingLevel, tuple[Segment, ...]] = {
    "a2": ("proximal",),
    "a4": ("middle",),
    "pip": ("pip",),
    "dip": ("dip",),
    "proximal-and-middle": ("proximal", "middle"),
}
# Ring gauges run from 41 to 76 mm (ISO 8653:1986, read as JIS S 4700): beyond is odd, far beyond is a mistake.
GAUGE_MM = (41.0, 76.0)
LIMITS_MM = (36.0, 85.0)

THICKNESS_MM = 0.3  # practice
WIDTH_MM = 15  # H-strip: Schöffl 2007 (second-hand); the others: common practice, 10 to 20
NARROW_MM = 10  # common practice: where a wider ring, or a loop round two fingers, would lie on a joint
SLIM_MM = 8  # own: between the web and the middle crease of a little finger there is no room for more
RING_TURNS, BUDDY_TURNS = 2.0, 1.5  # design choices
OVERLAP_MM = 10.0  # design choice: a tail to start and to pull off by
PADDING_MM = 3.0  # design choice: one fold of gauze between two fingers
H_LENGTH_MM, H_REFERENCE_MM, H_BRIDGE_MM = 100.0, 57.0, 10.0  # Schöffl 2007 (second-hand); the finger's size is ours
ROLL_MM = 10_000  # a usual roll of finger tape, 10 m


@dataclass(frozen=True)
class FingerRound:
    """How thick a finger is. `pip_mm`: circumference round the PIP joint. `outside_gauge`: unusual, measure again."""

    finger: Finger
    pip_mm: float
    origin: Origin
    outside_gauge: bool = False

    def at(self, segment: Segment) -> float:
        """The circumference at a place, mm."""
        return self.pip_mm * LEVEL_FACTORS[segment]


@dataclass(frozen=True)
class TapeStrip:
    """Strips of one length to cut. `tail_mm`, `bridge_mm`: only for an H-strip, slit from both ends."""

    segment: Segment
    count: int
    length_mm: int
    width_mm: int
    why: Why
    tail_mm: float = 0.0
    bridge_mm: float = 0.0


@dataclass(frozen=True)
class CutList:
    """What to cut each time, and what that comes to in a week. `roll_weeks`: whole weeks that a 10 m roll lasts."""

    strips: tuple[TapeStrip, ...]
    times_a_week: int
    each_time_mm: int
    week_strips: int
    week_mm: int
    roll_weeks: int


@dataclass(frozen=True)
class RingSize:
    """A finger's size as jewellers write it: ISO 8653 is the inner circumference in whole mm."""

    iso: int
    diameter_mm: float
    us: float
    japan: int
    in_gauge: bool


def explain_refusal(mm: float) -> str:
    """Why a circumference is refused, with the likely slip; '' if it is not."""
    if LIMITS_MM[0] <= mm <= LIMITS_MM[1]:
        return ""
    for unit, factor in (("centimetres", 10.0), ("inches", 25.4), ("millimetres across", pi)):
        if LIMITS_MM[0] <= mm * factor <= LIMITS_MM[1]:
            return f"{mm:g} looks like {unit}: it must be in millimetres round the finger, {mm * factor:.0f} mm"
    return f"no finger is {mm:g} mm round: it must be from 36 to 85 mm, measured round the middle joint"


def find_faults(sizes: Sequence[FingerSize]) -> Iterator[Fault]:
    """Every measured circumference that is refused, in the order of a case file."""
    for at, size in enumerate(sizes):
        if must := explain_refusal(size.mm):
            yield Fault(("finger_sizes", at, "mm"), must)


def size_finger(finger: Finger, sizes: Sequence[FingerSize], letter: SizeLetter = "M") -> FingerRound:
    """How thick a finger is: measured, else from the nearest measured finger and the usual proportions, else S/M/L.

    Raises ValueError for a measure outside 36-85 mm; outside 41-76 mm it is marked.
    """
    for fault in find_faults(sizes):
        raise ValueError(fault.must)
    measured = {size.finger: size.mm for size in sizes}
    if finger in measured:
        return _mark(finger, measured[finger], "measured")
    at = FINGERS.index(finger)
    near = min(measured, key=lambda other: (abs(FINGERS.index(other) - at), FINGERS.index(other)), default=None)
    if near:
        return _mark(finger, measured[near] * FINGER_FACTORS[finger] / FINGER_FACTORS[near], "from-another-finger")
    return _mark(finger, SIZES_MM[letter] * FINGER_FACTORS[finger], "size-letter")


def _mark(finger: Finger, mm: float, origin: Origin) -> FingerRound:
    mm = round(mm, 1)
    return FingerRound(finger, mm, origin, not GAUGE_MM[0] <= mm <= GAUGE_MM[1])


def find_ring_length(round_mm: float, turns: float, overlap_mm: float = 0.0) -> float:
    """A strip wound `turns` times round a finger, mm: n C + pi t n^2 + overlap, because each turn lies on the last."""
    return turns * round_mm + pi * THICKNESS_MM * turns**2 + overlap_mm


def find_loop_length(first_mm: float, second_mm: float, gap_mm: float, variant: Variant = "straight") -> float:
    """One turn round two fingers of the circumferences given, `gap_mm` apart, mm.

    Straight: the open belt, 2 sqrt(d^2 - (r1 - r2)^2) + pi (r1 + r2) + 2 (r1 - r2) asin((r1 - r2) / d).
    Crossing (a figure of eight): 2 sqrt(d^2 - (r1 + r2)^2) + (r1 + r2) (pi + 2 asin((r1 + r2) / d)).
    d = r1 + r2 + gap is the distance between the fingers' middles. Raises ValueError for a gap below 0.
    """
    if not gap_mm >= 0:
        raise ValueError(f"a gap of {gap_mm:g} mm between two fingers must not be below 0")
    first, second = first_mm / (2 * pi), second_mm / (2 * pi)
    apart = first + second + gap_mm
    if variant == "crossing":
        both = first + second
        return 2 * sqrt(apart**2 - both**2) + both * (pi + 2 * asin(both / apart))
    more = first - second
    return 2 * sqrt(apart**2 - more**2) + pi * (first + second) + 2 * more * asin(more / apart)


def find_buddy_length(
    first_mm: float,
    second_mm: float,
    gap_mm: float = PADDING_MM,
    variant: Variant = "straight",
    turns: float = BUDDY_TURNS,
) -> float:
    """A strip round two fingers, mm: n loop + pi t n^2 + overlap (a turn laid on another is 2 pi t longer)."""
    return find_ring_length(find_loop_length(first_mm, second_mm, gap_mm, variant), turns, OVERLAP_MM)


def find_h_length(pip_mm: float) -> float:
    """An H-strip, mm: 100 x C / 57, so that it goes round any finger as often as the published one round 57 mm."""
    return H_LENGTH_MM * pip_mm / H_REFERENCE_MM


def round_up(mm: float, step_mm: int = 5) -> int:
    """Up to whole steps. A length within a millionth of a step is on it, whatever its last binary digit."""
    return ceil(round(mm / step_mm, 6)) * step_mm


def list_strips(
    kind: TapingKind,
    level: TapingLevel,
    finger: FingerRound,
    partner: FingerRound | None = None,
    variant: Variant = "straight",
) -> tuple[TapeStrip, ...]:
    """The strips of one taping; none for loops and splints, which come with their own straps.

    Raises ValueError for buddy taping without a partner. Buddy tape 'at the PIP' goes on either side of the joint.
    """
    if kind in ("soft", "splint"):
        return ()
    if kind == "h-strip":
        return (_cut_h_strip(finger),)
    segments = SEGMENTS["proximal-and-middle" if level == "pip" and kind == "buddy" else level]
    if kind == "buddy":
        if partner is None:
            raise ValueError("buddy taping needs a finger to tape to")
        return tuple(_cut_buddy(segment, finger, partner, variant) for segment in segments)
    return tuple(_cut_ring(segment, finger) for segment in segments)


def _cut_ring(segment: Segment, finger: FingerRound) -> TapeStrip:
    length = find_ring_length(finger.at(segment), RING_TURNS, OVERLAP_MM)
    inputs = [
        ("turns n", f"{RING_TURNS:g}"),
        ("round C", _say_round(finger, segment)),
        ("tape t", f"{THICKNESS_MM} mm"),
        ("overlap", f"{OVERLAP_MM:g} mm"),
    ]
    roomy = segment == "proximal" and finger.finger != "little"
    width = WIDTH_MM if roomy else NARROW_MM
    return _make_strip(segment, length, width, "n C + pi t n^2 + overlap", inputs, DESIGN_CHOICE)


def _cut_buddy(segment: Segment, finger: FingerRound, partner: FingerRound, variant: Variant) -> TapeStrip:
    length = find_buddy_length(finger.at(segment), partner.at(segment), PADDING_MM, variant)
    inputs = [
        ("turns n", f"{BUDDY_TURNS:g}"),
        (finger.finger, _say_round(finger, segment)),
        (partner.finger, _say_round(partner, segment)),
        ("padding", f"{PADDING_MM:g} mm"),
        ("tape t", f"{THICKNESS_MM} mm"),
        ("overlap", f"{OVERLAP_MM:g} mm"),
    ]
    loop = "open belt" if variant == "straight" else "figure of eight"
    formula = f"n x {loop} round both fingers + pi t n^2 + overlap"
    width = SLIM_MM if "little" in (finger.finger, partner.finger) else NARROW_MM
    return _make_strip(segment, length, width, formula, inputs, DESIGN_CHOICE)


def _cut_h_strip(finger: FingerRound) -> TapeStrip:
    inputs = [("round C", _say_round(finger, "pip")), ("published", "100 x 15 mm, bridge 10 mm"), ("at", "57 mm")]
    formula = "100 mm x C / 57 mm"
    strip = _make_strip("pip", find_h_length(finger.pip_mm), WIDTH_MM, formula, inputs, "schoffl-2007-tape")
    tail = (strip.length_mm - H_BRIDGE_MM) / 2
    return TapeStrip("pip", 1, strip.length_mm, WIDTH_MM, strip.why, tail, H_BRIDGE_MM)


def _make_strip(
    segment: Segment, mm: float, width_mm: int, formula: str, inputs: list[tuple[str, str]], source: str
) -> TapeStrip:
    length = round_up(mm)
    inputs = [*inputs, ("before rounding up to 5 mm", f"{mm:.1f} mm")]
    why = Why(f"strip ({segment})", f"{length} mm", formula, tuple(inputs), source)
    return TapeStrip(segment, 1, length, width_mm, why)


def _say_round(finger: FingerRound, segment: Segment) -> str:
    factor = LEVEL_FACTORS[segment]
    how = f" ({finger.origin}: {finger.pip_mm:g} mm round the PIP x {factor:g})"
    return f"{finger.at(segment):.1f} mm{how}"


def plan_cuts(strips: tuple[TapeStrip, ...], times_a_week: int, roll_mm: int = ROLL_MM) -> CutList:
    """What to cut each time and in a week, and how many whole weeks a roll lasts. ValueError beyond 1-70 times."""
    if not 1 <= times_a_week <= 70:
        raise ValueError(f"taping {times_a_week} times a week must be from 1 to 70")
    each = sum(strip.count * strip.length_mm for strip in strips)
    pieces = sum(strip.count for strip in strips) * times_a_week
    week = each * times_a_week
    return CutList(strips, times_a_week, each, pieces, week, int(roll_mm // week))


def convert_to_ring_size(round_mm: float) -> RingSize:
    """A circumference as ring sizes: ISO 8653 = C; diameter = C / pi; US = (C - 36.5) / 2.55, to a quarter size;
    Japan = 3 (diameter - 13) + 1. Sources: ISO 8653 and the US step as read in a public table; JCS table."""
    diameter = round_mm / pi
    us = round(round(round_mm - 36.5, 6) / 2.55 * 4) / 4
    in_gauge = GAUGE_MM[0] <= round_mm <= GAUGE_MM[1]
    return RingSize(round(round_mm), round(diameter, 1), us, round((diameter - 13) * 3 + 1), in_gauge)
