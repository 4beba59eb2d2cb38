"""The small drawings that must be right to the millimetre, or told apart at 5 mm in grey.

- Strips and ruler are printed at true size, and a drawing that is scaled is found.
- Signs, small grips and small frames are told apart in grey.
- Bars, boards, rings and letters stay inside their frames.
"""

from __future__ import annotations

import io
import re
import subprocess
from collections.abc import Mapping
from dataclasses import replace
from itertools import combinations, pairwise, product
from pathlib import Path
from typing import get_args
from xml.etree import ElementTree

import numpy as np
import pikepdf
import pytest

from fingerpost.draw.pens.svg import INK, PALE, WHITE, disc, document
from fingerpost.draw.picture import draw
from fingerpost.make.pdf import print_pdf
from fingerpost.model.library import Library
from fingerpost.model.shared import Landmark, View
from fingerpost.model.words import FINGERS, GRIP_MARKS, Finger, Hand, Side
from fingerpost.plan.base.illustrate import grip_drawing
from fingerpost.plan.base.pictures import (
    GripPicture,
    HandPicture,
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

PROJECT = Path(__file__).resolve().parents[2]
SVG = "{http://www.w3.org/2000/svg}"
MM = 25.4 / 72
ROOM = 179.0


def strip(*lengths: int, bridge: int | None = None, width: int = 15) -> StripPicture:
    strips = tuple((length, "ABCDE"[k]) for k, length in enumerate(lengths))
    word = "stays whole" if bridge else ""
    return StripPicture(title="Strips", strips=strips, width_mm=width, bridge_mm=bridge, bridge_word=word)


def print_drawing(svg: str) -> bytes:
    html = f'<!DOCTYPE html><html lang="en"><head><title>t</title></head><body><figure>{svg}</figure></body></html>'
    return print_pdf(html, PROJECT)


def read_strokes(pdf: bytes) -> list[complex]:
    """Every straight stroke of the first page as it lies on paper: how far right and how far up it goes, in mm."""
    strokes: list[complex] = []
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        _follow(opened.pages[0], pikepdf.Matrix(), strokes)
    return strokes


def _follow(content: pikepdf.Page | pikepdf.Object, matrix: pikepdf.Matrix, strokes: list[complex]) -> None:
    """Through one stream and those that it shows, keeping its place on the paper."""
    kept, at = [], 0j
    for operands, operator in pikepdf.parse_content_stream(content):
        name = str(operator)
        if name == "q":
            kept.append(matrix)
        elif name == "Q":
            matrix = kept.pop()
        elif name == "cm":
            matrix = pikepdf.Matrix(*(float(n) for n in operands)) @ matrix
        elif name in ("m", "l"):
            point = complex(*matrix.transform((float(operands[0]), float(operands[1]))))
            strokes += [(point - at) * MM] if name == "l" else []
            at = point
        elif name == "Do":
            shown = content.Resources.XObject[operands[0]]
            if shown.Subtype == "/Form":
                own = pikepdf.Matrix(*(float(n) for n in shown.get("/Matrix", (1, 0, 0, 1, 0, 0))))
                _follow(shown, own @ matrix, strokes)


@pytest.mark.rest
@pytest.mark.parametrize("length", [60, 110, 165])
def test_a_strip_is_as_long_on_paper_as_the_tape(length: int) -> None:
    """Who lays tape on it and cuts gets a strip of this length: a tenth of a millimetre is what a pen is wide."""
    for picture in (strip(length), strip(length, length - 20), strip(length, bridge=10)):
        strokes = read_strokes(print_drawing(draw(picture, prefix="t", width_mm=ROOM)))
        level = [abs(s.real) for s in strokes if abs(s.imag) < 0.01]
        upright = [abs(s.imag) for s in strokes if abs(s.real) < 0.01]
        assert max(level) == pytest.approx(length, abs=0.1)
        assert any(n == pytest.approx(15, abs=0.1) for n in upright)
        for short, _ in picture.strips:
            assert any(n == pytest.approx(short, abs=0.1) for n in level), short
        if picture.bridge_mm:
            assert any(n == pytest.approx(10, abs=0.1) for n in level)
            assert sum(n == pytest.approx((length - 10) / 2, abs=0.1) for n in level) == 2


@pytest.mark.rest
def test_a_ruler_tells_the_truth_on_paper() -> None:
    strokes = read_strokes(print_drawing(draw(RulerPicture(title="A ruler", length_mm=50), prefix="t", width_mm=ROOM)))
    assert max(abs(s.real) for s in strokes) == pytest.approx(50, abs=0.1)
    assert sum(abs(s.imag) > 1 for s in strokes) == 6


@pytest.mark.rest
def test_a_drawing_that_is_scaled_is_found() -> None:
    svg = draw(strip(110), prefix="t", width_mm=ROOM)
    wide, high = re.findall(r'(?:width|height)="([\d.]+)mm"', svg)
    for share in (0.99, 1.01):
        other = svg.replace(f'"{wide}mm"', f'"{float(wide) * share:.2f}mm"').replace(
            f'"{high}mm"', f'"{float(high) * share:.2f}mm"'
        )
        longest = max(abs(s.real) for s in read_strokes(print_drawing(other)))
        assert longest != pytest.approx(110, abs=0.1)


@pytest.mark.parametrize("picture", [strip(110), strip(140, 130), RulerPicture(title="A ruler", length_mm=50)])
@pytest.mark.parametrize("size", [9.0, 10.0, 18.0])
def test_what_has_true_size_is_never_scaled(picture: StripPicture | RulerPicture, size: float) -> None:
    """The frame says its own millimetres, whatever the room; too little room is an error, not a smaller drawing."""
    needed = picture.needed_mm(size)
    root = ElementTree.fromstring(draw(picture, prefix="t", width_mm=ROOM, text_pt=size))
    wide, high = root.attrib["viewBox"].split()[2:]
    assert (root.attrib["width"], root.attrib["height"]) == (f"{wide}mm", f"{high}mm")
    assert float(wide) == pytest.approx(needed)
    with pytest.raises(ValueError, match=f"needs {needed:g} mm"):
        draw(picture, prefix="t", width_mm=needed - 1, text_pt=size)


def test_the_longest_usual_strip_fits_the_sheet() -> None:
    assert strip(175).needed_mm() <= ROOM < strip(176).needed_mm()
    assert strip(165, bridge=10).needed_mm() <= ROOM < strip(167, bridge=10).needed_mm()


@pytest.mark.parametrize("size", [9, 12, 18, 24])
def test_stages_stand_in_the_frame_at_any_size(size: int) -> None:
    """Today's alone is blue, those behind are grey, those ahead white; none is lost or cut off."""
    for count in range(2, 9):
        for today in range(1, count + 1):
            for wide in (80.0, 110.0, 190.0):
                picture = StagesPicture(title="Stages", count=count, today=today, word="today")
                root = ElementTree.fromstring(draw(picture, prefix="t", width_mm=wide, text_pt=size))
                boards = [group[0].attrib for group in root.iter(f"{SVG}g")]
                behind, ahead = [PALE] * (today - 1), [WHITE] * (count - today)
                assert [b["fill"] for b in boards] == [*behind, INK, *ahead]
                said = [node.text for node in root.iter(f"{SVG}text")]
                assert said == [f"{k} today" if k == today else str(k) for k in range(1, count + 1)]
                right = max(float(n) for b in boards for n in re.findall(r"([\d.]+) [\d.]+(?=[LCAZ ]|$)", b["d"]))
                assert right <= wide


def test_stages_that_are_none() -> None:
    for count, today in ((1, 1), (9, 1), (6, 0), (6, 7)):
        with pytest.raises(ValueError, match="2 to 8 stages"):
            draw(StagesPicture(title="Stages", count=count, today=today, word="today"), prefix="t")


def paint(svg: str, size: int = 56) -> np.ndarray:
    """A drawing as a grey printer shows it at 300 dots an inch, from the corner of its ink: 0 white, 1 black."""
    command = ["pdftoppm", "-gray", "-r", "300", "-singlefile", "-"]
    told = subprocess.run(command, input=print_drawing(svg), capture_output=True, check=True)
    _, wide, high, _, _ = told.stdout.split(maxsplit=4)
    page = 1 - np.frombuffer(told.stdout[-int(wide) * int(high) :], dtype=np.uint8).reshape(int(high), int(wide)) / 255
    rows, columns = np.flatnonzero(page.max(1) > 0.05), np.flatnonzero(page.max(0) > 0.05)
    return page[rows[0] : rows[0] + size, columns[0] : columns[0] + size]


@pytest.mark.rest
def test_signs_are_told_apart_in_grey_at_5_mm() -> None:
    """Without colour, each sign is dark where the others are light; 'no' is no empty ring."""
    signs = {m: paint(draw(SignPicture(title=m, mark=m), prefix="t", width_mm=5)) for m in GRIP_MARKS}
    for a, b in combinations(GRIP_MARKS, 2):
        assert np.abs(signs[a] - signs[b]).mean() > 0.2, (a, b)
    assert signs["leave"].mean() > 0.45
    assert signs["leave"].max() > 0.95 > signs["keep"].max()


@pytest.mark.rest
def test_a_thin_ring_would_be_taken_for_an_empty_place() -> None:
    thin = document("no", 5, 5, [disc(2.5 + 2.5j, 2.2, fill=WHITE, stroke=INK, pen=1.6)])
    assert paint(thin).mean() < 0.3


def test_the_goal_line_stands_where_the_kilograms_say() -> None:
    rows = (("Right hand", 40.0, "40 kg"), ("Left hand", 20.0, "20 kg"))
    picture = StrengthPicture(title="Strength", rows=rows, goal=30.0, goal_said="goal 30 kg")
    root = ElementTree.fromstring(draw(picture, prefix="t"))
    ends = {}
    for name in ("row-1", "row-2", "goal"):
        group = next(g for g in root.iter(f"{SVG}g") if g.attrib["id"] == f"t-{name}")
        data = next(node.attrib["d"] for node in group.iter(f"{SVG}path"))
        xs = [float(x) for x in re.findall(r"([\d.]+) [\d.]+", data)]
        ends[name] = (min(xs), max(xs))
    start = ends["row-1"][0]
    assert ends["row-2"][1] - start == pytest.approx((ends["row-1"][1] - start) / 2, abs=0.02)
    assert ends["goal"][0] - start == pytest.approx((ends["row-1"][1] - start) * 0.75, abs=0.02)


@pytest.mark.parametrize("view", ["palm", "back"])
def test_a_sore_spot_is_seen_on_a_small_hand(view: View) -> None:
    """At 22 mm a mark alone is a millimetre or two wide: its ring is at least 4, in the frame, and round the mark."""
    ends: tuple[tuple[Finger, Hand], ...] = (("index", "left"), ("little", "right"))
    for landmark, (finger, hand) in product(get_args(Landmark), ends):
        side: Side | None = "ulnar" if landmark.endswith("-side") else None
        spot = Spot(landmark=landmark, finger=finger, side=side)
        picture = HandPicture(title="A spot", hand=hand, view=view, spots=(spot,), ring=True)
        root = ElementTree.fromstring(draw(picture, prefix="t", width_mm=22))
        rings = [node.attrib for node in root.iter(f"{SVG}path") if "A" in node.attrib["d"]]
        bare = [corners(n.attrib) for n in root.iter(f"{SVG}path") if is_mark(n.attrib)]
        assert bare
        wide = max(right - left for left, _, right, _ in bare)
        high = max(low - top for _, top, _, low in bare)
        if max(wide, high) >= 9:
            assert not rings, landmark
            continue
        left, top, right, low = corners(rings[0])
        pen = float(rings[0]["stroke-width"])
        assert right - left + pen >= 4, landmark
        assert left - pen / 2 >= 0
        assert right + pen / 2 <= 22
        assert all(left <= a and right >= c and top <= b and low >= d for a, b, c, d in bare), landmark


def is_mark(path: Mapping[str, str]) -> bool:
    return path.get("stroke") == INK and "A" not in path["d"] and float(path["stroke-width"]) / MM > 1.2


def corners(path: Mapping[str, str]) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of straight lines, or of a full circle."""
    data = path["d"]
    if "A" in data:
        x, y, r = (float(n) for n in re.match(r"M([\d.-]+) ([\d.-]+)A([\d.]+)", data).groups())  # type: ignore[union-attr]
        return x, y - r, x + 2 * r, y + r
    points = points_of(data)
    xs, ys = [p.real for p in points], [p.imag for p in points]
    return min(xs), min(ys), max(xs), max(ys)


@pytest.mark.parametrize(("finger", "partner"), [*pairwise(FINGERS), *pairwise(FINGERS[::-1])])
def test_the_letters_of_strips_stand_at_their_strips(finger: Finger, partner: Finger) -> None:
    """A is the strip nearer to the palm, and each letter is tied to its strip, not to the other."""
    for hand, view, size in product(get_args(Hand), get_args(View), (10, 18)):
        mark = TapeMark(kind="buddy", level="proximal-and-middle", finger=finger, partner=partner, letters=("A", "B"))
        picture = HandPicture(title="Two strips", hand=hand, view=view, tapes=(mark,))
        root = ElementTree.fromstring(draw(picture, prefix="t", width_mm=26, text_pt=size))
        group = next(g for g in root.iter(f"{SVG}g") if g.attrib["id"] == "t-letters")
        texts = [node.text for node in group.iter(f"{SVG}text")]
        ties = [points_of(node.attrib["d"])[1] for node in group.iter(f"{SVG}path")]
        drawn = next(g for g in root.iter(f"{SVG}g") if g.attrib["id"] == "t-hand")
        strips = [n.attrib for n in drawn.iter(f"{SVG}path") if n.attrib["fill"] == WHITE and "stroke" in n.attrib]
        assert sorted(texts) == ["A", "B"]
        for text, tie in zip(texts, ties, strict=True):
            away = [min(abs(point - tie) for point in points_of(s["d"])) for s in strips]
            assert away.index(min(away)) == "AB".index(text or ""), (hand, view)


def points_of(data: str) -> list[complex]:
    return [complex(float(x), float(y)) for x, y in re.findall(r"([\d.-]+) ([\d.-]+)", data)]


def small_grips(library: Library) -> dict[str, GripPicture]:
    writer = Writer(library)
    return {g.id: replace(grip_drawing(writer, g).picture, small=True) for g in library.vocabularies.grips}


@pytest.mark.parametrize("width", [11.5, 14.0, 21.0])
def test_small_grips_stand_on_one_ground(library: Library, width: float) -> None:
    """All equally high, nothing outside, no words, and each hand or its small fingers reach down to the same line."""
    for name, picture in small_grips(library).items():
        root = ElementTree.fromstring(draw(picture, prefix="t", width_mm=width))
        _, _, wide, high = (float(n) for n in root.attrib["viewBox"].split())
        assert (wide, high) == pytest.approx((width, 1.33 * width), abs=0.01)
        assert not list(root.iter(f"{SVG}text"))
        boxes = [corners(node.attrib) for node in root.iter(f"{SVG}path")]
        assert min(b[0] for b in boxes) >= -0.05, name
        assert max(b[2] for b in boxes) <= wide + 0.05, name
        assert min(b[1] for b in boxes) >= -0.05, name
        assert high - 1 <= max(b[3] for b in boxes) <= high + 0.05, name


@pytest.mark.parametrize("hand", get_args(Hand))
def test_small_fingers_say_which_hold(library: Library, hand: Hand) -> None:
    """A side view cannot count fingers: a small one for each, as they lie on the back of that hand."""
    told = {}
    for name, picture in small_grips(library).items():
        for small in (True, False):
            svg = draw(replace(picture, hand=hand, small=small), prefix="t", width_mm=11.5 if small else 42)
            for group in (g for g in ElementTree.fromstring(svg).iter(f"{SVG}g") if g.attrib["id"] == "t-fingers"):
                told[name, small] = [node.attrib["fill"] != WHITE for node in group]
                middles = [sum(corners(node.attrib)[::2]) / 2 for node in group]
                assert middles == sorted(middles)
    order = FINGERS if hand == "right" else FINGERS[::-1]
    wanted = {g.id: [finger in g.fingers for finger in order] for g in library.vocabularies.grips}
    counted = ("three-finger-drag", "two-finger-pocket", "one-finger-pocket")
    assert told == {(name, small): wanted[name] for name in counted for small in (True, False)}


@pytest.mark.rest
def test_small_grips_are_told_apart_in_grey(library: Library) -> None:
    """No two of them put their ink in the same places: at 11.5 mm a name below is all the help there is."""
    painted = {}
    for name, picture in small_grips(library).items():
        page = paint(draw(picture, prefix="t", width_mm=11.5), 150)
        painted[name] = page[:150, :120].reshape(30, 5, 24, 5).mean(axis=(1, 3))
    for a, b in combinations(painted, 2):
        assert np.corrcoef(painted[a].ravel(), painted[b].ravel())[0, 1] < 0.8, (a, b)


@pytest.mark.rest
def test_small_steps_of_a_taping_are_told_apart_in_grey(library: Library) -> None:
    """At 26 mm without a word: the leaf has a caption below each, and no number."""
    writer = Writer(library)
    for taping in library.vocabularies.tapings:
        buddy = choose_buddy("middle", taping.neighbour, "ulnar")
        worn = Worn(
            taping=taping, hand="right", finger="middle", partner=buddy.partner if buddy else None, side="ulnar"
        )
        painted = []
        for drawing in small_steps(writer, worn):
            svg = draw(drawing.picture, prefix="t", width_mm=26)
            assert not [node.text for node in ElementTree.fromstring(svg).iter(f"{SVG}text")]
            painted.append(paint(svg, 240)[:150, :240].reshape(30, 5, 48, 5).mean(axis=(1, 3)))
        for a, b in combinations(painted, 2):
            assert np.abs(a - b).sum() > 15, taping.id
