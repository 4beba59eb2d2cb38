"""Holds and walls, cut through, in the same millimetres as the hand. The wall is to the right. Drawn by eye."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.pens.curves import hatch, heading, sample
from fingerpost.draw.pens.svg import BLACK, WHITE, Position, chain_data, lines, path

PRESS, CLEAR = 1.2, 0.8
"""The pad is pressed in by 1.2 mm; the tip stays 0.8 mm off the wall."""
LIP_RADIUS, BELOW, ABOVE, THICK = 2.5, 30.0, 26.0, 16.0


@dataclass(frozen=True)
class Cut:
    """A cut body: its closed shape, and the stretch of its edge that is a surface (the rest is cut off)."""

    shape: tuple[complex, ...]
    surface: tuple[complex, ...]
    front: bool = False


def front_of(pose: SidePose) -> float:
    """The foremost x of the end segment."""
    return max(point.real for point in sample(pose.back[-8:], 6) + sample(pose.palm[-1], 6))


def ledge_under(pose: SidePose, depth: float, below: float = BELOW) -> tuple[Cut, complex]:
    """A straight edge `depth` mm deep under a level end pad, `below` mm high, and its inner corner."""
    corner = complex(front_of(pose) + CLEAR, pose.lowest_pad + PRESS)
    r = min(LIP_RADIUS, depth / 2)
    centre = corner + complex(r - depth, -r)
    rim = [centre + r * heading(90 + 90 * k / 6) for k in range(7)]
    surface = (corner + ABOVE * 1j, corner, *rim, corner + complex(-depth, -below))
    return Cut((*surface, corner + complex(THICK, -below), corner + complex(THICK, ABOVE)), surface), corner


def draw_cut(cut: Cut, place: Position) -> str:
    """White, hatched, with a firm line along its surface."""
    outline = place.points(cut.shape)
    body = path(chain_data(outline, True), fill=WHITE)
    strokes = lines(hatch(outline, 1.15, -45), pen=0.5)
    return body + strokes + path(chain_data(place.points(cut.surface)), stroke=BLACK, pen=place.contour_pen + 0.2)
