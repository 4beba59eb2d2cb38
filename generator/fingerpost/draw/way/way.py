"""The way back: a path with a signpost for each stage (PathPicture).

The path runs to the right, turns, runs to the left, and so on down the page. Blocks are packed onto these legs in
order; what does not fit starts a new leg, so any number of stages with names of any length stays in the frame.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, sin

from fingerpost.draw.pens.curves import Cubic, Knot, free, spline
from fingerpost.draw.pens.svg import BLACK, FINE, GREY, INK, MM_PER_PT, PALE, curve_data, document, group, lines, path
from fingerpost.draw.way.way_blocks import Block, Sized, draw_block, size_block
from fingerpost.draw.way.way_shapes import Plot, cairn, tuft
from fingerpost.plan.base.pictures import PathPicture

TURN = 3.3
"""Room for a turn at each end of a leg, in letter heights."""
BETWEEN, ROAD = 1.3, 1.05
"""Least distance of two blocks, and width of the path, in letter heights."""
_SHARES = (1.0, 0.75, 0.5, 0.25, 0.0)
MOST_SHARE = 2.6
"""A gate may grow to this share of its usual width where a leg has room to spare."""


@dataclass(frozen=True, kw_only=True)
class Leg:
    """One straight run of the path with its blocks in walking order; `ground` is the upper edge of the path."""

    blocks: tuple[Sized, ...]
    right: bool
    top: float
    ground: float


def draw_way(picture: PathPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    em = text_pt * MM_PER_PT
    rows = _pack(picture, width_mm - 2 * TURN * em, em)
    legs = _set_legs(rows, em)
    width = width_mm
    body = [group(_draw_road(legs, width, em), name=f"{prefix}-way")]
    for k, leg in enumerate(legs):
        parts = (draw_block(sized, plot) for sized, plot in spread(leg, width, em))
        body.append(group(parts, name=f"{prefix}-leg-{k + 1}"))
    return document(picture.title, width, legs[-1].ground + (ROAD + 0.9) * em if legs else em, body)


def _groups(picture: PathPicture) -> list[list[Block]]:
    """The blocks in walking order, one group for each stage; flags before the first stage lead its group."""

    def flags(after: int) -> list[Block]:
        return [Block(kind="flag", flag=flag) for flag in picture.flags if flag.after == after]

    groups = []
    for k, post in enumerate(picture.posts):
        blocks = flags(0) if k == 0 else []
        blocks.append(Block(kind="post", post=post))
        if post.standing == "today" and picture.here:
            blocks.append(Block(kind="here", text=picture.here))
        blocks += flags(post.number)
        if post.gate:
            blocks.append(Block(kind="gate", text=post.gate))
        groups.append(blocks)
    return groups


def _pack(picture: PathPicture, room: float, em: float) -> list[list[Sized]]:
    """Blocks for each leg: a stage on one leg where it can be; lying, as many stages on a leg as fit."""
    rows: list[list[Sized]] = []
    for blocks in _groups(picture):
        joined = [s.block for s in rows[-1]] + blocks if rows and picture.lying else blocks
        together = _squeeze(joined, room, em)
        if together is not None and rows and picture.lying:
            rows[-1] = together
        elif (own := _squeeze(blocks, room, em)) is not None:
            rows.append(own)
        else:
            rows += _spill(blocks, room, em)
    return rows


def _squeeze(blocks: list[Block], room: float, em: float) -> list[Sized] | None:
    """The widest setting in which all blocks fit on one leg; None where even the narrowest does not."""
    for share in _SHARES:
        sized = [size_block(block, share, em, room) for block in blocks]
        if _fits(sized, room, em):
            return _widen(sized, share, room, em)
    return None


def _fits(sized: list[Sized], room: float, em: float) -> bool:
    return sum(s.width for s in sized) + BETWEEN * em * (len(sized) - 1) <= room


def _widen(sized: list[Sized], share: float, room: float, em: float) -> list[Sized]:
    """Give the room that is left to the tallest gate or flag, step by step, as long as that makes it lower."""
    shares = [share] * len(sized)
    for _ in range(24):
        k = max(range(len(sized)), key=lambda i: sized[i].height)
        if sized[k].block.kind not in ("gate", "flag"):
            return sized
        shares[k] += 0.15
        wider = [*sized[:k], size_block(sized[k].block, shares[k], em, room), *sized[k + 1 :]]
        if shares[k] > MOST_SHARE or not _fits(wider, room, em):
            return sized
        sized = wider
    return sized


def _spill(blocks: list[Block], room: float, em: float) -> list[list[Sized]]:
    """Fill leg after leg; a block wider than a whole leg takes the narrowest setting."""
    rows: list[list[Sized]] = []
    for block in blocks:
        together = _squeeze([*(s.block for s in rows[-1]), block], room, em) if rows else None
        if together is not None:
            rows[-1] = together
        else:
            rows.append(_squeeze([block], room, em) or [size_block(block, 0.0, em, room)])
    return rows


def _set_legs(rows: list[list[Sized]], em: float) -> list[Leg]:
    legs: list[Leg] = []
    top = 0.35 * em
    for k, row in enumerate(rows):
        ground = top + max(s.height for s in row)
        legs.append(Leg(blocks=tuple(row), right=k % 2 == 0, top=top, ground=ground))
        top = ground + (ROAD + 0.9) * em
    return legs


def spread(leg: Leg, width: float, em: float) -> list[tuple[Sized, Plot]]:
    """Where each block of a leg lies: the first at its start, the last at its end, the rest evenly between."""
    room = width - 2 * TURN * em
    used = sum(s.width for s in leg.blocks)
    gap = (room - used) / max(1, len(leg.blocks) - 1) if len(leg.blocks) > 1 else 0.0
    result = []
    walked = 0.0
    for sized in leg.blocks:
        left = TURN * em + walked if leg.right else width - TURN * em - walked - sized.width
        ground = leg.ground + wave(left + sized.width / 2, em)
        result.append((sized, Plot(x=left, width=sized.width, ground=ground, right=leg.right)))
        walked += sized.width + gap
    return result


def wave(x: float, em: float) -> float:
    """How far the path lies below its level at x: a soft swing, the same on every leg."""
    return 0.22 * em * sin(2 * pi * x / (23 * em))


def _today(legs: list[Leg], width: float, em: float) -> tuple[int, float] | None:
    """Leg and x of today's place: the pin, or the post where there is no pin. None where no stage is today's."""
    found = None
    for k, leg in enumerate(legs):
        for sized, plot in spread(leg, width, em):
            post = sized.block.post
            if sized.block.kind == "here":
                return k, plot.at(1.8 * em, 0).real
            if post is not None and post.standing == "today":
                found = k, plot.at(1.5 * em, 0).real
    return found


def _draw_road(legs: list[Leg], width: float, em: float) -> list[str]:
    """The path from edge to edge: dark edge, pale ground, and a middle line: whole where walked, dotted ahead."""
    if not legs:
        return []
    pieces = _course(legs, width, em)
    whole = curve_data([cubic for piece in pieces for cubic in piece])
    road = ROAD * em / MM_PER_PT
    tufts = [
        blade for leg in legs for share in (0.21, 0.44, 0.77) for blade in tuft(_verge(leg, share * width, em), em)
    ]
    parts = [lines(tufts, pen=FINE), path(whole, stroke=BLACK, pen=road + 1.6), path(whole, stroke=PALE, pen=road)]
    parts.append(path(whole, stroke=GREY, pen=1.1, dash=f"0.01 {0.62 * em:.2f}"))
    today = _today(legs, width, em)
    if today:
        done = [cubic for piece in pieces[: 2 * today[0]] for cubic in piece]
        done += _run(legs[today[0]], _start(legs, today[0], width, em), today[1], em)
        parts.append(path(curve_data(done), stroke=INK, pen=1.8))
    end = pieces[-1][-1][3]
    return [*parts, cairn(end + complex(0, 0.1 * em), em)]


def _verge(leg: Leg, x: float, em: float) -> complex:
    return complex(x, leg.ground + wave(x, em))


def _start(legs: list[Leg], k: int, width: float, em: float) -> float:
    """x at which leg k begins; the first and last run out towards the edge."""
    inset = (0.45 if k == 0 else 1.0) * TURN * em
    return inset if legs[k].right else width - inset


def _course(legs: list[Leg], width: float, em: float) -> list[list[Cubic]]:
    """The middle line of the path in pieces: leg, turn, leg, turn ... each a list of cubics."""
    pieces: list[list[Cubic]] = []
    for k, leg in enumerate(legs):
        inset = (0.45 if k == len(legs) - 1 else 1.0) * TURN * em
        stop = width - inset if leg.right else inset
        pieces.append(_run(leg, _start(legs, k, width, em), stop, em))
        if k + 1 < len(legs):
            low = legs[k + 1].ground + ROAD * em / 2 + wave(stop, em)
            pieces.append(_turn(pieces[-1][-1][3], low, 1.0 if leg.right else -1.0, em))
    return pieces


def _run(leg: Leg, start: float, stop: float, em: float) -> list[Cubic]:
    """One leg from x to x along the wave, level at both ends."""
    count = max(1, round(abs(stop - start) / (4 * em)))
    xs = [start + (stop - start) * k / count for k in range(count + 1)]
    points = [complex(x, leg.ground + ROAD * em / 2 + wave(x, em)) for x in xs]
    onward = complex(1.0 if leg.right else -1.0, 0)
    return spline([(points[0], onward), *free(points[1:-1]), (points[-1], onward)])


def _turn(start: complex, low: float, onward: float, em: float) -> list[Cubic]:
    """Round the end of a leg and down to the next."""
    reach = onward * (TURN - ROAD / 2 - 0.35) * em
    drop = min(2.4 * em, (low - start.imag) / 2)
    knots: list[Knot] = [
        (start, complex(onward, 0)),
        (start + complex(reach, drop), 1j),
        (complex(start.real + reach, low - drop), 1j),
        (complex(start.real, low), complex(-onward, 0)),
    ]
    return spline(knots)
