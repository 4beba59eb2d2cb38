"""What is good to know about one injury, and what stands behind it: alike for a protocol and for a short entry."""

from __future__ import annotations

from collections.abc import Sequence

from fingerpost.model.audience import Said, Told
from fingerpost.model.protocol import Condition, Protocol
from fingerpost.model.words import PAPERS
from fingerpost.plan.base.addresses import address_of, coach_address, pair_address, sheet_address
from fingerpost.plan.base.blocks import Block, Bullets, Paragraph, Section, Table
from fingerpost.plan.base.checked import status_words
from fingerpost.plan.base.illustrate import example_tears
from fingerpost.plan.base.parts import bullets, labelled, paragraph, pick, seek_words, sign_names, summary, table
from fingerpost.plan.base.prose import Writer, join_words, uncapital
from fingerpost.plan.base.runs import Words, link, stack, text
from fingerpost.plan.injury.about import folded, grade_name, shown, split_answer, split_list
from fingerpost.reckon.telling import speaks_for, table_signs


def text_fold(writer: Writer, id: str, told: str | Told, *before: Block | None, after: Sequence[Block] = ()) -> Section:
    """A text behind its first sentence. `before`, `after`: what stands round the rest of it."""
    first, rest = split_answer(told)
    left = paragraph(writer, rest) if rest else None
    return folded(writer, "know", id, writer.words(first), *before, left, *after)


def list_fold(writer: Writer, id: str, items: Sequence[Said]) -> Section:
    """A list behind the first sentence of its first entry."""
    first, rest = split_list(items)
    return folded(writer, "know", id, writer.words(first), bullets(writer, rest) if rest else None)


def does_it_fit(writer: Writer, condition: Condition) -> tuple[Section, Section]:
    """The usual signs; then the others, and of those that do not fit the ones that lead to a look-alike.

    The page of signs has all of them.
    """
    fit = condition.signs
    elsewhere = {sign for alike in condition.look_alikes for sign in _usual_signs(writer, alike.id)}
    telling = tuple(sign for sign in fit.does_not_fit if sign in elsewhere)
    more = Paragraph(words=link(writer.say("signs-more"), "signs/")) if len(telling) < len(fit.does_not_fit) else None
    others = (_signs(writer, "sometimes", fit.sometimes), _signs(writer, "does-not-fit", telling))
    return (
        shown(writer, "know", "signs", _signs(writer, "usual", fit.usual)),
        folded(writer, "know", "against", text(writer.say("answer-against")), *others, more),
    )


def _signs(writer: Writer, name: str, ids: Sequence[str]) -> Bullets | None:
    return Bullets(items=sign_names(writer, ids), title=writer.say(f"signs-{name}")) if ids else None


def _usual_signs(writer: Writer, condition: str) -> tuple[str, ...]:
    found = writer.library.find_condition(condition)
    return found.signs.usual if found else ()


def tests(writer: Writer, condition: Condition) -> Section:
    found = pick(writer.library.vocabularies.tests, condition.tests)
    listed = Bullets(items=tuple((*link(t.name, f"tests/#{t.id}"), *text(f": {t.plain}")) for t in found))
    return folded(writer, "know", "tests", text(writer.say("tests-intro")), listed if found else None)


def look_alikes(writer: Writer, condition: Condition) -> Section:
    others = (writer.library.find_condition(alike.id) for alike in condition.look_alikes)
    names = join_words([uncapital(other.plain_name) for other in others if other], "or")
    answer = text(writer.say("answer-look-alikes", names=names))
    return folded(writer, "know", "look-alikes", answer, _look_alike_table(writer, condition))


def _look_alike_table(writer: Writer, condition: Condition) -> Table:
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
        found = [
            link(writer.say("look-alike-test", test=test.name), f"tests/#{test.id}")
            for test in pick(writer.library.vocabularies.tests, alike.tests)
        ]
        names = (
            link(other.plain_name, address_of(other.id)),
            link(writer.say("apart-link"), pair_address(condition.id, other.id)),
        )
        why = (writer.words(alike.why_it_matters), *found)
        rows.append((stack(names), stack(map(text, there)), stack(map(text, here)), stack(why)))
    name = condition.plain_name
    head = (
        writer.say("head-look-alike"),
        writer.say("head-fits-it"),
        writer.say("head-fits-this", name=name),
        writer.say("head-why-it-matters"),
    )
    return table(writer.say("caption-look-alikes", name=name), head, rows)


def grades(writer: Writer, protocol: Protocol) -> Section:
    """How bad it can be. The names of the grades are the answer."""
    named = [
        grade.name if grade.id == "any" else writer.say("grade-named", grade=grade.id, name=grade.name)
        for grade in protocol.grades
    ]
    tears = example_tears(writer, protocol)
    return folded(writer, "know", "grades", text(f"{'. '.join(named)}."), _grade_table(writer, protocol), tears)


def _grade_table(writer: Writer, protocol: Protocol) -> Table:
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


def to_print(writer: Writer, condition: Condition) -> Section:
    """The leaves to print, on each paper; of a protocol also the page for coaches."""
    kind = "sheet" if isinstance(condition, Protocol) else "leaf"
    items = [link(writer.say(f"{kind}-link", paper=p), sheet_address(condition.id, p)) for p in PAPERS]
    if isinstance(condition, Protocol):
        items.append(link(writer.say("coaches-link"), coach_address(condition.id)))
    return text_fold(writer, "print", writer.say(f"{kind}-intro"), after=(Bullets(items=tuple(items)),))


def see_somebody(writer: Writer, condition: Condition) -> Bullets:
    return Bullets(items=tuple(seek_words(writer, seek) for seek in condition.see_somebody))


def _names(writer: Writer, condition: Condition) -> Bullets:
    rows: list[Words] = [labelled(writer.say("label-trade-name"), text(condition.trade_name))]
    if condition.also_called:
        rows.append(labelled(writer.say("label-also-called"), text("; ".join(condition.also_called))))
    rows.append(labelled(writer.say("label-people"), text(writer.say(f"people-{condition.people}"))))
    return Bullets(items=tuple(rows))


def _codes(writer: Writer, condition: Condition) -> Bullets:
    return Bullets(
        items=tuple((*text(f"{c.icd10} {c.title}: "), *writer.words(c.fits)) for c in condition.codes),
        title=writer.say("codes-title"),
    )


def closing(writer: Writer, condition: Condition) -> tuple[Section, ...]:
    """More about it and its names, then its sources and who stands behind the page."""
    more = folded(writer, "background", "more", (), summary(writer, condition), _names(writer, condition))
    codes = _codes(writer, condition)  # may name a source, so the list comes after it
    intro, sources = paragraph(writer, writer.say("sources-intro")), writer.source_list()
    status = Paragraph(words=text(status_words(writer, condition.status)))
    disclaimer = Paragraph(words=text(writer.say("disclaimer")))
    return (
        more,
        folded(writer, "background", "sources", (), intro, sources),
        folded(writer, "background", "status", (), status, disclaimer, codes),
    )
