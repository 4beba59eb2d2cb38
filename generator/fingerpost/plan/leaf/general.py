"""Leaves for nobody in particular: one for each grade of a protocol, and one for each injury that is seen elsewhere."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace

from fingerpost.model.audience import EVERYBODY, For, flat
from fingerpost.model.protocol import Grade, Protocol, Referral, Seek, Stage, Window
from fingerpost.model.words import OFF_THE_WALL, URGENT, Finger, Id, split_sentences
from fingerpost.model.words import Side as SideOfFinger
from fingerpost.plan.base.answers import list_own_warnings
from fingerpost.plan.base.audience import Reader, narrow_library
from fingerpost.plan.base.blocks import Drawing
from fingerpost.plan.base.illustrate import EXAMPLE_HAND, EXAMPLE_SIDE, example_finger, hand_pictures, looks_drawing
from fingerpost.plan.base.paper import (
    Headline,
    HelpBox,
    Leaf,
    LeafBlock,
    LeafKind,
    NextVisit,
    Points,
    Rows,
    Side,
    Strip,
    Verdict,
)
from fingerpost.plan.base.parts import audience_words, for_any_place
from fingerpost.plan.base.pictures import HandPicture
from fingerpost.plan.base.prose import Writer, capital, uncapital
from fingerpost.plan.base.runs import BLANK, Run, Words, strong, text
from fingerpost.plan.leaf.ahead import write_stay
from fingerpost.plan.leaf.closing import NOTE_LINES, ask, foot
from fingerpost.plan.leaf.front import VERDICT_MM, sign
from fingerpost.plan.leaf.help import SHOWN, general_help
from fingerpost.plan.leaf.words import words_here
from fingerpost.reckon.windows import GROWTH_STAGE_DAYS, list_spans, list_stays

Blocks = tuple[LeafBlock, ...]
SPOT_MM, HAND_MM, LOOKS_MM = 22.0, 40.0, 56.0
SIGN_MM = 15.0
ON_A_NEW_LINE = Run(" ", "break")


def _front_strip(writer: Writer) -> Strip:
    return Strip(left=text(writer.say("general-line")), right=())


def _back_strip(writer: Writer, name: str) -> Strip:
    """What it is about: sides that are printed one by one come apart."""
    return Strip(left=strong(name), right=text(writer.say("general-head")))


def _whose(writer: Writer) -> Words:
    """Room to write whose leaf it is, and of which day."""
    return (*text(f"{writer.say('leaf-for')} "), BLANK, *text(f" {writer.say('leaf-date')} "), BLANK)


def _leaf(writer: Writer, kind: LeafKind, front: Blocks, back: Blocks, help_: HelpBox) -> Leaf:
    return Leaf(
        kind=kind,
        front=Side(blocks=front, help=help_, foot=foot(writer, (front, help_))),
        back=Side(blocks=back, foot=foot(writer, back)),
        inside_words="",
    )


def _headline(writer: Writer, name: str, under: str = "", hand: Drawing | None = None) -> Headline:
    lines = (strong(f"{under}."), _whose(writer)) if under else (_whose(writer),)
    return Headline(hand=hand, heading=name, lines=lines, bar=None, visit=NextVisit(label=writer.say("leaf-visit")))


def _halt(writer: Writer, *lines: str) -> Verdict:
    return Verdict(sign=sign(writer, "leave", "leaf-verdict", SIGN_MM), says=lines, halt=True)


def _band(writer: Writer, line: str) -> Verdict:
    return Verdict(sign=sign(writer, "limit", "leaf-verdict", VERDICT_MM, on_band=True), says=(line,))


def _hand(writer: Writer, places: Iterable[Id], fingers: Iterable[Finger], side: SideOfFinger | None = None) -> Drawing:
    """The places on a hand that is nobody's, on the face that shows the first of them.

    A forearm leaves no room beside it for the names of the places.
    """
    anatomy = {s.id: s for s in writer.library.vocabularies.anatomy}
    finger = example_finger(fingers)
    picture = hand_pictures(writer, EXAMPLE_HAND, finger, (anatomy[p] for p in places), side)[0]
    if any(spot.landmark == "forearm" for spot in picture.spots):
        picture = _without_names(picture)
    picture = replace(picture, hand_name=writer.say("leaf-example"))
    return Drawing(name="leaf-hand", picture=picture, caption=(), width_mm=HAND_MM)


def _protocol_hand(writer: Writer, protocol: Protocol) -> Drawing:
    return _hand(writer, protocol.places, protocol.fingers, EXAMPLE_SIDE if protocol.needs_side else None)


def _without_names(picture: HandPicture) -> HandPicture:
    return replace(picture, spots=tuple(replace(spot, label="") for spot in picture.spots))


def _spot(drawing: Drawing) -> Drawing:
    """The same beside a headline: small, and without the names of the places."""
    picture = drawing.picture
    assert isinstance(picture, HandPicture)
    bare = replace(_without_names(picture), hand_name="", ring=len(picture.spots) == 1)
    return replace(drawing, name="leaf-where", picture=bare, caption=text(picture.hand_name), width_mm=SPOT_MM)


def _by_reader(writer: Writer, said: Iterable[tuple[For, Words]]) -> Words:
    """What is for everybody, then each on a line of its own what is for some only, after a word on who that is."""
    groups: dict[For, list[Words]] = {EVERYBODY: []}
    for meant, words in said:
        groups.setdefault(meant, []).append(words)
    runs: list[Run] = []
    for meant, told in groups.items():
        if not told:
            continue
        runs += [ON_A_NEW_LINE] if runs else []
        runs += [*audience_words(writer, meant), *told[0]]
        for words in told[1:]:
            runs += [Run(" "), *words]
    return tuple(runs)


def _often(writer: Writer, window: Window) -> Words:
    at_once = window.usual.startswith("0 ")
    says = writer.say("leaf-often-at-once") if at_once else writer.say("leaf-often-after", time=window.usual)
    return (*writer.marked(capital(says), window.source), Run("."))


def _stage_row(writer: Writer, grade: Id, number: int, stage: Stage) -> tuple[str, Words]:
    """A stage in a few lines: what may be climbed in it, how, and when it often begins."""
    said: list[tuple[For, Words]] = []
    for piece in stage.verdict:
        says = capital(piece.says.partition(": ")[2])
        said.append((piece.for_, strong(f"{says.rstrip('.')}.")))
    said += [(piece.for_, writer.words(piece.says)) for piece in stage.brief or ()]
    said += [(EVERYBODY, _often(writer, window)) for window in stage.windows if window.grade == grade]
    return writer.say("leaf-stage-name", number=number, name=stage.name), _by_reader(writer, said)


def _stages(protocol: Protocol, grade: Id) -> tuple[Stage, ...]:
    return tuple(stage for stage in protocol.stages if grade not in stage.skipped_by)


def _gate_rows(writer: Writer, protocol: Protocol, grade: Id) -> Iterator[tuple[str, Words]]:
    """What must be true before each stage after the first, in short."""
    stages = _stages(protocol, grade)
    spans = list_spans(protocol.stages, grade)
    stays = list_stays(spans) if spans else ()
    known = {gate.id: gate for gate in writer.library.vocabularies.gates}
    for number, stage in enumerate(stages[:-1], 2):
        stay = write_stay(stays[number - 2] if stays else GROWTH_STAGE_DAYS)
        said = []
        for use in stage.gate:
            gate = known.get(use.gate)
            for piece in gate.brief if gate else ():
                says = piece.says.replace("{most}", str(stage.pain.most)).replace("{weeks}", stay)
                if gate and gate.who != "person":
                    says = f"{writer.say('leaf-in-the-clinic')} {uncapital(says)}"
                said.append((use.for_ if piece.for_ == EVERYBODY else piece.for_, writer.words(says)))
        yield writer.say("leaf-before-short", number=number), _by_reader(writer, said)


def _about(writer: Writer, protocol: Protocol, grade: Id, heading: str, beside: Drawing | None = None) -> Points:
    """What is hurt. A grade that is told by place is told in its plain words."""
    found = next(g for g in protocol.grades if g.id == grade)
    lead = [writer.words(for_any_place(protocol.brief))]
    if found.brief and grade != "any":
        lead.append(writer.words(found.brief if for_any_place(found.brief) == found.brief else found.plain))
    return Points(heading=writer.say(heading), lead=tuple(lead), beside=beside)


def _seek_row(writer: Writer, seek: Seek) -> tuple[str, Words]:
    words = (*audience_words(writer, seek.for_), *strong(f"{capital(seek.whom)}. "), *writer.words(seek.when))
    return writer.say(f"urgency-{seek.urgency}"), words


def _questions(writer: Writer, condition: Protocol | Referral) -> Points:
    items = tuple(writer.words(question) for question in condition.questions)
    return Points(heading=writer.say("leaf-questions"), items=items, columns=2)


def _plan_stop(writer: Writer, protocol: Protocol, grade: Id, name: str, under: str) -> Leaf:
    """Stop, who must see it and what to leave until then: for a stop protocol, or a grade that a surgeon treats."""
    hold = "stop" if protocol.stop else "surgeon"
    seen = [_seek_row(writer, s) for s in protocol.see_somebody if s.urgency not in URGENT]
    clears = (*text(f"{writer.say('leaf-name')} "), BLANK, *text(f" {writer.say('leaf-date')} "), BLANK)
    seen.append((writer.say("leaf-who-clears"), clears))
    until_then = [line for line in writer.say(f"hold-{hold}-until-then").split("\n") if line.strip()]
    daily_brief = protocol.stages[0].daily_brief if protocol.stop else None
    daily = ((*strong(f"{writer.say('label-daily-life')}: "), *writer.words(daily_brief)),) if daily_brief else ()
    front: Blocks = (
        _front_strip(writer),
        _headline(writer, protocol.plain_name, under),
        _halt(writer, writer.say("leaf-stop"), writer.say(f"leaf-stop-{hold}")),
        Rows(heading=writer.say("leaf-see"), rows=tuple(seen)),
        Points(heading=writer.say("leaf-until-then"), items=(*map(writer.words, until_then), *daily)),
    )
    help_ = general_help(writer, (use.sign for use in protocol.warning_signs), SHOWN[:2])
    back: Blocks = (
        _back_strip(writer, name),
        _about(writer, protocol, grade, "leaf-why", _protocol_hand(writer, protocol)),
        Points(heading=writer.say("sheet-if-nothing"), lead=(writer.words(protocol.if_nothing_is_done),)),
        _questions(writer, protocol),
        ask(writer, protocol.id, None, NOTE_LINES),
    )
    return _leaf(writer, "general", front, back, help_)


def _plan_way(writer: Writer, protocol: Protocol, grade: Id, name: str, under: str) -> Leaf:
    """Every stage of a grade, and what must be true before the next one."""
    stages = tuple(_stage_row(writer, grade, n, stage) for n, stage in enumerate(_stages(protocol, grade), 1))
    gates = tuple(_gate_rows(writer, protocol, grade))
    front: Blocks = (
        _front_strip(writer),
        _headline(writer, protocol.plain_name, under, _spot(_protocol_hand(writer, protocol))),
        _band(writer, writer.say("leaf-general-verdict")),
        Rows(heading=writer.say("leaf-way"), aside=text(writer.say("leaf-way-aside")), rows=stages, boxes=True),
    )
    help_ = general_help(writer, (use.sign for use in protocol.warning_signs))
    back: Blocks = (
        _back_strip(writer, name),
        _about(writer, protocol, grade, "leaf-about"),
        Rows(heading=writer.say("leaf-before-each"), aside=text(writer.say("leaf-all-true")), rows=gates),
        _questions(writer, protocol),
        ask(writer, protocol.id, None, NOTE_LINES),
    )
    return _leaf(writer, "general", front, back, help_)


def _plan_grade(writer: Writer, protocol: Protocol, grade: Grade) -> Leaf:
    called = writer.say("grade-inline", grade=grade.id)
    under = "" if grade.id == "any" else f"{capital(called)}: {grade.name}"
    name = protocol.plain_name if grade.id == "any" else f"{protocol.plain_name}, {called}"
    stopped = protocol.stop or grade.treated_by == "surgeon"
    plan = _plan_stop if stopped else _plan_way
    return plan(writer, protocol, grade.id, name, under)


def plan_general_leaves(writer: Writer, protocol: Protocol) -> tuple[Leaf, ...]:
    """A leaf for each grade of a protocol, with room to write whose it is and when they come again."""
    leaves = []
    for grade in protocol.grades:
        reader = Reader(
            grade=grade.id,
            age="under-18" if protocol.people == "under-18" else None,
            cleared=False if protocol.stop else None,
            planned=False,
        )
        narrowed = narrow_library(writer.library, reader, protocol.id)
        own = Writer(narrowed)
        own.tell_about(_stages(protocol, grade.id))
        leaves.append(_plan_grade(own, narrowed.find_protocol(protocol.id) or protocol, grade))
    return tuple(leaves)


def _referral_help(writer: Writer, referral: Referral) -> HelpBox:
    """Its warning signs but those that the rows above tell already, with whom to see."""
    told = {sign for seek in referral.see_somebody for sign in seek.warning_signs}
    own = list_own_warnings(writer.library, referral)
    return general_help(writer, (sign for sign in own if sign not in told))


def _looks(writer: Writer, referral: Referral) -> Blocks:
    """How it can look, last on the front: it may go to the back, and stay out, before anything that is said."""
    drawing = looks_drawing(writer, referral, LOOKS_MM)
    if drawing is None:
        return ()
    aside, below = drawing.caption, replace(drawing, name="leaf-looks", caption=())
    return (Points(heading=writer.say("leaf-looks"), aside=aside, below=below, spare=True),)


def plan_referral_leaf(writer: Writer, referral: Referral) -> Leaf:
    """Why somebody should see it, who, by when, what to do until then and what to tell them.

    What is usually done and what studies found stands on the page alone: neither helps anybody to get there.
    """
    says = flat(referral.verdict)
    ends = says if says.endswith(".") else f"{says}."
    stopped = OFF_THE_WALL.search(says)
    front: Blocks = (
        _front_strip(writer),
        _headline(writer, referral.plain_name),
        _halt(writer, *split_sentences(ends)) if stopped else _band(writer, says),
        Rows(heading=writer.say("leaf-see"), rows=tuple(_seek_row(writer, s) for s in referral.see_somebody)),
        Points(heading=writer.say("leaf-until-then"), items=tuple(writer.words(line) for line in referral.until_then)),
        Points(heading=writer.say("leaf-tell"), items=tuple(writer.words(line) for line in referral.tell), columns=2),
        *_looks(writer, referral),
    )
    why = Points(
        heading=writer.say("leaf-why"),
        lead=(writer.words(referral.brief),),
        beside=_hand(writer, referral.tissue, ()),
    )
    help_ = _referral_help(writer, referral)
    told: Blocks = (
        _back_strip(writer, referral.plain_name),
        why,
        _questions(writer, referral),
    )
    back = (*told, *words_here(writer, front, help_, told), ask(writer, referral.id, None, NOTE_LINES))
    return _leaf(writer, "referral", front, back, help_)
