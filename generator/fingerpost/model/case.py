"""A case: one person's episode, as a clinician writes it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from fingerpost.model.masses import Units
from fingerpost.model.words import (
    AgeBand,
    ContentHash,
    Finger,
    GradeId,
    Hand,
    Id,
    IsoDate,
    Line,
    Paper,
    PrintSize,
    Side,
    Text,
    WebAddress,
)

Hands = Literal["one", "both"]
Method = Literal["hang", "pull"]
SizeLetter = Literal["S", "M", "L"]
Showed = Literal["calm", "positive", "unclear"]
Pain = Literal[0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10]
EnclosureName = Literal["tape", "exercises", "diary", "grips", "about"]
"""What can be enclosed with the leaf. The leaf itself is always printed, because the warning signs stand on it."""

GONE: Mapping[str, str] = {
    "leave_out": "Say under `enclose` what goes with the leaf: tape, exercises, diary, grips, about; [] for nothing. "
    "Without it, what a new stage needs is enclosed."
}
"""Keys that a case once had, and what to do instead."""


@dataclass(frozen=True, kw_only=True)
class Anchor:
    """The day from which windows are counted."""

    event: Literal["injury", "surgery", "first-assessment"]
    date: IsoDate


@dataclass(frozen=True, kw_only=True)
class Began:
    """A stage and the day on which it really began."""

    stage: Id
    date: IsoDate


@dataclass(frozen=True, kw_only=True)
class ImportantDate:
    """A date that matters to the person."""

    what: Line
    date: IsoDate


@dataclass(frozen=True, kw_only=True)
class Baseline:
    """A strength test. `kg` or `lb`: each try. It is the whole load for a pull; for a hang, what was added.

    Below 0: what was taken off.
    """

    date: IsoDate
    hand: Hand
    hands: Hands = "one"
    grip: Id
    edge_mm: float
    method: Method
    kg: tuple[float, ...] = ()
    lb: tuple[float, ...] = ()
    when: Literal["now", "before-injury"] = "now"


@dataclass(frozen=True, kw_only=True)
class FingerSize:
    """A circumference round the middle joint (PIP), in millimetres."""

    finger: Finger
    mm: float


@dataclass(frozen=True, kw_only=True)
class Clinic:
    """The letterhead."""

    name: Line
    lines: tuple[Line, ...] = ()
    phone: Line | None = None
    emergency_number: Line | None = None


@dataclass(frozen=True, kw_only=True)
class Checked:
    """The check that holds today: the clinician's name and role, the day, and the stage that was decided.

    In a case without `visits` it is written so; it then stands for the one visit of that day.
    """

    name: Line
    role: Line
    date: IsoDate
    stage: Id


@dataclass(frozen=True, kw_only=True)
class Clinician:
    """Who looked at the person: name and role."""

    name: Line
    role: Line


@dataclass(frozen=True, kw_only=True)
class ShownTest:
    """What a hands-on test (tests.yml) showed: nothing, the sign that it looks for, or neither for sure."""

    test: Id
    showed: Showed


@dataclass(frozen=True, kw_only=True)
class Visit:
    """One visit: its day, and the stage that was set on it. Whatever was not measured is left out.

    Of the sore finger: `bend_degrees`, how far its middle joint (PIP) bends; `lack_degrees`, how much of it is missing
    to straight; `round_mm`, its circumference there. `pain`: the most in daily life, 0 to 10. `checked`: who saw the
    person and decided. `printed`: the content hash in the foot of the sheets that were printed. It covers the text of
    the protocol and of all that is shared, and `fingerpost whence` finds that text again.
    """

    date: IsoDate
    stage: Id
    checked: Clinician | None = None
    bend_degrees: float | None = None
    lack_degrees: float | None = None
    round_mm: float | None = None
    pain: Pain | None = None
    tests: tuple[ShownTest, ...] = ()
    printed: ContentHash | None = None


@dataclass(frozen=True, kw_only=True)
class Case:
    """One person's episode. The clinician has chosen protocol, grade and stage.

    `tapings`: which of the stage's tapings to print; all that fit the place and the grade when left out.
    `units`: in what all masses are written here and printed; the key of each says it once more, so that a number is
    never taken for another. `pace_reason`: why a stage was passed over or cut short; kept here and not printed.
    `enclose`: what goes with the leaf this time; without it, what a new stage needs.
    `visits`: the log, oldest first. The newest one is what the sheets print, if its stage is `stage`: without its
    `checked`, every page says that it is a specimen. `began`: what no visit tells, stages before the first one.
    """

    reference: Line
    name: Line | None = None
    age_band: AgeBand
    doctor_cleared: IsoDate | None = None
    protocol: Id
    grade: GradeId
    hand: Hand
    finger: Finger
    place: Id
    side: Side | None = None
    anchor: Anchor
    stage: Id
    checked: Checked | None = None
    began: tuple[Began, ...] = ()
    visits: tuple[Visit, ...] = ()
    pace_reason: Text | None = None
    important_dates: tuple[ImportantDate, ...] = ()
    units: Units = "kg"
    body_mass_kg: float | None = None
    body_mass_lb: float | None = None
    baselines: tuple[Baseline, ...] = ()
    plate_kg: float | None = None
    plate_lb: float | None = None
    finger_sizes: tuple[FingerSize, ...] = ()
    size: SizeLetter = "M"
    tapings: tuple[Id, ...] = ()
    tape_allergy: bool = False
    share_with_coach: bool = False
    review_date: IsoDate | None = None
    enclose: tuple[EnclosureName, ...] | None = None
    paper: Paper = "A4"
    print_size: PrintSize = 12
    note: Text | None = None
    clinic: Clinic | None = None


@dataclass(frozen=True, kw_only=True)
class ClinicSettings:
    """What a clinic or a gym fills in once for itself (clinic.yml), beside the protocols that it shares. Each may stay
    empty. `site_address`: where the built site stands, for addresses and codes on paper."""

    name: Line | None = None
    emergency_number: Line | None = None
    site_address: WebAddress | None = None
