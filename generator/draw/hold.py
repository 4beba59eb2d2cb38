"""Holds on a wall, cut through from the side, in the same millimetres as the finger. The wall is to the right."""

from __future__ import annotations

from dataclasses import dataclass

from generator.draw.curves import Cubic, free, hatch, heading, sample, spline
from generator.draw.side import SidePose
from generator.draw.svg import BLACK, OUTLINE, WHITE, Place, chain_data, lines, path

PRESS, CLEAR = 1.2, 0.8
"""The pad is pressed in by 1.2 mm; the tip stays 0.8 mm off the wall (drawn by eye)."""
LIP_RADIUS, BELOW, ABOVE, THICK = 2.5, 30.0, 26.0, 16.0


@dataclass(frozen=True)
class Ledge:
    """A straight edge: its upper surface, lip and wall in finger mm."""

    surface: float
    wall: float
    depth: float

    @property
    def lip(self) -> float:
        return self.wall - self.depth

    def profile(self) -> list[complex]:
        """The line that a finger meets: down the wall, out along the ledge, round the lip, down."""
        r = min(LIP_RADIUS, self.depth / 2)
        centre = complex(self.lip + r, self.surface - r)
        rim = [centre + r * heading(90 + 90 * k / 6) for k in range(7)]
        return [complex(self.wall, self.surface + ABOVE), complex(self.wall, self.surface), *rim, complex(self.lip, self.surface - BELOW)]

    def shape(self) -> list[complex]:
        back = self.wall + THICK
        return [*self.profile(), complex(back, self.surface - BELOW), complex(back, self.surface + ABOVE)]


def ledge_under(pose: SidePose, depth: float) -> Ledge:
    """The ledge on which a level end pad lies, `depth` mm deep."""
    return Ledge(surface=pose.lowest_pad + PRESS, wall=_front(pose) + CLEAR, depth=depth)


def _front(pose: SidePose) -> float:
    """The foremost point of the end segment."""
    last = sample(pose.back[-8:], 6) + sample(pose.palm[-1], 6)
    return max(point.real for point in last)


def draw_cut(shape: list[complex], profile: list[complex], place: Place) -> str:
    """A cut body: white, hatched, with a firm line where it ends and none where the drawing ends."""
    outline = place.points(shape)
    body = path(chain_data(outline, True), fill=WHITE)
    strokes = lines(hatch(outline, 1.15, -45), pen=0.5)
    return body + strokes + path(chain_data(place.points(profile)), stroke=BLACK, pen=OUTLINE + 0.2)


def smooth_cut(points: list[complex], per: int = 5) -> list[complex]:
    """A profile with soft bends."""
    cubics: list[Cubic] = spline(free(points))
    return sample(cubics, per)
