"""The muscles that bend the fingers, in the forearm, and the tendon that they pull.

General anatomy, from memory: the bellies fill the palm side of the forearm, more on the little finger's side, and
become tendons in its last third. In truth they lie in two layers, and some fingers share one; drawn beside each other,
a belly for each finger is seen.
"""

from __future__ import annotations

from fingerpost.draw.bodies.fingers import lay_fingers
from fingerpost.draw.bodies.landmarks import palm_tendon
from fingerpost.draw.bodies.outline import hand_outline
from fingerpost.draw.inside.inside_palm import tendon
from fingerpost.draw.inside.inside_parts import NamedPart, Shown, draw_area, draw_cord
from fingerpost.draw.pens.blades import Blade, dashes, draw_blades
from fingerpost.draw.pens.curves import free, heading, sample, spline
from fingerpost.draw.pens.svg import (
    BAND,
    BLACK,
    FINE,
    INK,
    OUTLINE,
    TINT,
    WHITE,
    Position,
    chain_data,
    curve_data,
    lines,
    path,
)
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.pictures import InsidePicture

# The bellies together: mm from the wrist, half width to the little finger's side and to the thumb's.
_BELLY = (
    (-62.0, 3.0, 3.0), (-84.0, 14.0, 10.0), (-106.0, 24.0, 18.0), (-132.0, 28.5, 22.5), (-156.0, 25.0, 21.0),
    (-171.0, 20.0, 17.0),
)  # fmt: skip
_MIDDLE = -7.0
_ORDER: tuple[Finger, ...] = FINGERS[::-1]


def belly(finger: Finger) -> tuple[complex, ...]:
    """The belly that pulls one finger: a quarter of them all, the little finger's on its own side."""
    at = _ORDER.index(finger)
    left, right = ([_across(row, k / 4) for row in _BELLY] for k in (at, at + 1))
    return (*sample(spline(free(left)), 5), *sample(spline(free(right[::-1])), 5))


def _across(row: tuple[float, float, float], share: float) -> complex:
    y, ulnar, radial = row
    return complex(_MIDDLE - ulnar + share * (ulnar + radial), y)


def _fibres(finger: Finger) -> list[Blade]:
    at = _ORDER.index(finger)
    rows = [[_across(row, (at + part) / 4) for row in _BELLY[1:-1]] for part in (0.3, 0.55, 0.8)]
    return [Blade(points=tuple(points), pen=0.9, head=0.1, tail=0.1) for points in rows]


def _course(finger: Finger) -> list[complex]:
    """From the fingertip through the palm and the wrist to the belly."""
    line = lay_fingers()[finger]
    root, x = palm_tendon(line, 2.0)[3], line.shape.mcp.real
    end = _across(_BELLY[1], (_ORDER.index(finger) + 0.5) / 4)
    down = [root, complex(0.12 * x + 0.5 * _MIDDLE, -36), complex(0.6 * end.real + 0.4 * _MIDDLE, -64), end]
    return [*tendon(line, False), *sample(spline(free(down)), 4)[1:]]


def forearm_drawing(picture: InsidePicture) -> Shown:
    outline = hand_outline(forearm=True)
    own = belly(picture.finger)
    return Shown(
        outline=sample(outline, 2),
        draw=lambda place: _draw(picture.finger, place),
        parts=[
            NamedPart(name="muscle", anchor=sum(own) / len(own), where="below", hurt=True),
            NamedPart(name="palm-tendon", anchor=_course(picture.finger)[18], where="below"),
        ],
        tallest=0.6,
        flip=picture.hand == "left",
        turn=heading(-90),
    )


def _draw(finger: Finger, place: Position) -> list[str]:
    outline = hand_outline(forearm=True)
    data = curve_data(place.curve(outline))
    parts = [path(data, fill=WHITE)]
    others = [other for other in _ORDER if other != finger]
    parts += [draw_cord(_course(other), place, 2.6) for other in others]
    parts += [draw_area(belly(other), place, fill=BAND) for other in others]
    parts.append(draw_cord(_course(finger), place, 3.2, hurt=True))
    parts.append(path(chain_data(place.points(belly(finger)), True), fill=TINT, stroke=INK, pen=1.5))
    parts.append(draw_blades(_fibres(finger), place, fill=INK))
    parts.append(path(data, stroke=BLACK, pen=OUTLINE))
    cut = place.points([outline[-1][3], outline[0][0]])
    return [*parts, lines(dashes(cut, 1.1, 0.8), pen=FINE)]
