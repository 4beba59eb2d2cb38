"""How a leaf ends: room for questions, where to read more, and where the figures are from."""

from __future__ import annotations

from fingerpost.plan.base.addresses import short_address
from fingerpost.plan.base.paper import Ask
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.runs import Words, text
from fingerpost.plan.base.visible import list_marks

QUESTION_LINES, NOTE_LINES = 3, 6


def ask(writer: Writer, condition: str, stage: int | None, lines: int = QUESTION_LINES) -> Ask:
    """Lines for questions and notes, and where it is told with pictures: a code where the site's address is known."""
    site = writer.library.clinic.site_address
    name = "leaf-more" if stage else "leaf-more-injury"
    return Ask(
        heading=writer.say("leaf-my-notes" if lines > QUESTION_LINES else "leaf-my-questions"),
        lines=lines,
        more_heading=writer.say(name),
        more=text(writer.say("leaf-more-site" if site else "leaf-more-ask" if stage else "leaf-more-ask-injury")),
        address=f"{site.rstrip('/')}/{short_address(condition, stage)}" if site else "",
    )


def foot(writer: Writer, blocks: object, last: str = "") -> Words:
    """Where the figures of a side are from, in a few words, with a last sentence on the back."""
    words = writer.explain_marks(list_marks(blocks))
    return (*words, *text(" " if words and last else ""), *text(last))
