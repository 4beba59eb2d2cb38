"""Every kind of drawing as a reader of SVG sees it: safe features, nothing too fine, nothing outside the frame."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from itertools import combinations
from pathlib import Path
from xml.etree import ElementTree

import pytest
from for_each import for_each
from geometry import points_of
from pdf_gate.samples import library

from fingerpost.draw.contact import sample_pictures
from fingerpost.draw.pens.letters import width_of
from fingerpost.draw.pens.svg import MM_PER_PT, ON_PAPER, recolour
from fingerpost.draw.picture import draw, usual_width
from fingerpost.model.grammar import choices_of
from fingerpost.model.shared import TapeScene
from fingerpost.plan.base.pictures import (
    HandPicture,
    Picture,
    RulerPicture,
    StripPicture,
    TapingPicture,
    TouchPicture,
)  # fmt: skip

SVG = "{http://www.w3.org/2000/svg}"
SAMPLES = list(sample_pictures(library()))
NAMED = {f"{k}-{name}": picture for k, (name, picture) in enumerate(SAMPLES)}
ALLOWED = {
    "svg": {"width", "height", "viewBox", "role", "font-family"},
    "title": set(),
    "g": {"id"},
    "path": {"d", "fill", "stroke", "stroke-width", "stroke-linejoin", "stroke-linecap", "stroke-dasharray"},
    "text": {"x", "y", "font-size", "text-anchor", "font-weight", "fill"},
}
# Drawings to touch stand on pages only, where links, classes and clear areas are at home.
ON_PAGES = {
    "svg": {"class", "aria-label"},
    "g": {"class", "aria-hidden", "visibility"},
    "a": {"class", "href", "data-sign", "aria-label"},
    "path": {"class", "fill-opacity"},
}
HATCH_PT, LEAST_PT, TEXT_PT = 0.5, 0.75, 9.0


@cache
def text_of(picture: Picture) -> str:
    """Drawn once for all tests."""
    return draw(picture, prefix="t")


def drawn(picture: Picture) -> ElementTree.Element:
    return ElementTree.fromstring(text_of(picture))


def text_boxes(root: ElementTree.Element) -> list[tuple[str, float, float, float, float]]:
    """Words with their estimated box: left, top, right, bottom (mm)."""
    boxes = []
    for node in root.iter(f"{SVG}text"):
        size = float(node.attrib["font-size"])
        wide = width_of(node.text or "", size / MM_PER_PT, node.attrib.get("font-weight") == "700") / 1.04
        x, y = float(node.attrib["x"]), float(node.attrib["y"])
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[node.attrib["text-anchor"]]
        boxes.append((node.text or "", left, y - 0.70 * size, left + wide, y + 0.20 * size))
    return boxes


@for_each("picture", NAMED)
def test_safe_features(picture: Picture) -> None:
    """Only elements and attributes that both print engines and browsers draw alike; literal colours; title first."""
    root = drawn(picture)
    also: dict[str, set[str]] = {}
    if isinstance(picture, TouchPicture):
        assert root.attrib["aria-label"] == picture.title
        also = ON_PAGES
    else:
        assert root[0].tag == f"{SVG}title"
        assert root[0].text == picture.title
        assert root.attrib["font-family"].startswith("Atkinson Hyperlegible Next")
    colours = Counter()
    for node in root.iter():
        name = node.tag.removeprefix(SVG)
        assert set(node.attrib) <= ALLOWED.get(name, set()) | also.get(name, set()), (name, node.attrib)
        assert name in ALLOWED or name in also, name
        colours.update(node.attrib[key] for key in ("fill", "stroke") if key in node.attrib)
    assert set(colours) <= {"none", *ON_PAPER.values()}
    ids = [node.attrib["id"] for node in root.iter() if "id" in node.attrib]
    assert len(ids) == len(set(ids))
    assert all(name.startswith("t-") for name in ids)


def test_paper_is_black_ink_and_greys() -> None:
    """A printer at home, a copier and the operators of a PDF page know no more."""
    others = {name for name, colour in ON_PAPER.items() if not re.fullmatch(r"#([0-9a-f]{2})\1\1", colour)}
    assert others == {"ink", "tint"}
    assert len(set(ON_PAPER.values())) == len(ON_PAPER) - 1, "only a hollow is like a grey line"


def test_a_colour_without_a_name_is_refused() -> None:
    words = '<svg><title>fill it: &quot;#123456&quot;</title><path d="M0 0" fill="#000000" stroke="none"/></svg>'
    named = dict.fromkeys(ON_PAPER, "red")
    assert recolour(words, named) == words.replace('fill="#000000"', 'fill="red"')
    with pytest.raises(ValueError, match="#123456"):
        recolour('<path d="M0 0" fill="#123456"/>', named)


@for_each("picture", NAMED)
def test_nothing_is_too_fine(picture: Picture) -> None:
    """House rule: strokes at least 0.75 pt at the printed size, hatching and threads 0.5; words at least 9 pt."""
    root = drawn(picture)
    for node in root.iter(f"{SVG}path"):
        if "stroke-width" in node.attrib:
            pen = float(node.attrib["stroke-width"]) / MM_PER_PT
            threads = node.attrib["d"].count("M") >= 1 and node.attrib["fill"] == "none"
            assert pen >= LEAST_PT - 0.01 or (threads and pen >= HATCH_PT - 0.01), node.attrib
    for node in root.iter(f"{SVG}text"):
        assert float(node.attrib["font-size"]) / MM_PER_PT >= TEXT_PT - 0.02, node.text


@for_each("picture", NAMED)
def test_inside_the_frame(picture: Picture) -> None:
    """Every point and every word lies in the frame; no two words touch."""
    root = drawn(picture)
    _, _, wide, high = (float(n) for n in root.attrib["viewBox"].split())
    assert root.attrib["width"] == f"{usual_width(picture):g}mm"
    # The hand of a drawing to touch is cut off by the frame; what can be touched is not.
    within = root.findall(f"{SVG}a") if isinstance(picture, TouchPicture) else [root]
    for node in (path for part in within for path in part.iter(f"{SVG}path")):
        for point in points_of(node.attrib["d"]):
            assert -0.05 <= point.real <= wide + 0.05, (point, node.attrib)
            assert -0.05 <= point.imag <= high + 0.05, (point, node.attrib)
    boxes = text_boxes(root)
    for text, left, top, right, bottom in boxes:
        assert left >= -0.05, text
        assert top >= -0.05, text
        assert right <= wide + 0.05, text
        assert bottom <= high + 0.05, text
    for a, b in combinations(boxes, 2):
        apart = a[3] <= b[1] or b[3] <= a[1] or a[4] <= b[2] + 0.02 or b[4] <= a[2] + 0.02
        assert apart, (a, b)


def test_same_bytes_twice() -> None:
    for _, picture in SAMPLES:
        assert draw(picture, prefix="t") == text_of(picture)


def test_coordinates_have_two_decimals() -> None:
    for _, picture in SAMPLES:
        assert not re.search(r"[ML CQ]-?\d+\.\d{3}", "".join(re.findall(r' d="([^"]*)"', text_of(picture))))


def test_names_and_titles_are_escaped() -> None:
    picture = HandPicture(title='<b> & "c"', hand="left", view="palm", hand_name="a & b < c")
    root = drawn(picture)
    assert root[0].text == '<b> & "c"'
    assert "a & b < c" in [node.text for node in root.iter(f"{SVG}text")]


def test_large_print_keeps_the_size_and_the_frame() -> None:
    """Large print editions ask for 18 and 24 pt: every drawing must hold them without losing a word."""
    for name, picture in SAMPLES[::2]:
        wide = max(usual_width(picture), 110.0)
        if isinstance(picture, (StripPicture, RulerPicture)):
            wide = max(wide, picture.needed_mm(18))
        root = ElementTree.fromstring(draw(picture, prefix="t", width_mm=wide, text_pt=18))
        frame = [float(n) for n in root.attrib["viewBox"].split()]
        for text, left, top, right, bottom in text_boxes(root):
            assert left >= -0.1, (name, text)
            assert top >= -0.1, (name, text)
            assert right <= frame[2] + 0.1, (name, text)
            assert bottom <= frame[3] + 0.1, (name, text)


def test_left_and_right_are_true_mirrors() -> None:
    """A left hand is a right hand mirrored: same points, x turned about the frame; words stay unmirrored."""
    for view in ("palm", "back"):
        left = drawn(HandPicture(title="t", hand="left", view=view))  # type: ignore[arg-type]
        right = drawn(HandPicture(title="t", hand="right", view=view))  # type: ignore[arg-type]
        wide = float(left.attrib["viewBox"].split()[2])
        for a, b in zip(left.iter(f"{SVG}path"), right.iter(f"{SVG}path"), strict=True):
            turned = [complex(wide - q.real, q.imag) for q in points_of(b.attrib["d"])]
            points = points_of(a.attrib["d"])
            assert len(points) == len(turned)
            # Why not one by one: the two edges of a swelling line change places.
            assert all(min(abs(p - q) for q in turned) < 0.04 for p in points)


def test_every_step_of_a_taping_that_can_be_named_is_drawn() -> None:
    drawn = {picture.draws for _, picture in SAMPLES if isinstance(picture, TapingPicture)}
    assert drawn == {*choices_of(TapeScene), "check", "mistakes"}


def test_golden_list(request: pytest.FixtureRequest) -> None:
    """What each drawing holds, as text a person can read: size, parts, words, a few rounded points."""
    path = Path(__file__).resolve().parents[1] / "golden" / "drawings.txt"
    now = "\n".join(described(name, picture) for name, picture in SAMPLES) + "\n"
    if request.config.getoption("--refresh-golden"):
        path.write_text(now, encoding="utf-8")
    assert path.read_text(encoding="utf-8") == now, "drawings changed: look at them, then --refresh-golden"


def described(name: str, picture: Picture) -> str:
    root = drawn(picture)
    paths = [points_of(node.attrib["d"]) for node in root.iter(f"{SVG}path")]
    every = [point for path in paths for point in path]
    middle = sum(every) / len(every)
    words = " | ".join(node.text or "" for node in root.iter(f"{SVG}text"))
    size = " x ".join(f"{float(n):.0f}" for n in root.attrib["viewBox"].split()[2:])
    return f"{name}: {size} mm, {len(paths)} paths round ({middle.real:.0f}, {middle.imag:.0f}): {words}"
