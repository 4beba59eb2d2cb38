"""Hands-on tests seen from the side of one finger. Poses and grips of the helper follow the usual description of each
test; sizes are drawn by eye."""

from __future__ import annotations

from generator.draw.curves import ellipse, offset, sample
from generator.draw.side import SidePose
from generator.draw.side_inside import growth_plate, tendon_course
from generator.draw.side_lines import draw_side
from generator.draw.side_tape import depths
from generator.draw.trial_parts import Area, Helper, Push, Trial
from generator.plan.pictures import TrialPicture


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


def _trial(pose: SidePose, *others: SidePose, **rest: object) -> Trial:
    shape = [p for each in (pose, *others) for p in sample(each.contour, 2)]
    return Trial(base=lambda place: "".join(draw_side(each, place) for each in (*others, pose)), shape=shape, **rest)  # type: ignore[arg-type]


def bowstring_check(picture: TrialPicture) -> Trial:
    pose = SidePose(25, 72, 4, picture.finger, turn=30, bulge=2.2)
    tip = _on_palm(pose, 3, 0.62)
    feel = _on_palm(pose, 1, 0.60)
    return _trial(
        pose,
        helpers=(Helper(feel, 118), Helper(tip, 40, 40)),
        pushes=(Push((tip + 22j + 3, tip + 11j + 1)),),
        pains=(_spot(_on_palm(pose, 1, 0.60, -5), 7, 4),),
        sore=_on_palm(pose, 1, 0.60, -5),
    )


def resisted_bending(picture: TrialPicture) -> Trial:
    pose = SidePose(12, 38, 22, picture.finger)
    pad = _on_palm(pose, 3, 0.55)
    out = (pad - pose.at(3, 0.55 * pose.lengths[2], 0)) / abs(pad - pose.at(3, 0.55 * pose.lengths[2], 0))
    return _trial(
        pose,
        helpers=(Helper(pad, 100, 40),),
        pushes=(Push((pose.joints[3] + 12, pose.joints[3] + 6 - 10j, pose.joints[3] - 5 - 17j)),),
        pains=(_spot(_on_palm(pose, 1, 0.34, -5), 8, 3.6),),
        sore=_on_palm(pose, 1, 0.34, -5),
    )


def deep_flexor(picture: TrialPicture) -> Trial:
    pose = SidePose(0, 4, 46, picture.finger)
    above, below = _on_back(pose, 2, 0.42), _on_palm(pose, 2, 0.40)
    tip = pose.joints[3]
    return _trial(
        pose,
        ghosts=(SidePose(0, 4, 0, picture.finger),),
        helpers=(Helper(above, -82), Helper(below, 84)),
        pushes=(Push((tip + 14 + 12j, tip + 14 + 2j, tip + 8 - 6j)),),
        looks=((pose.joints[2], 9.5),),
        sore=pose.joints[2],
    )


def surface_flexor(picture: TrialPicture) -> Trial:
    pose = SidePose(4, 74, 4, picture.finger)
    still = SidePose(0, 0, 0, "middle", base=3 + 6j)
    press = _on_back(still, 2, 0.4)
    tip = pose.joints[3]
    return _trial(
        pose,
        still,
        helpers=(Helper(press, -75),),
        pushes=(Push((tip + 24 + 22j, tip + 22 + 8j, tip + 10 + 0j)),),
        looks=((pose.joints[1], 10.5),),
        sore=pose.joints[1],
    )


def end_of_range(picture: TrialPicture) -> Trial:
    pose = SidePose(10, 100, 40, picture.finger)
    push = _on_back(pose, 2, 0.72)
    return _trial(
        pose,
        ghosts=(SidePose(10, -4, 0, picture.finger),),
        helpers=(Helper(push, 176),),
        pushes=(Push((push + 14 + 16j, push + 6 + 16j)), ),
        pains=(_round_joint(pose, 2, 6.4),),
        sore=pose.joints[1],
    )


def passive_straightening(picture: TrialPicture) -> Trial:
    pose = SidePose(-14, -2, -8, picture.finger, turn=14)
    lift = _on_palm(pose, 3, 0.5)
    course = tendon_course(pose)
    inner = course[14:50]
    tube = tuple([*offset(inner, 3.0), *offset(inner, -3.0)[::-1]])
    return _trial(
        pose,
        ghosts=(SidePose(4, 22, 14, picture.finger, turn=4),),
        helpers=(Helper(lift, 82),),
        pushes=(Push((pose.joints[3] + 6 - 22j, pose.joints[3] + 7 - 2j)),),
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
    return _trial(
        pose,
        helpers=(Helper(push, 180),),
        pushes=(Push((tip + 3 - 6j, tip + 13 - 3j, tip + 20 + 5j)),),
        looks=((pose.joints[2], 9.5),),
        table=(complex(-34, low), complex(edge, low)),
        sore=pose.joints[2],
    )


def tip_hold(picture: TrialPicture) -> Trial:
    pose = SidePose(0, 2, 40, picture.finger)
    above, below = _on_back(pose, 2, 0.40), _on_palm(pose, 2, 0.40)
    tip = pose.joints[3]
    return _trial(
        pose,
        ghosts=(SidePose(0, 2, 0, picture.finger),),
        helpers=(Helper(above, -82), Helper(below, 84)),
        pushes=(Push((tip + 8 - 5j, tip + 14 + 3j, tip + 14 + 13j)),),
        looks=((_on_back(pose, 3, 0.02, -3), 8),),
        sore=pose.joints[2],
    )


def table_top(picture: TrialPicture) -> Trial:
    pose = SidePose(18, 30, 4, picture.finger, turn=22)
    low = min(p.imag for p in sample(pose.contour, 3))
    right = pose.joints[3].real + 8
    return _trial(
        pose,
        ghosts=(),
        pushes=(Push((pose.joints[1] + 20j, pose.joints[1] + 11j)),),
        looks=((complex(pose.joints[1].real - 6, low + 8), 8),),
        table=(complex(-36, low), complex(right, low)),
        sore=complex(pose.joints[1].real - 6, low + 8),
    )


def fist_and_straight(picture: TrialPicture) -> Trial:
    pose = SidePose(78, 100, 62, picture.finger, turn=0)
    straight = SidePose(0, 0, 0, picture.finger, base=-6 + 52j)
    return _trial(
        pose,
        straight,
        looks=((pose.joints[3], 7.5), (straight.joints[3] - 3, 9)),
        pushes=(Push((complex(66, 44), complex(64, 16), complex(46, -18))), Push((complex(78, -6), complex(88, 14), complex(88, 38)))),
        sore=pose.joints[3],
    )


def infection_look(picture: TrialPicture) -> Trial:
    pose = SidePose(14, 30, 14, picture.finger, bulge=3.0)
    course = tendon_course(pose)[12:50]
    tube = tuple([*offset(course, 3.4), *offset(course, -3.4)[::-1]])
    return _trial(
        pose,
        ghosts=(SidePose(0, 0, 0, picture.finger),),
        pushes=(Push((pose.joints[3] + 10 - 6j, pose.joints[3] + 12 + 8j)),),
        pains=(tube,),
        sore=course[12],
    )


def back_press(picture: TrialPicture) -> Trial:
    pose = SidePose(5, 14, 6, picture.finger)
    place = growth_plate(pose)[0]
    out = pose.at(2, 9.0, 8.0)
    return _trial(
        pose,
        helpers=(Helper(out, -98),),
        pushes=(Push((out + 14 + 14j, out + 12 + 2j)),),
        pains=(_spot(place - 0.5j, 4.6, 3.2),),
        sore=place,
    )


def crimp_or_open(picture: TrialPicture) -> Trial:
    open_hand = SidePose(10, 20, 12, picture.finger, turn=22, base=-4 + 0j)
    bent = SidePose(12, 80, 2, picture.finger, turn=58, base=complex(0, -92))
    low_open = min(p.imag for p in sample(open_hand.palm[-1], 6)) + 0.8
    down = open_hand.joints[2] + 20j
    other = bent.joints[1] + 24j
    return _trial(
        open_hand,
        bent,
        pushes=(Push((down, down - 10j)), Push((other, other - 11j))),
        pains=(_spot(_on_palm(bent, 1, 0.5, -5), 5, 6), _spot(_on_palm(open_hand, 1, 0.4, -5), 7, 3.6)),
        table=(complex(18, low_open), complex(open_hand.joints[3].real + 14, low_open)),
        sore=_on_palm(bent, 1, 0.5, -5),
    )

