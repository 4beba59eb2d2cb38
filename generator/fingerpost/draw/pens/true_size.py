"""Drawings at true size: strips to lay tape on and cut, and a ruler. One mm here is one mm on paper, in any room."""

from __future__ import annotations

from fingerpost.draw.pens.letters import DROP, LINE, RISE
from fingerpost.draw.pens.strips import flat_strip, measure, scissors
from fingerpost.draw.pens.svg import (
    BLACK,
    FINE,
    MAIN,
    MM_PER_PT,
    WHITE,
    chain_data,
    document,
    group,
    lines,
    path,
    words,
)
from fingerpost.plan.base.pictures import RulerPicture, StripPicture

LEFT = 0.95
"""Room left of a strip for the handles of the scissors, in letter heights."""
WIDTH_AT = 3.0
"""The measure of the width stands so far inside a strip that is not slit, in letter heights: beside a long one there is
no room, and no shorter strip ends there. It stays off both edges, or it looks like a line to cut along."""
BEYOND = 1.6
"""A cut line reaches so far (mm) beyond the tape that lies on the strip, or nobody sees where to cut."""


def draw_strips(picture: StripPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """The longest strip with a cut line for each shorter one; as wide as it must be, however wide the room."""
    wide = _check_room(picture, width_mm, text_pt)
    em = text_pt * MM_PER_PT
    names = {length: _name(picture, length) for length, _ in picture.strips}
    longest, *shorter = sorted(names, reverse=True)
    row = 1.75 * em
    left, top = LEFT * em, 0.6 + row * (len(shorter) + bool(picture.bridge_mm)) + BEYOND
    low = top + picture.width_mm
    middle = complex(left, (top + low) / 2)
    slit = (longest - picture.bridge_mm) / 2 if picture.bridge_mm else 0.0
    if slit:
        parts = [flat_strip(middle, longest, picture.width_mm, slit=slit)]
    else:
        corners = [complex(left, top), complex(left + longest, top), complex(left + longest, low), complex(left, low)]
        parts = [path(chain_data(corners, True), fill=WHITE, stroke=BLACK, pen=MAIN)]
    for k, length in enumerate(shorter):
        x, y = left + length, top - BEYOND - 0.45 * em - row * (len(shorter) - 1 - k)
        parts.append(lines([(complex(x, top), complex(x, low))], pen=1.2, dash="1.6 1.2"))
        parts.append(lines([(complex(x, y), complex(x, top)), (complex(x, low), complex(x, low + BEYOND))], pen=FINE))
        parts.append(measure(complex(left, y), complex(x, y), names[length], text_pt, below=False))
    if slit and picture.bridge_mm:
        y = 0.6 + row - 0.45 * em
        said = f"{picture.bridge_mm} mm {picture.bridge_word}".strip()
        a = complex(left + slit, y)
        parts.append(measure(a, a + picture.bridge_mm, said, text_pt, below=False))
    if slit:
        parts.append(scissors(middle + 0.8 * em, em))
    foot = low + BEYOND + 0.45 * em
    parts.append(measure(complex(left, foot), complex(left + longest, foot), names[longest], text_pt))
    parts += _width_measure(picture, complex(left, top), longest, text_pt)
    return document(picture.title, wide, foot + 1.5 * em, [group(parts, name=f"{prefix}-strip")])


def _check_room(picture: StripPicture | RulerPicture, room: float, size: float) -> float:
    needed = picture.needed_mm(size)
    if needed > room + 0.05:
        raise ValueError(f"a drawing at true size needs {needed:g} mm at {size:g} points, and has {room:g} mm")
    return needed


def _name(picture: StripPicture, length: int) -> str:
    letters = [letter for long, letter in picture.strips if long == length and letter]
    return f"{', '.join(letters)}: {length} mm" if letters else f"{length} mm"


def _width_measure(picture: StripPicture, corner: complex, longest: int, size: float) -> list[str]:
    """The width across the strip; at the end of one that is slit, number above unit, because there is little room."""
    em = size * MM_PER_PT
    if not picture.bridge_mm:
        top = corner + WIDTH_AT * em + 0.15j * picture.width_mm
        low, wing = top + 0.7j * picture.width_mm, 0.28 * em
        tips = [
            chain_data([at + wing * complex(1, way), at, at + wing * complex(-1, way)])
            for at, way in ((top, 1), (low, -1))
        ]
        said = words(f"{picture.width_mm} mm", (top + low) / 2 + complex(0.6 * em, 0.33 * em), size=size)
        return [path(chain_data([top, low]) + "".join(tips), stroke=BLACK, pen=FINE), said]
    top = corner + longest + 0.5 * em
    x, low = 0.55 * em, top + 1j * picture.width_mm
    tick = 0.3 * em
    data = "".join(chain_data([at - tick, at + tick]) for at in (top, low)) + chain_data([top, low])
    first = (top + low) / 2 + complex(x, (RISE - (LINE + RISE + DROP) / 2) * em)
    return [
        path(data, stroke=BLACK, pen=FINE),
        words(str(picture.width_mm), first, size=size),
        words("mm", first + 1j * LINE * em, size=size),
    ]


def draw_ruler(picture: RulerPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """A line with a tick every 10 mm, longer ones at its ends, and its length in words below."""
    wide = _check_room(picture, width_mm, text_pt)
    em = text_pt * MM_PER_PT
    start = complex((wide - picture.length_mm) / 2, 1.4)
    stop = start + picture.length_mm
    ticks = [(start + k - 0.7j, start + k + 0.7j) for k in range(10, picture.length_mm, 10)]
    ends = [(at - 1.2j, at + 1.2j) for at in (start, stop)]
    said = words(f"{picture.length_mm} mm", complex(wide / 2, 2.8 + 0.95 * em), size=text_pt, anchor="middle")
    parts = [lines([(start, stop), *ticks, *ends], pen=FINE), said]
    return document(picture.title, wide, 2.8 + 1.3 * em, [group(parts, name=f"{prefix}-ruler")])
