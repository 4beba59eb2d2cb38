"""The site's pages of one injury: a full protocol, or a short entry."""

from __future__ import annotations

from fingerpost.model.library import Library
from fingerpost.model.protocol import Protocol, Recovery, Referral
from fingerpost.model.words import PAPERS, AgeBand
from fingerpost.plan.base.addresses import address_of, coach_address, pair_address, sheet_address
from fingerpost.plan.base.answers import list_own_warnings
from fingerpost.plan.base.audience import Reader, narrow_library
from fingerpost.plan.base.blocks import Block, Bullets, Page, Paragraph, Run, Section, Table, Words, link, stack, text
from fingerpost.plan.base.checked import draft_badge, status_words
from fingerpost.plan.base.illustrate import example_insides, example_spots, example_tears, looks_drawing
from fingerpost.plan.base.parts import (
    bullets,
    empty_if_none,
    labelled,
    paragraph,
    pick,
    range_words,
    seek_words,
    sign_names,
    stages_intro,
    summary,
    table,
    warning_folds,
)
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.pages.grip_loads import load_blocks
from fingerpost.plan.pages.stage_section import grade_name, plan_stage
from fingerpost.reckon.telling import speaks_for, table_signs

HAND_MM = 75.0


def write_about(library: Library, id: str) -> tuple[Writer, Protocol]:
    """A writer for anybody who may have an injury, and its protocol as it is meant for them."""
    about = library.find_protocol(id)
    if about is None:
        raise KeyError(id)
    age: AgeBand | None = "under-18" if about.people == "under-18" else None
    narrowed = narrow_library(library, Reader(age=age, planned=False), id)
    writer, protocol = Writer(narrowed), narrowed.find_protocol(id) or about
    writer.tell_about(protocol.stages)
    return writer, protocol


def _section(writer: Writer, id: str, *blocks: Block | None) -> Section:
    return Section(id=id, heading=writer.say(f"heading-{id}"), blocks=empty_if_none(*blocks))


def _lead(writer: Writer, protocol: Protocol) -> tuple[Block, ...]:
    return (
        summary(writer, protocol, lead=True),
        *example_spots(writer, protocol, HAND_MM),
        Bullets(items=_names(writer, protocol)),
        warning_folds(writer, (use.sign for use in protocol.warning_signs)),
    )


def _names(writer: Writer, condition: Protocol | Referral) -> tuple[Words, ...]:
    rows = [labelled(writer.say("label-trade-name"), text(condition.trade_name))]
    if condition.also_called:
        rows.append(labelled(writer.say("label-also-called"), text("; ".join(condition.also_called))))
    rows.append(labelled(writer.say("label-people"), text(writer.say(f"people-{condition.people}"))))
    return tuple(rows)


def _sign_blocks(writer: Writer, condition: Protocol | Referral) -> tuple[Block, ...]:
    """The signs, and of those that do not fit the ones that lead to a look-alike; the page of signs has all."""
    fit = condition.signs
    elsewhere = {sign for alike in condition.look_alikes for sign in _usual_signs(writer, alike.id)}
    telling = tuple(sign for sign in fit.does_not_fit if sign in elsewhere)
    lists = (("usual", fit.usual), ("sometimes", fit.sometimes), ("does-not-fit", telling))
    blocks: list[Block] = [
        Bullets(items=sign_names(writer, ids), title=writer.say(f"signs-{name}")) for name, ids in lists if ids
    ]
    if len(telling) < len(fit.does_not_fit):
        blocks.append(Paragraph(words=link(writer.say("signs-more"), "signs/")))
    return tuple(blocks)


def _usual_signs(writer: Writer, condition: str) -> tuple[str, ...]:
    found = writer.library.find_condition(condition)
    return found.signs.usual if found else ()


def _test_list(writer: Writer, condition: Protocol | Referral) -> Bullets | None:
    tests = pick(writer.library.vocabularies.tests, condition.tests)
    if not tests:
        return None
    return Bullets(items=tuple((*link(t.name, f"tests/#{t.id}"), *text(f": {t.plain}")) for t in tests))


def _look_alikes(writer: Writer, condition: Protocol | Referral) -> Table:
    """What it may be instead: the signs that fit that better, and those that fit this better, side by side."""
    rows = []
    for alike in condition.look_alikes:
        other = writer.library.find_condition(alike.id)
        if other is None:
            continue
        signs = pick(writer.library.vocabularies.signs, alike.signs)
        fits = table_signs({c.id: c.signs for c in (condition, other)})
        told = [(speaks_for(fits, sign.id, condition.id, other.id), sign.says) for sign in signs]
        there, here = ([says for speaks, says in told if speaks == c.id] for c in (other, condition))
        tests = [
            link(writer.say("look-alike-test", test=test.name), f"tests/#{test.id}")
            for test in pick(writer.library.vocabularies.tests, alike.tests)
        ]
        rows.append(
            (
                stack(
                    (
                        link(other.plain_name, address_of(other.id)),
                        link(writer.say("apart-link"), pair_address(condition.id, other.id)),
                    )
                ),
                stack(map(text, there)),
                stack(map(text, here)),
                stack((writer.words(alike.why_it_matters), *tests)),
            )
        )
    name = condition.plain_name
    head = (
        writer.say("head-look-alike"),
        writer.say("head-fits-it"),
        writer.say("head-fits-this", name=name),
        writer.say("head-why-it-matters"),
    )
    return table(writer.say("caption-look-alikes", name=name), head, rows)


def _grades(writer: Writer, protocol: Protocol) -> Table:
    head = tuple(writer.say(f"head-{h}") for h in ("grade", "what", "recognised", "imaging", "treated-by"))
    rows = [
        (
            text(f"{grade_name(writer, g.id)}: {g.name}" if g.id != "any" else g.name),
            writer.words(g.plain),
            writer.words(g.recognised),
            writer.words(g.imaging),
            text(writer.say(f"treated-by-{g.treated_by}")),
        )
        for g in protocol.grades
    ]
    return table(writer.say("caption-grades"), head, rows)


def _recovery(writer: Writer, study: Recovery) -> Words:
    """How long people in a study really took, and until what."""
    until = writer.say(f"recovery-until-{study.until}")
    says = writer.say(f"recovery-{study.who}", until=until, after=study.after)
    return (Run("; "), *writer.marked(says, study.source))


def timeline_table(writer: Writer, protocol: Protocol) -> Table | None:
    """Typical times per grade, as published or practised, never added up."""
    if not protocol.timelines:
        return None
    head = tuple(writer.say(f"head-{h}") for h in ("grade", "easy-climbing", "full-climbing", "taping-ends"))
    rows = []
    for line in protocol.timelines:
        cells: list[Words] = []
        for span in (line.easy_climbing, line.full_climbing, line.taping_ends):
            if span is None:
                cells.append(text(writer.say("no-taping")))
                continue
            found = _recovery(writer, line.recovery) if span is line.full_climbing and line.recovery else ()
            cells.append((*writer.marked(range_words(writer, span), span.source), *found))
        rows.append((text(grade_name(writer, line.grade)), *cells))
    return table(writer.say("caption-timelines"), head, rows)


def _print(writer: Writer, condition: Protocol | Referral) -> Section:
    """The leaves to print, on each paper; of a protocol also the page for coaches."""
    kind = "sheet" if isinstance(condition, Protocol) else "leaf"
    items = [link(writer.say(f"{kind}-link", paper=p), sheet_address(condition.id, p)) for p in PAPERS]
    if isinstance(condition, Protocol):
        items.append(link(writer.say("coaches-link"), coach_address(condition.id)))
    intro = paragraph(writer, writer.say(f"{kind}-intro"))
    return _section(writer, "print", intro, Bullets(items=tuple(items)))


def _codes(writer: Writer, condition: Protocol | Referral) -> Bullets:
    return Bullets(
        items=tuple((*text(f"{c.icd10} {c.title}: "), *writer.words(c.fits)) for c in condition.codes),
        title=writer.say("codes-title"),
    )


def _closing(writer: Writer, condition: Protocol | Referral) -> tuple[Section, ...]:
    codes = _codes(writer, condition)  # may name a source, so the list comes after it
    sources = writer.source_list()
    return (
        _section(writer, "sources", paragraph(writer, writer.say("sources-intro")), sources),
        _section(
            writer,
            "status",
            Paragraph(words=text(status_words(writer, condition.status))),
            Paragraph(words=text(writer.say("disclaimer"))),
            codes,
        ),
    )


def _pulley_loads(writer: Writer, protocol: Protocol) -> tuple[Section, ...]:
    """What each grip asks of the pulleys, on the page of an injury to a pulley that the sums cover."""
    if not {"a2-pulley", "a4-pulley"} & set(protocol.places):
        return ()
    return (Section(id="loads", heading=writer.say("heading-grip-loads"), blocks=load_blocks(writer)),)


def plan_protocol_page(library: Library, id: str) -> Page:
    """Everything that the site says about one injury, in the order in which a careful physio would say it."""
    writer, protocol = write_about(library, id)
    lead = _lead(writer, protocol)
    s = _section
    stages = tuple(plan_stage(writer, protocol, n) for n in range(1, len(protocol.stages) + 1))
    stop = Paragraph(words=text(writer.say("stop-no-windows"))) if protocol.stop else None
    sections = (
        _print(writer, protocol),
        s(
            writer,
            "how",
            example_insides(writer, protocol),
            paragraph(writer, protocol.how_it_happens),
            paragraph(writer, protocol.onset),
        ),
        s(writer, "signs", *_sign_blocks(writer, protocol)),
        s(writer, "tests", paragraph(writer, writer.say("tests-intro")), _test_list(writer, protocol)),
        s(writer, "look-alikes", _look_alikes(writer, protocol)),
        s(writer, "grades", _grades(writer, protocol), example_tears(writer, protocol)),
        s(writer, "grip-rule", paragraph(writer, protocol.grip_rule)),
        *_pulley_loads(writer, protocol),
        s(writer, "timelines", stop, timeline_table(writer, protocol)),
        s(writer, "stages", stages_intro(writer, protocol)),
        *stages,
        s(writer, "facts", bullets(writer, (f.says for f in protocol.facts))),
        s(writer, "cautions", bullets(writer, protocol.cautions)),
        s(writer, "goes-wrong", bullets(writer, protocol.goes_wrong)),
        s(writer, "see-somebody", Bullets(items=tuple(seek_words(writer, x) for x in protocol.see_somebody))),
        s(writer, "if-nothing", paragraph(writer, protocol.if_nothing_is_done), paragraph(writer, protocol.other_ways)),
        s(writer, "questions", bullets(writer, protocol.questions)),
        *_closing(writer, protocol),
    )
    return Page(
        address=address_of(protocol.id),
        kind="protocol",
        title=protocol.plain_name,
        description=writer.say("description-protocol", name=protocol.plain_name),
        badge=draft_badge(writer, protocol),
        lead=lead,
        sections=sections,
        menu=protocol.plain_name,
    )


def plan_referral_page(writer: Writer, referral: Referral) -> Page:
    """A short entry: how it shows, why it matters, who should see it. No home programme."""
    s = _section
    # Written first, so that what it cites stands in the list of sources at the foot.
    lead = (
        summary(writer, referral, lead=True),
        Bullets(items=_names(writer, referral)),
        warning_folds(writer, list_own_warnings(writer.library, referral)),
    )
    seek = Bullets(items=tuple(seek_words(writer, x) for x in referral.see_somebody))
    sections = (
        s(writer, "see-somebody", seek),
        s(writer, "until-then", bullets(writer, referral.until_then)),
        _print(writer, referral),
        s(writer, "shows", looks_drawing(writer, referral), paragraph(writer, referral.how_it_shows)),
        s(writer, "why", paragraph(writer, referral.why_it_matters)),
        s(writer, "signs", *_sign_blocks(writer, referral)),
        s(writer, "tests", paragraph(writer, writer.say("tests-intro")), _test_list(writer, referral)),
        s(writer, "look-alikes", _look_alikes(writer, referral)),
        s(writer, "usual-care", paragraph(writer, referral.usual_care)),
        s(writer, "questions", bullets(writer, referral.questions)),
        *_closing(writer, referral),
    )
    return Page(
        address=address_of(referral.id),
        kind="referral",
        title=referral.plain_name,
        description=writer.say("description-referral", name=referral.plain_name),
        badge=draft_badge(writer, referral),
        lead=lead,
        sections=sections,
        menu=referral.plain_name,
    )
