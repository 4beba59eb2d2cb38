"""Where a named place of the hand lies: every landmark becomes an area in the frame of `proportions`.

Places of pulleys, ligaments and muscles are general anatomy, from memory, in shares of the segments; they are right in
kind and not measured. Marks are drawn a little larger than the part where the part would be too small to see.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from fingerpost.draw.bodies.back_lines import finger_nail
from fingerpost.draw.bodies.fingers import FingerLine, Hand4
from fingerpost.draw.bodies.proportions import A2, A4
from fingerpost.draw.pens.curves import ellipse, free, normals, offset, ring, sample, spline
from fingerpost.model.shared import Landmark
from fingerpost.model.words import FINGERS, Finger, Side

Face = Literal["palm", "back", "both"]
Area = tuple[complex, ...]


@dataclass(frozen=True, kw_only=True)
class HandMark:
    """Closed areas in hand mm, the point a leader line goes to, and the face of the hand they belong to."""

    areas: tuple[Area, ...]
    anchor: complex
    face: Face


def band(line: FingerLine, low: float, high: float, half: float, bow: float = 0.0) -> Area:
    """A strip across a finger from length `low` to `high`, `half` mm to each side; its ends bow to the tip."""
    sides = [half * (1 - k / 4) for k in range(9)]
    bows = [bow * (1 - (s / half) ** 2) for s in sides]
    first = [line.at(low + b, s) for s, b in zip(sides, bows, strict=True)]
    second = [line.at(high + b, s) for s, b in zip(sides, bows, strict=True)]
    return tuple(first + second[::-1])


def _banded(low: float, high: float, half: float, anchor: complex, line: FingerLine, face: Face) -> HandMark:
    return HandMark(areas=(band(line, low, high, half),), anchor=anchor, face=face)


def _pulley(line: FingerLine, name: Landmark) -> HandMark:
    k = line.shape.half / 10
    pip, dip = line.l1, line.l1 + line.l2
    low, high, half = {
        "a1": (-4.5 * k, 3.5 * k, 5.6 * k),
        "a2": (A2[0] * line.l1, A2[1] * line.l1, 5.6 * k),
        "a3": (pip - 2.4 * k, pip + 2.4 * k, 5.4 * k),
        "a4": (pip + A4[0] * line.l2, pip + A4[1] * line.l2, 5.2 * k),
        "a5": (dip - 2.4 * k, dip + 2.4 * k, 4.8 * k),
    }[str(name)]
    return _banded(low, high, half, line.at((low + high) / 2), line, "palm")


def _joint(line: FingerLine, name: Landmark) -> HandMark:
    at = {"mcp": 0.0, "pip": line.l1, "dip": line.l1 + line.l2, "knuckle": 0.0}[str(name)]
    along = 6.8 if at == 0.0 else 5.8 if name == "pip" else 5.0
    across = 0.88 * line.half(at) if at else 7.8
    shape = ellipse(line.at(at), line.along(at), along, across)
    return HandMark(areas=(tuple(sample(shape, 6)),), anchor=line.at(at), face="back" if name == "knuckle" else "both")


def joint_side(line: FingerLine, at: float, sign: float, reach: float) -> Area:
    """The flank of a joint: a lens from half way out to the skin. `sign` +1 is the ulnar side."""
    lengths = [at + reach * t for t in (-1, -0.6, 0, 0.6, 1)]
    half = line.half(at) if at > 1 else 9.0
    inner = [line.at(a, sign * (0.98 - 0.58 * (1 - ((a - at) / reach) ** 2)) * half) for a in lengths]
    outer = [line.at(a, sign * 0.98 * half) for a in reversed(lengths[1:-1])]
    return tuple(sample(ring(free([*inner, *outer])), 3))


def _sides(line: FingerLine, name: str, side: Side | None) -> HandMark:
    at, reach = {"mcp-side": (0.0, 7.5), "pip-side": (line.l1 + 0.8, 7.5), "dip-side": (line.l1 + line.l2 + 0.6, 6.0)}[
        name
    ]
    signs = {"ulnar": (1.0,), "radial": (-1.0,), None: (-1.0, 1.0)}[side]
    areas = tuple(joint_side(line, at, sign, reach) for sign in signs)
    half = line.half(at) if at > 1 else 9.0
    return HandMark(areas=areas, anchor=line.at(at, signs[-1] * 0.76 * half), face="both")


def _sheath(line: FingerLine) -> HandMark:
    k, pip, dip = line.shape.half / 10, line.l1, line.l1 + line.l2
    stops = [
        (-16.0, 2.6),
        (-12.0, 4.4),
        (0.3 * pip, 4.4),
        (0.8 * pip, 4.2),
        (pip + 5, 3.7),
        (dip - 5, 3.5),
        (dip + 4, 2.9),
    ]
    left = [line.at(a, h * k) for a, h in stops]
    right = [line.at(a, -h * k) for a, h in reversed(stops)]
    end = line.at(dip + 0.42 * line.l3)
    shape = ring(free([*left, end, *right]))
    return HandMark(areas=(tuple(sample(shape, 4)),), anchor=line.at(0.62 * line.l1), face="palm")


def _on_pip(line: FingerLine, name: Landmark) -> HandMark:
    k, pip, half = line.shape.half / 10, line.l1, line.half(line.l1)
    if name == "volar-plate":
        return _banded(pip - 5.5, pip + 2.5, 0.62 * half, line.at(pip - 1.5), line, "palm")
    if name == "central-slip":
        return _banded(pip - 5.0, pip + 6.5, 0.42 * half, line.at(pip), line, "back")
    low = pip + 4.6 * k
    return _banded(low, low + 4.0 * k, 0.80 * half, line.at(low + 2 * k), line, "both")


def lumbrical(line: FingerLine) -> Area:
    """The muscle belly beside the tendon, on the thumb side, from mid palm to the side of the proximal segment."""
    root = complex(0.62 * line.shape.mcp.real - 0.5, 46)
    half = line.half(0)
    stops = [root, line.at(-16, -4.5), line.at(-3, -0.72 * half), line.at(0.30 * line.l1, -0.84 * half)]
    points = sample(spline(free(stops)), 5)
    last = len(points) - 1
    widths = [3.3 * max(0.06, (4 * t * (1 - t)) ** 0.8) for t in (i / last for i in range(len(points)))]
    left = [p + w * n for p, w, n in zip(points, widths, normals(points), strict=True)]
    right = [p - w * n for p, w, n in zip(points, widths, normals(points), strict=True)]
    return tuple(left + right[::-1])


def palm_tendon(line: FingerLine, stop: float = 9.0) -> tuple[complex, ...]:
    """The course of the flexor tendons from the finger's root to the carpal tunnel (height `stop`)."""
    root = complex(0.22 * line.shape.mcp.real - 1.0, stop)
    return (line.at(2), line.at(-16), (line.at(-16) * 0.42 + root * 0.58), root)


def strip(course: tuple[complex, ...], half: float) -> Area:
    """An area of even width along a course."""
    points = sample(spline(free(course)), 5)
    return tuple(offset(points, half) + offset(points, -half)[::-1])


def _segment(line: FingerLine, name: Landmark) -> HandMark:
    segment, low, high = (1, 0.44, 0.86) if name == "proximal" else (2, 0.24, 0.80)
    a, b = line.from_share(segment, low), line.from_share(segment, high)
    return _banded(a, b, 0.84 * line.half((a + b) / 2), line.at((a + b) / 2), line, "both")


def _fingertip(line: FingerLine) -> HandMark:
    start = line.from_share(3, 0.58)
    shape = ellipse(line.at(start), line.along(start), 0.34 * line.l3, 0.66 * line.half(line.from_share(3, 0.45)))
    return HandMark(areas=(tuple(sample(shape, 6)),), anchor=line.at(start), face="palm")


def _wrist(line: FingerLine) -> HandMark:
    return HandMark(areas=(tuple(sample(ellipse(-1 - 3j, 1 + 0j, 25, 7.5), 8)),), anchor=-1 - 3j, face="both")


def _hamate(line: FingerLine) -> HandMark:
    """Where the hook is felt: about 2 cm from the pea bone towards the index knuckle (general anatomy)."""
    return HandMark(areas=(tuple(sample(ellipse(-13 + 20j, 1 + 0j, 6.5, 6.5), 6)),), anchor=-13 + 20j, face="palm")


def _forearm(line: FingerLine) -> HandMark:
    """The finger flexors' bellies, in the elbow half of the inner forearm, and the way there from the finger."""
    belly = ellipse(-8 - 128j, 0.10 + 1j, 33, 15)
    course = (line.at(-8), *palm_tendon(line, 2.0)[1:], complex(0.1 * line.shape.mcp.real - 2, -40), -6 - 94j)
    return HandMark(areas=(tuple(sample(belly, 8)), strip(course, 1.3)), anchor=-8 - 128j, face="palm")


def _nail(line: FingerLine) -> HandMark:
    return HandMark(areas=(tuple(sample(finger_nail(line), 4)),), anchor=line.at(line.from_share(3, 0.66)), face="back")


_MAKERS: dict[Landmark, Callable[[FingerLine], HandMark]] = {
    "sheath": _sheath,
    "lumbrical": lambda line: HandMark(areas=(lumbrical(line),), anchor=line.at(-17, -4.8), face="palm"),
    "palm-tendon": lambda line: HandMark(
        areas=(strip(palm_tendon(line), 2.6),), anchor=palm_tendon(line)[2], face="palm"
    ),
    "forearm": _forearm,
    "fingertip": _fingertip,
    "nail": _nail,
    "wrist": _wrist,
    "hamate": _hamate,
}


def beside_web(finger: Finger, side: Side | None) -> Finger:
    """Whose lumbrical lies in the web on one side of a finger: each lies on the thumb side of its own finger."""
    at = FINGERS.index(finger) + (side == "ulnar")
    return FINGERS[min(at, len(FINGERS) - 1)]


def find_mark(landmark: Landmark, finger: Finger, side: Side | None, fingers: Hand4) -> HandMark:
    """The areas of a named place on one finger. `side` counts for joints, where only that flank is meant, and for the
    muscles of the palm, where it says in which web the sore one lies.
    """
    line = fingers[beside_web(finger, side) if landmark == "lumbrical" else finger]
    if side and landmark in ("mcp", "pip", "dip"):
        return _sides(line, f"{landmark}-side", side)
    if landmark in ("a1", "a2", "a3", "a4", "a5"):
        return _pulley(line, landmark)
    if landmark in ("mcp", "pip", "dip", "knuckle"):
        return _joint(line, landmark)
    if landmark in ("mcp-side", "pip-side", "dip-side"):
        return _sides(line, landmark, side)
    if landmark in ("volar-plate", "central-slip", "growth-plate"):
        return _on_pip(line, landmark)
    if landmark in ("proximal", "middle"):
        return _segment(line, landmark)
    return _MAKERS[landmark](line)
