"""Taping step by step: TapingPicture. A frame has its number, its drawing, and its caption below."""

from __future__ import annotations

from collections.abc import Callable

from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import block_height, wrap
from fingerpost.draw.pens.svg import BLACK, INK, MAIN, MM_PER_PT, WHITE, chain_data, disc, document, group, path, words
from fingerpost.draw.taping.taping_mistakes import draw_mistakes
from fingerpost.draw.taping.taping_steps import (
    Drawn,
    Step,
    buddy_loop,
    check,
    first_frame,
    h_bridge,
    h_first,
    h_second,
    ring_turn,
    splint_step,
)  # fmt: skip
from fingerpost.model.shared import TapingKind
from fingerpost.plan.base.pictures import TAPING_FRAMES, TapingPicture

_STEPS: dict[TapingKind, tuple[Callable[[Step], Drawn], ...]] = {
    "ring": (first_frame, ring_turn, check),
    "h-strip": (first_frame, h_bridge, h_first, h_second, check),
    "buddy": (first_frame, lambda step: buddy_loop(step, 1), lambda step: buddy_loop(step, 2), check),
    "splint": (first_frame, lambda step: splint_step(step, taped=True), check),
}
EDGE = 0.8


def draw_taping(picture: TapingPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    if not 0 <= picture.frame <= TAPING_FRAMES[picture.kind]:
        raise ValueError(f"{picture.kind} has frames 0 to {TAPING_FRAMES[picture.kind]}, not {picture.frame}")
    step = Step(picture, width_mm, text_pt)
    parts, height = _STEPS[picture.kind][picture.frame - 1](step) if picture.frame else draw_mistakes(step)
    body = [group(parts, name=f"{prefix}-step")]
    if picture.frame:
        body.append(group(_badge(picture, text_pt), name=f"{prefix}-number"))
    lines = wrap(picture.caption, width_mm - 2 * EDGE, text_pt)
    if lines:
        deep = block_height(len(lines), text_pt)
        box = Extent(left=EDGE, right=width_mm - EDGE, top=height + 1.0, bottom=height + 1.0 + deep)
        body.append(group([draw_block(lines, box, text_pt)], name=f"{prefix}-caption"))
        height += deep + 1.4
    return document(picture.title, width_mm, height + EDGE, body)


def _badge(picture: TapingPicture, size: float) -> list[str]:
    """The number of the step, or a tick for the check at the end."""
    em = size * MM_PER_PT
    centre = complex(1.15 * em, 1.15 * em)
    if picture.frame == TAPING_FRAMES[picture.kind]:
        points = [centre + em * z for z in (-0.45 + 0.05j, -0.12 + 0.4j, 0.5 - 0.42j)]
        return [disc(centre, em, fill=WHITE, stroke=BLACK, pen=MAIN), path(chain_data(points), stroke=INK, pen=1.8)]
    shown = picture.frame if picture.shown_as is None else picture.shown_as
    number = words(str(shown), centre + 0.37j * em, size=1.1 * size, anchor="middle", bold=True, fill=WHITE)
    return [disc(centre, em, fill=BLACK), number]
