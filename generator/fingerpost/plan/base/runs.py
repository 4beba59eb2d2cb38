"""Words of the plan, in runs, and what each text is for: every field that holds text says so.

So no id is taken for a word.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Literal


@dataclass(frozen=True)
class Use:
    """`seen`: words on the page or sheet. `heard`: what stands in for a picture, or describes a page from outside.
    `machine`: an id, an anchor, an address, the name of a file or of a drawing."""

    sort: Literal["seen", "heard", "machine"]


SEEN, HEARD, MACHINE = Use("seen"), Use("heard"), Use("machine")

Visible = Annotated[str, SEEN]
Spoken = Annotated[str, HEARD]
Handle = Annotated[str, MACHINE]


@dataclass(frozen=True)
class Run:
    """A piece of text. `link`: `target` is an address on the site.

    `mark`: where a figure is from; `target` is the anchor of that source, which the line of the source carries.
    `break`: a new line, where bare text has its `text`. `blank`: room to write in by hand. `keep`, `limit`, `leave`:
    words with a grip mark before them.
    """

    text: str
    kind: Literal["plain", "strong", "mark", "link", "break", "blank", "keep", "limit", "leave"] = "plain"
    target: Handle = ""


Words = tuple[Run, ...]


def plain(words: Words) -> str:
    """The words as bare text."""
    return "".join(run.text for run in words)


BLANK = Run("____", "blank")
"""Room to write by hand."""


def text(content: str) -> Words:
    return (Run(content),) if content else ()


def strong(content: str) -> Words:
    return (Run(content, "strong"),)


def link(content: str, target: str) -> Words:
    return (Run(content, "link", target),)


def stack(lines: Iterable[Words]) -> Words:
    """Several words as one, each on a line of its own; in bare text with a semicolon between."""
    runs: list[Run] = []
    for words in lines:
        runs += [Run("; ", "break"), *words] if runs else words
    return tuple(runs)
