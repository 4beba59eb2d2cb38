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
from fingerpost.draw.pens.curves import sample
from fingerpost.draw.pens.svg import BLACK, FINE, STUFF, WHITE, Position, curve_data, path
from fingerpost.draw.props.figure import Person
from fingerpost.draw.props.scale import BathroomScale
from fingerpost.draw.props.shapes import Line, Slab, Solid, box
from fingerpost.draw.props.signs import Arrow, Bones, FingerKey
from fingerpost.draw.props.stage import Drawn, Frame, Thing
from fingerpost.model.words import FINGERS

FLOOR = -50.0
EDGE_MM, CRIMP_EDGE_MM = 22.0, 13.0
"""How deep the block is: for the whole end segment, and for a crimp whose end joint bends back."""
THUMB_CLEAR: Spots = (-46 - 32j, -40 - 58j, -32 - 80j)
"""The thumb clear of the fingers and of the block."""
SPREADS = (-12.0, -0.5, 5.5, 23.0)
"""The fingers beside a narrow block: two on it, the others past its sides."""


def pull(script: Script) -> tuple[Frame, ...]:
    """The hand lifts a block by its lip; then the legs straighten, and the load leaves the floor."""
    (pose,) = script.poses
    return (_lift(pose.mcp, pose.pip, pose.dip, script.small), *_people())


def _lift(mcp: float, pip: float, dip: float, small: bool) -> Frame:
    """Drawn hanging from a block, then turned over. A line through the joints shows how they are bent."""
    pose = ArmPose(mcp, pip, dip, "index", turn=pip + dip + 2, wrist=0.0, arm=SMALL_ARM)
    depth = CRIMP_EDGE_MM if dip < 0 else EDGE_MM
    corner = complex(front_of(pose) + 0.8, pose.lowest_pad + PRESS)
    lip = corner - depth
    shape = (
        corner + 30j, corner, lip + LIP_RADIUS, lip - LIP_RADIUS * 1j, lip - 17j, corner + 20 - 17j, corner + 20 + 30j
    )  # fmt: skip
    cord = Line((corner + 10 + 30j, corner + 10 + 44j), pen=2.0)
    hand = Drawn(lambda place: draw_hand_side(pose, BEHIND, place), tuple(sample(pose.contour, 2)))
    thumb = ThumbAlone(thumb_in(HandPose(bends=(mcp, pip, dip), facing=pose.headings[0], arm=SMALL_ARM), THUMB_CLEAR))
    things: list[Thing] = [hand, Solid(shape, STUFF, soft=False), cord, thumb, Bones(pose)]
    if not small:
        side = min(p.real for p in sample(pose.contour, 2)) - 9
        things += [Arrow((complex(side, -6), complex(side, -52))), FingerKey(complex(side - 8, 44), FINGERS)]
    return Frame(tuple(things), turn=-1 + 0j)


def _people() -> tuple[Frame, Frame]:
    return _stand(13, rises=False), _stand(0, rises=True)


def _stand(knee: float, *, rises: bool) -> Frame:
    """A person between whose feet the load hangs on its cord. `knee`: how much lower than upright the hips are."""
    hip, ankle = complex(-0.32 * knee, -knee), complex(0, FLOOR + 4)
    lean = 1.1 * knee
    reach = Person(hip=hip, ankle=ankle, lean=lean, hand=0j).shoulder + 1 - 30.5j
    person = Person(hip=hip, ankle=ankle, lean=lean, hand=reach)
    grip = reach - 3j
    top = complex(grip.real, (FLOOR + knee + 7 if rises else FLOOR) + 11)
    rows = ((5, 0, 3.4), (6.5, 3.4, 7), (8, 7, 11))
    things: list[Thing] = [
        Slab(complex(-20, FLOOR), complex(26, FLOOR), 2.6),
        person,
        Line((grip - 1.6j, top), pen=1.1),
        *(box(top - complex(half, high), top - complex(-half, low)) for half, high, low in rows),
        box(grip - 4 + 1j, grip + 4 - 1.6j),
    ]
    if rises:
        things.append(Arrow((complex(-17, -8), complex(-17, 16))))
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
        things.append(Arrow((complex(-18, 16), complex(-18, -6))))
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
    fingers, outline = lay_fingers(SPREADS), hand_outline(SPREADS, joints=THUMB_IN)
    first, second = fingers["ring"], fingers["middle"]
    left, right = first.at(first.total - 18, 13).real, second.at(second.total - 18, -11).real
    low, high = second.at(second.l1 + second.l2 - 3).imag, second.at(second.total).imag + 16
    middle = (left + right) / 2
    block = box(complex(left, low), complex(right, high))
    cord = Line((complex(middle, high), complex(middle, high + 26)), pen=2.0)

    def paint(place: Position) -> str:
        skin = path(curve_data(place.curve(outline)), fill=WHITE, stroke=BLACK, pen=place.contour_pen)
        lines = draw_blades(back_blades(fingers, SPREADS, thumb=THUMB_IN), place, small=True)
        plates = "".join(curve_data(place.curve(nail), True) for nail in nails(fingers, thumb=THUMB_IN))
        return skin + lines + path(plates, stroke=BLACK, pen=FINE)

    things: list[Thing] = [block, cord, Drawn(paint, tuple(sample(outline, 2)))]
    if not script.small:
        things += [Arrow((84 + 6j, 84 - 34j)), FingerKey(92 + 158j, ("middle", "ring"))]
    return (Frame(tuple(things), turn=-1 + 0j), *_people())
