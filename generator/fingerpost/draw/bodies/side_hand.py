"""The whole hand from the thumb's side: the index in front, the other fingers behind it, wrist, forearm, thumb.

The angles of a grip are those of the index; the fingers behind share its finger tips and their own knuckles, and
their joints follow from that (two bars between two points). Places of knuckles and thumb are drawn by eye.
"""

from __future__ import annotations

import cmath
from dataclasses import dataclass
from math import acos, pi

from fingerpost.draw.bodies.side import SCALE, STATIONS, SidePose
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.pens.blades import Blade, draw_blades
from fingerpost.draw.pens.curves import Cubic, Knot, free, heading, ring, spline
from fingerpost.draw.pens.svg import BLACK, FINE, WHITE, Position, curve_data, path
from fingerpost.model.words import Finger

KNUCKLES: dict[Finger, complex] = {"index": 0j, "middle": 3.7 + 1.6j, "ring": -1.5 + 0.8j, "little": -10.5 - 2.6j}
"""MCP joints from the index's, along the metacarpal (to the tips) and to the back, mm."""
MORE_BENT, LESS_BENT = 14.0, 32.0
"""The fingers behind are bent at the PIP at most this much more or less than the index: beyond that the hand turns."""
UPRIGHT = 88.0
"""Direction of a hanging forearm, degrees; the wrist bends towards it by no more than `WRIST_BEND`."""
WRIST_BEND = 24.0


def beside_index(front: SidePose, finger: Finger) -> SidePose:
    """Another finger on the same hold: its tip beside the index's, its knuckle in the hand's row of knuckles."""
    spot = KNUCKLES[finger]
    pose = _reaching(front, finger, spot)
    while pose.pip > front.pip + MORE_BENT and spot.real > -40:
        spot -= 1.5
        pose = _reaching(front, finger, spot)
    while pose.pip < max(front.pip - LESS_BENT, 6.0) and spot.real < 40:
        spot += 1.0
        pose = _reaching(front, finger, spot)
    return pose


def _reaching(front: SidePose, finger: Finger, spot: complex) -> SidePose:
    """The finger between its knuckle at `spot` and its end segment on the hold: two bars, bent to the back."""
    own, level = SidePose(0, 0, 0, finger), heading(front.headings[3])
    knuckle = front.base + heading(front.headings[0]) * spot * front.k
    deeper = STATIONS[3][2][2] * (SCALE[finger] - front.k)
    last = front.joints[3] - level * own.lengths[2] + level * 1j * deeper
    near = bend_to(knuckle, last, own.lengths[0], own.lengths[1])
    far = cmath.phase(last - knuckle - own.lengths[0] * heading(near)) * 180 / pi
    return SidePose(
        front.headings[0] - near, near - far, far - front.headings[3], finger, near, 0.0, knuckle, behind=True
    )


def bend_to(start: complex, stop: complex, first: float, second: float) -> float:
    """Direction (degrees) of the first of two bars from start to stop, elbow to the left; stretched if too far."""
    span = stop - start
    reach = max(abs(first - second) + 0.1, min(abs(span), (first + second) * 0.999))
    cosine = (first**2 + reach**2 - second**2) / (2 * first * reach)
    return (cmath.phase(span) + acos(max(-1.0, min(1.0, cosine)))) * 180 / pi


@dataclass(frozen=True)
class Thumb:
    """Joints of the thumb: root, MCP, IP, tip; `heel`, `down`: where and how its ball meets the wrist."""

    joints: tuple[complex, complex, complex, complex]
    heel: complex
    down: complex

    def sides(self) -> tuple[list[complex], list[complex], complex]:
        """Points of the left side (root to tip), of the right side (tip to root), and the outward direction."""
        root, mcp, ip, tip = self.joints
        u, v, w = (_unit(b - a) for a, b in ((root, mcp), (mcp, ip), (ip, tip)))
        end = abs(tip - ip)
        rows = [
            (root + 6 * u, u, 12.5, 13.0), (root + 0.55 * (mcp - root), u, 11.6, 13.6), (mcp, _unit(u + v), 10.6, 11.0),
            (mcp + 0.55 * (ip - mcp), v, 8.8, 9.4), (ip, _unit(v + w), 9.2, 9.6), (ip + 0.35 * end * w, w, 8.6, 9.4),
            (ip + 0.65 * end * w, w, 7.4, 8.2), (ip + 0.88 * end * w, w, 4.6, 5.2),
        ]  # fmt: skip
        left = [place + 1j * along * a for place, along, a, _ in rows]
        right = [place - 1j * along * b for place, along, _, b in rows]
        return left, right[:0:-1], w


def _unit(z: complex) -> complex:
    return z / abs(z)


THUMB_BONES = (44.0, 35.0, 29.0)
"""Root to MCP, MCP to IP, IP to tip in mm: usual proportions, from memory."""


def thumb_over(front: SidePose) -> Thumb:
    """The thumb laid over the end of the index, as in a full crimp."""
    return thumb_to(front, front.at(3, 0.56 * front.lengths[2], 7.0))


def thumb_to(front: SidePose, target: complex, turn: float = -14.0) -> Thumb:
    """The thumb reaching for a point with its tip: its root turned by `turn` from the straight way, then two bars."""
    root = front.at(0, -57, -11)
    mcp = root + THUMB_BONES[0] * _unit(target - root) * heading(turn)
    ip = mcp + THUMB_BONES[1] * heading(bend_to(mcp, target, *THUMB_BONES[1:]))
    return _thumb(front, root, mcp, ip, ip + THUMB_BONES[2] * _unit(target - ip))


def thumb_opposed(front: SidePose, tip: complex, last: float) -> Thumb:
    """The thumb set against the fingers: its end segment points along `last` degrees with its tip at `tip`.

    Its two near bones point partly to the viewer, so they are drawn shorter.
    """
    root = front.at(0, -57, -11)
    ip = tip - THUMB_BONES[2] * heading(last)
    seen = min(1.0, 1.06 * abs(ip - root) / (THUMB_BONES[0] + THUMB_BONES[1]))
    first, second = seen * THUMB_BONES[0], seen * THUMB_BONES[1]
    straight = cmath.phase(ip - root) * 180 / pi
    angle = 2 * straight - bend_to(root, ip, first, second)
    return _thumb(front, root, root + first * heading(angle), ip, tip)


def _thumb(front: SidePose, *joints: complex) -> Thumb:
    a, b, c, d = joints
    heel = front.at(0, -81 * front.k, -17.3 * front.k)
    return Thumb((a, b, c, d), heel, -heading(front.headings[0] + (front.wrist or 0)))


def draw_thumb(thumb: Thumb, place: Position, fill: str = WHITE) -> str:
    """The thumb in front of the hand, its contour open at the root, with nail and folds."""
    left, right, outward = thumb.sides()
    tip = thumb.joints[3]
    knots: list[Knot] = [*free(left), (tip, -1j * outward), *free(right), (thumb.heel, thumb.down)]
    contour = curve_data(place.curve(spline(knots)))
    parts = [path(contour, fill=fill, stroke=BLACK, pen=place.contour_pen)]
    parts.append(draw_blades(_thumb_lines(thumb), place))
    parts.append(path(curve_data(place.curve(_thumb_nail(thumb)), True), fill=WHITE, stroke=BLACK, pen=FINE))
    return "".join(parts)


def _thumb_lines(thumb: Thumb) -> list[Blade]:
    _, mcp, ip, tip = thumb.joints
    v, w = _unit(ip - mcp), _unit(tip - ip)
    u = _unit(v + w)
    blades = []
    for a, bow in ((-1.6, -0.6), (1.2, 0.5)):
        points = (ip + a * u + 4.6j * u, ip + (a + bow) * u, ip + a * u - 4.6j * u)
        blades.append(Blade(points=points, pen=0.75, fine=True))
    return blades


def _thumb_nail(thumb: Thumb) -> list[Cubic]:
    _, _, ip, tip = thumb.joints
    w, length = _unit(tip - ip), abs(tip - ip)
    rows = ((0.46, 0.0), (0.50, 4.0), (0.70, 4.7), (0.88, 3.4), (0.94, 0.0), (0.88, -3.8), (0.70, -5.4), (0.50, -4.6))
    points = [ip + share * length * w + 1j * w * (side + 0.4) for share, side in rows]
    return ring([(points[0], 1j * w), *free(points[1:])])


def draw_hand_side(front: SidePose, fingers: tuple[Finger, ...], place: Position) -> str:
    """Fingers far to near, the index with hand and forearm last. The thumb is drawn by the caller, on top."""
    order: tuple[Finger, ...] = ("little", "ring", "middle")
    parts = [draw_side(beside_index(front, finger), place, stump=False) for finger in order if finger in fingers]
    parts.append(draw_side(front, place))
    return "".join(parts)
