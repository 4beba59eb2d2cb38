"""What must be true before the next stage, and what comes then: no day before the next visit."""

from __future__ import annotations

from datetime import date, timedelta

from fingerpost.model.audience import flat
from fingerpost.model.masses import write_mass
from fingerpost.model.shared import Gate
from fingerpost.model.times import Span, add_span, write_date
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.paper import Ahead, Ticks
from fingerpost.plan.base.parts import pick
from fingerpost.plan.base.pictures import PathPicture, Signpost
from fingerpost.plan.base.prose import Writer, capital, uncapital
from fingerpost.plan.base.runs import BLANK, Run, Words, strong, text
from fingerpost.plan.case.situation import Situation, is_first_visit
from fingerpost.plan.person.strength import GripGoal, bars_picture, list_goals
from fingerpost.plan.person.way_back import flags_of, short_date
from fingerpost.reckon.windows import GROWTH_STAGE_DAYS, ReviewDay, WayBack, choose_review, list_ahead

LATE_DAYS = 7


def write_stay(days: int) -> str:
    """A time in a stage, in whole weeks where it is some."""
    return str(Span(days // 7, "weeks") if days % 7 == 0 else Span(days, "days"))


def _stay(situation: Situation) -> str:
    """The shortest time in today's stage."""
    way = situation.way
    following = way.windows[way.today_index + 1 : way.today_index + 2] if way else ()
    return write_stay(following[0].stay_days if following else GROWTH_STAGE_DAYS)


def _since(writer: Writer, situation: Situation) -> Words:
    """From when the time in today's stage counts, where that day is written."""
    way = situation.way
    begun = way.windows[way.today_index].began if way else None
    return text(f" {writer.say('leaf-since', date=short_date(begun).rsplit(' ', 1)[0])}") if begun else ()


def _gate_words(writer: Writer, situation: Situation, gate: Gate) -> Words:
    says = flat(gate.brief).replace("{most}", str(situation.stage.pain.most))
    words = writer.words(says.replace("{weeks}", _stay(situation)))
    if "{weeks}" in says:
        words = (*words, *_since(writer, situation))
    if gate.strength:
        words = (*words, *_goal_words(writer, situation, list_goals(writer, situation, gate.strength)))
    if day := _first_test(situation, gate):
        words = (*words, *text(f" {writer.say('leaf-test-from', date=short_date(day))}"))
    return words


def _goal_words(writer: Writer, situation: Situation, goals: tuple[GripGoal, ...]) -> Words:
    """What the sore hand must pull, by grip where there are several; room to write it where no test is known."""
    units = situation.case.units
    runs: list[Run] = []
    for one in goals or (None,):
        mass = strong(write_mass(one.goal.kg, units)) if one and one.goal else (BLANK, *text(f" {units}"))
        grip = f" {writer.say('leaf-goal-in', grip=one.grip)}" if one and len(goals) > 1 else ""
        runs += [*text(", " if runs else f" {writer.say('leaf-goal')} "), *mass, *text(grip)]
    return (*runs, Run("."))


def _first_test(situation: Situation, gate: Gate) -> date | None:
    """From when a hand may be tested as hard as it can, where that is after the next visit."""
    way = situation.way
    window = next((w for w in situation.stage.windows if w.grade == situation.grade.id), None)
    if gate.pull != "maximal" or way is None or window is None or window.maximal_test is None:
        return None
    written = situation.case.review_date
    visit = choose_review(way, written.day if written else None).day
    day = add_span(way.anchor, window.maximal_test) + timedelta(days=way.delay_days)
    return day if day > visit else None


def _bars(writer: Writer, situation: Situation, gates: tuple[Gate, ...]) -> tuple[Drawing | None, Words]:
    """Both hands as bars with the goal between them, where a test of both is known."""
    share = next((gate.strength for gate in gates if gate.strength), None)
    goals = list_goals(writer, situation, share) if share else ()
    tested = next(((one.goal, one.pair, one.grip) for one in goals if one.goal and one.pair), None)
    if tested is None:
        return None, ()
    goal, pair, grip = tested
    healthy, sore = pair
    units = situation.case.units
    said = {t.hand: write_mass(t.best_kg, units) for t in pair}
    named = tuple((writer.say("leaf-hand-name", hand=capital(t.hand)), t) for t in pair)
    aim = write_mass(goal.kg, units)
    title = writer.say("leaf-bars", healthy=said[healthy.hand], sore=said[sore.hand], goal=aim)
    picture = bars_picture(title, named, units, goal, writer.say("leaf-goal-at", goal=aim))
    when = write_date(max(healthy.day, sore.day))
    words = text(writer.say("leaf-tested", grip=capital(grip), edge=f"{healthy.key.edge_mm:g}", date=when))
    return Drawing(name="leaf-bars", picture=picture, caption=()), words


def ticks(writer: Writer, situation: Situation) -> tuple[Ticks, ...]:
    """What the reader ticks, and what only the clinic tests; none on the last stage."""
    gates: tuple[Gate, ...] = pick(writer.library.vocabularies.gates, (use.gate for use in situation.stage.gate))
    if not gates:
        return ()
    number = situation.stages.index(situation.stage) + 2
    after = situation.stages[number - 1 : number]
    name = uncapital(after[0].name) if after else ""
    bars, bars_words = _bars(writer, situation, gates)
    yours = tuple(_gate_words(writer, situation, g) for g in gates if g.who == "person")
    clinics = tuple(_gate_words(writer, situation, g) for g in gates if g.who != "person")
    return (
        Ticks(
            heading=writer.say("leaf-before", number=number, name=name),
            aside=text(writer.say("leaf-all-true")),
            you_heading=writer.say("gate-you-tick"),
            you=yours,
            clinic_heading=writer.say("gate-clinic-tests"),
            clinic=clinics,
            bars=bars,
            bars_words=bars_words,
        ),
    )


def _when(writer: Writer, situation: Situation, review: ReviewDay | None, day: date) -> str:
    short = short_date(day) if day.year != situation.today.year else short_date(day).rsplit(" ", 1)[0]
    if review and day <= review.day:
        return writer.say("leaf-at-visit" if review.written else "leaf-at-a-visit", date=short)
    return writer.say("leaf-often-about", date=short)


def ahead(writer: Writer, situation: Situation, review: ReviewDay | None) -> tuple[Ahead, ...]:
    """The stages ahead as a path and as rows, with the dates that matter."""
    way = situation.way
    names = {stage.id: stage.name for stage in situation.stages}
    if way is None:
        return ()
    rows = [
        (number, names[stage], _when(writer, situation, review, days.usual))
        for number, stage, days in list_ahead(way, review)
    ]
    if not rows:
        return ()
    posts = tuple(
        Signpost(number=number, name=name, arms=(when,), gate="", standing="ahead") for number, name, when in rows
    )
    told = "; ".join(f"{number}, {name}, {when}" for number, name, when in rows)
    today = way.today_index + 1
    flags = tuple(flag for flag in flags_of(situation, way) if flag.after > today)
    picture = PathPicture(title=writer.say("leaf-path", stages=told), posts=posts, lying=True, flags=flags)
    late = way.delay_days >= LATE_DAYS and not is_first_visit(situation.case, situation.today)
    says = [writer.say("leaf-delay")] if late else []
    taped = situation.taping_end and not situation.case.tape_allergy
    if taped and situation.taping_end and situation.stages.index(situation.stage):
        says.append(writer.say("leaf-tape-until", date=short_date(situation.taping_end.day)))
    dates: list[Run] = []
    for flag in flags_of(situation, way):
        dates += [*strong(f"{flag.what}, {flag.date}"), *text(f": {_at(writer, names, way, rows, flag.after)} ")]
    return (
        Ahead(
            heading=writer.say("leaf-way"),
            aside=text(writer.say("leaf-way-aside")),
            path=Drawing(name="leaf-path", picture=picture, caption=()),
            rows=tuple((f"{number}. {name}", text(when)) for number, name, when in rows),
            words=(*dates, *writer.words(" ".join(says))),
        ),
    )


def _at(writer: Writer, names: dict[str, str], way: WayBack, rows: list[tuple[int, str, str]], number: int) -> str:
    name = names[way.windows[number - 1].stage]
    return writer.say("leaf-date-stage", number=number, name=uncapital(name))
