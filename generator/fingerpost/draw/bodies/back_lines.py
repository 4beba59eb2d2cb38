"""The lines of the back of the hand: nails, wrinkles, knuckles, extensor tendons. Drawn by eye.

Frame: the same right hand seen from the palm; the caller mirrors it."""

from __future__ import annotations

from fingerpost.draw.bodies.creases import across, thumb_frame
from fingerpost.draw.bodies.fingers import RELAXED, FingerLine, Hand4, Spreads
from fingerpost.draw.bodies.outline import TUCKED_SHARE, Joints, Tucked, webs
from fingerpost.draw.bodies.proportions import THUMB
from fingerpost.draw.pens.blades import Blade
from fingerpost.draw.pens.curves import Cubic, Knot, free, ring
from fingerpost.model.words import FINGERS

# Right half of a nail: (share of the end segment, share of the half width there).
_NAIL = ((0.425, 0.40), (0.50, 0.61), (0.66, 0.64), (0.79, 0.60), (0.865, 0.46), (0.90, 0.24))
_NAIL_ROOT, _NAIL_END, _NAIL_LEVEL = 0.41, 0.91, 0.45
_THUMB_NAIL = (
    (0.40, 0.4), (0.425, -3.4), (0.52, -5.5), (0.68, -5.6), (0.80, -4.9), (0.885, -2.9), (0.92, 0.2), (0.905, 3.4),
    (0.82, 5.6), (0.66, 6.6), (0.50, 6.2), (0.425, 3.8),
)  # fmt: skip
_PIP_WRINKLES = ((-4.3, -1.5, 0.42), (-1.5, -0.7, 0.28), (1.3, 0.6, 0.30), (4.0, 1.4, 0.44))
_DIP_WRINKLES = ((-1.4, -0.5, 0.45), (0.9, 0.5, 0.45))


def nails(fingers: Hand4, hidden: Tucked = frozenset(), thumb: Joints = THUMB) -> list[list[Cubic]]:
    """Closed shapes: index to little as far as they are not hidden, thumb."""
    return [*(finger_nail(fingers[finger]) for finger in FINGERS if finger not in hidden), _thumb_nail(thumb)]


def finger_nail(line: FingerLine) -> list[Cubic]:
    base, half = line.l1 + line.l2, line.half(line.from_share(3, _NAIL_LEVEL))

    def at(share: float, side: float) -> complex:
        return line.at(base + share * line.l3, side * half)

    root: Knot = (at(_NAIL_ROOT, 0), -1j * line.along(base + _NAIL_ROOT * line.l3))
    right = [at(share, -side) for share, side in _NAIL]
    left = [at(share, side) for share, side in reversed(_NAIL)]
    return ring([root, *free(right), (at(_NAIL_END, 0), None), *free(left)])


def _thumb_nail(joints: Joints) -> list[Cubic]:
    unit, normal = thumb_frame(joints, 2)
    start, length = joints[2] - 1.2 * normal, abs(joints[3] - joints[2])
    points = [start + share * length * unit + side * normal for share, side in _THUMB_NAIL]
    return ring([(points[0], -normal), *free(points[1:])])


def back_blades(
    fingers: Hand4, spreads: Spreads = RELAXED, tucked: Tucked = frozenset(), thumb: Joints = THUMB
) -> list[Blade]:
    """Everything drawn inside the contour in the back view, except the nails themselves."""
    blades: list[Blade] = []
    for finger in FINGERS:
        line = fingers[finger]
        seen = _tucked_wrinkles(line) if finger in tucked else _wrinkles(line) + _nail_lines(line)
        blades += seen + _knuckle(line) + [_extensor(line)]
    for web in webs(spreads):
        blades.append(
            Blade(points=tuple(web.floor - d * web.axis for d in (1.2, 3.8, 6.5)), pen=0.75, head=0.9, fine=True)
        )
    return blades + _thumb_wrinkles(thumb)


def _wrinkles(line: FingerLine) -> list[Blade]:
    pip, dip = line.l1, line.l1 + line.l2
    rows = [Blade(points=across(line, pip + a, bow, inset), pen=0.8) for a, bow, inset in _PIP_WRINKLES]
    return rows + [Blade(points=across(line, dip + a, bow, inset), pen=0.75) for a, bow, inset in _DIP_WRINKLES]


def _tucked_wrinkles(line: FingerLine) -> list[Blade]:
    """The skin over a bent middle joint: stretched, two short lines."""
    at = TUCKED_SHARE * line.l1
    return [Blade(points=across(line, at + a, bow, 0.5), pen=0.75, fine=True) for a, bow in ((-2.5, 1.2), (0.8, 1.6))]


def _nail_lines(line: FingerLine) -> list[Blade]:
    base, half = line.l1 + line.l2, line.half(line.from_share(3, _NAIL_LEVEL))

    def curve(rows: tuple[tuple[float, float], ...]) -> tuple[complex, ...]:
        return tuple(line.at(base + share * line.l3, side * half) for share, side in rows)

    moon = curve(((0.475, -0.38), (0.545, 0.0), (0.475, 0.38)))
    fold = curve(((0.47, -0.80), (0.385, -0.45), (0.355, 0.0), (0.385, 0.45), (0.47, 0.80)))
    return [Blade(points=moon, pen=0.75, fine=True), Blade(points=fold, pen=0.75, fine=True)]


def _knuckle(line: FingerLine) -> list[Blade]:
    """One long line and one short one; two equal ones would read as brackets."""
    near = tuple(line.at(a, side) for a, side in ((-6, -6.2), (0, -7.6), (6, -6.0)))
    far = tuple(line.at(a, side) for a, side in ((-1, 7.4), (3, 6.9), (6.5, 4.9)))
    dimple = across(line, 3, -0.9, 0.66)
    return [Blade(points=near, pen=0.85), Blade(points=far, pen=0.8), Blade(points=dimple, pen=0.75, fine=True)]


def _extensor(line: FingerLine) -> Blade:
    start = line.at(0)
    root = complex(0.30 * start.real, 12)
    unit = (root - start) / abs(root - start)
    length = abs(root - start)
    points = tuple(start + unit * (13 + (0.78 * length - 13) * t) for t in (0, 0.33, 0.66, 1))
    return Blade(points=points, pen=0.75, fine=True)


def _thumb_wrinkles(joints: Joints) -> list[Blade]:
    ip, mcp = joints[2], joints[1]
    u, n = thumb_frame(joints, 2)
    v, m = thumb_frame(joints, 1)
    blades = [
        Blade(
            points=tuple(ip + (a + bow * lift) * u + side * n for side, lift in ((6.0, 0), (0, 1), (-6.4, 0))), pen=0.8
        )
        for a, bow in ((-4.2, -1.2), (-1.4, 0.3), (1.6, 1.2))
    ]
    knuckle = (mcp - 8.5 * m - 4 * v, mcp - 8.8 * m + 1 * v, mcp - 6.6 * m + 6 * v)
    return [*blades, Blade(points=knuckle, pen=0.75, fine=True)]
