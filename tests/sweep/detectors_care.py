"""What a hand therapist would not let out of the room."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.plan.base.blocks import Diary
from fingerpost.plan.base.pictures import DiaryPicture, HandPicture, TapingPicture
from sweep.leaves import BACK, FRONT
from sweep.sayings import saying
from sweep.sheets import Told

saying("alone", r"\bno clinician is needed\b|\bwithout a clinician(?!, once)")
saying(
    "ring stays",
    r"\b(?:ring|splint)\b[^.]*\b(?:stays? on|keep it on|on for|on during|in place)\b|\bwith the (?:ring|splint) on\b"
    r"|\bkeep the (?:moulded )?(?:ring|splint) on\b|\btake the (?:ring|splint) off for\b"
    r"|\b(?:ring|splint) on for\b|\boff only to wash\b",
)
saying(
    "base segment ring",
    r"\bring\b[^.]*\bbase segment\b|\bbase segment\b[^.]*\bring\b|\bsettle it on the base segment\b",
)
saying(
    "passive stretch",
    r"\bmild stretch\b|\bpress gently\b|\bbring the wrist and the fingers back\b|\blumbrical stretch\b",
)
saying("joint tested", r"\bjoint does not open\b|\btests whether it opens\b|\bfirm stop\b|\bjoint opens no more than\b")
saying("swelling asked", r"\bswollen\b|\bswelling\b|\bthicker\b")
saying("stiffness asked", r"\bstiff(?:ness)?\b")
saying("load asked", r"\bwrite down the load\b")

_WORN = (HandPicture, TapingPicture)
"""Pictures that show where tape or a ring lies."""
_SPLINTS = ("pulley-ring",)
_TORN_RINGS = {"a2-pulley": "a2", "a4-pulley": "a4", "a3-pulley": "a3"}


def _is_exercise(section: str) -> bool:
    return section.startswith("exercise-")


def find_exercises_without_a_word_on_the_ring(told: Told) -> Iterator[str]:
    """Whoever wears a ring or splint by day must read with the exercises whether it stays on."""
    worn = [t for t in told.facts.fitting() if t.id in _SPLINTS]
    exercises = any(_is_exercise(s) for s in told.sections)
    if worn and exercises and not told.facts.hold:
        where = {"exercises", "day", *(line.section for line in told.lines if line.sheet in (FRONT, BACK))}
        said = told.says("ring stays", fits=lambda s: _is_exercise(s) or s in where)
        if not any(True for _ in said):
            yield f"{worn[0].name}: the exercises do not say if it stays on"


def find_a_tear_trained_alone(told: Told) -> Iterator[str]:
    """Whoever is looked after by a doctor and a therapist together must not read that no clinician is needed."""
    facts = told.facts
    if (
        facts.grade.treated_by == "doctor-and-therapist"
        and facts.grade.tear
        and not facts.hold
        and not facts.stage.load
    ):
        yield from (f"{line.section}: {s}" for line, s in told.says("alone", fits=_is_exercise))


def find_tape_for_another_place(told: Told) -> Iterator[str]:
    """A ring must lie where the hurt pulley is, not on another segment.

    None can lie on a joint: for the A3 pulley a therapist decides where a ring goes, so no picture may show it.
    """
    level = _TORN_RINGS.get(told.facts.case.place)
    known = {f"tape-{t.id}": t for t in told.facts.library.vocabularies.tapings}
    for section in sorted(told.sections & known.keys()):
        taping = known[section]
        drawn = any(piece.section == section for kind in _WORN for piece, _ in told.pictures(kind))
        if level == "a3" and not taping.is_cut and not drawn:
            continue
        if level and taping.level in ("a2", "a4") and taping.level != level:
            yield f"{taping.name} for {told.facts.place.name}"


def find_a_stretch_in_the_first_days(told: Told) -> Iterator[str]:
    """As long as daily life is not calm nobody may be told to press or stretch: the finger moves itself."""
    facts = told.facts
    if facts.leaves_all and facts.stages.index(facts.stage) == 0 and not facts.hold:
        found = {line.section: s for line, s in told.says("passive stretch", fits=_is_exercise)}
        yield from (f"{section}: {s}" for section, s in found.items())


def find_a_joint_tested_again(told: Told) -> Iterator[str]:
    """A test that opens the joint must stand in one gate only: after the first, giving way is what counts."""
    facts = told.facts
    before = facts.stages[: facts.stages.index(facts.stage)]
    if any("joint-firm" in str(stage.gate) for stage in before):
        yield from (s for _, s in told.says("joint tested", only=("gate", "gate-clinic")))


def find_gates_that_the_diary_cannot_answer(told: Told) -> Iterator[str]:
    """What a gate or an exercise wants written down must have a column in the diary."""
    charts = [chart.stiff_word for _, chart in told.pictures(DiaryPicture)]
    heads = [" ".join((*diary.head, *charts)).lower() for _, diary in told.blocks(Diary)]
    if heads:
        wanted = (("swelling asked", ("swell", "thick")), ("stiffness asked", ("stiff",)), ("load asked", ("load",)))
        for name, columns in wanted:
            fits = _is_exercise if name == "load asked" else lambda section: section == "gate"
            asked = [s for _, s in told.says(name, fits=fits)]
            if asked and not any(column in heads[0] for column in columns):
                yield f"{asked[0]} The diary: {heads[0]}"


def find_the_same_asked_twice(told: Told) -> Iterator[str]:
    """Pain and stiffness must be written down once, not in a table and again on a chart."""
    if any(True for _ in told.pictures(DiaryPicture)):
        for _, diary in told.blocks(Diary):
            if any(word in head.lower() for word in ("pain", "stiff") for head in diary.head):
                yield f"{', '.join(diary.head)}, and a chart"
