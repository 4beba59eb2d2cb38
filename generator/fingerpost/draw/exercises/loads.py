"""Pulls and hangs: the hand on its block from near, the person and the load from far."""

from __future__ import annotations

from fingerpost.draw.bodies.back_lines import back_blades, nails
from fingerpost.draw.bodies.fingers import lay_fingers
from fingerpost.draw.bodies.outline import THUMB_IN, hand_outline
from fingerpost.draw.bodies.side_hand import draw_hand_side
from fingerpost.draw.bodies.whole_side import BEHIND, ArmPose, HandPose, Spots, ThumbAlone, thumb_in
from fingerpost.draw.exercises.posed import SMALL_ARM, Script
from fingerpost.draw.grips.hold import LIP_RADIUS, PRESS, front_of
from fingerpost.draw.pens.blades import draw_blades
from fingerpost.draw.pens.curves import heading, sample
from fingerpost.draw.pens.svg import BLACK, FINE, STUFF, WHITE, Position, curve_data, path
from fingerpost.draw.props.figure import FOREARM, UPPER_ARM, Person
from fingerpost.draw.props.scale import BathroomScale
from fingerpost.draw.props.shapes import Line, Slab, Solid, box
from fingerpost.draw.props.signs import Arrow, Bones, FingerKey
from fingerpost.draw.props.stage import Drawn, Frame, Thing
from fingerpost.model.words import FINGERS, Finger

FLOOR = -50.0
STRAIGHT_ARM = (0.999 * (UPPER_ARM + FOREARM)) * heading(-88)
"""From the shoulder to a hand that hangs."""
EDGE_MM, CRIMP_EDGE_MM = 22.0, 13.0
"""How deep the block is: for the whole end segment, and for a crimp whose end joint bends back."""
LIFT_ARM = 84.0
"""How much of hand and forearm is seen behind the knuckle, mm."""
THUMB_CLEAR: Spots = (-46 - 32j, -47 - 59j, -46 - 83j)
"""The thumb clear of the fingers and of the block."""
Pair = tuple[Finger, Finger]
PAIRS: dict[Finger, Pair] = {
    "index": ("index", "middle"), "middle": ("middle", "ring"), "ring": ("middle", "ring"),
    "little": ("ring", "little"),
}  # fmt: skip
"""A finger and its stronger neighbour, the one nearer to the thumb first."""
SPREADS: dict[Pair, tuple[float, float, float, float]] = {
    ("index", "middle"): (-4.0, 3.0, 13.0, 27.0), ("middle", "ring"): (-12.0, -0.5, 5.5, 23.0),
    ("ring", "little"): (-16.0, -7.0, 3.0, 10.0),
}  # fmt: skip
"""The fingers beside a narrow block: two on it, the others past its sides."""


def pull(script: Script) -> tuple[Frame, ...]:
    """The hand lifts a block by its lip; then the legs straighten, and the load leaves the floor."""
    (pose,) = script.poses
    return (_lift(pose.mcp, pose.pip, pose.dip, script.small), *_people())


def _lift(mcp: float, pip: float, dip: float, small: bool) -> Frame:
    """Drawn hanging from a block, then turned over, so near that the joints are seen before all else."""
    arm = SMALL_ARM if small else LIFT_ARM
    pose = ArmPose(mcp, pip, dip, "index", turn=pip + dip + 2, wrist=0.0, arm=arm)
    depth = CRIMP_EDGE_MM if dip < 0 else EDGE_MM
    corner = complex(front_of(pose) + 0.8, pose.lowest_pad + PRESS)
    lip = corner - depth
    shape = (
        corner + 30j, corner, lip + LIP_RADIUS, lip - LIP_RADIUS * 1j, lip - 17j, corner + 20 - 17j, corner + 20 + 30j
    )  # fmt: skip
    cord = Line((corner + 10 + 30j, corner + 10 + 44j), pen=2.0)
    hand = Drawn(lambda place: draw_hand_side(pose, BEHIND, place), tuple(sample(pose.contour, 2)))
    thumb = ThumbAlone(thumb_in(HandPose(bends=(mcp, pip, dip), facing=pose.headings[0], arm=arm), THUMB_CLEAR))
    things: list[Thing] = [hand, Solid(shape, STUFF, soft=False), cord, thumb, Bones(pose)]
    if not small:
        things += [FingerKey(complex(corner.real + 2, corner.imag - 46), FINGERS)]
    return Frame(tuple(things), turn=-1 + 0j)


def _people() -> tuple[Frame, Frame]:
    return _stand(13, rises=False), _stand(0, rises=True)


def _stand(knee: float, *, rises: bool) -> Frame:
    """A person between whose feet the load hangs on its cord. `knee`: how much lower than upright the hips are."""
    hip, ankle = complex(-0.32 * knee, -knee), complex(0, FLOOR + 5)
    lean = 1.1 * knee
    reach = Person(hip=hip, ankle=ankle, lean=lean, hand=0j).shoulder + STRAIGHT_ARM
    grip = reach - 3j
    top = complex(grip.real, FLOOR + 1.6 + (9 if rises else 0) + 11)
    rows = ((7, 0, 3.4), (9, 3.4, 7), (11, 7, 11))
    cord = Line((grip - 1.6j, top), pen=1.1)
    load: tuple[Thing, ...] = (
        cord,
        *(box(top - complex(half, high), top - complex(-half, low)) for half, high, low in rows),
    )
    person = Person(hip=hip, ankle=ankle, lean=lean, hand=reach, between=load)
    floor = Slab(complex(-20, FLOOR), complex(26, FLOOR), 2.6)
    things: list[Thing] = [floor, person, cord, box(grip - 4 + 1j, grip + 4 - 1.6j)]
    if rises:
        things.append(Arrow((complex(-17, -8), complex(-17, 16)), both=True))
    return Frame(tuple(things), far=True)


def hang(script: Script) -> tuple[Frame, ...]:
    """Both hands on the edge, the feet on a bathroom scale: the knees bend, and the scale shows less."""
    return tuple(_hang(knee, script.small) for knee in (0.0, 9.0))


def _hang(knee: float, small: bool) -> Frame:
    board = 14 + 53j
    person = Person(
        hip=complex(-2 - 0.1 * knee, -knee), ankle=complex(-1, FLOOR + 6), lean=4, hand=board + complex(-3.5, -1)
    )
    rim = ((-4, -4), (2, -4), (2, 6), (-1, 6), (-1, -1), (-4, -1))
    wall = ((2, 14), (6, 14), (6, -24), (2, -24))
    plate = ((-11, 0), (14, 0), (13, 3.4), (-10, 3.4))
    things: list[Thing] = [
        Slab(complex(-20, FLOOR), complex(26, FLOOR), 2.6),
        Solid(tuple(board + complex(x, y) for x, y in wall), soft=False, hatched=1.1),
        Solid(tuple(board + complex(x, y) for x, y in rim), STUFF, soft=False),
        Solid(tuple(complex(x, FLOOR + y) for x, y in plate), STUFF, soft=False),
        person,
    ]
    if knee:
        things.append(Arrow((complex(-18, 20), complex(-18, -14)), both=True))
    if not small:
        inset = complex(37, FLOOR + 25)
        for level, corner in ((2.4, -15 + 15j), (0, -15 - 15j)):
            things.append(Line((complex(14, FLOOR + level), inset + corner), pen=0.75, dash="0.8 0.6"))
        things.append(BathroomScale(inset, 0.45 if knee else 0.96, 15.0))
        if knee:
            things.append(Arrow((inset + 31 + 13j, inset + 31 - 4j)))
    return Frame(tuple(things), far=True)


def two_finger_pull(script: Script) -> tuple[Frame, ...]:
    """The back of the hand: two fingers on a narrow block, the others beside it with the same bend; then the person."""
    pair = PAIRS[script.finger or "ring"]
    spreads = SPREADS[pair]
    fingers, outline = lay_fingers(spreads), hand_outline(spreads, joints=THUMB_IN)
    first, second = fingers[pair[1]], fingers[pair[0]]
    left, right = (finger.at(finger.total - 18, side).real for finger, side in ((first, 13), (second, -11)))
    low = min(f.at(f.l1 + f.l2 - 3).imag for f in (first, second))
    high = max(f.at(f.total).imag for f in (first, second)) + 16
    block = box(complex(left, low), complex(right, high))
    middle = (left + right) / 2
    cord = Line((complex(middle, high), complex(middle, high + 26)), pen=2.0)

    def paint(place: Position) -> str:
        skin = path(curve_data(place.curve(outline)), fill=WHITE, stroke=BLACK, pen=place.contour_pen)
        lines = draw_blades(back_blades(fingers, spreads, thumb=THUMB_IN), place, small=True)
        plates = "".join(curve_data(place.curve(nail), True) for nail in nails(fingers, thumb=THUMB_IN))
        return skin + lines + path(plates, stroke=BLACK, pen=FINE)

    things: list[Thing] = [block, cord, Drawn(paint, tuple(sample(outline, 2)))]
    if not script.small:
        things.append(FingerKey(92 + 158j, pair))
    return (Frame(tuple(things), turn=-1 + 0j), *_people())
