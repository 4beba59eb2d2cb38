"""One finger from the side, bent at its joints: where the joints lie (forward kinematics) and its two contours.

Frame: the MCP centre is 0, the straight finger points along x, its back is up (y). Bending is positive degrees.
Segment lengths: see `proportions`. Depth at the PIP and DIP joints of a middle finger 17.5 and 14 mm, other depths
drawn by eye. All depths shrink with the finger.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from math import pi, tan

from fingerpost.draw.bodies.proportions import SHAPES
from fingerpost.draw.pens.curves import Cubic, Knot, backwards, free, heading, sample, smooth, spline
from fingerpost.model.words import Finger

# (mm or share along the segment, depth to the back, depth to the palm) for metacarpal and the three segments.
STATIONS: tuple[tuple[tuple[float, float, float], ...], ...] = (
    ((-30, 10.5, 17.5), (-20, 10.3, 18.0), (-10, 10.6, 18.2)),
    ((0.14, 9.8, 17.0), (0.30, 8.6, 14.7), (0.44, 7.9, 12.5), (0.60, 7.3, 12.1), (0.74, 7.2, 11.5), (0.86, 7.6, 10.4)),
    ((0.20, 7.5, 9.5), (0.45, 6.5, 9.6), (0.70, 6.1, 8.9), (0.86, 6.2, 8.1)),
    ((0.16, 6.1, 8.0), (0.30, 5.7, 8.7), (0.46, 5.3, 8.9), (0.62, 4.9, 8.4), (0.78, 4.3, 7.1), (0.90, 3.4, 5.2)),
)
# The hand behind the knuckle, and the forearm behind the wrist (drawn by eye): same columns, mm from the MCP joint.
HAND_STATIONS: tuple[tuple[float, float, float], ...] = (
    (-98, 16.0, 19.0), (-86, 13.8, 17.6), (-71, 11.8, 16.4), (-58, 11.2, 17.6), (-44, 11.0, 19.5), (-28, 10.6, 19.0),
)  # fmt: skip
HIDDEN_STATIONS: tuple[tuple[float, float, float], ...] = ((-40, 3.0, 8.0), (-24, 7.0, 13.0), (-11, 9.6, 16.0))
WRIST = -67.0
TIP_DROP = 1.2
BACK_RADIUS, FOLD_RADIUS = (10.8, 8.4, 6.5), (17.6, 9.1, 7.5)
"""Distance of the skin from the centre of MCP, PIP, DIP: to the back, and to the crease on the palm side."""
SCALE: dict[Finger, float] = {"middle": 1.0, "index": 0.98, "ring": 0.95, "little": 0.84}
LEAST_FOLDED = 25.0
"""Below this bend the MCP joint shows no crease of its own in the contour."""


@dataclass(frozen=True)
class CreaseFold:
    """The bottom of a crease: place, distance from the joint centre, directions of the skin in and out, bend."""

    place: complex
    distance: float
    arrive: complex
    leave: complex
    bend: float


@dataclass(frozen=True)
class SidePose:
    """A finger with its bends in degrees. `turn` rotates the whole, `bulge` (mm) lifts the skin over the near segment.

    `base`: where the MCP joint lies. `wrist`: bend of the wrist to the palm, degrees; None draws no hand, only a stump.
    `behind`: the finger lies behind another one, and its metacarpal runs into that hand.
    """

    mcp: float
    pip: float
    dip: float
    finger: Finger = "middle"
    turn: float = 0.0
    bulge: float = 0.0
    base: complex = 0j
    wrist: float | None = None
    behind: bool = False

    @property
    def k(self) -> float:
        return SCALE[self.finger]

    @property
    def bends(self) -> tuple[float, float, float]:
        return self.mcp, self.pip, self.dip

    @cached_property
    def headings(self) -> tuple[float, float, float, float]:
        """Directions of metacarpal and the three segments, degrees."""
        r = self.turn
        return self.mcp + r, r, r - self.pip, r - self.pip - self.dip

    @property
    def lengths(self) -> tuple[float, float, float]:
        return SHAPES[self.finger].lengths

    @cached_property
    def joints(self) -> tuple[complex, complex, complex, complex]:
        """MCP, PIP, DIP, tip."""
        pip = self.base + self.lengths[0] * heading(self.headings[1])
        dip = pip + self.lengths[1] * heading(self.headings[2])
        return self.base, pip, dip, dip + self.lengths[2] * heading(self.headings[3])

    def at(self, segment: int, along: float, up: float) -> complex:
        """A point of segment 0 (metacarpal, `along` negative from the MCP) or 1-3, in mm; `up` towards the back."""
        start = self.base if segment == 0 else self.joints[segment - 1]
        if segment == 0 and self.wrist is not None and along < WRIST * self.k:
            start += heading(self.headings[0]) * WRIST * self.k
            return start + heading(self.headings[0] + self.wrist) * complex(along - WRIST * self.k, up)
        direction = heading(self.headings[segment])
        return start + direction * complex(along, up)

    def beside(self, joint: int, along: float, up: float) -> complex:
        """A point by joint 1 (MCP), 2 (PIP), 3 (DIP) in the frame halfway between its two segments."""
        mid = heading((self.headings[joint - 1] + self.headings[joint]) / 2)
        return self.joints[joint - 1] + mid * complex(along, up)

    def stations(self, segment: int) -> list[tuple[float, float, float]]:
        """(mm along, to the back, to the palm) of a segment."""
        k = self.k
        if segment == 0:
            hand = HIDDEN_STATIONS if self.behind else STATIONS[0]
            if self.wrist is not None:
                hand = (*HAND_STATIONS, STATIONS[0][-1])
            return [(a * k, up * k, down * k) for a, up, down in hand]
        length = self.lengths[segment - 1]
        rows = [(a * length, up * k, down * k) for a, up, down in STATIONS[segment]]
        if segment == 1 and self.bulge:
            rows = [(a, up, down + self.bulge * _hill(a / length)) for a, up, down in rows]
        return rows

    @cached_property
    def back(self) -> list[Cubic]:
        """The contour of the back, from the metacarpal to the tip."""
        knots: list[Knot] = []
        for segment in range(4):
            near = _back_gap(self.bends[segment - 1], segment - 1, self.k) if segment else 0.0
            far = _back_gap(self.bends[segment], segment, self.k) if segment < 3 else 0.0
            knots += self._kept(segment, near, far, 1)
            if segment < 3:
                knots += free(self._knuckle(segment))
        return spline([*knots, (self._tip, heading(self.headings[3] - 90))])

    @property
    def _tip(self) -> complex:
        return self.at(3, self.lengths[2], -TIP_DROP * self.k)

    def _kept(self, segment: int, near: float, far: float, side: int) -> list[Knot]:
        """Points of one side of a segment that are not too close to the joints at its ends."""
        stop = 0.0 if segment == 0 else self.lengths[segment - 1]
        points = []
        for along, up, down in self.stations(segment):
            if (segment == 0 or along >= near) and (segment == 3 or stop - along >= far):
                points.append(self.at(segment, along, up if side > 0 else -down))
        return free(points)

    def _knuckle(self, joint: int) -> list[complex]:
        """Back of a joint: one point while nearly straight, three when bent, the near bone end standing out."""
        bend, radius = self.bends[joint], BACK_RADIUS[joint] * self.k
        if bend <= 20:
            return [self.beside(joint + 1, 0, radius * (1 + 0.006 * min(bend, 0.0)))]
        lift = smooth((bend - 35) / 50)
        rows = ((0.44 * bend, 1.0), (0.0, 1 + 0.055 * lift), (-0.44 * bend, 1 - 0.06 * lift))
        mid = heading((self.headings[joint] + self.headings[joint + 1]) / 2 + 90)
        return [self.joints[joint] + radius * share * mid * heading(turn) for turn, share in rows]

    @cached_property
    def folds(self) -> list[CreaseFold | None]:
        """The creases of MCP, PIP and DIP; None where the MCP joint is nearly straight."""
        return [self._fold(joint) for joint in range(3)]

    def _fold(self, joint: int) -> CreaseFold | None:
        bend, radius = self.bends[joint], FOLD_RADIUS[joint] * self.k
        if joint == 0 and bend < LEAST_FOLDED:
            return None
        if bend > 0:
            distance = radius / heading(bend / 2).real * (1 - 0.15 * smooth((bend - 20) / 70))
            turn = (0.10 + 0.90 * smooth(bend / 78)) * (90 - bend / 2)
        else:
            distance = radius * (1 + 0.004 * bend)
            turn = 6 * (1 + bend / 25) if bend > -25 else 0.0
        if joint == 0:
            turn *= 0.55 * smooth((bend - 20) / 40)
        arrive, leave = self.headings[joint] + turn, self.headings[joint + 1] - turn
        return CreaseFold(self.beside(joint + 1, 0, -distance), distance, heading(arrive), heading(leave), bend)

    @cached_property
    def palm(self) -> list[list[Cubic]]:
        """The palm side from the metacarpal to the tip, cut at every crease."""
        runs: list[list[Knot]] = [[]]
        for segment in range(4):
            near = _palm_gap(self.bends[segment - 1], segment - 1, self.k) if segment else 0.0
            far = _palm_gap(self.bends[segment], segment, self.k) if segment < 3 else 0.0
            runs[-1] += self._kept(segment, near, far, -1)
            fold = self.folds[segment] if segment < 3 else None
            if fold is not None:
                runs[-1].append((fold.place, fold.arrive))
                runs.append([(fold.place, fold.leave)])
        runs[-1].append((self._tip, heading(self.headings[3] + 90)))
        return [spline(run) for run in runs]

    @cached_property
    def contour(self) -> list[Cubic]:
        """Back and palm side as one line from cut to cut, over the tip."""
        return self.back + [cubic for run in reversed(self.palm) for cubic in backwards(run)]

    @property
    def lowest_pad(self) -> float:
        """y of the lowest point of the end pad (from the last crease on)."""
        return min(point.imag for point in sample(self.palm[-1], 8))


def _hill(share: float) -> float:
    return smooth((share - 0.3) / 0.2) * smooth((1 - share) / 0.25)


def _back_gap(bend: float, joint: int, k: float) -> float:
    """Points of the back nearer to a joint than this are left out, so that the contour cannot cross itself."""
    gap = 3.0 + 2.2 * smooth(bend / 30)
    return gap + (BACK_RADIUS[joint] * k * tan(-bend / 2 * pi / 180) if bend < 0 else 0.0)


def _palm_gap(bend: float, joint: int, k: float) -> float:
    return 3.2 if bend <= 0 else 2.6 + FOLD_RADIUS[joint] * k * tan(bend / 2 * pi / 180)


def depths(pose: SidePose, segment: int, along: float) -> tuple[float, float]:
    """Depth to the back and to the palm (mm) at a place of a segment, straight between the stations."""
    rows = pose.stations(segment)
    if along <= rows[0][0]:
        return rows[0][1], rows[0][2]
    for (a, up_a, down_a), (b, up_b, down_b) in pairwise(rows):
        if a <= along <= b:
            t = (along - a) / (b - a)
            return up_a + t * (up_b - up_a), down_a + t * (down_b - down_a)
    return rows[-1][1], rows[-1][2]
