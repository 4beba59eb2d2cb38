"""How a number came about, and why a number cannot be: in words. The one sibling that others here import."""

from __future__ import annotations

from dataclasses import dataclass, replace

DESIGN_CHOICE = "design choice"
ARITHMETIC = "arithmetic"


@dataclass(frozen=True)
class Why:
    """One number with the way to it.

    `label` says what it is, `result` is the number with its unit, `formula` is a sum in words,
    `inputs` are (name, value with unit) in the order of the formula. `source` is a source id,
    'common-practice', or one of the two constants above.
    """

    label: str
    result: str
    formula: str
    inputs: tuple[tuple[str, str], ...] = ()
    source: str = ARITHMETIC

    def __str__(self) -> str:
        given = "; ".join(f"{name} = {value}" for name, value in self.inputs)
        return f"{self.label}: {self.result}\n    {self.formula}\n    {given or 'no inputs'}\n    from: {self.source}"


def add_inputs(why: Why, *more: tuple[str, str]) -> Why:
    """The same with more of what it was reckoned for, after what it was reckoned from."""
    return replace(why, inputs=(*why.inputs, *more))


@dataclass(frozen=True)
class Fault:
    """A fact of a case that cannot be: where (`path` in the case's own keys) and the sentence that says so."""

    path: tuple[str | int, ...]
    must: str
