"""Tape and splints stay off the creases: a joint whose crease lies under a strip cannot bend, and its skin is sore."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import pytest

from fingerpost.draw.bodies.creases import finger_creases, free_skin
from fingerpost.draw.bodies.fingers import RELAXED, FingerLine, Hand4, Spreads, lay_fingers, spreads_for
from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.hands.tape import CLEAR, Band, lay_tape, wrap_round
from fingerpost.draw.pens.curves import free, inside, sample, spline
from fingerpost.draw.taping.side_tape import list_splint_edge
from fingerpost.model.library import Library
from fingerpost.model.words import FINGERS, Finger
from fingerpost.plan.base.pictures import TapeMark
from fingerpost.reckon.tape import list_strips, size_finger

STEP = 0.25


def measure_gap(finger: Finger, line: FingerLine, piece: Band) -> float:
    """The way along a finger (mm) from a band to the nearest crease of it; 0 where it covers one."""
    gaps = [9.0]
    for crease in finger_creases(finger, line):
        for point in sample(spline(free(crease.points)), 3):
            along = min((k * STEP for k in range(int(line.total / STEP))), key=lambda a: abs(point - line.at(a)))
            side = ((point - line.at(along)) / line.along(along)).imag
            steps = (k * STEP for k in range(int(gaps[-1] / STEP)))
            hit = (d for d in steps if any(inside(line.at(along + way, side), piece.area) for way in (d, -d)))
            gaps.append(min(next(hit, 9.0), gaps[-1]))
    return gaps[-1]


def list_worn(library: Library) -> Iterator[tuple[TapeMark, Hand4, Spreads]]:
    """Every kind of taping on every finger, and on every pair in both orders."""
    kinds = sorted({(t.kind, t.level, t.neighbour != "none") for t in library.vocabularies.tapings})
    pairs: list[tuple[Finger, Finger]] = [*pairwise(FINGERS), *pairwise(FINGERS[::-1])]
    for kind, level, joined in kinds:
        if joined:
            for one, other in pairs:
                spreads = spreads_for((frozenset((one, other)),))
                mark = TapeMark(kind=kind, level=level, finger=one, partner=other)
                yield mark, lay_fingers(spreads), spreads
        else:
            for finger in FINGERS:
                yield TapeMark(kind=kind, level=level, finger=finger), lay_fingers(), RELAXED


def test_no_band_comes_near_a_crease_of_any_finger_that_it_goes_round(library: Library) -> None:
    near = []
    for mark, fingers, spreads in list_worn(library):
        pieces = lay_tape(mark, fingers, spreads)
        # The bridge of an H-strip and the stiff strip of a splint lie over the one joint that they are for.
        over = mark.kind == "h-strip" or (mark.kind == "splint" and mark.level in ("pip", "dip"))
        for number, piece in enumerate(pieces[1:] if over else pieces):
            for finger in (mark.finger, mark.partner):
                gap = measure_gap(finger, fingers[finger], piece) if finger else 9.0
                if gap < CLEAR:
                    near.append((mark.kind, mark.level, mark.finger, mark.partner, number, finger, gap))
    assert near == []


@pytest.mark.parametrize("finger", FINGERS)
def test_a_band_drawn_up_to_a_joint_is_found(finger: Finger) -> None:
    """What was drawn once: the upper edge on the crease of the middle joint, and a turn over the joint."""
    line = lay_fingers()[finger]
    assert measure_gap(finger, line, wrap_round(line, line.l1 - 14, line.l1 - 3, bow=1.1)) < CLEAR
    assert measure_gap(finger, line, wrap_round(line, line.l1 - 6, line.l1 + 6)) == 0
    assert measure_gap(finger, line, wrap_round(line, line.l1 - 12, line.l1 - 5)) >= CLEAR


@pytest.mark.parametrize("finger", FINGERS)
def test_a_splint_of_the_middle_joint_leaves_the_joints_beside_it_free(finger: Finger) -> None:
    """Its ends, from the palm and from the side, stay off the creases at the finger's root and at its end joint."""
    line = lay_fingers()[finger]
    root, end = free_skin(finger, line, 1)[0], free_skin(finger, line, 2)[1]
    low, high = lay_tape(TapeMark(kind="splint", level="pip", finger=finger), lay_fingers(), RELAXED)[0].ends
    edge = [point.real for point in list_splint_edge(SidePose(0, 0, 0, finger), 1)]
    for start, stop in ((low, high), (min(edge), max(edge))):
        assert start >= root + 3
        assert stop <= end - 3
        assert start < line.l1 - 10
        assert stop > line.l1 + 10


@pytest.mark.parametrize("pair", list(pairwise(FINGERS)))
def test_a_strip_is_drawn_about_as_wide_as_it_is_said_to_be_cut(pair: tuple[Finger, Finger]) -> None:
    one, other = pair
    spreads = spreads_for((frozenset(pair),))
    mark = TapeMark(kind="buddy", level="proximal-and-middle", finger=one, partner=other)
    strips = list_strips("buddy", "proximal-and-middle", size_finger(one, []), size_finger(other, []))
    for strip, piece in zip(strips, lay_tape(mark, lay_fingers(spreads), spreads), strict=True):
        assert 0.75 <= (piece.ends[1] - piece.ends[0]) / strip.width_mm <= 1.0
