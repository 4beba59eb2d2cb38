"""Exercises in which a hand holds or is held: ball, rubber band, and the other hand that stretches."""

from __future__ import annotations

from fingerpost.draw.bodies.creases import palm_blades
from fingerpost.draw.bodies.fingers import lay_fingers
from fingerpost.draw.bodies.outline import hand_outline
from fingerpost.draw.bodies.whole_side import HandPose, Spots, WholeHand
from fingerpost.draw.exercises.posed import THUMBS, Script, signs_of, upright
from fingerpost.draw.pens.blades import draw_blades
from fingerpost.draw.pens.curves import free, heading, ring, sample
from fingerpost.draw.pens.svg import BLACK, PALE, STUFF, WHITE, Position, curve_data, path
from fingerpost.draw.props.other_hand import resting
from fingerpost.draw.props.shapes import Felt, Strap, ball
from fingerpost.draw.props.signs import PushArrow, arc
from fingerpost.draw.props.stage import Drawn, Frame, Moved, Thing
from fingerpost.model.movement import Pose

BALL_MM = 25.0
ROUND_BALL: tuple[Spots, Spots] = (
    (-33 - 36j, -6 - 52j, 19 - 52j),
    (-34 - 34j, -9 - 48j, 15 - 50j),
)
"""The thumb round the ball at rest, and round one that is squeezed flat."""
BAND_MM = 4.4


def squeeze(script: Script) -> tuple[Frame, ...]:
    """A soft ball between the fingers and the thumb, round at rest and flat under the push."""
    return tuple(_squeezed(pose, script.small) for pose in script.poses)


def _squeezed(pose: Pose, small: bool) -> Frame:
    soft = (100 - pose.ball) / 20
    thing = ball(43 + 6j - soft * (5 + 7j), BALL_MM, pose.ball / 100, 70)
    hand = upright(pose, small).pose
    things: list[Thing] = [WholeHand(hand, ROUND_BALL[pose.ball < 100], held=thing.draw)]
    if pose.ball < 100:
        things += [PushArrow(80 + 32j, 222, force=1), PushArrow(74 - 12j, 160, force=1)]
    return Frame(tuple(things))


def stretch_band(script: Script) -> tuple[Frame, ...]:
    """A rubber band round the nails and the thumb."""
    frames = []
    for before, pose in script.in_turn:
        hand = upright(pose, script.small)
        opened = before is not None and pose.mcp < before.mcp
        behind, front = _band(hand, 10 if opened else 18)
        things: list[Thing] = [behind, hand, front]
        if opened:
            things += [arc(-6 - 40j, 158, 60, 80, both=True), arc(-6 - 40j, 110, 22, -4, both=True)]
        frames.append(Frame(tuple(things)))
    return tuple(frames)


def _band(hand: WholeHand, back: float) -> tuple[Thing, Thing]:
    """Both strands of the band are seen, the far one behind the hand. `back`: mm from the fingertips."""
    pose = hand.pose.front
    along = pose.lengths[2] - back
    thumb = hand.thumb_alone
    if thumb is None:
        raise ValueError("a band goes round the thumb, and the pose has none")
    _, _, ip, tip = thumb.thumb.joints
    unit = (tip - ip) / abs(tip - ip)
    inner, outer = tip - 10 * unit, tip - 12 * unit - 9.5j * unit
    near, over = pose.at(3, along, -7.5), pose.at(3, along, 6.5)
    front = Strap((over, pose.at(3, along, -2), near, near + 0.5 * (outer - near), outer), BAND_MM)
    tops = [each.at(3, each.lengths[2] - back, 0) for each in hand.pose.behind.values()]
    top = max(tops, key=lambda p: p.imag)
    behind = Strap((top, top + 0.5 * (inner - top) + 5 * unit, inner), BAND_MM, fill=STUFF)
    return behind, front


def push_back(script: Script) -> tuple[Frame, ...]:
    """The hook; then the other hand, from in front, pushes the bent fingers and so the knuckles back."""
    frames: list[Frame] = []
    for before, pose in script.in_turn:
        hand = upright(pose, script.small)
        things: list[Thing] = [hand, *signs_of(pose, hand.pose.front)]
        if before:
            front = hand.pose.front
            spot = complex(max(p.real for p in sample(front.contour, 3)[:-40]), front.at(3, 6, 7).imag)
            other = resting(spot, 86, mirror=True, bends=(-4, 8, 4), wrist=-52, along=4, arm=150)
            things = [other, *things, PushArrow(spot + complex(24, 16), 180, force=1)]
        frames.append(Frame(tuple(things)))
    return tuple(frames)


def clasp(script: Script) -> tuple[Frame, ...]:
    """The palm from above; then the other hand, behind the sore one, brings all four fingers down and back."""
    arm = 112.0 if script.small else 146.0
    bent = HandPose(bends=(-12, 3, 2), facing=60, wrist=-60, arm=arm)
    front = bent.front
    helper = HandPose(bends=(14, 12, 8), facing=90, wrist=24, arm=130)
    spot, touch = front.at(1, 30, -15), helper.front.at(1, 30, -12)
    turn = heading(front.headings[1] + 180 - helper.front.headings[1])
    hand = Moved(WholeHand(helper, (-26 - 30j, 2 - 42j, 30 - 48j), PALE), spot - turn * touch, turn)
    rows = ((-90, 12, 16), (-106, 10, 17.6), (-122, 11, 19.8), (-138, 14, 23.5), (-143, 21, 24))
    belly = [*(front.at(0, a, -low) for a, _, low in rows), *(front.at(0, a, -high) for a, high, _ in rows[::-1])]
    felt = () if script.small else (Felt(tuple(sample(ring(free(belly)), 4))),)
    pull = arc(front.at(0, -66, 0), 152, -2, 15)
    sore = WholeHand(bent, THUMBS["away"])
    back = heading(front.headings[1] - 90)
    push = PushArrow(spot + 29 * back, front.headings[1] + 90, force=1)
    return (Frame((_palm_up(),), turn=1j), Frame((hand, sore, *felt, pull, push), turn=-1 + 0j))


def _palm_up() -> Thing:
    """The palm from above, fingers ahead."""
    fingers, outline = lay_fingers(), hand_outline()

    def paint(place: Position) -> str:
        skin = path(curve_data(place.curve(outline)), fill=WHITE, stroke=BLACK, pen=place.contour_pen)
        return skin + draw_blades(palm_blades(fingers), place)

    return Moved(Drawn(paint, tuple(sample(outline, 2))), mirror=True)
