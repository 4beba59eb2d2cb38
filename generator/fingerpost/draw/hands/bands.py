"""How a band round a finger looks: white tape with threads; grey cloth with two seams and a tab with hooks, closed over
it; a stiff ring or splint, pale and plain."""

from __future__ import annotations

from fingerpost.draw.hands.tape import Band, Line2
from fingerpost.draw.pens.svg import BAND, BLACK, FINE, GREY, MAIN, PALE, WHITE, Position, chain_data, disc, lines, path

LEAST_APART = 0.85
"""How far threads lie apart at the least, mm on paper."""
CLOTH = BAND
"""Darker than the skin of the other hand, lighter than what is printed black: the seams on it are white."""
SEAMS, TAB = (0.2, 0.8), (0.5, 0.84)
"""Where the seams run across a band, and where its tab lies along it, in shares."""


def draw_band(piece: Band, place: Position, *, tab: bool = True) -> str:
    """One piece as it lies. `tab`: of cloth, its end is seen. In a fine drawing cloth is plain and darker: seams
    and tab would eat it up."""
    data = chain_data(place.points(piece.area), closed=True)
    threads = [(place.at(a), place.at(b)) for a, b in piece.threads]
    if piece.made == "stiff":
        return path(data, fill=PALE, stroke=BLACK, pen=MAIN)
    if piece.made == "tape":
        return path(data, fill=WHITE, stroke=BLACK, pen=MAIN) + lines(_thin(threads), pen=0.5)
    if place.fine:
        return path(data, fill=GREY, stroke=BLACK, pen=MAIN)
    band = path(data, fill=CLOTH, stroke=BLACK, pen=MAIN)
    return band + draw_seams(threads) + (draw_tab(threads) if tab else "")


def _thin(threads: list[Line2]) -> list[Line2]:
    """As many threads as are told apart: closer they print as one black spot."""
    kept: list[Line2] = []
    for thread in threads:
        if not kept or abs(thread[0] - kept[-1][0]) >= LEAST_APART:
            kept.append(thread)
    return kept


def draw_seams(threads: list[Line2]) -> str:
    """Two dashed white lines along a band, by pairs of places at its two edges (on paper)."""
    rows = [[a + share * (b - a) for a, b in threads] for share in SEAMS]
    return "".join(path(chain_data(row), stroke=WHITE, pen=FINE, dash="0.7 0.5") for row in rows if len(row) > 1)


def draw_tab(threads: list[Line2]) -> str:
    """The end that is closed over the band: white, with dots for its hooks."""
    if len(threads) < 3:
        return ""
    first, last = (round(share * (len(threads) - 1)) for share in TAB)
    held = threads[first : max(last, first + 1) + 1]
    grown = [(a - 0.12 * (b - a), b + 0.12 * (b - a)) for a, b in held]
    shape = [*(a for a, _ in grown), *(b for _, b in grown[::-1])]
    wide = abs(held[-1][0] - held[0][0])
    dots = []
    for k in range(max(2, int(wide / 0.9))):
        t = (k + 0.5) / max(2, int(wide / 0.9))
        low, high = (held[0][n] + t * (held[-1][n] - held[0][n]) for n in (0, 1))
        dots += [disc(low + share * (high - low), 0.2) for share in (0.3, 0.7)]
    return path(chain_data(shape, True), fill=WHITE, stroke=BLACK, pen=MAIN) + "".join(dots)
