"""Keep, limit, leave: a blue disc with a tick, a half disc, a black ring with a bar. Told apart in grey at 5 mm."""

from __future__ import annotations

from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import block_height, width_of, wrap
from fingerpost.draw.pens.svg import BLACK, INK, MM_PER_PT, WHITE, chain_data, disc, document, group, number, path, spot
from fingerpost.model.words import GripMark
from fingerpost.plan.base.pictures import SignPicture

RADIUS = 0.95
"""Radius of the sign as a share of the letter height."""
THICK = 0.17
"""Width of the ring and of the bar through it, as a share of the sign's width."""


def draw_sign(mark: GripMark, centre: complex, radius: float, *, on_band: bool = False) -> str:
    """The sign alone, `radius` mm to its outer edge; `on_band`: for a ground of INK.

    Why black: a thin ring with a bar, in blue, was read as an empty place.
    """
    pen = THICK * 2 * radius / MM_PER_PT
    if mark == "leave":
        ground = disc(centre, radius, fill=WHITE) if on_band else ""
        middle = (radius - 0.1 * radius * on_band) - THICK * radius
        bar = 0.7071 * middle * (1 + 1j)
        data = chain_data([centre - bar, centre + bar])
        return ground + disc(centre, middle, fill=WHITE, stroke=BLACK, pen=pen) + path(data, stroke=BLACK, pen=pen)
    full, bare = (WHITE, INK) if on_band else (INK, WHITE)
    if mark == "keep":
        ends = [centre + radius * z for z in (-0.5 + 0.05j, -0.13 + 0.42j, 0.52 - 0.42j)]
        return disc(centre, radius, fill=full) + path(chain_data(ends), stroke=bare, pen=0.8 * pen)
    inner = radius - 0.09 * radius
    left, right, r = centre - inner, centre + inner, number(inner)
    ring = disc(centre, inner, fill=bare, stroke=full, pen=0.18 * radius / MM_PER_PT)
    return ring + path(f"M{spot(left)}A{r} {r} 0 0 0 {spot(right)}Z", fill=full)


def draw_sign_alone(picture: SignPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """The sign as a drawing of its own, as wide as high; it has no words."""
    half = width_mm / 2
    sign = draw_sign(picture.mark, complex(half, half), half, on_band=picture.on_band)
    return document(picture.title, width_mm, width_mm, [group([sign], name=f"{prefix}-sign")])


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
