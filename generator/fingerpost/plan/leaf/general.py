"""Leaves for nobody in particular: one for each grade of a protocol, and one for each injury that is seen elsewhere."""

from __future__ import annotations

from collections.abc import Iterator

from fingerpost.model.audience import flat
from fingerpost.model.protocol import Protocol, Referral, Seek, Stage
from fingerpost.model.shared import Gate
from fingerpost.model.words import URGENT, Id
from fingerpost.plan.base.answers import list_own_warnings
from fingerpost.plan.base.audience import Reader, narrow_library
from fingerpost.plan.base.blocks import BLANK, Drawing, Run, Words, strong, text
from fingerpost.plan.base.illustrate import EXAMPLE_HAND, EXAMPLE_SIDE, example_finger, hand_pictures
from fingerpost.plan.base.paper import Headline, Leaf, LeafBlock, Points, Rows, Side, Strip, Verdict, Visit
from fingerpost.plan.base.parts import audience_words, pick, span_words
from fingerpost.plan.base.prose import Writer, capital
from fingerpost.plan.leaf.closing import ask, foot
from fingerpost.plan.leaf.front import VERDICT_MM, sign
from fingerpost.plan.leaf.help import general_help
from fingerpost.plan.leaf.words import words_here
from fingerpost.reckon.windows import GROWTH_STAGE_DAYS, list_spans, list_stays

HAND_MM = 40.0


def _strip(writer: Writer) -> Strip:
    return Strip(left=text(writer.say("general-line")), right=())


def _whose(writer: Writer) -> Words:
    """Room to write whose leaf it is, and of which day."""
    return (*text(f"{writer.say('leaf-for')} "), BLANK, *text(f" {writer.say('leaf-date')} "), BLANK)


def _side(writer: Writer, protocol: Protocol, blocks: tuple[LeafBlock, ...], general: bool) -> Side:
    help_ = None if general else general_help(writer, (use.sign for use in protocol.warning_signs))
    return Side(
        blocks=blocks, help=help_, foot=foot(writer, (blocks, help_), writer.say("leaf-general") if general else "")
    )


def _hand(writer: Writer, protocol: Protocol) -> Drawing:
    """The places of a protocol on a hand that is nobody's, on the face that shows the first of them."""
    anatomy = {s.id: s for s in writer.library.vocabularies.anatomy}
    finger = example_finger(protocol.fingers)
    side = EXAMPLE_SIDE if protocol.needs_side else None
    picture = hand_pictures(writer, EXAMPLE_HAND, finger, (anatomy[p] for p in protocol.places), side)[0]
    return Drawing(name="leaf-hand", picture=picture, caption=(), width_mm=HAND_MM)


def _stage_row(writer: Writer, protocol: Protocol, grade: Id, number: int, stage: Stage) -> tuple[str, Words]:
    """A stage in a line: what may be climbed in it, how, and when it often begins."""
    words: list[Run] = []
    for piece in stage.verdict:
        says = capital(piece.says.partition(": ")[2])
        words += [*audience_words(writer, piece.for_), *strong(f"{says.rstrip('.')}. ")]
    words += [*writer.words(stage.brief), Run(" ")] if stage.brief else []
    window = next((w for w in stage.windows if w.grade == grade), None)
    if window:
        when = writer.say("leaf-often-after", time=span_words(writer, window.usual))
        words += [*writer.marked(capital(when), window.source), Run(".")]
    return writer.say("leaf-stage-name", number=number, name=stage.name), tuple(words)


def _stages(protocol: Protocol, grade: Id) -> tuple[Stage, ...]:
    return tuple(stage for stage in protocol.stages if grade not in stage.skipped_by)


def _gate_rows(writer: Writer, protocol: Protocol, grade: Id) -> Iterator[tuple[str, Words]]:
    """What must be true before each stage after the first, in short."""
    stages = _stages(protocol, grade)
    spans = list_spans(protocol.stages, grade)
    stays = list_stays(spans) if spans else ()
    for number, stage in enumerate(stages[:-1], 2):
        gates: tuple[Gate, ...] = pick(writer.library.vocabularies.gates, (use.gate for use in stage.gate))
        days = stays[number - 2] if stays else GROWTH_STAGE_DAYS
        weeks = writer.say("leaf-weeks", count=days // 7) if days % 7 == 0 else writer.say("leaf-days", count=days)
        says = (flat(g.brief).replace("{most}", str(stage.pain.most)).replace("{weeks}", weeks) for g in gates)
        yield writer.say("leaf-before-short", number=number), writer.words(" ".join(says))


def _about(writer: Writer, protocol: Protocol, grade: Id) -> Points:
    found = next(g for g in protocol.grades if g.id == grade)
    lead = [writer.words(protocol.brief)]
    lead += [writer.words(found.brief)] if found.brief and grade != "any" else []
    return Points(heading=writer.say("leaf-about"), lead=tuple(lead), beside=_hand(writer, protocol))


def _seek_row(writer: Writer, seek: Seek) -> tuple[str, Words]:
    words = (*audience_words(writer, seek.for_), *strong(f"{capital(seek.whom)}. "), *writer.words(seek.when))
    return writer.say(f"urgency-{seek.urgency}"), words


def _must_be_seen(protocol: Protocol, grade: Id) -> bool:
    surgeon = any(g.id == grade and g.treated_by == "surgeon" for g in protocol.grades)
    return protocol.stop or surgeon


def _plan_grade(library_writer: Writer, protocol: Protocol, grade: Id) -> Leaf:
    writer = library_writer
    name = next(g.name for g in protocol.grades if g.id == grade)
    under = f"{writer.say('grade', grade=grade)}: {name}" if grade != "any" else name
    stopped = _must_be_seen(protocol, grade)
    head = Headline(
        hand=None,
        heading=protocol.plain_name,
        lines=(strong(f"{under}."), _whose(writer)),
        bar=None,
        visit=Visit(label=writer.say("leaf-visit")),
    )
    seen = tuple(_seek_row(writer, s) for s in protocol.see_somebody if s.urgency not in URGENT)
    who = Rows(heading=writer.say("leaf-see"), rows=seen)
    stages = tuple(
        _stage_row(writer, protocol, grade, number, stage) for number, stage in enumerate(_stages(protocol, grade), 1)
    )
    way = Rows(heading=writer.say("leaf-way"), aside=text(writer.say("leaf-way-aside")), rows=stages)
    gates = tuple(_gate_rows(writer, protocol, grade))
    before = Rows(heading=writer.say("leaf-before-each"), aside=text(writer.say("leaf-all-true")), rows=gates)
    questions = Points(
        heading=writer.say("leaf-questions"), items=tuple(writer.words(q) for q in protocol.questions), columns=2
    )
    if stopped:
        lines = (writer.say("leaf-stop"), writer.say("leaf-stop-surgeon" if not protocol.stop else "leaf-stop-stop"))
        verdict = Verdict(sign=sign(writer, "leave", "leaf-verdict", 15.0), says=lines, halt=True)
        front: tuple[LeafBlock, ...] = (_strip(writer), head, verdict, who, _about(writer, protocol, grade))
        back: tuple[LeafBlock, ...] = (
            _strip(writer),
            Points(heading=writer.say("sheet-if-nothing"), lead=(writer.words(protocol.if_nothing_is_done),)),
            questions,
            ask(writer, protocol.id, None),
        )
    else:
        band = sign(writer, "limit", "leaf-verdict", VERDICT_MM, on_band=True)
        verdict = Verdict(sign=band, says=(writer.say("leaf-general-verdict"),))
        front = (_strip(writer), head, verdict, way)
        back = (_strip(writer), _about(writer, protocol, grade), before, questions, ask(writer, protocol.id, None))
    return Leaf(
        kind="general",
        front=_side(writer, protocol, front, general=False),
        back=_side(writer, protocol, back, general=True),
        inside_words="",
    )


def plan_general_leaves(writer: Writer, protocol: Protocol) -> tuple[Leaf, ...]:
    """A leaf for each grade of a protocol, with room to write whose it is and when they come again."""
    leaves = []
    for grade in protocol.grades:
        reader = Reader(grade=grade.id, age="under-18" if protocol.people == "under-18" else None, planned=False)
        narrowed = narrow_library(writer.library, reader, protocol.id)
        own = Writer(narrowed)
        own.tell_about(protocol)
        leaves.append(_plan_grade(own, narrowed.find_protocol(protocol.id) or protocol, grade.id))
    return tuple(leaves)


def plan_referral_leaf(writer: Writer, referral: Referral) -> Leaf:
    """Why somebody should see it, who, by when, what to do until then and what to tell them."""
    verdict = Verdict(
        sign=sign(writer, "leave", "leaf-verdict", 15.0), says=tuple(_lines(flat(referral.verdict))), halt=True
    )
    head = Headline(
        hand=None,
        heading=referral.plain_name,
        lines=(_whose(writer),),
        bar=None,
        visit=Visit(label=writer.say("leaf-visit")),
    )
    front: tuple[LeafBlock, ...] = (
        _strip(writer),
        head,
        verdict,
        Rows(heading=writer.say("leaf-see"), rows=tuple(_seek_row(writer, s) for s in referral.see_somebody)),
        Points(heading=writer.say("leaf-until-then"), items=tuple(writer.words(line) for line in referral.until_then)),
        Points(heading=writer.say("leaf-tell"), items=tuple(writer.words(line) for line in referral.tell), columns=2),
    )
    help_ = general_help(writer, list_own_warnings(writer.library, referral))
    told: tuple[LeafBlock, ...] = (
        _strip(writer),
        Points(heading=writer.say("leaf-why"), lead=(writer.words(referral.brief),)),
        Points(heading=writer.say("heading-why"), lead=(writer.words(referral.why_it_matters),)),
        Points(
            heading=writer.say("leaf-questions"), items=tuple(writer.words(q) for q in referral.questions), columns=2
        ),
    )
    back = (*told, *words_here(writer, front, help_, told), ask(writer, referral.id, None))
    return Leaf(
        kind="referral",
        front=Side(blocks=front, help=help_, foot=foot(writer, (front, help_))),
        back=Side(blocks=back, foot=foot(writer, back, writer.say("leaf-general"))),
        inside_words="",
    )


def _lines(verdict: str) -> list[str]:
    """A verdict with its sentences on lines of their own."""
    return [part if part.endswith(".") else f"{part}." for part in verdict.split(". ")]
