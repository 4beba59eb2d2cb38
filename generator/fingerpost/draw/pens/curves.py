"""Smooth curves through points. Points are complex numbers, in whatever unit the caller uses.

The curve is Hobby's (METAFONT), tension 1, curl 1 at open ends: J. D. Hobby, "Smooth, easy to compute
interpolating splines", 1986.
"""

from __future__ import annotations

import cmath
from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import cos, pi, sin, sqrt

Knot = tuple[complex, complex | None]
"""A point, and the direction in which the curve must pass it (None: free)."""
Cubic = tuple[complex, complex, complex, complex]


def free(points: Iterable[complex]) -> list[Knot]:
    """Knots without a fixed direction."""
    return [(point, None) for point in points]


def smooth(t: float) -> float:
    """0 below 0, 1 above 1, and a soft step between."""
    t = min(1.0, max(0.0, t))
    return t * t * (3 - 2 * t)


def heading(degrees: float) -> complex:
    """Unit vector; 0 degrees along x, 90 along y."""
    return cmath.rect(1.0, degrees * pi / 180)


def spline(knots: Sequence[Knot]) -> list[Cubic]:
    """The cubics through all knots; n knots give n-1 cubics. A fixed direction inside splits the sums."""
    cubics: list[Cubic] = []
    start = 0
    for stop in range(1, len(knots)):
        if knots[stop][1] is not None or stop == len(knots) - 1:
            cubics += _piece(knots[start : stop + 1])
            start = stop
    return cubics


def ring(knots: Sequence[Knot]) -> list[Cubic]:
    """A closed curve. Where no knot has a direction, the first gets the one from its two neighbours."""
    fixed = next((i for i, knot in enumerate(knots) if knot[1] is not None), None)
    if fixed is None:
        fixed, knots = 0, [(knots[0][0], knots[1][0] - knots[-1][0]), *knots[1:]]
    turned = [*knots[fixed:], *knots[: fixed + 1]]
    return spline(turned)


def straight(start: complex, stop: complex) -> Cubic:
    """A straight stretch, written as a cubic so that it can join others."""
    return start, start + (stop - start) / 3, stop - (stop - start) / 3, stop


def _piece(knots: Sequence[Knot]) -> list[Cubic]:
    """Cubics through knots of which only the two ends may have a direction."""
    points = [knot[0] for knot in knots]
    chords = [b - a for a, b in pairwise(points)]
    turns = [0.0, *(cmath.phase(b / a) for a, b in pairwise(chords)), 0.0]
    first = None if knots[0][1] is None else cmath.phase(knots[0][1] / chords[0])
    last = None if knots[-1][1] is None else cmath.phase(knots[-1][1] / chords[-1])
    thetas = _solve(chords, turns, first, last)
    return [
        _cubic(points[i], chords[i], thetas[i], -turns[i + 1] - thetas[i + 1]) for i in range(len(chords))
    ]  # fmt: skip


def _solve(chords: Sequence[complex], turns: Sequence[float], first: float | None, last: float | None) -> list[float]:
    """The turning angle at each knot, in radians: a tridiagonal system, solved once down and once up."""
    n = len(chords)
    d = [abs(chord) for chord in chords]
    rows: list[tuple[float, float, float, float]] = []
    rows.append((0.0, 1.0, 1.0, -turns[1]) if first is None else (0.0, 1.0, 0.0, first))
    for i in range(1, n):
        right = -(2 * turns[i] / d[i - 1] + turns[i + 1] / d[i])
        rows.append((1 / d[i - 1], 2 / d[i - 1] + 2 / d[i], 1 / d[i], right))
    rows.append((1.0, 1.0, 0.0, 0.0) if last is None else (0.0, 1.0, 0.0, last))
    if n == 1 and first is None and last is None:
        return [0.0, 0.0]
    return _eliminate(rows)


def _eliminate(rows: Sequence[tuple[float, float, float, float]]) -> list[float]:
    """Solve rows (below, diagonal, above, right side) of a tridiagonal system."""
    above: list[float] = []
    right: list[float] = []
    for i, (low, mid, high, value) in enumerate(rows):
        pivot = mid - (low * above[i - 1] if i else 0.0)
        above.append(high / pivot)
        right.append((value - (low * right[i - 1] if i else 0.0)) / pivot)
    result = [right[-1]]
    for i in range(len(rows) - 2, -1, -1):
        result.append(right[i] - above[i] * result[-1])
    return result[::-1]


def _cubic(start: complex, chord: complex, theta: float, phi: float) -> Cubic:
    out = start + chord * cmath.rect(_reach(theta, phi), theta)
    back = start + chord - chord * cmath.rect(_reach(phi, theta), -phi)
    return (start, out, back, start + chord)


def _reach(a: float, b: float) -> float:
    """Length of a handle as a share of the chord (Hobby's formula)."""
    top = 2 + sqrt(2) * (sin(a) - sin(b) / 16) * (sin(b) - sin(a) / 16) * (cos(a) - cos(b))
    return top / (3 * (1 + (sqrt(5) - 1) / 2 * cos(a) + (3 - sqrt(5)) / 2 * cos(b)))


def point_on(cubic: Cubic, t: float) -> complex:
    """The point at t (0 to 1) of one cubic."""
    a, b, c, d = cubic
    u = 1 - t
    return u * u * u * a + 3 * u * u * t * b + 3 * u * t * t * c + t * t * t * d


def sample(cubics: Sequence[Cubic], per: int = 4) -> list[complex]:
    """Points along a curve, `per` for each cubic, with both ends."""
    points = [cubics[0][0]]
    for cubic in cubics:
        points += [point_on(cubic, k / per) for k in range(1, per + 1)]
    return points


def backwards(cubics: Sequence[Cubic]) -> list[Cubic]:
    """The same curve from its end to its start."""
    return [(d, c, b, a) for a, b, c, d in reversed(cubics)]


def normals(points: Sequence[complex]) -> list[complex]:
    """Unit normals to the left of a chain of points."""
    result = []
    for i in range(len(points)):
        along = points[min(i + 1, len(points) - 1)] - points[max(i - 1, 0)]
        result.append(1j * along / (abs(along) or 1.0))
    return result


def offset(points: Sequence[complex], by: float) -> list[complex]:
    """The chain moved to its left by a distance."""
    return [point + by * normal for point, normal in zip(points, normals(points), strict=True)]


def taper(points: Sequence[complex], width: float, head: float, tail: float) -> list[complex]:
    """A closed shape: a pen line that swells in the middle. `head` and `tail`: 0 needle, 1 full width."""
    last = len(points) - 1
    halves = []
    for i in range(len(points)):
        base = head + (tail - head) * i / last
        halves.append(width / 2 * (base + (1 - base) * max(0.0, sin(pi * i / last)) ** 0.55))
    sides = normals(points)
    left = [p + h * n for p, h, n in zip(points, halves, sides, strict=True)]
    right = [p - h * n for p, h, n in zip(points, halves, sides, strict=True)]
    return left + right[::-1]


def meet(a: complex, b: complex, c: complex, d: complex) -> complex | None:
    """Where the stretches ab and cd cross, or None."""
    ab, cd = b - a, d - c
    cross = ab.real * cd.imag - ab.imag * cd.real
    if abs(cross) < 1e-12:
        return None
    ac = c - a
    t = (ac.real * cd.imag - ac.imag * cd.real) / cross
    u = (ac.real * ab.imag - ac.imag * ab.real) / cross
    return a + t * ab if 0 <= t <= 1 and 0 <= u <= 1 else None


def inside(point: complex, shape: Sequence[complex]) -> bool:
    """Whether a point lies in a closed polygon (even-odd)."""
    hit = False
    for a, b in zip(shape, [*shape[1:], shape[0]], strict=True):
        if (a.imag > point.imag) != (b.imag > point.imag):
            hit ^= point.real < a.real + (point.imag - a.imag) / (b.imag - a.imag) * (b.real - a.real)
    return hit


def hatch(shape: Sequence[complex], gap: float, degrees: float) -> list[tuple[complex, complex]]:
    """Parallel lines `gap` apart that fill a closed polygon, from edge to edge."""
    turn = heading(-degrees)
    turned = [point * turn for point in shape]
    low, high = min(p.imag for p in turned), max(p.imag for p in turned)
    count = int((high - low) / gap)
    first = low + (high - low - (count - 1) * gap) / 2 if count else high + 1
    lines = []
    for k in range(max(count, 0)):
        y = first + k * gap
        cuts = sorted(
            a.real + (y - a.imag) / (b.imag - a.imag) * (b.real - a.real)
            for a, b in zip(turned, [*turned[1:], turned[0]], strict=True)
            if (a.imag > y) != (b.imag > y)
        )
        lines += [(complex(x0, y) / turn, complex(x1, y) / turn) for x0, x1 in zip(cuts[::2], cuts[1::2], strict=False)]
    return lines


def ellipse(centre: complex, along: complex, half_along: float, half_across: float) -> list[Cubic]:
    """A closed ellipse, its first half axis in the direction `along`."""
    unit = along / abs(along)
    spots = [half_along * unit, half_across * 1j * unit, -half_along * unit, -half_across * 1j * unit]
    knots: list[Knot] = [(centre + spots[i], spots[(i + 1) % 4] / abs(spots[(i + 1) % 4])) for i in range(4)]
    return ring(knots)
