"""Taping: it lasts as long as it must, and fits the finger."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import product

from fingerpost.checks.base.walk import list_entries, list_protocols
from fingerpost.checks.course.stages import list_home_grades
from fingerpost.model.audience import may_mean
from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.shared import BuddyRule, TapeScene, Taping
from fingerpost.problems import Problem, suggest
from fingerpost.reckon.tape import SEGMENTS
from fingerpost.reckon.taping_end import TAPING_AFTER_WEEKS

_ONE_FINGER: frozenset[TapeScene] = frozenset({"rub", "test"})
_RING: frozenset[TapeScene] = frozenset({"lay-end", "first-turn", "second-turn"})
_H_STRIP: frozenset[TapeScene] = frozenset({"slit", "bridge", "near-tails", "bend-joint", "far-tails"})
_PAIR: frozenset[TapeScene] = frozenset({"gauze", "near-pair", "far-pair", "bare-joints", "bend-both"})
_SPLINT: frozenset[TapeScene] = frozenset({"sleeve", "into-splint", "near-strap", "far-strap", "free-joints"})
_MOULDED: frozenset[TapeScene] = frozenset(
    {"raise-hand", "slide-on", "over-joint", "turn-pad", "lock-ring", "test"}
)  # fmt: skip
_CHOOSING: Mapping[BuddyRule, frozenset[TapeScene]] = {
    "none": frozenset(), "stronger": frozenset({"stronger"}), "injured-side": frozenset({"hurt-side", "sore-web"}),
}  # fmt: skip
MOST_SHOWN = 3
"""How many pictures of steps a leaf has room for."""


def list_drawable(taping: Taping) -> frozenset[TapeScene]:
    """What can be drawn of a taping, by what it is and where it lies."""
    own: frozenset[TapeScene] = frozenset({"wash", "cut"} if taping.is_cut else {"wash"})
    if taping.neighbour != "none":
        return own | _PAIR | _CHOOSING[taping.neighbour]
    if taping.kind == "soft":
        return own | {"open-ring", "close-ring", "test"}
    if taping.kind == "splint":
        return own | (_MOULDED if taping.level in ("a2", "a4") else _SPLINT)
    return own | (_H_STRIP | {"test"} if taping.kind == "h-strip" else _RING | _ONE_FINGER)


def find_steps_that_cannot_be_drawn(library: Library) -> Iterator[Problem]:
    """A step of a taping must be drawn as something that its kind has, and no two steps as the same."""
    for part in list_entries(library, "tapings"):
        drawable, before = list_drawable(part.value), set[TapeScene]()
        for number, step in enumerate(part.value.steps):
            if step.draws not in drawable:
                message = f"'{step.draws}' cannot be drawn of this taping"
                yield part.problem(("steps", number, "draws"), message, f"Choose from: {', '.join(sorted(drawable))}.")
            elif step.draws in before:
                message = f"'{step.draws}' is drawn in a step before: two pictures would look alike"
                yield part.problem(("steps", number, "draws"), message, "Make one step of the two.")
            before.add(step.draws)


def find_strips_that_are_cut_in_no_step(library: Library) -> Iterator[Problem]:
    """A taping that is cut must have a step that draws the cut, because its picture tells the lengths."""
    for part in list_entries(library, "tapings"):
        if part.value.is_cut and not any(step.draws == "cut" for step in part.value.steps):
            yield part.problem(("steps",), "strips are cut, and no step shows how long", "Add one that draws 'cut'.")


def find_tapings_that_a_leaf_cannot_show(library: Library) -> Iterator[Problem]:
    """One to three steps of a taping must have a brief for the leaf; what a therapist makes may have none."""
    for part in list_entries(library, "tapings"):
        shown = sum(bool(step.brief) for step in part.value.steps)
        if shown > MOST_SHOWN or (not shown and part.value.kind != "splint"):
            message = f"{shown} steps have a brief; a leaf shows 1 to {MOST_SHOWN}"
            yield part.problem(("steps",), message, "Add or leave out `brief`.")


def _is_taped(stage: Stage, grade: str) -> bool:
    return any(may_mean(use.for_, grade=grade) for use in stage.taping)


def find_second_devices_on_a_segment(library: Library) -> Iterator[Problem]:
    """In one stage, a segment of the finger must get one taping or splint at the most for one place and grade."""
    known = {taping.id: taping for taping in library.vocabularies.tapings}
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            told: set[int] = set()
            for place, grade in product(document.value.places, list_home_grades(document.value)):
                taken: dict[str, str] = {}
                for at, use in enumerate(stage.taping):
                    if use.taping not in known or at in told or not may_mean(use.for_, place=place, grade=grade):
                        continue
                    first = [taken[s] for s in SEGMENTS[known[use.taping].level] if s in taken]
                    if first:
                        told.add(at)
                        message = f"'{use.taping}' lies where '{first[0]}' lies already, at {place} in grade {grade}"
                        hint = "Choose one of the two there, with `for`."
                        yield document.problem(("stages", number, "taping", at), message, hint)
                    taken |= dict.fromkeys(SEGMENTS[known[use.taping].level], use.taping)


def _list_taped(protocol: Protocol, grade: str) -> list[int]:
    """The numbers of the stages in which a grade is taped."""
    stages = enumerate(protocol.stages)
    return [number for number, stage in stages if grade not in stage.skipped_by and _is_taped(stage, grade)]


def find_taping_that_ends_early(library: Library) -> Iterator[Problem]:
    """Taping must go on for at least 4 weeks after full climbing."""
    for document in list_protocols(library):
        for number, timeline in enumerate(document.value.timelines):
            for end in ("least", "most") if timeline.taping_ends else ():
                tape, full = getattr(timeline.taping_ends, end), getattr(timeline.full_climbing, end)
                if tape.rough_days < full.rough_days + TAPING_AFTER_WEEKS * 7:
                    message = f"{tape} must be {TAPING_AFTER_WEEKS} weeks or more after full climbing, {full}"
                    yield document.problem(("timelines", number, "taping_ends", end), message)


def find_taping_without_an_end(library: Library) -> Iterator[Problem]:
    """A grade that is taped must have an end of taping, and one that is not must have null."""
    for document in list_protocols(library):
        home = list_home_grades(document.value)
        for number, timeline in enumerate(document.value.timelines):
            taped = bool(_list_taped(document.value, timeline.grade))
            if timeline.grade in home and taped != (timeline.taping_ends is not None):
                if taped:
                    message = f"stages tape grade {timeline.grade}, so this must say when taping ends"
                else:
                    message = f"no stage tapes grade {timeline.grade}, so this must be null"
                yield document.problem(("timelines", number, "taping_ends"), message)


def _find_untaped(protocol: Protocol, grade: str) -> list[int]:
    """The stages without tape between the first taped stage of a grade and full climbing."""
    full = [number for number, stage in enumerate(protocol.stages) if stage.milestone == "full-climbing"]
    taped = _list_taped(protocol, grade)
    between = range(taped[0], full[0] + 1) if full and taped else range(0)
    return [n for n in between if n not in taped and grade not in protocol.stages[n].skipped_by]


def find_gaps_in_taping(library: Library) -> Iterator[Problem]:
    """Once a grade is taped, every stage up to full climbing must tape it too."""
    for document in list_protocols(library):
        gaps: dict[int, list[str]] = {}
        for grade in list_home_grades(document.value):
            for number in _find_untaped(document.value, grade):
                gaps.setdefault(number, []).append(grade)
        for number, grades in sorted(gaps.items()):
            stage = document.value.stages[number].id
            message = f"the stage '{stage}' must tape grade {', '.join(grades)} too, as a stage before it does"
            yield document.problem(("stages", number, "taping"), message)


def find_glue_without_another_way(library: Library) -> Iterator[Problem]:
    """A taping with glue must name the one without glue that takes its place, and no other taping must name one."""
    made = {taping.id for taping in library.vocabularies.tapings if not taping.is_cut}
    for part in list_entries(library, "tapings"):
        other = part.value.without_glue
        if not part.value.is_cut and other:
            yield part.problem(("without_glue",), "this has no glue itself", "Leave the key out.")
        elif part.value.is_cut and (other is None or other not in made):
            message = "not every skin bears tape, so this must name a taping of the kind soft or splint"
            yield part.problem(("without_glue",), message, suggest(other or "", sorted(made)))


def find_side_taping_without_a_side(library: Library) -> Iterator[Problem]:
    """A taping to the injured side must stand only in a protocol that needs a side."""
    sided = {taping.id for taping in library.vocabularies.tapings if taping.neighbour == "injured-side"}
    for document in list_protocols(library):
        told: set[str] = set()
        for number, stage in enumerate(document.value.stages):
            for at, use in enumerate(stage.taping):
                if use.taping in sided - told and not document.value.needs_side:
                    told.add(use.taping)
                    message = f"'{use.taping}' goes to the injured side, and this protocol has no side"
                    hint = "Choose another taping, or write needs_side: true."
                    yield document.problem(("stages", number, "taping", at, "taping"), message, hint)
