"""The front of a leaf: whose it is, what may be climbed today, what is done until the next visit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from fingerpost.model.audience import flat
from fingerpost.model.case import Case
from fingerpost.model.shared import Grip
from fingerpost.model.times import write_date, write_weekday
from fingerpost.model.words import Finger, GripMark, Hand
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.checked import checked_line
from fingerpost.plan.base.illustrate import finger_name, grip_drawing, hand_pictures, place_name
from fingerpost.plan.base.paper import GripField, GripFields, Headline, NextVisit, Note, Strip, Verdict
from fingerpost.plan.base.parts import leaves_all, pick
from fingerpost.plan.base.pictures import GripPicture, SignPicture, StagesPicture
from fingerpost.plan.base.prose import Writer, capital, join_words, uncapital
from fingerpost.plan.base.runs import Run, Words, plain, strong, text
from fingerpost.plan.case.situation import Situation
from fingerpost.plan.person.way_back import short_date
from fingerpost.reckon.visits import find_check
from fingerpost.reckon.windows import ReviewDay

HAND_MM = 22.0
SIGN_MM, VERDICT_MM = 5.2, 7.0


def sign(writer: Writer, mark: GripMark, name: str, width_mm: float = SIGN_MM, on_band: bool = False) -> Drawing:
    """Yes, only like this or no, as a sign. The word stands beside it, so that nothing hangs on the sign alone."""
    picture = SignPicture(title=writer.say(f"sign-{mark}"), mark=mark, on_band=on_band)
    return Drawing(name=name, picture=picture, caption=(), width_mm=width_mm)


def who(situation: Situation) -> str:
    """The person, by name where the case has one, and by reference."""
    case = situation.case
    return f"{case.name} ({case.reference})" if case.name else case.reference


def your_finger(writer: Writer, situation: Situation) -> str:
    case = situation.case
    return writer.say("leaf-finger", hand=case.hand, finger=finger_name(writer, case.finger))


def _letterhead(situation: Situation) -> Words:
    """The clinic by name, and where it is."""
    clinic = situation.case.clinic
    if not clinic:
        return ()
    return (*strong(clinic.name), *text("".join(f", {line}" for line in clinic.lines)))


def front_strip(writer: Writer, situation: Situation) -> Strip:
    """The letterhead, and who checked the leaf; without a checker, that it is a specimen."""
    if find_check(situation.case) is None:
        return Strip(left=_letterhead(situation), right=(), specimen=writer.say("unchecked"))
    return Strip(left=_letterhead(situation), right=strong(plain(checked_line(writer, situation.case))))


def back_strip(writer: Writer, situation: Situation) -> Strip:
    """Whose sheet it is and which finger: sides that are printed one by one come apart."""
    says = writer.say("leaf-whose", who=who(situation), date=write_date(situation.today))
    return Strip(
        left=text(says),
        right=text(capital(your_finger(writer, situation))),
        specimen="" if find_check(situation.case) else writer.say("unchecked"),
    )


def visit(writer: Writer, situation: Situation, review: ReviewDay | None) -> NextVisit:
    """The next visit: booked, to be booked, or with room to write its day."""
    written = situation.case.review_date
    day = review.day if review else written.day if written else None
    if day is None:
        return NextVisit(label=writer.say("leaf-visit-open"))
    booked = review is None or review.written
    label = writer.say("leaf-visit" if booked else "leaf-visit-about")
    return NextVisit(label=label, day=(write_weekday(day).split()[0], short_date(day)))


def _hand(writer: Writer, situation: Situation, width_mm: float) -> Drawing:
    case = situation.case
    picture = hand_pictures(writer, case.hand, case.finger, [situation.place], case.side)[0]
    bare = replace(picture, spots=tuple(replace(s, label="") for s in picture.spots), hand_name="", ring=True)
    caption = writer.say("leaf-hand", hand=case.hand, view=writer.say(f"leaf-view-{picture.view}"))
    return Drawing(name="leaf-where", picture=bare, caption=text(caption), width_mm=width_mm)


def headline(writer: Writer, situation: Situation, review: ReviewDay | None) -> Headline:
    case, stages = situation.case, situation.stages
    place = place_name(writer, situation.place, case.side)
    what = place if case.grade == "any" else f"{place}, {writer.say('grade-inline', grade=case.grade)}"
    lines: list[Words] = [
        (*strong(f"{situation.protocol.plain_name}: "), *text(f"{what}.")),
        text(writer.say("leaf-whose", who=who(situation), date=write_date(situation.today))),
    ]
    bar = None
    if not situation.hold:
        number = stages.index(situation.stage) + 1
        counted = writer.say("leaf-stage", number=number, count=len(stages))
        lines.append((*strong(f"{counted}: "), *text(f"{uncapital(situation.stage.name)}.")))
        title = writer.say("leaf-bar", number=number, count=len(stages), done=number - 1)
        picture = StagesPicture(title=title, count=len(stages), today=number, word=writer.say("leaf-today"))
        bar = Drawing(name="leaf-stages", picture=picture, caption=())
    if case.doctor_cleared:
        lines.append(text(writer.say("line-cleared", date=write_date(case.doctor_cleared.day))))
    return Headline(
        hand=_hand(writer, situation, HAND_MM),
        heading=capital(your_finger(writer, situation)),
        lines=tuple(lines),
        bar=bar,
        visit=visit(writer, situation, review),
    )


def verdict(writer: Writer, situation: Situation) -> Verdict:
    """What may be climbed today, in one line; where nobody may climb before a doctor has looked, in a thick frame."""
    if situation.hold:
        lines = (writer.say("leaf-stop"), writer.say(f"leaf-stop-{situation.hold}"))
        return Verdict(sign=sign(writer, "leave", "leaf-verdict", 15.0), says=lines, halt=True)
    mark: GripMark = "keep" if situation.stage.on_wall else "leave"
    drawing = sign(writer, mark, "leaf-verdict", VERDICT_MM, on_band=True)
    return Verdict(sign=drawing, says=(flat(situation.stage.verdict),))


def _small(writer: Writer, grip: Grip, hand: Hand, finger: Finger) -> Drawing:
    drawing = grip_drawing(writer, grip, hand=hand, finger=finger)
    assert isinstance(drawing.picture, GripPicture)
    return replace(
        drawing,
        picture=replace(drawing.picture, small=True),
        name=f"leaf-{drawing.name}",
        caption=text(grip.name),
        width_mm=None,
    )


def _names(writer: Writer, ids: Iterable[str]) -> str:
    """Grips by name: where several have a condition each, nobody may take one for another's."""
    grips: tuple[Grip, ...] = pick(writer.library.vocabularies.grips, ids)
    return capital(join_words([grip.name.lower() for grip in grips]))


def _field(writer: Writer, case: Case, mark: GripMark, heading: str, ids: Sequence[str], when: Words = ()) -> GripField:
    grips: tuple[Grip, ...] = pick(writer.library.vocabularies.grips, ids)
    return GripField(
        mark=mark,
        sign=sign(writer, mark, f"leaf-sign-{mark}"),
        heading=writer.say(heading),
        pictures=tuple(_small(writer, grip, case.hand, case.finger) for grip in grips),
        names=text(f"{_names(writer, ids)}."),
        when=when,
    )


def grip_fields(writer: Writer, situation: Situation) -> GripFields:
    """Yes, only like this, no: every grip under one of them. Off the wall nothing is a yes, and what is pulled on the
    floor is not shown on a wall: the plan has its picture."""
    stage, case = situation.stage, situation.case
    if leaves_all(stage):
        says = writer.say("may-no-grip-at-all")
        return GripFields(
            fields=(GripField(mark="leave", sign=sign(writer, "leave", "leaf-sign-leave"), heading=says),)
        )
    fields = [_field(writer, case, "keep", "may-yes", stage.grips.keep)] if stage.grips.keep else []
    limited = [grip for rule in stage.grips.limit for grip in rule.grips]
    if limited:
        when: list[Run] = []
        for rule in stage.grips.limit:
            when += [Run(" ")] if when else []
            if len(stage.grips.limit) > 1:
                when += strong(f"{_names(writer, rule.grips)}: ")
            when += writer.words(rule.brief)
        heading = "may-only" if stage.on_wall else "may-only-floor"
        field = _field(writer, case, "limit", heading, limited, tuple(when))
        field = field if stage.on_wall else replace(field, pictures=())
        fields.append(replace(field, names=()) if len(stage.grips.limit) > 1 else field)
    if stage.grips.leave:
        fields.append(_field(writer, case, "leave", "may-no" if stage.on_wall else "may-no-floor", stage.grips.leave))
    return GripFields(fields=tuple(fields))


def note(writer: Writer, situation: Situation) -> tuple[Note, ...]:
    """The clinician's own words, where there are any."""
    if not situation.case.note:
        return ()
    says = " ".join(situation.case.note.split())
    return (Note(words=(*strong(f"{writer.say('leaf-note')}: "), *text(says))),)
