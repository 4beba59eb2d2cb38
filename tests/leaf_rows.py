"""The leaves that every print engine sets, and how far a part may be from the height that was reckoned."""

from __future__ import annotations

from site_under_test import whole_library
from sweep.cases import TODAY, Chosen, make_case

from fingerpost.plan.base.paper import Handout
from fingerpost.plan.leaf.handout import plan_handout

HIGHER_MM = 0.5
"""So much higher than reckoned a part may be set: the spare room of a side is more than all of them together."""
LOWER = 0.03
USUAL = {
    "finger": "middle", "age": "adult", "hand": "left", "side": None, "allergy": False, "visit": "later",
    "strength": "sore hand weaker", "share": False, "clinic": True, "checked": True, "note": True,
}  # fmt: skip
ROWS = {
    "pulley on the wall": ("pulley", {"step": ("II", "easy-climbing"), "place": "a2-pulley"}),
    "pulley, densest grips": ("pulley", {"step": ("II", "build"), "place": "a2-pulley"}),
    "pulley, first visit": ("pulley", {"step": ("II", "settle"), "place": "a2-pulley", "visit": "first"}),
    "collateral, Letter": (
        "collateral-sprain",
        {"step": ("II", "settle"), "place": "pip-joint", "side": "radial", "paper": "Letter", "visit": "first"},
    ),
    "collateral, most circles": (
        "collateral-sprain",
        {"step": ("II", "move"), "place": "pip-joint", "side": "radial"},
    ),
    "flexor, most rows": ("flexor-strain", {"step": ("II", "easy-climbing"), "place": "flexor-muscles"}),
    "growth plate, stop": ("growth-plate", {"step": ("any", "stop"), "place": "growth-plate", "age": "under-18"}),
}


def plan(name: str, **changed: object) -> Handout:
    protocol, row = ROWS[name]
    found = whole_library().find_protocol(protocol)
    assert found
    return plan_handout(whole_library(), make_case(whole_library(), Chosen(found, {**USUAL, **row, **changed})), TODAY)
