"""A frame: things drawn one over the other in hand millimetres. Frames beside each other share one scale and one
ground, so that start and end can be compared."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Protocol

from fingerpost.draw.pens.labels import Extent, around
from fingerpost.draw.pens.svg import BLACK, MM_PER_PT, WHITE, Position, disc, words
from fingerpost.model.words import Hand


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
    """Things from far to near, as they are for a left hand; a right one is its mirror image. `far`: seen from far away,
    as a person beside whom a hand is seen from near: the two have scales of their own."""

    things: tuple[Thing, ...]
    turn: complex = 1 + 0j
    far: bool = False

    def place(self, scale: float, hand: Hand = "left", *, fine: bool = False) -> Position:
        """How the frame lies on paper, about its own zero point."""
        return Position(scale=scale, flip=hand == "right", turn=self.turn, fine=fine)

    def box(self, place: Position) -> Extent:
        """What it fills on paper."""
        return around([point for thing in self.things for point in thing.cover(place)])

    def fit(self, width: float, height: float, *, fine: bool = False) -> float:
        """The largest scale at which it has room in `width` x `height` mm.

        Signs keep their size on paper, so that the box does not grow with the scale alone: from below, each step comes
        closer to the room and never beyond it.
        """
        scale = 0.02
        for _ in range(6):
            box = self.box(self.place(scale, fine=fine))
            scale *= min(width / (box.right - box.left), height / (box.bottom - box.top))
        return scale

    def draw(self, place: Position) -> list[str]:
        return [thing.draw(place) for thing in self.things]


def draw_badge(number: int, centre: complex, size: float) -> str:
    """The number of a step, white on a black disc; `size` in points."""
    em = size * MM_PER_PT
    text = words(str(number), centre + 0.36j * em, size=size, anchor="middle", bold=True, fill=WHITE)
    return disc(centre, (0.62 if number < 10 else 0.78) * em, fill=BLACK) + text
