"""Tape lying on the open hand, as areas in the frame of `proportions`.

A ring, a leg or a loop lies on a segment: never in the web, and at least `CLEAR` mm from every crease, because a crease
under tape is a joint that cannot bend. Its edges run as what they lie beside, creases and webs. H-strip: a strip 15 mm
wide with a bridge of 10 mm (Schoeffl et al. 2007, read second hand), its legs round the near ends of both segments.
Other numbers drawn by eye.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from fingerpost.draw.bodies.creases import free_skin
from fingerpost.draw.bodies.fingers import FingerLine, Hand4, Spreads
from fingerpost.draw.bodies.landmarks import Area, band
from fingerpost.draw.bodies.outline import Web, webs
from fingerpost.draw.pens.curves import free, sample, spline
from fingerpost.model.shared import TapingKind, View
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.pictures import TapeMark

LIFT = 0.55
"""Tape stands this far (mm) off the skin."""
WEB_FREE = 3.0
"""A band starts at least this far (mm) beyond the higher web floor beside it."""
CLEAR = 2.0
"""A band lies at least this far (mm) from every crease of its finger."""
BOW, NEAR_BOW = -0.6, 0.4
"""The middle of a band's far and near edge lies this far (mm) beyond its ends, towards the tip."""
RING_WIDE, LEAST_WIDE = 13.5, 8.1
"""A ring round the base segment is so wide (mm) where there is room, and at the least."""
LOOP_HALF, LITTLE_HALF, SLANT, CLIMB = 4.6, 3.7, 0.1, 0.5
"""A loop round two fingers is twice so wide (mm) where there is room, and round the little one; what it slants on a
finger, of its own slope; and how far (mm, of that slope) it has begun to climb to the other where it leaves one."""
STRAPS: tuple[tuple[float, float], tuple[float, float]] = ((0.60, 0.82), (0.36, 0.72))
"""Where the straps of a splint of the PIP joint lie, in shares of the base and of the middle segment."""
Line2 = tuple[complex, complex]
Made = Literal["tape", "cloth", "stiff"]


@dataclass(frozen=True, kw_only=True)
class Band:
    """One piece of what is worn: its area, and the threads across it. `made` of tape, of cloth, or stiff."""

    area: Area
    threads: tuple[Line2, ...] = ()
    made: Made = "tape"
    ends: tuple[float, float] = (0.0, 0.0)


def ring_range(finger: Finger, line: FingerLine, level: str, spreads: Spreads) -> tuple[float, float]:
    """Where a ring lies (mm from the MCP centre)."""
    if level == "a2":
        least, most = free_stretch(finger, line, 1, spreads)
        high = min(most, max(line.l1 - 5.0, least + LEAST_WIDE))
        return max(least, high - RING_WIDE), high
    if level == "pip":
        return line.l1 - 6.5, line.l1 + 6.0
    if level == "dip":
        return line.l1 + line.l2 - 5.0, line.l1 + line.l2 + 5.0
    return line.l1 + 0.25 * line.l2, line.l1 + 0.62 * line.l2


def free_stretch(finger: Finger, line: FingerLine, segment: int, spreads: Spreads) -> tuple[float, float]:
    """Between which lengths a band on segment 1 or 2 stays off the creases and off the webs."""
    low, high = free_skin(finger, line, segment)
    least = low + CLEAR + 0.2
    return max(least, above_webs(finger, line, spreads)) if segment == 1 else least, high - CLEAR - 0.2


def above_webs(finger: Finger, line: FingerLine, spreads: Spreads) -> float:
    """The least length at which tape stays clear of both webs beside a finger, on both sides of the finger."""
    first, second, third = webs(spreads)
    beside: dict[Finger, tuple[Web | None, Web | None]] = {
        "little": (None, first), "ring": (first, second), "middle": (second, third), "index": (third, None),
    }  # fmt: skip
    low = 0.0
    for web, sign in zip(beside[finger], (1.0, -1.0), strict=True):
        while web and web.above(line.at(low, sign * (line.half(low) + LIFT))) < WEB_FREE:
            low += 0.25
    return low


def wrap_round(line: FingerLine, low: float, high: float, bow: float = BOW) -> Band:
    """A band once round the finger, as seen from one face; `bow`: of its edge towards the tip."""
    mid = (low + high) / 2
    shape = _skin_band(line, low, high, bow)
    half = line.half(mid) + LIFT
    count = max(3, int(2 * half / 2.2))
    threads = []
    for share in (1 - 2 * k / count for k in range(1, count)):
        far = high + bow * (1 - share * share)
        ends = (line.at(a, share * (line.half(a) + LIFT)) for a in (low + NEAR_BOW * (1 - share * share), far))
        threads.append((next(ends), next(ends)))
    return Band(area=shape, threads=tuple(threads), ends=(low, high))


def _skin_band(line: FingerLine, low: float, high: float, bow: float) -> Area:
    shares = [1 - k / 4 for k in range(9)]

    def row(a: float, lift: float) -> list[complex]:
        return [line.at(a + lift * (1 - s * s), s * (line.half(a) + LIFT)) for s in shares]

    mid = (low + high) / 2
    edges = [line.at(mid, s * (line.half(mid) + LIFT)) for s in (-1, 1)]
    return (*row(low, NEAR_BOW), edges[0], *row(high, bow)[::-1], edges[1])


def h_strip(line: FingerLine) -> list[Band]:
    """Bridge over the inner side of the PIP joint, legs on both sides of the joint."""
    near, far = (line.l1 - 12.0, line.l1 - 4.5), (line.l1 + 4.4, line.l1 + 11.9)
    bridge = Band(area=band(line, near[1] - 3, far[0] + 3, 5.0), ends=(near[1], far[0]))
    return [bridge, wrap_round(line, *near), wrap_round(line, *far)]


def splint(finger: Finger, line: FingerLine, level: str) -> list[Band]:
    """A stiff strip under one joint, held by two bands that leave the joint free to see. Its ends stay off the creases
    of the neighbour joints, which are to move."""
    if level == "dip":
        low, high = line.l1 + 0.30 * line.l2, line.from_share(3, 0.80)
        bands = [
            (line.l1 + 0.38 * line.l2, line.l1 + 0.72 * line.l2),
            (line.from_share(3, 0.24), line.from_share(3, 0.48)),
        ]
    else:
        low, high = free_skin(finger, line, 1)[0] + CLEAR + 1.2, free_skin(finger, line, 2)[1] - CLEAR - 1.2
        near, far = STRAPS
        bands = [(near[0] * line.l1, near[1] * line.l1), (line.l1 + far[0] * line.l2, line.l1 + far[1] * line.l2)]
    stiff = Band(area=_rounded(line, low, high), made="stiff", ends=(low, high))
    return [stiff, *(wrap_round(line, a, b) for a, b in bands)]


def _rounded(line: FingerLine, low: float, high: float) -> Area:
    half = 0.62 * line.half((low + high) / 2)
    points = [line.at(low, 0), line.at(low + 2, -0.8 * half), line.at(low + 5, -half), line.at(high - 5, -half)]
    points += [line.at(high - 2, -0.8 * half), line.at(high, 0), line.at(high - 2, 0.8 * half), line.at(high - 5, half)]
    points += [line.at(low + 5, half), line.at(low + 2, 0.8 * half)]
    return tuple(sample(spline(free([*points, points[0]])), 3))


def buddy(a: Finger, b: Finger, fingers: Hand4, spreads: Spreads) -> list[Band]:
    """Two straight loops round two fingers, one on each side of the PIP joints, which stay free."""
    ulnar, radial = sorted((a, b), key=FINGERS.index, reverse=True)
    first, second = fingers[ulnar], fingers[radial]
    near, far = ([free_stretch(f, fingers[f], segment, spreads) for f in (ulnar, radial)] for segment in (1, 2))
    half = LOOP_HALF if "little" not in (a, b) else LITTLE_HALF
    return [_loop(first, second, near, half), _loop(first, second, far, half)]


def join_fingers(a: Finger, b: Finger, fingers: Hand4, limits: list[tuple[float, float]]) -> Band:
    """One loop round two fingers, between two lengths on each."""
    order = sorted(zip((a, b), limits, strict=True), key=lambda row: FINGERS.index(row[0]), reverse=True)
    return _loop(fingers[order[0][0]], fingers[order[1][0]], [row[1] for row in order])


def _loop(first: FingerLine, second: FingerLine, limits: list[tuple[float, float]], most: float = LOOP_HALF) -> Band:
    """One loop between the free stretches (lengths from, to) of both fingers: as level as they allow, and so wide that
    where it slants and where it climbs from one finger to the other it stays within them too."""
    lines, slope, half, middles = (first, second), 0.0, most, [0.0, 0.0]
    for _ in range(8):
        rows = _within(limits, lines, slope)
        half = min(most, *((high - low) / 2 for low, high in rows))
        kept = [(line, low + half, high - half) for line, (low, high) in zip(lines, rows, strict=True)]
        level = max(line.at(low).imag for line, low, _ in kept), min(line.at(high).imag for line, _, high in kept)
        aim = (level[0] + level[1]) / 2
        middles = [min(max(line.length_at_height(aim), low), high) for line, low, high in kept]
        across = second.at(middles[1]) - first.at(middles[0])
        slope = across.imag / across.real
    slant = SLANT * slope
    low_edge = _across_both(first, second, middles[0] - half, middles[1] - half, slant)
    high_edge = _across_both(first, second, middles[0] + half, middles[1] + half, slant)
    threads = tuple(zip(low_edge[1:-1], high_edge[1:-1], strict=True))
    return Band(area=(*low_edge, *high_edge[::-1]), threads=threads, ends=(middles[0] - half, middles[0] + half))


def _within(
    limits: list[tuple[float, float]], lines: tuple[FingerLine, FingerLine], slope: float
) -> list[tuple[float, float]]:
    """What is left of two stretches for a loop that climbs from one to the other: less at all four corners, and at the
    two that face the other finger."""
    rows = []
    for (low, high), line, up in zip(limits, lines, (slope, -slope), strict=True):
        lost, climb = abs(SLANT * slope) * (line.half((low + high) / 2) + LIFT), CLIMB * up
        rows.append((low + lost + max(-climb, 0.0), high - lost - max(climb, 0.0)))
    return rows


def _across_both(first: FingerLine, second: FingerLine, a: float, b: float, slant: float) -> list[complex]:
    """One edge of a loop: over both fingers, sagging a little between them; `slant` mm up per mm to the thumb."""
    points = []
    for line, at, shares in ((first, a, (1.0, 0.4, -0.4, -0.97)), (second, b, (0.97, 0.4, -0.4, -1.0))):
        for share in shares:
            skin = line.half(at) + (LIFT if abs(share) == 1 else 0)
            points.append(line.at(at - slant * share * skin + (BOW if abs(share) < 0.5 else 0.0), share * skin))
    return sample(spline(free(points)), 3)


def lay_tape(tape: TapeMark, fingers: Hand4, spreads: Spreads) -> list[Band]:
    """All pieces of one taping, in the order in which they are drawn."""
    line = fingers[tape.finger]
    if tape.partner:
        pieces = buddy(tape.finger, tape.partner, fingers, spreads)
    elif tape.kind == "h-strip":
        pieces = h_strip(line)
    elif tape.kind == "splint" and tape.level in ("pip", "dip"):
        return splint(tape.finger, line, tape.level)
    else:
        levels = ("a2", "a4") if tape.level == "proximal-and-middle" else (tape.level,)
        pieces = [wrap_round(line, *ring_range(tape.finger, line, level, spreads)) for level in levels]
    made = made_of(tape.kind)
    return [replace(piece, made=made) for piece in pieces]


def made_of(kind: TapingKind) -> Made:
    """What the bands of a taping are made of."""
    return "cloth" if kind == "soft" else "stiff" if kind == "splint" else "tape"


def seen_pieces(tape: TapeMark, view: View, fingers: Hand4, spreads: Spreads) -> list[Band]:
    """What is seen of a taping from one face: the bridge and the stiff strip lie on the palm side."""
    pieces = lay_tape(tape, fingers, spreads)
    hidden = tape.kind == "h-strip" or (tape.kind == "splint" and tape.level in ("pip", "dip"))
    return pieces[1:] if view == "back" and hidden else pieces
