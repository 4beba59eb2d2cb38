"""The check after taping: what is worn, and three signs: colour (press the nail, it must pink up), warmth, feeling."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from fingerpost.draw.inside.inside_parts import paper_arrow
from fingerpost.draw.pens.curves import free, ring, sample
from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import block_height, wrap
from fingerpost.draw.pens.svg import BLACK, FINE, INK, MAIN, MM_PER_PT, PALE, WHITE, chain_data, disc, path
from fingerpost.draw.props.lone import Lone
from fingerpost.draw.props.stage import Thing
from fingerpost.draw.taping.room import BandOn, Fingers, StepRoom, turned_over


def _nail(centre: complex, r: float) -> list[complex]:
    sides = ((-0.58, 0.72), (-0.66, -0.1), (-0.52, -0.74), (0.0, -0.92), (0.52, -0.74), (0.66, -0.1), (0.58, 0.72))
    return sample(ring(free([centre + r * complex(x, y) for x, y in (*sides, (0.0, 0.84))])), 5)


def colour_sign(centre: complex, r: float) -> str:
    """A nail that was pressed white, an arrow, and the nail with its usual light tone again.

    Never a dark one: that is what a finger without blood looks like.
    """
    first, second = centre - 0.95 * r, centre + 0.95 * r
    small = 0.72 * r
    parts = [path(chain_data(_nail(first, small), True), fill=WHITE, stroke=BLACK, pen=MAIN)]
    parts.append(path(chain_data(_nail(second, small), True), fill=PALE, stroke=BLACK, pen=MAIN))
    return "".join([*parts, paper_arrow(centre - 0.32 * r, centre + 0.38 * r, colour=BLACK, pen=1.0, head=0.4 * r)])


def warmth_sign(centre: complex, r: float) -> str:
    """A thermometer."""
    top, low = centre - 0.9j * r, centre + 0.5j * r
    w = 0.24 * r
    tube = [low - w, top - w + 0.2j * r, top - 0.5 * w, top + 0.5 * w, top + w + 0.2j * r, low + w]
    parts = [
        path(chain_data(tube), fill=WHITE, stroke=BLACK, pen=MAIN),
        disc(low + 0.25j * r, 0.42 * r, fill=INK, stroke=BLACK, pen=MAIN),
    ]
    parts.append(path(chain_data([low, centre - 0.2j * r]), stroke=INK, pen=1.8))
    ticks = "".join(
        chain_data([centre + complex(0.45 * r, y * r), centre + complex(0.75 * r, y * r)]) for y in (-0.7, -0.35, 0.0)
    )
    return "".join([*parts, path(ticks, stroke=BLACK, pen=FINE)])


def feeling_sign(centre: complex, r: float) -> str:
    """A finger tip with rings spreading from where it is touched."""
    tip = [(-0.5, 1.0), (-0.5, 0.2), (-0.3, -0.15), (0.0, -0.25), (0.3, -0.15), (0.5, 0.2), (0.5, 1.0)]
    finger = path(chain_data([centre + r * complex(x, y) for x, y in tip]), fill=PALE, stroke=BLACK, pen=MAIN)
    arcs = ""
    for k in (0.38, 0.66, 0.94):
        a, b = centre + r * complex(-0.75 * k, -0.25 - 0.5 * k), centre + r * complex(0.75 * k, -0.25 - 0.5 * k)
        arcs += f"M{a.real:.2f} {a.imag:.2f}A{k * r:.2f} {k * r:.2f} 0 0 1 {b.real:.2f} {b.imag:.2f}"
    return finger + path(arcs, stroke=BLACK, pen=FINE)


SIGNS_EM, MOST_HIGH = 11.5, 34.0
"""How much room the signs need beside a finger, with their words, in ems; how high the finger is at the most, mm."""


def check(room: StepRoom) -> tuple[list[str], float]:
    """What is worn, and the three signs beside it; where it is too narrow, below it."""
    left = room.width - SIGNS_EM * room.em
    beside = left >= 5 * room.em
    about = replace(room, width=left if beside else room.width, height=min(MOST_HIGH, 0.9 * room.width))
    shown = about.show(worn(about))
    x, y = (left, 0.5) if beside else (1.0, about.height + 0.5)
    signs, used = draw_checks(room.picture.notes, x, y, room.width - x - 1, room.size)
    return [*shown, signs], max(about.height, y + used)


def worn(room: StepRoom) -> list[Thing]:
    """The finished taping on its fingers."""
    p = room.picture
    if p.partner:
        return turned_over([Fingers(room.spreads), *(BandOn(piece) for piece in room.bands)])
    finger = Lone(p.finger)
    return [finger, *(BandOn(piece, finger) for piece in room.bands)]


SIGNS = (colour_sign, warmth_sign, feeling_sign)


def draw_checks(notes: Sequence[str], left: float, top: float, room: float, size: float) -> tuple[str, float]:
    """The three signs below each other with their words beside them; and the height used (mm)."""
    em = size * MM_PER_PT
    r, y = 1.25 * em, top
    parts = []
    for k, sign in enumerate(SIGNS):
        lines = wrap(notes[k], room - 5.4 * em, size) if k < len(notes) else []
        high = max(2.5 * r, block_height(len(lines), size) + 0.5 * em)
        centre = complex(left + 2.2 * em, y + high / 2)
        parts.append(sign(centre, r))
        text = block_height(len(lines), size)
        box = Extent(left=left + 5.2 * em, right=left + room, top=centre.imag - text / 2, bottom=centre.imag + text / 2)
        parts.append(draw_block(lines, box, size))
        y += high
    return "".join(parts), y - top
