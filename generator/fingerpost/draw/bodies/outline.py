"""The contour of the open hand: one list of points, one curve. Right hand from the palm, clockwise from the little
finger's side of the forearm. Finger widths come from the tables in `proportions`; the rest is drawn by eye."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fingerpost.draw.bodies.fingers import RELAXED, FingerLine, Spreads, lay_fingers
from fingerpost.draw.bodies.proportions import THUMB
from fingerpost.draw.pens.curves import Cubic, Knot, free, heading, spline
from fingerpost.model.words import Finger

WEB_CLEARANCE = 8.0
"""A point of a finger's side nearer to the web floor than this (mm, along the web) is left out."""
CUT, FOREARM_CUT = -36.0, -172.0
_WEB_PLACES: dict[tuple[Finger, Finger], tuple[float, float, float]] = {
    # ulnar neighbour, radial neighbour: share of the proximal segment of each, half gap in mm
    ("little", "ring"): (0.51, 0.43, 1.9),
    ("ring", "middle"): (0.47, 0.45, 1.5),
    ("middle", "index"): (0.45, 0.49, 1.7),
}
_ULNAR = (-31.5 - 36j, -29.8 - 18j, -31.2 - 3j, -36.8 + 11j, -43.6 + 29j, -47.4 + 50j)
_RADIAL = (57.5 + 37.5j, 47.0 + 19.0j, 35.5 + 3.0j, 30.2 - 13.0j, 31.5 - 36.0j)
_FOREARM_ULNAR = (-41.5 - 172j, -44.0 - 140j, -42.0 - 105j, -36.0 - 65j)
_FOREARM_RADIAL = (36.5 - 65j, 44.0 - 105j, 47.0 - 140j, 45.0 - 172j)
_FIRST_WEB = (35.3 + 81.0j, 36.8 + 71.5j, 41.8 + 64.6j)

# Thumb, seen three-quarter: (segment 1 = proximal, 2 = distal, share along it, distance from the line of the joints).
# The pulp side (towards the fingers) is fuller than the nail side: that makes it a thumb.
_PULP_SIDE = ((1, 0.55, 10.2), (2, 0.0, 11.0), (2, 0.28, 10.8), (2, 0.58, 9.8), (2, 0.85, 6.4))
_NAIL_SIDE = ((2, 0.90, 4.9), (2, 0.66, 7.9), (2, 0.32, 9.2), (2, 0.0, 10.3), (1, 0.55, 9.5), (1, 0.0, 12.2))

Joints = tuple[complex, complex, complex, complex]
THUMB_IN: Joints = (24 + 16j, 52.5 + 51j, 62 + 82j, 66 + 112j)
"""The thumb drawn in beside the hand (by eye)."""
Tucked = frozenset[Finger]
"""Fingers bent into the palm."""


@dataclass(frozen=True, kw_only=True)
class Web:
    """The skin fold between two fingers: its floor, the direction to the tips, half the gap in mm."""

    floor: complex
    axis: complex
    gap: float

    def knots(self) -> list[Knot]:
        """Down, across, up: three points with fixed directions make the round floor."""
        left = 1j * self.axis
        rim = self.floor + 1.15 * self.gap * self.axis
        return [(rim + self.gap * left, -self.axis), (self.floor, -left), (rim - self.gap * left, self.axis)]

    def above(self, point: complex) -> float:
        """How far a point lies beyond the floor, along the web."""
        return ((point - self.floor) * self.axis.conjugate()).real


def web_between(ulnar: Finger, radial: Finger, spreads: Spreads = RELAXED) -> Web:
    fingers = lay_fingers(spreads)
    a, b = fingers[ulnar], fingers[radial]
    share_a, share_b, gap = _WEB_PLACES[ulnar, radial]
    place_a, place_b = share_a * a.l1, share_b * b.l1
    floor = (a.at(place_a, -a.half(place_a)) + b.at(place_b, b.half(place_b))) / 2
    mean = a.along(place_a) + b.along(place_b)
    return Web(floor=floor, axis=mean / abs(mean), gap=gap)


def webs(spreads: Spreads = RELAXED) -> tuple[Web, Web, Web]:
    """From the little finger's side to the index."""
    pairs: tuple[tuple[Finger, Finger], ...] = (("little", "ring"), ("ring", "middle"), ("middle", "index"))
    first, second, third = (web_between(a, b, spreads) for a, b in pairs)
    return first, second, third


TUCKED_SHARE = 0.74
"""A tucked finger leans away at its knuckle: its first segment is seen at this share of its length."""


def _finger_knots(line: FingerLine, ulnar: Web | float, radial: Web | float, tucked: bool = False) -> list[Knot]:
    """Up the ulnar side, over the tip, down the radial side. A bound is a web, or a share of the first segment.

    `tucked`: the finger is bent into the palm and ends at its middle joint.
    """
    stations, end = line.stations, line.total
    if tucked:
        end = tucked_end(line)
        stations = [(a * TUCKED_SHARE, h) for a, h in stations if a < line.l1]
        stations.append((end - 1.6, 0.62 * line.shape.half))

    def kept(a: float, side: float, bound: Web | float) -> bool:
        if isinstance(bound, Web):
            return bound.above(line.at(a, side)) > WEB_CLEARANCE
        return a >= bound * line.l1

    up = [line.at(a, h) for a, h in stations if kept(a, h, ulnar)]
    down = [line.at(a, -h) for a, h in reversed(stations) if kept(a, -h, radial)]
    return [*free(up), (line.at(end), -1j * line.along(end)), *free(down)]


def tucked_end(line: FingerLine) -> float:
    """Where a tucked finger ends, seen from either face: a little beyond its middle joint."""
    return TUCKED_SHARE * line.l1 + 0.62 * line.shape.half


def thumb_place(joints: Joints, segment: int, share: float, side: float) -> complex:
    """A point beside the thumb: `segment` 1 (MCP-IP) or 2 (IP-tip), `side` in mm to the fingers' side.

    At a joint the direction is the mean of both segments, so that the skin keeps its width round the bend.
    """
    start, stop = joints[segment], joints[segment + 1]
    unit = (stop - start) / abs(stop - start)
    if share < 0.2:
        before = start - joints[segment - 1]
        mean = unit + before / abs(before)
        return start + share * (stop - start) + side * 1j * mean / abs(mean)
    return start + share * (stop - start) + side * 1j * unit


def thumb_knots(joints: Joints = THUMB) -> list[Knot]:
    """From the first web over the tip to the root of the thumb."""
    length = abs(joints[2] - joints[1])
    knots = [thumb_place(joints, 1, 5.0 / length, 11.6)]
    knots += [thumb_place(joints, *row) for row in _PULP_SIDE]
    unit = (joints[3] - joints[2]) / abs(joints[3] - joints[2])
    tip: Knot = (joints[3], -1j * unit * heading(-4.0))
    return [*free(knots), tip, *free(thumb_place(joints, s, share, -side) for s, share, side in _NAIL_SIDE)]


def hand_knots(
    spreads: Spreads = RELAXED, joints: Joints = THUMB, forearm: bool = False, tucked: Tucked = frozenset()
) -> list[Knot]:
    """All points of the contour in order; `forearm` carries it on for most of the forearm."""
    fingers = lay_fingers(spreads)
    first, second, third = webs(spreads)
    ulnar = (*_FOREARM_ULNAR, *_ULNAR) if forearm else _ULNAR
    radial = (*_RADIAL, *_FOREARM_RADIAL) if forearm else _RADIAL
    knots: list[Knot] = [(ulnar[0], None if forearm else 1j), *free(ulnar[1:])]
    knots += _finger_knots(fingers["little"], 0.25, first, "little" in tucked)
    knots += first.knots() + _finger_knots(fingers["ring"], first, second, "ring" in tucked)
    knots += second.knots() + _finger_knots(fingers["middle"], second, third, "middle" in tucked)
    knots += third.knots() + _finger_knots(fingers["index"], third, 0.45, "index" in tucked)
    knots += free(_FIRST_WEB) + thumb_knots(joints) + free(radial[:-1])
    return [*knots, (radial[-1], None if forearm else -1j)]


@cache
def hand_outline(
    spreads: Spreads = RELAXED, forearm: bool = False, tucked: Tucked = frozenset(), joints: Joints = THUMB
) -> tuple[Cubic, ...]:
    return tuple(spline(hand_knots(spreads, joints, forearm, tucked)))
