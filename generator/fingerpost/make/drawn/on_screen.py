"""Pictures for pages on a screen: the style of the page says what each colour is, so that they go with a dark one."""

from __future__ import annotations

import re
from collections.abc import Mapping

from fingerpost.draw.pens.svg import ON_PAPER, ColourName, recolour

DARK, FORCED = "prefers-color-scheme: dark", "forced-colors: active"
_STROKES: tuple[ColourName, ...] = ("grey", "faint")
ON_SCREEN: Mapping[ColourName, str] = {
    **{name: f"var(--picture-{name}, Canvas)" for name in ON_PAPER},
    **{name: f"var(--picture-{name}, GrayText)" for name in _STROKES},
    "line": "currentColor",
    "paper": "var(--paper, Canvas)",
    "ink": "var(--picture-ink, currentColor)",
}
"""What each colour of a pen is on a page; site_overrides/assets/frame.css says it for light, dark and forced colours.

Lines are the colour of the text, and what hides lines is the ground of the page. Behind each comma stands what a
browser takes that has no style sheet.
"""


def put_on_screen(svg: str) -> str:
    """A drawing for a page of the site."""
    return recolour(svg, ON_SCREEN)


def list_colours(style: str, condition: str = "") -> dict[ColourName, str]:
    """What each colour of a pen is on a page by its style sheet: in the light, or where a condition holds, too.

    Raises ValueError for a colour that the style sheet does not declare.
    """
    declared: dict[str, str] = {}
    for begin in ("", condition):
        block = style[style.index(f"({begin})") if begin else 0 :].partition(":root")[2].partition("}")[0]
        declared |= dict(re.findall(r"--([a-z-]+): ([^;]+);", block))
    found: dict[ColourName, str] = {}
    for name, told in ON_SCREEN.items():
        variable = re.match(r"var\(--([a-z-]+)", told)
        asked = variable[1] if variable else "text"
        if asked not in declared:
            raise ValueError(f"the style sheet declares no --{asked}")
        found[name] = declared[asked]
    return found
