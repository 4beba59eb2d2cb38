"""What lies inside a finger seen from the side: bones, deep flexor tendon, pulleys, sheath, ligaments.

Places are general anatomy, from memory, in the frames of `side.SidePose`; lengths of pulleys A2 (22 mm) and A4 (8 mm)
in a middle finger likewise. The tendon of a torn A2 stands 3.4 mm further off the bone: 4.4 mm measured by
Schneeberger & Schweizer 2016, less about 1 mm in a healthy finger. How far it stands off without another pulley is
drawn by eye.
"""

from __future__ import annotations

from fingerpost.draw.bodies.proportions import A2, A4
from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.pens.curves import Cubic, free, heading, ring, sample, smooth, spline

BOWSTRING, SKIN_BULGE = 3.4, 2.2
TENDON = 3.4
"""How far a tendon stands off without A2, how far the skin follows, how thick a tendon is: mm."""
Area = tuple[complex, ...]
# How far the tendon stands off without each pulley, mm: at the ten points of `tendon_course` from the knuckle on.
_LIFTS = {
    "": (0.0,) * 10,
    "a1": (2.4, 2.0, 0.4, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    "a2": (0.0, 0.0, 0.55 * BOWSTRING, BOWSTRING, 0.8 * BOWSTRING, 0.0, 0.0, 0.0, 0.0, 0.0),
    "a3": (0.0, 0.0, 0.0, 0.0, 1.4, 1.3, 1.3, 0.0, 0.0, 0.0),
    "a4": (0.0, 0.0, 0.0, 0.0, 0.0, 0.3, 1.8, 2.0, 1.6, 0.2),
    "a5": (0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.5, 1.3),
}


# Contours of the bones: (share of the segment, mm added to it, mm to the back). The last segment's bone ends before the
# pulp. The metacarpal is open at its near end.
_METACARPAL = (
    (0.0, -30.0, 4.2), (0.0, -18.0, 5.0), (0.0, -9.0, 7.6), (0.0, -1.0, 8.4), (0.0, 5.2, 4.2), (0.0, 6.0, -1.5),
    (0.0, 2.0, -7.4), (0.0, -6.0, -8.0), (0.0, -16.0, -4.8), (0.0, -30.0, -4.0),
)  # fmt: skip
_PROXIMAL = (
    (0.0, 6.9, 4.9), (0.0, 9.6, 5.7), (0.0, 15.0, 4.6), (0.5, 0.0, 3.7), (1.0, -8.0, 3.7), (1.0, -2.0, 4.5),
    (1.0, 2.6, 2.7), (1.0, 3.3, -1.4), (1.0, -0.6, -4.5), (1.0, -7.0, -3.9), (0.5, 0.0, -3.1), (0.0, 15.0, -3.9),
    (0.0, 9.0, -5.6), (0.0, 6.4, -4.2), (0.0, 7.5, 0.2),
)  # fmt: skip
_MIDDLE = (
    (0.0, 4.9, 4.4), (0.0, 7.0, 5.0), (0.39, 0.0, 3.9), (0.55, 0.0, 2.9), (1.0, -5.0, 2.9), (1.0, -1.4, 3.4),
    (1.0, 1.9, 2.0), (1.0, 2.3, -1.2), (1.0, -0.6, -3.3), (1.0, -5.0, -2.8), (0.55, 0.0, -2.5), (0.39, 0.0, -3.3),
    (0.0, 6.6, -4.8), (0.0, 4.5, -3.4), (0.0, 5.5, 0.4),
)  # fmt: skip
_DISTAL = (
    (0.0, 3.6, 3.0), (0.0, 5.0, 3.7), (0.0, 8.4, 2.3), (0.5, 0.0, 1.5), (1.0, -7.2, 1.8), (1.0, -4.2, 0.4),
    (1.0, -5.8, -1.9), (0.5, 0.0, -1.5), (0.0, 8.0, -2.2), (0.0, 4.8, -3.8), (0.0, 3.3, -2.6), (0.0, 4.1, 0.2),
)  # fmt: skip


def bones(pose: SidePose) -> list[list[Cubic]]:
    """Metacarpal head (an open curve) and the three phalanges, each a closed curve."""
    shapes = []
    for segment, rows in enumerate((_METACARPAL, _PROXIMAL, _MIDDLE, _DISTAL)):
        length = pose.lengths[segment - 1] if segment else 0.0
        points = [pose.at(segment, share * length + mm, up * pose.k) for share, mm, up in rows]
        shapes.append(ring(free(points)) if segment else spline(free(points)))
    return shapes


def tendon_course(pose: SidePose, torn: str = "") -> list[complex]:
    """The middle line of the deep flexor tendon from the palm to the end bone; it stands off where a pulley is torn."""
    k, (l1, l2, _), lift = pose.k, pose.lengths, _LIFTS[torn]
    points = [pose.at(0, a, -d * k) for a, d in ((-30, 11.0), (-14, 11.0))]
    points.append(pose.at(0, -5, -10.4 * k - lift[0]))
    near = zip(((0.12, 9.4), (0.30, 7.2), (0.50, 6.4), (0.72, 6.4)), lift[1:5], strict=True)
    points += [pose.at(1, f * l1, -d * k - off) for (f, d), off in near]
    points.append(pose.beside(2, 0, -7.3 * k * (1 + 0.13 * smooth(pose.pip / 90)) - lift[5]))
    far = zip(((0.34, 5.9), (0.52, 5.4), (0.70, 5.2)), lift[6:9], strict=True)
    points += [pose.at(2, f * l2, -d * k - off) for (f, d), off in far]
    points.append(pose.beside(3, 0, -5.2 * k * (1 + 0.13 * smooth(pose.dip / 90)) - lift[9]))
    points += [pose.at(3, 3.4, -4.7 * k), pose.at(3, 8.4, -2.5 * k)]
    return sample(spline(free(points)), 5)


def surface_tendon_course(pose: SidePose) -> list[complex]:
    """The surface flexor tendon: nearer to the skin in the palm, then past both sides of the deep one to the middle
    bone. One of its two halves is seen."""
    k, (l1, l2, _) = pose.k, pose.lengths
    points = [pose.at(0, a, -d * k) for a, d in ((-30, 14.4), (-14, 14.3), (-5, 13.6))]
    rows = ((0.12, 12.3), (0.28, 9.9), (0.42, 8.6), (0.56, 7.0), (0.72, 5.6), (0.88, 5.2))
    points += [pose.at(1, f * l1, -d * k) for f, d in rows]
    points += [pose.at(2, f * l2, -d * k) for f, d in ((0.16, 4.6), (0.34, 3.6), (0.48, 2.8))]
    return sample(spline(free(points)), 5)


def pulley(pose: SidePose, name: str, both: float = 0.0) -> Area:
    """The area of a pulley A1 to A5, from bone to the palm side of the tendon; A1 and A2 reach `both` mm farther, round
    both tendons."""
    k, (l1, l2, _) = pose.k, pose.lengths
    if name == "a1":
        return tuple(
            pose.at(1, a * k, d * k) for a, d in ((-4.5, -7.2), (3.5, -7.0), (3.5, -12.0 - both), (-4.5, -12.8 - both))
        )
    if name == "a2":
        near, far = A2
        upper, lower = ((near, -4.0), (0.44, -3.3), (far, -3.3)), ((far, -8.5), (0.44, -8.8), (near, -10.5))
        deeper = [(f, d - both * (0.6 if f == far else 1.0)) for f, d in lower]
        return tuple(pose.at(1, f * l1, d * k) for f, d in (*upper, *deeper))
    if name == "a4":
        return tuple(pose.at(2, f * l2, d * k) for f, d in ((A4[0], -2.6), (A4[1], -2.5), (A4[1], -7.4), (A4[0], -7.9)))
    joint, half, low, high = (2, 1.7, -4.4, -8.5) if name == "a3" else (3, 1.7, -3.2, -6.9)
    low, high = (d * (1 + 0.20 * smooth(pose.bends[joint - 1] / 90)) for d in (low, high))
    return tuple(pose.beside(joint, a * k, d * k) for a, d in ((-half, low), (half, low), (half, high), (-half, high)))


def collateral(pose: SidePose, joint: int) -> tuple[Area, Area]:
    """Main and accessory collateral ligament of joint 2 (PIP) or 3 (DIP)."""
    k = pose.k * (1.0 if joint == 2 else 0.76)
    origin = pose.joints[joint - 1]
    near, far = heading(pose.headings[joint - 1]), heading(pose.headings[joint])

    def p(along: float, up: float) -> complex:
        return origin + near * complex(along, up) * k

    def m(along: float, up: float) -> complex:
        return origin + far * complex(along, up) * k

    return (p(-2.0, 2.6), p(0.8, 2.9), m(7.4, -0.4), m(6.6, -3.8), p(-2.0, 0.2)), (
        p(-2.0, 0.2),
        p(-0.4, 0.6),
        m(3.8, -5.6),
        m(0.4, -6.1),
    )


_CAPSULES = {1: (1.35, 1.25), 2: (1.0, 1.0), 3: (0.76, 0.8)}
"""How large a joint is beside the PIP joint: along the finger, and from back to palm."""


def capsule(pose: SidePose, joint: int) -> Area:
    """The sleeve round joint 1 (MCP), 2 (PIP) or 3 (DIP) with its lining, a little swollen: over both bone ends."""
    along, up = (size * pose.k for size in _CAPSULES[joint])
    grow = 1 + 0.08 * smooth(pose.bends[joint - 1] / 60)
    rows = (
        (-9.0, 5.4), (-4.5, 7.2), (0.0, 7.6), (5.0, 6.9), (9.0, 5.2), (9.6, 0.0), (7.6, -5.4), (3.0, -6.2),
        (-2.0, -6.2), (-8.6, -5.0), (-9.6, 0.0),
    )  # fmt: skip
    points = [pose.beside(joint, a * along, b * up * grow) for a, b in rows]
    return tuple(sample(ring(free(points)), 4))


def joint_gap(pose: SidePose, joint: int) -> list[complex]:
    """The line between the two cartilages of a joint: an arc just beyond the head of the near bone."""
    along, up = (size * pose.k for size in _CAPSULES[joint])
    rows = ((2.6, 4.4), (4.2, 2.2), (4.6, -0.4), (4.0, -3.0), (1.8, -5.0))
    return sample(spline(free([pose.beside(joint, a * along, b * up) for a, b in rows])), 5)


def volar_plate(pose: SidePose) -> Area:
    """The plate below the PIP joint. It folds away when the joint bends, so it is drawn up to 45 degrees only."""
    k = pose.k
    rows = [pose.at(1, pose.lengths[0] - 6.5, -4.6 * k), pose.beside(2, 0, -5.0 * k), pose.at(2, 5.2, -4.7 * k)]
    under = [pose.at(2, 5.0, -6.4 * k), pose.beside(2, 0, -6.9 * k), pose.at(1, pose.lengths[0] - 6.5, -5.4 * k)]
    return tuple(sample(spline(free(rows)), 4) + sample(spline(free(under)), 4))


def central_slip(pose: SidePose) -> list[complex]:
    """The end of the extensor tendon over the PIP joint."""
    k, l1 = pose.k, pose.lengths[0]
    points = [
        pose.at(1, l1 - 24, 5.6 * k),
        pose.at(1, l1 - 9, 5.6 * k),
        pose.beside(2, 0, 6.4 * k),
        pose.at(2, 5.6, 5.2 * k),
    ]
    return sample(spline(free(points)), 4)


_PLATES = {1: (12.2, 5.0, -4.6, 2.6), 2: (7.7, 4.9, -4.5, 3.0), 3: (6.2, 3.1, -3.1, 2.0)}
"""For each segment: mm from its joint, to the back, to the palm, thickness."""


def growth_plate(pose: SidePose, segment: int = 2) -> Area:
    """The growth plate at the base of a bone of the finger, a slice from back to palm."""
    along, up, low, thick = _PLATES[segment]
    near = [(along + 0.3, up), (along - 0.3, up / 2), (along + 0.3, 0.0), (along - 0.3, low / 2), (along + 0.1, low)]
    far = [(a + thick, b * 0.86) for a, b in near[::-1]]
    return tuple(pose.at(segment, a, b * pose.k) for a, b in (*near, *far))
