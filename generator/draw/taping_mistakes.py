"""The frame of common mistakes: a small drawing for each, struck out, with its words."""

from __future__ import annotations

from generator.draw.curves import hatch
from generator.draw.fingers import spreads_for
from generator.draw.hand import draw_band
from generator.draw.hand_crop import HandCrop
from generator.draw.labels import Box, draw_block
from generator.draw.letters import block_height, wrap
from generator.draw.lone_finger import LoneFinger
from generator.draw.marks import draw_sign
from generator.draw.svg import BLACK, chain_data, lines, path
from generator.draw.tape import Band, buddy, h_strip, wrap_round
from generator.draw.taping_steps import Drawn, Step
from generator.model.words import FINGERS, Finger
from generator.plan.pictures import TAPING_MISTAKES, Mistake

_CELL = 30.0
"""A mistake gets a column of its own where there is this much room (mm), else a row."""


def draw_mistakes(step: Step) -> Drawn:
    mistakes = TAPING_MISTAKES[step.picture.kind]
    columns = len(mistakes) if step.width >= _CELL * len(mistakes) else 1
    parts: list[str] = []
    top = lowest = 0.5
    cell = step.width / columns
    for k, mistake in enumerate(mistakes):
        note = step.picture.notes[k] if k < len(step.picture.notes) else ""
        corner = complex((k % columns) * cell, top if columns == 1 else 0.5)
        drawn, used = _one(step, mistake, note, corner, cell, beside=columns == 1)
        parts += drawn
        lowest = max(lowest, corner.imag + used)
        top = lowest + 1.5
    return parts, lowest


def _one(step: Step, mistake: Mistake, note: str, corner: complex, cell: float, *, beside: bool) -> Drawn:
    """One mistake in a cell; its words below, or beside where the cell is a row."""
    room = 0.36 * cell if beside else cell - 3
    tall = 30.0 if beside else min(34.0, 1.15 * room)
    picture = (
        _fingers(step, corner, room, tall) if mistake == "wrong-finger" else _finger(step, mistake, corner, room, tall)
    )
    sign = draw_sign("leave", corner + complex(0.9 * step.em + 0.3, 0.9 * step.em + 0.3), 0.85 * step.em)
    wide = cell - room - 3 if beside else cell - 2.5
    text = wrap(note, wide, step.size) if note else []
    high = block_height(len(text), step.size)
    left, top = (corner.real + room + 2, corner.imag + 4) if beside else (corner.real + 1, corner.imag + tall + 1.5)
    box = Box(left=left, right=left + wide, top=top, bottom=top + high)
    used = max(tall, high + 5) if beside else tall + 1.5 + high
    return [*picture, sign, draw_block(text, box, step.size)], used


def _finger(step: Step, mistake: Mistake, corner: complex, room: float, tall: float) -> list[str]:
    line = step.crop().fingers[step.picture.finger]
    scale = (tall - 4.0) / (line.total - 2)
    middle = corner + complex(room / 2 + 1, 2.6 + scale * (line.l2 + line.l3))
    finger = LoneFinger(step.picture.finger, step.picture.hand, middle, scale)
    parts = [finger.draw()]
    if mistake == "too-tight":
        parts += _dark_tip(finger)
    parts += [draw_band(piece, finger.place) for piece in _wrong_bands(mistake, finger)]
    return parts


def _wrong_bands(mistake: Mistake, finger: LoneFinger) -> list[Band]:
    line = finger.line
    if mistake == "over-joint":
        return [wrap_round(line, line.l1 - 7, line.l1 + 7)]
    if mistake == "too-low":
        return [wrap_round(line, 0.36 * line.l1, 0.36 * line.l1 + 11)]
    if mistake == "cut-bridge":
        return h_strip(line)[1:]
    return [wrap_round(line, line.l1 - 16, line.l1 - 5)]


def _dark_tip(finger: LoneFinger) -> list[str]:
    """The finger beyond the tape, hatched: dark and throbbing, with short strokes round the tip."""
    line = finger.line
    stops = [line.l1 - 4 + k * (line.total - line.l1 + 4) / 12 for k in range(12)]
    left = [finger.skin(a, 1) for a in stops]
    right = [finger.skin(a, -1) for a in stops]
    shape = [*left, finger.at(line.total), *right[::-1]]
    rays = []
    for side in (-0.9, -0.45, 0.0, 0.45, 0.9):
        a = line.total - 9 * side * side
        rays.append((finger.at(a + 2.5, side * 14), finger.at(a + 6.5, side * 17)))
    return [lines(hatch(shape, 0.9, 45), pen=0.75), lines(rays, pen=1.0), path(chain_data(left), stroke=BLACK, pen=1.1)]


def _fingers(step: Step, corner: complex, room: float, tall: float) -> list[str]:
    """Buddy tape on the neighbour of the other side."""
    finger, partner = step.picture.finger, step.picture.partner
    other = _other_neighbour(finger, partner)
    spreads = spreads_for((frozenset((finger, other)),))
    wide = min(room, tall / 1.45)
    crop = HandCrop(step.picture.hand, corner + complex((room - wide) / 2 + 1, 0), wide, spreads)
    return [crop.draw(), *(draw_band(piece, crop.place) for piece in buddy(finger, other, crop.fingers, spreads))]


def _other_neighbour(finger: Finger, partner: Finger | None) -> Finger:
    place = FINGERS.index(finger)
    near = [FINGERS[i] for i in (place - 1, place + 1) if 0 <= i < 4 and FINGERS[i] != partner]
    return near[0] if near else FINGERS[place - 1 if place else 1]
