"""Hands-on tests seen from the side of one finger. Poses and grips of the helper follow the usual description of each
test; sizes are drawn by eye."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.bodies.side import SidePose, depths
from fingerpost.draw.bodies.side_inside import tendon_course
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.pens.curves import ellipse, offset, sample
from fingerpost.draw.trials.trial_parts import Area, Helper, Push, Trial
from fingerpost.plan.base.pictures import TrialPicture


def _on_palm(pose: SidePose, segment: int, share: float, out: float = 0.0) -> complex:
    along = share * pose.lengths[segment - 1]
    return pose.at(segment, along, -depths(pose, segment, along)[1] - out)


def _on_back(pose: SidePose, segment: int, share: float, out: float = 0.0) -> complex:
    along = share * pose.lengths[segment - 1]
    return pose.at(segment, along, depths(pose, segment, along)[0] + out)


def _spot(centre: complex, along: float = 6.0, across: float = 4.0) -> Area:
    return tuple(sample(ellipse(centre, 1 + 0j, along, across), 6))


def _round_joint(pose: SidePose, joint: int, r: float = 7.0) -> Area:
    return tuple(sample(ellipse(pose.joints[joint - 1], 1 + 0j, r, r), 6))


def _trial(pose: SidePose, *others: SidePose) -> Trial:
    """A finger from the side, other fingers behind it."""
    shape = [p for each in (pose, *others) for p in sample(each.contour, 2)]
    return Trial(base=lambda place: "".join(draw_side(each, place) for each in (*others, pose)), shape=shape)


def bowstring_check(picture: TrialPicture) -> Trial:
    pose = SidePose(25, 72, 4, picture.finger, turn=30, bulge=2.2)
    tip = _on_palm(pose, 3, 0.62)
    feel = _on_palm(pose, 1, 0.60)
    return replace(
        _trial(pose),
        helpers=(Helper(feel, 118), Helper(tip, 40, 40)),
        pushes=(Push((tip + 31j + 5, tip + 14j + 2), presses=True),),
        pains=(_spot(_on_palm(pose, 1, 0.60, -5), 7, 4),),
        sore=_on_palm(pose, 1, 0.60, -5),
    )


def resisted_bending(picture: TrialPicture) -> Trial:
    pose = SidePose(12, 38, 22, picture.finger)
    pad = _on_palm(pose, 3, 0.55)
    return replace(
        _trial(pose),
        helpers=(Helper(pad, 100, 40),),
        pushes=(Push((pose.joints[3] + 12, pose.joints[3] + 6 - 10j, pose.joints[3] - 5 - 17j)),),
        pains=(_spot(_on_palm(pose, 1, 0.34, -5), 8, 3.6),),
        sore=_on_palm(pose, 1, 0.34, -5),
    )


def deep_flexor(picture: TrialPicture) -> Trial:
    pose = SidePose(0, 4, 46, picture.finger)
    above, below = _on_back(pose, 2, 0.42), _on_palm(pose, 2, 0.40)
    tip = pose.joints[3]
    return replace(
        _trial(pose),
        ghosts=(SidePose(0, 4, 0, picture.finger),),
        helpers=(Helper(above, -82), Helper(below, 84)),
        pushes=(Push((tip + 13 + 19j, tip + 15 + 6j, tip + 8 - 6j)),),
        looks=((pose.joints[2], 9.5),),
        sore=pose.joints[2],
    )


def surface_flexor(picture: TrialPicture) -> Trial:
    pose = SidePose(4, 74, 4, picture.finger)
    still = SidePose(0, 0, 0, "middle", base=3 + 6j)
    press = _on_back(still, 2, 0.4)
    tip = pose.joints[3]
    return replace(
        _trial(pose, still),
        helpers=(Helper(press, -75),),
        pushes=(Push((tip + 24 + 22j, tip + 22 + 8j, tip + 10 + 0j)),),
        looks=((pose.joints[1], 10.5),),
        sore=pose.joints[1],
    )


def end_of_range(picture: TrialPicture) -> Trial:
    pose = SidePose(10, 100, 40, picture.finger)
    push = _on_back(pose, 2, 0.72)
    return replace(
        _trial(pose),
        ghosts=(SidePose(10, -4, 0, picture.finger),),
        helpers=(Helper(push, 176),),
        pushes=(Push((push + 22 + 14j, push + 2 + 14j), presses=True),),
        pains=(_round_joint(pose, 2, 6.4),),
        sore=pose.joints[1],
    )


def passive_straightening(picture: TrialPicture) -> Trial:
    pose = SidePose(-14, -2, -8, picture.finger, turn=14)
    lift = _on_palm(pose, 3, 0.5)
    course = tendon_course(pose)
    inner = course[14:50]
    tube = (*offset(inner, 3.0), *offset(inner, -3.0)[::-1])
    return replace(
        _trial(pose),
        ghosts=(SidePose(4, 22, 14, picture.finger, turn=4),),
        helpers=(Helper(lift, 82),),
        pushes=(Push((pose.joints[3] + 8 - 26j, pose.joints[3] + 8 - 2j), presses=True),),
        pains=(tube,),
        sore=inner[14],
    )


def bent_press(picture: TrialPicture) -> Trial:
    """Elson's test: the middle joint bent over the edge of a table, the tip must stay loose."""
    pose = SidePose(0, 90, 6, picture.finger)
    low = min(_on_palm(pose, 1, 0.30).imag, _on_palm(pose, 1, 0.60).imag)
    edge = _on_palm(pose, 1, 0.86).real - 4
    push = _on_back(pose, 2, 0.45)
    tip = pose.joints[3]
    return replace(
        _trial(pose),
        helpers=(Helper(push, 180),),
        pushes=(Push((tip - 2 - 8j, tip + 14 - 3j, tip + 23 + 10j)),),
        looks=((pose.joints[2], 9.5),),
        tables=((complex(-34, low), complex(edge, low)),),
        sore=pose.joints[2],
    )


def tip_hold(picture: TrialPicture) -> Trial:
    pose = SidePose(0, 2, 40, picture.finger)
    above, below = _on_back(pose, 2, 0.40), _on_palm(pose, 2, 0.40)
    tip = pose.joints[3]
    return replace(
        _trial(pose),
        ghosts=(SidePose(0, 2, 0, picture.finger),),
        helpers=(Helper(above, -82), Helper(below, 84)),
        pushes=(Push((tip + 6 - 8j, tip + 14 + 3j, tip + 13 + 18j)),),
        looks=((_on_back(pose, 3, 0.02, -3), 8),),
        sore=pose.joints[2],
    )


def table_top(picture: TrialPicture) -> Trial:
    """A finger that stays bent keeps the palm off the table."""
    pose = SidePose(20, 34, 6, picture.finger, turn=6)
    low = min(p.imag for p in sample(pose.contour, 3))
    gap = complex(pose.at(1, 0.4 * pose.lengths[0], 0).real, low + 9)
    above = pose.joints[1] + 11j
    return replace(
        _trial(pose),
        pushes=(Push((above + 18j, above + 1j), presses=True),),
        looks=((gap, 8),),
        tables=((complex(-40, low), complex(pose.joints[3].real + 10, low)),),
        sore=gap,
    )


def infection_look(picture: TrialPicture) -> Trial:
    pose = SidePose(14, 30, 14, picture.finger, bulge=3.0)
    course = tendon_course(pose)[12:50]
    tube = (*offset(course, 3.4), *offset(course, -3.4)[::-1])
    return replace(
        _trial(pose),
        ghosts=(SidePose(0, 0, 0, picture.finger),),
        pushes=(Push((pose.joints[3] + 8 - 8j, pose.joints[3] + 13 + 2j, pose.joints[3] + 13 + 13j)),),
        pains=(tube,),
        sore=course[12],
    )


def back_press(picture: TrialPicture) -> Trial:
    pose = SidePose(5, 14, 6, picture.finger)
    place = pose.at(2, 9.0, 4.4)
    out = pose.at(2, 9.0, 8.0)
    return replace(
        _trial(pose),
        helpers=(Helper(out, -98),),
        pushes=(Push((out + 16 + 22j, out + 14 + 3j), presses=True),),
        pains=(_spot(place - 0.5j, 4.6, 3.2),),
        sore=place,
    )


def crimp_or_open(picture: TrialPicture) -> Trial:
    """Nearly straight above, bent below: the pad presses on a table both times."""
    open_hand = SidePose(10, 20, 12, picture.finger, turn=22)
    bent = SidePose(12, 80, 2, picture.finger, turn=62, base=complex(4, -104))
    tables = []
    for pose in (open_hand, bent):
        level = min(p.imag for p in sample(pose.palm[-1], 6)) + 0.8
        tables.append((complex(pose.joints[2].real - 4, level), complex(pose.joints[3].real + 14, level)))
    pushes = tuple(Push((pose.joints[2] + 30j, pose.joints[2] + 10j), presses=True) for pose in (open_hand, bent))
    sore = _on_palm(bent, 1, 0.5, -5)
    return replace(
        _trial(open_hand, bent),
        pushes=pushes,
        pains=(_spot(sore, 5, 6), _spot(_on_palm(open_hand, 1, 0.4, -5), 7, 3.6)),
        tables=tuple(tables),
        sore=sore,
    )
