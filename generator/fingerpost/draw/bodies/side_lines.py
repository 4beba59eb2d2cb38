"""What is drawn inside the contours of a finger from the side: folds, wrinkles, nail, and the cut. Drawn by eye."""

from __future__ import annotations

from fingerpost.draw.bodies.side import LEAST_FOLDED, SidePose
from fingerpost.draw.pens.blades import Blade, dashes, draw_blades
from fingerpost.draw.pens.curves import Cubic, free, sample, smooth, spline, straight
from fingerpost.draw.pens.svg import BLACK, FINE, WHITE, Position, curve_data, lines, path

_NAIL = (
    (0.40, 5.55), (0.60, 5.25), (0.80, 4.55), (0.985, 2.9), (0.955, 1.7), (0.80, 2.15), (0.60, 2.5), (0.46, 2.9),
    (0.405, 4.1),
)  # fmt: skip


def side_blades(pose: SidePose) -> list[Blade]:
    """Folds on the palm side, wrinkles on the back."""
    return _folds(pose) + _wrinkles(pose)


def _folds(pose: SidePose) -> list[Blade]:
    blades = []
    for joint, fold in enumerate(pose.folds):
        if fold is None or (joint == 0 and fold.bend < LEAST_FOLDED):
            continue
        deep = max(0.0, fold.distance - 4.6 * pose.k - 2.6)
        length = (2.6 + deep * smooth((fold.bend - 5) / 60)) * (0.55 if joint == 0 else 1.0)
        inward = (pose.joints[joint] - fold.place) / abs(pose.joints[joint] - fold.place)
        bow = 0.12 * length * 1j * inward
        points = (fold.place, fold.place + 0.5 * length * inward + bow, fold.place + length * inward)
        blades.append(Blade(points=points, pen=0.9, head=1.0, tail=0.0))
    if pose.mcp < 50:
        root = _palm_depth(pose, 0.44)
        along = 0.44 * pose.lengths[0]
        base = tuple(pose.at(1, along - 0.25 * d, -root + d) for d in (0.0, 1.9, 3.8))
        blades.append(Blade(points=base, pen=0.8, head=1.0, tail=0.0))
    return blades


def _palm_depth(pose: SidePose, share: float) -> float:
    return next(down for along, _, down in pose.stations(1) if abs(along / pose.lengths[0] - share) < 0.01)


def _wrinkles(pose: SidePose) -> list[Blade]:
    blades = []
    for joint, bend, steps, deep in ((2, pose.pip, (-3.2, 0.0, 3.2), 3.4), (3, pose.dip, (-1.3, 1.1), 2.6)):
        if bend >= 18:
            continue
        skin = (8.4 if joint == 2 else 6.5) * pose.k * (1 + 0.006 * min(bend, 0.0))
        size = deep * (1 - bend / 40)
        for step in steps:
            length = size * (0.7 if step and joint == 2 else 1.0)
            points = tuple(
                pose.beside(joint, step + 0.1 * step * d / deep, skin - d) for d in (0.1, length / 2, length)
            )
            blades.append(Blade(points=points, pen=0.75, head=1.0, tail=0.0, fine=True))
    return blades


def nail_shape(pose: SidePose) -> list[Cubic]:
    """The nail's edge on: its upper side, the free edge, its root, with corners where a nail has them."""
    points = [pose.at(3, share * pose.lengths[2], up * pose.k) for share, up in _NAIL]
    upper, under = spline(free(points[:4])), spline(free(points[4:]))
    return [*upper, straight(points[3], points[4]), *under, straight(points[-1], points[0])]


def cut_line(pose: SidePose) -> list[complex]:
    """A soft S across the metacarpal where the drawing stops."""
    top, low = pose.back[0][0], pose.palm[0][0][0]
    across = low - top
    side = across / abs(across) * 1j
    knots = [top, top + 0.25 * across + 2.2 * side, top + 0.5 * across, top + 0.75 * across - 2.2 * side, low]
    return sample(spline(free(knots)), 6)


def draw_side(
    pose: SidePose, place: Position, *, skin_lines: bool = True, stump: bool = True, fill: str = WHITE
) -> str:  # fmt: skip
    """A finger from the side. Without `skin_lines` for pictures of the inside; `stump`: mark where it is cut."""
    contour = curve_data(place.curve(pose.contour))
    parts = [path(contour, fill=fill, stroke=BLACK, pen=place.contour_pen)]
    if skin_lines:
        parts.append(draw_blades(side_blades(pose), place, small=place.scale < 0.3))
    parts.append(path(curve_data(place.curve(nail_shape(pose)), True), fill=WHITE, stroke=BLACK, pen=FINE))
    if stump:
        on, off = (0.6, 0.5) if place.fine else (1.1, 0.8)
        parts.append(lines(dashes(place.points(cut_line(pose)), on, off), pen=FINE))
    return "".join(parts)
