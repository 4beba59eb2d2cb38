"""Charts: the pain diary to fill in with a pen, the load of grips beside a half crimp, the strength of both hands."""

from __future__ import annotations

from fingerpost.draw.grips.grip import draw_icon
from fingerpost.draw.grips.small_grip import HIGH
from fingerpost.draw.pens.curves import hatch
from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import base_lines, block_height, width_of, wrap
from fingerpost.draw.pens.svg import (
    BLACK,
    FAINT,
    FINE,
    GREY,
    INK,
    MAIN,
    MM_PER_PT,
    TINT,
    WHITE,
    chain_data,
    disc,
    document,
    group,
    lines,
    path,
    words,
)  # fmt: skip
from fingerpost.plan.base.pictures import DiaryPicture, LoadPicture, LoadRow, StrengthPicture

EDGE = 0.8
WORST, STIFFEST, LEVEL = 10, 2, 4.0
"""Pain and stiffness at the worst; the least height of a level, mm."""
ICON, BAR = 13.0, 1.1
"""Width of a grip beside its bars, mm; height of a bar, as a share of the letters."""


def draw_sign_of_day(sign: int, centre: complex, r: float) -> str:
    """During: a ring. Next morning: a cross. Easy to write with a pen, different in shape."""
    if sign == 0:
        return disc(centre, r, fill=WHITE, stroke=BLACK, pen=1.2)
    arms = [(centre - r * z, centre + r * z) for z in (1 + 1j, 1 - 1j)]
    return lines(arms, pen=1.6)


def draw_diary(picture: DiaryPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """Columns are days, light lines are pain and below them stiffness; above the limit it is hatched lightly."""
    em = text_pt * MM_PER_PT
    left, right = EDGE + width_of("10", text_pt) + 0.8 * em, width_mm - EDGE
    column = (right - left) / len(picture.days)
    cell = max(LEVEL, 1.15 * em)
    legend, used = _legend(picture, left, EDGE, right - left, text_pt)
    top = EDGE + used + 0.5 * em
    low = top + WORST * cell
    stiff = low + 1.9 * em
    body = [group(legend, name=f"{prefix}-legend")]
    field = (left, right, column)
    pain = [*_above_limit(picture, left, right, top, cell), *_field(field, top, cell, WORST, text_pt)]
    limit = _limit(picture, left, right, low - picture.limit * cell, text_pt)
    body.append(group([*pain, *limit], name=f"{prefix}-grid"))
    marks = []
    for day, sign, level in picture.known:
        centre = complex(left + (day + (0.33, 0.67)[sign]) * column, low - level * cell)
        marks.append(draw_sign_of_day(sign, centre, min(0.34 * em, 0.2 * column)))
    body.append(group(marks, name=f"{prefix}-known"))
    name = words(picture.stiff_word, complex(left, stiff - 0.5 * em), size=text_pt, bold=True)
    body.append(group([name, *_field(field, stiff, cell, STIFFEST, text_pt)], name=f"{prefix}-stiff"))
    days, high = _days(picture, left, stiff + STIFFEST * cell, column, text_pt)
    body.append(group(days, name=f"{prefix}-days"))
    return document(picture.title, width_mm, stiff + STIFFEST * cell + high + EDGE, body)


def _field(field: tuple[float, float, float], top: float, cell: float, count: int, size: float) -> list[str]:
    """Where a pen marks: light lines for levels and days, a firm one for 0, every other level with its number."""
    left, right, column = field
    em, low = size * MM_PER_PT, top + count * cell
    levels = [(complex(left, low - k * cell), complex(right, low - k * cell)) for k in range(1, count + 1)]
    days = round((right - left) / column)
    sides = [(complex(left + k * column, top), complex(left + k * column, low)) for k in range(days + 1)]
    parts = [lines(levels, stroke=FAINT, pen=FINE), lines(sides, stroke=GREY, pen=FINE)]
    parts.append(lines([(complex(left, low), complex(right, low))], pen=1.3))
    named = range(0, count + 1, 2 if count > STIFFEST else 1)
    at = ((str(k), complex(left - 0.4 * em, low - k * cell + 0.34 * em)) for k in named)
    return parts + [words(level, place, size=size, anchor="end") for level, place in at]


def _above_limit(picture: DiaryPicture, left: float, right: float, top: float, cell: float) -> list[str]:
    limit = top + (WORST - picture.limit) * cell
    zone = [complex(left, top), complex(right, top), complex(right, limit), complex(left, limit)]
    return [lines(hatch(zone, 3.2, 45), stroke=FAINT, pen=0.5)]


def _limit(picture: DiaryPicture, left: float, right: float, y: float, size: float) -> list[str]:
    """The line, and its words on paper of their own above it."""
    em = size * MM_PER_PT
    parts = [lines([(complex(left, y), complex(right, y))], stroke=INK, pen=2.0)]
    if picture.limit_word:
        wide = width_of(picture.limit_word, size)
        ends = (right - wide - 0.9 * em, right - 0.3 * em)
        chip = [complex(x, y - up * em) for x, up in zip((*ends, *ends[::-1]), (1.25, 1.25, 0.15, 0.15), strict=True)]
        parts.append(path(chain_data(chip, True), fill=WHITE))
        parts.append(words(picture.limit_word, complex(right - 0.6 * em, y - 0.42 * em), size=size, anchor="end"))
    return parts


def _days(picture: DiaryPicture, left: float, low: float, column: float, size: float) -> tuple[list[str], float]:
    """Words under the columns, one below the other; those of every second day where they would touch."""
    em = size * MM_PER_PT
    named = [day.split() for day in picture.days]
    widest = max((width_of(word, size) for day in named for word in day), default=0.0)
    every = 1
    while widest + 0.3 * em > every * column and every < len(named):
        every += 1
    parts = []
    for k, day in enumerate(named):
        middle = left + (k + 0.5) * column
        if k % every == 0 and (every == 1 or middle + widest / 2 <= left + len(named) * column):
            heights = base_lines(low + 0.45 * em, len(day), size)
            places = [complex(middle, y) for y in heights]
            parts += [words(word, at, size=size, anchor="middle") for word, at in zip(day, places, strict=True)]
    return parts, 0.45 * em + block_height(max(map(len, named)), size)


def _legend(picture: DiaryPicture, left: float, top: float, room: float, size: float) -> tuple[list[str], float]:
    """The name of the field, and beside it what is marked with which sign; below, where there is no room."""
    em = size * MM_PER_PT
    parts = [words(picture.pain_word, complex(left, top + 0.84 * em), size=size, bold=True)]
    x, y = left + width_of(picture.pain_word, size, True) + 1.5 * em, top
    for sign, word in enumerate(picture.signs):
        wide = width_of(word, size) + 2.6 * em
        if x > left and x + wide > left + room:
            x, y = left, y + 1.5 * em
        parts.append(draw_sign_of_day(sign, complex(x + 0.5 * em, y + 0.52 * em), 0.36 * em))
        parts.append(words(word, complex(x + 1.3 * em, y + 0.84 * em), size=size))
        x += wide
    return parts, y - top + 1.15 * em


def draw_loads(picture: LoadPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """A grip a row: its picture, its name, and under it a bar for each pulley on one axis for all."""
    em = text_pt * MM_PER_PT
    text = EDGE + ICON + 0.7 * em
    left = text + max(width_of(pulley, text_pt) for pulley in picture.pulleys) + 0.5 * em
    most = max(value for row in picture.rows for load in row.loads for value in load)
    unit = (width_mm - EDGE - left - 0.3 * em) / max(most, *(level for level, _ in picture.levels))
    y, body = EDGE, []
    for k, row in enumerate(picture.rows, 1):
        parts, used = _loaded(row, picture.pulleys, complex(text, y), left, unit, width_mm, text_pt)
        high = max(HIGH * ICON, used)
        icon = draw_icon(row.grip, complex(EDGE, y + (high - HIGH * ICON) / 2), ICON, f"{prefix}-icon-{k}")
        body.append(group([*icon, *parts], name=f"{prefix}-row-{k}"))
        y += high + 0.75 * em
    axis, used = _axis(picture.levels, left, unit, y - 0.4 * em, width_mm, text_pt)
    return document(picture.title, width_mm, y + used + EDGE, [group(axis, name=f"{prefix}-axis"), *body])


def _axis(
    levels: tuple[tuple[float, str], ...], left: float, unit: float, low: float, width: float, size: float
) -> tuple[list[str], float]:
    """A line through all rows at each level, dashed where it is not the first, and under it what it means."""
    em = size * MM_PER_PT
    parts, bottom = [], 0.0
    places = [left + unit * level for level, _ in levels]
    for k, ((_, said), x) in enumerate(zip(levels, places, strict=True)):
        dash = "1.4 0.9" if k else ""
        parts.append(lines([(complex(x, EDGE), complex(x, low))], stroke=BLACK, pen=FINE, dash=dash))
        beside = [abs(x - other) for other in places if other != x]
        room = min([*(0.94 * gap for gap in beside), 2 * (width - EDGE - x) if k else 2 * unit])
        said_lines = wrap(said, room, size)
        wide = max(width_of(line, size) for line in said_lines)
        start = max(EDGE, x - wide / 2)
        box = Extent(left=start, right=start + wide, top=low + 0.3 * em, bottom=low)
        parts.append(draw_block(said_lines, box, size, anchor="middle"))
        bottom = max(bottom, block_height(len(said_lines), size) + 0.3 * em)
    return parts, bottom


def _loaded(
    row: LoadRow, pulleys: tuple[str, ...], corner: complex, left: float, unit: float, width: float, size: float
) -> tuple[list[str], float]:
    """The name, and for each pulley its own name, a bar, and a whisker over what was measured."""
    em = size * MM_PER_PT
    name = wrap(row.name, width - EDGE - corner.real, size, True)
    box = Extent(left=corner.real, right=width, top=corner.imag, bottom=corner.imag)
    wide = max(width_of(line, size, True) for line in name)
    high = block_height(len(name), size)
    ends = (corner, corner + wide, corner + complex(wide, high), corner + 1j * high)
    parts = [path(chain_data(ends, True), fill=WHITE), draw_block(name, box, size, bold=True)]
    y = corner.imag + high + 0.35 * em
    for k, (pulley, (typical, least, most)) in enumerate(zip(pulleys, row.loads, strict=True)):
        end, low = left + max(0.3, typical * unit), y + BAR * em
        bar = chain_data([complex(left, y), complex(end, y), complex(end, low), complex(left, low)], True)
        parts.append(words(pulley, complex(corner.real, (y + low) / 2 + 0.35 * em), size=size))
        parts.append(path(bar, fill=WHITE if k % 2 else TINT, stroke=BLACK, pen=MAIN))
        if least < most:
            parts += _whisker(left + least * unit, left + most * unit, (y + low) / 2, 0.24 * em)
        y = low + 0.25 * em
    return parts, y - 0.25 * em - corner.imag


def _whisker(start: float, stop: float, y: float, tick: float) -> list[str]:
    """From the least to the most that was measured, with ends."""
    strokes = [(complex(start, y), complex(stop, y))]
    strokes += [(complex(x, y - tick), complex(x, y + tick)) for x in (start, stop)]
    return [lines(strokes, stroke=INK, pen=1.4)]


def _hatched_bar(left: float, right: float, top: float, high: float) -> list[str]:
    bar = [complex(left, top), complex(right, top), complex(right, top + high), complex(left, top + high)]
    data = chain_data(bar, True)
    return [path(data, fill=TINT), lines(hatch(bar, 1.1, 45), stroke=INK, pen=0.75), path(data, stroke=BLACK, pen=MAIN)]


def draw_strength(picture: StrengthPicture, *, prefix: str, width_mm: float, text_pt: float) -> str:
    """A bar for each hand, between its name and how much it pulls; the goal as a dashed line through all."""
    em = text_pt * MM_PER_PT
    names = [wrap(name, 0.34 * width_mm, text_pt) for name, _, _ in picture.rows]
    left = EDGE + max((width_of(line, text_pt) for name in names for line in name), default=0.0) + 0.6 * em
    said = max((width_of(said, text_pt, True) for _, _, said in picture.rows), default=0.0)
    room = width_mm - EDGE - left - said - 1.1 * em
    most = max([0.1, *(pulled for _, pulled, _ in picture.rows), picture.goal or 0.0])
    goal = left + room * picture.goal / most if picture.goal else None
    foot = wrap(picture.goal_said, width_mm - 2 * EDGE, text_pt, True) if goal else []
    top = y = EDGE + block_height(len(foot), text_pt) + (0.25 * em if foot else 0.0)
    bars: list[str] = []
    for k, (name, (_, pulled, words_of)) in enumerate(zip(names, picture.rows, strict=True)):
        high = max(1.3 * em, block_height(len(name), text_pt))
        end = left + max(0.3, room * pulled / most)
        parts = _hatched_bar(left, end, y + (high - 1.3 * em) / 2, 1.3 * em)
        middle = y + high / 2
        half = block_height(len(name), text_pt) / 2
        box = Extent(left=EDGE, right=left - 0.6 * em, top=middle - half, bottom=middle + half)
        parts.append(draw_block(name, box, text_pt))
        x = end + 0.5 * em
        if goal and end - 0.2 * em <= goal <= x + width_of(words_of, text_pt, True) + 0.3 * em:
            x = max(x, goal + 0.5 * em)
        parts.append(words(words_of, complex(x, middle + 0.36 * em), size=text_pt, bold=True))
        bars.append(group(parts, name=f"{prefix}-row-{k + 1}"))
        y += high + 0.5 * em
    if goal:
        bars.append(group(_goal(goal, top, y - 0.3 * em, foot, width_mm, text_pt), name=f"{prefix}-goal"))
    return document(picture.title, width_mm, y - 0.2 * em + EDGE, bars)


def _goal(x: float, top: float, low: float, said: list[str], width: float, size: float) -> list[str]:
    """The line to reach, white behind it where it runs over a bar, and its words above."""
    em = size * MM_PER_PT
    line = [(complex(x, top - 0.2 * em), complex(x, low))]
    wide = max((width_of(text, size, True) for text in said), default=0.0)
    start = max(EDGE, min(x - wide / 2, width - EDGE - wide))
    box = Extent(left=start, right=start + wide, top=EDGE, bottom=top)
    return [
        lines(line, stroke=WHITE, pen=3.2),
        lines(line, pen=1.6, dash="1.3 0.8"),
        draw_block(said, box, size, bold=True),
    ]
