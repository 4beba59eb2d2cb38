"""What one sign of the pictures of exercises means: MovementSignPicture, the sign at the size that it has there."""

from __future__ import annotations

from collections.abc import Callable

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import block_height, wrap
from fingerpost.draw.pens.svg import BLACK, GREY, MAIN, OUTLINE, PALE, Position, chain_data, document, group, path
from fingerpost.draw.props.shapes import Felt
from fingerpost.draw.props.signs import (
    Arrow,
    Barred,
    Bones,
    Eye,
    FingerKey,
    Pivot,
    PushArrow,
    draw_clock,
)
from fingerpost.model.movement import MovementSign
from fingerpost.model.words import Finger
from fingerpost.plan.base.pictures import MovementSignPicture

WIDE, HIGH, EDGE, BETWEEN = 14.0, 7.2, 0.4, 1.2
"""Room for the sign, free space round it, and space before the words, mm."""
_BENT = (-5.5 - 2j, 1.4j, 5.5 - 2j)
_TIP = ((-6, -3), (1.5, -3), (4.2, -2.2), (5.4, 0), (4.2, 2.2), (1.5, 3), (-6, 3))
_PATCH = tuple(complex(x, y) for x, y in ((-5, -2), (5, -2), (5, 2), (-5, 2)))


def _other(place: Position) -> str:
    shape = place.points([complex(x, y) for x, y in _TIP])
    return path(chain_data(shape), fill=PALE, stroke=BLACK, pen=OUTLINE)


def _dashed(place: Position) -> str:
    return path(chain_data(place.points([-5.5 + 0j, 5.5 + 0j])), stroke=GREY, pen=MAIN, dash="1.2 0.9")


def _bent_line(place: Position) -> str:
    """A finger of a tenth of its size, in the middle of the room."""
    pose = SidePose(20, 70, 0, "index", turn=60)
    ends = (pose.at(0, -30, 0), *pose.joints)
    middle = complex(*((min(side) + max(side)) / 2 for side in zip(*((p.real, p.imag) for p in ends), strict=True)))
    return Bones(pose).draw(Position(scale=0.085, origin=place.origin - 0.085 * middle.conjugate()))


_ONE: tuple[Finger, ...] = ("ring",)
_SIGNS: dict[MovementSign, Callable[[Position], str]] = {
    "moves": Arrow(_BENT).draw,
    "there-and-back": Arrow(_BENT, both=True).draw,
    "pushes": PushArrow(5.5 + 0j, 0, force=1).draw,
    "still": Barred((-6.5 - 1j, 0.6j, 6.5 - 1j)).draw,
    "joint": Pivot(0j).draw,
    "bend": _bent_line,
    "fingers": FingerKey(0.5 + 0.9j, _ONE, size=6.6).draw,
    "other-hand": _other,
    "before": _dashed,
    "felt": Felt(_PATCH).draw,
    "look": Eye(-3 + 0j, 6 + 0j).draw,
    "clock": lambda place: draw_clock(place.origin, 2.9, MAIN),
}


def draw_movement_sign(picture: MovementSignPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """The sign, and to its right what it means."""
    left = WIDE + BETWEEN
    said = wrap(picture.says, width_mm - left - EDGE, text_pt)
    tall = block_height(len(said), text_pt)
    high = max(HIGH, tall) + 2 * EDGE
    box = Extent(left=left, right=width_mm - EDGE, top=(high - tall) / 2, bottom=(high + tall) / 2)
    sign = _SIGNS[picture.sign](Position(origin=complex(WIDE / 2, high / 2)))
    body = [group([sign], name=f"{prefix}-sign"), group([draw_block(said, box, text_pt)], name=f"{prefix}-words")]
    return document(picture.title, width_mm, high, body)
