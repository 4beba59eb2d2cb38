"""What stands on the contact sheet of the small drawings: signs, stages, true sizes, strength, looks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from fingerpost.model.grammar import choices_of
from fingerpost.model.library import Library
from fingerpost.model.shared import Hold, Look
from fingerpost.model.words import FINGERS, GripMark
from fingerpost.plan.base.pictures import (
    GripPicture,
    HandPicture,
    LookPicture,
    Picture,
    RulerPicture,
    SignPicture,
    Spot,
    StagesPicture,
    StrengthPicture,
    StripPicture,
    TapeMark,
)  # fmt: skip
from fingerpost.plan.base.prose import Writer
from fingerpost.plan.base.step_pictures import Worn, small_steps
from fingerpost.reckon.neighbours import choose_buddy

_WORDS: dict[GripMark, str] = {"keep": "Yes", "limit": "Only like this", "leave": "No"}


def leaf_pictures(library: Library) -> Iterator[tuple[str, Picture]]:
    """A name and a picture for every kind."""
    for mark in choices_of(GripMark):
        for on_band in (False, True):
            name = f"sign {mark}{', on a band' if on_band else ''}"
            yield name, SignPicture(title=_WORDS[mark], mark=mark, on_band=on_band)
    for count, today in ((2, 1), (6, 4), (8, 8)):
        title = f"Stage {today} of {count} is today's"
        yield f"stages, {today} of {count}", StagesPicture(title=title, count=count, today=today, word="today")
    yield from _true_sizes()
    yield from _strengths()
    yield from _hands()
    yield from _grips()
    yield from _frames(library)
    yield from _looks()


def _true_sizes() -> Iterator[tuple[str, Picture]]:
    two = StripPicture(title="Strips of 140 and 130 mm at true size", strips=((140, "A"), (130, "B")), width_mm=15)
    yield "strips of two lengths", two
    three = ((165, "A"), (150, "B"), (120, "C"), (165, "D"))
    yield "strips of three lengths", StripPicture(title="Four strips at true size", strips=three, width_mm=12)
    yield (
        "strip with a bridge",
        StripPicture(
            title="A strip of 110 mm at true size, slit from both ends",
            strips=((110, ""),),
            width_mm=15,
            bridge_mm=10,
            bridge_word="stays whole",
        ),
    )
    for length in (10, 50):
        yield f"ruler of {length} mm", RulerPicture(title=f"A line of {length} mm", length_mm=length)


def _strengths() -> Iterator[tuple[str, Picture]]:
    rows = (("Right hand", 39.0, "39 kg"), ("Left hand", 29.5, "29.5 kg"))
    title = "The right hand pulls 39 kg, the left one 29.5 kg"
    yield "strength", StrengthPicture(title=title, rows=rows)
    goal = StrengthPicture(title=f"{title}, of a goal of 33.2 kg", rows=rows, goal=33.2, goal_said="goal 33.2 kg")
    yield "strength, with a goal", goal


def _hands() -> Iterator[tuple[str, Picture]]:
    for spot in (Spot(landmark="a2", finger="ring"), Spot(landmark="pip-side", finger="little", side="ulnar")):
        title = f"A ring round {spot.landmark} of the {spot.finger} finger"
        yield title, HandPicture(title=title, hand="left", view="palm", spots=(spot,), ring=True)
    for finger, partner in pairwise(FINGERS):
        mark = TapeMark(kind="buddy", level="proximal-and-middle", finger=finger, partner=partner, letters=("A", "B"))
        title = f"The strips A and B round {finger} and {partner} finger"
        yield title, HandPicture(title=title, hand="right", view="palm", tapes=(mark,))


def _grips() -> Iterator[tuple[str, Picture]]:
    """One for each hold and for each number of fingers; the plan's own twelve are held by the tests."""
    edge = GripPicture(title="A grip", mcp=15, pip=39, dip=45, depth_mm=18, small=True)
    pocket = replace(edge, hold="pocket", neighbours="tucked")
    shown = [replace(edge, hold=hold) for hold in choices_of(Hold) if hold != "pocket"]
    shown += [replace(edge, mcp=20, pip=87, dip=-25, thumb="over"), replace(edge, fingers=FINGERS[:3])]
    shown += [replace(pocket, fingers=FINGERS[1:3]), replace(pocket, fingers=FINGERS[1:2])]
    for picture in shown:
        yield f"small, {picture.hold}, fingers {len(picture.fingers)}, thumb {picture.thumb}", picture


def _frames(library: Library) -> Iterator[tuple[str, Picture]]:
    """Every step of a taping that a leaf shows, as small as it shows it."""
    writer = Writer(library)
    for taping in library.vocabularies.tapings:
        buddy = choose_buddy("middle", taping.neighbour, "ulnar")
        worn = Worn(
            taping=taping, hand="right", finger="middle", partner=buddy.partner if buddy else None, side="ulnar"
        )
        for drawing in small_steps(writer, worn):
            yield f"small, {drawing.name}", drawing.picture


def _looks() -> Iterator[tuple[str, Picture]]:
    for look in choices_of(Look):
        title = f"{look}, beside a healthy finger"
        yield f"looks, {look}", LookPicture(title=title, look=look, healthy="Healthy", sore="Like this")
