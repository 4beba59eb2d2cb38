"""A hand to touch: the same drawn hand, with areas that are links. A page's script makes them into switches.

Each area is an `a` element that names its sign; inside it a clear shape that takes the touch, wider than what is seen,
and a hatch that a style sheet shows once the area is marked. Without a script the link leads to `#place-<sign>`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from fingerpost.draw.bodies.creases import palm_blades
from fingerpost.draw.bodies.fingers import RELAXED, FingerLine, lay_fingers
from fingerpost.draw.bodies.outline import hand_outline
from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.hands.hand import hand_parts
from fingerpost.draw.pens.blades import draw_blades
from fingerpost.draw.pens.curves import ellipse, free, hatch, sample, spline
from fingerpost.draw.pens.letters import width_of
from fingerpost.draw.pens.svg import (
    BLACK,
    INK,
    LEAST_TEXT,
    MAIN,
    MM_PER_PT,
    OUTLINE,
    WHITE,
    Position,
    chain_data,
    curve_data,
    escape,
    lines,
    number,
    path,
    words,
)
from fingerpost.model.shared import TouchSpot
from fingerpost.model.words import FINGERS
from fingerpost.plan.base.pictures import HandPicture, TouchArea, TouchPicture

Area = tuple[complex, ...]
Shapes = tuple[Area, tuple[Area, ...]]
"""What takes the touch, and what is seen of it."""
Frame = tuple[float, float, float, float]
"""Left, bottom, right, top of the part of the hand that is shown, in mm of the hand."""

_POSE = SidePose(8.0, 24.0, 8.0, turn=12.0)
_MIDDLE = _POSE.joints[1]
_FRAMES: dict[str, Frame] = {
    "palm": (-62.0, -32.0, 93.0, 192.0),
    "back": (-62.0, -32.0, 93.0, 192.0),
    "side": (_MIDDLE.real - 32, _MIDDLE.imag - 25, _MIDDLE.real + 32, _MIDDLE.imag + 25),
    "forearm": (-62.0, -150.0, 73.0, 42.0),
}


def _across(low: Callable[[FingerLine], float], high: Callable[[FingerLine], float]) -> Shapes:
    """A band over all four fingers; it takes the touch between them too."""
    fingers = [lay_fingers()[finger] for finger in reversed(FINGERS)]
    seen = tuple(_on_finger(line, low(line), high(line)) for line in fingers)
    top = [line.at(high(line), side * line.half(high(line))) for line in fingers for side in (1.1, -1.1)]
    foot = [line.at(low(line), side * line.half(low(line))) for line in fingers for side in (1.1, -1.1)]
    return (*top, *reversed(foot)), seen


def _on_finger(line: FingerLine, low: float, high: float) -> Area:
    """The skin of one finger between two lengths, a little inside its contour."""
    steps = [low + (high - low) * k / 6 for k in range(7)]
    left = [line.at(a, 0.9 * line.half(a)) for a in steps]
    right = [line.at(a, -0.9 * line.half(a)) for a in reversed(steps)]
    return (*left, *right)


def _round(centre: complex, along: complex, long: float, short: float) -> Shapes:
    shape = tuple(sample(ellipse(centre, along, long, short), 8))
    return shape, (shape,)


def _plain(*points: complex) -> Shapes:
    return points, (points,)


def _palm_areas() -> dict[TouchSpot, Shapes]:
    return {
        "end-joint": _across(lambda f: f.l1 + 0.82 * f.l2, lambda f: f.l1 + f.l2 + 0.45 * f.l3),
        "middle-segment": _across(lambda f: f.l1 + 0.26 * f.l2, lambda f: f.l1 + 0.80 * f.l2),
        "joint-front": _across(lambda f: 0.85 * f.l1, lambda f: f.l1 + 0.24 * f.l2),
        "base-segment": _across(lambda f: 0.45 * f.l1, lambda f: 0.83 * f.l1),
        "base-crease": _belt(lambda f: -9.0, lambda f: 0.42 * f.l1),
        "mid-palm": _plain(-37 + 57j, -18 + 67j, 2 + 72j, 19 + 67j, 17 + 42j, 6 + 27j, -34 + 35j),
        "heel": _plain(-33.5 + 33j, 1 + 25j, 3 + 3j, -29 + 1j),
    }


def _belt(low: Callable[[FingerLine], float], high: Callable[[FingerLine], float]) -> Shapes:
    """One smooth band over the roots of all four fingers."""
    fingers = [lay_fingers()[finger] for finger in reversed(FINGERS)]
    edges = []
    for length in (high, low):
        first, last = fingers[0], fingers[-1]
        ends = first.at(length(first), 0.9 * first.half(0)), last.at(length(last), -0.9 * last.half(0))
        middle = [line.at(length(line)) for line in fingers]
        edges.append(tuple(sample(spline(free([ends[0], *middle, ends[1]])), 4)))
    return _plain(*edges[0], *reversed(edges[1]))


def _forearm_areas() -> dict[TouchSpot, Shapes]:
    return {"forearm": _plain(-31 - 46j, 30 - 46j, 41 - 136j, -41 - 136j)}


def _back_areas() -> dict[TouchSpot, Shapes]:
    return {
        "end-joint": _across(lambda f: f.l1 + 0.66 * f.l2, lambda f: f.l1 + f.l2 + 0.6 * f.l3),
        "joint-back": _across(lambda f: 0.74 * f.l1, lambda f: f.l1 + 0.42 * f.l2),
        "knuckle": _belt(lambda f: -11.0, lambda f: 14.0),
    }


def _side_areas() -> dict[TouchSpot, Shapes]:
    """Round the middle joint of one finger: a ring about it, the skin above and below, the side itself."""

    def frame(*points: tuple[float, float]) -> Area:
        return tuple(_POSE.beside(2, along, up) for along, up in points)

    ring = tuple(sample(ellipse(_MIDDLE, 1 + 0j, 24, 24), 12))
    back = frame((-11.5, 15.6), (11.5, 15.6), (10.5, 5.6), (-10.5, 5.6))
    front = frame((-11.5, -15.6), (11.5, -15.6), (10.5, -5.6), (-10.5, -5.6))
    return {
        "joint-round": (ring, (ring,)),
        "joint-back": (back, (back,)),
        "joint-front": (front, (front,)),
        "joint-side": _round(_MIDDLE, 1 + 0j, 10.0, 5.2),
    }


_AREAS: dict[str, Callable[[], dict[TouchSpot, Shapes]]] = {
    "palm": _palm_areas,
    "back": _back_areas,
    "side": _side_areas,
    "forearm": _forearm_areas,
}


def draw_touch(picture: TouchPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """The picture as one `<svg>` whose areas can be reached by keyboard and by screen reader."""
    left, bottom, right, top = _FRAMES[picture.view]
    scale = width_mm / (right - left)
    flip = picture.view == "back"
    place = Position(scale=scale, origin=complex(right if flip else -left, top) * scale, flip=flip)
    shapes = _AREAS[picture.view]()
    hand = {"palm": _draw_palm, "back": _draw_back, "side": _draw_finger, "forearm": _draw_palm}[picture.view](place)
    named = {area.spot: area for area in picture.areas}
    size = max(text_pt, LEAST_TEXT)
    areas = "".join(_draw_area(named[spot], shapes[spot], place, size) for spot in shapes if spot in named)
    high = number((top - bottom) * scale)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width_mm)}mm" height="{high}mm"'
        f' viewBox="0 0 {number(width_mm)} {high}" role="group" aria-label="{escape(picture.title)}" class="touch">'
        f'<g id="{escape(prefix)}-hand" aria-hidden="true">{hand}</g>{areas}</svg>'
    )


def _draw_palm(place: Position) -> str:
    """With the forearm, which a plain hand lacks."""
    outline = curve_data(place.curve(hand_outline(RELAXED, True)))
    inner = draw_blades(palm_blades(lay_fingers()), place, small=True)
    return path(outline, fill=WHITE) + inner + path(outline, stroke=BLACK, pen=OUTLINE)


def _draw_back(place: Position) -> str:
    return "".join(hand_parts(HandPicture(title="", hand="right", view="back"), place))


def _draw_finger(place: Position) -> str:
    contour = curve_data(place.curve(_POSE.contour))
    return path(contour, fill=WHITE) + path(contour, stroke=BLACK, pen=OUTLINE)


def _draw_area(area: TouchArea, shapes: Shapes, place: Position, text_pt: float) -> str:
    reach, seen = shapes
    shown = [place.points(part) for part in seen]
    edges = "".join(path(chain_data(part, closed=True), stroke=INK, pen=MAIN, dash="0.9 0.6") for part in shown)
    marks = "".join(_draw_mark(part) for part in shown)
    sign, clear = escape(area.sign), chain_data(place.points(reach), closed=True)
    return (
        f'<a class="touch-area" href="#place-{sign}" data-sign="{sign}" aria-label="{escape(area.name)}">'
        f'<path class="touch-reach" d="{clear}" fill="{WHITE}" fill-opacity="0"/>'
        f'<g class="touch-edge">{edges}</g><g class="touch-mark" visibility="hidden">{marks}</g>'
        f"{_draw_label(area, shown[0], text_pt)}</a>"
    )


def _draw_label(area: TouchArea, shape: Sequence[complex], text_pt: float) -> str:
    """The word on an area, on white so that the hatch spares it: in its middle, or low in the ring round a joint."""
    if not area.label:
        return ""
    xs, ys = [point.real for point in shape], [point.imag for point in shape]
    wide, high = width_of(area.label, text_pt, True) / 2 + 0.4, text_pt * MM_PER_PT
    middle = complex((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
    if area.spot == "joint-round":
        middle = complex(middle.real, max(ys) - 0.85 * high)
    corners = [
        middle + complex(x, y) for x, y in ((-wide, -high / 2), (wide, -high / 2), (wide, high / 2), (-wide, high / 2))
    ]
    paper = path(chain_data(corners, closed=True), fill=WHITE)
    return paper + words(area.label, middle + 0.34j * high, size=text_pt, anchor="middle", bold=True)


def _draw_mark(shape: Sequence[complex]) -> str:
    """How a marked area looks: a firm edge and a hatch, so that it tells itself apart without colour."""
    edge = path(chain_data(shape, closed=True), stroke=INK, pen=2.2)
    return lines(hatch(list(shape), 1.1, 45), stroke=INK, pen=0.9) + edge
