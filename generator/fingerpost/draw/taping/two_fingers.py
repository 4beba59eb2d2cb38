"""The steps in which two fingers are joined: which two, what lies between them, each strip or loop, what stays free."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.draw.bodies.hand_crop import LOWEST
from fingerpost.draw.bodies.landmarks import find_mark, joint_side
from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.pens.curves import heading
from fingerpost.draw.pens.svg import BLACK, INK, MAIN, PALE, Position, chain_data, disc, path
from fingerpost.draw.props.lone import Lone
from fingerpost.draw.props.shapes import Felt
from fingerpost.draw.props.signs import Arrow, FingerKey
from fingerpost.draw.props.stage import Drawn, Moved, Thing
from fingerpost.draw.taping.room import (
    BandOn,
    Fingers,
    Halo,
    SideFinger,
    StepRoom,
    Tail,
    TickOrCross,
    side_band,
    turned_over,
)
from fingerpost.model.words import FINGERS, Finger


@dataclass(frozen=True)
class Sore:
    """A small hurt place, all of the ink."""

    area: tuple[complex, ...]

    def cover(self, place: Position) -> list[complex]:
        return place.points(self.area)

    def draw(self, place: Position) -> str:
        return path(chain_data(place.points(self.area), True), fill=INK, stroke=INK, pen=2.0)


PALM = 24.0
"""Where the palm is cut off (hand mm) for a mark that lies in it."""


def _pair(room: StepRoom) -> tuple[Finger, Finger]:
    return room.picture.finger, room.picture.partner or room.picture.finger


def which_neighbour(room: StepRoom) -> list[str]:
    """What is hurt carries the ink. A tick above the finger that it is joined to, a cross above the wrong one."""
    p, fingers = room.picture, room.fingers
    web = p.draws == "sore-web"
    shown = Fingers(room.spreads, p.finger, PALM if web else LOWEST)
    things: list[Thing] = [shown, *_sore(room)]
    ticked = (p.finger, p.partner) if p.draws == "sore-web" else (p.partner,)
    for name in FINGERS:
        if name in ticked or name == p.wrong_partner:
            line = fingers[name]
            things.append(TickOrCross(line.at(line.total) + 15j, name in ticked, 0.55 if len(ticked) > 1 else 1.0))
    return room.show(turned_over(things))


def _sore(room: StepRoom) -> list[Thing]:
    """The side of a joint or the web that is hurt, ringed; else the finger that is."""
    p, fingers = room.picture, room.fingers
    if p.hurt and p.hurt.side:
        line = fingers[p.finger]
        sign = 1.0 if p.hurt.side == "ulnar" else -1.0
        web = p.hurt.landmark == "lumbrical"
        area = (
            find_mark("lumbrical", p.finger, p.hurt.side, fingers).areas[0]
            if web
            else joint_side(line, line.l1 + 0.8, sign, 11)
        )
        middle = sum(area) / len(area)
        reach = max(abs(point - middle) for point in area)
        return [Sore(area), Halo(middle, reach + (0 if web else 3), INK)]
    line = fingers[p.finger]
    stops = [0.5 * line.l1 + k * (line.total - 6 - 0.5 * line.l1) / 8 for k in range(9)]
    sides = ([line.at(a, 0.8 * side * line.half(a)) for a in stops] for side in (1, -1))
    left, right = sides
    return [Felt((*left, *right[::-1]))]


def lay_gauze(room: StepRoom) -> list[str]:
    """Close by: a soft pad goes down between the two. The small hand says which two they are."""
    one, other = sorted(_pair(room), key=FINGERS.index)  # a left hand, palm up: its index is at the left
    left, right = (Lone(name, tinted=name == room.picture.finger) for name in (one, other))
    half = max(left.line.half(20), right.line.half(20)) + 2.2
    low, high = -0.6 * left.line.l1, 0.86 * left.line.l2
    pad = [complex(x, y) for x, y in ((-2.2, high + 8), (2.2, high + 8), (2.2, low), (0, low - 2), (-2.2, low))]
    dots = tuple(complex(0.9 if k % 2 else -0.9, high + 6 - 3.6 * k) for k in range(int((high + 4 - low) / 3.6)))

    def paint(place: Position) -> str:
        soft = path(chain_data(place.points(pad), True), fill=PALE, stroke=BLACK, pen=MAIN)
        return soft + "".join(disc(point, 0.24) for point in place.points(dots))

    shift = 0.5 * (left.line.l1 - right.line.l1)
    things: list[Thing] = [Moved(left, -half), Moved(right, half - 1j * shift), Drawn(paint, tuple(pad))]
    things.append(Arrow((complex(0, high + 34), complex(0, high + 22), complex(0, high + 11))))
    return room.show([*things, FingerKey(complex(-half - 34, 4), _pair(room), palm=True)])


def _shown(room: StepRoom) -> Fingers:
    """Which of the two is sore is seen in every step."""
    return Fingers(room.spreads, room.picture.finger)


def join(room: StepRoom, count: int) -> list[str]:
    """Strip or loop `count` goes round both: what lies already, the loose end, the way it goes on."""
    pieces = room.bands[:count]
    area = pieces[-1].area
    right, left = max(p.real for p in area), min(p.real for p in area)
    top, low = max(p.imag for p in area), min(p.imag for p in area)
    start = complex(right - 2, (top + low) / 2)
    loose = Tail((start, start + 16 + 1j, start + 32 + 9j), min(9.2, top - low), room.made)
    things: list[Thing] = [_shown(room), *_pad(room), *(BandOn(piece) for piece in pieces[:-1]), loose]
    things.append(BandOn(pieces[-1], tab=False))
    things.append(
        Arrow((complex(left - 3, low - 4), complex((left + right) / 2, low - 12), complex(right + 3, low - 4)))
    )
    return room.show(turned_over(things))


def _pad(room: StepRoom) -> list[Thing]:
    """What is seen of the gauze between the two."""
    fingers = room.fingers
    ulnar, radial = sorted(_pair(room), key=FINGERS.index, reverse=True)
    first, second = fingers[ulnar], fingers[radial]
    left = [first.at(a, -first.half(a)) for a in (0.68 * first.l1, first.l1, first.l1 + 0.62 * first.l2)]
    right = []
    for point in left:
        a = second.length_at_height(point.imag + 1.5)
        right.append(second.at(a, second.half(a)))
    shape = (*left, *right[::-1])

    def paint(place: Position) -> str:
        return path(chain_data(place.points(shape), True), fill=PALE)

    return [Drawn(paint, shape)]


def bare_joints(room: StepRoom) -> list[str]:
    things: list[Thing] = [_shown(room), *_pad(room), *(BandOn(piece) for piece in room.bands)]
    for name in _pair(room):
        line = room.fingers[name]
        things += [Halo(line.at(a), r, INK) for a, r in ((line.l1, 6.4), (line.l1 + line.l2, 5.6))]
    return room.show(turned_over(things))


def bend_both(room: StepRoom) -> list[str]:
    """From the side: both bend and straighten as one, one behind the other."""
    one, other = _pair(room)
    near, far = (SidePose(24, 62, 26, name, base=base) for name, base in ((one, 0j), (other, 8 + 9j)))
    straight = SidePose(6, 3, 2, one)
    things: list[Thing] = [SideFinger(straight, ghost=True)]
    for pose in (far, near):
        l1, l2, _ = pose.lengths
        rows = ((1, 0.56 * l1, 0.80 * l1), (2, 0.30 * l2, 0.66 * l2))
        things += [SideFinger(pose, sore=pose is near), *(side_band(pose, *row, room.made) for row in rows)]
    reach = 0.88 * abs(straight.joints[3] - straight.joints[1])
    way = tuple(near.joints[1] + reach * heading(a) for a in (4, -20, -44, -68))
    return room.show([*things, Arrow(way, both=True)])
