"""The lines of the palm and of the fingers' inner side. Which crease lies over which joint is general anatomy, from
memory; the exact courses are drawn by eye."""

from __future__ import annotations

from fingerpost.draw.bodies.fingers import FingerLine, Hand4
from fingerpost.draw.bodies.outline import Joints
from fingerpost.draw.bodies.proportions import THUMB
from fingerpost.draw.pens.blades import Blade
from fingerpost.model.words import FINGERS, Finger

THENAR = (35.4 + 71j, 26.5 + 67j, 15.5 + 54.5j, 9.2 + 37j, 8.6 + 20j, 11.5 + 7j)
PROXIMAL_PALMAR = (36 + 72.6j, 23.5 + 71.5j, 6.5 + 63.6j, -11 + 54.5j, -27 + 47.5j)
DISTAL_PALMAR = (-47.6 + 61.5j, -36.5 + 65j, -19.5 + 70.8j, -4.5 + 78.5j, 5.5 + 87j, 10 + 95.5j)
WRIST = (-26.5 + 1j, -12 - 1.6j, 6 - 1.4j, 26 + 2j)
WRIST_SECOND = (-22.5 - 6.5j, -4 - 8.8j, 16 - 7.6j)

BASE_SHARE: dict[Finger, float] = {"index": 0.47, "middle": 0.455, "ring": 0.465, "little": 0.53}
"""Where the crease at the root of a finger lies, as a share of MCP-PIP."""
PIP_CREASE, DIP_CREASE = -1.4, -1.2
"""The creases lie this far (mm) from the joint centres: a little to the palm."""
PIP_SECOND, ROOT_SECOND = 3.3, 3.4
"""A second, finer line lies this far (mm) beyond the crease of the PIP joint, and beyond that at the root of some."""
TWO_AT_THE_ROOT: tuple[Finger, ...] = ("middle", "ring")


def across(line: FingerLine, a: float, bow: float, inset: float) -> tuple[complex, ...]:
    """Five points across a finger at length a; the middle lies `bow` mm nearer the tip, `inset` is the free share."""
    half = line.half(a) * (1 - inset)
    rows = ((1.0, 0.0), (0.5, 0.75), (0.0, 1.0), (-0.5, 0.75), (-1.0, 0.0))
    return tuple(line.at(a + bow * lift, half * side) for side, lift in rows)


def free_skin(finger: Finger, line: FingerLine, segment: int) -> tuple[float, float]:
    """From which to which length (mm from the MCP centre) segment 1 or 2 has no crease at its edges."""
    if segment == 1:
        second = ROOT_SECOND if finger in TWO_AT_THE_ROOT else 0.0
        return BASE_SHARE[finger] * line.l1 + second, line.l1 + PIP_CREASE
    return line.l1 + PIP_CREASE + PIP_SECOND, line.l1 + line.l2 + DIP_CREASE


def palm_blades(fingers: Hand4, thumb: Joints = THUMB) -> list[Blade]:
    """Everything drawn inside the contour in the palm view."""
    blades = [
        Blade(points=THENAR, pen=1.0, head=0.35),
        Blade(points=PROXIMAL_PALMAR, pen=0.95, head=0.35),
        Blade(points=DISTAL_PALMAR, pen=0.95, head=0.35),
        Blade(points=WRIST, pen=0.8),
        Blade(points=WRIST_SECOND, pen=0.75, fine=True),
    ]
    for finger in FINGERS:
        blades += finger_creases(finger, fingers[finger])
    return blades + _thumb_creases(thumb)


def finger_creases(finger: Finger, line: FingerLine) -> list[Blade]:
    """All lines across the inner side of one finger."""
    base, pip, dip = BASE_SHARE[finger] * line.l1, line.l1 + PIP_CREASE, line.l1 + line.l2 + DIP_CREASE
    blades = [
        Blade(points=across(line, base, -1.0, 0.05), pen=0.85, head=0.28, tail=0.28),
        Blade(points=across(line, pip, -0.7, 0.06), pen=0.85, head=0.28, tail=0.28),
        Blade(points=across(line, pip + PIP_SECOND, -0.5, 0.18), pen=0.75, fine=True),
        Blade(points=across(line, dip, -0.6, 0.07), pen=0.8, head=0.28, tail=0.28),
    ]
    if finger in TWO_AT_THE_ROOT:
        blades.append(Blade(points=across(line, base + ROOT_SECOND, -0.8, 0.16), pen=0.75, fine=True))
    return blades


def thumb_frame(joints: Joints, joint: int) -> tuple[complex, complex]:
    """Unit vectors at thumb joint 1 (MCP) or 2 (IP): to the tip, and to the fingers' side."""
    start, stop = joints[joint], joints[joint + 1]
    unit = (stop - start) / abs(stop - start)
    return unit, 1j * unit


def _thumb_creases(joints: Joints) -> list[Blade]:
    ip, mcp = joints[2], joints[1]
    u, n = thumb_frame(joints, 2)
    v, m = thumb_frame(joints, 1)
    return [
        Blade(points=(ip + 10.4 * n, ip + 3 * n - 1.0 * u, ip - 6.5 * n + 0.3 * u), pen=0.85, head=0.3),
        Blade(points=(ip + 8.4 * n - 3.2 * u, ip + 2 * n - 3.9 * u, ip - 3.5 * n - 3.4 * u), pen=0.75, fine=True),
        Blade(points=(mcp + 11 * m + 4 * v, mcp + 4 * m - v, mcp - 3.5 * m - 2.5 * v), pen=0.8, head=0.3),
    ]
