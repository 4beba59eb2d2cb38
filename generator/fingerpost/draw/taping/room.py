"""The room of one step of a taping, and what lies in it: bands, loose ends, ticks and crosses. Things are in hand
millimetres, as they are for a left hand; several fingers are drawn as those of a right one and turned over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from fingerpost.draw.bodies.fingers import Hand4, Spreads, lay_fingers, spreads_for
from fingerpost.draw.bodies.hand_crop import LOWEST, HandCrop
from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.hands.bands import CLOTH, draw_band
from fingerpost.draw.hands.tape import Band, Made, lay_tape, made_of
from fingerpost.draw.pens.curves import free, offset, sample, spline
from fingerpost.draw.pens.strips import THREAD
from fingerpost.draw.pens.svg import (
    BLACK,
    GREY,
    MAIN,
    MM_PER_PT,
    TINT,
    WHITE,
    Position,
    chain_data,
    curve_data,
    disc,
    path,
)
from fingerpost.draw.props.lone import Lone
from fingerpost.draw.props.stage import Drawn, Frame, Moved, Thing
from fingerpost.draw.taping.side_tape import draw_band_side, list_band_edge
from fingerpost.model.words import Finger
from fingerpost.plan.base.pictures import TapeMark, TapingPicture

EDGE = 0.8


@dataclass(frozen=True)
class StepRoom:
    """What is drawn, how wide and high it may be (mm), and the size of its letters (points)."""

    picture: TapingPicture
    width: float
    height: float
    size: float
    inset: float = 0.0
    """Free space at the left for the number that stands beside the drawing."""

    @property
    def em(self) -> float:
        return self.size * MM_PER_PT

    @property
    def made(self) -> Made:
        return made_of(self.picture.kind)

    @cached_property
    def spreads(self) -> Spreads:
        p = self.picture
        return spreads_for((frozenset((p.finger, p.partner)),) if p.partner else ())

    @property
    def fingers(self) -> Hand4:
        return lay_fingers(self.spreads)

    @property
    def bands(self) -> list[Band]:
        p = self.picture
        mark = TapeMark(kind=p.kind, level=p.level, finger=p.finger, partner=p.partner)
        return lay_tape(mark, self.fingers, self.spreads)

    def settle(self, things: Sequence[Thing], top: float = 0.0) -> tuple[Frame, Position]:
        """A frame of things, and how it lies in the middle of the room below `top` mm."""
        frame = Frame(tuple(things))
        high = self.height - top - 2 * EDGE
        about = frame.place(frame.fit(self.width - self.inset - 2 * EDGE, high), self.picture.hand)
        box = frame.box(about)
        x = (self.width + self.inset - box.left - box.right) / 2
        return frame, replace(about, origin=complex(x, top + EDGE + (high - box.top - box.bottom) / 2))

    def show(self, things: Sequence[Thing], top: float = 0.0) -> list[str]:
        frame, place = self.settle(things, top)
        return frame.draw(place)


def turned_over(things: Sequence[Thing]) -> list[Thing]:
    """Things of a right hand that is seen from the palm, as those of a left one."""
    return [Moved(thing, mirror=True) for thing in things]


@dataclass(frozen=True)
class Fingers:
    """The fingers and the thumb of a right hand, palm up, the sore one tinted; `lowest`: where the palm is cut off."""

    spreads: Spreads
    sore: Finger | None = None
    lowest: float = LOWEST

    @property
    def _crop(self) -> HandCrop:
        return HandCrop("right", 0j, 100.0, self.spreads, self.sore, self.lowest)

    def cover(self, place: Position) -> list[complex]:
        return place.points(sample(self._crop.contour(), 2))

    def draw(self, place: Position) -> str:
        return self._crop.draw_at(place)


@dataclass(frozen=True)
class BandOn:
    """A band on the fingers, or (`on`) on one by itself."""

    band: Band
    on: Lone | None = None
    tab: bool = True

    def _own(self, place: Position) -> Position:
        return self.on.own(place) if self.on else place

    def cover(self, place: Position) -> list[complex]:
        return self._own(place).points(self.band.area)

    def draw(self, place: Position) -> str:
        return draw_band(self.band, self._own(place), tab=self.tab)


@dataclass(frozen=True)
class SideFinger:
    """A finger from the side; `ghost`: only its dashed contour, where it was before; `sore`: tinted."""

    pose: SidePose
    ghost: bool = False
    sore: bool = False

    def cover(self, place: Position) -> list[complex]:
        return place.points(sample(self.pose.contour, 2))

    def draw(self, place: Position) -> str:
        if self.ghost:
            return path(curve_data(place.curve(self.pose.contour)), stroke=GREY, pen=MAIN, dash="1 0.8")
        return draw_side(self.pose, place, fill=TINT if self.sore else WHITE)


def side_band(pose: SidePose, segment: int, low: float, high: float, made: Made = "tape", below: float = 0.0) -> Thing:
    """A band round a segment of a finger from the side, mm along it, and round what lies `below` it (mm thick)."""
    edge = list_band_edge(pose, segment, low, high, below)
    return Drawn(lambda place: draw_band_side(place.points(edge), place.scale, made), edge)


@dataclass(frozen=True)
class Tail:
    """A loose end along a course, `width` mm wide, of tape or of cloth. Of cloth, its end has hooks."""

    points: tuple[complex, ...]
    width: float
    made: Made = "tape"

    def _course(self, place: Position) -> list[complex]:
        return sample(spline(free(place.points(self.points))), 6)

    def cover(self, place: Position) -> list[complex]:
        course, half = self._course(place), self.width * place.scale / 2
        return [*offset(course, half), *offset(course, -half)]

    def draw(self, place: Position) -> str:
        course, wide = self._course(place), self.width * place.scale
        edge = [*offset(course, wide / 2), *offset(course, -wide / 2)[::-1]]
        if self.made == "tape":
            rows = max(2, round(wide / THREAD))
            threads = "".join(chain_data(offset(course, wide * (k / rows - 0.5))) for k in range(1, rows))
            return path(chain_data(edge, True), fill=WHITE, stroke=BLACK, pen=MAIN) + path(
                threads, stroke=BLACK, pen=0.5
            )
        seams = "".join(chain_data(offset(course, wide * share)) for share in (-0.3, 0.3))
        cloth = path(chain_data(edge, True), fill=CLOTH, stroke=BLACK, pen=MAIN)
        cloth += path(seams, stroke=WHITE, pen=0.75, dash="0.7 0.5")
        last = len(course) // 3
        patch = [*offset(course, 0.34 * wide)[-last:], *offset(course, -0.34 * wide)[-last:][::-1]]
        dots = "".join(disc(point, 0.2) for k in (-0.15, 0.15) for point in offset(course, k * wide)[-last + 1 : -1])
        return cloth + path(chain_data(patch, True), fill=WHITE, stroke=BLACK, pen=0.75) + dots


@dataclass(frozen=True)
class TickOrCross:
    """A tick, or a cross, above a finger: on paper 2 mm to each side, times `share`."""

    at: complex
    right: bool
    share: float = 1.0

    def cover(self, place: Position) -> list[complex]:
        centre = place.at(self.at)
        return [centre - self.share * (2.4 + 2.4j), centre + self.share * (2.4 + 2.4j)]

    def draw(self, place: Position) -> str:
        c, k = place.at(self.at), self.share
        if self.right:
            tick = [c + k * w for w in (-1.9 + 0.1j, -0.5 + 1.6j, 2.1 - 1.8j)]
            return path(chain_data(tick), stroke=BLACK, pen=2.8 * k)
        strokes = "".join(chain_data([c - k * w, c + k * w]) for w in (1.6 + 1.6j, 1.6 - 1.6j))
        return path(strokes, stroke=BLACK, pen=2.2 * k)


@dataclass(frozen=True)
class Halo:
    """A ring of the ink round what must stay free, `radius` mm of the hand."""

    at: complex
    radius: float
    stroke: str

    def cover(self, place: Position) -> list[complex]:
        centre, r = place.at(self.at), self.radius * place.scale
        return [centre - r - 1j * r, centre + r + 1j * r]

    def draw(self, place: Position) -> str:
        return disc(place.at(self.at), self.radius * place.scale, fill="none", stroke=self.stroke, pen=1.6)
