"""Tape and splint on a finger seen from the side."""

from __future__ import annotations

from collections.abc import Sequence

from fingerpost.draw.bodies.creases import free_skin
from fingerpost.draw.bodies.fingers import lay_fingers
from fingerpost.draw.bodies.side import SidePose, depths
from fingerpost.draw.hands.bands import CLOTH, draw_seams, draw_tab
from fingerpost.draw.hands.tape import Made
from fingerpost.draw.pens.curves import free, offset, sample, spline
from fingerpost.draw.pens.svg import BLACK, MAIN, PALE, WHITE, Position, chain_data, lines, path

LIFT, SHELL = 0.6, 3.6
"""Tape stands so far off the skin, and so thick is a splint, mm."""
SHORT = 3.2
"""A splint of the PIP joint ends so far (mm) before the creases of the joints beside it."""


def list_band_edge(
    pose: SidePose, segment: int, low: float, high: float, below: float = 0.0
) -> tuple[complex, ...]:  # fmt: skip
    """The outline of a band round a segment from `low` to `high` mm along it, off the skin; round what lies below it
    (`below` mm thick)."""
    steps = [low + (high - low) * k / 4 for k in range(5)]
    back = [pose.at(segment, a, depths(pose, segment, a)[0] + LIFT) for a in steps]
    palm = [pose.at(segment, a, -depths(pose, segment, a)[1] - LIFT - below) for a in steps]
    return (*back, *palm[::-1])


def draw_band_side(shape: Sequence[complex], scale: float, made: Made = "tape") -> str:
    """A band by its outline on paper, which is `scale` of the hand."""
    count = max(3, int(abs(shape[0] - shape[-1]) / (2.2 * scale)))
    shares = [k / count for k in range(1, count)]
    threads = [(shape[0] + t * (shape[-1] - shape[0]), shape[4] + t * (shape[5] - shape[4])) for t in shares]
    data = chain_data(shape, True)
    if made == "stiff":
        return path(data, fill=PALE, stroke=BLACK, pen=MAIN)
    if made == "tape":
        return path(data, fill=WHITE, stroke=BLACK, pen=MAIN) + lines(threads, pen=0.5)
    ends = [(shape[0], shape[4]), *threads, (shape[-1], shape[5])]
    return path(data, fill=CLOTH, stroke=BLACK, pen=MAIN) + draw_seams(ends) + draw_tab(ends)


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


def list_splint_edge(pose: SidePose, first: int, drop: float = 0.0) -> tuple[complex, ...]:
    """A stiff shell along the palm side of a straight finger, below the end of segment `first` and most of the next;
    `drop` mm below where it lies when it is on. Its ends stay off the creases of the neighbour joints."""
    near, far = pose.lengths[first - 1], pose.lengths[first]
    start, stop = 0.3 * near, 0.9 * far
    if first == 1:
        line = lay_fingers()[pose.finger]
        start, stop = free_skin(pose.finger, line, 1)[0] + SHORT, free_skin(pose.finger, line, 2)[1] - near - SHORT
    steps = [(first, start + k * (0.86 * near - start) / 4) for k in range(5)]
    steps += [(first + 1, 0.18 * far + k * (stop - 0.18 * far) / 4) for k in range(5)]
    skin = [pose.at(n, along, -depths(pose, n, along)[1] - 0.4 - drop) for n, along in steps]
    return (*skin, *(point - SHELL * 1j for point in skin[::-1]))
