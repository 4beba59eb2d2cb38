"""The site's pages made from the shared vocabularies: one page for each kind of entry."""

from __future__ import annotations

from collections.abc import Iterable

from fingerpost.model.protocol import Protocol
from fingerpost.model.shared import Grip
from fingerpost.model.words import UNSOURCED, URGENCIES, Finger
from fingerpost.plan.base.addresses import address_of
from fingerpost.plan.base.blocks import Block, Bullets, Page, Paragraph, Section
from fingerpost.plan.base.checked import library_badge
from fingerpost.plan.base.illustrate import (
    EXAMPLE_HAND,
    EXAMPLE_SIDE,
    example_finger,
    grip_drawing,
    trial_drawing,
)
from fingerpost.plan.base.parts import (
    empty_if_none,
    exercise_blocks,
    labelled,
    mark_of,
    paragraph,
    table,
    taping_blocks,
    test_blocks,
    warning_words,
)
from fingerpost.plan.base.prose import LETTERS, Writer, capital
from fingerpost.plan.base.runs import Run, Words, link, stack, strong, text
from fingerpost.plan.base.step_pictures import (
    Worn,
    check_drawing,
    exercise_gallery,
    mistakes_drawing,
    movement_key,
    tape_drawing,
    tape_steps,
)
from fingerpost.plan.injury.grip_loads import load_blocks, share_block, spare_table
from fingerpost.plan.walls.paper_key import key_links
from fingerpost.reckon.neighbours import choose_buddy
from fingerpost.reckon.tape import convert_to_ring_size


def _page(writer: Writer, kind: str, lead: Iterable[Block], sections: Iterable[Section]) -> Page:
    """A page whose title, description and menu entry stand in the wording under its kind. Sources come last."""
    body = list(sections)
    sources = writer.source_list()
    if sources:
        body.append(Section(id="sources", heading=writer.say("heading-sources"), blocks=(sources,)))
    return Page(
        address=f"{kind}/",
        kind=kind,
        title=writer.say(f"title-{kind}"),
        description=writer.say(f"description-{kind}"),
        badge=library_badge(writer),
        lead=tuple(lead),
        sections=tuple(body),
        menu=writer.say(f"menu-{kind}"),
    )


def _intro(writer: Writer, kind: str) -> tuple[Block, ...]:
    return (paragraph(writer, writer.say(f"intro-{kind}"), lead=True),)


def _first_stage(writer: Writer, protocol: Protocol, grip: Grip) -> Words:
    """From which stage a grip is limited and from which it is kept, in words."""
    marks = [mark_of(grip, stage) for stage in protocol.stages]
    limit = next((n for n, m in enumerate(marks, 1) if m == "limit"), None)
    keep = next((n for n, m in enumerate(marks, 1) if m == "keep"), None)
    if keep is None and limit is None:
        return (Run(writer.say("grip-never"), "leave"),)
    parts: list[Words] = []
    if limit is not None and (keep is None or limit < keep):
        parts.append((Run(writer.say("grip-limit-from", number=limit), "limit"),))
    if keep is not None:
        parts.append((Run(writer.say("grip-keep-from", number=keep), "keep"),))
    return stack(parts)


def plan_grips(writer: Writer) -> Page:
    """Grips against injuries: from which stage each grip comes back."""
    vocabulary = writer.library.vocabularies.grips
    protocols = [d.value for d in writer.library.protocols]
    rows = [(text(g.name), *(_first_stage(writer, p, g) for p in protocols)) for g in vocabulary]
    head = (writer.say("head-grip"), *(p.plain_name for p in protocols))
    sections = [
        Section(
            id="table",
            heading=writer.say("heading-grip-table"),
            blocks=(
                table(writer.say("caption-grip-table"), head, rows),
                Bullets(
                    items=tuple(
                        (*link(p.plain_name, address_of(p.id)), *text(": "), *writer.words(p.grip_rule))
                        for p in protocols
                    )
                ),
            ),
        )
    ]
    sections.append(Section(id="loads", heading=writer.say("heading-loads"), blocks=load_blocks(writer)))
    spared = (paragraph(writer, writer.say("spared-intro")), spare_table(writer))
    sections.append(Section(id="spared", heading=writer.say("heading-spared"), blocks=spared))
    for g in vocabulary:
        blocks = (
            grip_drawing(writer, g, width_mm=60.0),
            paragraph(writer, g.plain),
            *_grip_facts(writer, g),
            share_block(writer, g),
        )
        sections.append(Section(id=g.id, heading=g.name, blocks=empty_if_none(*blocks)))
    return _page(writer, "grips", _intro(writer, "grips"), sections)


def _grip_facts(writer: Writer, grip: Grip) -> tuple[Block, ...]:
    items: list[Words] = []
    if grip.also_called:
        items.append((*strong(f"{writer.say('label-also-called')}: "), *text("; ".join(grip.also_called))))
    if grip.angles:
        a = grip.angles
        spread = writer.say("angle-spread", spread=a.pip_spread) if a.pip_spread else ""
        says = writer.say("angles", mcp=a.mcp, pip=a.pip, dip=a.dip, spread=spread)
        items.append(writer.marked(says, a.source))
    return (Bullets(items=tuple(items)),) if items else ()


def _users(writer: Writer, kind: str, id: str) -> Block | None:
    """Links to the injuries that use an entry of a vocabulary."""
    used = []
    for condition in writer.library.conditions:
        stages = condition.stages if isinstance(condition, Protocol) else ()
        hit = {
            "tapings": any(u.taping in _stands_for(writer, id) for s in stages for u in s.taping),
            "exercises": any(id == d.exercise for s in stages for d in s.exercises),
            "gates": any(id == use.gate for s in stages for use in s.gate),
            "tests": id in condition.tests or any(id in a.tests for a in condition.look_alikes),
        }[kind]
        if hit:
            used.append(link(condition.plain_name, address_of(condition.id)))
    return Bullets(items=tuple(used), title=writer.say("used-by")) if used else None


def _stands_for(writer: Writer, taping: str) -> set[str]:
    """A taping, and those with glue whose place it takes on a skin that does not bear tape."""
    return {taping, *(t.id for t in writer.library.vocabularies.tapings if t.without_glue == taping)}


def _taped_fingers(writer: Writer, taping: str) -> tuple[Finger, ...]:
    """The fingers that a taping can be for: those of the injuries that use it."""
    names = _stands_for(writer, taping)
    users = (d.value for d in writer.library.protocols)
    return tuple(f for p in users if any(u.taping in names for s in p.stages for u in s.taping) for f in p.fingers)


def plan_tapings(writer: Writer) -> Page:
    sections = []
    for taping in writer.library.vocabularies.tapings:
        finger = example_finger(_taped_fingers(writer, taping.id))
        buddy = choose_buddy(finger, taping.neighbour, EXAMPLE_SIDE)
        partner = buddy.partner if buddy else None
        side = EXAMPLE_SIDE if taping.neighbour == "injured-side" else None
        worn = Worn(taping=taping, hand=EXAMPLE_HAND, finger=finger, partner=partner, side=side)
        shown = (tape_steps(writer, worn), check_drawing(writer, worn), mistakes_drawing(writer, worn))
        blocks = (
            tape_drawing(writer, worn, width_mm=75),
            *taping_blocks(writer, taping, *shown),
            _users(writer, "tapings", taping.id),
        )
        sections.append(Section(id=taping.id, heading=taping.name, blocks=empty_if_none(*blocks)))
    sections.append(_measuring(writer))
    return _page(writer, "tapings", _intro(writer, "tapings"), sections)


def _measuring(writer: Writer) -> Section:
    """How to measure a finger, and rings as a help: a ring that slides on is as wide inside as the finger."""
    sizes = [convert_to_ring_size(float(mm)) for mm in range(44, 73, 4)]
    rows = [
        (text(f"{s.iso} mm"), text(str(s.iso)), text(f"{s.diameter_mm:g} mm"), text(f"{s.us:g}"), text(str(s.japan)))
        for s in sizes
    ]
    head = tuple(writer.say(f"head-{h}") for h in ("round", "iso-ring", "across", "us-ring", "japan-ring"))
    return Section(
        id="measure",
        heading=writer.say("heading-measure"),
        blocks=(
            paragraph(writer, writer.say("measure-how")),
            table(writer.say("caption-ring-sizes"), head, rows),
        ),
    )


def plan_tests(writer: Writer) -> Page:
    sections = [
        Section(
            id=t.id,
            heading=t.name,
            blocks=empty_if_none(trial_drawing(writer, t), *test_blocks(writer, t), _users(writer, "tests", t.id)),
        )
        for t in writer.library.vocabularies.tests
    ]
    return _page(writer, "tests", _intro(writer, "tests"), sections)


def plan_exercises(writer: Writer) -> Page:
    sections = [
        Section(
            id=e.id,
            heading=e.name,
            blocks=empty_if_none(
                *exercise_blocks(writer, e, None, exercise_gallery(writer, e, EXAMPLE_HAND)),
                _users(writer, "exercises", e.id),
            ),
        )
        for e in writer.library.vocabularies.exercises
    ]
    shown = paragraph(writer, writer.say("exercise-frames", hand=EXAMPLE_HAND))
    key = movement_key(writer, writer.library.vocabularies.exercises)
    lead = (*_intro(writer, "exercises"), shown, *((key,) if key else ()))
    return _page(writer, "exercises", lead, sections)


def plan_gates(writer: Writer) -> Page:
    """What must be true before a next stage, and how to check it."""
    sections = [
        Section(
            id=g.id,
            heading=g.name,
            blocks=empty_if_none(
                Paragraph(words=labelled(writer.say("label-gate-by"), text(f"{writer.say(f'gate-by-{g.who}')}."))),
                paragraph(writer, g.says),
                Paragraph(words=labelled(writer.say("label-how-to-check"), writer.words(g.how_to_check))),
                _users(writer, "gates", g.id),
            ),
        )
        for g in writer.library.vocabularies.gates
    ]
    return _page(writer, "gates", _intro(writer, "gates"), sections)


def plan_warning_signs(writer: Writer) -> Page:
    """Warning signs by how soon, most urgent first, each with why."""
    sections = []
    for urgency in URGENCIES:
        signs = [s for s in writer.library.vocabularies.warning_signs if s.urgency == urgency]
        if not signs:
            continue
        items = tuple(
            (*warning_words(writer, s, strong_sign=True), *text(f" {writer.say('because')} "), *writer.words(s.why))
            for s in signs
        )
        sections.append(Section(id=urgency, heading=writer.say(f"urgency-{urgency}"), blocks=(Bullets(items=items),)))
    lead = (*_intro(writer, "warning-signs"), Paragraph(words=strong(writer.say("emergency-number"))))
    paper = (paragraph(writer, writer.say("key-intro")), key_links(writer))
    sections.append(Section(id="paper", heading=writer.say("heading-paper"), blocks=paper))
    return _page(writer, "warning-signs", lead, sections)


def plan_words(writer: Writer) -> Page:
    terms = sorted(writer.library.vocabularies.terms, key=lambda t: t.term.lower())
    sections = [
        Section(
            id=t.id,
            heading=t.term,
            blocks=(Paragraph(words=(*strong(f"{capital(t.plain)}. "), *writer.words(t.more))),),
        )
        for t in terms
    ]
    return _page(writer, "words", _intro(writer, "words"), sections)


def plan_sources(writer: Writer) -> Page:
    """Every source, how far it was seen, by what kind of study it is."""
    order = ("full", "abstract", "secondary", "recalled")
    sections = []
    for seen in order:
        sources = sorted(
            (s for s in writer.library.vocabularies.sources if s.seen == seen), key=lambda s: s.short.lower()
        )
        if not sources:
            continue
        items = tuple(
            (
                *strong(f"{s.short}. "),
                *text(f"{s.full.strip().rstrip('.')}. {writer.say(f'kind-{s.kind}')}."),
                *(text(f" doi {s.doi}.") if s.doi else ()),
            )
            for s in sources
        )
        sections.append(
            Section(
                id=f"seen-{seen}",
                heading=writer.say(f"heading-seen-{seen}"),
                blocks=(paragraph(writer, writer.say(f"seen-{seen}-explained")), Bullets(items=items)),
            )
        )
    for name in UNSOURCED:
        meaning = paragraph(writer, writer.say(LETTERS[name][1]))
        sections.append(Section(id=name, heading=writer.say(f"heading-{name}"), blocks=(meaning,)))
    return _page(writer, "sources", _intro(writer, "sources"), sections)


_ABOUT_US = ("sources", "standards", "changed", "data")


def plan_about(writer: Writer) -> Page:
    """What this is for, what it is not, how figures are marked, and who stands behind it."""
    names = ("purpose", "limits", "marks", "standards", "draft", "privacy", "feedback")
    sections = [
        Section(
            id=name,
            heading=writer.say(f"heading-about-{name}"),
            blocks=tuple(paragraph(writer, part) for part in writer.say(f"about-{name}").split("\n") if part.strip()),
        )
        for name in names
    ]
    more = Bullets(items=tuple(link(writer.say(f"title-{kind}"), f"{kind}/") for kind in _ABOUT_US))
    sections.append(Section(id="more", heading=writer.say("heading-about-more"), blocks=(more,)))
    return _page(writer, "about", _intro(writer, "about"), sections)
