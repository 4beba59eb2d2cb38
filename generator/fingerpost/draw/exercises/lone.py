"""Exercises on one finger seen upright by itself: pressed from the side, and wrapped against swelling."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.bodies.back_lines import finger_nail
from fingerpost.draw.bodies.fingers import FingerLine
from fingerpost.draw.bodies.lone_finger import ROOT, LoneFinger
from fingerpost.draw.bodies.whole_side import HandPose, WholeHand
from fingerpost.draw.exercises.posed import Script
from fingerpost.draw.pens.blades import Blade, dashes, draw_blades
from fingerpost.draw.pens.curves import heading, sample
from fingerpost.draw.pens.svg import BLACK, FINE, MAIN, PALE, WHITE, Position, curve_data, lines, path
from fingerpost.draw.props.shapes import Solid, Strap
from fingerpost.draw.props.signs import Arrow, Barred, Eye, PushArrow
from fingerpost.draw.props.stage import Drawn, Frame, Moved, Thing

PALM, BACK = LoneFinger("middle", "left", 0j, 1.0), LoneFinger("middle", "right", 0j, 1.0)
"""Of a left hand, standing at zero in hand millimetres. Its back looks like the palm side of a right one."""
WRAP_MM, STEP_MM, SLANT_MM = 11.0, 5.5, 2.6
"""A turn of the wrap covers half of the turn before it."""
BELOW_NAIL = 13.5


def _at(finger: LoneFinger, along: float, side: float = 0.0) -> complex:
    """A place of the finger in the frame (y up)."""
    return finger.at(along, side).conjugate()


def _own(finger: LoneFinger, place: Position) -> Position:
    """Where the finger's own numbers lie, in a frame that lies so."""
    own = finger.place
    return replace(place, flip=place.flip ^ own.flip, turn=own.turn, origin=place.at(own.origin.conjugate()))


def _points(finger: LoneFinger) -> tuple[complex, ...]:
    return tuple(point.conjugate() for point in finger.place.points(sample(finger.contour(), 2)))


def from_palm() -> Drawn:
    return Drawn(lambda place: PALM.draw_at(_own(PALM, place)), _points(PALM))


def from_back() -> Drawn:
    """With its nail, and wrinkles over the joints."""
    line = BACK.line
    folds = [blade for along, half in ((line.l1, 5.2), (line.l1 + line.l2, 4.2)) for blade in _folds(line, along, half)]

    def paint(place: Position) -> str:
        own = _own(BACK, place)
        skin = path(curve_data(own.curve(BACK.contour())), fill=WHITE, stroke=BLACK, pen=place.contour_pen)
        nail = path(curve_data(own.curve(finger_nail(line)), True), fill=WHITE, stroke=BLACK, pen=FINE)
        cut = own.points([line.at(ROOT, line.half(ROOT)), line.at(ROOT, -line.half(ROOT))])
        return (
            skin
            + draw_blades(folds, own)
            + nail
            + lines(dashes(cut, 0.6, 0.5) if place.fine else dashes(cut, 1.1, 0.8), pen=FINE)
        )

    return Drawn(paint, _points(BACK))


def _folds(line: FingerLine, along: float, half: float) -> list[Blade]:
    """Three wrinkles that bow away from the middle of a joint."""
    found = []
    for step, share in ((-3.0, 0.8), (0.0, 1.0), (3.0, 0.8)):
        ends = (line.at(along + step, half * share), line.at(along + step, -half * share))
        found.append(Blade(points=(ends[0], line.at(along + 1.5 * step, 0), ends[1]), pen=0.9))
    return found


def press_sideways(script: Script) -> tuple[Frame, ...]:
    """The other hand's fingertip stands against the middle segment; both press equally, and nothing moves."""
    return tuple(_press(side, script.small) for side in (1, -1))


def _press(side: int, small: bool) -> Frame:
    line = BACK.line
    spot = _at(BACK, line.l1 + 0.5 * line.l2, side * (line.half(line.l1 + 12) - 0.6))
    out = 1 if spot.real > 0 else -1
    pose = HandPose(bends=(34, 30, 14), arm=20, fingers=())
    front = pose.front
    touch, along = front.at(3, front.lengths[2] - 0.5, -1.2), heading(front.headings[3])
    if mirror := out < 0:
        touch, along = -touch.conjugate(), -along.conjugate()
    turn = -out / along
    things: list[Thing] = [from_back(), Moved(WholeHand(pose, None, PALE), spot - turn * touch, turn, mirror)]
    for way in (0, 180):
        things.append(PushArrow(spot + 0.6 * out, way, 6.0, 4.6))
    if not small:
        tip = _at(BACK, line.total + 9)
        things.append(Barred((tip - 24, tip + 3j, tip + 24)))
    return Frame(tuple(things))


def wrap(script: Script) -> tuple[Frame, ...]:
    """From the nail to the palm, each turn over half of the one before; the tip stays in view."""
    return tuple(_wrapped(turns, last=turns == 12) for turns in (1, 6, 12))


def _wrapped(turns: int, *, last: bool) -> Frame:
    line = PALM.line
    start = line.total - BELOW_NAIL
    things: list[Thing] = [from_palm(), *(_turn(start - k * STEP_MM) for k in range(turns))]
    if last:
        tip = _at(PALM, line.total - 5)
        return Frame((*things, Eye(tip + 31 + 4j, tip + 9.5 + 1j, 3.8)))
    low = start - (turns - 1) * STEP_MM
    edge = _at(PALM, low - 3, -line.half(low))
    side = 1 if edge.real > 0 else -1
    things.append(Strap((edge - side * 1.5, edge + side * 14 - 3j, edge + side * 27 + 3j), WRAP_MM))
    things.append(Arrow((complex(-side * 20, edge.imag + 10), complex(-side * 20, edge.imag - 16))))
    return Frame(tuple(things))


def _turn(high: float) -> Solid:
    """One slanting turn of the wrap."""
    line = PALM.line
    rows = (
        (high - WRAP_MM - SLANT_MM, 1), (high - WRAP_MM, 0), (high - WRAP_MM + SLANT_MM, -1),
        (high + SLANT_MM, -1), (high, 0), (high - SLANT_MM, 1),
    )  # fmt: skip
    return Solid(tuple(_at(PALM, a, s * (line.half(a) + 0.5)) for a, s in rows), soft=False, pen=MAIN)
