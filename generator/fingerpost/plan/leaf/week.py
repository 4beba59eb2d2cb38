"""The plan until the next visit: what is done, how much, on which days; one load for each exercise, and no range."""

from __future__ import annotations

from datetime import date, timedelta

from fingerpost.model.audience import flat
from fingerpost.model.masses import write_mass
from fingerpost.model.protocol import Dose
from fingerpost.model.shared import Exercise
from fingerpost.model.times import write_date, write_weekday
from fingerpost.plan.base.paper import Week, WeekRow
from fingerpost.plan.base.parts import pick, seconds_words
from fingerpost.plan.base.prose import Writer, capital
from fingerpost.plan.base.runs import BLANK, Run, Words, strong, text
from fingerpost.plan.base.step_pictures import exercise_drawing
from fingerpost.plan.case.situation import Situation
from fingerpost.plan.person.enclosures import chosen_tapings
from fingerpost.plan.person.strength import DoseLoad, choose_load
from fingerpost.reckon.windows import ReviewDay

FEWEST_DAYS, MOST_DAYS = 2, 14
LONG_WEEK = 8


def list_days(situation: Situation, review: ReviewDay | None) -> tuple[date, ...]:
    """Today and each day before the next visit, at most two weeks of them; a week where no visit is known."""
    end = review.day if review else situation.today + timedelta(days=7)
    count = min(max((end - situation.today).days, FEWEST_DAYS), MOST_DAYS)
    return tuple(situation.today + timedelta(days=n) for n in range(count))


def _amount(writer: Writer, dose: Dose, exercise: Exercise) -> str:
    """How much, in the fewest words that a reader can do it by."""
    hold = seconds_words(writer, dose.hold_seconds or 0)
    rest = seconds_words(writer, dose.rest_seconds) if dose.rest_seconds and dose.sets > 1 else ""
    if exercise.counts == "routes":
        count = dose.sets * (dose.repeats or 1)
        core = writer.say("one-route") if count == 1 else writer.say("routes", count=count)
    elif dose.repeats and dose.hold_seconds:
        name = "leaf-dose-held" if dose.sets == 1 else "leaf-dose-times-held"
        core = writer.say(name, sets=dose.sets, repeats=dose.repeats, time=hold)
    elif dose.repeats:
        core = writer.say("leaf-dose" if dose.sets == 1 else "leaf-dose-times", sets=dose.sets, repeats=dose.repeats)
    else:
        name = "hold" if dose.sets == 1 else "pulls" if exercise.loaded else "holds"
        core = writer.say(f"leaf-{name}", sets=dose.sets, time=hold)
    return writer.say("leaf-dose-rest", dose=capital(core), time=rest) if rest else f"{capital(core)}."


def _often(writer: Writer, dose: Dose, days: int) -> str:
    if dose.times_a_day > 1:
        return capital(writer.say("times-a-day", count=dose.times_a_day)) + "."
    if dose.days_a_week >= 7:
        return capital(writer.say("every-day")) + "."
    if dose.days_a_week == 1:
        return writer.say("leaf-choose-one" if days <= LONG_WEEK else "leaf-choose-one-weekly")
    return writer.say("leaf-choose" if days <= LONG_WEEK else "leaf-choose-weekly", count=dose.days_a_week)


def _apart(writer: Writer, situation: Situation, dose: Dose, exercise: Exercise) -> str:
    """That a pull is not for the days of climbing, and days of climbing are not in a row."""
    known = {e.id: e for e in writer.library.vocabularies.exercises}
    if dose.days_a_week > 3:
        return ""
    if exercise.counts == "routes":
        told = dose.days_a_week < 2 or "day" in flat(situation.stage.brief or ())  # a day off stands there already
        return "" if told else writer.say("leaf-not-in-a-row")
    climbs = any(known[d.exercise].counts == "routes" for d in situation.stage.exercises)
    return writer.say("leaf-not-climbing-days") if climbs and exercise.loaded else ""


def _load_words(writer: Writer, situation: Situation, load: DoseLoad) -> Words:
    """Which hand, on what, how heavy. Where no load is known, room for the clinician to write it."""
    if load.kg is None:
        says = writer.say("leaf-load-open", hand=capital(situation.case.hand), units=situation.case.units)
        before, _, after = says.partition("{blank}")
        middle, _, end = after.partition("{blank}")
        return (*text(before), BLANK, *text(middle), BLANK, *text(f"{end} "))
    name = "leaf-load-change" if load.change_kg is not None else "leaf-load"
    before = writer.say(
        name, hand=capital(writer.say(f"leaf-hands-{load.hands}", hand=situation.case.hand)), edge=f"{load.edge_mm:g}"
    )
    after = writer.say("leaf-load-after" if load.change_kg is None else _change(load.change_kg))
    lifted = write_mass(load.kg if load.change_kg is None else abs(load.change_kg), situation.case.units)
    return (*text(f"{before} "), *strong(lifted), *text(f" {after} "))


def _change(change_kg: float) -> str:
    return "leaf-load-added" if change_kg >= 0 else "leaf-load-taken-off"


def _row(writer: Writer, situation: Situation, dose: Dose, days: int) -> WeekRow:
    exercise: Exercise = pick(writer.library.vocabularies.exercises, [dose.exercise])[0]
    load = choose_load(situation, dose) if exercise.loaded and situation.stage.load else None
    if load is not None and load.withheld:
        says = text(writer.say("leaf-load-ask"))
        return WeekRow(words=(*strong(f"{exercise.brief or exercise.name}. "), *says))
    words: list[Run] = [*strong(f"{exercise.brief or exercise.name}. ")]
    words += _load_words(writer, situation, load) if load else ()
    words += [*text(_amount(writer, dose, exercise)), Run(" ")]
    if exercise.counts == "routes" and situation.stage.brief:
        words += [*writer.words(situation.stage.brief), Run(" ")]
    words += strong(_often(writer, dose, days))
    if apart := _apart(writer, situation, dose, exercise):
        words += [Run(" "), *text(apart)]
    cue = writer.words(exercise.cue) if exercise.cue and exercise.counts != "routes" else ()
    circles = dose.times_a_day if dose.times_a_day > 1 else 0  # what is done once is ticked in the box of the day
    picture = exercise_drawing(writer, exercise, situation.case.hand, situation.case.finger)
    return WeekRow(words=tuple(words), cue=cue, circles=circles, picture=picture)


def _written(writer: Writer, situation: Situation) -> tuple[WeekRow, ...]:
    """What is written down each day: pain now and the next morning. How much is all right, the box at the foot says."""
    morning = writer.say("leaf-morning-none" if situation.stage.pain.most == 0 else "leaf-morning")
    return (
        WeekRow(words=strong(writer.say("leaf-pain-now")), written=True),
        WeekRow(words=(*strong(f"{writer.say('leaf-pain-morning')} "), *text(morning)), written=True),
    )


def week(writer: Writer, situation: Situation, review: ReviewDay | None) -> tuple[Week, ...]:
    """The plan as a table to tick; none where the stage has no exercises."""
    doses = situation.stage.exercises
    if not doses:
        return ()
    days = list_days(situation, review)
    last = days[-1] + timedelta(days=1)
    until = "leaf-plan" if review and review.written else "leaf-plan-about" if review else "leaf-plan-until"
    end = review.day if review else last
    day = write_date(end).rsplit(" ", 1)[0]
    names = ((write_weekday(d)[: 2 if len(days) > LONG_WEEK else 3], str(d.day)) for d in days)
    rows = tuple(_row(writer, situation, dose, len(days)) for dose in doses)
    return (
        Week(
            heading=writer.say(until, day=f"{write_weekday(end)[:3]} {day}"),
            aside=writer.words(writer.say("leaf-plan-aside")),
            first_head=writer.say("leaf-tick"),
            days=tuple(names),
            rows=(*rows, *_written(writer, situation)),
        ),
    )


def daily(writer: Writer, situation: Situation) -> tuple[Words, ...]:
    """What a stage without a plan on the floor or wall asks: daily life, climbing, pain, splint."""
    stage = situation.stage
    lines: list[Words] = []
    for worn in chosen_tapings(writer, situation):
        if not worn.is_cut and flat(worn.wear):
            lines.append((*strong(f"{worn.name}: "), *writer.words(worn.wear)))
    lines.append((*strong(f"{writer.say('label-daily-life')}: "), *writer.words(stage.daily_brief or stage.daily_life)))
    return tuple(lines)
