"""Texts that try to be more than text: as HTML, SVG, script, style, Markdown, template or YAML.

A payload stands between two words that tell its number, so that it can be found again wherever it comes out.
Whatever runs calls `hit`, and whatever is loaded is asked of a host that does not exist.
"""

from __future__ import annotations

import re

HTML = (
    "\"'><svg onload=hit(1)><img src=//bad.invalid/x onerror=hit(2)><a href=javascript:hit(3)>Go</a>"
    "<details open ontoggle=hit(4)></div></li></td></p><iframe srcdoc='<script>parent.hit(5)</script>'>"
)
MARKDOWN = (
    "[Go](javascript:hit(6)) ![Go](//bad.invalid/y) **Bold** __Bold__ `Code` <javascript:hit(7)> &lt;b&gt; &#60;i>"
    " { #Top .Red onclick=hit(8) } {: #Top } [Go]: //bad.invalid {{ 7*7 }} {% raise %} {# x #} ~~~ # Head ---"
)
CLOSERS = (
    "</style></title></script></svg></textarea>--><script>hit(9)</script><style>*{display:none}</style>"
    ';"}*{color:red}@import"//bad.invalid/z";\\201C /*url(//bad.invalid/w)*/ ]]> <!-- &A *A !!str %YAML: | > \\'
)
FAMILIES = (HTML, MARKDOWN, CLOSERS)

_FOUND = re.compile(r"zq(\d+)q (.*?) qz\1z", re.IGNORECASE)
_BEGUN = re.compile(r"zq(\d+)q", re.IGNORECASE)


def tame(payload: str) -> str:
    """A harmless text whose words are as long."""
    return re.sub(r"[^\w\s]", "x", payload)


def mark(number: int, payload: str) -> str:
    """A payload with its number on both sides."""
    return f"zq{number}q {payload} qz{number}z"


def find_marked(text: str) -> dict[int, set[str]]:
    """What stands between the two words of each number in a text whose blanks are single."""
    found: dict[int, set[str]] = {}
    for number, payload in _FOUND.findall(" ".join(text.split())):
        found.setdefault(int(number), set()).add(payload)
    return found


def find_numbers(text: str) -> set[int]:
    """Every number that comes up in a text, whole payload or not."""
    return {int(number) for number in _BEGUN.findall(text)}
