"""Tape and splint on a finger seen from the side."""

from __future__ import annotations

from fingerpost.draw.bodies.side import SidePose, depths
from fingerpost.draw.pens.curves import free, offset, sample, spline
from fingerpost.draw.pens.svg import BLACK, MAIN, PALE, WHITE, Position, chain_data, lines, path

LIFT = 0.6


def band_side(pose: SidePose, segment: int, low: float, high: float) -> tuple[complex, ...]:
    """A band round a segment from `low` to `high` mm along it, as a shape a little off the skin."""
    steps = [low + (high - low) * k / 4 for k in range(5)]
    back = [pose.at(segment, a, depths(pose, segment, a)[0] + LIFT) for a in steps]
    palm = [pose.at(segment, a, -depths(pose, segment, a)[1] - LIFT) for a in steps]
    return (*back, *palm[::-1])


def draw_band_side(pose: SidePose, segment: int, low: float, high: float, place: Position) -> str:
    shape = band_side(pose, segment, low, high)
    count = max(3, int(abs(shape[0] - shape[-1]) / 2.2))
    threads = []
    for k in range(1, count):
        t = k / count
        threads.append(
            (place.at(shape[0] + t * (shape[-1] - shape[0])), place.at(shape[4] + t * (shape[5] - shape[4])))
        )
    data = chain_data(place.points(shape), True)
    return path(data, fill=WHITE, stroke=BLACK, pen=MAIN) + lines(threads, pen=0.5)


def draw_bridge(pose: SidePose, near: float, far: float, place: Position) -> str:
    """The uncut middle of an H-strip below the PIP joint, from `near` mm on segment 1 to `far` mm on segment 2."""
    points = [
        pose.at(1, near, -depths(pose, 1, near)[1] - 0.2),
        pose.beside(2, 0, -(9.1 * pose.k + 0.6)),
        pose.at(2, far, -depths(pose, 2, far)[1] - 0.2),
    ]
    outer = sample(spline(free(points)), 6)
    inner = offset(outer, 2.2)
    return path(chain_data(place.points([*outer, *inner[::-1]]), True), fill=WHITE, stroke=BLACK, pen=MAIN)


def draw_splint_side(pose: SidePose, segments: tuple[tuple[int, float], tuple[int, float]], place: Position) -> str:
    """A stiff strip under a straight finger, between two places (segment, mm along)."""
    (first, low), (last, high) = segments
    start = pose.at(first, low, -depths(pose, first, low)[1] - 0.3)
    stop = pose.at(last, high, -depths(pose, last, high)[1] - 0.3)
    along = (stop - start) / abs(stop - start)
    down = -1j * along
    corners = [start, start + 3.2 * down, stop + 3.2 * down, stop]
    return path(chain_data(place.points(corners), True), fill=PALE, stroke=BLACK, pen=1.1)
