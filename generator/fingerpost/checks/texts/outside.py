"""What leaves the clinic: posters that are read from afar, and words for a coach that must not tell too much."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.checks.base.walk import list_protocols
from fingerpost.model.audience import flat
from fingerpost.model.discreet import find_telltale
from fingerpost.model.library import Library
from fingerpost.problems import Problem

THINGS = 3
# Letters that fit on A4 when all of them can be read two metres away: plan/walls/notices.py has the sum.
MOST_LETTERS = {"message": 26, "look_for": 24, "do": 19}
MOST_COACH_WORDS = 25


def find_notices_without_three_things(library: Library) -> Iterator[Problem]:
    """A notice must name three things to look for and three things to do."""
    for document in list_protocols(library):
        for key in ("look_for", "do") if document.value.notice else ():
            count = len(getattr(document.value.notice, key))
            if count != THINGS:
                yield document.problem(("notice", key), f"there must be three things here, not {count}")


def find_notices_too_long_to_read(library: Library) -> Iterator[Problem]:
    """A line of a notice must be short enough to be read two metres away."""
    for document in list_protocols(library):
        for key, most in MOST_LETTERS.items() if document.value.notice else ():
            written = getattr(document.value.notice, key)
            lines = [((), written)] if isinstance(written, str) else [((n,), w) for n, w in enumerate(written)]
            for path, line in lines:
                if len(line) > most:
                    message = f"'{line}' has {len(line)} letters; {most} are the most"
                    yield document.problem(("notice", key, *path), message, "Choose fewer and shorter words.")


def find_words_that_tell_a_coach_too_much(library: Library) -> Iterator[Problem]:
    """What a coach reads must not tell what is hurt or how badly."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            for key, written in (("name", stage.name), ("coach", flat(stage.coach or ()))):
                if found := find_telltale(written):
                    hint = "Say 'finger' or 'hand', and leave out the cause."
                    yield document.problem(("stages", number, key), f"a coach must not read '{found}' here", hint)


def find_long_words_to_coaches(library: Library) -> Iterator[Problem]:
    """What a coach reads about one stage must have 25 words at the most."""
    for document in list_protocols(library):
        for number, stage in enumerate(document.value.stages):
            words = len(flat(stage.coach or ()).split())
            if words > MOST_COACH_WORDS:
                message = f"there are {words} words here; {MOST_COACH_WORDS} are the most"
                yield document.problem(("stages", number, "coach"), message, "A coach sheet is one page.")
