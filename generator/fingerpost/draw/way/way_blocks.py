"""What stands along the way, each with its words: a signpost, a flag, today's place, a gate.

A block knows its size for a given width, and draws itself on a stretch of the way. Lengths in mm, `size` in points.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from fingerpost.draw.pens.letters import DROP, LINE, RISE, width_of, wrap
from fingerpost.draw.pens.svg import BLACK, INK, MAIN, MM_PER_PT, PALE, WHITE, disc, words
from fingerpost.draw.way.way_shapes import (
    STANDING_FILL,
    STANDING_STROKE,
    Plot,
    arm,
    flag,
    gate,
    pin,
    plank,
    pole,
    tick,
)
from fingerpost.plan.base.pictures import Flag, Signpost

Kind = Literal["post", "flag", "here", "gate"]
WIDEST: dict[Kind, float] = {"post": 21.0, "flag": 9.5, "here": 9.5, "gate": 15.0}
"""Width of a block in letter heights where there is room; `NARROWEST` where there is not."""
NARROWEST: dict[Kind, float] = {"post": 15.5, "flag": 6.8, "here": 6.8, "gate": 9.0}
_REAR, _TIP, _PAD, _RIM, _SPACE, _FOOT = 1.5, 2.4, 0.5, 0.46, 0.17, 1.25
"""In letter heights: overhang behind the pole, pointing end, margins beside and above, space of planks, free foot."""


@dataclass(frozen=True, kw_only=True)
class Block:
    """One thing along the way and the words it carries."""

    kind: Kind
    post: Signpost | None = None
    flag: Flag | None = None
    text: str = ""


@dataclass(frozen=True, kw_only=True)
class Sized:
    """A block with its lines broken for a width (all mm). `rows`: the lines of each plank or paragraph."""

    block: Block
    width: float
    height: float
    rows: tuple[tuple[str, ...], ...]
    em: float


def size_block(block: Block, share: float, em: float, room: float) -> Sized:
    """Break the words of a block; `share` 0 (narrowest) to 1 (widest), never wider than `room` mm."""
    size = em / MM_PER_PT
    width = (NARROWEST[block.kind] + share * (WIDEST[block.kind] - NARROWEST[block.kind])) * em
    if block.kind != "post":
        width = max(width, min(_longest_word(block, size) + 1.05 * em, 1.3 * WIDEST[block.kind] * em))
    width = min(width, room)
    if block.kind == "post":
        return _size_post(block, width, em, size)
    if block.kind == "flag" and block.flag:
        room = width - 1.0 * em
        rows = (tuple(wrap(block.flag.what, room, size)), tuple(wrap(block.flag.date, room, size, True)))
        count = sum(len(row) for row in rows)
        wide = max(width_of(line, size, True) for row in rows for line in row) + 1.0 * em
        return Sized(block=block, width=max(wide, 3 * em), height=(count * LINE + 3.4) * em, rows=rows, em=em)
    lines = tuple(wrap(block.text, width, size, block.kind == "here"))
    wide = max((width_of(line, size, block.kind == "here") for line in lines), default=0.0)
    lift = 3.5 if block.kind == "here" else 2.7
    return Sized(block=block, width=max(wide, 3.6 * em), height=(len(lines) * LINE + lift) * em, rows=(lines,), em=em)


def _longest_word(block: Block, size: float) -> float:
    text = f"{block.text} {block.flag.what} {block.flag.date}" if block.flag else block.text
    return max((width_of(word, size, True) for word in text.split()), default=0.0)


def _size_post(block: Block, width: float, em: float, size: float) -> Sized:
    post = block.post
    assert post is not None
    name = wrap(post.name, width - (_REAR + 1.2 + 2 * _PAD + (1.6 if post.standing == "past" else 0)) * em, size, True)
    rows = [tuple(name)] + [tuple(wrap(line, width - (_TIP + 2 * _PAD + 0.9) * em, size)) for line in post.arms]
    widths = [_plank_width(row, k, em, size, post.standing == "past") for k, row in enumerate(rows)]
    height = sum(_plank_height(row, em) for row in rows) + _SPACE * em * len(rows) + (_FOOT + 0.4) * em
    return Sized(block=block, width=max(widths), height=height, rows=tuple(rows), em=em)


def _plank_width(row: tuple[str, ...], k: int, em: float, size: float, past: bool) -> float:
    wide = max((width_of(line, size, k == 0) for line in row), default=0.0)
    extra = _REAR + 1.2 + 2 * _PAD + (1.6 if past else 0.0) if k == 0 else _TIP + 2 * _PAD + 0.9
    return wide + extra * em


def _plank_height(row: tuple[str, ...], em: float) -> float:
    return ((len(row) - 1) * LINE + RISE + DROP + _RIM) * em


def draw_block(sized: Sized, plot: Plot) -> str:
    """The block on its stretch of the way."""
    return {"post": _draw_post, "flag": _draw_flag, "here": _draw_here, "gate": _draw_gate}[sized.block.kind](
        sized, plot
    )


def _draw_post(sized: Sized, plot: Plot) -> str:
    """Pole, name plank with the number, then one pointing arm for each line."""
    post, em = sized.block.post, sized.em
    assert post is not None
    size = em / MM_PER_PT
    past, today = post.standing == "past", post.standing == "today"
    fill, stroke = STANDING_FILL[post.standing], STANDING_STROKE[post.standing]
    pen = 1.7 if today else MAIN
    parts = [pole(plot, _REAR * em, sized.height, em)]
    up = sized.height - 0.4 * em
    for k, row in enumerate(sized.rows):
        low = up - _plank_height(row, em)
        wide = _plank_width(row, k, em, size, past)
        if k == 0:
            parts.append(plank(plot, (0.35 * em, wide), (low, up), fill=fill, stroke=stroke, pen=pen))
            parts += _number(post, plot, (low + up) / 2, em, wide)
            left = plot.left_of((_REAR + 1.2 + _PAD) * em, wide - (_PAD + (1.6 if past else 0)) * em)
        else:
            parts.append(arm(plot, (0.9 * em, wide), (low, up), em, fill=fill, stroke=stroke, pen=MAIN))
            left = plot.left_of((0.9 + _PAD + 0.3) * em, wide - _TIP * em)
        parts.append(_lines(row, left, plot.ground - up + _RIM / 2 * em, size, bold=k == 0))
        up = low - _SPACE * em
    return "".join(parts)


def _number(post: Signpost, plot: Plot, up: float, em: float, wide: float) -> list[str]:
    """The number on the pole, and the tick on a stage that is behind."""
    centre = plot.at(_REAR * em, up)
    fill = INK if post.standing == "today" else PALE if post.standing == "past" else WHITE
    ink = WHITE if post.standing == "today" else BLACK
    parts = [disc(centre, 0.92 * em, fill=fill, stroke=BLACK, pen=MAIN)]
    parts.append(
        words(str(post.number), centre + 0.36j * em, size=1.05 * em / MM_PER_PT, anchor="middle", bold=True, fill=ink)
    )
    if post.standing == "past":
        parts.append(tick(plot.at(wide - 1.15 * em, up), em))
    return parts


def _lines(row: tuple[str, ...], left: float, top: float, size: float, *, bold: bool = False) -> str:
    em = size * MM_PER_PT
    return "".join(
        words(line, complex(left, top + (RISE + k * LINE) * em), size=size, bold=bold) for k, line in enumerate(row)
    )


def _draw_flag(sized: Sized, plot: Plot) -> str:
    em = sized.em
    size = em / MM_PER_PT
    what, date = sized.rows
    mast = 3.1 * em
    top = plot.ground - sized.height
    left = plot.left_of(0, sized.width)
    parts = [flag(plot, 0.6 * em, mast, em), _lines(what, left, top, size)]
    parts.append(_lines(date, left, top + len(what) * LINE * em, size, bold=True))
    return "".join(parts)


def _draw_here(sized: Sized, plot: Plot) -> str:
    em = sized.em
    parts = [pin(plot, 1.8 * em, em, -0.55 * em)]
    left = plot.left_of(0, sized.width)
    return "".join([*parts, _lines(sized.rows[0], left, plot.ground - sized.height, em / MM_PER_PT, bold=True)])


def _draw_gate(sized: Sized, plot: Plot) -> str:
    em = sized.em
    parts = [gate(plot, sized.width - 1.9 * em, em)]
    left = plot.left_of(0, sized.width)
    return "".join([*parts, _lines(sized.rows[0], left, plot.ground - sized.height, em / MM_PER_PT)])
