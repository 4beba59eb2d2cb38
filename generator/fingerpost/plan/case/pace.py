"""The pace of a case: no stage is passed over, and a finger that grows has its weeks, unless somebody says why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from fingerpost.model.case import Began, Case
from fingerpost.model.library import Path
from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.times import Span
from fingerpost.read.validate import Finding
from fingerpost.reckon.windows import GROWTH_STAGE_DAYS

Told = Sequence[tuple[Path, Began]]
_HINT = "Write the reason into `pace_reason` (it is kept in the case and not printed), or correct the stages."


def _at(path: Path, key: str) -> Path:
    """Where a begin is told: a key of its entry, or today's stage itself."""
    return path if path == ("stage",) else (*path, key)


def find_unfit_pace(case: Case, protocol: Protocol, stages: tuple[Stage, ...], told: Told) -> Iterator[Finding]:
    """What needs a stated reason. Days and ids have been found to be in order. `told`: see `list_begun`."""
    if case.pace_reason:
        return
    if case.age_band == "under-18" and case.doctor_cleared:
        yield from _find_early_load(case, stages, told)
    names = [stage.id for stage in stages]
    reached = [(_at(path, "stage"), names.index(begun.stage)) for path, begun in told]
    if not any(begun.stage == case.stage for _, begun in told):
        reached.append((("stage",), names.index(case.stage)))
    if protocol.stop:
        reached.insert(0, (("stage",), 0))  # a stop always came before: nobody begins with the wall
    for (_, before), (path, after) in pairwise(reached):
        if after - before > 1:
            passed = ", ".join(f"'{stages[at].name}'" for at in range(before + 1, after))
            yield path, f"{passed} was passed over", _HINT
            return
    if protocol.stop:
        yield from _find_short_growth(stages, told)


def _find_early_load(case: Case, stages: tuple[Stage, ...], told: Told) -> Iterator[Finding]:
    """A stage with a grip or a load that a growing finger began before a doctor had cleared it."""
    used = {s.id: s.name for s in stages if s.grips.keep or s.grips.limit or s.load}
    for path, begun in told:
        if begun.stage in used and begun.date < str(case.doctor_cleared):
            message = f"'{used[begun.stage]}' began before a doctor had cleared the finger"
            yield _at(path, "date"), message, "Correct the day, or say in `pace_reason` how that came."
            return


def _find_short_growth(stages: tuple[Stage, ...], told: Told) -> Iterator[Finding]:
    names = [stage.id for stage in stages]
    for (_, before), (path, after) in pairwise(told):
        took = (after.date.day - before.date.day).days
        if names.index(before.stage) > 0 and took < GROWTH_STAGE_DAYS:
            name = stages[names.index(before.stage)].name
            message = f"'{name}' took {Span(took, 'days')}: for a finger that grows, {GROWTH_STAGE_DAYS} are the fewest"
            yield _at(path, "date"), message, "If the doctor has set it otherwise, say so in `pace_reason`."
