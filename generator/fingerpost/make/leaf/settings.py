"""The measures of a leaf, and what gives way when it is full, in which order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from fingerpost.draw.pens.svg import MM_PER_PT
from fingerpost.model.words import Paper, PrintSize

SIZES_MM: dict[Paper, tuple[float, float]] = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
DAYS_OF_A_WEEK = 7
TOP_MM, FOOT_MM, PUNCHED_MM, OTHER_MM = 9.0, 13.0, 18.0, 13.0
LARGE_FOOT_MM: dict[PrintSize, float] = {14: 16.0, 18: 20.0, 24: 22.0}
HEAD_MM = 17.0
"""Above large print that runs on over the pages: what must not be handed out says so at the head of each."""

Step = Literal[
    "less-air", "leading-14", "no-movements", "inside-to-back", "no-cues", "small-pictures", "note-to-back",
    "words-for-no", "no-grip-pictures", "last-to-back", "narrow-days", "daily-to-back", "no-sore-spot", "no-aside",
    "no-inside", "one-week", "small-frames", "dates-as-table", "no-hand", "no-looks", "no-words", "few-lines",
    "no-lines", "no-questions", "since-to-back", "no-since",
]  # fmt: skip
FRONT_STEPS: tuple[Step, ...] = (
    "less-air",
    "leading-14",
    "since-to-back",
    "no-movements",
    "inside-to-back",
    "no-cues",
    "small-pictures",
    "note-to-back",
    "words-for-no",
    "no-grip-pictures",
    "last-to-back",
    "narrow-days",
    "daily-to-back",
    "no-sore-spot",
    "no-aside",
    "one-week",
)
BACK_STEPS: tuple[Step, ...] = (
    "no-looks",
    "no-words",
    "few-lines",
    "less-air",
    "leading-14",
    "small-frames",
    "dates-as-table",
    "no-hand",
    "no-lines",
    "no-since",
    "no-questions",
    "no-inside",
)
"""What gives way, one after the other, until a side holds all that stands on it. Letters never get smaller.

What is left out in the end stands elsewhere, too: what has changed on the front, questions and what lies under the
skin on the sheet about the injury.
"""


@dataclass(frozen=True, kw_only=True)
class Settings:
    """How a side is set: `given` is what has given way so far. `unchecked`: nobody has checked the leaf.

    `for_anybody`: it is meant for nobody in particular.
    """

    paper: Paper
    print_size: PrintSize
    unchecked: bool = False
    for_anybody: bool = False
    given: tuple[Step, ...] = ()

    @property
    def large(self) -> bool:
        """Larger print runs on in one column, over as many sides as it takes."""
        return self.print_size > 12

    @property
    def width_mm(self) -> float:
        return SIZES_MM[self.paper][0] - PUNCHED_MM - OTHER_MM

    @property
    def height_mm(self) -> float:
        return SIZES_MM[self.paper][1] - self.top_mm - self.foot_mm

    @property
    def top_mm(self) -> float:
        return HEAD_MM if self.large and self.unchecked else TOP_MM

    @property
    def foot_mm(self) -> float:
        """The running foot grows with the print, and has two lines in large print."""
        return LARGE_FOOT_MM.get(self.print_size, FOOT_MM)

    @property
    def body_pt(self) -> float:
        return float(self.print_size)

    @property
    def small_pt(self) -> float:
        return 10.0 if not self.large else max(12.0, self.print_size * 0.78)

    @property
    def leading_pt(self) -> float:
        if self.large:
            return self.print_size * 1.21
        return 14.0 if "leading-14" in self.given else 14.5

    @property
    def air_pt(self) -> float:
        """The step of all empty space: headings and boxes stand one or two of it apart."""
        return 2.0 if "less-air" in self.given else 3.5

    @property
    def grip_mm(self) -> float:
        return 14.0 if "small-pictures" in self.given else 18.0

    @property
    def frame_mm(self) -> float:
        return 26.0 if "small-frames" in self.given else 30.0

    @property
    def code_mm(self) -> float:
        return 22.0 if "small-frames" in self.given else 26.0

    @property
    def most_lines(self) -> int:
        """How many lines to write on there are at the most."""
        if "no-lines" in self.given:
            return 0
        return 3 if "few-lines" in self.given else 12

    def give(self, steps: tuple[Step, ...]) -> Iterator[Settings]:
        """The same settings with ever more of these steps, none first."""
        for count in range(len(steps) + 1):
            yield replace(self, given=steps[:count])


def mm(points: float) -> float:
    """Points as millimetres."""
    return points * MM_PER_PT
