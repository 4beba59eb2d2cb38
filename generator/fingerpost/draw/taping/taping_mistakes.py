"""The usual mistakes: a small drawing for each, struck out, with its words."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from fingerpost.draw.bodies.fingers import RELAXED, FingerLine, spreads_for
from fingerpost.draw.hands.tape import Band, buddy, h_strip, join_fingers, ring_range, wrap_round
from fingerpost.draw.pens.curves import hatch, heading
from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import block_height, wrap
from fingerpost.draw.pens.svg import BLACK, WHITE, Position, chain_data, disc, lines, path
from fingerpost.draw.props.lone import Lone
from fingerpost.draw.props.signs import PushArrow
from fingerpost.draw.props.stage import Thing
from fingerpost.draw.taping.made import held_joint, moulded, splinted
from fingerpost.draw.taping.room import BandOn, Fingers, StepRoom, side_band, turned_over
from fingerpost.draw.taping.side_tape import SHELL
from fingerpost.plan.base.pictures import Mistake

_NARROW = 28.0
"""How wide (mm) a mistake is at the least beside others."""


def draw_mistakes(room: StepRoom) -> tuple[list[str], float]:
    """In a row, the words of each below it; in a narrow room one below the other, the words beside it."""
    count = len(room.picture.mistakes)
    stacked = room.width < _NARROW * count
    cell = room.width if stacked else room.width / count
    parts: list[str] = []
    top = lowest = 0.5
    for k, mistake in enumerate(room.picture.mistakes):
        note = room.picture.notes[k] if k < len(room.picture.notes) else ""
        corner = complex(0, top) if stacked else complex(k * cell, 0.5)
        drawn, used = _one(room, mistake, note, corner, cell, beside=stacked)
        parts += drawn
        lowest = max(lowest, corner.imag + used)
        top = lowest + 1.5
    return parts, lowest


def _one(
    room: StepRoom, mistake: Mistake, note: str, corner: complex, cell: float, *, beside: bool
) -> tuple[list[str], float]:
    """One mistake in a cell; its words below it, or beside it."""
    wide = 0.36 * cell if beside else cell - 3
    tall = 0.66 * wide
    inner = replace(room, width=wide, height=tall)
    frame, place = inner.settle(_MAKERS[mistake](inner))
    hand, *worn = frame.draw(replace(place, origin=place.origin + corner, fine=True))
    sign = _strike_out(corner + complex(wide, tall) / 2, 0.49 * min(wide, tall))
    left_over = cell - wide - 3 if beside else cell - 2.5
    text = wrap(note, left_over, room.size) if note else []
    high = block_height(len(text), room.size)
    left, top = (corner.real + wide + 2, corner.imag + 1) if beside else (corner.real + 1, corner.imag + tall + 1.5)
    box = Extent(left=left, right=left + left_over, top=top, bottom=top + high)
    used = max(tall, high + 2) if beside else tall + 1.5 + high
    return [hand, sign, *worn, draw_block(text, box, room.size)], used


def _strike_out(centre: complex, radius: float) -> str:
    """A ring round the drawing and a bar through it, so that it is never taken for the right way. What is wrong lies
    over the bar, and is still seen."""
    bar = radius * heading(45)
    data = chain_data([centre - bar, centre + bar])
    rim = path(data, stroke=WHITE, pen=2.4)
    return rim + disc(centre, radius, fill="none", stroke=BLACK, pen=1.8) + path(data, stroke=BLACK, pen=1.4)


def _alone(room: StepRoom) -> Lone:
    return Lone(room.picture.finger)


def _own_band(room: StepRoom, line: FingerLine) -> Band:
    """A ring where this taping has one: on its own segment."""
    if room.picture.level in ("a2", "a4"):
        band = wrap_round(line, *ring_range(room.picture.finger, line, room.picture.level, RELAXED))
    else:
        band = wrap_round(line, line.l1 - 16, line.l1 - 5)
    return replace(band, made=room.made)


def _over_joint(room: StepRoom) -> list[Thing]:
    p = room.picture
    if p.partner:
        fingers = room.fingers
        loop = join_fingers(
            p.finger, p.partner, fingers, [(fingers[f].l1 - 6, fingers[f].l1 + 6) for f in (p.finger, p.partner)]
        )
        return turned_over([Fingers(room.spreads, p.finger), BandOn(replace(loop, made=room.made))])
    finger = _alone(room)
    line = finger.line
    joint = line.l1 + line.l2 if p.level == "a4" else line.l1
    return [finger, BandOn(replace(wrap_round(line, joint - 7, joint + 7), made=room.made), finger)]


def _too_low(room: StepRoom) -> list[Thing]:
    finger = _alone(room)
    line = finger.line
    return [finger, BandOn(replace(wrap_round(line, 0.36 * line.l1, 0.36 * line.l1 + 11), made=room.made), finger)]


def _cut_bridge(room: StepRoom) -> list[Thing]:
    finger = _alone(room)
    return [finger, *(BandOn(band, finger) for band in h_strip(finger.line)[1:])]


@dataclass(frozen=True)
class DarkTip:
    """The finger beyond the tape, hatched: dark and throbbing, with short strokes at its tip. `on`: one by itself."""

    line: FingerLine
    start: float
    on: Lone | None = None

    def _own(self, place: Position) -> Position:
        return self.on.own(place) if self.on else place

    def cover(self, place: Position) -> list[complex]:
        line = self.line
        return self._own(place).points(line.at(line.total + 7, side) for side in (-12, 12))

    def draw(self, place: Position) -> str:
        line, own = self.line, self._own(place)
        stops = [self.start + k * (line.total - self.start) / 12 for k in range(12)]
        left = [own.at(line.at(a, line.half(a))) for a in stops]
        right = [own.at(line.at(a, -line.half(a))) for a in stops]
        shape = [*left, own.at(line.at(line.total)), *right[::-1]]
        rays = []
        for side in (-0.9, -0.45, 0.0, 0.45, 0.9):
            a = line.total - 9 * side * side
            rays.append((own.at(line.at(a + 2.5, side * 12)), own.at(line.at(a + 6.5, side * 15))))
        dark = lines(hatch(shape, 0.7, 45), pen=0.85)
        return dark + lines(rays, pen=1.0) + path(chain_data(left), stroke=BLACK, pen=1.1)


def _too_tight(room: StepRoom) -> list[Thing]:
    p = room.picture
    if p.partner:
        pieces = room.bands
        tips = [DarkTip(line, line.l1 + 0.9 * line.l2) for line in (room.fingers[p.finger], room.fingers[p.partner])]
        return turned_over([Fingers(room.spreads, p.finger), *tips, *(BandOn(piece) for piece in pieces)])
    finger = _alone(room)
    band = _own_band(room, finger.line)
    return [finger, DarkTip(finger.line, band.ends[1] + 1.0, finger), BandOn(band, finger, tab=False)]


def _wrong_finger(room: StepRoom) -> list[Thing]:
    """Joined to the neighbour of the other side."""
    p = room.picture
    wrong = p.wrong_partner or p.finger
    spreads = spreads_for((frozenset((p.finger, wrong)),))
    inner = replace(room, picture=replace(p, partner=wrong))
    pieces = buddy(p.finger, wrong, inner.fingers, spreads)
    return turned_over([Fingers(spreads, p.finger), *(BandOn(replace(piece, made=room.made)) for piece in pieces)])


def _strap_on_joint(room: StepRoom) -> list[Thing]:
    """A strap pulls the sore joint down onto the splint."""
    pose, things = splinted(room, 0)
    first = held_joint(room)
    end = pose.lengths[first - 1]
    strap = side_band(pose, first, end - 5.0, end + 5.0, "cloth", below=SHELL)
    return [*things, strap, PushArrow(pose.joints[first] + 12j, -90, long=7)]


def _pad_on_back(room: StepRoom) -> list[Thing]:
    finger = Lone(room.picture.finger, "back")
    low, high = ring_range(room.picture.finger, finger.line, "a2", RELAXED)
    return [finger, *moulded(finger, low, high, pad=True)]


_MAKERS: Mapping[Mistake, Callable[[StepRoom], list[Thing]]] = {
    "over-joint": _over_joint,
    "too-tight": _too_tight,
    "too-low": _too_low,
    "cut-bridge": _cut_bridge,
    "wrong-finger": _wrong_finger,
    "strap-on-joint": _strap_on_joint,
    "pad-on-back": _pad_on_back,
}
