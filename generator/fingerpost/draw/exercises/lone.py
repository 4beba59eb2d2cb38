"""Exercises on one finger seen upright by itself: pressed from the side, and wrapped against swelling."""

from __future__ import annotations

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.bodies.whole_side import Bends
from fingerpost.draw.exercises.posed import Script
from fingerpost.draw.pens.curves import sample
from fingerpost.draw.pens.svg import MAIN
from fingerpost.draw.props.lone import Lone
from fingerpost.draw.props.other_hand import pointing
from fingerpost.draw.props.shapes import Slab, Solid, Strap
from fingerpost.draw.props.signs import Arrow, Barred, Eye, FingerKey, PushArrow
from fingerpost.draw.props.stage import Drawn, Frame, Thing

PALM, BACK = Lone(), Lone(view="back")
WRAP_MM, STEP_MM, SLANT_MM = 11.0, 5.5, 2.6
"""A turn of the wrap covers half of the turn before it."""
BELOW_NAIL = 13.5
PRESSING: Bends = (46, 46, 16)
PRESSING_ARM, SMALL_PRESSING_ARM = 96.0, 90.0
"""How the other hand's finger is bent, and how much is seen behind its knuckle, mm."""


def press_sideways(script: Script) -> tuple[Frame, ...]:
    """A little bent; then the other hand's fingertip stands against the middle segment, both press, nothing moves."""
    return (_bent_a_little(script), *(_press(side, script.small) for side in (1, -1)))


def _bent_a_little(script: Script) -> Frame:
    """The finger from its side, lying on a table."""
    pose = SidePose(14, 26, 10, "middle")
    points = tuple(sample(pose.contour, 2))
    level = min(p.imag for p in points) - 0.3
    finger = Drawn(lambda place: draw_side(pose, place), points)
    ends = (complex(min(p.real for p in points), level), complex(max(p.real for p in points) + 4, level))
    return Frame((Slab(*ends), finger, *_which(script, complex(ends[1].real - 22, 46))))


def _which(script: Script, at: complex) -> list[Thing]:
    """The small hand that says which finger it is."""
    return [FingerKey(at, (script.finger,))] if script.finger else []


def _press(side: int, small: bool) -> Frame:
    line = BACK.line
    spot = BACK.at(line.l1 + 0.5 * line.l2, side * (line.half(line.l1 + 12) - 0.6))
    out = 1 if spot.real > 0 else -1
    arm = SMALL_PRESSING_ARM if small else PRESSING_ARM
    way = 90 + 90 * out
    helper = pointing(spot, way, mirror=out > 0, bends=PRESSING, arm=arm, tip=True)
    things: list[Thing] = [BACK, helper]
    across = complex(2 * out * line.half(line.l1 + 12), 0)
    things += [
        PushArrow(spot, way, force=1, bars="nowhere", long=4.4),
        PushArrow(spot - across, 180 - way, force=1, long=4.4),
    ]
    if not small:
        tip = BACK.at(line.total + 9)
        things.append(Barred((tip - 24, tip + 3j, tip + 24)))
    return Frame(tuple(things))


def wrap(script: Script) -> tuple[Frame, ...]:
    """From the nail to the palm, each turn over half of the one before; the tip stays in view; then it comes off."""
    return (*(_wrapped(turns, script) for turns in (6, 12)), _unwound())


def _wrapped(turns: int, script: Script) -> Frame:
    line = PALM.line
    start = line.total - BELOW_NAIL
    things: list[Thing] = [PALM, *(_turn(start - k * STEP_MM) for k in range(turns))]
    if turns == 12:
        tip = PALM.at(line.total - 5)
        return Frame((*things, Eye(tip + 31 + 4j, tip + 9.5 + 1j, 3.8)))
    low = start - (turns - 1) * STEP_MM
    side = _loose_end(things, low)
    things.append(Arrow((complex(-side * 20, PALM.at(low).imag + 10), complex(-side * 20, PALM.at(low).imag - 16))))
    if not script.small:
        things += _which(script, complex(side * 34, PALM.at(8).imag + 10))
    return Frame(tuple(things))


def _loose_end(things: list[Thing], low: float) -> int:
    """The wrap that is not laid yet, from the turn that ends `low` mm from the joint: on which side it lies."""
    edge = PALM.at(low - 3, -PALM.line.half(low))
    side = 1 if edge.real > 0 else -1
    things.append(Strap((edge - side * 1.5, edge + side * 14 - 3j, edge + side * 27 + 3j), WRAP_MM))
    return side


def _unwound() -> Frame:
    """Half of the turns are off again, from the palm to the tip, and the arrow leads away."""
    line = PALM.line
    start, left = line.total - BELOW_NAIL, 3
    things: list[Thing] = [PALM, *(_turn(start - k * STEP_MM) for k in range(left))]
    low = start - (left - 1) * STEP_MM
    edge = PALM.at(low - 3, -line.half(low))
    side = 1 if edge.real > 0 else -1
    course = (edge - side * 1.5, edge + side * 12 + 2j, edge + side * 20 - 12j, edge + side * 13 - 30j)
    things.append(Strap((*course, edge + side * 21 - 46j), WRAP_MM))
    around = (edge - side * 24 - 26j, edge - side * 9 - 33j, edge + side * 8 - 28j)
    return Frame((*things, Arrow(around)))


def _turn(high: float) -> Solid:
    """One slanting turn of the wrap."""
    line = PALM.line
    rows = (
        (high - WRAP_MM - SLANT_MM, 1), (high - WRAP_MM, 0), (high - WRAP_MM + SLANT_MM, -1),
        (high + SLANT_MM, -1), (high, 0), (high - SLANT_MM, 1),
    )  # fmt: skip
    return Solid(tuple(PALM.at(a, s * (line.half(a) + 0.5)) for a, s in rows), soft=False, pen=MAIN)
