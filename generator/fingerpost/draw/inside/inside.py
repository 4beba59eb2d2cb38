"""Under the skin: InsidePicture. Layout of the three kinds; what lies where is in `side_inside` and `inside_parts`."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from fingerpost.draw.inside.inside_forearm import forearm_drawing
from fingerpost.draw.inside.inside_front import front_drawing
from fingerpost.draw.inside.inside_palm import palm_drawing
from fingerpost.draw.inside.inside_parts import NamedPart, Shown
from fingerpost.draw.inside.inside_side import side_drawing
from fingerpost.draw.pens.labels import Callout, Extent, Label, Silhouette, Where, around, draw_label, place_labels
from fingerpost.draw.pens.svg import Position, document, group
from fingerpost.plan.base.pictures import InsideKind, InsidePicture

EDGE = 1.0


_DRAWINGS: dict[InsideKind, Callable[[InsidePicture], Shown]] = {
    "finger-side": side_drawing, "joint-front": front_drawing, "palm-tendons": palm_drawing,
    "forearm": forearm_drawing,
}  # fmt: skip


@dataclass(frozen=True)
class InsideLayout:
    place: Position
    labels: list[Label]
    bounds: Extent


def draw_inside(picture: InsidePicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    shown = _DRAWINGS[picture.kind](picture)
    layout = _fit(picture, shown, width_mm, text_pt)
    bounds = layout.bounds
    shift = complex((width_mm - (bounds.right - bounds.left)) / 2 - bounds.left, EDGE - bounds.top)
    moved = _lay(picture, shown, layout.place.scale, shift, width_mm, text_pt)
    body = [
        group(shown.draw(moved.place), name=f"{prefix}-inside"),
        group((draw_label(label) for label in moved.labels), name=f"{prefix}-labels"),
    ]
    return document(picture.title, width_mm, bounds.bottom - bounds.top + 2 * EDGE, body)


def _fit(picture: InsidePicture, shown: Shown, width: float, size: float) -> InsideLayout:
    """The largest drawing that leaves room for its labels."""
    box = around(Position(flip=shown.flip, turn=shown.turn).points([*shown.outline, *shown.beyond]))
    scale = min((width - 2 * EDGE) / (box.right - box.left), shown.tallest * width / (box.bottom - box.top))
    while True:
        layout = _lay(picture, shown, scale, 0j, width, size)
        if layout.bounds.right - layout.bounds.left <= width - 2 * EDGE or scale < 0.1:
            return layout
        scale *= 0.97


def _lay(
    picture: InsidePicture, shown: Shown, scale: float, origin: complex, width: float, size: float
) -> InsideLayout:
    place = Position(scale=scale, origin=origin, flip=shown.flip, turn=shown.turn)
    skin = place.points(shown.outline)
    callouts = _callouts(picture, shown.parts, place)
    sideways = any(callout.where in ("left", "right") for callout in callouts)
    labels = place_labels(callouts, Silhouette([skin]), (0.24 if sideways else 0.26) * width, size)
    return InsideLayout(place, labels, around([*skin, *place.points(shown.beyond)], [label.box for label in labels]))


def _callouts(picture: InsidePicture, parts: Sequence[NamedPart], place: Position) -> list[Callout]:
    words = dict(picture.labels)
    mirrored: dict[Where, Where] = {"left": "right", "right": "left", "above": "above", "below": "below"}
    callouts = []
    for part in parts:
        text = picture.hurt_label if part.hurt and picture.hurt_label else words.get(part.name, "")
        if text:
            where = mirrored[part.where] if place.flip else part.where
            callouts.append(Callout(text=text, target=place.at(part.anchor), where=where))
    return callouts
