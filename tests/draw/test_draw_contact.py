"""The contact sheet shows every drawing there is: what stands on it is held to the rules, and looked at."""

from __future__ import annotations

import dataclasses
import re
import typing
from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Any, Literal
from xml.etree import ElementTree

import pytest
from pdf_gate.samples import TODAY, cases, library
from site_under_test import whole_site

from fingerpost.draw.contact import Version, contact_sheet, list_versions, sample_pictures
from fingerpost.draw.pens.svg import ON_PAPER, ColourName, read_size
from fingerpost.draw.picture import draw
from fingerpost.plan.base.pictures import HandPicture, InsidePicture, Picture, Spot, TrialPicture
from fingerpost.plan.base.runs import plain
from fingerpost.plan.base.visible import list_drawings, list_words
from fingerpost.plan.leaf.handout import plan_handout

SAMPLES = [picture for _, picture in sample_pictures(library())]
Seen = dict[tuple[str, str], set[Any]]

# What is no choice of its own, with the reason.
NOT_SHOWN = {
    (
        "InsidePicture",
        "hurt",
    ): "only what lies inside of a finger or palm is drawn; what the plan asks for is held below",
}


def list_kinds(hint: Any) -> list[type]:
    """Every class that a picture is made of."""
    todo, found = [hint], []
    while todo:
        one = todo.pop()
        todo += typing.get_args(one)
        if isinstance(one, type) and dataclasses.is_dataclass(one) and one not in found:
            found.append(one)
            todo += typing.get_type_hints(one).values()
    return found


def list_choices(hint: Any) -> set[Any]:
    """Every word of a closed set that a field can hold."""
    if typing.get_origin(hint) is Literal:
        return set(typing.get_args(hint))
    return set().union(*map(list_choices, typing.get_args(hint)))


def list_parts(value: Any) -> Iterator[Any]:
    if isinstance(value, tuple):
        for item in value:
            yield from list_parts(item)
    elif dataclasses.is_dataclass(value):
        yield value
        for field in dataclasses.fields(value):
            yield from list_parts(getattr(value, field.name))


def flatten(value: Any) -> Iterator[Any]:
    if isinstance(value, tuple):
        for item in value:
            yield from flatten(item)
    elif not dataclasses.is_dataclass(value):
        yield value


def collect(pictures: Iterable[Picture]) -> Seen:
    """What each field of each class holds in these pictures."""
    found: Seen = defaultdict(set)
    for part in (part for picture in pictures for part in list_parts(picture)):
        for field in dataclasses.fields(part):
            found[(type(part).__name__, field.name)].update(flatten(getattr(part, field.name)))
    return found


def find_missing(pictures: Iterable[Picture], kinds: Iterable[type]) -> list[str]:
    """Classes and choices of which there is no example."""
    seen = collect(pictures)
    there = {kind for kind, _ in seen}
    missing = [kind.__name__ for kind in kinds if kind.__name__ not in there]
    for kind in kinds:
        for name, hint in typing.get_type_hints(kind).items():
            if (kind.__name__, name) not in NOT_SHOWN:
                left = list_choices(hint) - seen[(kind.__name__, name)]
                missing += [f"{kind.__name__}.{name}: {choice}" for choice in sorted(left, key=str)]
    return missing


def list_planned() -> list[Picture]:
    """Every picture of the site and of the demo handouts."""
    plans = [whole_site(), *(plan_handout(library(), case, TODAY) for case in cases().values())]
    return list(dict.fromkeys(d.picture for plan in plans for d in list_drawings_in(plan)))


def list_drawings_in(plan: Any) -> Iterator[Any]:
    return list_drawings((plan.pages, plan.handouts) if hasattr(plan, "pages") else plan)


def test_every_kind_and_choice_of_every_picture_is_on_the_sheet() -> None:
    assert find_missing(SAMPLES, list_kinds(Picture)) == []


def test_a_drawing_that_nobody_shows_is_found() -> None:
    without = [p for p in SAMPLES if not isinstance(p, TrialPicture)]
    assert "TrialPicture" in find_missing(without, list_kinds(Picture))
    fewer = [p for p in SAMPLES if not isinstance(p, TrialPicture) or p.kind != "tip-hold"]
    assert find_missing(fewer, list_kinds(Picture)) == ["TrialPicture.kind: tip-hold"]
    new = dataclasses.make_dataclass("NewPicture", [("title", str), ("kind", Literal["one", "two"])])
    assert find_missing(SAMPLES, list_kinds(Picture | new)) == [
        "NewPicture",
        "NewPicture.kind: one",
        "NewPicture.kind: two",
    ]


def test_what_the_plan_asks_for_inside_is_on_the_sheet() -> None:
    """The part that is hurt, for each kind of picture of the inside."""
    planned = {(p.kind, p.hurt) for p in list_planned() if isinstance(p, InsidePicture)}
    assert planned
    assert planned <= {(p.kind, p.hurt) for p in SAMPLES if isinstance(p, InsidePicture)}


# ---------------------------------------------------------------- four versions of the sheet


DARK: dict[ColourName, str] = {name: f"#{number:02x}1234" for number, name in enumerate(ON_PAPER)}
COLOUR = re.compile(r' (fill|stroke)="#[0-9a-zA-Z]+"')


@pytest.mark.parametrize("version", list_versions(DARK), ids=lambda version: version.name)
def test_every_version_holds_every_drawing_with_nothing_changed_but_colours_and_size(version: Version) -> None:
    """So what the rules say of the drawings holds for all versions."""
    sheet = contact_sheet(library(), version)
    drawn = re.findall(r"<svg.*?</svg>", sheet, re.DOTALL)
    assert len(drawn) == len(SAMPLES) > 100
    for number, (svg, picture) in enumerate(zip(drawn, SAMPLES, strict=True)):
        paper = draw(picture, prefix=f"c{number}")
        assert COLOUR.sub("", svg).partition("viewBox")[2] == COLOUR.sub("", paper).partition("viewBox")[2]
        wide, high = read_size(paper)
        assert read_size(svg) == pytest.approx((version.times * wide, version.times * high), abs=0.006)
        assert set(re.findall(r'(?:fill|stroke)="(#[^"]+)"', svg)) <= set(version.colours.values())
    ids = re.findall(r' id="([^"]+)"', sheet)
    assert len(ids) == len(set(ids))
    assert f"background:{version.colours['paper']}" in sheet


def test_versions_are_ink_grey_dark_and_as_large_as_in_print() -> None:
    ink, grey, dark, small = list_versions(DARK)
    assert ink.colours == small.colours == ON_PAPER
    assert (ink.times > 1, small.times) == (True, 1)
    assert all(re.fullmatch(r"#([0-9a-f]{2})\1\1", colour) for colour in grey.colours.values())
    assert grey.colours["ink"] == "#575757"
    assert dark.colours == DARK


# ---------------------------------------------------------------- what is planned as seen is drawn


def find_words_not_drawn(picture: Picture) -> list[str]:
    root = ElementTree.fromstring(draw(picture, prefix="t"))
    drawn = "".join("".join(node.itertext()) for node in root.iter("{http://www.w3.org/2000/svg}text"))
    seen = _bare(drawn)
    return [plain(words) for words in list_words(picture) if _bare(plain(words)) not in seen]


def _bare(words: str) -> str:
    return re.sub(r"\s", "", words)


def test_every_word_of_a_picture_is_drawn() -> None:
    """A word that is planned to be seen and that no drawing holds is read by nobody."""
    lost = {str(picture): words for picture in list_planned() if (words := find_words_not_drawn(picture))}
    assert lost == {}


def test_a_word_that_is_not_drawn_is_found() -> None:
    spot = Spot(landmark="a2", finger="index", label="sore here")
    picture = HandPicture(title="A hand", hand="left", view="palm", spots=(spot,))
    assert find_words_not_drawn(picture) == []
    assert find_words_not_drawn(next(p for p in SAMPLES if isinstance(p, InsidePicture) and p.torn)) == []
    no_bow = InsidePicture(
        title="A finger",
        kind="finger-side",
        hurt="a2",
        finger="ring",
        hand="left",
        labels=(("bowstring", "tendon off the bone"),),
    )
    assert find_words_not_drawn(no_bow) == ["tendon off the bone"]
