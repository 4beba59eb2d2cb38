"""Tape lengths on paper: how long to cut each strip for this person's finger, and how much tape a week takes."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.model.protocol import Stage
from fingerpost.model.shared import Taping
from fingerpost.model.times import Span
from fingerpost.plan.base.blocks import Paragraph
from fingerpost.plan.base.illustrate import finger_name
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import strong
from fingerpost.plan.base.step_pictures import Worn
from fingerpost.plan.case.situation import Situation
from fingerpost.reckon.neighbours import Buddy, choose_buddy
from fingerpost.reckon.tape import CutList, FingerRound, TapeStrip, list_strips, plan_cuts, size_finger
from fingerpost.reckon.visits import list_sizes
from fingerpost.reckon.why import Why

# A design choice: support fell within 20 minutes in a laboratory, and nobody has counted strips on the wall.
STRIPS_A_SESSION = 2
LETTERS = "ABCD"
"""What strips are called where they differ."""


def buddy_of(situation: Situation, taping: Taping) -> Buddy | None:
    """The finger to tape to, for this person."""
    return choose_buddy(situation.case.finger, taping.neighbour, situation.case.side)


def _session_days(writer: Writer, stage: Stage) -> int:
    """On how many days a week the finger is loaded or on the wall; 0 where the stage has no such day."""
    exercises = {e.id: e for e in writer.library.vocabularies.exercises}
    days = [d.days_a_week for d in stage.exercises if exercises[d.exercise].loaded or d.exercise == "easy-wall"]
    return max(days, default=0)


def _is_daily(situation: Situation, taping: Taping) -> bool:
    """Whether two fingers are taped together in daily life too, until easy climbing has begun."""
    begun = [s.milestone for s in situation.stages[: situation.stages.index(situation.stage) + 1]]
    return taping.kind == "buddy" and "easy-climbing" not in begun


def is_renewed(writer: Writer, situation: Situation, taping: Taping) -> bool:
    """Whether a taping is put on anew within a session: a ring or an H-strip, which hold by not stretching."""
    return taping.kind in ("ring", "h-strip") and _session_days(writer, situation.stage) > 0


def times_a_week(writer: Writer, situation: Situation, taping: Taping) -> int:
    """How often the tape is put on: on the days with load or on the wall; every day where there are none."""
    sessions = _session_days(writer, situation.stage)
    if _is_daily(situation, taping) or not sessions:
        return 7
    return sessions * (STRIPS_A_SESSION if is_renewed(writer, situation, taping) else 1)


def _rounds(situation: Situation, taping: Taping) -> tuple[FingerRound, FingerRound | None]:
    case, sizes = situation.case, list_sizes(situation.case)
    buddy = buddy_of(situation, taping)
    partner = size_finger(buddy.partner, sizes, case.size) if buddy else None
    return size_finger(case.finger, sizes, case.size), partner


def put_on(situation: Situation, taping: Taping) -> Worn:
    """A taping as this person wears it: the hand, the fingers, and each strip as it is cut."""
    case, buddy = situation.case, buddy_of(situation, taping)
    finger, partner = _rounds(situation, taping)
    strips = list_strips(taping.kind, taping.level, finger, partner)
    differ = len({strip.length_mm for strip in strips}) > 1
    letters = LETTERS if differ else " " * len(strips)
    return Worn(
        taping=taping,
        hand=case.hand,
        finger=case.finger,
        partner=buddy.partner if buddy else None,
        side=case.side,
        strips=tuple((s.length_mm, s.width_mm, a.strip()) for s, a in zip(strips, letters, strict=False)),
    )


def cut_list(writer: Writer, situation: Situation, taping: Taping) -> CutList | None:
    """What to cut for a taping; None where nothing is cut."""
    finger, partner = _rounds(situation, taping)
    strips = list_strips(taping.kind, taping.level, finger, partner)
    return plan_cuts(strips, times_a_week(writer, situation, taping)) if strips else None


def _strip_words(writer: Writer, strip: TapeStrip) -> str:
    return writer.say(
        f"cut-{strip.segment}" if not strip.tail_mm else "cut-h",
        length=strip.length_mm,
        width=strip.width_mm,
        tail=f"{strip.tail_mm:g}",
        bridge=f"{strip.bridge_mm:g}",
    )


def _size_words(writer: Writer, finger: FingerRound, size: str) -> str:
    name, hand = finger_name(writer, finger.finger), writer.say(f"hand-size-{size.lower()}")
    says = writer.say(f"size-{finger.origin}", finger=name, mm=f"{finger.pip_mm:.0f}", hand=hand)
    return f"{says} {writer.say('size-outside')}" if finger.outside_gauge else says


def cut_block(writer: Writer, situation: Situation, taping: Taping, *, drawn: bool) -> Paragraph | None:
    """What to cut for one person, how the finger's size is known, and what a week takes.

    `drawn`: the step that cuts shows how long each strip is.
    """
    cuts = cut_list(writer, situation, taping)
    if cuts is None:
        return None
    finger, partner = _rounds(situation, taping)
    said = [] if drawn else [_strip_words(writer, strip) for strip in cuts.strips]
    rounds = [f for f in (finger, partner) if f]
    said += [_size_words(writer, f, situation.case.size) for f in rounds]
    if any(f.origin == "size-letter" for f in rounds):
        said.append(writer.say("size-may-differ"))
    length = f"{cuts.week_mm / 1000:.1f}"
    if is_renewed(writer, situation, taping):
        said.append(writer.say("cut-week-renewed", strips=cuts.week_strips, length=length))
    else:
        said.append(writer.say("cut-week", times=cuts.times_a_week, strips=cuts.week_strips, length=length))
    if cuts.roll_weeks:
        said.append(writer.say("cut-roll", weeks=Span(cuts.roll_weeks, "weeks")))
    return Paragraph(words=(*strong(f"{writer.say('cut-title')}: "), *writer.words(" ".join(said))))


def explain_cuts(tapings: tuple[Taping, ...], situation: Situation) -> Iterator[Why]:
    """How every strip length on the sheets came about."""
    for taping in tapings:
        finger, partner = _rounds(situation, taping)
        for strip in list_strips(taping.kind, taping.level, finger, partner):
            yield strip.why
