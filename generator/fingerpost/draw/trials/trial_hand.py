"""Hands-on tests seen from the palm or the back of the hand, or with one finger close up."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.draw.bodies.back_lines import back_blades, nails
from fingerpost.draw.bodies.creases import palm_blades
from fingerpost.draw.bodies.fingers import lay_fingers
from fingerpost.draw.bodies.landmarks import Area, find_mark, joint_side, lumbrical
from fingerpost.draw.bodies.lone_finger import LoneFinger
from fingerpost.draw.bodies.outline import Tucked, hand_outline, tucked_end
from fingerpost.draw.bodies.palm_tucked import draw_tucked, folded_front
from fingerpost.draw.pens.blades import draw_blades
from fingerpost.draw.pens.curves import ellipse, sample
from fingerpost.draw.pens.svg import BLACK, FINE, OUTLINE, WHITE, Position, curve_data, path
from fingerpost.draw.props.signs import Arrow, PushArrow, Slide
from fingerpost.draw.trials.trial_parts import LIGHTLY, Helper, Trial
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.pictures import TrialPicture


def _palm(picture: TrialPicture, tucked: Tucked = frozenset()) -> Trial:
    """A whole hand from the palm, some fingers tucked."""
    fingers = lay_fingers()
    outline = hand_outline(tucked=tucked)

    def base(place: Position) -> str:
        data = curve_data(place.curve(outline))
        blades = [b for b in palm_blades(fingers) if not tucked or min(p.imag for p in b.points) < 75]
        parts = [
            path(data, fill=WHITE),
            draw_blades(blades, place, small=place.scale < 0.3),
            path(data, stroke=BLACK, pen=OUTLINE),
        ]
        return "".join([*parts, *(draw_tucked(fingers[f], place) for f in FINGERS if f in tucked)])

    return Trial(base=base, shape=sample(outline, 2), flip=picture.hand == "left")


def _back(picture: TrialPicture, tucked: Tucked = frozenset()) -> Trial:
    fingers = lay_fingers()
    outline = hand_outline(tucked=tucked)

    def base(place: Position) -> str:
        data = curve_data(place.curve(outline))
        plates = "".join(path(curve_data(place.curve(n), True), stroke=BLACK, pen=FINE) for n in nails(fingers, tucked))
        lines = draw_blades(back_blades(fingers, tucked=tucked), place, small=place.scale < 0.3)
        return path(data, fill=WHITE) + lines + plates + path(data, stroke=BLACK, pen=OUTLINE)

    return Trial(base=base, shape=sample(outline, 2), flip=picture.hand == "right")


def _alone(picture: TrialPicture) -> tuple[Trial, LoneFinger]:
    """One finger close up, upright, its PIP joint at 0; the frame is that of the picture (y up)."""
    finger = LoneFinger(picture.finger, "right", 0j, 1.0)
    turn = finger.place

    def base(place: Position) -> str:
        moved = Position(scale=place.scale, flip=place.flip, turn=turn.turn, origin=place.at(turn.origin.conjugate()))
        return finger.draw_at(moved)

    shape = [point.conjugate() for point in turn.points(sample(finger.contour(), 2))]
    return Trial(base=base, shape=shape, flip=picture.hand == "left"), finger


def _upright(finger: LoneFinger, area: Area) -> Area:
    return tuple(point.conjugate() for point in finger.place.points(area))


def point_pressure(picture: TrialPicture) -> Trial:
    trial, finger = _alone(picture)
    line = finger.line
    stops = [0.30 * line.l1, 0.62 * line.l1, line.l1, line.l1 + 0.5 * line.l2, line.l1 + line.l2]
    spots = [finger.at(a).conjugate() for a in stops]
    press = finger.at(0.46 * line.l1).conjugate()
    rings = tuple((spot, 2.4) for spot in spots)
    return replace(
        trial,
        helpers=(Helper(press + 1, 128, 40),),
        looks=rings,
        signs=(Slide((press + complex(-15, 2), press + complex(-15, 36))),),
        sore=spots[1],
    )


def side_stress(picture: TrialPicture) -> Trial:
    """The bones are held below the joint; above it, a finger pushes away from the sore side."""
    trial, finger = _alone(picture)
    line = finger.line
    sign = -1.0 if picture.side == "radial" else 1.0
    half, high = line.half(line.l1), 19j
    pusher = Helper(-sign * 0.9 * half + high, 0 if sign > 0 else 180)
    return replace(
        trial,
        helpers=(pusher, Helper(-half - 22j, 0), Helper(half - 22j, 180)),
        signs=(pusher.push(LIGHTLY),),
        pains=(_upright(finger, joint_side(line, line.l1 + 0.8, sign, 7.5)),),
        sore=finger.at(line.l1, sign * 7).conjugate(),
    )


def joint_squeeze(picture: TrialPicture) -> Trial:
    trial, finger = _alone(picture)
    line = finger.line
    half = line.half(line.l1)
    ring = tuple(sample(ellipse(0j, 1 + 0j, 0.8 * half, 6.5), 6))
    helpers = (Helper(complex(-half, 0), 0), Helper(complex(half, 0), 180))
    return replace(
        trial,
        helpers=helpers,
        signs=tuple(helper.push(LIGHTLY) for helper in helpers),
        pains=(ring,),
        sore=0j,
    )


def press_and_refill(picture: TrialPicture) -> Trial:
    trial, finger = _alone(picture)
    line = finger.line
    tip = finger.at(line.from_share(3, 0.5)).conjugate()
    return replace(trial, helpers=(Helper(tip + 2, 200),), looks=((tip, 9.0),), sore=tip)


def lumbrical_stress(picture: TrialPicture) -> Trial:
    """A finger on the palm side of the pad brings the sore finger up straight."""
    trial = _palm(picture, frozenset(f for f in FINGERS if f != picture.finger))
    line = lay_fingers()[picture.finger]
    return replace(
        trial,
        helpers=(Helper(line.at(line.total - 9, -7), 8, 46),),
        signs=(Arrow((line.at(line.l1 + 2, -30), line.at(line.total + 2, -20))),),
        pains=(lumbrical(line),),
        sore=line.at(-17, -4.8),
    )


def little_finger_pull(picture: TrialPicture) -> Trial:
    """Ring and little finger stay bent while a finger of the other hand, hooked under both, pulls lightly."""
    bent: tuple[Finger, ...] = ("ring", "little")
    trial = _palm(picture, frozenset(bent))
    fingers = lay_fingers()
    ends = [min(folded_front(fingers[f]), key=lambda c: c[3].imag)[3] for f in bent]
    level = min(end.imag for end in ends) - 1
    hook = Helper(complex(ends[0].real + 9, level), 0, ends[0].real - ends[1].real + 52)
    between = complex((ends[0].real + ends[1].real) / 2, level - hook.half)

    def over(place: Position) -> str:
        return "".join(draw_tucked(fingers[f], place) for f in bent)

    return replace(
        trial,
        helpers=(hook,),
        over=over,
        signs=(PushArrow(between, 90, LIGHTLY),),
        pains=find_mark("hamate", "little", None, fingers).areas,
        sore=-13 + 20j,
    )


def fist_lines(picture: TrialPicture) -> Trial:
    """The tips point to the thumb side of the wrist, where its scaphoid bone is felt."""
    trial = _palm(picture, frozenset(FINGERS))
    fingers = lay_fingers()
    aim = complex(16, 9)
    ways = []
    for finger in FINGERS:
        line = fingers[finger]
        start = line.at(tucked_end(line) - 46)
        ways.append(Arrow((start, start + 0.55 * (aim - start)), pen=1.8, head=2.0))
    return replace(trial, signs=tuple(ways), looks=((aim, 9.0),), sore=aim)


def fist_and_straight(picture: TrialPicture) -> Trial:
    """All the way straight, all the way bent: two hands beside each other."""
    straight, fist = _palm(picture), _palm(picture, frozenset(FINGERS))
    step = -150 + 0j

    def base(place: Position) -> str:
        moved = replace(place, origin=place.at(step))
        return fist.base(place) + straight.base(moved)

    tip = lay_fingers()[picture.finger].at(lay_fingers()[picture.finger].total)
    shape = [*fist.shape, *(point + step for point in straight.shape)]
    knuckles = complex(-8, 142)
    bends = Arrow((step + complex(50, 150), knuckles + complex(-50, 22), knuckles + complex(-16, 4)))
    return Trial(base=base, shape=shape, flip=fist.flip, signs=(bends,), looks=((step + tip, 10),), sore=step + tip)


def night_tingling(picture: TrialPicture) -> Trial:
    trial = _palm(picture)
    fingers = lay_fingers()
    areas: list[Area] = []
    for finger in ("index", "middle"):
        line = fingers[finger]
        areas.append(_pad(line.at(line.l1 + line.l2 - 6), line.at(line.total - 4), 0.7 * line.shape.half))
    ring = fingers["ring"]
    a, b = ring.at(ring.l1 + ring.l2 - 6, -4), ring.at(ring.total - 4, -3)
    areas.append(_pad(a, b, 0.34 * ring.shape.half))
    areas.append(_pad(74 + 84j, 83 + 102j, 7.0))
    return replace(trial, pains=tuple(areas), sore=fingers["middle"].at(fingers["middle"].l1 + 34))


def _pad(a: complex, b: complex, half: float) -> Area:
    return tuple(sample(ellipse((a + b) / 2, b - a, abs(b - a) / 2, half), 6))


def knuckle_watch(picture: TrialPicture) -> Trial:
    trial = _back(picture, frozenset(FINGERS))
    line = lay_fingers()[picture.finger]
    knuckle = line.at(0)
    return replace(
        trial,
        looks=((knuckle, 9.5),),
        signs=(Slide((knuckle + 5 - 12j, knuckle - 8 - 13j, knuckle - 21 - 8j)),),
        sore=knuckle + 6j,
    )
