"""The pace of a case: no stage is passed over, and a finger that grows has its weeks, unless somebody says why."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from fingerpost.model.case import Case
from fingerpost.model.library import Path
from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.times import Span
from fingerpost.read.validate import Finding
from fingerpost.reckon.windows import GROWTH_STAGE_DAYS

_HINT = "Write the reason into `pace_reason` (it is kept in the case and not printed), or correct the stages."


def find_unfit_pace(case: Case, protocol: Protocol, stages: tuple[Stage, ...]) -> Iterator[Finding]:
    """What needs a stated reason. Days and ids have been found to be in order."""
    if case.pace_reason:
        return
    if case.age_band == "under-18" and case.doctor_cleared:
        yield from _find_early_load(case, stages)
    names = [stage.id for stage in stages]
    reached: list[tuple[Path, int]] = [(("began", n, "stage"), names.index(b.stage)) for n, b in enumerate(case.began)]
    if not any(b.stage == case.stage for b in case.began):
        reached.append((("stage",), names.index(case.stage)))
    if protocol.stop:
        reached.insert(0, (("stage",), 0))  # a stop always came before: nobody begins with the wall
    for (_, before), (path, after) in pairwise(reached):
        if after - before > 1:
            passed = ", ".join(f"'{stages[at].name}'" for at in range(before + 1, after))
            yield (path if path[0] == "began" else ("stage",)), f"{passed} was passed over", _HINT
            return
    if protocol.stop:
        yield from _find_short_growth(case, stages)


def _find_early_load(case: Case, stages: tuple[Stage, ...]) -> Iterator[Finding]:
    """A stage with a grip or a load that a growing finger began before a doctor had cleared it."""
    used = {s.id: s.name for s in stages if s.grips.keep or s.grips.limit or s.load}
    for n, begun in enumerate(case.began):
        if begun.stage in used and begun.date < str(case.doctor_cleared):
            message = f"'{used[begun.stage]}' began before a doctor had cleared the finger"
            yield ("began", n, "date"), message, "Correct the day, or say in `pace_reason` how that came."
            return


def _find_short_growth(case: Case, stages: tuple[Stage, ...]) -> Iterator[Finding]:
    names = [stage.id for stage in stages]
    for n, (before, after) in enumerate(pairwise(case.began), 1):
        took = (after.date.day - before.date.day).days
        if names.index(before.stage) > 0 and took < GROWTH_STAGE_DAYS:
            name = stages[names.index(before.stage)].name
            message = f"'{name}' took {Span(took, 'days')}: for a finger that grows, {GROWTH_STAGE_DAYS} are the fewest"
            yield ("began", n, "date"), message, "If the doctor has set it otherwise, say so in `pace_reason`."
