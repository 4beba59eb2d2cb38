"""Kilograms and pounds: every sum is in kilograms, and what is read and printed is in the unit of the case.

A pound is 0.45359237 kg exactly, by the agreement of 1959 (NIST SP 811, 2008, appendix B.8), so that nothing is lost on
the way there and back: a number that somebody typed is printed as they typed it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction
from typing import Literal

Units = Literal["kg", "lb"]
UNITS: tuple[Units, ...] = ("kg", "lb")
KG_A_UNIT: Mapping[Units, Fraction] = {"kg": Fraction(1), "lb": Fraction("0.45359237")}


def read_exactly(number: float) -> Fraction:
    """A written decimal number as the fraction that its writer meant: 0.1 is a tenth."""
    return Fraction(repr(float(number)))


def to_kg(amount: float, units: Units) -> float:
    """An amount in `units` as kilograms: pounds x 0.45359237. What is no number stays none."""
    return float(read_exactly(amount) * KG_A_UNIT[units]) if math.isfinite(amount) else amount


def from_kg(kg: float, units: Units) -> float:
    """Kilograms as an amount in `units`: kilograms / 0.45359237 are pounds."""
    return float(read_exactly(kg) / KG_A_UNIT[units]) if math.isfinite(kg) else kg


def write_mass(kg: float, units: Units) -> str:
    """Kilograms in the unit of a case: '12.5 kg', '27.5 lb'. No more digits than a plate has."""
    return f"{round(from_kg(kg, units), 2):g} {units}"
