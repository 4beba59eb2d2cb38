"""Words beside a drawing, tied to it by leader lines: placed so that nothing collides. Millimetres on paper, y down."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from fingerpost.draw.pens.curves import meet
from fingerpost.draw.pens.letters import base_lines, block_height, width_of, wrap
from fingerpost.draw.pens.svg import BLACK, FINE, WHITE, chain_data, disc, path, words

GAP = 1.6
"""Least distance (mm) between a label and anything else."""
LEADER_GAP = 0.7
Where = Literal["left", "right", "above", "below"]


@dataclass(frozen=True, kw_only=True)
class Extent:
    left: float
    top: float
    right: float
    bottom: float

    def touches(self, other: Extent, gap: float = 0.0) -> bool:
        apart = self.right + gap <= other.left or other.right + gap <= self.left
        return not (apart or self.bottom + gap <= other.top or other.bottom + gap <= self.top)

    @property
    def corners(self) -> list[complex]:
        """Two opposite corners: enough for a silhouette."""
        return [complex(self.left, self.top), complex(self.right, self.bottom)]


def around(points: Sequence[complex], boxes: Sequence[Extent] = ()) -> Extent:
    """The smallest box that holds all points and boxes."""
    every = [*points, *(corner for box in boxes for corner in box.corners)]
    xs, ys = [p.real for p in every], [p.imag for p in every]
    return Extent(left=min(xs), right=max(xs), top=min(ys), bottom=max(ys))


@dataclass(frozen=True, kw_only=True)
class Callout:
    """What to write, the point it speaks of, and on which side of the drawing it stands."""

    text: str
    target: complex
    where: Where


@dataclass(frozen=True, kw_only=True)
class Label:
    """A callout with its place: lines of text, the box around them, size in points."""

    lines: tuple[str, ...]
    box: Extent
    target: complex
    where: Where
    size: float

    @property
    def start(self) -> complex:
        """Where the leader line leaves the words."""
        mid = complex((self.box.left + self.box.right) / 2, (self.box.top + self.box.bottom) / 2)
        return {
            "left": complex(self.box.right + LEADER_GAP, mid.imag),
            "right": complex(self.box.left - LEADER_GAP, mid.imag),
            "above": complex(mid.real, self.box.bottom + LEADER_GAP * 0.6),
            "below": complex(mid.real, self.box.top - LEADER_GAP * 0.6),
        }[self.where]


class Silhouette:
    """The outer edges of a drawing, so that words can stand close to it. Shapes are chains of points."""

    def __init__(self, shapes: Sequence[Sequence[complex]]) -> None:
        self._shapes = shapes

    def edges(self, top: float, bottom: float) -> tuple[float, float] | None:
        """The leftmost and rightmost x between two heights; None where nothing is drawn."""
        xs = [p.real for a, b in self._pairs() if _overlap(a.imag, b.imag, top, bottom) for p in (a, b)]
        return (min(xs), max(xs)) if xs else None

    def levels(self, left: float, right: float) -> tuple[float, float] | None:
        """The uppermost and lowest y between two x; None where nothing is drawn."""
        ys = [p.imag for a, b in self._pairs() if _overlap(a.real, b.real, left, right) for p in (a, b)]
        return (min(ys), max(ys)) if ys else None

    def _pairs(self) -> list[tuple[complex, complex]]:
        return [pair for shape in self._shapes for pair in pairwise(shape)]


def _overlap(a: float, b: float, low: float, high: float) -> bool:
    return max(a, b) >= low and min(a, b) <= high


def place_labels(callouts: Sequence[Callout], silhouette: Silhouette, width: float, size: float) -> list[Label]:
    """Labels about `width` mm wide at `size` points, each beside the drawing close to its target.

    A word that is wider gets up to twice that width before it is broken.
    """
    longest = max((width_of(word, size) for c in callouts for word in c.text.split()), default=0.0)
    width = max(width, min(longest + 0.1, 2 * width))
    labels: list[Label] = []
    for where in ("left", "right", "above", "below"):
        flat = where in ("above", "below")
        side = [callout for callout in callouts if callout.where == where]
        side.sort(key=lambda c: (c.target.real, c.target.imag) if flat else (c.target.imag, c.target.real))
        labels += _untangled(side, silhouette, width, size)
    return labels


def _untangled(side: list[Callout], silhouette: Silhouette, width: float, size: float) -> list[Label]:
    """Labels of one side in an order in which no two leader lines cross."""
    labels = _set_side(side, silhouette, width, size)
    for _ in range(len(side) ** 2):
        pairs = ((i, j) for i in range(len(labels)) for j in range(i))
        pair = next((p for p in pairs if _crossing(labels[p[0]], labels[p[1]])), None)
        if pair is None:
            break
        side[pair[0]], side[pair[1]] = side[pair[1]], side[pair[0]]
        labels = _set_side(side, silhouette, width, size)
    return labels


def _crossing(a: Label, b: Label) -> bool:
    return meet(a.start, a.target, b.start, b.target) is not None


def _set_side(side: Sequence[Callout], silhouette: Silhouette, width: float, size: float) -> list[Label]:
    if not side:
        return []
    return (_set_row if side[0].where in ("above", "below") else _set_column)(side, silhouette, width, size)


def _set_column(side: Sequence[Callout], silhouette: Silhouette, width: float, size: float) -> list[Label]:
    """Labels in the given order from top to bottom, pushed apart as little as possible."""
    blocks = [wrap(callout.text, width, size) for callout in side]
    heights = [block_height(len(lines), size) for lines in blocks]
    tops = spread_out([c.target.imag - h / 2 for c, h in zip(side, heights, strict=True)], heights, GAP)
    labels = []
    for callout, lines, height, top in zip(side, blocks, heights, tops, strict=True):
        wide = max(width_of(line, size) for line in lines)
        edges = silhouette.edges(top - GAP, top + height + GAP) or (callout.target.real - 4, callout.target.real + 4)
        left = edges[0] - 2.6 - wide if callout.where == "left" else edges[1] + 2.6
        box = Extent(left=left, top=top, right=left + wide, bottom=top + height)
        labels.append(_label(callout, lines, box, size))
    return labels


def _set_row(side: Sequence[Callout], silhouette: Silhouette, width: float, size: float) -> list[Label]:
    """Labels in the given order from left to right."""
    blocks = [wrap(callout.text, width, size) for callout in side]
    widths = [max(width_of(line, size) for line in lines) for lines in blocks]
    lefts = spread_out([c.target.real - w / 2 for c, w in zip(side, widths, strict=True)], widths, GAP * 1.6)
    labels = []
    for callout, lines, wide, left in zip(side, blocks, widths, lefts, strict=True):
        high = block_height(len(lines), size)
        levels = silhouette.levels(left - GAP, left + wide + GAP) or (callout.target.imag - 4, callout.target.imag + 4)
        top = levels[0] - 2.4 - high if callout.where == "above" else levels[1] + 2.4
        box = Extent(left=left, top=top, right=left + wide, bottom=top + high)
        labels.append(_label(callout, lines, box, size))
    return labels


def _label(callout: Callout, lines: Sequence[str], box: Extent, size: float) -> Label:
    return Label(lines=tuple(lines), box=box, target=callout.target, where=callout.where, size=size)


def spread_out(starts: Sequence[float], lengths: Sequence[float], gap: float) -> list[float]:
    """Starts of stretches in this order, moved as little as possible (least squares) so that they lie `gap` apart."""
    shifts: list[float] = []
    total = 0.0
    for length in lengths:
        shifts.append(total)
        total += length + gap
    pools: list[tuple[float, int]] = []
    for start, shift in zip(starts, shifts, strict=True):
        pools.append((start - shift, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (b, n), (a, m) = pools.pop(), pools.pop()
            pools.append(((a * m + b * n) / (m + n), m + n))
    flat = [value for value, count in pools for _ in range(count)]
    return [value + shift for value, shift in zip(flat, shifts, strict=True)]


def draw_label(label: Label) -> str:
    """Leader line with a dot at its end, then the words."""
    data = chain_data([label.start, label.target])
    halo, line = path(data, stroke=WHITE, pen=2.6), path(data, stroke=BLACK, pen=FINE)
    anchors = {"left": "end", "right": "start", "above": "middle", "below": "middle"}
    text = draw_block(label.lines, label.box, label.size, anchor=anchors[label.where])
    return halo + line + disc(label.target, 0.62) + text


def draw_block(
    lines: Sequence[str], box: Extent, size: float, *, anchor: str = "start", bold: bool = False, fill: str = BLACK
) -> str:  # fmt: skip
    """Lines of text in a box."""
    x = {"start": box.left, "end": box.right, "middle": (box.left + box.right) / 2}[anchor]
    heights = base_lines(box.top, len(lines), size)
    return "".join(
        words(line, complex(x, y), size=size, anchor=anchor, bold=bold, fill=fill)
        for line, y in zip(lines, heights, strict=True)
    )


def text_box(lines: Sequence[str], centre: complex, size: float, bold: bool = False) -> Extent:
    """The box of lines centred on a point."""
    half = complex(max(width_of(line, size, bold) for line in lines), block_height(len(lines), size)) / 2
    first, last = centre - half, centre + half
    return Extent(left=first.real, right=last.real, top=first.imag, bottom=last.imag)
