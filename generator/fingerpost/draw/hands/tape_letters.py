"""Letters beside the pieces of a taping, so that each is found again on the strips at true size. mm on paper."""

from __future__ import annotations

from collections.abc import Sequence

from fingerpost.draw.bodies.fingers import Hand4
from fingerpost.draw.hands.tape import Band
from fingerpost.draw.pens.labels import Extent, Label, Where, draw_block, spread_out
from fingerpost.draw.pens.letters import block_height, width_of
from fingerpost.draw.pens.svg import BLACK, FINE, Position, chain_data, path
from fingerpost.plan.base.pictures import TapeMark

AWAY = 2.0
"""How far (mm) a letter stands from the outermost finger."""


def place_letters(pieces: Sequence[Band], tape: TapeMark, fingers: Hand4, place: Position, size: float) -> list[Label]:
    """Beside the fingers, on the side of the thumb only where nothing but the thumb is there."""
    lettered = list(zip(pieces, tape.letters, strict=False))
    pair = {tape.finger, tape.partner}
    thumb_side = "index" in pair or pair == {"middle", None}
    where: Where = "left" if thumb_side == place.flip else "right"
    out = -1 if where == "left" else 1
    targets = []
    for piece, _ in lettered:
        first, second = sorted(place.points(piece.area), key=lambda p: -out * p.real)[:2]
        targets.append((first + second) / 2)
    high = block_height(1, size)
    order = sorted(range(len(targets)), key=lambda k: targets[k].imag)
    tops = spread_out([targets[k].imag - high / 2 for k in order], [high] * len(order), 0.4)
    labels = []
    for k, top in zip(order, tops, strict=True):
        letter, wide = lettered[k][1], width_of(lettered[k][1], size, True)
        edge = _outermost(fingers, place, (top, top + high), out, targets[k].real) + out * AWAY
        left = edge if out > 0 else edge - wide
        box = Extent(left=left, right=left + wide, top=top, bottom=top + high)
        labels.append(Label(lines=(letter,), box=box, target=targets[k], where=where, size=size))
    return labels


def _outermost(fingers: Hand4, place: Position, rows: tuple[float, float], out: int, least: float) -> float:
    """The x of the outermost finger between two heights; the thumb is none."""
    found = least
    for line in fingers.values():
        for a in range(0, int(line.total), 2):
            for side in (-1, 1):
                point = place.at(line.at(a, side * line.half(a)))
                if rows[0] <= point.imag <= rows[1]:
                    found = max(found, point.real, key=lambda x: out * x)
    return found


def draw_letter(label: Label) -> str:
    """A line without a dot, which would hide the tape, and the letter in bold."""
    line = path(chain_data([label.start, label.target]), stroke=BLACK, pen=FINE)
    anchor = "end" if label.where == "left" else "start"
    return line + draw_block(label.lines, label.box, label.size, anchor=anchor, bold=True)
