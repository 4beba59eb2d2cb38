"""What has changed since the last visit, in a few plain words: the facts alone, the most important first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from fingerpost.plan.base.paper import Since
from fingerpost.plan.base.prose import Writer, join_words
from fingerpost.plan.base.runs import strong, text
from fingerpost.plan.case.situation import Situation
from fingerpost.plan.person.since import Contrast, list_changes
from fingerpost.plan.person.way_back import short_date
from fingerpost.reckon.visits import find_last

MOST_WORDS = 40
IN_LARGE_PRINT = {18: 25, 24: 0}
"""More is not read on a page that says all of it a second time. In large print each line of it costs twice the room,
and in the largest it would cost a page."""


def _name_grips(writer: Writer, changes: Sequence[Contrast]) -> str:
    names = {grip.id: grip.name.lower().partition(" (")[0] for grip in writer.library.vocabularies.grips}
    return join_words([names[change.what] for change in changes])


def _say_grips(writer: Writer, situation: Situation, changes: Sequence[Contrast]) -> Iterator[str]:
    """Grips that changed in the same way, in one sentence; what was taken away first."""
    grouped: dict[str, list[Contrast]] = {}
    for change in changes:
        grouped.setdefault(_name_way(change), []).append(change)
    for way in ("no", "only-floor", "only-limit", "free"):
        if way in grouped:
            yield writer.say(f"leaf-since-{way}", grips=_name_grips(writer, grouped[way]))
    if "new-floor" in grouped:
        yield writer.say("leaf-since-new-floor", grips=_name_grips(writer, grouped["new-floor"]))
    off_before = situation.before is not None and (situation.before.hold or not situation.before.stage.on_wall)
    new = "leaf-since-wall" if off_before else "leaf-since-new"
    plain, limited = (_name_grips(writer, grouped.get(way, ())) for way in ("new-yes", "new-limit"))
    if plain and limited:
        yield writer.say(new, grips=f"{plain}; {writer.say('leaf-since-limits', grips=limited)}")
    elif plain or limited:
        yield writer.say(new if plain else f"{new}-limits", grips=plain or limited)


def _name_way(change: Contrast) -> str:
    """How a grip changed: away, held back to the floor or to limits, free of limits, or new."""
    if change.now == "no":
        return "no"
    if change.now == "yes" and change.before == "limit":
        return "free"
    if (change.now == "floor" and change.before != "no") or (change.now == "limit" and change.before == "yes"):
        return f"only-{change.now}"
    return f"new-{change.now}"


def _say_stage(writer: Writer, change: Contrast) -> str:
    moved = int(change.now) - int(change.before)
    name = "leaf-since-on" if moved > 0 else "leaf-since-back" if moved < 0 else "leaf-since-stay"
    return writer.say(name, before=change.before, now=change.now)


def _say_load(writer: Writer, change: Contrast) -> str:
    grip = next(grip for grip in writer.library.vocabularies.grips if grip.id == change.what)
    return writer.say("leaf-since-load", grip=grip.name.lower(), before=change.before, now=change.now)


def _say_worn(writer: Writer, change: Contrast, told: Situation) -> str:
    """`told`: the situation in which it is or was worn."""
    names = {taping.id: taping.name for taping in told.library.vocabularies.tapings}
    return writer.say("leaf-since-worn" if change.now else "leaf-since-bare", name=names[change.what])


def _say_all(writer: Writer, situation: Situation, changes: Sequence[Contrast]) -> Iterator[str]:
    for kind, found in groupby(changes, key=lambda change: change.kind):
        alike = list(found)
        if kind == "stage":
            yield _say_stage(writer, alike[0])
        elif kind == "cleared":
            yield writer.say("leaf-since-cleared")
        elif kind == "grip":
            yield from _say_grips(writer, situation, alike)
        elif kind == "load":
            yield from (_say_load(writer, change) for change in alike)
        elif kind == "worn":
            yield from (_say_worn(writer, c, situation if c.now else situation.before or situation) for c in alike)
        else:
            yield from (writer.say(f"leaf-since-{c.what}", before=c.before, now=c.now) for c in alike)


def _shorten(heading: str, sentences: Sequence[str], most: int) -> str:
    """As many whole sentences as there is room for, from the first. A shorter one may fit where a longer does not."""
    kept: list[str] = []
    for sentence in sentences:
        if len(" ".join((heading, *kept, sentence)).split()) <= most:
            kept.append(sentence)
    return " ".join(kept)


def since(writer: Writer, situation: Situation) -> tuple[Since, ...]:
    """What has changed since the last visit; nothing at a first one."""
    last = find_last(situation.case, situation.today)
    changes = list_changes(situation)
    if last is None or not changes:
        return ()
    day = last.date.day
    date = short_date(day) if day.year != situation.today.year else short_date(day).rsplit(" ", 1)[0]
    heading = writer.say("leaf-since-visit", date=date)
    most = IN_LARGE_PRINT.get(situation.case.print_size, MOST_WORDS)
    says = _shorten(heading, list(_say_all(writer, situation, changes)), most)
    if not says:
        return ()
    return (Since(words=(*strong(f"{heading}: "), *text(says))),)
