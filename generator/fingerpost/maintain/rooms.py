"""The rooms of this package and the floors on which they lie. What a room is for, its own docstring says.

A room imports only from lower floors and from itself, and rooms on one floor know nothing of each other. Some rooms are
divided: the rooms inside lie on floors of their own, and what stands undivided in such a room lies on top of them.
"""

from __future__ import annotations

import importlib
from collections.abc import Iterator
from dataclasses import dataclass

Floors = tuple[tuple[str, ...], ...]

FLOORS: Floors = (
    ("problems", "files"),
    ("model",),
    ("read", "reckon", "changes"),
    ("rewrite", "checks", "plan"),
    ("draw", "maintain"),
    ("make",),
    ("desk",),
    ("run",),
)
"""The lowest first."""

INSIDE: dict[str, Floors] = {
    "changes": (("compare",),),
    "checks": (("base",), ("entries", "course"), ("texts",)),
    "plan": (("base",), ("case", "walls", "machines"), ("person",), ("leaf",), ("injury",), ("pages",)),
    "draw": (
        ("pens",),
        ("bodies", "way"),
        ("props",),
        ("hands", "grips", "inside", "profiles"),
        ("taping", "exercises"),
        ("trials",),
    ),
    "make": (("drawn",), ("leaf",)),
}
"""The floors inside of a room that is divided, the lowest first."""


@dataclass(frozen=True)
class Room:
    """A package of ours, or the one module that is a room of its own.

    `name`: 'plan', or 'plan.pages' for a room inside another. `floor`: that of the outer room. `step`: the floor inside
    of it, from 1 up; the highest for what stands undivided in a divided room; 0 in a room that is not divided.
    """

    name: str
    floor: int
    step: int

    @property
    def outer(self) -> str:
        return self.name.partition(".")[0]

    def lies_below(self, other: Room) -> bool:
        """Whether the other may import from this one."""
        if self.outer == other.outer:
            return self.step < other.step
        return self.floor < other.floor


def list_rooms() -> Iterator[Room]:
    """Every room, from the lowest floor up; the rooms inside of one right after it."""
    for floor, names in enumerate(FLOORS):
        for name in names:
            inside = INSIDE.get(name, ())
            yield Room(name, floor, len(inside) + 1 if inside else 0)
            for step, inner in enumerate(inside, 1):
                yield from (Room(f"{name}.{part}", floor, step) for part in inner)


def read_duty(room: Room) -> str:
    """What a room is for: the first line of its docstring."""
    told = importlib.import_module(f"fingerpost.{room.name}").__doc__ or ""
    return told.partition("\n")[0]
