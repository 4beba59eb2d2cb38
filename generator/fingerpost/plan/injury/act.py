"""The top of an injury's page: what may I do now, who sees it, how long does it take, and what until then."""

from __future__ import annotations

from dataclasses import replace

from fingerpost.model.protocol import Protocol, Range, Recovery, Timeline
from fingerpost.plan.base.blocks import Answer, Block, Bullets, Paragraph, Section, Table
from fingerpost.plan.base.parts import bullets, for_any_place, range_words, table, warning_folds
from fingerpost.plan.base.prose import Writer, uncapital
from fingerpost.plan.base.runs import Run, Words, link, strong, text
from fingerpost.plan.injury.about import folded, grade_name, shown, verdict_words


def lead(writer: Writer, protocol: Protocol) -> tuple[Block, ...]:
    """What is hurt, in short, for a reader whose place nobody has named; and that reading is no diagnosis."""
    return (
        Paragraph(
            words=(*writer.words(for_any_place(protocol.brief)), *text(f" {writer.say('cannot-tell')}")), lead=True
        ),
    )


def now(writer: Writer, protocol: Protocol) -> Section:
    """What somebody may do whom nobody has seen yet: what the first stage says."""
    first, *rest = verdict_words(writer, protocol.stages[0].verdict)
    verdict = (replace(first, text=uncapital(first.text)), *rest)
    says = (*text(f"{writer.say('now-new')} "), *verdict)
    return shown(writer, "act", "now", Answer(mark="leave", words=says))


def who(writer: Writer, protocol: Protocol) -> Section:
    urgent = link(f"{writer.say('who-urgent')}.", "#get-help")
    return shown(writer, "act", "who", Paragraph(words=(*writer.words(protocol.seen_by), Run(" "), *urgent)))


def until_then(writer: Writer, protocol: Protocol) -> Section:
    return shown(writer, "act", "until-then", bullets(writer, protocol.now))


def your_stage(writer: Writer, protocol: Protocol) -> Section:
    """For who has a stage, the way to it."""
    numbers = range(1, len(protocol.stages) + 1)
    stages = tuple(link(writer.say("stage-short", number=number), f"#stage-{number}") for number in numbers)
    return shown(writer, "act", "your-stage", Bullets(items=stages, style="boards"))


def get_help(writer: Writer, protocol: Protocol) -> Section:
    return shown(writer, "act", "get-help", warning_folds(writer, (use.sign for use in protocol.warning_signs)))


def how_long(writer: Writer, protocol: Protocol) -> tuple[Section, ...]:
    """A plain line, and how long it took in a study to be as before; then the table, which has each grade."""
    lines = protocol.timelines
    if not lines:
        none = shown(writer, "act", "how-long", Paragraph(words=text(writer.say("stop-no-windows"))))
        return (replace(none, id="timelines"),)
    spans = [(line.easy_climbing, line.full_climbing) for line in lines]
    easy, full = (range_words(writer, _whole(column)) for column in zip(*spans, strict=True))
    marks = (writer.mark(source) for source in dict.fromkeys(span.source for pair in spans for span in pair))
    decides = f" {writer.say('time-decides')}" if len(lines) > 1 else ""
    says = (*strong(writer.say("time-line", easy=easy, full=full)), *marks, *strong(f".{decides}"))
    studies = (_study(writer, line) for line in lines if line.recovery and line.recovery.until != "healed")
    return (
        shown(writer, "act", "how-long", Paragraph(words=says), *studies),
        folded(writer, "act", "timelines", (), timeline_table(writer, protocol)),
    )


def _study(writer: Writer, line: Timeline) -> Paragraph:
    grade = "" if line.grade == "any" else f"{writer.say('grade-inline', grade=line.grade)}, "
    found = recovery_words(writer, line.recovery) if line.recovery else ()
    return Paragraph(words=(*text(f"{writer.say('time-longer')} {grade}"), *found, Run(".")))


def _whole(spans: tuple[Range, ...]) -> Range:
    """From the shortest to the longest of several times."""
    least = min((span.least for span in spans), key=lambda time: time.rough_days)
    most = max((span.most for span in spans), key=lambda time: time.rough_days)
    return Range(least=least, most=most, source=spans[0].source)


def recovery_words(writer: Writer, study: Recovery) -> Words:
    """How long people in a study really took, and until what."""
    until = writer.say(f"recovery-until-{study.until}")
    says = writer.say(f"recovery-{study.who}", until=until, after=study.after)
    return writer.marked(says, study.source)


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
            study = line.recovery if span is line.full_climbing else None
            found = (Run("; "), *recovery_words(writer, study)) if study else ()
            cells.append((*writer.marked(range_words(writer, span), span.source), *found))
        rows.append((text(grade_name(writer, line.grade)), *cells))
    return table(writer.say("caption-timelines"), head, rows)
