"""The steps of a ring and of an H-strip on one finger: what lies, what is still loose, and which way it goes on."""

from __future__ import annotations

from fingerpost.draw.bodies.fingers import RELAXED
from fingerpost.draw.bodies.side import SidePose, depths
from fingerpost.draw.bodies.whole_side import HandPose, WholeHand
from fingerpost.draw.hands.tape import Band, h_strip, ring_range, wrap_round
from fingerpost.draw.pens.curves import heading
from fingerpost.draw.pens.svg import PALE
from fingerpost.draw.props.lone import Lone
from fingerpost.draw.props.signs import Arrow, PushArrow, arc
from fingerpost.draw.props.stage import Drawn, Moved, Thing
from fingerpost.draw.taping.room import BandOn, SideFinger, StepRoom, Tail, side_band
from fingerpost.draw.taping.side_tape import draw_bridge

LEG_MM = 7.5
"""How wide one of the four tails of an H-strip is."""
BENT: tuple[float, float, float] = (6, 82, 10)
"""The bend of a half crimp, about."""


def find_range(room: StepRoom, finger: Lone) -> tuple[float, float]:
    """Where the ring lies, mm from the MCP joint."""
    return ring_range(room.picture.finger, finger.line, room.picture.level, RELAXED)


def ring_on(room: StepRoom, finger: Lone) -> BandOn:
    low, high = find_range(room, finger)
    band = wrap_round(finger.line, low, high)
    return BandOn(Band(area=band.area, threads=band.threads, made=room.made, ends=band.ends), finger, tab=False)


def round_arrow(finger: Lone, along: float) -> Arrow:
    """Which way a strip goes round, in front of the finger."""
    a, b = finger.edge(along, -1) - 3, finger.edge(along, 1) + 3
    return Arrow((a, (a + b) / 2 - 7j, b))


def slack(room: StepRoom, finger: Lone, along: float, width: float) -> Tail:
    """The strip still to be laid, leaving the finger at the right."""
    start = finger.edge(along, 1) - 1
    return Tail((start, start + 14 + 1j, start + 28 - 6j), width, room.made)


def first_turn(room: StepRoom) -> list[str]:
    finger = Lone(room.picture.finger)
    low, high = find_range(room, finger)
    things: list[Thing] = [finger, slack(room, finger, (low + high) / 2, high - low), ring_on(room, finger)]
    return room.show([*things, round_arrow(finger, low - 3)])


def second_turn(room: StepRoom) -> list[str]:
    """From the back: the end comes over the first turn and stops there."""
    finger = Lone(room.picture.finger, "back")
    low, high = find_range(room, finger)
    middle = (low + high) / 2
    ring = ring_on(room, finger)
    start, stop = finger.edge(middle, -1), finger.at(middle) + 1.5
    end = Tail((start + 0.4, (start + stop) / 2 + 0.6j, stop + 0.6j), high - low + 1.2)
    press = PushArrow(stop + 1.5 + 1j, 205, long=6.0)
    return room.show([finger, ring, end, press, round_arrow(finger, low - 3)])


def lay_end(room: StepRoom) -> list[str]:
    """From the side: the end of the strip lies on the back, and the rest hangs down past the flank."""
    pose = (
        SidePose(8, 30, 12, room.picture.finger)
        if room.picture.level != "a4"
        else SidePose(4, 14, 34, room.picture.finger)
    )
    segment, low, high = _side_range(room, pose)
    middle = (low + high) / 2
    up, down = depths(pose, segment, middle)
    top, side, foot = (pose.at(segment, middle, rise) for rise in (up + 0.8, 0, -down - 4))
    hanging = Tail((top, side, foot, foot - 20j - 6), high - low, room.made)
    spot = pose.at(segment, middle, up + 2)
    push = PushArrow(spot, pose.headings[segment] - 90, long=7.0)
    return room.show([SideFinger(pose), hanging, push])


def _side_range(room: StepRoom, pose: SidePose) -> tuple[int, float, float]:
    """The segment that a ring lies on, and from where to where (mm along it)."""
    low, high = ring_range(room.picture.finger, Lone(room.picture.finger).line, room.picture.level, RELAXED)
    return (1, low, high) if room.picture.level == "a2" else (2, low - pose.lengths[0], high - pose.lengths[0])


def rub(room: StepRoom) -> list[str]:
    """A fingertip of the other hand on the tape, back and forth."""
    finger = Lone(room.picture.finger)
    low, high = find_range(room, finger)
    spot = finger.at((low + high) / 2) + 3
    pose = HandPose(bends=(30, 26, 12), arm=26, fingers=())
    front = pose.front
    pad, along = front.at(3, 0.6 * front.lengths[2], -7.0), heading(front.headings[3])
    turn = heading(160) / along
    hand = Moved(WholeHand(pose, None, PALE), spot - turn * pad, turn)
    low_edge = spot - 13j - 4
    way = Arrow((low_edge - 9 + 2j, low_edge, low_edge + 12 + 1j), both=True)
    return room.show([finger, ring_on(room, finger), hand, way])


def test(room: StepRoom) -> list[str]:
    """From the side: straight and bent, with what is worn."""
    finger, level = room.picture.finger, room.picture.level
    straight, bent = SidePose(4, 4, 2, finger), SidePose(12, 76, 40, finger, turn=8)
    things: list[Thing] = [SideFinger(straight, ghost=True), SideFinger(bent)]
    if level in ("a2", "a4"):
        segment, low, high = _side_range(room, bent)
        things.append(side_band(bent, segment, low, high, room.made))
    else:
        things += [bridge_below(bent), *_h_bands(bent, 2)]
    around = bent.joints[1]
    reach = 0.86 * abs(straight.joints[3] - straight.joints[1])
    things.append(_both_ways(around, reach + 10, -2, -86))
    return room.show(things)


def _both_ways(centre: complex, radius: float, start: float, stop: float) -> Arrow:
    points = tuple(centre + radius * heading(start + (stop - start) * k / 4) for k in range(5))
    return Arrow(points, both=True)


# ------------------------------------------------------------------ H-strip


def legs(finger: Lone, which: tuple[int, ...]) -> list[Thing]:
    """The loose tails: 0 the two nearer to the palm, 1 the two nearer to the tip."""
    things: list[Thing] = []
    for leg in which:
        along, rise = (finger.line.l1 - 6.5, -6.0) if leg == 0 else (finger.line.l1 + 6.5, 6.0)
        for out in (-1, 1):
            start = finger.at(along) + 4.0 * out
            course = (start, start + complex(18 * out, 0.3 * rise), start + complex(38 * out, rise))
            things.append(Tail(course, LEG_MM))
    return things


def lay_bridge(room: StepRoom) -> list[str]:
    finger = Lone(room.picture.finger)
    return room.show([finger, *legs(finger, (0, 1)), BandOn(h_strip(finger.line)[0], finger)])


def near_tails(room: StepRoom) -> list[str]:
    """Those nearer to the palm go round, those nearer to the tip still hang loose."""
    finger = Lone(room.picture.finger)
    bridge, near, _ = h_strip(finger.line)
    along = (near.ends[0] + near.ends[1]) / 2
    loose = slack(room, finger, along, LEG_MM)
    around = round_arrow(finger, near.ends[0] - 3)
    return room.show([finger, *legs(finger, (1,)), loose, BandOn(bridge, finger), BandOn(near, finger), around])


def bridge_below(pose: SidePose) -> Thing:
    """The uncut middle below the PIP joint."""
    return Drawn(lambda place: draw_bridge(pose, pose.lengths[0] - 6, 5.5, place))


def _h_bands(pose: SidePose, count: int) -> list[Thing]:
    l1 = pose.lengths[0]
    return [side_band(pose, 1, l1 - 13, l1 - 5.5), side_band(pose, 2, 5.0, 12.5)][:count]


def _far_leg(pose: SidePose, *, near: bool) -> Tail:
    """One of the two tails nearer to the tip, hanging from the palm side of a bent finger."""
    down = depths(pose, 2, 9)[1]
    root = pose.at(2, 9, -down + 1)
    fall = -26j - (12 if near else -4)
    return Tail((root, root + 0.35 * fall + heading(pose.headings[2] - 90) * 6, root + fall), LEG_MM)


def bend_joint(room: StepRoom) -> list[str]:
    """From the side: the joint bends, the last two tails still hang loose."""
    finger = room.picture.finger
    straight, bent = SidePose(6, 3, 2, finger), SidePose(*BENT, finger)
    things: list[Thing] = [SideFinger(straight, ghost=True), _far_leg(bent, near=False), SideFinger(bent)]
    things += [_far_leg(bent, near=True), bridge_below(bent), *_h_bands(bent, 1)]
    reach = 0.8 * abs(straight.joints[3] - straight.joints[1])
    return room.show([*things, arc(bent.joints[1], reach, -4, -70)])


def far_tails(room: StepRoom) -> list[str]:
    """From the side: the joint stays bent, the last tails go round the middle segment."""
    pose = SidePose(*BENT, room.picture.finger)
    up = depths(pose, 2, 9)[0]
    back = pose.at(2, 8.75, up + 0.6)
    away = heading(pose.headings[2] + 90)
    loose = Tail((back - 2 * away, back + 9 * away, back + 24 * away + 5j), LEG_MM)
    things: list[Thing] = [loose, SideFinger(pose), bridge_below(pose), *_h_bands(pose, 2)]
    low = pose.at(2, 8.75, -depths(pose, 2, 9)[1] - 5)
    turn = Arrow((low - 3 * away, pose.at(2, 22, -4), back + 7 * away - 9j))
    return room.show([*things, turn])
