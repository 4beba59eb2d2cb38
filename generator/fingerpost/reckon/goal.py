"""The goal of a strength test: a share of what the healthy hand pulls."""

from __future__ import annotations

import math
from dataclasses import dataclass

from fingerpost.model.masses import KG_A_UNIT, Units, read_exactly, write_mass
from fingerpost.reckon.why import DESIGN_CHOICE, Why


@dataclass(frozen=True)
class Goal:
    """What the sore hand must pull, kg, and how that came about."""

    kg: float
    why: Why


def reckon_goal(healthy_kg: float, share_percent: int, units: Units = "kg") -> Goal:
    """goal = share × healthy hand, rounded up to a tenth of a kilogram, or of a pound: it must never be too low."""
    unit = KG_A_UNIT[units]
    tenths = math.ceil(read_exactly(healthy_kg) / unit * share_percent / 10)
    kg = float(tenths * unit / 10)
    inputs = (("share", f"{share_percent} %"), ("healthy hand", write_mass(healthy_kg, units)))
    formula = "share × healthy hand = goal, rounded up to a tenth"
    return Goal(kg, Why("goal of the strength test", write_mass(kg, units), formula, inputs, DESIGN_CHOICE))
