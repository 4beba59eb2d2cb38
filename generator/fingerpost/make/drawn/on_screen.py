"""Pictures for pages on a screen: the style of the page says what each colour is, so that they go with a dark one."""

from __future__ import annotations

from collections.abc import Mapping

from fingerpost.draw.pens.svg import ON_PAPER, ColourName, recolour

_STROKES: tuple[ColourName, ...] = ("grey", "faint")
ON_SCREEN: Mapping[ColourName, str] = {
    **{name: f"var(--picture-{name}, Canvas)" for name in ON_PAPER},
    **{name: f"var(--picture-{name}, GrayText)" for name in _STROKES},
    "line": "currentColor",
    "paper": "var(--paper, Canvas)",
    "ink": "var(--ink, currentColor)",
}
"""What each colour of a pen is on a page; site_overrides/assets/frame.css says it for light, dark and forced colours.

Lines are the colour of the text, and what hides lines is the ground of the page. Behind each comma stands what a
browser takes that has no style sheet.
"""


def put_on_screen(svg: str) -> str:
    """A drawing for a page of the site."""
    return recolour(svg, ON_SCREEN)
