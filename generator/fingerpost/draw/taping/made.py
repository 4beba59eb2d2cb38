"""The steps of what is not cut from tape: a soft ring, a splint for the middle joint, a moulded ring."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.bodies.side import SidePose, depths
from fingerpost.draw.bodies.whole_side import HandPose, WholeHand
from fingerpost.draw.hands.tape import STRAPS, Band, wrap_round
from fingerpost.draw.pens.curves import free, heading, sample, spline
from fingerpost.draw.pens.letters import width_of
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    INK,
    MAIN,
    STUFF,
    WHITE,
    Position,
    chain_data,
    disc,
    lines,
    path,
    words,
)
from fingerpost.draw.props.lone import Lone
from fingerpost.draw.props.shapes import Slab, Solid
from fingerpost.draw.props.signs import Arrow, PushArrow, draw_clock
from fingerpost.draw.props.stage import Drawn, Thing
from fingerpost.draw.taping.one_finger import find_range, ring_on
from fingerpost.draw.taping.room import BandOn, SideFinger, StepRoom, Tail, side_band
from fingerpost.draw.taping.side_tape import SHELL, list_splint_edge

STRAIGHT = (0.0, 0.0, 0.0)
SIGN_MM = 3.0
"""How much room the sign of a joint has beside its words."""


def open_ring(room: StepRoom) -> list[str]:
    """From the palm side: the open ring lies across the finger, both ends still free."""
    finger = Lone(room.picture.finger)
    low, high = find_range(room, finger)
    middle, wide = (low + high) / 2, high - low
    things: list[Thing] = [finger]
    for out in (-1, 1):
        start = finger.edge(middle, out) - 2 * out
        things.append(Tail((start, start + out * 11 + 1j, start + out * 24 + 7j), wide, room.made))
    return room.show([*things, ring_on(room, finger)])


def close_ring(room: StepRoom) -> list[str]:
    """From the back: one end comes over the other."""
    finger = Lone(room.picture.finger, "back")
    low, high = find_range(room, finger)
    middle = (low + high) / 2
    start = finger.edge(middle, 1) - 1
    lid = Tail((start, start + 7 + 3j, start + 15 + 12j), high - low, room.made)
    top = start + 8 + 14j
    shut = Arrow((top + 8 + 6j, top - 3 + 9j, finger.at(middle) + 2 + 13j))
    return room.show([finger, lid, ring_on(room, finger), shut])


# ------------------------------------------------------------------ splint


def sleeve(room: StepRoom) -> list[str]:
    """A thin sleeve, already over the tip, with its hem halfway and its end standing off; it goes on to the palm."""
    finger = Lone(room.picture.finger)
    line = finger.line
    hem, top = line.l1 + 0.16 * line.l2, line.total - 5
    stops = [hem + k * (top - hem) / 8 for k in range(9)]
    left, right = ([finger.edge(a, out) + 1.6 * out for a in stops] for out in (-1, 1))
    crown = [finger.at(line.total + 7, side) for side in (-3.5, 0, 3.5)]
    crown.sort(key=lambda point: point.real)
    shape = tuple(sample(spline(free([*left, *crown, *right[::-1]])), 4))
    dots = [finger.at(a, side) for k, a in enumerate(stops[1:]) for side in ((-5, 0, 5) if k % 2 else (-2.5, 2.5))]
    low, high = hem - 5.0, hem + 1.0
    cuff = tuple(finger.edge(a, out) + 2.8 * out for a, out in ((low, -1), (high, -1), (high, 1), (low, 1)))
    ribs = [cuff[0] + t * (cuff[3] - cuff[0]) for t in (0.2, 0.35, 0.5, 0.65, 0.8)]

    def paint(place: Position) -> str:
        cloth = path(chain_data(place.points(shape), True), fill=STUFF, stroke=BLACK, pen=MAIN)
        spots = "".join(disc(point, 0.2) for point in place.points(dots))
        roll = path(chain_data(place.points(cuff), True), fill=WHITE, stroke=BLACK, pen=MAIN)
        rows = [(place.at(rib), place.at(rib + cuff[1] - cuff[0])) for rib in ribs]
        return cloth + spots + roll + lines(rows, pen=FINE)

    ways = [Arrow(tuple(finger.edge(a, out) + 8 * out for a in (hem + 2, hem - 9, hem - 20))) for out in (-1, 1)]
    return room.show([finger, Drawn(paint, (*shape, *cuff)), *ways])


def held_joint(room: StepRoom) -> int:
    """The joint that a splint holds straight: 1 the middle joint, 2 the end joint."""
    return 2 if room.picture.level == "dip" else 1


def _straps(pose: SidePose, first: int) -> tuple[tuple[int, float, float], ...]:
    """Where the two straps lie: segment, from and to mm along it."""
    near, far = pose.lengths[first - 1], pose.lengths[first]
    if first == 2:
        return ((2, 0.44 * near, 0.76 * near), (3, 0.30 * far, 0.66 * far))
    base, middle = STRAPS
    return ((1, base[0] * near, base[1] * near), (2, middle[0] * far, middle[1] * far))


def splinted(room: StepRoom, straps: int, *, drop: float = 0.0) -> tuple[SidePose, list[Thing]]:
    """A straight finger on its splint, or above it, `straps` of them closed."""
    pose, first = SidePose(*STRAIGHT, room.picture.finger), held_joint(room)
    shell = Solid(list_splint_edge(pose, first, drop), fill=STUFF, soft=False, pen=MAIN)
    closed = [side_band(pose, *row, "cloth", below=SHELL) for row in _straps(pose, first)[:straps]]
    return pose, [SideFinger(pose), shell, *closed]


def into_splint(room: StepRoom) -> list[str]:
    """The splint rises to the finger, its middle below the joint. Nothing pushes: a joint that may not straighten must
    not be forced."""
    pose, things = splinted(room, 0, drop=10)
    first = held_joint(room)
    foot = pose.joints[first] - 46j
    return _with_notes(room, [*things, Arrow((foot, foot + 10j, foot + 20j))], ((pose.joints[first],),))


def strap(room: StepRoom, count: int) -> list[str]:
    pose, things = splinted(room, count)
    segment, low, high = _straps(pose, held_joint(room))[count - 1]
    along = (low + high) / 2
    push = PushArrow(pose.at(segment, along, depths(pose, segment, along)[0] + 2), -90, long=8)
    return room.show([*things, push])


def free_joints(room: StepRoom) -> list[str]:
    """The joint that is held has a dot, those that stay free move."""
    pose, things = splinted(room, 2)
    first = held_joint(room)
    free = [joint for number, joint in enumerate(pose.joints[:3]) if number != first]
    tip = tuple(free[1] + 30 * heading(a) for a in (28, 0, -34))
    root = tuple(free[0] + 26 * heading(a) for a in (128, 100, 72))
    if first == 2:
        tip = tuple(free[1] + 20 * heading(a) for a in (128, 100, 72))
    return _with_notes(
        room, [*things, Arrow(tip, both=True), Arrow(root, both=True)], ((pose.joints[first],), tuple(free))
    )


def _with_notes(room: StepRoom, things: list[Thing], joints: tuple[tuple[complex, ...], ...]) -> list[str]:
    """A dot on the joint that is held straight, open rings on those that stay free; beside each sign again its words,
    above and below. Without lines: they led from the joints to nothing where the words were covered."""
    notes = () if room.picture.small else room.picture.notes
    row = 1.5 * room.em
    about = replace(room, height=room.height - row * (len(notes) > 1))
    frame, place = about.settle(things, top=row * bool(notes))
    parts = frame.draw(place)
    for held, spots in zip((True, False), joints, strict=False):
        parts += [_joint_sign(spot, held=held) for spot in place.points(spots)]
    for held, note in zip((True, False), notes, strict=False):
        wide = width_of(note, room.size)
        left = (room.width - wide - SIGN_MM) / 2
        y = 1.1 * room.em if held else room.height - 0.5 * room.em
        parts.append(_joint_sign(complex(left + 0.95, y - 0.33 * room.em), held=held))
        parts.append(words(note, complex(left + SIGN_MM, y), size=room.size))
    return parts


def _joint_sign(centre: complex, *, held: bool) -> str:
    return disc(centre, 0.95, fill=INK if held else WHITE, stroke=INK, pen=1.3)


# ------------------------------------------------------------------ moulded ring


def raise_hand(room: StepRoom) -> list[str]:
    """The forearm stands upright on a table, and stays so for a time."""
    hand = HandPose(bends=(14, 18, 10), arm=180)
    whole = WholeHand(hand, (-26 - 17j, -2 - 15j, 17 - 11j))
    foot = hand.front.at(0, -181, 0)
    up = Arrow((foot - 78 + 90j, foot - 78 + 140j, foot - 78 + 200j), pen=3.0, head=3.2)
    spot = foot + 84 + 150j
    clock = Drawn(lambda place: draw_clock(place.at(spot), 3.4, MAIN), (spot - 24 - 24j, spot + 24 + 24j))
    return room.show([whole, Slab(foot - 90, foot + 100, 12), up, clock])


def moulded(finger: Lone, low: float, high: float, *, pad: bool) -> list[Thing]:
    band = wrap_round(finger.line, low, high)
    things: list[Thing] = [BandOn(Band(area=band.area, threads=band.threads, made="stiff", ends=band.ends), finger)]
    if pad:
        half = 0.42 * finger.line.half((low + high) / 2)
        corners = tuple(
            finger.at(a, s) for a, s in ((low + 1.6, half), (high - 1.2, half), (high - 1.2, -half), (low + 1.6, -half))
        )
        things.append(Drawn(lambda place: path(chain_data(place.points(corners), True), fill=INK), corners))
    return things


def slide_on(room: StepRoom) -> list[str]:
    """From the palm side: the ring comes down over the tip, its pad to the palm."""
    finger = Lone(room.picture.finger)
    low, high = find_range(room, finger)
    at = finger.line.total - 12
    ring = moulded(finger, at - (high - low) / 2, at + (high - low) / 2, pad=True)
    side = finger.edge(at, 1) + 9
    return room.show([finger, *ring, Arrow((side + 14j, side, side - 18j))])


def over_joint(room: StepRoom) -> list[str]:
    finger = Lone(room.picture.finger)
    low, high = find_range(room, finger)
    ring = moulded(finger, finger.line.l1 - (high - low) / 2, finger.line.l1 + (high - low) / 2, pad=True)
    side = finger.edge(finger.line.l1, 1) + 8
    return room.show([finger, *ring, Arrow((side + 14j, side, side - 14j))])


def turn_pad(room: StepRoom) -> list[str]:
    finger = Lone(room.picture.finger)
    low, high = find_range(room, finger)
    a, b = finger.edge(low - 3, -1) - 3, finger.edge(low - 3, 1) + 3
    turn = Arrow((a, (a + b) / 2 - 7j, b), both=True)
    return room.show([finger, *moulded(finger, low, high, pad=True), turn])


def lock_ring(room: StepRoom) -> list[str]:
    """From the back: a strap closes the open side."""
    finger = Lone(room.picture.finger, "back")
    low, high = find_range(room, finger)
    middle = (low + high) / 2
    start = finger.edge(middle, 1) - 2
    lid = Tail((start, start + 7 + 3j, start + 15 + 12j), 0.6 * (high - low), "cloth")
    top = start + 8 + 14j
    shut = Arrow((top + 8 + 6j, top - 3 + 9j, finger.at(middle) + 2 + 13j))
    return room.show([finger, lid, *moulded(finger, low, high, pad=False), shut])
