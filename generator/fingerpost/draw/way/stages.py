"""All stages as a row of boards like those along the way: StagesPicture."""

from __future__ import annotations

from math import ceil

from fingerpost.draw.pens.letters import width_of
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    INK,
    MM_PER_PT,
    PALE,
    WHITE,
    chain_data,
    document,
    group,
    path,
    words,
)  # fmt: skip
from fingerpost.draw.way.way_shapes import Plot, arm, tick
from fingerpost.plan.base.pictures import StagesPicture

HIGH, GAP, NOTCH, HAND = 1.62, 0.28, 0.35, 1.75
"""In letter heights: a board, the space between two, the notch of its tail, the hand on today's."""
LEAST, MOST = 2.7, 9.0
"""A board is never narrower (number and tick) and never wider."""
EDGE = 0.25


def draw_stages(picture: StagesPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """One row where all boards fit, else as few rows as hold them."""
    if not 2 <= picture.count <= 8 or not 1 <= picture.today <= picture.count:
        raise ValueError(f"2 to 8 stages are drawn, and today's is one of them, not {picture.today} of {picture.count}")
    name, room = f"{picture.today} {picture.word}".strip(), width_mm - 2 * EDGE
    size = min(text_pt, text_pt * room / _today_width(name, text_pt))
    em, wide = size * MM_PER_PT, _today_width(name, size)
    rows, board = _set_rows(picture, room / em, wide / em)
    parts, y = [], EDGE
    for row in rows:
        x = EDGE
        for stage in row:
            long = wide if stage == picture.today else board * em
            plot = Plot(x=x, width=long, ground=y + HIGH * em, right=True)
            drawn = _draw_today(plot, name, em) if stage == picture.today else _draw_board(plot, stage, picture, em)
            parts.append(group(drawn, name=f"{prefix}-stage-{stage}"))
            x += long + GAP * em
        y += (HIGH + GAP) * em
    return document(picture.title, width_mm, y - GAP * em + EDGE, parts)


def _today_width(name: str, size: float) -> float:
    return width_of(name, size, True) + (NOTCH + 0.6 + HAND) * size * MM_PER_PT


def _set_rows(picture: StagesPicture, room: float, today: float) -> tuple[list[range], float]:
    """Stages of each row, and the width of a board; all in letter heights."""
    rows, board = [range(1, picture.count + 1)], 0.0
    for count in range(1, picture.count + 1):
        each = ceil(picture.count / count)
        rows = [range(k, min(k + each, picture.count + 1)) for k in range(1, picture.count + 1, each)]
        board = min(MOST, *(_board(row, picture.today, room, today) for row in rows))
        if board >= LEAST:
            break
    return rows, max(board, LEAST)


def _board(row: range, today: int, room: float, wide: float) -> float:
    others = len(row) - (today in row)
    left = room - GAP * (len(row) - 1) - (wide if today in row else 0.0)
    return left / others if others else MOST


def _draw_today(plot: Plot, name: str, em: float) -> list[str]:
    up = HIGH * em
    board = arm(plot, (0, plot.width), (0, up), em, fill=INK, stroke=BLACK, pen=0.9)
    at = plot.at((NOTCH + 0.35) * em, up / 2 - 0.36 * em)
    return [board, words(name, at, size=em / MM_PER_PT, bold=True, fill=WHITE)]


def _draw_board(plot: Plot, stage: int, picture: StagesPicture, em: float) -> list[str]:
    """Grey with a tick where it is behind, white where it lies ahead."""
    past, up, end = stage < picture.today, HIGH * em, plot.width
    corners = [plot.at(*p) for p in ((end, 0), (0, 0), (NOTCH * em, up / 2), (0, up), (end, up))]
    board = path(chain_data(corners, True), fill=PALE if past else WHITE, stroke=BLACK, pen=FINE)
    middle = end / 2 + 0.15 * em
    at = plot.at(middle - (0.55 * em if past else 0.0), up / 2 - 0.36 * em)
    number = words(str(stage), at, size=em / MM_PER_PT, anchor="middle", bold=past)
    return [board, number, tick(plot.at(middle + 0.45 * em, up / 2), em) if past else ""]
