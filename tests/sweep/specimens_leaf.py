"""A specimen for each detector of what only a leaf can get wrong."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.plan.base.blocks import Paragraph
from fingerpost.plan.base.paper import GripFields, Points, TapeHow, Ticks, Verdict, Week
from fingerpost.plan.base.runs import Run, plain, text
from sweep.plant import Specimen, bare, both, listing, with_block, with_section
from sweep.sheets import Told

BUILD = {"step": ("II", "build"), "strength": "sore hand weaker"}


def _with_a_range(told: Told) -> Told:
    def change(block: Week) -> Week:
        at = next(n for n, row in enumerate(block.rows) if " kg" in plain(row.words))
        row = replace(block.rows[at], words=(*block.rows[at].words, Run(" Later 25 kg.")))
        return replace(block, rows=(*block.rows[:at], row, *block.rows[at + 1 :]))

    return with_block(told, Week, change)


def _with_a_test_to_tick(told: Told) -> Told:
    """All that the clinic tests but the strength, under "You tick"."""

    def change(block: Ticks) -> Ticks:
        moved = tuple(item for item in block.clinic if "%" not in plain(item))
        assert moved
        return replace(block, you=(*block.you, *moved), clinic=tuple(i for i in block.clinic if i not in moved))

    return with_block(told, Ticks, change)


def _with_conditions_run_together(told: Told) -> Told:
    def change(block: GripFields) -> GripFields:
        fields = (replace(f, when=tuple(r for r in f.when if r.kind != "strong")) for f in block.fields)
        return replace(block, fields=tuple(fields))

    return with_block(told, GripFields, change)


def _adding(says: str):  # type: ignore[no-untyped-def]
    """More words in the first few lines of the leaf."""
    return lambda told: with_block(told, Points, lambda block: replace(block, items=(*block.items, text(says))))


def _without_the_others(told: Told) -> Told:
    return with_block(told, TapeHow, lambda block: replace(block, others=()))


def _without_daily_life(told: Told) -> Told:
    return with_block(told, Points, lambda block: replace(block, items=(), lead=(text("Go on."),)))


LEAF = {
    "tapings-that-the-leaf-forgets": Specimen(
        _without_the_others,
        protocol="collateral-sprain",
        row={"step": ("II", "first-load"), "place": "pip-joint", "side": "radial", "tapings": "every"},
    ),
    "limits-of-daily-life-that-the-leaf-forgets": Specimen(_without_daily_life, row={"step": ("II", "move")}),
    "more-than-one-load-in-a-row": Specimen(_with_a_range, row={"strength": "sore hand weaker"}),
    "gates-with-the-wrong-hand": Specimen(_with_a_test_to_tick, row=BUILD),
    "conditions-of-no-grip": Specimen(_with_conditions_run_together, row=BUILD),
    "verdicts-against-the-stage": Specimen(
        lambda told: with_block(told, Verdict, lambda block: replace(block, says=("Today: easy climbing on jugs",))),
        row={"step": ("II", "first-load")},
    ),
    "briefs-of-somebody-else": Specimen(
        _adding("Moulded ring on for movements, first with your therapist."), row={"step": ("II", "move")}
    ),
    "figures-without-a-mark": Specimen(_adding("It takes 6 weeks."), row={"step": ("II", "move")}),
    "the-same-on-a-leaf": Specimen(_adding("No fast catches, and no boards of any kind."), row=BUILD),
    "the-same-on-two-enclosures": Specimen(
        lambda told: with_section(told, "injury", Paragraph(words=text("Write one line a day."))),
        row={"enclose": ("diary", "about")},
    ),
    "the-same-stop-in-two-exercises": Specimen(
        listing("Stop if: The joint swells.", section="exercise-x"),
        before=both(bare, listing("Stop if: The joint swells.", section="exercise-y")),
    ),
    "reasons-on-a-follow-up": Specimen(_adding("Not so fast, because it is sore."), row=BUILD),
    "more-words-than-two-sides-hold": Specimen(_adding("ever so slowly and " * 250), row={"step": ("II", "move")}),
}
