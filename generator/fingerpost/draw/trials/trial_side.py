"""Hands-on tests seen from the side of one finger. Poses and grips of the helper follow the usual description of each
test; sizes are drawn by eye."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.bodies.side import SidePose, depths
from fingerpost.draw.bodies.side_inside import tendon_course
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.pens.curves import ellipse, offset, sample
from fingerpost.draw.props.signs import Arrow, PushArrow, arc
from fingerpost.draw.trials.trial_parts import LIGHTLY, Area, Helper, Trial, push
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


def _palm_up(trial: Trial) -> Trial:
    """The same laid on its back, fingers still to the right."""
    return replace(trial, flip=True, turn=-1 + 0j)


def _on_table(pose: SidePose) -> tuple[complex, complex]:
    """A table below the back of a hand that lies palm up."""
    high = max(p.imag for p in sample(pose.contour, 3))
    return complex(-34, high), complex(pose.joints[0].real + sum(pose.lengths) + 10, high)


def _own_push(pose: SidePose, share: float = 0.5) -> PushArrow:
    """The end segment pushes lightly to its palm side."""
    return push(_on_back(pose, 3, share, 1.0), pose.headings[3] - 90, LIGHTLY)


def bowstring_check(picture: TrialPicture) -> Trial:
    pose = SidePose(25, 72, 4, picture.finger, turn=30, bulge=2.2)
    tip = _on_palm(pose, 3, 0.7)
    feel = _on_palm(pose, 1, 0.60)
    return replace(
        _trial(pose),
        helpers=(Helper(feel, 98), Helper(tip, 74)),
        signs=(_own_push(pose),),
        pains=(_spot(_on_palm(pose, 1, 0.60, -5), 7, 4),),
        sore=_on_palm(pose, 1, 0.60, -5),
    )


def resisted_bending(picture: TrialPicture) -> Trial:
    pose = SidePose(12, 38, 22, picture.finger)
    pad = _on_palm(pose, 3, 0.55)
    trial = replace(
        _trial(pose),
        helpers=(Helper(pad, 100, 40),),
        signs=(_own_push(pose),),
        pains=(_spot(_on_palm(pose, 1, 0.34, -5), 8, 3.6),),
        sore=_on_palm(pose, 1, 0.34, -5),
    )
    return _palm_up(trial)


def deep_flexor(picture: TrialPicture) -> Trial:
    """The palm is up and the tip bends: seen apart from `tip_hold` at one look."""
    pose = SidePose(0, 4, 46, picture.finger)
    sore = _on_palm(pose, 2, 0.86, -3.4)
    trial = replace(
        _trial(pose),
        ghosts=(SidePose(0, 4, 0, picture.finger),),
        helpers=(Helper(_on_palm(pose, 2, 0.32), 84),),
        signs=(arc(pose.joints[2], 36, -12, -50),),
        pains=(_spot(sore, 6.4, 3.2),),
        tables=(_on_table(pose),),
        sore=sore,
    )
    return _palm_up(trial)


def surface_flexor(picture: TrialPicture) -> Trial:
    """The neighbour is held straight at its fingertip, from the palm side, so that the deep tendon cannot help."""
    pose = SidePose(4, 74, 4, picture.finger)
    still = SidePose(0, 0, 0, "middle", base=3 + 6j)
    trial = replace(
        _trial(pose, still),
        helpers=(Helper(_on_palm(still, 3, 0.42), 104),),
        signs=(arc(pose.joints[1], 34, -16, -62),),
        looks=((pose.joints[1], 10.5),),
        tables=(_on_table(still),),
        sore=pose.joints[1],
    )
    return _palm_up(trial)


def end_of_range(picture: TrialPicture) -> Trial:
    pose = SidePose(10, 100, 40, picture.finger)
    helper = Helper(_on_back(pose, 2, 0.72), 176)
    return replace(
        _trial(pose),
        ghosts=(SidePose(10, -4, 0, picture.finger),),
        helpers=(helper,),
        signs=(helper.push(LIGHTLY),),
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
        signs=(Arrow((pose.joints[3] + 10 - 24j, pose.joints[3] + 12 - 12j, pose.joints[3] + 11 + 0j)),),
        pains=(tube,),
        sore=inner[14],
    )


def bent_press(picture: TrialPicture) -> Trial:
    """Elson's test: the middle joint bent over the edge of a table pushes against the holding hand; the tip must stay
    loose."""
    pose = SidePose(0, 90, 6, picture.finger)
    low = min(_on_palm(pose, 1, 0.30).imag, _on_palm(pose, 1, 0.60).imag)
    edge = _on_palm(pose, 1, 0.86).real - 10
    return replace(
        _trial(pose),
        helpers=(Helper(_on_back(pose, 2, 0.45), 180), Helper(_on_back(pose, 1, 0.42), -90)),
        signs=(push(_on_palm(pose, 2, 0.52, 1.0), 0),),
        looks=((pose.joints[2], 9.5),),
        tables=((complex(-34, low), complex(edge, low)),),
        sore=pose.joints[2],
    )


def tip_hold(picture: TrialPicture) -> Trial:
    """The tip hangs, is held up from below, and is to straighten by itself."""
    pose = SidePose(0, 2, 40, picture.finger)
    sore = pose.beside(3, 0, 4.6)
    return replace(
        _trial(pose),
        helpers=(Helper(_on_palm(pose, 2, 0.40), 84),),
        signs=(arc(pose.joints[2], 36, -46, -8),),
        pains=(_spot(sore, 6.4, 3.2),),
        sore=sore,
    )


def table_top(picture: TrialPicture) -> Trial:
    """A finger that stays bent keeps the palm off the table."""
    pose = SidePose(20, 34, 6, picture.finger, turn=6)
    low = min(p.imag for p in sample(pose.contour, 3))
    gap = complex(pose.at(1, 0.4 * pose.lengths[0], 0).real, low + 9)
    return replace(
        _trial(pose),
        signs=(Arrow((pose.joints[1] + 34j, pose.joints[1] + 13j)),),
        looks=((gap, 8),),
        tables=((complex(-40, low), complex(pose.joints[3].real + 10, low)),),
        sore=gap,
    )


def infection_look(picture: TrialPicture) -> Trial:
    """One fingertip lifts the tip a little: nothing is pushed on a finger that may be infected."""
    pose = SidePose(14, 30, 14, picture.finger, bulge=3.0)
    course = tendon_course(pose)[12:50]
    tube = (*offset(course, 3.4), *offset(course, -3.4)[::-1])
    return replace(
        _trial(pose),
        helpers=(Helper(_on_palm(pose, 3, 0.6), 76),),
        signs=(arc(pose.joints[2], 38, pose.headings[3] - 8, pose.headings[3] + 16),),
        pains=(tube,),
        sore=course[12],
    )


def back_press(picture: TrialPicture) -> Trial:
    pose = SidePose(5, 14, 6, picture.finger)
    place = pose.at(2, 9.0, 4.4)
    helper = Helper(pose.at(2, 9.0, 8.0), -98)
    return replace(
        _trial(pose),
        helpers=(helper,),
        signs=(helper.push(LIGHTLY),),
        pains=(_spot(place - 0.5j, 4.6, 3.2),),
        sore=place,
    )


def crimp_or_open(picture: TrialPicture) -> Trial:
    """Nearly straight above, bent below: the pad presses on a table both times."""
    open_hand = SidePose(10, 20, 12, picture.finger, turn=22)
    bent = SidePose(12, 70, 2, picture.finger, turn=62, base=complex(4, -104))
    tables = []
    for pose in (open_hand, bent):
        level = min(p.imag for p in sample(pose.palm[-1], 6)) + 0.8
        tables.append((complex(pose.joints[2].real - 4, level), complex(pose.joints[3].real + 14, level)))
    sore = _on_palm(bent, 1, 0.5, -5)
    return replace(
        _trial(open_hand, bent),
        signs=tuple(push(pose.joints[2] + 9j, -90, LIGHTLY) for pose in (open_hand, bent)),
        pains=(_spot(sore, 5, 6), _spot(_on_palm(open_hand, 1, 0.4, -5), 7, 3.6)),
        tables=tuple(tables),
        sore=sore,
    )
