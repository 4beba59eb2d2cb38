"""Tape before it lies on a finger: strips with their measures, tails, the scissors. Millimetres on paper."""

from __future__ import annotations

from fingerpost.draw.pens.curves import offset, sample, spline
from fingerpost.draw.pens.letters import width_of
from fingerpost.draw.pens.svg import BLACK, FINE, MAIN, MM_PER_PT, WHITE, chain_data, disc, lines, path, words

THREAD = 1.0
"""Distance of the threads drawn on tape, mm."""


def flat_strip(left: complex, length: float, width: float, *, slit: float = 0.0) -> str:
    """A strip lying flat from its left edge's middle; `slit`: length of the cuts along its middle from both ends."""
    half = 0.5j * width
    corners = [left - half, left + length - half, left + length + half, left + half]
    rows = 1 if slit else max(2, round(width / THREAD))
    threads = [
        (left + complex(0.6, width * (k / rows - 0.5)), left + complex(length - 0.6, width * (k / rows - 0.5)))
        for k in range(1, rows)
    ]
    parts = [path(chain_data(corners, True), fill=WHITE, stroke=BLACK, pen=MAIN), lines(threads, pen=0.5)]
    if slit:
        cuts = [(left, left + slit), (left + length - slit, left + length)]
        parts.append(lines(cuts, pen=1.4))
    return "".join(parts)


def measure(a: complex, b: complex, text: str, size: float, *, below: bool = True) -> str:
    """A measure from a to b (level or upright) with its number."""
    em = size * MM_PER_PT
    along = (b - a) / abs(b - a)
    tick = 0.32 * em * 1j * along
    data = chain_data([a - tick, a + tick]) + chain_data([a, b]) + chain_data([b - tick, b + tick])
    parts = [path(data, stroke=BLACK, pen=FINE)]
    middle = (a + b) / 2
    if abs(along.imag) > 0.5:
        parts.append(words(text, middle + complex(0.5 * em, 0.33 * em), size=size))
    else:
        parts.append(words(text, middle + complex(0, 1.2 * em if below else -0.5 * em), size=size, anchor="middle"))
    return "".join(parts)


def measured_strip(
    top: float, left: float, room: float, length: int, width: int, size: float, bridge: int = 0
) -> tuple[str, float]:
    """A strip as long as `room` allows, true in its proportions, with its measures; and the height used."""
    em = size * MM_PER_PT
    before = 2.1 * em if bridge else 0.0
    long = room - width_of(f"{width} mm", size) - 1.5 * em - before
    left += before
    scale = long / length
    thick = max(width * scale, 3.6 if bridge else 1.8)
    y = top + thick / 2 + (1.9 * em if bridge else 0.2)
    slit = (length - bridge) / 2 * scale if bridge else 0.0
    parts = [flat_strip(complex(left, y), long, thick, slit=slit)]
    end = left + long + 0.55 * em
    parts.append(measure(complex(end, y - thick / 2), complex(end, y + thick / 2), f"{width} mm", size))
    low = y + thick / 2 + 0.65 * em
    parts.append(measure(complex(left, low), complex(left + long, low), f"{length} mm", size))
    if bridge:
        a = left + slit
        high = y - thick / 2 - 0.55 * em
        parts.append(measure(complex(a, high), complex(a + bridge * scale, high), f"{bridge} mm", size, below=False))
        parts.append(scissors(complex(left - 0.3, y), em))
    return "".join(parts), low + 1.5 * em - top


def scissors(tip: complex, em: float) -> str:
    """Scissors that have just begun to cut to the right at `tip`."""
    parts = []
    for side in (1, -1):
        blade = [
            tip + em * complex(0.9, -0.16 * side),
            tip + em * complex(-0.5, 0.0),
            tip + em * complex(-1.0, 0.42 * side),
        ]
        parts.append(path(chain_data(blade), stroke=BLACK, pen=1.2))
        parts.append(disc(tip + em * complex(-1.3, 0.55 * side), 0.34 * em, fill=WHITE, stroke=BLACK, pen=1.0))
    return "".join(parts)


def tail(course: list[tuple[complex, complex | None]], width: float) -> str:
    """A loose end of tape along a course (knots on paper), `width` mm."""
    middle = sample(spline(course), 6)
    edge = [*offset(middle, width / 2), *offset(middle, -width / 2)[::-1]]
    rows = max(2, round(width / THREAD))
    threads = "".join(chain_data(offset(middle, width * (k / rows - 0.5))) for k in range(1, rows))
    return path(chain_data(edge, True), fill=WHITE, stroke=BLACK, pen=MAIN) + path(threads, stroke=BLACK, pen=0.5)
