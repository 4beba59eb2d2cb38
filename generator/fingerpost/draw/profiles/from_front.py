"""What is seen from the back of a finger or in the palm: knobs, a thick joint, a finger that is crooked, a cord."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import exp

from fingerpost.draw.bodies.back_lines import finger_nail
from fingerpost.draw.bodies.creases import across, palm_blades
from fingerpost.draw.bodies.fingers import FingerLine, lay_fingers
from fingerpost.draw.bodies.landmarks import strip
from fingerpost.draw.bodies.outline import hand_outline
from fingerpost.draw.bodies.proportions import SHAPES
from fingerpost.draw.pens.blades import Blade, dashes, draw_blades
from fingerpost.draw.pens.curves import Cubic, free, sample, smooth, spline
from fingerpost.draw.pens.svg import BLACK, FINE, GREY, MAIN, OUTLINE, WHITE, Position, curve_data, lines, path
from fingerpost.draw.profiles.pair import LookPair
from fingerpost.draw.props.shapes import Felt
from fingerpost.draw.props.stage import Drawn, Frame, Thing

CUT = 18.0
"""Where a finger by itself is cut off, mm from its MCP joint."""
Widening = Callable[[float], tuple[float, float]]
"""Length from the MCP joint -> mm more on the little finger's side, and on the thumb's side."""


class OddFinger(FingerLine):
    """A middle finger with other bends, a step to the side beyond its middle joint, or joints that are thicker."""

    def __init__(self, bends: tuple[float, float] = (0.0, 0.0), step: float = 0.0) -> None:
        self._step = step
        super().__init__(replace(SHAPES["middle"], bends=bends), 0.0)

    def at(self, a: float, side: float = 0.0) -> complex:
        return super().at(a, side + self._step * smooth((a - self.l1 + 2.5) / 5))


def _contour(line: FingerLine, more: Widening) -> list[Cubic]:
    stops = sorted({*(a for a, _ in line.stations if a > CUT + 4), *range(24, int(line.total) - 12, 4)})
    kept = [a for n, a in enumerate(stops) if n == 0 or a - stops[n - 1] > 1.5]
    up = [line.at(CUT, line.half(CUT)), *(line.at(a, line.half(a) + more(a)[0]) for a in kept)]
    down = [line.at(CUT, -line.half(CUT)), *(line.at(a, -line.half(a) - more(a)[1]) for a in kept)]
    end = line.total
    return spline([*free(up), (line.at(end), -1j * line.along(end)), *free(down[::-1])])


def _finger(line: FingerLine, more: Widening = lambda _: (0.0, 0.0)) -> Drawn:
    contour = _contour(line, more)
    pip, dip = line.l1, line.l1 + line.l2
    rows = (
        (pip - 3.2, -1.2, 0.40),
        (pip, -0.5, 0.28),
        (pip + 3.2, 1.2, 0.40),
        (dip - 1.2, -0.5, 0.45),
        (dip + 1, 0.5, 0.45),
    )
    folds = [Blade(points=across(line, a, bow, inset), pen=0.8) for a, bow, inset in rows]
    cut = sample(spline(free([line.at(CUT, s * line.half(CUT)) for s in (1, 0.4, -0.4, -1)])), 6)

    def paint(place: Position) -> str:
        skin = path(curve_data(place.curve(contour)), fill=WHITE, stroke=BLACK, pen=OUTLINE)
        nail = path(curve_data(place.curve(finger_nail(line)), True), fill=WHITE, stroke=BLACK, pen=FINE)
        edge = lines(dashes(place.points(cut), 1.1, 0.8), pen=FINE)
        return skin + draw_blades(folds, place) + nail + edge

    return Drawn(paint, tuple(sample(contour, 2)))


def _hill(a: float, middle: float, reach: float) -> float:
    return exp(-(((a - middle) / reach) ** 2))


def _extra(line: FingerLine, more: Widening, low: float, high: float) -> list[Thing]:
    """What is thicker than usual, on both sides, between two lengths."""
    stops = [low + (high - low) * k / 14 for k in range(15)]
    found: list[Thing] = []
    for sign, at in ((1, 0), (-1, 1)):
        inner = [line.at(a, sign * line.half(a)) for a in stops]
        outer = [line.at(a, sign * (line.half(a) + more(a)[at])) for a in reversed(stops)]
        found.append(Felt((*inner, *outer)))
    return found


def knobs() -> LookPair:
    """Hard knobs on both sides of the end joint, smaller ones at the middle joint, and a tip that leans."""
    usual, sore = OddFinger(), OddFinger((2.0, -10.0))
    pip, dip = sore.l1, sore.l1 + sore.l2

    def more(a: float) -> tuple[float, float]:
        end, middle = _hill(a, dip - 1.0, 4.4), _hill(a, pip, 6.0)
        return 4.4 * end + 2.9 * middle, 3.8 * end + 3.2 * middle

    bumps = (*_extra(sore, more, dip - 7, dip + 5), *_extra(sore, more, pip - 9, pip + 9))
    return LookPair(Frame((_finger(usual),)), Frame((_finger(sore, more), *bumps)))


def thick_joint() -> LookPair:
    """The middle joint is thick in its middle and thinner above and below, like a spindle."""
    line = OddFinger()
    pip = line.l1

    def more(a: float) -> tuple[float, float]:
        much = 5.6 * _hill(a, pip, 12.5)
        return much, much

    rim = _extra(line, more, pip - 20, pip + 20)
    return LookPair(Frame((_finger(line),)), Frame((_finger(line, more), *rim)))


def crooked() -> LookPair:
    """Beyond the middle joint the finger stands beside its line, and points another way; dashed: its usual line."""
    usual, sore = OddFinger(), OddFinger((-22.0, 0.0), step=-4.5)
    contour = _contour(usual, lambda _: (0.0, 0.0))
    line = Drawn(
        lambda place: path(curve_data(place.curve(contour)), stroke=GREY, pen=MAIN, dash="1.2 0.9"),
        tuple(sample(contour, 1)),
    )
    return LookPair(Frame((_finger(usual),)), Frame((line, _finger(sore))))


def _palm() -> Drawn:
    contour, blades = hand_outline(), palm_blades(lay_fingers())

    def paint(place: Position) -> str:
        data = curve_data(place.curve(contour))
        inner = draw_blades(blades, place, small=place.scale < 0.28)
        return path(data, fill=WHITE) + inner + path(data, stroke=BLACK, pen=OUTLINE)

    return Drawn(paint, tuple(sample(contour, 2)))


def cord() -> LookPair:
    """A firm cord under the skin, from the palm into the ring finger, with pits across it."""
    line = lay_fingers()["ring"]
    root = complex(0.35 * line.shape.mcp.real - 1, 34)
    course = (root, line.at(-22), line.at(0), line.at(0.42 * line.l1), line.at(0.80 * line.l1, 0.8))
    pits = [Blade(points=(line.at(a, -7.5), line.at(a - 3), line.at(a, 7.5)), pen=1.8) for a in (-18.0, -9.0)]
    across_cord = Drawn(lambda place: draw_blades(pits, place))
    return LookPair(Frame((_palm(),)), Frame((_palm(), Felt(strip(course, 3.4)), across_cord)))
