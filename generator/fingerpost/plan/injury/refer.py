"""The site's page of an injury that somebody else must see: where to, how soon, and what until then."""

from __future__ import annotations

from fingerpost.model.audience import flat
from fingerpost.model.protocol import Referral, Seek
from fingerpost.model.words import OFF_THE_WALL, URGENCIES
from fingerpost.plan.base.addresses import address_of
from fingerpost.plan.base.answers import list_own_warnings
from fingerpost.plan.base.blocks import Answer, Bullets, Drawing, Page, Paragraph, Section
from fingerpost.plan.base.checked import draft_badge
from fingerpost.plan.base.illustrate import EXAMPLE_HAND, example_finger, looks_drawing, spot_drawings
from fingerpost.plan.base.parts import audience_words, bullets, warning_folds
from fingerpost.plan.base.prose import Writer, capital
from fingerpost.plan.base.runs import Words, strong, text
from fingerpost.plan.injury import know
from fingerpost.plan.injury.about import folded, shown, verdict_words

HAND_MM = 60.0


def _seen_by(writer: Writer, referral: Referral) -> tuple[Bullets, ...]:
    """Who sees it, under how soon."""

    def line(seek: Seek) -> Words:
        return (*audience_words(writer, seek.for_), *strong(f"{capital(seek.whom)}. "), *writer.words(seek.when))

    found = ((u, tuple(line(seek) for seek in referral.see_somebody if seek.urgency == u)) for u in URGENCIES)
    return tuple(Bullets(items=lines, title=writer.say(f"urgency-{u}")) for u, lines in found if lines)


def _all_warnings(writer: Writer, referral: Referral) -> Section:
    signs = warning_folds(writer, list_own_warnings(writer.library, referral))
    return folded(writer, "background", "all-warnings", (), signs)


def _pictures(writer: Writer, referral: Referral) -> tuple[Drawing, ...]:
    """How it looks; where that cannot be drawn, where it is."""
    looks = looks_drawing(writer, referral)
    if looks:
        return (looks,)
    anatomy = {s.id: s for s in writer.library.vocabularies.anatomy}
    places = [anatomy[place] for place in referral.tissue]
    return spot_drawings(writer, EXAMPLE_HAND, example_finger(()), places, None, writer.say("leaf-example"), HAND_MM)


def plan_referral_page(writer: Writer, referral: Referral) -> Page:
    """A short entry: where to and how soon, why it matters, how it shows. No home programme."""
    stopped = OFF_THE_WALL.search(flat(referral.verdict))
    # In the order of the page, so that a reader meets the first source first.
    lead = (
        Answer(mark="leave" if stopped else "limit", words=verdict_words(writer, referral.verdict)),
        Paragraph(words=(*writer.words(referral.brief), *text(f" {writer.say('cannot-tell')}"))),
    )
    sections = (
        shown(writer, "act", "see-somebody", *_seen_by(writer, referral)),
        shown(writer, "act", "until-then", bullets(writer, referral.until_then)),
        *know.does_it_fit(writer, referral),
        know.text_fold(writer, "shows", referral.how_it_shows),
        know.text_fold(writer, "why", referral.why_it_matters),
        know.list_fold(writer, "tell", referral.tell),
        know.look_alikes(writer, referral),
        know.tests(writer, referral),
        know.text_fold(writer, "usual-care", referral.usual_care),
        know.list_fold(writer, "questions", referral.questions),
        know.to_print(writer, referral),
        _all_warnings(writer, referral),
        *know.closing(writer, referral),
    )
    return Page(
        address=address_of(referral.id),
        kind="referral",
        title=referral.plain_name,
        description=writer.say("description-referral", name=referral.plain_name),
        badge=draft_badge(writer, referral),
        lead=lead,
        beside=_pictures(writer, referral),
        sections=sections,
        menu=referral.plain_name,
    )
