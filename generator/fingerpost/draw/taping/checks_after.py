"""The check after taping: what is worn, three signs, and what to do otherwise. Colour: a nail is pressed and let
go; warmth: the back of the other hand's fingers at the tip; feeling: the side of the tip is stroked."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.hands.bands import CLOTH
from fingerpost.draw.inside.inside_parts import paper_arrow
from fingerpost.draw.pens.curves import free, heading, ring, sample, spline
from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import block_height, wrap
from fingerpost.draw.pens.strips import scissors
from fingerpost.draw.pens.svg import BLACK, FINE, MAIN, MM_PER_PT, PALE, WHITE, Position, chain_data, lines, path
from fingerpost.draw.props.lone import Lone
from fingerpost.draw.props.stage import Thing
from fingerpost.draw.taping.room import BandOn, Fingers, StepRoom, turned_over

UP = -1j
"""Upwards on paper."""


def _tip(end: complex, way: complex, long: float, half: float, fill: str = WHITE) -> str:
    """The end of a finger that points along `way` (unit) to `end`; mm on paper."""
    side = 1j * way
    rows = ((long, 1.0), (1.2 * half, 1.0), (0.35 * half, 0.72))
    left = [end - back * way + wide * half * side for back, wide in rows]
    right = [end - back * way - wide * half * side for back, wide in rows]
    return path(chain_data(sample(spline(free([*left, end, *right[::-1]])), 5)), fill=fill, stroke=BLACK, pen=MAIN)


def _nail(end: complex, half: float) -> str:
    """Of a finger that points upwards. Never filled: a dark one is what a finger without blood looks like."""
    r, centre = 0.82 * half, end + 1.15j * half
    sides = ((-0.58, 0.72), (-0.66, -0.1), (-0.52, -0.74), (0.0, -0.92), (0.52, -0.74), (0.66, -0.1), (0.58, 0.72))
    shape = sample(ring(free([centre + r * complex(x, y) for x, y in (*sides, (0.0, 0.84))])), 5)
    return path(chain_data(shape, True), fill=WHITE, stroke=BLACK, pen=FINE)


def colour_sign(centre: complex, r: float) -> str:
    """A fingertip presses on a nail; an arrow; the nail is let go, with a tick. Both nails are the white of the paper:
    in grey print, one that had a tone would be the sign of danger."""
    first, second = centre + complex(-0.85 * r, -0.35 * r), centre + complex(0.98 * r, -0.35 * r)
    half = 0.42 * r
    pressed, free_one = (_tip(end, UP, 1.3 * r, half) + _nail(end, half) for end in (first, second))
    finger = _tip(first + complex(0.05 * r, 0.38 * r), heading(145), 0.95 * r, 0.30 * r, PALE)
    tick = [second + r * w for w in (-0.40 - 0.42j, -0.12 - 0.16j, 0.42 - 0.66j)]
    arrow = paper_arrow(centre - 0.1 * r, centre + 0.42 * r, colour=BLACK, pen=1.2, head=0.32 * r)
    return "".join([pressed, finger, arrow, free_one, path(chain_data(tick), stroke=BLACK, pen=2.0)])


def warmth_sign(centre: complex, r: float) -> str:
    """The backs of bent fingers come down on the tip of the finger, beside its neighbour."""
    half = 0.34 * r
    own, beside = centre + complex(-0.75 * r, 0.38 * r), centre + complex(0.05 * r, 0.38 * r)
    tips = _tip(beside, UP, 0.75 * r, half) + _tip(own, UP, 0.75 * r, half)
    pose = SidePose(8, 42, 28, turn=180 + 42)
    scale = 0.023 * r
    touched = pose.at(2, 0.5 * pose.lengths[1], 6.6)
    origin = own - Position(scale=scale).at(touched)
    return tips + draw_side(pose, Position(scale=scale, origin=origin, fine=True), stump=False, fill=PALE)


def feeling_sign(centre: complex, r: float) -> str:
    """A finger strokes the side of the tip, up and down."""
    end, half = centre + complex(-0.55 * r, -0.8 * r), 0.46 * r
    touch = end + complex(half - 0.05 * r, 0.9 * r)
    finger = _tip(touch, -1 + 0j, 1.5 * r, 0.30 * r, PALE)
    ways = [
        paper_arrow(touch + complex(0.22 * r, y * 0.42 * r), touch + complex(0.22 * r, y * r), pen=1.4, head=0.34 * r)
        for y in (-1, 1)
    ]
    return "".join([_tip(end, UP, 1.8 * r, half) + _nail(end, half), finger, *ways])


def take_off_sign(centre: complex, r: float, *, cut: bool) -> str:
    """An arrow leads down to what is worn as it comes off: tape is cut, anything else is pulled over the tip."""
    end, half = centre + complex(0.6 * r, -0.8 * r), 0.46 * r
    low, high = (end + complex(0, y * r) for y in (1.45, 0.85))
    corners = [low - 1.1 * half, high - 1.1 * half, high + 1.1 * half, low + 1.1 * half]
    worn = path(chain_data(corners, True), fill=WHITE if cut else CLOTH, stroke=BLACK, pen=MAIN)
    rows = [(low + x * half, high + x * half) for x in (-0.5, 0.0, 0.5)] if cut else []
    so = paper_arrow(
        centre + complex(-1.5 * r, -1.15 * r), centre + complex(-1.5 * r, -0.05 * r), colour=BLACK, pen=1.8
    )
    parts = [so, _tip(end, UP, 1.8 * r, half), worn, lines(rows, pen=0.5)]
    if cut:
        return "".join([*parts, scissors((low + high) / 2 - 0.7 * half, 0.72 * r)])
    ways = [paper_arrow(high + x * r + 0.3j * r, high + x * r - 0.8j * r, pen=1.6, head=0.4 * r) for x in (-0.78, 0.78)]
    return "".join([*parts, *ways])


SIGNS_EM, MOST_HIGH = 12.5, 34.0
"""How much room the signs need beside a finger, with their words, in ems; how high the finger is at the most, mm."""


def check(room: StepRoom) -> tuple[list[str], float]:
    """What is worn, and the three signs beside it; where it is too narrow, below it."""
    left = room.width - SIGNS_EM * room.em
    beside = left >= 5 * room.em
    about = replace(room, width=left if beside else room.width, height=min(MOST_HIGH, 0.9 * room.width))
    shown = about.show(worn(about))
    x, y = (left, 0.5) if beside else (1.0, about.height + 0.5)
    cut = room.made == "tape"
    signs, used = draw_checks(room.picture.notes, x, y, room.width - x - 1, room.size, cut=cut)
    return [*shown, signs], max(about.height, y + used)


def worn(room: StepRoom) -> list[Thing]:
    """The finished taping on its fingers. None is tinted: here a tone would be the colour of a tip without blood."""
    p = room.picture
    if p.partner:
        return turned_over([Fingers(room.spreads), *(BandOn(piece) for piece in room.bands)])
    finger = Lone(p.finger)
    return [finger, *(BandOn(piece, finger) for piece in room.bands)]


SIGNS = (colour_sign, warmth_sign, feeling_sign)


def draw_checks(
    notes: Sequence[str], left: float, top: float, room: float, size: float, *, cut: bool
) -> tuple[str, float]:
    """The signs below each other with their words beside them, last what to do otherwise; and the height used (mm).

    `cut`: what is worn is tape.
    """
    em = size * MM_PER_PT
    r, y = 1.6 * em, top
    signs: tuple[Callable[[complex, float], str], ...] = (*SIGNS, partial(take_off_sign, cut=cut))
    parts = []
    for k, sign in enumerate(signs):
        lines = wrap(notes[k], room - 6.4 * em, size) if k < len(notes) else []
        high = max(2.6 * r, block_height(len(lines), size) + 0.5 * em)
        centre = complex(left + 2.9 * em, y + high / 2)
        parts.append(sign(centre, r))
        text = block_height(len(lines), size)
        box = Extent(left=left + 6.2 * em, right=left + room, top=centre.imag - text / 2, bottom=centre.imag + text / 2)
        parts.append(draw_block(lines, box, size))
        y += high
    return "".join(parts), y - top
