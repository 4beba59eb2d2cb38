"""One open hand with what is marked on it: HandPicture."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from fingerpost.draw.bodies.back_lines import back_blades, nails
from fingerpost.draw.bodies.creases import palm_blades
from fingerpost.draw.bodies.fingers import Hand4, Spreads, lay_fingers, spreads_for
from fingerpost.draw.bodies.landmarks import HandMark, find_mark
from fingerpost.draw.bodies.outline import hand_outline
from fingerpost.draw.hands.bands import draw_band
from fingerpost.draw.hands.tape import seen_pieces
from fingerpost.draw.hands.tape_letters import draw_letter, place_letters
from fingerpost.draw.pens.blades import draw_blades
from fingerpost.draw.pens.curves import hatch, sample
from fingerpost.draw.pens.labels import (
    Callout,
    Extent,
    Label,
    Silhouette,
    around,
    draw_block,
    draw_label,
    place_labels,
    text_box,
)
from fingerpost.draw.pens.letters import block_height, wrap
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    INK,
    MM_PER_PT,
    OUTLINE,
    TINT,
    WHITE,
    Position,
    chain_data,
    curve_data,
    disc,
    document,
    group,
    lines,
    path,
)
from fingerpost.model.words import Finger
from fingerpost.plan.base.pictures import HandPicture

SMALL = 0.28
"""Below this scale (a hand about 45 mm wide) the finest lines are left out."""
EDGE = 1.0
"""Free space (mm) round the drawing."""
RING, RING_ROOM, RING_MOST, RING_PEN = 4.6, 1.0, 9.0, 2.0
"""A ring round a spot: its least width, its distance from the mark, both mm on paper; the width from which a mark is
seen without one; its pen in points."""
_THUMB_SIDE: tuple[Finger, ...] = ("index", "middle")


Name = tuple[tuple[str, ...], Extent, bool]
"""Lines, their box, whether they are bold."""


@dataclass(frozen=True, kw_only=True)
class Layout:
    """Everything placed on paper, but not yet moved so that it starts at 0."""

    place: Position
    labels: list[Label]
    letters: list[Label]
    names: list[Name]
    column: float
    bounds: Extent


def draw_hand(picture: HandPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """The whole picture, `width_mm` wide; its height follows."""
    layout = _fit(picture, width_mm, text_pt)
    bounds = layout.bounds
    shift = complex((width_mm - (bounds.right - bounds.left)) / 2 - bounds.left, EDGE - bounds.top)
    moved = _fitted(picture, layout.place.scale, shift, layout.column, text_pt)
    body = [
        group(hand_parts(picture, moved.place), name=f"{prefix}-hand"),
        group((draw_label(label) for label in moved.labels), name=f"{prefix}-labels"),
        group((draw_block(text, box, text_pt, bold=bold) for text, box, bold in moved.names), name=f"{prefix}-names"),
    ]
    if moved.letters:
        body.append(group((draw_letter(letter) for letter in moved.letters), name=f"{prefix}-letters"))
    return document(picture.title, width_mm, bounds.bottom - bounds.top + 2 * EDGE, body)


def hand_parts(picture: HandPicture, place: Position) -> list[str]:
    """The hand itself, without words, lying at `place`: skin, marks, creases, contour, tape."""
    spreads = _spreads(picture)
    fingers = lay_fingers(spreads)
    outline = place.curve(hand_outline(spreads, _needs_forearm(picture)))
    small = place.scale < SMALL
    marks = [find_mark(s.landmark, s.finger, s.side, fingers) for s in picture.spots]
    parts = [path(curve_data(outline), fill=WHITE)]
    parts += [draw_mark(mark, place, near=mark.face in ("both", picture.view)) for mark in marks]
    parts += _inner_lines(picture, fingers, spreads, place, small)
    parts.append(path(curve_data(outline), stroke=BLACK, pen=OUTLINE))
    for tape in picture.tapes:
        parts += [draw_band(piece, place) for piece in seen_pieces(tape, picture.view, fingers, spreads)]
    parts += [disc(centre, r, fill="none", stroke=INK, pen=RING_PEN) for centre, r in _rings(picture, fingers, place)]
    return parts


def _rings(picture: HandPicture, fingers: Hand4, place: Position) -> list[tuple[complex, float]]:
    """Middle and radius of the pen for each spot that gets a ring; a mark that is large by itself gets none."""
    found = []
    for spot in picture.spots if picture.ring else ():
        mark = find_mark(spot.landmark, spot.finger, spot.side, fingers)
        box = around(place.points([point for area in mark.areas for point in area]))
        wide, high = box.right - box.left, box.bottom - box.top
        if max(wide, high) < RING_MOST:
            middle = complex(box.left + wide / 2, box.top + high / 2)
            found.append((middle, (max(RING, max(wide, high) + RING_ROOM) - RING_PEN * MM_PER_PT) / 2))
    return found


def _spreads(picture: HandPicture) -> Spreads:
    return spreads_for(tuple(frozenset((t.finger, t.partner)) for t in picture.tapes if t.partner))


def _needs_forearm(picture: HandPicture) -> bool:
    return any(spot.landmark == "forearm" for spot in picture.spots)


def _inner_lines(picture: HandPicture, fingers: Hand4, spreads: Spreads, place: Position, small: bool) -> list[str]:
    if picture.view == "palm":
        return [draw_blades(palm_blades(fingers), place, small=small)]
    plates = [path(curve_data(place.curve(nail), True), stroke=BLACK, pen=FINE) for nail in nails(fingers)]
    return [draw_blades(back_blades(fingers, spreads), place, small=small), *plates]


def draw_mark(mark: HandMark, place: Position, *, near: bool) -> str:
    """Tint, hatch and a firm edge; only a dashed edge where the part lies on the other face."""
    parts = []
    for area in mark.areas:
        shape = place.points(area)
        data = chain_data(shape, closed=True)
        if near:
            parts.append(path(data, fill=TINT))
            parts.append(lines(hatch(shape, 0.95, 45), stroke=INK, pen=0.75))
        parts.append(path(data, stroke=INK, pen=1.25, dash="" if near else "1.1 0.7"))
    return "".join(parts)


def _fit(picture: HandPicture, width: float, text_pt: float) -> Layout:
    """The largest hand that leaves room for its words, with the words in narrow or wider columns."""
    found = [_largest(picture, width, text_pt, share * width) for share in (0.2, 0.3)]
    return max(found, key=lambda layout: layout.place.scale)


def _largest(picture: HandPicture, width: float, text_pt: float, column: float) -> Layout:
    """Steps of 3 % from the full width down. Why no bisection: a little smaller may need more room (past the thumb)."""
    scale = width / 148
    while True:
        layout = _fitted(picture, scale, 0j, column, text_pt)
        if layout.bounds.right - layout.bounds.left <= width - 2 * EDGE or scale < 0.06:
            return layout
        scale *= 0.97


def _fitted(picture: HandPicture, scale: float, origin: complex, column: float, text_pt: float) -> Layout:
    """All places at a scale, the wrist at `origin`, labels at most `column` mm wide."""
    flip = (picture.hand == "left") == (picture.view == "palm")
    place = Position(scale=scale, origin=origin, flip=flip)
    spreads = _spreads(picture)
    fingers = lay_fingers(spreads)
    skin = place.points(_skin(spreads, _needs_forearm(picture)))
    names = _place_names(picture, fingers, place, skin, text_pt)
    silhouette = Silhouette([skin, *(box.corners for _, box, _ in names)])
    labels = place_labels(_callouts(picture, fingers, place), silhouette, column, text_pt)
    if picture.hand_name:
        low = max(point.imag for point in skin)
        text = tuple(wrap(picture.hand_name, 150 * scale, text_pt, bold=True))
        middle = complex(place.at(-36j).real, low + 1.6 + block_height(len(text), text_pt) / 2)
        names.append((text, text_box(text, middle, text_pt, bold=True), True))
    letters = [
        label
        for tape in picture.tapes
        for label in place_letters(seen_pieces(tape, picture.view, fingers, spreads), tape, fingers, place, text_pt)
    ]
    boxes = [label.box for label in (*labels, *letters)] + [box for _, box, _ in names]
    skin += [at + r * z for at, r in _rings(picture, fingers, place) for z in (-1, 1, -1j, 1j)]
    return Layout(place=place, labels=labels, letters=letters, names=names, column=column, bounds=around(skin, boxes))


@cache
def _skin(spreads: Spreads, forearm: bool) -> tuple[complex, ...]:
    """A coarse contour, for finding free room."""
    return tuple(sample(hand_outline(spreads, forearm), 2))


def _callouts(picture: HandPicture, fingers: Hand4, place: Position) -> list[Callout]:
    """Words for the marked places: index and middle finger to the thumb's side, the others to the little finger's."""
    callouts = []
    for spot in picture.spots:
        if not spot.label:
            continue
        anchor = find_mark(spot.landmark, spot.finger, spot.side, fingers).anchor
        thumb_side = anchor.real > -5 if anchor.imag < 60 else spot.finger in _THUMB_SIDE
        callouts.append(
            Callout(text=spot.label, target=place.at(anchor), where="left" if thumb_side == place.flip else "right")
        )
    return callouts


def _place_names(
    picture: HandPicture, fingers: Hand4, place: Position, skin: list[complex], text_pt: float
) -> list[Name]:
    """Names above the finger tips, each pushed up until it is clear of the hand and the others."""
    placed: list[Name] = []
    for finger, name in sorted(picture.finger_names, key=lambda row: fingers[row[0]].at(fingers[row[0]].total).imag):
        line = fingers[finger]
        tip = place.at(line.at(line.total))
        high = block_height(1, text_pt)
        lean = {"index": 1.5, "little": -1.5}.get(finger, 0.0) * (-1 if place.flip else 1)
        middle = tip + complex(lean, -1.2 - high / 2)
        box = text_box((name,), middle, text_pt)
        while any(box.touches(other, 0.9) for _, other, _ in placed) or any(_holds(box, p) for p in skin):
            middle -= 0.4j
            box = text_box((name,), middle, text_pt)
        placed.append(((name,), box, False))
    return placed


def _holds(box: Extent, point: complex) -> bool:
    return box.left - 0.6 < point.real < box.right + 0.6 and box.top - 0.6 < point.imag < box.bottom + 0.6
