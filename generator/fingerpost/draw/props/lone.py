"""One finger by itself as a thing in a frame, from its palm side or its back: of a left hand, upright, the middle of
its PIP joint at zero."""

from __future__ import annotations

from dataclasses import dataclass, replace

from fingerpost.draw.bodies.back_lines import finger_nail
from fingerpost.draw.bodies.fingers import FingerLine
from fingerpost.draw.bodies.lone_finger import ROOT, LoneFinger
from fingerpost.draw.pens.blades import Blade, dashes, draw_blades
from fingerpost.draw.pens.curves import sample
from fingerpost.draw.pens.svg import BLACK, FINE, TINT, WHITE, Position, curve_data, lines, path
from fingerpost.model.shared import View
from fingerpost.model.words import Finger


@dataclass(frozen=True)
class Lone:
    """The back of a left finger looks like the palm side of a right one. `tinted`: it is the one that is sore."""

    finger: Finger = "middle"
    view: View = "palm"
    tinted: bool = False

    @property
    def body(self) -> LoneFinger:
        return LoneFinger(self.finger, "left" if self.view == "palm" else "right", 0j, 1.0)

    @property
    def line(self) -> FingerLine:
        return self.body.line

    def at(self, along: float, side: float = 0.0) -> complex:
        """A place of the finger in the frame (y up): `along` mm from the MCP joint, `side` to the little finger."""
        return self.body.at(along, side).conjugate()

    def edge(self, along: float, out: int) -> complex:
        """Where the skin is at the right (`out` 1) or at the left (-1)."""
        half = self.line.half(along)
        return max((self.at(along, half), self.at(along, -half)), key=lambda point: out * point.real)

    def own(self, place: Position) -> Position:
        """Where the finger's own numbers lie, in a frame that lies so."""
        own = self.body.place
        return replace(place, flip=place.flip ^ own.flip, turn=own.turn, origin=place.at(own.origin.conjugate()))

    def cover(self, place: Position) -> list[complex]:
        body = self.body
        return place.points(point.conjugate() for point in body.place.points(sample(body.contour(), 2)))

    def draw(self, place: Position) -> str:
        if self.view == "back":
            return self._draw_back(self.own(place))
        return self.body.draw_at(self.own(place), TINT if self.tinted else WHITE)

    def _draw_back(self, own: Position) -> str:
        """With its nail, and wrinkles over the joints."""
        line = self.line
        folds = [b for along, half in ((line.l1, 5.2), (line.l1 + line.l2, 4.2)) for b in _fold(line, along, half)]
        skin = path(curve_data(own.curve(self.body.contour())), fill=WHITE, stroke=BLACK, pen=own.contour_pen)
        nail = path(curve_data(own.curve(finger_nail(line)), True), fill=WHITE, stroke=BLACK, pen=FINE)
        cut = own.points([line.at(ROOT, line.half(ROOT)), line.at(ROOT, -line.half(ROOT))])
        strokes = dashes(cut, 0.6, 0.5) if own.fine else dashes(cut, 1.1, 0.8)
        return skin + draw_blades(folds, own) + nail + lines(strokes, pen=FINE)


def _fold(line: FingerLine, along: float, half: float) -> list[Blade]:
    """Three wrinkles that bow away from the middle of a joint."""
    found = []
    for step, share in ((-3.0, 0.8), (0.0, 1.0), (3.0, 0.8)):
        ends = (line.at(along + step, half * share), line.at(along + step, -half * share))
        found.append(Blade(points=(ends[0], line.at(along + 1.5 * step, 0), ends[1]), pen=0.9))
    return found
