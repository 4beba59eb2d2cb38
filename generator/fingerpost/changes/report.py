"""Say what a change means: for a terminal, and in Markdown for a pull request."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest

from fingerpost.changes.compare.difference import LEANS, Difference, Lean, place
from fingerpost.changes.comparison import Comparison, Subject
from fingerpost.changes.views import Hunk, Sight, focus
from fingerpost.problems import Problem, count_problems

LEAN_WORDS: dict[Lean, str] = {
    "less-cautious": "less cautious",
    "more-cautious": "more cautious",
    "to-judge": "for a reviewer to judge",
    "follows": "follows from that",
    "wording": "wording",
}
MOST_LINES = 12
MOST_WORDING = 20


@dataclass(frozen=True, kw_only=True)
class Report:
    """All that there is to say. `layout`: files that only look otherwise; `remarks`: what could not be compared."""

    old: str
    new: str
    comparison: Comparison
    sight: Sight | None
    layout: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


def say_lean(lean: Lean | None) -> str:
    """The lean of the whole, in words."""
    return LEAN_WORDS[lean] if lean else "no change of meaning"


def _by_lean(differences: Sequence[Difference]) -> Iterator[tuple[str, list[str]]]:
    """(lean in words, each difference in words); of mere wording only the first ones."""
    for lean in LEANS:
        chosen = [str(d) for d in differences if d.lean == lean]
        left = len(chosen) - MOST_WORDING
        if lean == "wording" and left > 1:
            chosen = [*chosen[:MOST_WORDING], f"and {left} more"]
        if chosen:
            yield LEAN_WORDS[lean], chosen


def _gather(subjects: Sequence[Subject]) -> list[Subject]:
    """The same with the entries of each vocabulary under one heading."""
    shown: dict[str, Subject] = {}
    for subject in subjects:
        vocabulary, shared, entry = subject.about.partition("/")
        if not shared:
            shown[subject.about] = subject
            continue
        found = tuple(place(subject.differences, entry))
        before = shown.get(vocabulary)
        whole = (*before.differences, *found) if before else found
        shown[vocabulary] = replace(subject, about=vocabulary, title=f"shared {vocabulary}", differences=whole)
    return list(shown.values())


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"


def sum_up(report: Report) -> str:
    """One sentence on which way it leans, and one on what readers see."""
    counts = Counter(d.lean for d in report.comparison.differences)
    parts = ", ".join(f"{LEAN_WORDS[lean]} {counts[lean]}" for lean in LEANS if counts[lean] and lean != "follows")
    overall = say_lean(report.comparison.lean) + (f" ({parts})" if parts else "")
    if report.sight is None:
        return f"Overall: {overall}."
    names = (*report.sight.changed, *report.sight.come, *report.sight.gone)
    pages = sum(1 for name in names if name.startswith("/"))
    sheets = _count(len(names) - pages, "set of sheets", "sets of sheets")
    return f"Overall: {overall}. Readers see a change on {_count(pages, 'page', 'pages')} and {sheets}."


def _title(subject: Subject) -> str:
    return f"{subject.file}: {subject.title}: {say_lean(subject.lean)}"


def _pairs(hunk: Hunk) -> list[tuple[str, str]]:
    """('-' or '+', line) of a hunk, long lines cut to where they differ, many lines cut short."""
    if len(hunk.gone) == len(hunk.come):
        lines = [pair for gone, come in zip(hunk.gone, hunk.come, strict=True) for pair in _one_pair(gone, come)]
    else:
        lines = [("-", line) for line in hunk.gone] + [("+", line) for line in hunk.come]
    left = len(lines) - MOST_LINES
    return lines if left <= 1 else [*lines[:MOST_LINES], ("…", f"and {left} more lines")]


def _one_pair(gone: str, come: str) -> Iterator[tuple[str, str]]:
    yield from zip_longest("-+", focus(gone, come), fillvalue="")


def _whole(sight: Sight) -> list[str]:
    """Pages and sheets that came or went as a whole."""
    return [*(f"gone: {name}" for name in sight.gone), *(f"new: {name}" for name in sight.come)]


def write_text(report: Report) -> str:
    """The report for a terminal."""
    lines = [f"From {report.old} to {report.new}", *(f"  {remark}" for remark in report.remarks)]
    for subject in _gather(report.comparison.subjects):
        lines += ["", _title(subject)]
        for lean, found in _by_lean(subject.differences):
            lines += [f"  {lean}", *(f"    {words}" for words in found)]
    if report.layout:
        lines += ["", f"Only layout, comments or the order of keys changed in: {', '.join(report.layout)}"]
    if report.sight and (report.sight.hunks or _whole(report.sight)):
        lines += ["", "What readers see", *(f"  {line}" for line in _whole(report.sight))]
        for hunk in report.sight.hunks:
            lines += ["  " + ", ".join(hunk.places), *(f"    {sign} {line}" for sign, line in _pairs(hunk))]
    return "\n".join([*lines, "", sum_up(report)])


def _plain(text: str) -> str:
    """Text in which Markdown sees nothing of its own."""
    for sign in "\\`*_[]<>#|":
        text = text.replace(sign, "\\" + sign)
    return text


def _details(title: str, body: Sequence[str]) -> list[str]:
    return ["<details>", f"<summary>{title}</summary>", "", *body, "", "</details>", ""]


def _write_sight(sight: Sight) -> list[str]:
    body = [f"- {_plain(line)}" for line in _whole(sight)]
    for hunk in sight.hunks:
        fence = ["```diff", *(f"{sign} {line}" for sign, line in _pairs(hunk)), "```"]
        body += ["", _plain(", ".join(hunk.places)), "", *fence]
    return _details("What readers see, line by line", body) if body else []


def write_markdown(report: Report) -> str:
    """The report for a pull request: findings first, then what it means, then what readers see, folded away."""
    lines = ["## What this change means for readers", "", _plain(sum_up(report)), ""]
    if report.problems:
        lines += [f"**{count_problems(report.problems)} to settle before this can be merged:**", ""]
        lines += [*(f"- {_plain(' '.join(str(p).split()))}" for p in report.problems), ""]
    lines += [*(f"- {_plain(remark)}" for remark in report.remarks), ""] if report.remarks else []
    for subject in _gather(report.comparison.subjects):
        lines += [f"### {_plain(subject.title)}: {say_lean(subject.lean)}", "", f"`{subject.file}`", ""]
        for lean, found in _by_lean(subject.differences):
            lines += [f"- **{lean}**", *(f"  - {_plain(words)}" for words in found)]
        lines.append("")
    if report.layout:
        lines += [f"Only layout, comments or the order of keys changed in: {_plain(', '.join(report.layout))}", ""]
    lines += _write_sight(report.sight) if report.sight else []
    return "\n".join(lines).rstrip()
