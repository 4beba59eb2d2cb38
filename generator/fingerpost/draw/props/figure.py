"""A person from the side as a plain contour, for exercises that need the whole body. Units: a hundredth of the height.

Joints are given; every limb is a soft tapered shape. Limbs of one group melt into one contour (drawn twice: the line,
then the skin over it). Proportions: usual drawing canon (head 13, trunk 30, thigh 24, shank 24), by eye.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fingerpost.draw.bodies.side_hand import bend_to
from fingerpost.draw.pens.curves import Cubic, ellipse, free, heading, offset, ring, sample, spline
from fingerpost.draw.pens.svg import BLACK, FINE, MAIN, WHITE, Position, curve_data, path
from fingerpost.draw.props.stage import Thing

FAR_LEG, FAR_ARM = 1.6 + 0.8j, 1.4 + 0.5j
"""How the limbs on the far side are shifted."""
FAR_ASTRIDE, NEAR_ASTRIDE = 5.4 - 0.4j, -3.0 - 0.6j
"""The same for legs that stand apart: one before and one behind what is between them, both feet on the ground."""
Limb = tuple[tuple[complex, float], ...]
"""Points along a limb with the half width there."""
THIGH, SHANK, UPPER_ARM, FOREARM, TRUNK = 24.0, 23.0, 16.5, 15.0, 30.0


def limb_shape(limb: Limb) -> list[Cubic]:
    """A closed tapered contour with round ends."""
    course = sample(spline(free([p for p, _ in limb])), 2) if len(limb) > 2 else [p for p, _ in limb]
    widths = _spread([w for _, w in limb], len(course))
    left = [a + (b - a) * w for a, b, w in zip(course, offset(course, 1.0), widths, strict=True)]
    right = [a - (b - a) * w for a, b, w in zip(course, offset(course, 1.0), widths, strict=True)]
    start, stop = course[0] - course[1], course[-1] - course[-2]
    head = course[-1] + stop / abs(stop) * widths[-1] * 0.9
    tail = course[0] + start / abs(start) * widths[0] * 0.9
    return ring(free([tail, *left, head, *right[::-1]]))


def _spread(values: Sequence[float], count: int) -> list[float]:
    last = len(values) - 1
    result = []
    for k in range(count):
        t = k / (count - 1) * last
        i = min(int(t), last - 1)
        result.append(values[i] + (values[i + 1] - values[i]) * (t - i))
    return result


@dataclass(frozen=True)
class Person:
    """Facing right. `hip` and `ankle` set the bend of the knee, `lean` the trunk (degrees from upright, to the front).

    `hand`: where the hand is; the elbow follows. `elbow_back`: which way the elbow points. `between`: what stands or
    hangs between the legs, which are apart for it: the near one is drawn over it.
    """

    hip: complex
    ankle: complex
    lean: float
    hand: complex
    elbow_back: bool = True
    look: float = 0.0
    between: tuple[Thing, ...] | None = None

    @property
    def shoulder(self) -> complex:
        return self.hip + TRUNK * heading(90 - self.lean)

    @property
    def knee(self) -> complex:
        straight = self.ankle - self.hip
        angle = bend_to(self.hip, self.ankle, THIGH, SHANK)
        return self.hip + THIGH * heading(angle) if abs(straight) < THIGH + SHANK else (self.hip + self.ankle) / 2 + 0.3

    @property
    def elbow(self) -> complex:
        start, stop = (self.hand, self.shoulder) if self.elbow_back else (self.shoulder, self.hand)
        first, second = (FOREARM, UPPER_ARM) if self.elbow_back else (UPPER_ARM, FOREARM)
        return start + first * heading(bend_to(start, stop, first, second))

    def _arm(self, shift: complex = 0j) -> list[Limb]:
        s, e, h = self.shoulder + shift, self.elbow + shift, self.hand + shift
        return [
            ((s, 3.3), ((s + e) / 2, 2.9), (e, 2.3)),
            ((e, 2.3), (e + 0.35 * (h - e), 2.4), (h, 1.5)),
            ((h, 1.6), (h + 3.2 * (h - e) / abs(h - e), 1.7)),
        ]

    def _leg(self, shift: complex = 0j) -> list[Limb]:
        h, k, a = self.hip + 0.3 * shift, self.knee + 0.7 * shift, self.ankle + shift
        return [
            ((h, 5.2), ((h + k) / 2, 4.4), (k, 3.1)),
            ((k, 3.1), (k + 0.3 * (a - k), 3.4), (a, 1.9)),
            ((a + 0.4 - 1.6j, 1.9), (a + 5 - 2.6j, 1.6), (a + 9 - 2.9j, 1.1)),
        ]

    def _trunk(self) -> list[Limb]:
        s, h, up = self.shoulder, self.hip, heading(90 - self.lean)
        front = up * -1j
        return [
            ((h, 5.0), ((s + h) / 2 + 0.3 * front, 4.7), (s - 1.5 * up, 4.7)),
            ((s + up * 1, 3.0), (s + up * 6 + 0.8 * front, 2.5)),
        ]

    def _head(self) -> list[Cubic]:
        up = heading(90 - self.lean * 0.6 - self.look)
        centre = self.shoulder + heading(90 - self.lean) * 5 + up * 7 - 1j * up * 1.4
        return ellipse(centre, up, 6.6, 5.2)

    def cover(self, place: Position) -> list[complex]:
        joints = [self.ankle - 6j, self.ankle + 12 - 5j, self.hip - 6, self.knee + 5, self.hand, self.elbow]
        return place.points([*joints, *sample(self._head(), 1)])

    def draw(self, place: Position) -> str:
        astride = self.between is not None
        far = [*self._leg(FAR_ASTRIDE if astride else FAR_LEG), *self._arm(FAR_ARM)]
        near = [limb_shape(limb) for limb in (*self._leg(NEAR_ASTRIDE if astride else 0j), *self._trunk())]
        return (
            "".join(melt([limb_shape(limb) for limb in limbs], place) for limbs in (far[:3], far[3:]))
            + "".join(thing.draw(place) for thing in self.between or ())
            + melt([*near, self._head()], place)
            + melt([limb_shape(limb) for limb in self._arm()], place)
        )


def melt(shapes: Sequence[Sequence[Cubic]], place: Position, fill: str = WHITE) -> str:
    """Several closed shapes as one body: all lines first, then all skins."""
    data = [curve_data(place.curve(shape), True) for shape in shapes]
    pen = FINE if place.fine else MAIN
    return path("".join(data), stroke=BLACK, pen=2 * pen) + "".join(path(d, fill=fill) for d in data)
