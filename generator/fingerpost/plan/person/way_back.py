"""The way back as a picture, a table and sentences: for one person with dates, in general with times."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date

from fingerpost.model.protocol import Protocol, Stage
from fingerpost.model.times import write_date, write_weekday
from fingerpost.model.words import PrintSize
from fingerpost.plan.base.blocks import Box, Drawing, Run, Table, Words, strong, text
from fingerpost.plan.base.checked import iso_words
from fingerpost.plan.base.parts import pick, table, window_words
from fingerpost.plan.base.pictures import Flag, PathPicture, Signpost
from fingerpost.plan.base.prose import Writer, join_words
from fingerpost.plan.case.situation import Situation
from fingerpost.reckon.windows import PACES, StageWindow, WayBack, choose_review, find_standing


def short_date(day: date) -> str:
    """5 Jan 2026, for arms of signposts and rows of a diary."""
    long = write_date(day).split()
    return f"{long[0]} {long[1][:3]} {long[2]}"


def diary_date(day: date) -> str:
    """Wed 25 Nov, for the narrow first column of a diary."""
    return f"{write_weekday(day)[:3]} {short_date(day).rsplit(' ', 1)[0]}"


def _gate_names(writer: Writer, stage: Stage) -> str:
    gates = pick(writer.library.vocabularies.gates, (use.gate for use in stage.gate))
    return "; ".join(g.name for g in gates)


def _arms(writer: Writer, window: StageWindow) -> tuple[str, ...]:
    if window.standing == "ahead":
        return tuple(writer.say(f"arm-{pace}", when=short_date(window.days.at(pace))) for pace in PACES)
    if window.began:
        return (writer.say("arm-began", when=short_date(window.began)),)
    return (writer.say(f"arm-{window.standing}"),)


def _flags(situation: Situation, way: WayBack) -> tuple[Flag, ...]:
    flags = []
    for important in sorted(situation.case.important_dates, key=lambda d: d.date):
        day = date.fromisoformat(important.date)
        standing = find_standing(way, day)
        flags.append(Flag(after=(standing.usual or 0) + 1, what=important.what, date=short_date(day)))
    return tuple(flags)


# How many signposts stand on one picture of the path: in large print, a page has room for few.
POSTS_ON_A_PICTURE: dict[PrintSize, int] = {12: 99, 14: 99, 18: 3, 24: 2}


def personal_path(writer: Writer, situation: Situation, way: WayBack, width_mm: float) -> tuple[Drawing, ...]:
    """The path with real dates, today's place and the dates that matter; in large print, a piece of it at a time."""
    stages = {s.id: s for s in situation.stages}
    posts = tuple(
        Signpost(
            number=number,
            name=stages[w.stage].name,
            arms=_arms(writer, w),
            gate=_gate_names(writer, stages[w.stage]),
            standing=w.standing,
        )
        for number, w in enumerate(way.windows, 1)
    )
    title = writer.say(
        "picture-path-today",
        count=len(posts),
        number=way.today_index + 1,
        name=stages[way.windows[way.today_index].stage].name,
    )
    here = writer.say("here", date=short_date(situation.today))
    flags, step = _flags(situation, way), POSTS_ON_A_PICTURE[situation.case.print_size]
    pieces = [posts[at : at + step] for at in range(0, len(posts), step)]
    drawings = []
    for n, piece in enumerate(pieces, 1):
        last = len(posts) if n == len(pieces) else piece[-1].number
        first = 0 if n == 1 else piece[0].number
        picture = PathPicture(
            title=title if n == 1 else writer.say("picture-path-on", names=", ".join(p.name for p in piece)),
            posts=piece,
            flags=tuple(f for f in flags if first <= f.after <= last),
            here=here if any(post.standing == "today" for post in piece) else "",
        )
        caption = text(writer.say("path-caption")) if n == len(pieces) else ()
        drawings.append(Drawing(name=f"path-{n}", picture=picture, caption=caption, width_mm=width_mm))
    return tuple(drawings)


def general_path(writer: Writer, protocol: Protocol, width_mm: float) -> Drawing:
    """The path without a person: numbers and names of the stages, and the gates between them."""
    posts = tuple(
        Signpost(number=n, name=s.name, arms=(), gate=_gate_names(writer, s), standing="none")
        for n, s in enumerate(protocol.stages, 1)
    )
    title = writer.say("picture-path", count=len(posts), names=", ".join(s.name for s in protocol.stages))
    picture = PathPicture(title=title, posts=posts)
    return Drawing(name="path", picture=picture, caption=text(writer.say("path-caption-general")), width_mm=width_mm)


def window_table(writer: Writer, situation: Situation, way: WayBack) -> Table:
    """Dates per stage. A past stage shows when it really began."""
    names = {s.id: s.name for s in situation.stages}
    rows: list[tuple[Words, ...]] = []
    for number, w in enumerate(way.windows, 1):
        name = text(writer.say("stage-number", number=number, name=names[w.stage]))
        if w.standing == "ahead":
            rows.append((name, *_day_cells(writer, w)))
        else:
            says = writer.say("began-on", date=short_date(w.began)) if w.began else writer.say(f"arm-{w.standing}")
            rows.append((name, text(says), text("–"), text("–")))
    head = tuple(writer.say(f"head-{h}") for h in ("stage", "earliest", "usual", "latest"))
    event = writer.say(f"event-{situation.case.anchor.event}")
    anchor = iso_words(situation.case.anchor.date)
    moved = "moved" if way.shift_days else "your"
    caption = writer.say(f"caption-{moved}-windows", event=event, date=anchor)
    return table(caption, head, rows)


def _day_cells(writer: Writer, window: StageWindow) -> tuple[Words, ...]:
    """The three days of a stage ahead, the last with its mark. Where all are one day, it is told once."""
    days = [text(short_date(window.days.at(pace))) for pace in PACES]
    if len(set(days)) == 1:
        days = [days[0], text("–"), text("–")]
    return (*days[:-1], (*days[-1], writer.mark(window.spans.source)))


def general_windows(writer: Writer, protocol: Protocol, grade: str, grade_name: str) -> Table:
    """Published times per stage for one grade, counted from the anchor."""
    rows = []
    stages = [s for s in protocol.stages if grade not in s.skipped_by]
    for number, stage in enumerate(stages, 1):
        window = next(w for w in stage.windows if w.grade == grade)
        name = text(writer.say("stage-number", number=number, name=stage.name))
        rows.append((name, *window_words(writer, window)))
    head = tuple(writer.say(f"head-{h}") for h in ("stage", "earliest", "usual", "latest"))
    return table(writer.say("caption-general-windows", grade=grade_name), head, rows)


def _important(writer: Writer, situation: Situation, way: WayBack) -> Iterable[Words]:
    """For each date that matters: which stage it falls in at each pace, in words."""
    names = [next(s.name for s in situation.stages if s.id == w.stage) for w in way.windows]
    for important in sorted(situation.case.important_dates, key=lambda d: d.date):
        day = date.fromisoformat(important.date)
        standing = find_standing(way, day)
        paces = {"earliest": standing.earliest, "usual": standing.usual, "latest": standing.latest}
        if len(set(paces.values())) == 1:
            paces = {"any": standing.usual}
        says = [writer.say(f"pace-{pace}", stage=_stage_at(writer, names, at)) for pace, at in paces.items()]
        says.append(_still_to_leave(writer, situation, way, standing.usual))
        says.append(writer.say("if-not-met"))
        if situation.taping_end and day <= situation.taping_end.day:
            says.append(writer.say("taped-then"))
        yield (*strong(f"{important.what}, {write_date(day)}. "), Run(" ".join(says)))


def _still_to_leave(writer: Writer, situation: Situation, way: WayBack, index: int | None) -> str:
    """Which grips are still to be left at the usual pace, in words."""
    if index is None:
        return ""
    stage = next(s for s in situation.stages if s.id == way.windows[index].stage)
    grips = [g.name.lower() for g in pick(writer.library.vocabularies.grips, stage.grips.leave)]
    return writer.say("not-yet", grips=join_words(grips)) if grips else writer.say("no-grip-left-out")


def _stage_at(writer: Writer, names: Sequence[str], index: int | None) -> str:
    if index is None:
        return writer.say("before-first-stage")
    return writer.say("stage-number", number=index + 1, name=names[index])


def dates_box(writer: Writer, situation: Situation, way: WayBack) -> Box:
    """What the dates mean: taping end, the next visit, the dates that matter. What is late or early is no matter for
    the person's paper: `plan/person/doubts.py` tells it to the clinician."""
    lines: list[Words] = [text(writer.say("windows-are-not-promises"))]
    if situation.taping_end:
        lines.append(text(writer.say("taping-until", date=write_date(situation.taping_end.day))))
    written = situation.case.review_date
    review = choose_review(way, date.fromisoformat(written) if written else None)
    lines.append(text(writer.say("review-on" if review.written else "review-about", date=write_weekday(review.day))))
    lines += _important(writer, situation, way)
    return Box(level="note", title=writer.say("dates-title"), lines=tuple(lines))
