"""The frame of common mistakes: a small drawing for each, struck out, with its words."""

from __future__ import annotations

from fingerpost.draw.bodies.fingers import RELAXED, spreads_for
from fingerpost.draw.bodies.hand_crop import HandCrop
from fingerpost.draw.bodies.lone_finger import LoneFinger
from fingerpost.draw.hands.hand import draw_band
from fingerpost.draw.hands.tape import Band, buddy, h_strip, ring_range, wrap_round
from fingerpost.draw.pens.curves import hatch
from fingerpost.draw.pens.labels import Extent, draw_block
from fingerpost.draw.pens.letters import block_height, wrap
from fingerpost.draw.pens.marks import draw_sign
from fingerpost.draw.pens.svg import BLACK, chain_data, lines, path
from fingerpost.draw.taping.taping_steps import Drawn, Step
from fingerpost.model.words import Finger
from fingerpost.plan.base.pictures import Mistake

_CELL = 28.0
"""A mistake gets a column of its own where there is this much room (mm), else a row."""


def draw_mistakes(step: Step) -> Drawn:
    mistakes = step.picture.mistakes
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
    wrong = step.picture.wrong_partner
    if mistake == "wrong-finger" and wrong:
        picture = _fingers(step, wrong, corner, room, tall)
    else:
        picture = _finger(step, mistake, corner, room, tall)
    sign = draw_sign("leave", corner + complex(0.9 * step.em + 0.3, 0.9 * step.em + 0.3), 0.85 * step.em)
    wide = cell - room - 3 if beside else cell - 2.5
    text = wrap(note, wide, step.size) if note else []
    high = block_height(len(text), step.size)
    left, top = (corner.real + room + 2, corner.imag + 4) if beside else (corner.real + 1, corner.imag + tall + 1.5)
    box = Extent(left=left, right=left + wide, top=top, bottom=top + high)
    used = max(tall, high + 5) if beside else tall + 1.5 + high
    return [*picture, sign, draw_block(text, box, step.size)], used


def _finger(step: Step, mistake: Mistake, corner: complex, room: float, tall: float) -> list[str]:
    line = step.crop().fingers[step.picture.finger]
    scale = (tall - 4.0) / (line.total - 2)
    middle = corner + complex(room / 2 + 1, 2.6 + scale * (line.l2 + line.l3))
    finger = LoneFinger(step.picture.finger, step.picture.hand, middle, scale)
    parts = [finger.draw()]
    if mistake == "too-tight":
        parts += _dark_tip(finger, _own_band(step, finger).ends[1] + 1.0)
    parts += [draw_band(piece, finger.place) for piece in _wrong_bands(step, mistake, finger)]
    return parts


def _own_band(step: Step, finger: LoneFinger) -> Band:
    """A ring where this taping has one: on its own segment."""
    if step.picture.kind == "ring" and step.picture.level != "proximal-and-middle":
        return wrap_round(finger.line, *ring_range(step.picture.finger, finger.line, step.picture.level, RELAXED))
    return wrap_round(finger.line, finger.line.l1 - 16, finger.line.l1 - 5)


def _wrong_bands(step: Step, mistake: Mistake, finger: LoneFinger) -> list[Band]:
    line = finger.line
    if mistake == "over-joint":
        return [wrap_round(line, line.l1 - 7, line.l1 + 7)]
    if mistake == "too-low":
        return [wrap_round(line, 0.36 * line.l1, 0.36 * line.l1 + 11)]
    if mistake == "cut-bridge":
        return h_strip(line)[1:]
    return [_own_band(step, finger)]


def _dark_tip(finger: LoneFinger, start: float) -> list[str]:
    """The finger beyond the tape, hatched: dark and throbbing, with short strokes round the tip."""
    line = finger.line
    stops = [start + k * (line.total - start) / 12 for k in range(12)]
    left = [finger.skin(a, 1) for a in stops]
    right = [finger.skin(a, -1) for a in stops]
    shape = [*left, finger.at(line.total), *right[::-1]]
    rays = []
    for side in (-0.9, -0.45, 0.0, 0.45, 0.9):
        a = line.total - 9 * side * side
        rays.append((finger.at(a + 2.5, side * 14), finger.at(a + 6.5, side * 17)))
    return [lines(hatch(shape, 0.9, 45), pen=0.75), lines(rays, pen=1.0), path(chain_data(left), stroke=BLACK, pen=1.1)]


def _fingers(step: Step, wrong: Finger, corner: complex, room: float, tall: float) -> list[str]:
    """Buddy tape on the neighbour of the other side."""
    finger = step.picture.finger
    spreads = spreads_for((frozenset((finger, wrong)),))
    wide = min(room, tall / HandCrop.RATIO)
    crop = HandCrop(step.picture.hand, corner + complex((room - wide) / 2 + 1, 0), wide, spreads)
    return [crop.draw(), *(draw_band(piece, crop.place) for piece in buddy(finger, wrong, crop.fingers, spreads))]
