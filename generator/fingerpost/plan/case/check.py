"""What a case must not say: every impossible combination, with the reason. The same words at every door."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date

from fingerpost.model.case import Case
from fingerpost.model.lettering import find_foreign, say_foreign
from fingerpost.model.library import Document, Library, Path
from fingerpost.model.masses import UNITS, Units
from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.times import Day, write_date
from fingerpost.plan.case.pace import find_unfit_pace
from fingerpost.plan.case.visits import find_unfit_visits
from fingerpost.problems import Problem, suggest
from fingerpost.read.validate import Finding
from fingerpost.reckon import loads, tape
from fingerpost.reckon.visits import list_begun
from fingerpost.reckon.windows import Begun, find_faults

UNIT_NAMES: Mapping[Units, str] = {"kg": "kilograms", "lb": "pounds"}
YEARS = range(1950, 2150)
"""Of these the calendar can count months ahead, and nobody alive climbed before."""


def _dates(case: Case) -> Iterator[tuple[Path, Day]]:
    yield ("anchor", "date"), case.anchor.date
    for n, began in enumerate(case.began):
        yield ("began", n, "date"), began.date
    for n, visit in enumerate(case.visits):
        yield ("visits", n, "date"), visit.date
    for n, important in enumerate(case.important_dates):
        yield ("important_dates", n, "date"), important.date
    for n, baseline in enumerate(case.baselines):
        yield ("baselines", n, "date"), baseline.date
    if case.doctor_cleared:
        yield ("doctor_cleared",), case.doctor_cleared
    if case.review_date:
        yield ("review_date",), case.review_date
    if case.checked:
        yield ("checked", "date"), case.checked.date


def _find_impossible_days(case: Case) -> Iterator[Finding]:
    for path, written in _dates(case):
        if written.known is None:
            yield path, f"the calendar has no day {written}", "Dates are written year-month-day."
        elif written.known.year not in YEARS:
            yield path, f"{written} is no day that a case can have", "Is the year right?"


def _texts(case: Case) -> Iterator[tuple[Path, str | None]]:
    yield ("reference",), case.reference
    yield ("name",), case.name
    yield ("note",), case.note
    yield ("pace_reason",), case.pace_reason
    for n, important in enumerate(case.important_dates):
        yield ("important_dates", n, "what"), important.what
    if case.checked:
        yield ("checked", "name"), case.checked.name
        yield ("checked", "role"), case.checked.role
    for n, visit in enumerate(case.visits):
        if visit.checked:
            yield ("visits", n, "checked", "name"), visit.checked.name
            yield ("visits", n, "checked", "role"), visit.checked.role
    if case.clinic:
        for key in ("name", "phone", "emergency_number"):
            yield ("clinic", key), getattr(case.clinic, key)
        for n, line in enumerate(case.clinic.lines):
            yield ("clinic", "lines", n), line


def _find_foreign_signs(case: Case) -> Iterator[Finding]:
    for path, text in _texts(case):
        if sign := find_foreign(text or ""):
            yield path, *say_foreign(sign)


def stages_of(protocol: Protocol, grade: str) -> tuple[Stage, ...]:
    """The stages that a grade goes through."""
    return tuple(s for s in protocol.stages if grade not in s.skipped_by)


def _in_a_web(library: Library) -> frozenset[str]:
    """The parts of the hand that lie between two fingers."""
    return frozenset(part.id for part in library.vocabularies.anatomy if part.landmark == "lumbrical")


def _find_unfit_choices(case: Case, protocol: Protocol, library: Library) -> Iterator[Finding]:
    grades = [g.id for g in protocol.grades]
    if case.grade not in grades:
        reason = "has no grades: write 'any'" if grades == ["any"] else f"has the grades {', '.join(grades)}"
        yield ("grade",), f"there is no grade {case.grade} here: '{protocol.plain_name}' {reason}", ""
    if case.finger not in protocol.fingers:
        yield ("finger",), f"'{protocol.plain_name}' is for these fingers: {', '.join(protocol.fingers)}", ""
    if case.place not in protocol.places:
        hint = suggest(case.place, protocol.places) or f"It is about: {', '.join(protocol.places)}."
        yield ("place",), f"'{protocol.plain_name}' is not about '{case.place}'", hint
    limited = next((g for g in protocol.grades if g.id == case.grade and g.places), None)
    if limited and case.place in protocol.places and case.place not in limited.places:
        name = next(a.name for a in library.vocabularies.anatomy if a.id == case.place)
        message = f"grade {limited.id} means: {limited.name}. It cannot be the {name}"
        fitting = [g.id for g in protocol.grades if not g.places or case.place in g.places]
        yield ("grade",), message, f"Another place, or one of the grades {', '.join(fitting)}."
    if protocol.needs_side and case.side is None:
        yield (
            ("side",),
            f"'{protocol.plain_name}' needs a side, because the tape goes to that side",
            "Write radial (thumb side) or ulnar (little-finger side).",
        )
    if case.side == "ulnar" and case.finger == "little" and case.place in _in_a_web(library):
        message = "on the little-finger side of the little finger there is no web of the palm"
        yield ("side",), message, "Write radial for the web between the ring and the little finger."
    if not protocol.needs_side and case.side is not None:
        yield ("side",), f"'{protocol.plain_name}' has no side", "Leave the key out."
    if protocol.people == "under-18" and case.age_band == "adult":
        yield (
            ("age_band",),
            f"'{protocol.plain_name}' happens only while a finger still grows",
            "Choose another protocol, or write under-18.",
        )
    unfit = [t for t in case.tapings if t not in {u.taping for s in protocol.stages for u in s.taping}]
    for taping in unfit:
        known = sorted({u.taping for s in protocol.stages for u in s.taping})
        yield (
            ("tapings", case.tapings.index(taping)),
            f"'{protocol.plain_name}' has no taping '{taping}'",
            suggest(taping, known),
        )
    sizes = [s.finger for s in case.finger_sizes]
    for n, finger in enumerate(sizes):
        if finger in sizes[:n]:
            yield ("finger_sizes", n, "finger"), f"the {finger} finger is measured twice", "Keep one."


def _list_masses(case: Case) -> Iterator[tuple[Path, Units]]:
    """Where masses stand, each with the unit that its key names."""
    for units in UNITS:
        if getattr(case, f"body_mass_{units}") is not None:
            yield (f"body_mass_{units}",), units
        for n, baseline in enumerate(case.baselines):
            if getattr(baseline, units):
                yield ("baselines", n, units), units
        if getattr(case, f"plate_{units}") is not None:
            yield (f"plate_{units}",), units


def _find_mixed_units(case: Case) -> Iterator[Finding]:
    """Masses in the other unit: whoever lifts what a sheet says must not have to ask in which."""
    for path, units in _list_masses(case):
        if units != case.units:
            message = f"the masses of this case are in {UNIT_NAMES[case.units]}, and this is in {UNIT_NAMES[units]}"
            hint = f"Write it in {UNIT_NAMES[case.units]}, or `units: {units}` and every mass in {UNIT_NAMES[units]}."
            yield path, message, hint


def _find_unfit_days(case: Case, protocol: Protocol, library: Library, today: date) -> Iterator[Finding]:
    """Days out of order. Only called when every day is a day."""
    anchor = case.anchor.date.day
    stages = [s.id for s in stages_of(protocol, case.grade)]
    begun = [Begun(b.stage, b.date.day) for b in case.began]
    reached = [visit.stage for visit in case.visits if visit.stage in stages and case.stage in stages]
    furthest = max((case.stage, *reached), key=stages.index) if reached else case.stage
    faults = list(find_faults(anchor, today, stages, furthest, begun))
    for fault in faults:
        wrong = case.stage if fault.path == ("stage",) else ""
        yield fault.path, fault.must, suggest(wrong, stages) if wrong else ""
        if anchor > today:  # everything counts from the anchor: what follows from a wrong one would only hide it
            return
    unfit = list(find_unfit_visits(case, library, stages, anchor, today))
    yield from unfit
    if not faults and not unfit:
        told = list_begun(case, stages, today)
        yield from find_unfit_pace(case, protocol, stages_of(protocol, case.grade), told)
    if not any(True for _ in _find_mixed_units(case)):
        masses = (case.baselines, loads.body_kg(case), loads.plate_of(case))
        for fault in loads.find_faults(*masses, anchor, today, case.units):
            yield fault.path, fault.must, ""
    if case.doctor_cleared and not anchor <= case.doctor_cleared.day <= today:
        yield ("doctor_cleared",), _say_cleared(anchor, today), ""
    if case.stage in stages:
        yield from _find_unfit_check(case, anchor, today)
    ahead: list[tuple[Path, Day]] = [
        (("important_dates", n, "date"), d.date) for n, d in enumerate(case.important_dates)
    ]
    if case.review_date:
        ahead.insert(0, (("review_date",), case.review_date))
    for path, written in ahead:
        if (day := written.day) < today:
            yield path, f"{write_date(day)} is in the past", "Give a day that is still to come, or none."


def _find_unfit_check(case: Case, anchor: date, today: date) -> Iterator[Finding]:
    """A check of something else: paper would tell a name and a day that do not stand behind it."""
    checked = case.checked
    if checked is None:
        return
    hint = "Let a clinician decide anew and write the day, or leave `checked` out: the sheets are then a specimen."
    if checked.stage != case.stage:
        message = f"stage '{checked.stage}' was checked, and today's stage is '{case.stage}'"
        yield ("checked", "stage"), message, hint
    if not anchor <= (day := checked.date.day) <= today:
        message = f"{write_date(day)} is not between {write_date(anchor)} and {write_date(today)}"
        yield ("checked", "date"), f"{message}: nobody can have checked this then", hint


def _say_cleared(anchor: date, today: date) -> str:
    return f"a doctor can have cleared the finger only between {write_date(anchor)} and {write_date(today)}"


def find_case_findings(case: Case, library: Library, today: date) -> Iterator[Finding]:
    """Every reason why this case cannot be printed: (path in the case's own keys, what must hold, a way out)."""
    yield from _find_impossible_days(case)
    yield from _find_foreign_signs(case)
    for fault in tape.find_faults(case.finger_sizes):
        yield fault.path, fault.must, ""
    yield from _find_mixed_units(case)
    protocol = library.find_protocol(case.protocol)
    if protocol is None:
        known = [d.value.id for d in library.protocols]
        if library.find_condition(case.protocol):
            yield (
                ("protocol",),
                f"'{case.protocol}' is a short entry: a doctor has to see it, so there is no handout",
                "",
            )
        else:
            yield (
                ("protocol",),
                f"no protocol is called '{case.protocol}'",
                suggest(case.protocol, known) or f"There are: {', '.join(known)}.",
            )
        return
    yield from _find_unfit_choices(case, protocol, library)
    if case.grade in [g.id for g in protocol.grades] and not any(True for _ in _find_impossible_days(case)):
        yield from _find_unfit_days(case, protocol, library, today)


def find_case_problems(document: Document[Case], library: Library, today: date) -> Iterator[Problem]:
    """The findings of a case, each with its line."""
    for path, message, hint in find_case_findings(document.value, library, today):
        yield document.problem(path, message, hint, "case")
