"""Statics of one finger in a grip: how much a grip asks of the A2 and A4 pulleys beside a half crimp.

One finger seen from the side, at rest, a force at the fingertip balanced by the two flexor tendons; each pulley carries
what the bent tendon presses on it. What readers may see is `compare_grip`: ratios to half crimp. `solve` is the sum
behind it, in newtons, for tests alone: it must never stand beside a strength.
What it cannot do: no wrist, small hand muscles, thumb, friction, speed or sideways pull; it never says when something
tears. It fails two published figures: A2 36 times lower on a slope (Vigouroux 2006, recalled), and how hard the deep
flexor pulls on a slope in dissected fingers (Schöffl 2009); both stand in the tests as known limits.
Sources: moment arms set within the range between An 1983 (recalled) and Ketchum 1978 (table read); the split of the
bend between A2 and A4 set to Schöffl 2009 (abstract read); passive share of the end joint Vigouroux 2006 (abstract).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin
from typing import Literal

from fingerpost.model.shared import JointAngles
from fingerpost.model.words import Finger, Id
from fingerpost.reckon.why import Why

Pulley = Literal["a2", "a4"]

# Lengths in mm, proximal / middle / distal. Hand-length shares: Buchholz 1992 (read in code that cites it).
BUCHHOLZ: dict[Finger, tuple[float, float, float]] = {
    "index": (0.245, 0.143, 0.097),
    "middle": (0.266, 0.170, 0.108),
    "ring": (0.244, 0.165, 0.107),
    "little": (0.204, 0.117, 0.093),
}
# Bones, and the pulp beyond the last: Buryanov & Kotiuk 2010, 66 adults (second-hand). Never mixed with the above.
BONES_MM: dict[Finger, tuple[float, float, float, float]] = {
    "index": (39.8, 22.4, 15.8, 3.8),
    "middle": (44.6, 26.3, 17.4, 4.0),
    "ring": (41.4, 25.7, 17.3, 4.0),
    "little": (32.7, 18.1, 16.0, 3.7),
}
EDGE_MM = (4.0, 30.0)
HAND_MM = (120.0, 240.0)
# What joints can do, in degrees, bending positive: Cobos (read in code that cites it); -30 is for a loaded crimp.
MCP_RANGE = (-45, 100)
PIP_RANGE = (0, 135)
DIP_RANGE = (-30, 90)


@dataclass(frozen=True)
class Geometry:
    """Lengths in mm: the middle segment between its joints, and from the end joint to where the force acts."""

    middle_mm: float = 29.0
    tip_mm: float = 14.0


@dataclass(frozen=True)
class Forces:
    """Newtons in tendons and on pulleys. Not for readers."""

    fdp: float
    fds: float
    a2: float
    a4: float


@dataclass(frozen=True)
class Ratio:
    """How many times as much as in a half crimp: at the typical angles, and the least and most over their spread."""

    typical: float
    least: float
    most: float


@dataclass(frozen=True)
class GripLoad:
    """What a grip asks of each pulley beside a half crimp with the same fingertip force. `spread_known`: measured."""

    grip: Id
    a2: Ratio
    a4: Ratio
    spread_known: bool
    why: Why

    def of(self, pulley: Pulley) -> Ratio:
        """The ratio of one pulley."""
        return self.a2 if pulley == "a2" else self.a4


@dataclass(frozen=True)
class Published:
    """How many times as much full crimp asks of a pulley as a slope: published, and by this model.

    `percent_more`: by how much the model asks more than what was published, below 0 where it asks less; no gap is
    called alike. `source` is a source id: 2009 are dissected fingers, 2006 is another model.
    """

    pulley: Pulley
    published: float
    model: float
    percent_more: int
    source: str
    seen: Literal["abstract", "recalled"]


def measure_finger(finger: Finger, edge_mm: float | None = None, hand_mm: float | None = None) -> Geometry:
    """The lengths of one finger, loaded in the middle of an edge: tip = end segment - edge / 2.

    From the hand's length if that is known, else from mean adult bones; without an edge the force acts on the middle
    of the end segment. Raises ValueError outside 4-30 mm (edge) and 120-240 mm (hand).
    """
    if edge_mm is not None and not EDGE_MM[0] <= edge_mm <= EDGE_MM[1]:
        raise ValueError(f"an edge of {edge_mm:g} mm is outside what the model covers: it must be from 4 to 30 mm")
    if hand_mm is not None and not HAND_MM[0] <= hand_mm <= HAND_MM[1]:
        raise ValueError(f"a hand of {hand_mm:g} mm must be from 120 to 240 mm long, wrist crease to middle fingertip")
    if hand_mm is None:
        _, middle, bone, pulp = BONES_MM[finger]
        end = bone + pulp
    else:
        _, middle, end = (share * hand_mm for share in BUCHHOLZ[finger])
    return Geometry(middle, end / 2 if edge_mm is None else max(end - edge_mm / 2, 1.0))


def solve(force_n: float, dip_deg: float, pip_deg: float, size: Geometry = Geometry(), tilt_deg: float = 0.0) -> Forces:
    """Tendon and pulley forces in newtons for a fingertip force in newtons, joints in degrees.

    M_D = F x cos(tilt); M_P = F [(x + L cos DIP) cos(tilt) - L sin DIP sin(tilt)]
    FDP = (1 - p) M_D / arm, p = 0.25 clamp(-DIP / 25) the passive share; FDS = (M_P - FDP arm) / arm, never below 0
    pulley = sum of 2 T sin(bend / 2), with 0.56 PIP as the bend at A2 (both tendons), 0.44 PIP at A4 (FDP alone).
    Tilt: of the force from the pad's normal, positive towards the tip, within 90 degrees.
    """
    dip, tilt = radians(dip_deg), radians(tilt_deg)
    end_moment = force_n * size.tip_mm * cos(tilt)
    middle_moment = end_moment + force_n * size.middle_mm * (cos(dip) * cos(tilt) - sin(dip) * sin(tilt))
    passive = 0.25 * min(max(-dip_deg / 25, 0.0), 1.0)
    fdp = (1 - passive) * end_moment / (5.0 + 0.030 * dip_deg)
    fds = max(0.0, (middle_moment - fdp * (7.5 + 0.040 * pip_deg)) / (6.2 + 0.028 * pip_deg))
    at_a2, at_a4 = 2 * sin(radians(0.56 * pip_deg) / 2), 2 * sin(radians(0.44 * pip_deg) / 2)
    return Forces(fdp, fds, (fdp + fds) * at_a2, fdp * at_a4)


def compare_grip(grip: Id, angles: JointAngles, half_crimp: JointAngles, size: Geometry = Geometry()) -> GripLoad:
    """What a grip asks of each pulley beside a half crimp, over its PIP angle plus and minus one SD.

    The half crimp stays at its typical angles, so its own range shows how far half crimps differ among themselves.
    Two decimals. Raises ValueError for angles that a finger cannot have.
    """
    _refuse_angles(angles)
    _refuse_angles(half_crimp)
    unit = solve(1.0, half_crimp.dip, half_crimp.pip, size)
    spread = range(angles.pip - angles.pip_spread, angles.pip + angles.pip_spread + 1)
    pips = [float(pip) for pip in spread if PIP_RANGE[0] <= pip <= PIP_RANGE[1]]
    typical = solve(1.0, angles.dip, angles.pip, size)
    found = [solve(1.0, angles.dip, pip, size) for pip in pips]
    a2 = _make_ratio(typical.a2 / unit.a2, [forces.a2 / unit.a2 for forces in found])
    a4 = _make_ratio(typical.a4 / unit.a4, [forces.a4 / unit.a4 for forces in found])
    inputs = (
        ("PIP", f"{angles.pip} degrees, SD {angles.pip_spread}"),
        ("DIP", f"{angles.dip} degrees"),
        ("half crimp", f"PIP {half_crimp.pip}, DIP {half_crimp.dip} degrees"),
        ("middle segment", f"{size.middle_mm:.1f} mm"),
        ("end joint to force", f"{size.tip_mm:.1f} mm"),
    )
    formula = "pulley force of the grip / pulley force of a half crimp, same fingertip force; force = 2 T sin(bend / 2)"
    why = Why(f"{grip} beside half crimp", f"A2 {a2.typical:g}, A4 {a4.typical:g}", formula, inputs, angles.source)
    return GripLoad(grip, a2, a4, angles.pip_spread > 0, why)


def asks_more(first: GripLoad, second: GripLoad, pulley: Pulley, margin: float = 0.05) -> bool:
    """Whether `first` asks clearly more of a pulley than `second`: by over 5 % of a half crimp's load.

    A3 lies at the PIP joint between the two and is not modelled; take A2 in its place.
    """
    return first.of(pulley).typical > second.of(pulley).typical + margin


def list_published(crimp: JointAngles, slope: JointAngles) -> tuple[Published, ...]:
    """Published ratios of full crimp to slope beside the model's at the angles given, those that it fails included."""
    more, less = solve(1.0, crimp.dip, crimp.pip), solve(1.0, slope.dip, slope.pip)
    model: dict[Pulley, float] = {"a2": round(more.a2 / less.a2, 2), "a4": round(more.a4 / less.a4, 2)}
    dissected = "schoffl-2009-pulley-load"
    modelled = "vigouroux-2006"
    rows: tuple[tuple[Pulley, float, str, Literal["abstract", "recalled"]], ...] = (
        ("a2", 2.37, dissected, "abstract"),
        ("a4", 2.19, dissected, "abstract"),
        ("a2", 36.0, modelled, "recalled"),
        ("a4", 4.0, modelled, "recalled"),
    )
    return tuple(
        Published(pulley, figure, model[pulley], round((model[pulley] / figure - 1) * 100), source, seen)
        for pulley, figure, source, seen in rows
    )


def _make_ratio(typical: float, found: list[float]) -> Ratio:
    return Ratio(round(typical, 2), round(min(found), 2), round(max(found), 2))


def _refuse_angles(angles: JointAngles) -> None:
    for name, value, (least, most) in (("PIP", angles.pip, PIP_RANGE), ("DIP", angles.dip, DIP_RANGE)):
        if not least <= value <= most:
            raise ValueError(f"a finger's {name} joint cannot stand at {value} degrees: it must be {least} to {most}")
