"""The small closed sets and text shapes that every other model file uses."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Annotated, Literal

from fingerpost.model.times import Day, Span, read_span

Finger = Literal["index", "middle", "ring", "little"]
Hand = Literal["left", "right"]
Side = Literal["radial", "ulnar"]
People = Literal["adult", "under-18", "both"]
AgeBand = Literal["adult", "under-18"]
Seen = Literal["full", "abstract", "secondary", "recalled"]
Urgency = Literal["emergency", "same-day", "within-days", "routine"]
GripMark = Literal["keep", "limit", "leave"]
Paper = Literal["A4", "Letter"]
PrintSize = Literal[12, 14, 18, 24]

PAPERS: tuple[Paper, ...] = ("A4", "Letter")
URGENCIES: tuple[Urgency, ...] = ("emergency", "same-day", "within-days", "routine")
URGENT: tuple[Urgency, ...] = URGENCIES[:2]
"""What cannot wait for another day."""

GRIP_MARKS: tuple[GripMark, ...] = ("keep", "limit", "leave")
FINGERS: tuple[Finger, ...] = ("index", "middle", "ring", "little")
# Names that Windows keeps for devices: there, no file can be called so, whatever its ending.
KEPT_BY_WINDOWS = frozenset({"con", "prn", "aux", "nul", *(f"{d}{n}" for d in ("com", "lpt") for n in range(1, 10))})
# What stands in a mark where no source does: many clinicians do it so, or we chose it.
COMMON_PRACTICE = "common-practice"
OWN = "own"
UNSOURCED: tuple[str, ...] = (COMMON_PRACTICE, OWN)
# Stands in a new file wherever an author has not decided yet. Nothing that holds it can be read.
TO_FILL = "<to fill>"


@dataclass(frozen=True)
class Shape:
    """A pattern that a text must match, with the sentence that says so to a writer.

    `read` makes of a text that fits what the model holds: the same text, which may know what it means.
    """

    pattern: str
    must: str
    max_length: int = 4000
    read: Callable[[str], str] = field(default=str, repr=False)

    def fits(self, text: str) -> bool:
        return len(text) <= self.max_length and re.fullmatch(self.pattern, text) is not None


ID_SHAPE = Shape(r"^[a-z0-9]+(-[a-z0-9]+)*$", "must be an id: small letters, digits and single hyphens", 60)
TEXT_SHAPE = Shape(r"^[^\x00-\x08\x0b-\x1f\x7f]*\S[^\x00-\x08\x0b-\x1f\x7f]*$", "must be text that says something")
LINE_SHAPE = Shape(r"^[^\x00-\x1f\x7f]*\S[^\x00-\x1f\x7f]*$", "must be one line of text", 200)
DATE_SHAPE = Shape(r"^\d{4}-\d{2}-\d{2}$", "must be a date written year-month-day, like 2026-05-01", 10, Day)
SPAN_SHAPE = Shape(
    r"^(0|[1-9]\d{0,3}) (day|week|month)s?$", "must be a time like '10 days', '6 weeks' or '3 months'", 12, read_span
)
GRADE_SHAPE = Shape(r"^(I|II|III|IV|any)$", "must be a grade: I, II, III, IV, or 'any' where there are no grades", 4)
VERSION_SHAPE = Shape(r"^\d{1,4}\.\d{1,4}\.\d{1,4}$", "must be a version of three numbers, like 0.1.0", 14)
ADDRESS_SHAPE = Shape(
    r"^https?://[a-z0-9.-]+(:\d{1,5})?/([A-Za-z0-9._~-]+/)*$",
    "must be a web address that begins with https:// and ends with /, such as https://example.org/fingers/",
    60,
)
FIELD_SHAPE = Shape(r"^[A-Z][A-Za-z]*\.[a-z_]+$", "must be a field of the model, like Protocol.plain_name", 60)
SHOWN_SHAPE = Shape(
    r"^(foot|(page|general|leaf|handout) #[a-z0-9-]+|site ([a-z0-9-]+/)*)$",
    "must be foot, page #ID, general #ID, leaf #ID, handout #ID, or site ADDRESS/",
    60,
)
HASH_SHAPE = Shape(r"^[0-9a-f]{8}$", "must be the eight signs behind 'content' in the foot of a sheet", 8)
CODE_SHAPE = Shape(r"^[A-Z]\d{2}(\.\d{1,2})?$", "must be an ICD-10 code like S63.6", 6)

Id = Annotated[str, ID_SHAPE]
Text = Annotated[str, TEXT_SHAPE]
Line = Annotated[str, LINE_SHAPE]
IsoDate = Annotated[Day, DATE_SHAPE]
SpanText = Annotated[Span, SPAN_SHAPE]
GradeId = Annotated[str, GRADE_SHAPE]
Version = Annotated[str, VERSION_SHAPE]
ContentHash = Annotated[str, HASH_SHAPE]
IcdCode = Annotated[str, CODE_SHAPE]
WebAddress = Annotated[str, ADDRESS_SHAPE]
FieldName = Annotated[str, FIELD_SHAPE]
Shown = Annotated[str, SHOWN_SHAPE]

ALL_SHAPES = (
    ID_SHAPE, TEXT_SHAPE, LINE_SHAPE, DATE_SHAPE, SPAN_SHAPE, GRADE_SHAPE, VERSION_SHAPE, ADDRESS_SHAPE, CODE_SHAPE,
    FIELD_SHAPE, SHOWN_SHAPE, HASH_SHAPE,
)  # fmt: skip

# After one of these a small letter goes on with the sentence.
_SHORTENED = "".join(rf"(?<!\b{re.escape(word)} )" for word in ("e.g.", "i.e.", "etc.", "cf.", "vs.", "ca.", "approx."))
# Begins with the blank itself, so that the search leaps from blank to blank.
_SENTENCE_END = re.compile(rf" (?<=[.!?] )(?:{_SHORTENED}|(?=[^a-z]))")

TODAY = "Today: "
"""How every verdict begins."""
# What a verdict says where nobody may climb.
OFF_THE_WALL = re.compile(r"\b(?:no climbing|not on the wall)\b", re.IGNORECASE)


def split_sentences(text: str) -> tuple[str, ...]:
    """The sentences of a text. A line break ends none, and neither does 'e.g.' or the like before a small letter."""
    return tuple(s for s in _SENTENCE_END.split(" ".join(text.split())) if s)
