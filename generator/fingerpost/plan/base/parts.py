"""Parts that stand on pages and on sheets alike, so that a sentence that shows on both is made once."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Any, Literal

from fingerpost.model.audience import EVERYBODY, For, Told, flat
from fingerpost.model.protocol import Dose, Protocol, Range, Referral, Seek, Stage, Window
from fingerpost.model.shared import Exercise, Grip, Taping, Test, WarningSign
from fingerpost.model.words import GRIP_MARKS, URGENCIES, GripMark, Urgency, split_sentences
from fingerpost.plan.base.blocks import (
    Block,
    Box,
    Bullets,
    Drawing,
    Fold,
    Folds,
    Gallery,
    GripList,
    GripRow,
    Paragraph,
    Table,
)
from fingerpost.plan.base.prose import Writer, Written, capital, join_words, uncapital
from fingerpost.plan.base.runs import Run, Words, strong, text


def pick(entries: Iterable[Any], wanted: Iterable[str]) -> tuple[Any, ...]:
    """The entries of a vocabulary with the wanted ids, in the wanted order. Raises KeyError for an unknown id."""
    by_id = {e.id: e for e in entries}
    return tuple(by_id[i] for i in wanted)


def paragraph(writer: Writer, written: Written, lead: bool = False) -> Paragraph:
    return Paragraph(words=writer.words(written), lead=lead)


def bullets(writer: Writer, items: Iterable[Written], title: str = "", steps: bool = False) -> Bullets:
    style: Literal["points", "steps"] = "steps" if steps else "points"
    return Bullets(items=tuple(writer.words(i) for i in items), title=title, style=style)


def labelled(label: str, words: Words) -> Words:
    """'Label: words', the label strong."""
    return (*strong(f"{label}: "), *words)


def grip_list(writer: Writer, stage: Stage, caption: str) -> GripList:
    """Every grip of a stage under keep, limit or leave."""
    grips = {g.id: g.name for g in writer.library.vocabularies.grips}

    def names(ids: Iterable[str]) -> tuple[str, ...]:
        return tuple(grips[i] for i in ids)

    rows = [GripRow(mark="keep", grips=names(stage.grips.keep))] if stage.grips.keep else []
    rows += [GripRow(mark="limit", grips=names(r.grips), when=writer.words(r.when)) for r in stage.grips.limit]
    left = (writer.say("every-grip"),) if leaves_all(stage) else names(stage.grips.leave)
    rows += [GripRow(mark="leave", grips=left)] if left else []
    return GripList(caption=caption, words=tuple((m, writer.say(f"grip-{m}")) for m in GRIP_MARKS), rows=tuple(rows))


def leaves_all(stage: Stage) -> bool:
    """Whether no grip at all may be used."""
    return not stage.grips.keep and not stage.grips.limit


def summary(writer: Writer, condition: Protocol | Referral, lead: bool = False) -> Paragraph:
    """What an injury is, for anybody who reads about it; and that reading is no diagnosis."""
    return Paragraph(words=(*writer.words(condition.summary), *text(f" {writer.say('cannot-tell')}")), lead=lead)


def for_any_place(said: Told) -> Told:
    """Without what is said to one place only: who reads about an injury at large finds theirs on the hand."""
    return tuple(piece for piece in said if not piece.for_.place)


def mark_of(grip: Grip, stage: Stage) -> GripMark:
    """How one grip stands in one stage."""
    if grip.id in stage.grips.keep:
        return "keep"
    return "leave" if grip.id in stage.grips.leave else "limit"


def _times(writer: Writer, dose: Dose) -> str:
    day = writer.say("once-a-day") if dose.times_a_day == 1 else writer.say("times-a-day", count=dose.times_a_day)
    return f"{day}, {_days(writer, dose.days_a_week)}"


def _days(writer: Writer, count: int) -> str:
    if count == 1:
        return writer.say("one-day-a-week")
    return writer.say("every-day") if count == 7 else writer.say("days-a-week", count=count)


def seconds_words(writer: Writer, seconds: int) -> str:
    """'45 seconds', '5 minutes'."""
    if seconds >= 120 and seconds % 60 == 0:
        return writer.say("minutes", count=seconds // 60)
    return writer.say("seconds", count=seconds)


def _route_words(writer: Writer, dose: Dose) -> Words:
    """A dose of climbing: routes, with the rest between them."""
    count = dose.sets * (dose.repeats or 1)
    routes = writer.say("one-route") if count == 1 else writer.say("routes", count=count)
    rest = writer.say("route-rest", time=seconds_words(writer, dose.rest_seconds)) if dose.rest_seconds else ""
    parts = [routes, rest, _times(writer, dose)]
    return (*text(". ".join(capital(p) for p in parts if p)), writer.mark(dose.source), Run("."))


def dose_words(writer: Writer, dose: Dose) -> Words:
    """A dose in words that equal its numbers, with its mark."""
    exercise = pick(writer.library.vocabularies.exercises, [dose.exercise])[0]
    if exercise.counts == "routes":
        return _route_words(writer, dose)
    sets = writer.say("one-set") if dose.sets == 1 else writer.say("sets", count=dose.sets)
    hold = seconds_words(writer, dose.hold_seconds or 0)
    if dose.repeats and dose.hold_seconds:
        core = writer.say("dose-repeats-held", sets=sets, repeats=dose.repeats, time=hold)
    elif dose.repeats:
        core = writer.say("dose-repeats", sets=sets, repeats=dose.repeats)
    else:
        core = writer.say("dose-held", sets=sets, time=hold)
    rest = (
        writer.say("dose-rest", time=seconds_words(writer, dose.rest_seconds))
        if dose.rest_seconds and dose.sets > 1
        else ""
    )
    parts = [core, rest, _times(writer, dose)]
    if dose.grip:
        grip = pick(writer.library.vocabularies.grips, [dose.grip])[0]
        parts.insert(0, writer.say("dose-grip", grip=grip.name.lower()))
    return (*text(capital(". ".join(capital(p) for p in parts if p))), writer.mark(dose.source), Run("."))


def equipment_words(writer: Writer, exercise: Exercise) -> str:
    if not exercise.equipment:
        return writer.say("no-equipment")
    said = ((e.for_, writer.say("equipment", thing=e.thing, instead=e.instead)) for e in exercise.equipment)
    return " ".join(f"{_meant(writer, meant)}{capital(one)}." for meant, one in said)


def _meant(writer: Writer, meant: For) -> str:
    """Who is meant, before what is for them; nothing where it is for everybody."""
    return "" if meant == EVERYBODY else f"{writer.audience(meant)}: "


def audience_words(writer: Writer, meant: For) -> Words:
    """Who is meant, in strong words before what is for them; nothing where it is for everybody."""
    return strong(_meant(writer, meant)) if meant != EVERYBODY else ()


def exercise_blocks(
    writer: Writer,
    exercise: Exercise,
    dose: Dose | None,
    shown: Gallery | None,
    brief: bool = False,
    mine: Words = (),
    told: Collection[str] = (),
) -> tuple[Block, ...]:
    """One exercise so that it can be repeated: why, how much, with what, how, when to stop.

    `shown`: its pictures, above the steps. `mine`: a line about this person's own load, which stands first. `told`:
    when to stop, as told already for all.
    """
    head = [labelled(writer.say("label-aim"), writer.words(exercise.aim))]
    if dose:
        head.append(labelled(writer.say("label-dose"), dose_words(writer, dose)))
    head.append(labelled(writer.say("label-equipment"), writer.words(equipment_words(writer, exercise))))
    head.append(labelled(writer.say("label-start"), writer.words(exercise.start)))
    stop = " ".join(s for s in split_sentences(flat(exercise.stop_if)) if s not in told) if told else exercise.stop_if
    tail = [labelled(writer.say("label-stop-if"), writer.words(stop))] if stop else []
    if not brief:
        tail.insert(0, labelled(writer.say("label-mistakes"), writer.words(exercise.mistakes)))
    tail.append(labelled(writer.say("label-supervision"), text(writer.say(f"supervision-{exercise.supervision}"))))
    return (
        *((Paragraph(words=mine),) if mine else ()),
        Bullets(items=tuple(head)),
        *((shown,) if shown else ()),
        bullets(writer, exercise.steps, steps=True),
        Bullets(items=tuple(tail)),
    )


def _meant_for(writer: Writer, meant: For) -> str:
    """Who is meant, in brackets after a name; nothing where it is for everybody."""
    return "" if meant == EVERYBODY else f" ({uncapital(writer.audience(meant))})"


def list_tapings(writer: Writer, stage: Stage) -> tuple[Taping, ...]:
    """The tapings of a stage."""
    return pick(writer.library.vocabularies.tapings, (use.taping for use in stage.taping))


def tape_uses(writer: Writer, stage: Stage) -> tuple[tuple[Taping, str], ...]:
    """Every taping of a stage, with for whom it is meant, in words ('' for everybody)."""
    uses = zip(stage.taping, list_tapings(writer, stage), strict=True)
    chosen = f" ({writer.say('taping-by-choice')})"
    return tuple((taping, _meant_for(writer, use.for_) + (chosen if use.by_choice else "")) for use, taping in uses)


def taping_blocks(
    writer: Writer, taping: Taping, steps: Gallery, check: Drawing | None, wrong: Drawing
) -> tuple[Block, ...]:
    """One taping: why, with what, step by step, the check afterwards, mistakes, when it comes off."""
    return (
        paragraph(writer, taping.purpose),
        paragraph(writer, taping.evidence),
        tape_materials(writer, taping),
        steps,
        *((check,) if check else ()),
        tape_check(writer, taping),
        wrong,
        bullets(writer, taping.mistakes, title=writer.say("tape-mistakes-title")),
    )


def tape_materials(writer: Writer, taping: Taping) -> Paragraph:
    return Paragraph(
        words=labelled(writer.say("label-materials"), writer.words(f"{join_words(list(taping.materials))}."))
    )


def tape_check(writer: Writer, taping: Taping) -> Box:
    """What to check after taping, and when it comes off."""
    lines = [writer.words(c) for c in taping.check_after]
    lines.append(labelled(writer.say("label-take-off"), writer.words(taping.take_off)))
    return Box(level="caution", title=writer.say("tape-check-title"), lines=tuple(lines))


def test_blocks(writer: Writer, test: Test) -> tuple[Block, ...]:
    """One test. When not to do it stands before how to do it."""
    return (
        Paragraph(words=text(f"{test.plain.rstrip('.')}. {writer.say(f'test-by-{test.who}')}")),
        Paragraph(words=labelled(writer.say("label-not-when"), writer.words(test.not_when))),
        bullets(writer, test.how, steps=True),
        Bullets(
            items=(
                labelled(writer.say("label-positive"), writer.words(test.positive)),
                labelled(writer.say("label-not-proof"), writer.words(test.not_proof)),
            )
        ),
    )


def warning_words(writer: Writer, sign: WarningSign, strong_sign: bool = False) -> Words:
    """A warning sign and what to do."""
    shows = writer.words(sign.sign.strip().rstrip(".") + ".")
    if strong_sign:
        shows = tuple(Run(r.text, "strong") if r.kind == "plain" else r for r in shows)
    return (*shows, Run(" "), *writer.words(sign.do))


def short_sign(sign: WarningSign) -> str:
    """A warning sign at a glance, as a sentence."""
    return f"{(sign.short or sign.sign).strip().rstrip('.')}."


def warning_box(writer: Writer, wanted: Iterable[str], urgencies: Iterable[Urgency] = URGENCIES) -> Box:
    """Warning signs, the most urgent first."""
    signs: tuple[WarningSign, ...] = pick(writer.library.vocabularies.warning_signs, wanted)
    order = tuple(urgencies)
    chosen = sorted((s for s in signs if s.urgency in order), key=lambda s: order.index(s.urgency))
    lines = tuple((*strong(writer.say(f"urgency-{s.urgency}") + ": "), *warning_words(writer, s)) for s in chosen)
    return Box(level="warning", title=writer.say("warning-title"), lines=lines)


def warning_folds(writer: Writer, wanted: Iterable[str]) -> Folds:
    """Warning signs in short, the most urgent first, under what to do; each opens on the whole of it. It has no title:
    it stands under a heading."""
    signs: tuple[WarningSign, ...] = pick(writer.library.vocabularies.warning_signs, wanted)

    def fold(sign: WarningSign) -> Fold:
        return Fold(title=writer.words(short_sign(sign)), lines=(warning_words(writer, sign),))

    groups = ((u, tuple(fold(s) for s in signs if s.urgency == u)) for u in URGENCIES)
    named = tuple((writer.say(f"do-{urgency}"), folds) for urgency, folds in groups if folds)
    return Folds(level="warning", title="", groups=named)


def seek_words(writer: Writer, seek: Seek) -> Words:
    return (
        *audience_words(writer, seek.for_),
        *strong(f"{writer.say(f'urgency-{seek.urgency}')}, {uncapital(seek.whom)}: "),
        *writer.words(seek.when),
    )


def sign_names(writer: Writer, ids: Iterable[str]) -> tuple[Words, ...]:
    return tuple(text(s.says) for s in pick(writer.library.vocabularies.signs, ids))


def span_words(writer: Writer, span: str) -> str:
    """A time as readers say it: no time at all is 'at once'."""
    return writer.say("at-once") if span.startswith("0 ") else span


def range_words(writer: Writer, span: Range) -> str:
    """'6 weeks', '6 to 8 weeks', '10 days to 3 weeks'."""
    if span.least == span.most:
        return span_words(writer, span.least)
    same_unit = span.least.split()[1].rstrip("s") == span.most.split()[1].rstrip("s")
    least = span.least.split()[0] if same_unit else span_words(writer, span.least)
    return writer.say("range", least=least, most=span.most)


def window_words(writer: Writer, window: Window) -> tuple[Words, ...]:
    """(earliest, usual, latest) of a window as spans from the anchor, the last with its mark."""
    earliest, usual, latest = (span_words(writer, s) for s in (window.earliest, window.usual, window.latest))
    return (text(earliest), text(usual), writer.marked(latest, window.source))


def load_words(writer: Writer, stage: Stage) -> Words:
    if stage.load is None:
        return text(writer.say("load-none"))
    says = writer.say("load-share", least=stage.load.least, most=stage.load.most)
    return writer.marked(says, stage.load.source)


def pain_words(writer: Writer, stage: Stage) -> Words:
    """How much pain is all right. A stage that asks for nothing can be gone on with no less."""
    says = writer.say("pain-none") if stage.pain.most == 0 else writer.say("pain-most", most=stage.pain.most)
    asks = stage.exercises or stage.on_wall
    morning = f"{writer.say('pain-next-morning')} {writer.say('pain-worse' if asks else 'pain-worse-still')}"
    return (*writer.marked(says, stage.pain.source), Run(". "), Run(morning))


def stage_facts(writer: Writer, stage: Stage) -> tuple[Words, ...]:
    """What a stage means for daily life and for the wall, and how much pain is all right."""
    return (
        labelled(writer.say("label-daily-life"), writer.words(stage.daily_life)),
        labelled(writer.say("label-climbing"), writer.words(stage.climbing)),
        labelled(writer.say("label-pain"), pain_words(writer, stage)),
    )


def stages_intro(writer: Writer, protocol: Protocol) -> Paragraph:
    """Who says when the next stage begins. That times are no promises only stands where there are times."""
    return paragraph(writer, writer.say("stages-intro-stop" if protocol.stop else "stages-intro"))


def empty_if_none(*blocks: Block | None) -> tuple[Block, ...]:
    return tuple(b for b in blocks if b is not None)


def table(caption: str, head: Iterable[str], rows: Iterable[Iterable[Words]]) -> Table:
    return Table(caption=caption, head=tuple(head), rows=tuple(tuple(r) for r in rows))
