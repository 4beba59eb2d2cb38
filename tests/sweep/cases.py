"""Every case that the desk's form can make, as values of named dimensions, and the case that a row of them is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import product
from math import prod
from typing import Any, get_args

from fingerpost.model.case import (
    Anchor,
    Baseline,
    Began,
    Case,
    Checked,
    Clinic,
    EnclosureName,
    FingerSize,
    ImportantDate,
)
from fingerpost.model.library import Library
from fingerpost.model.masses import Units
from fingerpost.model.protocol import Protocol, Stage, Window
from fingerpost.model.times import Day, read_span
from fingerpost.model.words import FINGERS, Hand
from fingerpost.plan.base.audience import Reader, tell
from fingerpost.plan.base.parts import list_tapings
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.case.check import find_case_findings
from fingerpost.reckon.windows import GROWTH_STAGE_DAYS
from sweep.pairs import Row, cover_pairs

TODAY = date(2026, 11, 25)
MOST = 200_000
"""More cases than these are thinned out by pairs."""
SIDES = ("radial", "ulnar")
ENCLOSURES: tuple[EnclosureName, ...] = get_args(EnclosureName)


@dataclass(frozen=True)
class Chosen:
    """A row of one protocol."""

    protocol: Protocol
    row: Mapping[str, Any]


def stages_for(protocol: Protocol, grade: str) -> tuple[Stage, ...]:
    return tuple(s for s in protocol.stages if grade not in s.skipped_by)


def list_dimensions(protocol: Protocol) -> dict[str, Sequence[Any]]:
    """What the form asks. `step`: a grade with one of its stages. `age` holds the clearance too."""
    steps = [(g.id, s.id) for g in protocol.grades for s in stages_for(protocol, g.id)]
    cleared = ("adult", "under-18", "under-18 cleared")
    return {
        "step": steps,
        "finger": protocol.fingers,
        "place": protocol.places,
        "age": cleared,
        "hand": ("left", "right"),
        "side": SIDES if protocol.needs_side else (None,),
        "allergy": (False, True),
        "visit": ("first", "later"),
        "strength": ("none", "sore hand weaker"),
        "share": (False, True),
    }


def list_more_dimensions(protocol: Protocol) -> dict[str, Sequence[Any]]:
    """The same with what the form leaves open, and with courses that go another way than planned."""
    return list_dimensions(protocol) | {
        "visit": ("first", "first and early", "later", "late", "early", "leap", "long ago"),
        "strength": ("none", "sore hand weaker", "sore hand stronger", "healthy hand only", "sore hand very weak"),
        "event": ("injury", "surgery", "first-assessment"),
        "enclose": (None, (), ("tape", "exercises"), ("about",), ENCLOSURES),
        "review": (False, True),
        "important": (False, True),
        "sizes": (False, True),
        "tapings": ("all", "first", "every"),
        "print_size": (12, 18, 24),
        "paper": ("A4", "Letter"),
        "clinic": (False, True),
        "named": (False, True),
        "note": (False, True),
        "units": ("kg", "lb"),
        "checked": (False, True),
    }


def count_cases(library: Library) -> dict[str, int]:
    """How many cases each protocol can make."""
    return {d.value.id: prod(len(v) for v in list_dimensions(d.value).values()) for d in library.protocols}


def list_all(library: Library) -> Iterator[Chosen]:
    """All of them, or rows that cover all pairs where they are too many."""
    thin = sum(count_cases(library).values()) > MOST
    for document in library.protocols:
        dimensions = list_dimensions(document.value)
        if thin:
            yield from _list_pairs(library, document.value, dimensions)
        else:
            yield from (
                Chosen(document.value, dict(zip(dimensions, values, strict=True)))
                for values in product(*dimensions.values())
            )


def list_pairs(library: Library) -> Iterator[Chosen]:
    """Rows that cover all pairs of everything that the form asks or leaves open."""
    for document in library.protocols:
        yield from _list_pairs(library, document.value, list_more_dimensions(document.value))


def _list_pairs(library: Library, protocol: Protocol, dimensions: Mapping[str, Sequence[Any]]) -> Iterator[Chosen]:
    def fits(row: Row) -> bool:
        return not any(True for _ in find_case_findings(make_case(library, Chosen(protocol, row)), library, TODAY))

    return (Chosen(protocol, row) for row in cover_pairs(dimensions, fits))


# ------------------------------------------------------------------ a row as a case


def make_case(library: Library, chosen: Chosen) -> Case:
    """The case that a row stands for. What a row does not name is as the form has it before anybody touches it."""
    protocol, row = chosen.protocol, chosen.row
    grade, stage = row["step"]
    anchor, began = _course(protocol, grade, stage, row["visit"])
    sizes = tuple(FingerSize(finger=f, mm=52.0 + 2 * n) for n, f in enumerate(FINGERS)) if row.get("sizes") else ()
    return Case(
        reference="0417",
        name="Robin Falk" if row.get("named") else None,
        age_band="adult" if row["age"] == "adult" else "under-18",
        doctor_cleared=Day(anchor.isoformat()) if row["age"].endswith("cleared") else None,
        protocol=protocol.id,
        grade=grade,
        hand=row["hand"],
        finger=row["finger"],
        place=row["place"],
        side=row["side"],
        anchor=Anchor(event=row.get("event", "injury"), date=Day(anchor.isoformat())),
        stage=stage,
        began=began,
        pace_reason=None if began else "The first stages were seen elsewhere.",
        checked=_checked(stage) if row.get("checked") else None,
        important_dates=_important(row),
        units=row.get("units", "kg"),
        baselines=_baselines(protocol, stage, row),
        finger_sizes=sizes,
        tapings=_tapings(library, protocol, row),
        tape_allergy=row["allergy"],
        share_with_coach=row["share"],
        review_date=Day((TODAY + timedelta(days=12)).isoformat()) if row.get("review") else None,
        enclose=row.get("enclose"),
        paper=row.get("paper", "A4"),
        print_size=row.get("print_size", 12),
        note="The scan is booked." if row.get("note") else None,
        clinic=Clinic(name="Clinic on the Hill", phone="555-0100", emergency_number="112")
        if row.get("clinic")
        else None,
    )


def _checked(stage: str) -> Checked:
    return Checked(name="Marigold Underhill", role="hand therapist", date=Day(TODAY.isoformat()), stage=stage)


def _important(row: Mapping[str, Any]) -> tuple[ImportantDate, ...]:
    day = TODAY + timedelta(days=60)
    return (ImportantDate(what="Trip", date=Day(day.isoformat())),) if row.get("important") else ()


def _tapings(library: Library, protocol: Protocol, row: Mapping[str, Any]) -> tuple[str, ...]:
    """The first of the tapings that the form offers, or each of them with those that need a choice; none means all."""
    if row.get("tapings", "all") == "all":
        return ()
    grade, stage = row["step"]
    today = next(s for s in protocol.stages if s.id == stage)
    fitting = tell(today, Reader(place=row["place"], grade=grade)) or today
    offered = tuple(t.id for t in list_tapings(Writer(library), fitting))
    return offered[:1] if row["tapings"] == "first" else offered


_HELD = {
    "sore hand weaker": (30.0, 40.0),
    "sore hand stronger": (40.0, 30.0),
    "healthy hand only": (None, 40.0),
    "sore hand very weak": (5.0, 40.0),
}
"""What the sore hand and the healthy hand have pulled, kg."""
_LB_A_KG = 2.2


def _baselines(protocol: Protocol, stage: str, row: Mapping[str, Any]) -> tuple[Baseline, ...]:
    """A test of each hand today, in each grip that the stage trains, or in a half crimp."""
    if row["strength"] == "none":
        return ()
    doses = next(s for s in protocol.stages if s.id == stage).exercises
    grips = dict.fromkeys([d.grip for d in doses if d.grip] or ["half-crimp"])
    sore, healthy = _HELD[row["strength"]]
    other = "left" if row["hand"] == "right" else "right"
    tested = [(grip, hand, kg) for grip in grips for hand, kg in ((row["hand"], sore), (other, healthy)) if kg]
    return tuple(_pull(hand, grip, kg, row.get("units", "kg")) for grip, hand, kg in tested)


def _pull(hand: Hand, grip: str, kg: float, units: Units) -> Baseline:
    tries = {"kg": (kg,)} if units == "kg" else {"lb": (kg * _LB_A_KG,)}
    return Baseline(date=Day(TODAY.isoformat()), hand=hand, grip=grip, edge_mm=20, method="pull", **tries)


def _window(stage: Stage, grade: str) -> Window | None:
    return next((w for w in stage.windows if w.grade == grade), None)


def _days(stage: Stage, grade: str, at: int, pace: str) -> int:
    window = _window(stage, grade)
    return int(read_span(getattr(window, pace)).rough_days) if window else (GROWTH_STAGE_DAYS + 2) * at


def _course(protocol: Protocol, grade: str, stage: str, visit: str) -> tuple[date, tuple[Began, ...]]:
    """The day that all days count from, and which stage began when."""
    stages = stages_for(protocol, grade)
    reached = [s.id for s in stages].index(stage)
    usual = [_days(s, grade, n, "usual") for n, s in enumerate(stages)][: reached + 1]
    if visit == "first":
        return TODAY - timedelta(days=usual[-1] + 5), ()
    if visit == "long ago":
        return TODAY - timedelta(days=400), ()
    if visit in ("first and early", "early"):
        ago = max(_days(stages[reached], grade, reached, "earliest") - 5, reached)
        days = [ago * n // max(reached, 1) for n in range(reached + 1)]
        return _began(stages, ago, days if visit == "early" else [])
    if visit == "leap":
        return _began(stages, usual[-1] + 1, [0, *([usual[-1]] if reached else [])], last=reached)
    late = 14 if visit == "late" else 0
    return _began(stages, usual[-1] + late + 3, [d + late * (n > 0) for n, d in enumerate(usual)])


def _began(
    stages: Sequence[Stage], ago: int, days: Sequence[int], last: int | None = None
) -> tuple[date, tuple[Began, ...]]:
    """An anchor so many days ago, and for each number of days after it the stage that began then."""
    anchor = TODAY - timedelta(days=ago)
    named = list(stages[: len(days)])
    if last is not None and named:
        named[-1] = stages[last]
    told = zip(named, days, strict=True)
    return anchor, tuple(Began(stage=s.id, date=Day((anchor + timedelta(days=d)).isoformat())) for s, d in told)


def describe(case: Case) -> str:
    """A case in one line, for a report."""
    age = f"{case.age_band} cleared" if case.doctor_cleared else case.age_band
    more = [
        "tape allergy" if case.tape_allergy else "",
        "first visit" if not case.began else f"began {', '.join(b.stage for b in case.began)}",
        f"tested in {case.units}" if case.baselines else "",
        "shared" if case.share_with_coach else "",
        "" if case.enclose is None else f"enclosed: {', '.join(case.enclose) or 'nothing'}",
        f"only {', '.join(case.tapings)}" if case.tapings else "",
    ]
    place = f"{case.place} {case.side}" if case.side else case.place
    told = (
        f"{case.protocol} {case.grade} {case.stage}, {place}, {case.hand} {case.finger}, {age}, from {case.anchor.date}"
    )
    return ", ".join([told, *(m for m in more if m)])
