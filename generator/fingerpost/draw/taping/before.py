"""What comes before the tape lies on a finger: rings off and clean skin, the strips cut, an H slit."""

from __future__ import annotations

from fingerpost.draw.pens.curves import ellipse, free, ring, sample
from fingerpost.draw.pens.letters import width_of
from fingerpost.draw.pens.strips import flat_strip, measure, scissors
from fingerpost.draw.pens.svg import (
    BLACK,
    INK,
    MAIN,
    STUFF,
    TINT,
    WHITE,
    Position,
    chain_data,
    curve_data,
    lines,
    path,
    words,
)  # fmt: skip
from fingerpost.draw.props.signs import Arrow
from fingerpost.draw.props.stage import Drawn, Thing
from fingerpost.draw.taping.room import Fingers, StepRoom, turned_over

BRIDGE_MM = 10
"""Uncut middle of an H-strip (Schoeffl et al. 2007, read second hand)."""
LIKE_MM = (110, 15)
"""The shape of a strip that nobody has measured."""
NUMBER_EM = 2.1
"""How wide the number of a step is at the most, in ems of the letters in its drawing."""
LETTERS = ("A", "B")
"""What the strips for two fingers are called, from the palm to the tip."""


def wash(room: StepRoom) -> list[str]:
    """Water runs over the whole hand; a ring comes off the sore finger."""
    fingers = room.fingers
    line = fingers[room.picture.finger]
    tip = line.at(line.total)
    # The tap stands above the finger farthest from the ring.
    other = "little" if tip.real > 0 else "index"
    spout = complex(fingers[other].at(fingers[other].total).real + (4 if other == "index" else -2), 214)  # type: ignore[index]
    sore = room.picture.finger
    things: list[Thing] = [Fingers(room.spreads, sore), _tap(spout, 1 if other == "index" else -1), _drops(room, spout)]
    gold = tip + 9j
    if room.picture.kind != "splint":
        things += [_jewel(gold), Arrow((gold + 14j, gold + 22j, gold + 34j))]
    return room.show(turned_over(things))


def _jewel(centre: complex) -> Thing:
    """A finger ring with a stone."""
    outer, inner = (sample(ellipse(centre, 1 + 0j, half, 0.5 * half), 6) for half in (10.5, 7.6))
    stone = [centre + w for w in (-3 - 5j, -4.5 - 8j, -2.5 - 10.5j, 2.5 - 10.5j, 4.5 - 8j, 3 - 5j)]

    def paint(place: Position) -> str:
        rim = path(chain_data(place.points(outer), True), fill=STUFF, stroke=BLACK, pen=MAIN)
        hole = path(chain_data(place.points(inner), True), fill=WHITE, stroke=BLACK, pen=MAIN)
        return rim + hole + path(chain_data(place.points(stone), True), fill=WHITE, stroke=BLACK, pen=MAIN)

    return Drawn(paint, (*outer, *stone))


def _tap(spout: complex, way: int) -> Thing:
    """A water tap whose mouth is at `spout`."""
    rows = ((-6, 0), (6, 0), (6, 10), (34, 10), (34, 22), (-6, 22))
    shape = [spout + complex(way * x, y) for x, y in rows]
    knob = [
        spout + complex(way * x, y)
        for x, y in ((12, 22), (12, 29), (4, 29), (4, 33), (26, 33), (26, 29), (18, 29), (18, 22))
    ]

    def paint(place: Position) -> str:
        return "".join(
            path(chain_data(place.points(part), True), fill=STUFF, stroke=BLACK, pen=MAIN) for part in (knob, shape)
        )

    return Drawn(paint, (*shape, *knob))


def _drops(room: StepRoom, spout: complex) -> Thing:
    """From the tap, and over every finger and the palm."""
    spots = [spout + w for w in (-9j, -4 - 20j, 5 - 27j)]
    for name, line in room.fingers.items():
        shares = (0.34, 0.66) if name == room.picture.finger else (0.30, 0.58, 0.88)
        spots += [line.at(share * line.total, 3 if k % 2 else -3) for k, share in enumerate(shares)]
    spots += [28 + 76j, 2 + 74j, -24 + 70j, 44 + 84j]

    def paint(place: Position) -> str:
        parts = []
        for at in spots:
            shape = ring(free([at + w for w in (6j, -2.6 - 1j, -2.2 - 3.6j, 2.2 - 3.6j, 2.6 - 1j)]))
            parts.append(path(curve_data(place.curve(shape), True), fill=TINT, stroke=INK, pen=0.9))
        return "".join(parts)

    return Drawn(paint, tuple(spots))


BELOW_EM = 2.2
"""How much room a strip's length takes below it, in letters."""


def cut(room: StepRoom) -> list[str]:
    """Each strip with its measures, true in its proportions, and scissors at its end."""
    p, em = room.picture, room.em
    # In large print the number of the step is larger than its free space, and would lie on the first letter.
    inset = max(room.inset, NUMBER_EM * em) if room.inset else 0.0
    strips = p.strips or tuple((*LIKE_MM, letter) for letter in (LETTERS if p.partner else ("",)))
    longest = max(length for length, _, _ in strips)
    said = p.strips and not p.small
    beside = max(width_of(f"{width} mm", room.size) for _, width, _ in strips) + 1.3 * em if said else 2.4 * em
    before = 1.2 * em if any(letter for *_, letter in strips) else 0.6
    scale = (room.width - inset - 2 - before - beside) / longest
    parts, tall = [], (room.height - 1.0) / len(strips)
    for number, (length, width, letter) in enumerate(strips):
        thick, left = max(width * scale, 3.0), inset + 1.0 + before
        y = 0.5 + tall * (number + 0.5) - (0.35 * em if said else 0)
        if p.kind == "h-strip":
            y += 0.4 * em
        if said:
            y = min(y, room.height - thick / 2 - BELOW_EM * em)
        long = length * scale
        parts.append(flat_strip(complex(left, y), long, thick))
        parts.append(words(letter, complex(inset + 0.6, y + 0.35 * em), size=room.size, bold=True))
        end = complex(left + long, y)
        if said:
            high = (end + 0.55 * em - 0.5j * thick, end + 0.55 * em + 0.5j * thick)
            parts.append(measure(*high, f"{width} mm", room.size))
            low = 1j * (thick / 2 + 0.65 * em)
            parts.append(measure(complex(left, y) + low, end + low, f"{length} mm", room.size))
        if not number:
            parts.append(_snip(end - 0.5j * thick, 0.7 * em))
        if p.kind == "h-strip":
            parts.append(_bridge(room, complex(left + long / 2, y), BRIDGE_MM * long / length, thick))
    return parts


def _snip(tip: complex, em: float) -> str:
    """Scissors that cut across, from above."""
    parts = []
    for side in (1, -1):
        blade = [tip + em * w for w in (complex(0.1 * side, 1.4), complex(0.0, 0.0), complex(0.5 * side, -1.0))]
        parts.append(path(chain_data(blade), stroke=BLACK, pen=1.2))
        grip = sample(ellipse(tip + em * complex(0.62 * side, -1.35), 1 + 0j, 0.42 * em, 0.42 * em), 4)
        parts.append(path(chain_data(grip, True), fill=WHITE, stroke=BLACK, pen=1.0))
    return "".join(parts)


def _bridge(room: StepRoom, middle: complex, wide: float, thick: float) -> str:
    """Two pen lines across the middle of a strip, and how far apart they are."""
    a, b = middle - wide / 2, middle + wide / 2
    half = 0.5j * thick
    area = path(chain_data([a - half, b - half, b + half, a + half], True), fill=TINT, stroke=INK, pen=1.2)
    high = -1j * (thick / 2 + 0.5 * room.em)
    said = not room.picture.small
    return area + (measure(a + high, b + high, f"{BRIDGE_MM} mm", room.size, below=False) if said else "")


def slit(room: StepRoom) -> list[str]:
    """The strip, large: two cuts along its middle, up to the bridge; the four tails stand apart."""
    wide, tall = room.width - room.inset - 3, min(0.34 * room.width, 0.5 * room.height)
    left, middle = room.inset + 1.5, complex((room.width + room.inset) / 2, room.height / 2)
    bridge, gap = 0.14 * wide, 0.11 * tall
    half = tall / 2
    parts = []
    for out in (-1, 1):
        end, root = middle + out * wide / 2, middle + out * bridge / 2
        slot = [end - 1j * gap * 2.0, root, end + 1j * gap * 2.0]
        upper = [middle - 1j * half, root - 1j * half, end - 1j * (half + gap), slot[0], slot[1]]
        lower = [slot[1], slot[2], end + 1j * (half + gap), root + 1j * half, middle + 1j * half]
        shape = [*upper, *lower]
        parts.append(path(chain_data(shape, True), fill=WHITE))
        parts.append(path(chain_data(shape), stroke=BLACK, pen=MAIN))
        for side in (-1, 1):
            rows = [(root + 1j * side * half * k, end + 1j * side * (2.0 * gap + (half - gap) * k)) for k in (0.4, 0.7)]
            parts.append(lines(rows, pen=0.5))
    corners = [middle + complex(x * bridge / 2, y * half) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    parts.append(path(chain_data(corners, True), fill=TINT, stroke=INK, pen=1.2))
    parts.append(scissors(complex(left + 0.24 * wide, middle.imag), 1.15 * room.em))
    return parts
