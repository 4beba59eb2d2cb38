"""The finger that another is taped to lies beside it, on the side that helps, and a second choice says why."""

from __future__ import annotations

import pytest

from fingerpost.model.words import FINGERS, Finger, Side
from fingerpost.reckon.neighbours import choose_buddy, list_neighbours

MIRRORED: dict[str, str] = dict(zip(FINGERS, reversed(FINGERS), strict=True)) | {"radial": "ulnar", "ulnar": "radial"}


@pytest.mark.parametrize(
    ("finger", "side", "partner", "second_choice"),
    [
        ("index", "radial", "middle", True),
        ("index", "ulnar", "middle", False),
        ("middle", "radial", "index", False),
        ("middle", "ulnar", "ring", False),
        ("ring", "radial", "middle", False),
        ("ring", "ulnar", "little", False),
        ("little", "radial", "ring", False),
        ("little", "ulnar", "ring", True),
    ],
)
def test_injured_side(finger: Finger, side: Side, partner: Finger, second_choice: bool) -> None:
    buddy = choose_buddy(finger, "injured-side", side)
    assert buddy is not None
    assert (buddy.partner, buddy.second_choice) == (partner, second_choice)


def test_second_choices_say_why() -> None:
    thumb, outer = choose_buddy("index", "injured-side", "radial"), choose_buddy("little", "injured-side", "ulnar")
    assert thumb is not None
    assert outer is not None
    assert (thumb.reason, outer.reason) == ("only-the-thumb-on-that-side", "nothing-on-that-side")


@pytest.mark.parametrize(
    ("finger", "partner", "reason"),
    [
        ("index", "middle", "next-to-it"),
        ("middle", "ring", "one-muscle-belly"),
        ("ring", "middle", "one-muscle-belly"),
        ("little", "ring", "one-muscle-belly"),
    ],
)
def test_stronger(finger: Finger, partner: Finger, reason: str) -> None:
    buddy = choose_buddy(finger, "stronger")
    assert buddy is not None
    assert (buddy.partner, buddy.reason, buddy.second_choice) == (partner, reason, False)


def test_no_rule_no_buddy() -> None:
    assert choose_buddy("ring", "none") is None


def test_a_missing_side_is_refused() -> None:
    with pytest.raises(ValueError, match="must be radial or ulnar"):
        choose_buddy("ring", "injured-side")


@pytest.mark.parametrize("finger", FINGERS)
@pytest.mark.parametrize("side", ["radial", "ulnar"])
def test_mirrored_fingers_have_mirrored_buddies(finger: Finger, side: Side) -> None:
    buddy = choose_buddy(finger, "injured-side", side)
    mirrored = choose_buddy(MIRRORED[finger], "injured-side", MIRRORED[side])  # type: ignore[arg-type]
    assert buddy is not None
    assert mirrored is not None
    assert mirrored.partner == MIRRORED[buddy.partner]


@pytest.mark.parametrize("finger", FINGERS)
def test_a_buddy_is_always_beside(finger: Finger) -> None:
    for rule, side in (("injured-side", "radial"), ("injured-side", "ulnar"), ("stronger", None)):
        buddy = choose_buddy(finger, rule, side)  # type: ignore[arg-type]
        assert buddy is not None
        assert buddy.partner in list_neighbours(finger)
