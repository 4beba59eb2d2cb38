"""A frame: things drawn one over the other in hand millimetres. Frames beside each other share one scale and one
ground, so that start and end can be compared."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Protocol

from fingerpost.draw.pens.labels import Extent, around
from fingerpost.draw.pens.svg import BLACK, MM_PER_PT, WHITE, Position, disc, words


class Thing(Protocol):
    """What can stand in a frame. `cover`: the outer points of what it fills, on paper."""

    def cover(self, place: Position) -> list[complex]: ...

    def draw(self, place: Position) -> str: ...


@dataclass(frozen=True)
class Drawn:
    """A thing made of a function and the points it fills, in hand mm."""

    paint: Callable[[Position], str]
    points: tuple[complex, ...] = ()

    def cover(self, place: Position) -> list[complex]:
        return place.points(self.points)

    def draw(self, place: Position) -> str:
        return self.paint(place)


@dataclass(frozen=True)
class Moved:
    """A thing moved, turned and mirrored (left to right, first): the other hand is the same drawing again."""

    thing: Thing
    offset: complex = 0j
    turn: complex = 1 + 0j
    mirror: bool = False

    def cover(self, place: Position) -> list[complex]:
        return self.thing.cover(self._inner(place))

    def draw(self, place: Position) -> str:
        return self.thing.draw(self._inner(place))

    def _inner(self, place: Position) -> Position:
        turn = place.turn * self.turn
        return replace(
            place,
            origin=place.at(self.offset),
            flip=place.flip ^ self.mirror,
            turn=turn.conjugate() if self.mirror else turn,
        )


@dataclass(frozen=True)
class Frame:
    """Things from far to near. `flip` mirrors the frame (the hand seen the other way), `zoom` enlarges it beside its
    neighbours: a person beside a hand."""

    things: tuple[Thing, ...]
    flip: bool = False
    turn: complex = 1 + 0j
    zoom: float = 1.0

    def place(self, scale: float, *, origin: complex = 0j, mirror: bool = False, fine: bool = False) -> Position:
        """How the frame lies on paper. `mirror`: for the other hand."""
        return Position(
            scale=self.zoom * scale, origin=origin, flip=self.flip ^ mirror, turn=self.turn, fine=fine
        )  # fmt: skip

    def box(self, place: Position) -> Extent:
        """What it fills on paper."""
        return around([point for thing in self.things for point in thing.cover(place)])

    def draw(self, place: Position) -> list[str]:
        return [thing.draw(place) for thing in self.things]


@dataclass(frozen=True)
class FrameRow:
    """Frames beside each other with their boxes at one scale, about their own zero points."""

    frames: tuple[Frame, ...]
    mirror: bool
    fine: bool

    def boxes(self, scale: float) -> list[Extent]:
        return [frame.box(self.place(frame, scale)) for frame in self.frames]

    def place(self, frame: Frame, scale: float, origin: complex = 0j) -> Position:
        return frame.place(scale, origin=origin, mirror=self.mirror, fine=self.fine)

    def fit(self, width: float, height: float, gap: float) -> float:
        """The largest scale at which all stand beside each other in `width` x `height` mm.

        Signs keep their size on paper, so that boxes do not grow with the scale alone: from below, each step comes
        closer to the room and never beyond it.
        """
        room, scale = width - gap * (len(self.frames) - 1), 0.02
        for _ in range(7):
            boxes = self.boxes(scale)
            wide = sum(box.right - box.left for box in boxes)
            high = max(box.bottom - box.top for box in boxes)
            scale *= min(room / wide, height / high)
        return scale


def draw_badge(number: int, centre: complex, size: float) -> str:
    """The number of a step, white on a black disc; `size` in points."""
    em = size * MM_PER_PT
    text = words(str(number), centre + 0.36j * em, size=size, anchor="middle", bold=True, fill=WHITE)
    return disc(centre, (0.62 if number < 10 else 0.78) * em, fill=BLACK) + text
