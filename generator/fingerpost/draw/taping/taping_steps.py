"""The frames of each taping: what is drawn in which step. All return SVG parts and the height used, in mm on paper."""

from __future__ import annotations

from dataclasses import dataclass

from fingerpost.draw.bodies.fingers import FingerLine, Spreads, spreads_for
from fingerpost.draw.bodies.hand_crop import HandCrop
from fingerpost.draw.bodies.lone_finger import LoneFinger
from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.bodies.side_lines import draw_side
from fingerpost.draw.hands.hand import draw_band
from fingerpost.draw.hands.tape import Band, h_strip, lay_tape, ring_range, wrap_round
from fingerpost.draw.inside.inside_parts import arrow_head, paper_arrow
from fingerpost.draw.pens.curves import Knot, heading, sample
from fingerpost.draw.pens.strips import measured_strip, tail
from fingerpost.draw.pens.svg import BLACK, INK, MM_PER_PT, PALE, Position, chain_data, disc, path, spot
from fingerpost.draw.taping.checks_after import draw_checks
from fingerpost.draw.taping.side_tape import draw_band_side, draw_bridge, draw_splint_side
from fingerpost.model.words import FINGERS
from fingerpost.plan.base.pictures import TapeMark, TapingPicture

Drawn = tuple[list[str], float]
BRIDGE_MM = 10
"""Uncut middle of an H-strip (Schoeffl et al. 2007, read second hand)."""


@dataclass(frozen=True)
class Step:
    """One frame's room: its picture, width in mm, text size in points."""

    picture: TapingPicture
    width: float
    size: float

    @property
    def em(self) -> float:
        return self.size * MM_PER_PT

    @property
    def spreads(self) -> Spreads:
        p = self.picture
        return spreads_for((frozenset((p.finger, p.partner)),) if p.partner else ())

    def crop(self) -> HandCrop:
        """The fingers, at the right so that the number has its corner."""
        wide = self.width - max(2.0 * self.em, 0.14 * self.width)
        return HandCrop(self.picture.hand, complex(self.width - wide, 0.6), wide, self.spreads)

    def lone(self, share: float = 0.0092, middle: float = 0.5) -> LoneFinger:
        """A finger by itself: `share` of the width for one mm of finger."""
        scale = share * self.width
        line = self.crop().fingers[self.picture.finger]
        top = scale * (line.l2 + line.l3) + 1.2
        return LoneFinger(self.picture.finger, self.picture.hand, complex(middle * self.width, top), scale)

    def lone_height(self, finger: LoneFinger) -> float:
        return finger.at(0, 0).imag + 1.5

    def bands(self) -> list[Band]:
        p = self.picture
        mark = TapeMark(kind=p.kind, level=p.level, finger=p.finger, partner=p.partner)
        return lay_tape(mark, self.crop().fingers, self.spreads)


def first_frame(step: Step) -> Drawn:
    """Which finger, where the tape will lie, and the strip to cut."""
    crop = step.crop()
    parts = [crop.draw()]
    for piece in step.bands():
        if piece.stiff:
            parts.append(draw_band(piece, crop.place))
        elif piece.threads:
            parts.append(path(chain_data(crop.place.points(piece.area), True), stroke=INK, pen=1.3, dash="1.2 0.8"))
    if step.picture.kind == "buddy":
        parts.append(_padding(step, crop))
    height = crop.height + 1.5
    if step.picture.length_mm and step.picture.width_mm and not step.picture.small:
        bridge = BRIDGE_MM if step.picture.kind == "h-strip" else 0
        strip, used = measured_strip(
            height + 0.4 * step.em,
            1.0,
            step.width - 2,
            step.picture.length_mm,
            step.picture.width_mm,
            step.size,
            bridge,
        )
        parts.append(strip)
        height += used + 0.4 * step.em
    return parts, height


def _padding(step: Step, crop: HandCrop) -> str:
    """A soft pad between two fingers, drawn with dots."""
    p = step.picture
    ulnar, radial = sorted((p.finger, p.partner or p.finger), key=FINGERS.index, reverse=True)
    first, second = crop.fingers[ulnar], crop.fingers[radial]
    low, high = 0.68, 1.0
    left = [first.at(a, -first.half(a)) for a in (low * first.l1, first.l1, first.l1 + high * 0.62 * first.l2)]
    right = []
    for point in left:
        a = second.length_at_height(point.imag + 1.5)
        right.append(second.at(a, second.half(a)))
    shape = crop.place.points([*left, *right[::-1]])
    dots = []
    for k in range(7):
        t = k / 6 * 2
        i, f = min(int(t), 1), t - min(int(t), 1)
        one, other = left[i] + f * (left[i + 1] - left[i]), right[i] + f * (right[i + 1] - right[i])
        dots.append(disc(crop.place.at((one + other) / 2), 0.22))
    return path(chain_data(shape, True), fill=PALE, stroke=BLACK, pen=0.75) + "".join(dots)


def _round_arrow(a: complex, b: complex) -> str:
    """A bent arrow from left to right in front of a finger: which way the tape goes round."""
    start, stop = (a, b) if a.real < b.real else (b, a)
    wide = stop.real - start.real
    data = f"M{spot(start)}Q{spot((start + stop) / 2 + 0.55j * wide)} {spot(stop)}"
    along = (stop - (start + stop) / 2 - 0.55j * wide) / abs(stop - (start + stop) / 2 - 0.55j * wide)
    return path(data, stroke=INK, pen=1.6) + arrow_head(stop + 0.5 * along, along)


def _under(finger: LoneFinger, a: float) -> str:
    half = finger.line.half(a) + 3.5
    return _round_arrow(finger.at(a, half), finger.at(a, -half))


def ring_turn(step: Step) -> Drawn:
    """The first turn lies, the rest of the strip leads round."""
    finger = step.lone()
    parts = [finger.draw()]
    levels = ("a2", "a4") if step.picture.level == "proximal-and-middle" else (step.picture.level,)
    for level in levels:
        low, high = ring_range(step.picture.finger, finger.line, level, step.spreads)
        parts.append(_loose_tail(finger, low, high))
        parts.append(draw_band(wrap_round(finger.line, low, high), finger.place))
    low, high = ring_range(step.picture.finger, finger.line, levels[0], step.spreads)
    parts.append(_under(finger, low - 2.0))
    return parts, step.lone_height(finger)


def _loose_tail(finger: LoneFinger, low: float, high: float) -> str:
    """The strip still to be laid, leaving the finger on the right of the picture."""
    middle = (low + high) / 2
    sides = [finger.at(middle, s * finger.line.half(middle)) for s in (1, -1)]
    start = max(sides, key=lambda p: p.real) - 1.0
    far = start + finger.scale * complex(27, 7)
    knots: list[Knot] = [(start, 1 + 0j), (start + finger.scale * complex(14, 1), None), (far, heading(34))]
    return tail(knots, (high - low) * finger.scale)


SIGNS_EM = 11.5
"""How much room the signs of the check need beside a finger, with their words, in ems."""


def check(step: Step) -> Drawn:
    """The finished tape, and the three checks: beside it where the frame is wide enough, else below; small, none."""
    if step.picture.small:
        holder = step.crop() if step.picture.kind == "buddy" else step.lone()
        high = holder.height + 1.5 if isinstance(holder, HandCrop) else step.lone_height(holder)
        return [holder.draw(), *(draw_band(piece, holder.place) for piece in step.bands())], high
    room = step.width - SIGNS_EM * step.em
    beside = room >= 5 * step.em
    room = room if beside else step.width
    if step.picture.kind == "buddy":
        wide = room - 2.3 * step.em if beside else 0.52 * room  # the number stands in the corner
        left = room - wide if beside else (room - wide) / 2
        crop = HandCrop(step.picture.hand, complex(left, 0.6), wide, step.spreads)
        parts = [crop.draw(), *(draw_band(piece, crop.place) for piece in step.bands())]
        height = crop.height + 1.5
    else:
        share, middle = (0.0148, 0.6) if beside else (0.0074, 0.5)
        finger = step.lone(share * room / step.width, middle * room / step.width)
        parts = [finger.draw(), *(draw_band(piece, finger.place) for piece in step.bands())]
        height = step.lone_height(finger)
    left, top = (room, 0.5) if beside else (1.0, height + 0.5)
    signs, used = draw_checks(step.picture.notes, left, top, step.width - left - 1, step.size)
    return [*parts, signs], max(height, top + used + 0.5)


def _legs(finger: LoneFinger, line: FingerLine, which: tuple[int, ...]) -> list[str]:
    """The loose legs of an H-strip: 0 the two nearer the palm, 1 the two nearer the tip."""
    parts = []
    for leg in which:
        a, rise = (line.l1 - 4.2, 5.0) if leg == 0 else (line.l1 + 4.6, -5.0)
        for side in (-1, 1):
            start = finger.at(a, 4.0 * side)
            out = 1 if finger.at(a, 9.0 * side).real > start.real else -1
            knots: list[Knot] = [
                (start, complex(out, 0)),
                (start + finger.scale * complex(18 * out, 0.35 * rise), None),
                (start + finger.scale * complex(40 * out, rise), None),
            ]
            parts.append(tail(knots, 7.5 * finger.scale))
    return parts


def h_bridge(step: Step) -> Drawn:
    """The bridge over the crease of the middle joint, all four legs loose."""
    finger = step.lone()
    bridge = h_strip(finger.line)[0]
    parts = [finger.draw(), *_legs(finger, finger.line, (0, 1)), draw_band(bridge, finger.place)]
    return parts, step.lone_height(finger)


def h_first(step: Step) -> Drawn:
    """The two legs nearer the palm are wrapped, the joint straight."""
    finger = step.lone()
    bridge, near, _ = h_strip(finger.line)
    parts = [
        finger.draw(),
        *_legs(finger, finger.line, (1,)),
        draw_band(bridge, finger.place),
        draw_band(near, finger.place),
    ]
    return [*parts, _under(finger, near.ends[0] - 2.0)], step.lone_height(finger)


def h_second(step: Step) -> Drawn:
    """Bend the joint, then wrap the two legs nearer the tip: from the side."""
    pose = SidePose(10, 45, 15, step.picture.finger, turn=4)
    place, height = _side_place(step, pose)
    l1 = pose.lengths[0]
    parts = [draw_side(pose, place), draw_bridge(pose, l1 - 6, 5.5, place)]
    parts += [draw_band_side(pose, 1, l1 - 13, l1 - 5.5, place), draw_band_side(pose, 2, 5.0, 12.5, place)]
    start, stop = place.at(pose.at(2, 9, 22)), place.at(pose.at(2, 8.5, 10.5))
    parts.append(paper_arrow(start, stop))
    a, b = place.at(pose.at(1, l1 + 17, 5)), place.at(pose.at(2, 26, 13))
    r = abs(b - a)
    parts.append(path(f"M{spot(a)}A{r:.2f} {r:.2f} 0 0 1 {spot(b)}", stroke=INK, pen=1.6))
    parts.append(arrow_head(b, (b - a) / abs(b - a) * heading(30)))
    return parts, height


def _side_place(step: Step, pose: SidePose) -> tuple[Position, float]:
    """A finger from the side, as wide as the frame."""
    points = sample(pose.contour, 2)
    left, right = min(p.real for p in points), max(p.real for p in points)
    top, low = max(p.imag for p in points), min(p.imag for p in points)
    scale = (step.width - 3) / (right - left + 6)
    place = Position(scale=scale, origin=complex(1.5 - scale * (left - 3), 3.4 * step.em + scale * top))
    return place, 3.4 * step.em + scale * (top - low) + 2.0


def buddy_loop(step: Step, count: int) -> Drawn:
    """The pad lies between the fingers; one or both loops are on, the joints between them stay free."""
    crop = step.crop()
    parts = [crop.draw(), _padding(step, crop)]
    pieces = step.bands()[:count]
    parts += [draw_band(piece, crop.place) for piece in pieces]
    if count == 2:
        for name in (step.picture.finger, step.picture.partner or step.picture.finger):
            line = crop.fingers[name]
            parts.append(disc(crop.place.at(line.at(line.l1)), 4.4 * crop.scale, fill="none", stroke=INK, pen=1.5))
    else:
        area = crop.place.points(pieces[0].area)
        left, right = min(p.real for p in area), max(p.real for p in area)
        y = max(p.imag for p in area) + 1.0
        parts.append(_round_arrow(complex(left - 0.8, y), complex(right + 0.8, y)))
    return parts, crop.height + 1.5


def splint_step(step: Step, taped: bool) -> Drawn:
    """The straight finger on its splint, from the side; then with its two bands."""
    pose = SidePose(0, 0, 0, step.picture.finger)
    place, height = _side_place(step, pose)
    l1, l2, l3 = pose.lengths
    parts = [draw_side(pose, place)]
    if step.picture.level == "dip":
        parts.append(draw_splint_side(pose, ((2, 0.30 * l2), (3, 0.72 * l3)), place))
        bands = [(2, 0.42 * l2, 0.78 * l2), (3, 0.16 * l3, 0.36 * l3)]
    else:
        parts.append(draw_splint_side(pose, ((1, 0.46 * l1), (2, 0.86 * l2)), place))
        bands = [(1, 0.56 * l1, 0.80 * l1), (2, 0.30 * l2, 0.66 * l2)]
    if taped:
        parts += [draw_band_side(pose, *band, place) for band in bands]
    return parts, height
