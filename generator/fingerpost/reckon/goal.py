"""The goal of a strength test: a share of what the healthy hand pulls."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fingerpost.reckon.why import DESIGN_CHOICE, Why


@dataclass(frozen=True)
class Goal:
    """What the sore hand must pull, kg, and how that came about."""

    kg: float
    why: Why


def reckon_goal(healthy_kg: float, share_percent: int) -> Goal:
    """goal = share × healthy hand, rounded up to a tenth of a kilogram: a goal must never be too low."""
    kg = math.ceil(round(healthy_kg * share_percent / 10, 6)) / 10
    inputs = (("share", f"{share_percent} %"), ("healthy hand", f"{healthy_kg:g} kg"))
    formula = "share × healthy hand = goal, rounded up to a tenth"
    return Goal(kg, Why("goal of the strength test", f"{kg:g} kg", formula, inputs, DESIGN_CHOICE))
