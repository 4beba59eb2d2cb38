"""The way back: any number of stages, names of any length, any width and size."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from for_each import for_each
from test_draw import SVG, points_of, text_boxes

from fingerpost.draw.picture import draw
from fingerpost.plan.base.pictures import Flag, PathPicture, Signpost, Standing

LONG = "Easy climbing on big holds with the feet doing most of the work, and a Krankengymnastikverordnungsformular"
STANDINGS: tuple[Standing, ...] = ("past", "today", "ahead")


def way(count: int, *, long: bool = False, lying: bool = False, arms: int = 3) -> PathPicture:
    posts = tuple(
        Signpost(
            number=k + 1,
            name=LONG if long else f"Stage name {k + 1}",
            arms=("earliest 23 September 2026", "usually 30 September 2026", "latest 14 October 2026")[:arms],
            gate="" if k == count - 1 else (LONG + ". " + LONG if long else "Full fist without pain"),
            standing=STANDINGS[min(2, max(0, k))] if count > 1 else "none",
        )
        for k in range(count)
    )
    flags = (
        Flag(after=0, what="check-up", date="1 June 2026"),
        Flag(after=count, what=LONG if long else "a trip", date="4 July 2026"),
    )
    return PathPicture(
        title="The way back", posts=posts, flags=flags, here="you are here, 25 November 2026", lying=lying
    )


CASES = [(count, long, lying, wide, size)
         for count in (1, 2, 5, 8) for long in (False, True) for lying in (False, True)
         for wide, size in (((90, 9), (250, 12)) if lying else ((170, 10), (160, 24)))]  # fmt: skip


@for_each("count, long, lying, wide, size", CASES)
def test_holds_every_word_in_the_frame(count: int, long: bool, lying: bool, wide: int, size: int) -> None:
    picture = way(count, long=long, lying=lying)
    root = ElementTree.fromstring(draw(picture, prefix="w", width_mm=wide, text_pt=size))
    _, _, w, h = (float(n) for n in root.attrib["viewBox"].split())
    for node in root.iter(f"{SVG}path"):
        assert all(-0.1 <= p.real <= w + 0.1 and -0.1 <= p.imag <= h + 0.1 for p in points_of(node.attrib["d"]))
    boxes = text_boxes(root)
    for text, left, top, right, bottom in boxes:
        assert left >= -0.1, text
        assert right <= w + 0.1, text
        assert top >= -0.1, text
        assert bottom <= h + 0.1, text
    for i, a in enumerate(boxes):
        for b in boxes[:i]:
            assert a[3] <= b[1] or b[3] <= a[1] or a[4] <= b[2] + 0.05 or b[4] <= a[2] + 0.05, (a, b)
    said = re.sub(r"\W", "", "".join(node.text or "" for node in root.iter(f"{SVG}text")))
    for post in picture.posts:
        for words in (post.name, *post.arms, post.gate):
            assert re.sub(r"\W", "", words) in said


def test_today_is_marked_by_more_than_colour() -> None:
    """Past stages carry a tick, today's a pin and a heavier plank: a grey printer loses nothing."""
    svg = draw(way(4), prefix="w")
    plain = draw(PathPicture(**{**vars(way(4)), "here": ""}), prefix="w")
    assert svg.count("<path") > plain.count("<path")
    assert "you are here" in svg


def test_walked_part_ends_at_today() -> None:
    """The firm middle line is shorter where today is earlier."""

    def firm(today: int) -> float:
        posts = tuple(
            Signpost(
                number=k + 1,
                name="n",
                arms=("a",),
                gate="g",
                standing="past" if k < today else "today" if k == today else "ahead",
            )
            for k in range(4)
        )
        svg = draw(PathPicture(title="t", posts=posts), prefix="w")
        data = re.findall(r'd="([^"]*)" fill="none" stroke="#0072B2" stroke-width="0.635"', svg)
        return sum(abs(b - a) for d in data for a, b in zip(points_of(d), points_of(d)[1:], strict=False))

    assert firm(0) < firm(1) < firm(2) < firm(3)


def test_no_stage_no_failure() -> None:
    assert "<svg" in draw(PathPicture(title="t", posts=()), prefix="w")
