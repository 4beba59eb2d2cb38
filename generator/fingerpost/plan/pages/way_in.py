"""The way in: warning signs first, then from "where is it sore and how did it begin" to the pages that fit.

It names no injury, ranks by no number and keeps nothing. What each answer says about each page comes from `answers`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from fingerpost.model.audience import EVERYBODY, MARK
from fingerpost.model.protocol import Protocol
from fingerpost.model.shared import Sign, TouchSpot, WarningSign
from fingerpost.model.words import URGENCIES, URGENT, Urgency, split_sentences
from fingerpost.plan.base.addresses import address_of, pair_address
from fingerpost.plan.base.answers import (
    LEVELS,
    NO,
    WARNING,
    explain_answers,
    fits_of,
    list_age_signs,
    list_pairs,
    list_questions,
    list_separators,
)
from fingerpost.plan.base.blocks import (
    Choice,
    Drawing,
    Finder,
    FlagGroup,
    Flags,
    Fold,
    FoundPage,
    Help,
    Paragraph,
    Question,
    Questionnaire,
    RedFlag,
    Section,
    SignLines,
    TouchMap,
    Unscripted,
)
from fingerpost.plan.base.parts import audience_words, short_sign
from fingerpost.plan.base.pictures import TouchArea, TouchPicture, TouchView
from fingerpost.plan.base.prose import Writer, capital
from fingerpost.plan.base.runs import Words, link, strong, text
from fingerpost.reckon.telling import describe_sign

_LESS_URGENT = tuple(urgency for urgency in URGENCIES if urgency not in URGENT)
_VIEWS: tuple[tuple[TouchView, frozenset[TouchSpot]], ...] = (
    (
        "palm",
        frozenset(
            ("end-joint", "middle-segment", "joint-front", "base-segment", "base-crease", "mid-palm", "heel"),
        ),
    ),
    ("back", frozenset(("end-joint", "joint-back", "knuckle"))),
    ("side", frozenset(("joint-side", "joint-round", "joint-back", "joint-front"))),
    ("forearm", frozenset(("forearm",))),
)
# Gaps of labels that the script fills.
_GAPS = {gap: f"{{{gap}}}" for gap in ("name", "names", "other", "sign")}
_LABELS = (
    "fits-one",
    "fits-none",
    "reason-fits",
    "reason-sometimes",
    "reason-against",
    "reason-missing",
    "group-front",
    "group-near",
    "group-rest",
    "apart-title",
    "apart-line",
    "apart-pair",
    "begin-again",
    "no-script",
)


def plan_way_in(writer: Writer) -> tuple[Section, ...]:
    """The steps in their order: what cannot wait, the place, what can wait some days, onset, age, questions, pages."""
    asked = list_questions(writer.library)
    places = _unscripted(writer, lambda s: s.spot is not None, "place")
    return (
        _section(writer, "warning", _flags(writer, URGENT), _warning_question(writer)),
        _section(writer, "where", _touch_map(writer), _flags(writer, _LESS_URGENT), *places),
        _section(writer, "onset", _onset(writer), *_unscripted(writer, lambda s: s.kind == "onset", "onset")),
        _section(writer, "under-18", _age_question(writer), _young(writer)),
        _section(writer, "asked", _asked(writer, asked), *_unscripted(writer, lambda s: _is_asked(s, asked), "asked")),
        _section(writer, "fits", _finder(writer, asked)),
    )


def _section(writer: Writer, id: str, *blocks: Any) -> Section:
    return Section(id=id, heading=writer.say(f"heading-{id}"), blocks=tuple(b for b in blocks if b))


def _flags(writer: Writer, urgencies: Iterable[Urgency]) -> Flags:
    """Warning signs as choices: each opens one full answer, where the questions end. What has no hurry is folded."""
    signs = writer.library.vocabularies.warning_signs
    groups = (
        FlagGroup(
            id=_anchor(urgency),
            title=writer.say(f"order-{urgency}"),
            flags=tuple(_flag(writer, s) for s in signs if s.urgency == urgency),
            folded=urgency == "routine",
        )
        for urgency in urgencies
    )
    return Flags(
        back=writer.say("flag-back"),
        label_why=writer.say("label-why"),
        groups=tuple(group for group in groups if group.flags),
    )


def _helps(writer: Writer) -> tuple[Help, ...]:
    """For each warning sign that an answer can bring up, the way to its own answer, the most urgent first."""
    signs = sorted(writer.library.vocabularies.warning_signs, key=lambda s: URGENCIES.index(s.urgency))
    return tuple(
        Help(
            signs=sign.signs,
            urgent=sign.urgency in URGENT,
            flag=_anchor(sign.id),
            says=writer.say("flag-help", order=writer.say(f"order-{sign.urgency}"), sign=_choice(sign)),
        )
        for sign in signs
        if sign.signs
    )


def _anchor(name: str) -> str:
    return f"flag-{name}"


def _choice(sign: WarningSign) -> str:
    return sign.choice or short_sign(sign)


def _flag(writer: Writer, sign: WarningSign) -> RedFlag:
    order, steps = _order_and_steps(writer, sign)
    number = writer.library.clinic.emergency_number or ""
    emergency = sign.urgency == "emergency"
    return RedFlag(
        id=_anchor(sign.id),
        urgent=sign.urgency in URGENT,
        choice=_choice(sign),
        order=order,
        call=writer.say("flag-call") if emergency else "",
        number=dial(number) if emergency else "",
        steps=steps,
        sign=writer.words(sign.sign),
        why=writer.words(sign.why),
    )


def dial(number: str) -> str:
    """What a telephone dials for a number as people write it (RFC 3966); '' where it holds no figure."""
    figures = "".join(sign for sign in number if sign.isascii() and sign.isdigit())
    return f"{'+' if number.lstrip().startswith('+') else ''}{figures}" if figures else ""


def _order_and_steps(writer: Writer, sign: WarningSign) -> tuple[Words, tuple[Words, ...]]:
    """The order of an urgency, with its mark where the sign itself says the same; and the rest of what to do."""
    says = f"{writer.say(f'order-{sign.urgency}')}."
    order, steps = text(says), []
    for piece in sign.do:
        if piece.for_ != EVERYBODY:
            steps.append((*audience_words(writer, piece.for_), *writer.words(piece.says)))
            continue
        for sentence in split_sentences(piece.says):
            if MARK.sub("", sentence) == says:
                order = writer.words(sentence)
            else:
                steps.append(writer.words(sentence))
    return order, tuple(steps)


def _warning_question(writer: Writer) -> Questionnaire:
    """The one answer for whoever has none of the urgent signs; each of these is a choice of its own."""
    choices = (Choice(sign=NO + WARNING, says=writer.say("way-no-warning")),)
    question = Question(name="warning", says=writer.say("heading-warning"), choices=choices)
    return Questionnaire(help="", questions=(question,), many=True)


def _young(writer: Writer) -> Paragraph:
    words = [*text(writer.say("home-under-18"))]
    for condition in writer.library.conditions:
        if condition.people == "under-18":
            words += [*text(" "), *link(writer.say("home-under-18-link"), address_of(condition.id))]
    return Paragraph(words=tuple(words))


def _age_question(writer: Writer) -> Questionnaire:
    ages = list_age_signs(writer.library)
    signs = [s for s in writer.library.vocabularies.signs if s.id in ages]
    return Questionnaire(help="", questions=tuple(_yes_no(writer, s, asked=False) for s in signs))


def _yes_no(writer: Writer, sign: Sign, asked: bool = True) -> Question:
    choices = (
        Choice(sign=sign.id, says=writer.say("answer-yes")),
        Choice(sign=NO + sign.id, says=writer.say("answer-no")),
        Choice(sign="", says=writer.say("answer-unknown")),
    )
    return Question(name=sign.id, says=sign.question, choices=choices, asked=asked)


def _touch_map(writer: Writer) -> TouchMap:
    places = [s for s in writer.library.vocabularies.signs if s.spot]
    drawings = []
    for view, spots in _VIEWS:
        areas = tuple(_area(writer, view, s, s.spot) for s in places if s.spot and s.spot in spots)
        picture = TouchPicture(title=writer.say(f"touch-{view}"), view=view, areas=areas)
        caption = text(writer.say(f"touch-{view}-caption"))
        width_mm = 80 if view == "palm" else 45
        drawings.append(Drawing(name=f"touch-{view}", picture=picture, caption=caption, width_mm=width_mm))
    question = Question(name="where", says=writer.say("heading-where"), choices=_statements(places))
    return TouchMap(
        drawings=tuple(drawings), help=writer.say("touch-help"), list_title=writer.say("touch-list"), question=question
    )


def _area(writer: Writer, view: TouchView, sign: Sign, spot: TouchSpot) -> TouchArea:
    """Round a joint the places are close together, so there each has its word."""
    label = writer.say(f"touch-label-{spot}") if view == "side" else ""
    return TouchArea(sign=sign.id, spot=spot, name=sign.says, label=label)


def _statements(signs: list[Sign]) -> tuple[Choice, ...]:
    return tuple(Choice(sign=s.id, says=s.choice or s.says) for s in signs)


def _onset(writer: Writer) -> Questionnaire:
    signs = [s for s in writer.library.vocabularies.signs if s.kind == "onset"]
    question = Question(name="onset", says=writer.say("heading-onset"), choices=_statements(signs))
    return Questionnaire(help=writer.say("onset-help"), questions=(question,), many=True)


def _is_asked(sign: Sign, asked: Mapping[str, tuple[str, ...]]) -> bool:
    return any(sign.id in signs for signs in asked.values())


def _asked(writer: Writer, asked: Mapping[str, tuple[str, ...]]) -> Questionnaire:
    signs = [s for s in writer.library.vocabularies.signs if _is_asked(s, asked)]
    questions = tuple(_yes_no(writer, s) for s in signs)
    return Questionnaire(help=writer.say("asked-help"), questions=questions, answered=writer.say("asked-answered"))


def _unscripted(writer: Writer, wanted: Callable[[Sign], bool], anchor: str) -> tuple[Unscripted, ...]:
    """The same as a list: each sign with the pages in which it is usual, comes sometimes or does not fit."""
    signs = tuple(_lines(writer, sign, anchor) for sign in writer.library.vocabularies.signs if wanted(sign))
    return (Unscripted(signs=signs),) if signs else ()


def _lines(writer: Writer, sign: Sign, anchor: str) -> SignLines:
    told = describe_sign(fits_of(writer.library), sign.id)
    rows = (("usual", told.fits), ("sometimes", told.sometimes))
    lines = tuple(_pages(writer, writer.say(f"fit-{name}"), pages) for name, pages in rows if pages)
    title = text(capital(writer.say("fit-does-not-fit")))
    against = _pages(writer, writer.say("fit-does-not-fit"), told.does_not_fit)
    return SignLines(id=f"{anchor}-{sign.id}", title=sign.says, lines=lines, more=Fold(title=title, lines=(against,)))


def _pages(writer: Writer, label: str, pages: tuple[str, ...]) -> Words:
    names = {c.id: c.plain_name for c in writer.library.conditions}
    words = list(strong(f"{label}: "))
    for number, page in enumerate(pages):
        words += [*text("; " if number else ""), *link(names[page], address_of(page))]
    return tuple(words)


def _finder(writer: Writer, asked: Mapping[str, tuple[str, ...]]) -> Finder:
    pages = tuple(
        FoundPage(id=c.id, name=link(c.plain_name, address_of(c.id)), under=_under(writer, c.id, c.trade_name))
        for c in writer.library.conditions
    )
    return Finder(
        helps=_helps(writer),
        note=writer.say("way-not-a-verdict"),
        pages=pages,
        labels=tuple((name, writer.say(f"way-{name}", **_GAPS)) for name in _LABELS),
        data=_look_up(writer, asked),
    )


def _under(writer: Writer, id: str, trade_name: str) -> str:
    if isinstance(writer.library.find_condition(id), Protocol):
        return trade_name
    return writer.say("way-see-somebody", name=trade_name)


def _look_up(writer: Writer, asked: Mapping[str, tuple[str, ...]]) -> dict[str, Any]:
    """What the script looks up: statements, what answers say about pages, questions, separators, which page leads."""
    library = writer.library
    mutual = {(one.id, other.id) for one, other in list_pairs(library)}
    apart = {
        f"{one} {other}": {"address": pair_address(one, other) if (one, other) in mutual else "", "signs": signs}
        for (one, other), signs in list_separators(library).items()
    }
    leads = {
        sign: condition.id
        for condition in library.conditions
        for sign in sorted(list_age_signs(library))
        if condition.people == "under-18"
    }
    return {
        "says": {**{s.id: s.says for s in library.vocabularies.signs}, **_say_no(writer)},
        "places": [s.id for s in library.vocabularies.signs if s.spot],
        "pages": explain_answers(library),
        "levels": dict(LEVELS),
        "ask": dict(asked),
        "apart": apart,
        "leads": leads,
    }


def _say_no(writer: Writer) -> dict[str, str]:
    """The answers that say no in words of their own; the others are told by their sign."""
    ages = {NO + sign: writer.say("way-not-under-18") for sign in sorted(list_age_signs(writer.library))}
    return {**ages, NO + WARNING: writer.say("way-said-warning")}
