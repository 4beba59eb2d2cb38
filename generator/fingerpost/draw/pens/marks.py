"""Keep, limit, leave: filled disc, half disc, ring with a bar, each with its word beside it."""

from __future__ import annotations

from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import block_height, width_of, wrap
from fingerpost.draw.pens.svg import INK, MM_PER_PT, WHITE, chain_data, disc, number, path, spot
from fingerpost.model.words import GripMark

RADIUS = 0.95
"""Radius of the sign as a share of the letter height."""


def draw_sign(mark: GripMark, centre: complex, radius: float) -> str:
    """The sign alone, `radius` mm."""
    if mark == "keep":
        return disc(centre, radius, fill=INK, stroke=INK, pen=1.3)
    ring = disc(centre, radius, fill=WHITE, stroke=INK, pen=1.6)
    if mark == "limit":
        r = number(radius)
        left, right = centre - radius, centre + radius
        return ring + path(f"M{spot(left)}A{r} {r} 0 0 0 {spot(right)}Z", fill=INK)
    bar = 0.7071 * radius * (1 - 1j)
    return ring + path(chain_data([centre - bar, centre + bar]), stroke=INK, pen=1.8)


def sign_size(word: str, room: float, size: float) -> tuple[list[str], float, float]:
    """Lines of the word, width and height (mm) of sign and word in `room` mm."""
    em = size * MM_PER_PT
    lines = wrap(word, room - 2.8 * em, size, True) if word else []
    wide = 2.6 * em + max((width_of(line, size, True) for line in lines), default=0.0)
    return lines, wide, max(2 * RADIUS * em + 0.3, block_height(len(lines), size))


def draw_sign_and_word(mark: GripMark, word: str, left: float, top: float, room: float, size: float) -> str:
    """Sign, and the word to its right."""
    em = size * MM_PER_PT
    lines, wide, high = sign_size(word, room, size)
    centre = complex(left + (RADIUS + 0.15) * em, top + high / 2)
    text = block_height(len(lines), size)
    box = Extent(
        left=left + 2.5 * em, right=left + wide, top=top + (high - text) / 2 + 0.06 * em, bottom=top + (high + text) / 2
    )
    return draw_sign(mark, centre, RADIUS * em) + draw_block(lines, box, size, bold=True)
