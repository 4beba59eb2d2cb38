"""Pictures: they mark the person's own place, finger, side and hand, and say so."""

from __future__ import annotations

import re
from collections.abc import Iterator

from fingerpost.model.words import FINGERS
from fingerpost.plan.base.pictures import DiaryPicture, HandPicture, InsidePicture, TapingPicture
from sweep.sheets import Told


def _other_places(told: Told) -> list[str]:
    """Names of the other places of this protocol."""
    anatomy = {a.id: a.name for a in told.facts.library.vocabularies.anatomy}
    return [anatomy[p] for p in told.facts.protocol.places if p != told.facts.case.place]


def find_another_place_in_a_picture(told: Told) -> Iterator[str]:
    """No picture may mark, name or describe a place of this injury that is not the person's."""
    others = _other_places(told)
    own = told.facts.place
    marks = {a.landmark for a in told.facts.library.vocabularies.anatomy if a.name in others} - {own.landmark}
    for _, picture in told.pictures(InsidePicture):
        if picture.hurt in marks or any(name in f"{picture.title} {picture.hurt_label}" for name in others):
            yield picture.title
    for piece, picture in told.pictures(HandPicture):
        if piece.section in ("beside", "lead"):
            spots = {spot.landmark for spot in picture.spots}
            if spots & marks or own.name not in picture.title:
                yield picture.title


def find_another_finger_in_a_picture(told: Told) -> Iterator[str]:
    """No picture of the hand or the tape may mark or name a finger that is not the person's."""
    finger = told.facts.case.finger
    for _piece, picture in told.pictures(HandPicture):
        marked = {spot.finger for spot in picture.spots} | {tape.finger for tape in picture.tapes}
        named = re.findall(rf"(?:on the|[Tt]he|your) ({'|'.join(FINGERS)}) finger", picture.title)
        if marked - {finger} or named[:1] not in ([], [finger]):
            yield picture.title
    for _, picture in told.pictures(TapingPicture):
        named = re.findall(rf"on the ({'|'.join(FINGERS)}) finger", picture.title)
        if picture.finger != finger or named[:1] not in ([], [finger]):
            yield picture.title


def find_another_side_in_a_picture(told: Told) -> Iterator[str]:
    """Where a side is hurt, every picture of it must mark and name that side."""
    side = told.facts.case.side
    if side is None:
        return
    wrong = "little-finger side" if side == "radial" else "thumb side"
    for _, picture in (*told.pictures(InsidePicture), *told.pictures(HandPicture)):
        sides = {picture.side} if isinstance(picture, InsidePicture) else {spot.side for spot in picture.spots}
        if wrong in picture.title or any(s not in (side, None) for s in sides):
            yield picture.title


def find_pain_limits_that_differ(told: Told) -> Iterator[str]:
    """The chart, the sheet and the coach must know one and the same pain limit."""
    most = told.facts.stage.pain.most
    for _, picture in told.pictures(DiaryPicture):
        if picture.limit != most or not re.search(rf"\b{most}\b", picture.limit_word):
            yield f"chart: {picture.limit_word}, the stage: {most}"
    for line in (line for name in ("day", "written", "help", "gate") for line in told.section(name)):
        said = re.findall(r"At most (\d+) out of 10|(?:Pain over|Over|Pain stays at) (\d+)\b", line.text)
        said = [one or other for one, other in said]
        if said and int(said[0]) != most:
            yield f"{line.text} The stage: {most}"
    for line in told.coach_lines:
        said = re.findall(r"Pain may reach (\d+) out of 10", line.text)
        if said and int(said[0]) != most:
            yield f"coach: {line.text} The stage: {most}"
