"""What is recognised by sight is drawn so that it is: unlike a healthy finger, unlike each other, and whole."""

from __future__ import annotations

import subprocess
from itertools import combinations
from pathlib import Path
from typing import get_args

import numpy as np
import pytest
from geometry import crossings

from fingerpost.draw.bodies.side import SidePose
from fingerpost.draw.pens.curves import inside, sample
from fingerpost.draw.pens.svg import Position, document
from fingerpost.draw.profiles.from_front import OddFinger
from fingerpost.draw.profiles.from_side import SwollenPose
from fingerpost.draw.profiles.profile import pair_for
from fingerpost.draw.props.stage import Frame
from fingerpost.make.pdf import print_pdf
from fingerpost.model.library import Library
from fingerpost.model.shared import Look
from fingerpost.plan.base.pictures import LookPicture
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.visible import list_drawings
from fingerpost.plan.injury.refer import plan_referral_page
from fingerpost.plan.leaf.general import plan_referral_leaf

PROJECT = Path(__file__).resolve().parents[2]
LOOKS: tuple[Look, ...] = get_args(Look)
WIDE, TALL = 27.0, 24.0


def paint(frame: Frame) -> np.ndarray:
    """One half of the picture as a grey printer shows it on a leaf: 0 white, 1 black, cells of half a millimetre."""
    scale = frame.fit(WIDE, TALL)
    box = frame.box(frame.place(scale))
    place = Position(scale=scale, turn=frame.turn, origin=complex(-box.left, -box.top))
    svg = document("A look", WIDE, TALL, frame.draw(place))
    html = f'<!DOCTYPE html><html lang="en"><head><title>t</title></head><body><figure>{svg}</figure></body></html>'
    command = ["pdftoppm", "-gray", "-r", "254", "-singlefile", "-"]
    told = subprocess.run(command, input=print_pdf(html, PROJECT), capture_output=True, check=True)
    _, wide, high, _, _ = told.stdout.split(maxsplit=4)
    page = 1 - np.frombuffer(told.stdout[-int(wide) * int(high) :], dtype=np.uint8).reshape(int(high), int(wide)) / 255
    rows, columns = np.flatnonzero(page.max(1) > 0.05), np.flatnonzero(page.max(0) > 0.05)
    cut = np.zeros((240, 270))
    part = page[rows[0] : rows[0] + 240, columns[0] : columns[0] + 270]
    cut[: part.shape[0], : part.shape[1]] = part
    return cut.reshape(48, 5, 54, 5).mean(axis=(1, 3))


def most_otherwise(a: np.ndarray, b: np.ndarray) -> float:
    """How much ink two pictures differ by in the window of 3 mm where they differ most: 0 to 1."""
    windows = np.lib.stride_tricks.sliding_window_view(np.abs(a - b), (6, 6))
    return float(windows.mean(axis=(2, 3)).max())


@pytest.mark.rest
def test_each_look_is_unlike_a_healthy_finger_and_unlike_the_others() -> None:
    """In grey, as small as on a leaf, without a word."""
    pairs = {look: pair_for(look) for look in LOOKS}
    sore = {look: paint(pair.sore) for look, pair in pairs.items()}
    for look, pair in pairs.items():
        assert most_otherwise(paint(pair.healthy), sore[look]) > 0.25, look
    for a, b in combinations(LOOKS, 2):
        assert most_otherwise(sore[a], sore[b]) > 0.25, (a, b)


def test_a_swollen_finger_holds_the_usual_one() -> None:
    """Thick all along: nowhere is it thinner than the healthy finger, and its contour does not cross itself."""
    for pip in (10, 30, 45):
        usual, sore = SidePose(12, pip, 16), SwollenPose(12, pip, 16)
        skin = sample(sore.contour, 4)
        assert not crossings(skin)
        finger = [p for p in sample(usual.contour, 4) if p.real > 0.3 * usual.lengths[0]]
        assert all(inside(p, skin) or min(abs(p - q) for q in skin) < 1 for p in finger)


def test_a_crooked_finger_leaves_its_line_at_the_middle_joint() -> None:
    line, usual = OddFinger((-22.0, 0.0), step=-4.5), OddFinger()
    assert abs(line.at(line.l1 - 12) - usual.at(line.l1 - 12)) < 0.1
    assert abs(line.at(line.l1 + 8) - usual.at(line.l1 + 8)) > 4
    tip = line.at(line.total) - line.at(line.l1 + 12)
    assert tip.imag < 0.94 * abs(tip)


def test_a_look_is_shown_where_the_injury_is_told(library: Library) -> None:
    """On its page, and planned for its leaf; a listener hears first what is otherwise, then how a healthy one is."""
    shown = 0
    for document_ in library.referrals:
        referral = document_.value
        for plan in (plan_referral_page(Writer(library), referral), plan_referral_leaf(Writer(library), referral)):
            looks = [d.picture for d in list_drawings(plan) if isinstance(d.picture, LookPicture)]
            assert [p.look for p in looks] == ([referral.looks] if referral.looks else [])
            for picture in looks:
                first, _, rest = picture.title.partition(". ")
                assert "healthy" not in first
                assert "healthy" in rest
                assert picture.healthy
                assert picture.sore
                shown += 1
    assert shown == 2 * 10
    assert {d.value.looks for d in library.referrals} - {None} == set(LOOKS)
